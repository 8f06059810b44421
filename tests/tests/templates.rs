//! Small templates and everything else that the default settings print, as `pdfplumber`, `pikepdf` and `qpdf` see it: a
//! hinge to a page, pockets and their exits in register, pages corrected for a printer.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use jigless_tests::cabinet;
use jigless_tests::fixtures::{files_of, fixture, sound_plans};
use jigless_tests::program::{export_all, jigless, run};
use jigless_tests::readers::{below, read_halves, read_with};
use serde_json::Value;
use tempfile::TempDir;

/// What a place on paper may be wrong by, in millimetres.
const TOLERANCE: f64 = 0.02;
/// The least distance of ink from the edge of the paper, in millimetres.
const BLANK: f64 = 12.0;
/// Width of the pen of the line on the true edge, in millimetres.
const EDGE: f64 = 0.25;
/// The smallest type, in points: 7 pt, less what rounding takes.
const SMALLEST: f64 = 6.8;

/// Every sound plan on A4 and on Letter, as the default settings have it.
static EXPORTED: LazyLock<TempDir> = LazyLock::new(|| {
    let out = tempfile::tempdir().expect("a temporary folder");
    let plans = sound_plans();
    let plans: Vec<&str> = plans.iter().map(String::as_str).collect();
    for paper in ["a4", "letter"] {
        let setting = format!("pdf-template.paper={paper}");
        let to = ["--quiet", "--to", "pdf-template", "--set", &setting];
        export_all(&plans, &out.path().join(paper), &to);
    }
    out
});

/// What the reader sees of one file.
fn read(file: &Path) -> Value {
    let mut seen = read_with("check_pdf.py", &[file.to_owned()]);
    assert_eq!(seen.len(), 1, "{}", file.display());
    seen.remove(0)
}

/// What the reader sees of the templates of one plan: `a4/glaze-cabinet`.
fn exported(plan: &str) -> Value {
    let file = Path::new(plan).join("pdf-template/templates.pdf");
    read(&EXPORTED.path().join(file))
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list")
}

fn pair(value: &Value) -> (f64, f64) {
    (number(&value[0]), number(&value[1]))
}

/// The templates of a file whose names begin with some words: `door-left back`.
fn pages<'a>(file: &'a Value, begin: &str) -> Vec<&'a Value> {
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
fn all_words(file: &Value) -> String {
    let pages = list(&file["pages"]).iter().map(words);
    pages.collect::<Vec<_>>().join("\n")
}

/// The marks of a page: place on the part, and diameters around it.
fn marks(page: &Value) -> Vec<((f64, f64), Vec<f64>)> {
    list(&page["marks"])
        .iter()
        .map(|mark| {
            let circles = list(&mark["circles_mm"]).iter().map(number).collect();
            (pair(&mark["part_mm"]), circles)
        })
        .collect()
}

#[track_caller]
fn assert_mark(page: &Value, place: (f64, f64), diameter: f64) {
    let marks = marks(page);
    let there = marks.iter().any(|(at, circles)| {
        (at.0 - place.0).abs() < TOLERANCE
            && (at.1 - place.1).abs() < TOLERANCE
            && circles.iter().any(|c| (c - diameter).abs() < TOLERANCE)
    });
    assert!(there, "no mark of {diameter} at {place:?}: {marks:?}");
}

/// The boxes of the strokes with a width of pen, in millimetres from the part's corner.
fn strokes(page: &Value, pen: f64) -> Vec<[f64; 4]> {
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
fn has_reference(page: &Value, x: Option<f64>, y: Option<f64>) -> bool {
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

fn words(page: &Value) -> String {
    let texts = list(&page["texts"]).iter();
    let texts: Vec<&str> = texts.filter_map(|text| text["text"].as_str()).collect();
    texts.join("\n")
}

/// No words on marks or other words, and no ink within 12 mm of the border, on any page of any fixture.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn no_page_of_any_fixture_has_words_on_marks_or_ink_near_its_border() {
    let files = files_of(EXPORTED.path(), "pdf").into_iter();
    let names: Vec<String> = files.map(|(name, _)| name).collect();
    assert!(names.len() > 60, "{} files", names.len());
    let seen = read_halves("check_pdf.py", &below(EXPORTED.path(), &names));
    for (file, name) in seen.iter().zip(&names) {
        assert_eq!(file["qpdf"]["clean"], true, "{name}");
        for (index, page) in list(&file["pages"]).iter().enumerate() {
            let place = format!("{name}, page {}", index + 1);
            assert_eq!(page["overlaps"], Value::Array(vec![]), "{place}");
            // Of words that run upward the reader tells the width of a letter, not its size.
            for text in list(&page["texts"])
                .iter()
                .filter(|text| text["up"] == false)
            {
                let points = number(&text["size_mm"]) * 72.0 / 25.4;
                assert!(points > SMALLEST, "{place}: {points} pt, {text}");
            }
            for distance in list(&page["ink_mm"]) {
                assert!(number(distance) > BLANK - 1e-3, "{place}: {distance}");
            }
        }
    }
}

/// Common practice, no source: the rim of a 35 mm cup is 5 mm in from the edge, so its centre is 5 + 17.5 = 22.5 mm in; and it
/// is 3 1/2 in, 88.9 mm, from the end of the door. Its screws are 45 apart, 9.5 behind its centre. The back is seen turned
/// over like a page: the left edge is on the right, at 397.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn a_hinge_has_a_page_that_hooks_over_two_edges() {
    for paper in ["a4", "letter"] {
        let file = exported(&format!("{paper}/glaze-cabinet"));
        let back = pages(&file, "door-left back ");
        assert_eq!(back.len(), 2, "{paper}: one page for each hinge");
        for (page, end, cup) in [(back[0], 0.0, 88.9), (back[1], 654.0, 654.0 - 88.9)] {
            assert_mark(page, (397.0 - 22.5, cup), 35.0);
            for side in [-22.5, 22.5] {
                assert_mark(page, (397.0 - 22.5 - 9.5, cup + side), 2.5);
            }
            assert_eq!(marks(page).len(), 3, "{paper}: {:?}", marks(page));
            assert!(
                has_reference(page, Some(397.0), None),
                "{paper}: hinge edge"
            );
            assert!(
                has_reference(page, None, Some(end)),
                "{paper}: end at {end}"
            );
            let words = words(page);
            assert!(words.contains("fold over the edge"), "{words}");
            let cup = if end == 0.0 { "H1" } else { "H4" };
            let stop = format!("Ø35 STOP 12.5 mm: {cup}");
            assert!(words.contains(&stop), "{words}");
            assert!(words.contains("INSIDE FACE UP · LEFT"), "{words}");
        }
        let all = all_words(&file);
        assert!(all.contains("5 mm + 35 mm / 2"), "{all}");
    }
    assert!((cabinet::CUP_X - (5.0 + 17.5)).abs() < 1e-12);
}

/// Common practice, no source: plate holes stand 37 mm behind the front edge, 32 mm apart, about the height of their cup.
/// Both plates are drilled through one template: its middle lies at 170.9 and at 647.1 from the bottom edge.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn plate_holes_match_the_hinges() {
    let file = exported("a4/glaze-cabinet");
    let front = pages(&file, "side-left front ");
    let [low, high, ..] = cabinet::SIDE_PLATES;
    let page = front.iter().find(|page| {
        let found = marks(page);
        found
            .iter()
            .any(|(at, _)| (at.0 - low.0).abs() < TOLERANCE && (at.1 - low.1).abs() < TOLERANCE)
    });
    let page = page.unwrap_or_else(|| panic!("no mark at {low:?}"));
    assert_mark(page, high, 5.0);
    assert!(has_reference(page, Some(0.0), None), "front edge");
    let words = words(page);
    let middles = [0, 2].map(|first| {
        let [a, b] = [0, 1].map(|hole| cabinet::SIDE_PLATES[first + hole].1);
        assert!((b - a - 32.0).abs() < 1e-9);
        f64::midpoint(a, b)
    });
    assert!((middles[0] - 170.9).abs() < 1e-9 && (middles[1] - 647.1).abs() < 1e-9);
    for used in [
        "170.9 mm from the bottom edge: H25, H26",
        "647.1 mm from the bottom edge: H27, H28",
        "Ø5 STOP 12 mm: H25-H28",
    ] {
        assert!(words.contains(used), "{used}: {words}");
    }
}

/// Twelve pins every 32 mm, 352 mm from the first to the last, are longer than A4 shows: a strip of seven marks is used
/// twice, and lies on the seventh hole and on the same edge the second time, so that the row cannot drift.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn a_long_row_goes_on_from_its_last_hole() {
    let file = exported("a4/glaze-cabinet");
    for side in ["side-left", "side-right"] {
        let front = pages(&file, &format!("{side} front "));
        let strips: Vec<_> = front.iter().filter(|page| marks(page).len() == 7).collect();
        assert_eq!(strips.len(), 2, "{side}: a strip for each row");
        for strip in strips {
            let heights: Vec<f64> = marks(strip).iter().map(|(at, _)| at.1).collect();
            for (index, wanted) in (0..7)
                .map(|step| 247.7 + 32.0 * f64::from(step))
                .enumerate()
            {
                let there = heights.iter().any(|at| (at - wanted).abs() < TOLERANCE);
                assert!(there, "{side}, hole {index}: {heights:?}");
            }
            let words = words(strip);
            assert!(words.contains("247.7 mm from the bottom edge"), "{words}");
            assert!(words.contains("a Ø5 bit or dowel"), "{words}");
        }
    }
}

/// Each hole with a depth has its stop within the same template: by name, in type to be read from the machine.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn each_hole_with_a_depth_has_its_stop_in_its_template() {
    let mut deep = 0;
    for (name, file) in read_all() {
        for template in pages(&file, "") {
            let words = words(template);
            let place = format!("{name}, {}", template["viewport"]["name"]);
            let lines: Vec<&str> = words.lines().collect();
            let stops: Vec<String> = stops(&lines).collect();
            for line in &lines {
                let Some(hole) = deep_hole(line, &lines) else {
                    continue;
                };
                deep += 1;
                let named = stops.iter().any(|stop| names_hole(stop, hole));
                assert!(named, "{place}: {hole} has no stop among {stops:?}");
            }
        }
    }
    assert!(deep > 300, "{deep} holes with a depth");
}

/// Every plan's templates on A4, read.
fn read_all() -> Vec<(String, Value)> {
    let files = files_of(EXPORTED.path(), "pdf").into_iter();
    let names = files
        .map(|(name, _)| name)
        .filter(|name| name.starts_with("a4/"));
    let names: Vec<String> = names.collect();
    let seen = read_halves("check_pdf.py", &below(EXPORTED.path(), &names));
    names.into_iter().zip(seen).collect()
}

/// What is said of depths, each with what follows it: holes that did not fit its line.
fn stops<'a>(lines: &'a [&str]) -> impl Iterator<Item = String> + 'a {
    let is_stop = |line: &str| line.contains("STOP") || line.contains("SINK");
    (0..lines.len())
        .filter(move |index| is_stop(lines[*index]))
        .map(|index| lines[index..(index + 3).min(lines.len())].join(" "))
}

/// The name of the hole that a label is about, if the label gives a depth in its first lines: `H1 Ø35 back`, `12.5 deep`.
fn deep_hole<'a>(line: &'a str, lines: &[&str]) -> Option<&'a str> {
    let (name, rest) = line.split_once(' ')?;
    let is_hole =
        name.starts_with('H') && name[1..].parse::<u32>().is_ok() && rest.starts_with('Ø');
    let index = lines.iter().position(|other| *other == line)?;
    let next = lines.get(index + 1)?;
    (is_hole && next.ends_with(" deep")).then_some(name)
}

/// Whether a line names a hole: by itself or within a range, `H1-H4`.
fn names_hole(line: &str, hole: &str) -> bool {
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

fn plan(folder: &Path, text: &str) -> PathBuf {
    let file = folder.join("plan.yaml");
    fs::write(&file, text).expect("a written plan");
    file
}

#[track_caller]
fn export(folder: &Path, text: &str, settings: &[&str]) {
    let file = plan(folder, text);
    let mut command = jigless(folder);
    command.arg("export").arg(file);
    command.args(["--quiet", "--to", "pdf-template", "--out", "out"]);
    for setting in settings {
        command.args(["--set", setting]);
    }
    run(&mut command).done();
}

/// The exported files of [`export`].
fn files(folder: &Path) -> Vec<PathBuf> {
    let out = folder.join("out");
    files_of(&out, "pdf")
        .into_iter()
        .map(|(name, _)| out.join(name))
        .collect()
}

/// Half the thickness over the tangent of 15 degrees, and over its sine, for 1/2, 3/4, 1 and 1 1/2 in: along the board
/// 23.70, 35.55, 47.40 and 71.10 mm, along the axis 24.53, 36.80, 49.07 and 73.60 mm; the mouth of a pocket of 3/8 in is
/// 9.525 / sin 15 = 36.80 mm long (elementary trigonometry; that pockets lie at 15 degrees and leave at half the
/// thickness is common practice, no source). The guide block ends at the next whole 5 mm that guides 40 mm: 65, 75, 90 and
/// 110 mm from the edge; a collar of 20 mm stays 10 tan 15 = 2.679 mm off its end.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn pockets_are_drawn_from_first_principles() {
    for (inches, inward, axis, block) in [
        (0.5, 23.70, 24.53, 65.0),
        (0.75, 35.55, 36.80, 75.0),
        (1.0, 47.40, 49.07, 90.0),
        (1.5, 71.10, 73.60, 110.0),
    ] {
        let thickness = inches * 25.4;
        let folder = tempfile::tempdir().expect("a temporary folder");
        let text = format!(
            "jigless: 1\ntitle: Rails\nunits: mm\nstock:\n  board: {{thickness: {thickness}, kind: solid}}\n\
             parts:\n  rail:\n    stock: board\n    width: 700\n    height: 120\n    features:\n      \
             - pocket_holes: {{edge: left, at: [40], diameter: 9.525, pilot: 4}}\n"
        );
        export(folder.path(), &text, &[]);
        let file = read(&files(folder.path())[0]);
        let page = pages(&file, "rail front ")[0];
        let thin = strokes(page, 0.2);
        let at = |x: f64, y: f64, width: f64, height: f64| {
            thin.iter().any(|b| {
                let near = |seen: f64, wanted: f64| (seen - wanted).abs() < TOLERANCE;
                near(f64::midpoint(b[0], b[2]), x)
                    && near(f64::midpoint(b[1], b[3]), y)
                    && near(b[2] - b[0], width)
                    && near(b[3] - b[1], height)
            })
        };
        assert!(
            at(inward, 40.0, 36.80, 9.525),
            "{inches} in: mouth in {thin:?}"
        );
        // On the flap the distance from the fold is the distance from the face; the exit is 4 / cos 15 long across it.
        let exit = 4.0 / 0.965_926;
        assert!(
            at(-thickness / 2.0, 40.0, exit, 4.0),
            "{inches} in: exit in {thin:?}"
        );
        assert!(has_reference(page, Some(0.0), None));
        assert!(has_reference(page, None, Some(0.0)));
        // The shoulder stands one thickness before the edge unless the plan says otherwise.
        let stop = words(page);
        let (_, rest) = stop.split_once("STOP COLLAR ").expect("a stop");
        let stop: f64 = rest
            .split(' ')
            .next()
            .and_then(|word| word.parse().ok())
            .expect("a number");
        let guided = (block - inward) / 0.965_926;
        let collar = axis - thickness + guided + 2.679;
        assert!(
            (stop - collar).abs() < 0.02,
            "{inches} in: stop {stop}, not {collar}"
        );
        let guide = all_words(&file);
        assert!(
            guide.contains("GUIDE BLOCKS") && guide.contains(&format!("{block} mm long")),
            "{guide}"
        );
    }
}

/// A rail drawn upright and one drawn across, so that pages lie both ways.
const BOTH_WAYS: &str = "jigless: 1
title: Both ways
units: mm
stock:
  board: {thickness: 18, kind: plywood}
parts:
  upright:
    stock: board
    width: 150
    height: 200
    features:
      - hole_row: {first: [30, 20], step: [0, 150], count: 2, rows: {step: [90, 0], count: 2}, diameter: 5}
  across:
    stock: board
    width: 240
    height: 130
    features:
      - hole_row: {first: [20, 30], step: [200, 0], count: 2, rows: {step: [0, 70], count: 2}, diameter: 5}
";

/// A printer that prints 0.4 % short across the feed and 0.3 % long along it: what is drawn 1.004 and 0.997 as long comes
/// out right. A page that lies across goes through the printer on its side, so along its x is along the feed.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn corrected_pages_measure_true_once_printed() {
    let (across, feed) = (1.004, 0.997);
    let folder = tempfile::tempdir().expect("a temporary folder");
    let settings = [
        "pdf-template.scale_across=1.004",
        "pdf-template.scale_feed=0.997",
        "pdf-template.printer=shed",
        "pdf-template.scope=face",
    ];
    export(folder.path(), BOTH_WAYS, &settings);
    let mut ways = Vec::new();
    for file in files(folder.path()) {
        let file = read(&file);
        for page in list(&file["pages"]) {
            let words = words(page);
            assert!(
                words.contains("corrected for shed; not for others"),
                "{words}"
            );
            let size = pair(&page["size_mm"]);
            let lies_across = size.0 > size.1;
            let printed = if lies_across {
                (1.0 / feed, 1.0 / across)
            } else {
                (1.0 / across, 1.0 / feed)
            };
            for distance in list(&page["ink_mm"]) {
                assert!(number(distance) > BLANK - 1e-3, "{distance}");
            }
            let templates = list(&page["templates"]);
            if words.contains("CHECK SHEET") {
                // 180 mm across and 250 mm along the feed.
                let bar = |axis: usize, nominal: f64, scale: f64| {
                    list(&page["strokes"]).iter().any(|stroke| {
                        let b = &stroke["box_mm"];
                        let long = (number(&b[axis + 2]) - number(&b[axis])) * scale;
                        (long - nominal).abs() < TOLERANCE
                    })
                };
                assert!(bar(0, 180.0, printed.0) && bar(1, 250.0, printed.1));
            }
            let [page] = templates.as_slice() else {
                assert!(templates.is_empty());
                continue;
            };
            ways.push(lies_across);
            let seen: Vec<(f64, f64)> = list(&page["marks"])
                .iter()
                .map(|mark| pair(&mark["centre_mm"]))
                .map(|(x, y)| (x * printed.0, y * printed.1))
                .collect();
            let meant: Vec<(f64, f64)> = marks(page).into_iter().map(|(at, _)| at).collect();
            assert_eq!(seen.len(), 4);
            for (a, b) in [(0, 1), (0, 2), (0, 3), (1, 2)] {
                let distance = |of: &[(f64, f64)]| (of[a].0 - of[b].0).hypot(of[a].1 - of[b].1);
                assert!((distance(&seen) - distance(&meant)).abs() < TOLERANCE);
            }
            let wanted = if lies_across {
                (200.0, 70.0)
            } else {
                (90.0, 150.0)
            };
            let span = |of: &[f64]| {
                of.iter().copied().fold(f64::MIN, f64::max)
                    - of.iter().copied().fold(f64::MAX, f64::min)
            };
            let xs: Vec<f64> = seen.iter().map(|at| at.0).collect();
            let ys: Vec<f64> = seen.iter().map(|at| at.1).collect();
            assert!((span(&xs) - wanted.0).abs() < TOLERANCE, "{}", span(&xs));
            assert!((span(&ys) - wanted.1).abs() < TOLERANCE, "{}", span(&ys));
        }
    }
    ways.sort_unstable();
    assert_eq!(ways, [false, true]);
}

/// A knob of the glaze cabinet that moves by 5 mm: of forty sheets the one with the knob of each door is printed anew, with
/// the lists of the two doors and the page that says which earlier sheets are still good.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn only_the_sheets_that_changed_are_printed_again() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let plan = folder.path().join("cabinet");
    fs::create_dir(&plan).expect("a folder");
    let from = fixture("glaze-cabinet");
    fs::copy(from.join("tray.yaml"), plan.join("tray.yaml")).expect("a copy");
    let text = fs::read_to_string(from.join("plan.yaml")).expect("a plan");
    let make = |text: &str, out: &str, more: &[&str]| {
        fs::write(plan.join("plan.yaml"), text).expect("a written plan");
        let mut command = jigless(folder.path());
        command.args([
            "export",
            "cabinet",
            "--quiet",
            "--to",
            "pdf-template",
            "--out",
            out,
        ]);
        command.args(more);
        run(&mut command).done();
        read(
            &folder
                .path()
                .join(out)
                .join("cabinet/pdf-template/templates.pdf"),
        )
    };
    let labels = |file: &Value| -> Vec<String> {
        let labels = list(&file["labels"]).iter();
        labels
            .map(|label| label.as_str().unwrap_or_default().to_owned())
            .collect()
    };
    let first = make(&text, "one", &[]);
    let moved = text.replace("knob: {right: 35, top: 80}", "knob: {right: 35, top: 85}");
    assert_ne!(text, moved);
    let changed = make(&moved, "two", &["--since", "one/cabinet"]);
    assert_eq!(
        labels(&changed),
        [
            "changes 1",
            "door-left front 1",
            "door-right front 1",
            "list 1"
        ]
    );
    let says = words(&changed["pages"][0]);
    let good = says
        .lines()
        .filter(|line| line.starts_with("sheet "))
        .count();
    let sheets = list(&first["pages"]).iter();
    let sheets = sheets
        .filter(|page| !list(&page["templates"]).is_empty())
        .count();
    println!(
        "{sheets} sheets, 2 printed again, {} still good",
        sheets - 2
    );
    // Two to throw away, two printed anew, and all others still good.
    assert_eq!(good, 2 + 2 + sheets - 2, "{says}");
    // Another title, revision and digest change no sheet.
    let renamed = text.replace("revision: \"1.0\"", "revision: \"1.1\"");
    assert_ne!(text, renamed);
    let unchanged = make(&renamed, "three", &["--since", "one/cabinet/manifest.json"]);
    assert_eq!(labels(&unchanged), ["changes 1"]);
}

/// Readings go in once, and every later export for that printer is drawn by them: 180 / 179.4 and 250 / 250.6.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
#[expect(clippy::too_many_lines, reason = "it is the story of one printer")]
fn a_printer_is_measured_once() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let check = |arguments: &[&str]| {
        let mut command = jigless(folder.path());
        command.env("XDG_CONFIG_HOME", folder.path().join("config"));
        command.env("APPDATA", folder.path().join("config"));
        command.args(arguments);
        run(&mut command)
    };
    let unknown = check(&["print-check", "--printer", "shed"]);
    assert_eq!(unknown.code, Some(2), "{}", unknown.stderr);
    let fitted = check(&["print-check", "--printer", "shed", "--measured", "170,250"]);
    assert_eq!(fitted.code, Some(1));
    assert!(fitted.stderr.contains("fit to page"), "{}", fitted.stderr);
    // 1 % short both ways is what fitting a page to other paper does; only --really keeps it.
    let uniform = [
        "print-check",
        "--printer",
        "shop",
        "--measured",
        "178.2,247.5",
    ];
    let questioned = check(&uniform);
    assert_eq!(questioned.code, Some(1));
    assert!(
        questioned.stderr.contains("--really"),
        "{}",
        questioned.stderr
    );
    check(&[&uniform[..], &["--really"]].concat()).done();
    let inches = [
        "print-check",
        "--printer",
        "loft",
        "--measured",
        "6.98in,9.02in",
        "--on",
        "2026-03-31",
    ];
    let said = check(&inches);
    assert!(
        said.stdout.contains("+0.29 % across and -0.22 % along"),
        "{}",
        said.stdout
    );
    let kept =
        fs::read_to_string(folder.path().join("config/jigless/printers.json")).expect("a file");
    for word in [
        "\"across\": 6.98",
        "\"inches\": true",
        "\"on\": \"2026-03-31\"",
    ] {
        assert!(kept.contains(word), "{word}: {kept}");
    }
    check(&[
        "print-check",
        "--printer",
        "shed",
        "--measured",
        "179.4,250.6",
    ])
    .done();
    check(&["print-check", "--printer", "shed", "--out", "shed.pdf"]).done();
    check(&["print-check"]).done();

    let measure = |file: &str| {
        let seen = read(&folder.path().join(file));
        let page = &seen["pages"][0];
        let longest = |axis: usize| {
            list(&page["strokes"])
                .iter()
                .filter(|stroke| stroke["points"].as_array().is_some_and(|p| p.len() == 2))
                .map(|s| number(&s["box_mm"][axis + 2]) - number(&s["box_mm"][axis]))
                .fold(0.0, f64::max)
        };
        (longest(0), longest(1), words(page))
    };
    let (plain, corrected) = (measure("print-check.pdf"), measure("shed.pdf"));
    let near = |a: f64, b: f64| (a - b).abs() < 0.005;
    assert!(near(plain.0, 180.0) && near(plain.1, 250.0), "{plain:?}");
    let (x, y) = (180.0 * 180.0 / 179.4, 250.0 * 250.0 / 250.6);
    assert!(
        near(corrected.0, x) && near(corrected.1, y),
        "{corrected:?}"
    );
    assert!(corrected.2.contains("corrected for shed; not for others"));

    let hinges = fixture("features/hinge-cups");
    let hinges = hinges.to_str().expect("a plain path");
    check(&[
        "export",
        hinges,
        "--to",
        "pdf-template",
        "--printer",
        "shed",
    ])
    .done();
    let doors = folder
        .path()
        .join("out/hinge-cups/pdf-template/templates.pdf");
    let seen = read(&doors);
    let scale = pair(&pages(&seen, "door-left back ")[0]["viewport"]["per_mm"]);
    assert!((scale.0 - 180.0 / 179.4).abs() < 1e-5, "{scale:?}");
    assert!((scale.1 - 250.0 / 250.6).abs() < 1e-5, "{scale:?}");
    // Nothing that is printed is made: then there is nothing to correct.
    let drawing = check(&[
        "export",
        hinges,
        "--to",
        "svg-drilling",
        "--printer",
        "shed",
    ]);
    assert_eq!(drawing.code, Some(2), "{}", drawing.stderr);
}

/// The outline of a card is 85.60 x 53.98 mm (ISO/IEC 7810, ID-1; from memory).
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn a_card_fits_its_outline() {
    let file = exported("letter/hinge-cups");
    let sheet = &file["pages"][0];
    let there = list(&sheet["strokes"]).iter().any(|stroke| {
        let b = &stroke["box_mm"];
        let size = (number(&b[2]) - number(&b[0]), number(&b[3]) - number(&b[1]));
        (size.0 - 85.60).abs() < 0.01 && (size.1 - 53.98).abs() < 0.01
    });
    assert!(there, "no outline of a card");
}

/// Numbers on paper in inches, by arithmetic: 23.85 mm is nearest to 60/64 = 15/16 in, which is 0.04 mm short; in
/// thirty-seconds 2.5 mm is nearest to 3/32 in, 0.12 mm short; 9.5 behind 23.85 is 33.35 mm, 42/32 in and 0.01 over.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn inches_on_paper_are_fractions() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let text = fs::read_to_string(fixture("features/hinge-cups/plan.yaml")).expect("a plan");
    for (units, expected) in [
        ("inch", "Ø~1 3/8"),
        ("both", "Ø35 (~1 3/8 in)"),
        ("mm", "Ø35"),
    ] {
        let unit = format!("pdf-template.units={units}");
        export(folder.path(), &text, &[&unit, "pdf-template.fractions=32"]);
        let file = read(&files(folder.path())[0]);
        let words = words(pages(&file, "door-left back ")[0]);
        assert!(words.contains(expected), "{units}: {words}");
    }
}

/// Four holes near the corners of a board that takes four pages, 340 mm apart both ways: by Pythagoras both diagonals
/// across the seams are 480.83 mm.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn diagonals_across_the_seams_are_printed() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let text = "jigless: 1\ntitle: Board\nunits: mm\nstock:\n  board: {thickness: 18, kind: plywood}\nparts:\n  \
                board:\n    stock: board\n    width: 400\n    height: 400\n    features:\n      \
                - hole_row: {first: [30, 30], step: [340, 0], count: 2, \
                rows: {step: [0, 340], count: 2}, diameter: 5}\n";
    export(
        folder.path(),
        text,
        &["pdf-template.scope=face", "pdf-template.paper=a3"],
    );
    let file = read(&files(folder.path())[0]);
    let sheet = all_words(&file);
    assert_eq!(sheet.matches("480.83").count(), 2, "{sheet}");
    for names in ["A1 H1 to", "B1 H2 to"] {
        assert!(sheet.contains(names), "{names}: {sheet}");
    }
    // As far apart as the marks themselves are, by the place of the part's corner that each page carries.
    let mut centres: Vec<(f64, f64)> = pages(&file, "board front ")
        .into_iter()
        .flat_map(marks)
        .map(|(at, _)| at)
        .collect();
    centres.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
    let (low, high) = (centres[0], centres[centres.len() - 1]);
    let seen = (high.0 - low.0).hypot(high.1 - low.1);
    assert!((seen - 480.83).abs() < TOLERANCE, "{seen}");
}

/// Sixty doors of differing sizes, with two to four hinges: cups of every hinge are drilled, and no door takes more than two
/// sheets, since a template is used again and two share a sheet.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn sixty_doors_take_two_sheets_each_at_most() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut text = "jigless: 1\ntitle: Doors\nunits: mm\nstock:\n  ply: {thickness: 17.7, kind: plywood}\nparts:\n"
        .to_owned();
    let mut hinges = Vec::new();
    for door in 0..60_u32 {
        let (width, height) = (290 + door * 7 % 310, 620 + door * 37 % 1400);
        let count = 2 + height / 700;
        hinges.push(count);
        writeln!(
            text,
            "  door-{door:03}:\n    stock: ply\n    width: {width}.5\n    height: {height}\n    features:\n      \
             - hinge_cups: {{edge: {}, at: {{inset: 63.5, count: {count}}}, edge_gap: 6.35, \
             screws: {{diameter: 2.5, depth: 10}}}}",
            if door % 2 == 0 { "left" } else { "right" }
        )
        .expect("a string takes all");
    }
    export(folder.path(), &text, &[]);
    let files = files(folder.path());
    assert_eq!(files.len(), 1);
    let file = read(&files[0]);
    for (door, hinges) in hinges.into_iter().enumerate() {
        let name = format!("door-{door:03} back ");
        let cups = pages(&file, &name).into_iter().map(|page| {
            let cups = marks(page)
                .iter()
                .filter(|(_, circles)| circles.iter().any(|c| (c - 35.0).abs() < TOLERANCE))
                .count();
            let words = words(page);
            let used = words.lines().find_map(|line| line.strip_prefix("use "));
            let used = used.and_then(|line| line.split(' ').next()?.parse().ok());
            cups * used.unwrap_or(1_usize)
        });
        assert_eq!(cups.sum::<usize>(), hinges as usize, "{name}");
    }
    let sheets = list(&file["pages"])
        .iter()
        .filter(|page| !list(&page["templates"]).is_empty());
    let sheets = sheets.count();
    println!("{sheets} sheets for 60 doors");
    assert!(sheets <= 120, "{sheets} sheets");
}
