//! Templates on paper as `tests/readers/check_pdf.py` sees them, and plans that are put on paper for one test.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::fixtures::files_of;
use crate::program::{jigless, run};
use crate::readers::read_with;

/// What a place on paper may be wrong by, in millimetres.
pub const TOLERANCE: f64 = 0.02;

/// The least distance of ink from the edge of the paper, in millimetres.
pub const BLANK: f64 = 12.0;

/// Width of the pen of the line on the true edge, in millimetres.
pub const EDGE: f64 = 0.25;

/// The smallest type, in points: 7 pt, less what rounding takes.
pub const SMALLEST: f64 = 6.8;

/// What the reader sees of one file.
///
/// # Panics
/// When the reader does not say what it saw.
pub fn read(file: &Path) -> Value {
    let mut seen = read_with("check_pdf.py", &[file.to_owned()]);
    assert_eq!(seen.len(), 1, "{}", file.display());
    seen.remove(0)
}

/// A number.
///
/// # Panics
/// When it is something else, as all of these do.
pub fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// A list.
///
/// # Panics
/// When it is something else.
pub fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list")
}

/// Two numbers.
///
/// # Panics
/// When it is something else.
pub fn pair(value: &Value) -> (f64, f64) {
    (number(&value[0]), number(&value[1]))
}

/// The templates of a file whose names begin with some words: `door-left back`.
///
/// # Panics
/// When the report is another.
pub fn pages<'a>(file: &'a Value, begin: &str) -> Vec<&'a Value> {
    list(&file["pages"])
        .iter()
        .flat_map(|page| list(&page["templates"]))
        .filter(|page| {
            let name = page["viewport"]["name"].as_str();
            name.is_some_and(|name| name.starts_with(begin))
        })
        .collect()
}

/// All words of a file, a line for each run of letters.
///
/// # Panics
/// When the report is another.
pub fn all_words(file: &Value) -> String {
    let pages = list(&file["pages"]).iter().map(words);
    pages.collect::<Vec<_>>().join("\n")
}

/// The marks of a page: place on the part, and diameters around it.
///
/// # Panics
/// When the report is another.
pub fn marks(page: &Value) -> Vec<((f64, f64), Vec<f64>)> {
    list(&page["marks"])
        .iter()
        .map(|mark| {
            let circles = list(&mark["circles_mm"]).iter().map(number).collect();
            (pair(&mark["part_mm"]), circles)
        })
        .collect()
}

/// Fails unless a template has a mark of a diameter at a place on the part.
///
/// # Panics
/// When there is none.
#[track_caller]
pub fn assert_mark(page: &Value, place: (f64, f64), diameter: f64) {
    let marks = marks(page);
    let there = marks.iter().any(|(at, circles)| {
        (at.0 - place.0).abs() < TOLERANCE
            && (at.1 - place.1).abs() < TOLERANCE
            && circles.iter().any(|c| (c - diameter).abs() < TOLERANCE)
    });
    assert!(there, "no mark of {diameter} at {place:?}: {marks:?}");
}

/// The boxes of the strokes with a width of pen, in millimetres from the part's corner.
///
/// # Panics
/// When the report is another.
pub fn strokes(page: &Value, pen: f64) -> Vec<[f64; 4]> {
    let origin = pair(&page["viewport"]["origin_mm"]);
    list(&page["strokes"])
        .iter()
        .filter(|stroke| (number(&stroke["width_mm"]) - pen).abs() < 1e-3)
        .map(|stroke| {
            let b = &stroke["box_mm"];
            [
                number(&b[0]) - origin.0,
                number(&b[1]) - origin.1,
                number(&b[2]) - origin.0,
                number(&b[3]) - origin.1,
            ]
        })
        .collect()
}

/// Whether a page has the line of an edge along `x` (upright) or `y` (level), 30 mm of it at least.
///
/// # Panics
/// When the report is another.
pub fn has_reference(page: &Value, x: Option<f64>, y: Option<f64>) -> bool {
    let origin = pair(&page["viewport"]["origin_mm"]);
    let edges = list(&page["strokes"])
        .iter()
        .filter(|stroke| (number(&stroke["width_mm"]) - EDGE).abs() < 1e-3);
    edges.map(|stroke| list(&stroke["points"])).any(|points| {
        points.windows(2).any(|ends| {
            let [a, b] = [0, 1].map(|end| {
                let at = pair(&ends[end]);
                (at.0 - origin.0, at.1 - origin.1)
            });
            let on = |at: Option<f64>, a: f64, b: f64| {
                at.is_none_or(|at| (a - at).abs() < TOLERANCE && (b - at).abs() < TOLERANCE)
            };
            (a.0 - b.0).hypot(a.1 - b.1) > 30.0 && on(x, a.0, b.0) && on(y, a.1, b.1)
        })
    })
}

/// The words of a page or template, a line for each run of letters.
///
/// # Panics
/// When there are none.
pub fn words(page: &Value) -> String {
    let texts = list(&page["texts"]).iter();
    let texts: Vec<&str> = texts.filter_map(|text| text["text"].as_str()).collect();
    texts.join("\n")
}

/// Puts a plan on paper, below `out` of a folder.
///
/// # Panics
/// When the program finds an error.
#[track_caller]
pub fn export(folder: &Path, text: &str, settings: &[&str]) {
    let file = folder.join("plan.yaml");
    fs::write(&file, text).expect("a written plan");
    let mut command = jigless(folder);
    command.arg("export").arg(file);
    command.args(["--quiet", "--to", "pdf-template", "--out", "out"]);
    for setting in settings {
        command.args(["--set", setting]);
    }
    run(&mut command).done();
}

/// The exported files of [`export`].
///
/// # Panics
/// When the folder cannot be read.
pub fn files(folder: &Path) -> Vec<PathBuf> {
    let out = folder.join("out");
    files_of(&out, "pdf")
        .into_iter()
        .map(|(name, _)| out.join(name))
        .collect()
}

/// What is said of depths, each with what follows it: holes that did not fit its line.
pub fn stops<'a>(lines: &'a [&str]) -> impl Iterator<Item = String> + 'a {
    let is_stop = |line: &str| line.contains("STOP") || line.contains("SINK");
    (0..lines.len())
        .filter(move |index| is_stop(lines[*index]))
        .map(|index| lines[index..(index + 3).min(lines.len())].join(" "))
}

/// Whether a line names a hole: by itself or within a range, `H1-H4`.
pub fn names_hole(line: &str, hole: &str) -> bool {
    let number = |name: &str| name.strip_prefix('H').and_then(|n| n.parse::<u32>().ok());
    let Some(wanted) = number(hole) else {
        return false;
    };
    let words = line.split([' ', ',', ':']);
    words.filter(|word| word.starts_with('H')).any(|word| {
        let (from, to) = word.split_once('-').unwrap_or((word, word));
        matches!((number(from), number(to)), (Some(a), Some(b)) if (a..=b).contains(&wanted))
    })
}
