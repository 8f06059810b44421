//! Cutting pages as who stands at the saw reads them: a script that sees nothing but their words cuts rectangles as they
//! say, and what it ends with is compared with the parts of the plan.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;

use jigless_core::load::IncludeReader;
use jigless_model::mark::Marks;
use jigless_tests::fixtures::{files_of, fixture};
use jigless_tests::program::export_all;
use jigless_tests::readers::{below, read_halves};
use serde_json::Value;
use tempfile::TempDir;

/// The demo plans, and two whose sheets and boards are harder to saw.
const PLANS: [&str; 5] = [
    "glaze-cabinet",
    "glazing-trolley",
    "thread-organiser",
    "cutting/kiln-shelves",
    "cutting/fabric-shelves",
];

/// A guide, and what one person handles.
const GUIDED: [&str; 4] = [
    "--set",
    "cutting-pdf.guide_offset=117.5",
    "--set",
    "cutting-pdf.longest=1300",
];

/// Pages of every plan on A4, and below `letter` on Letter with a guide.
static EXPORTED: LazyLock<TempDir> = LazyLock::new(|| {
    let out = tempfile::tempdir().expect("a temporary folder");
    let to = [
        "--quiet",
        "--to",
        "cutting-pdf,cutting-json,cutting-svg",
        "--set",
        "cutting-pdf.effort=quick",
        "--set",
        "cutting-json.effort=quick",
        "--set",
        "cutting-svg.effort=quick",
    ];
    export_all(&PLANS, &out.path().join("a4"), &to);
    let letter = ["--set", "cutting-pdf.paper=letter"];
    let more = [&to[..], &letter, &GUIDED].concat();
    export_all(&PLANS, &out.path().join("letter"), &more);
    out
});

/// What the script makes of every PDF, by path.
static SEEN: LazyLock<BTreeMap<String, Value>> = LazyLock::new(|| {
    let files = files_of(EXPORTED.path(), "pdf").into_iter();
    let names: Vec<String> = files.map(|(name, _)| name).collect();
    assert_eq!(names.len(), 2 * PLANS.len(), "{names:?}");
    let seen = read_halves("check_cuts.py", &below(EXPORTED.path(), &names));
    names.into_iter().zip(seen).collect()
});

/// What a length may differ by in millimetres: numbers are rounded to 0.01 mm, or in inches to 1/64.
fn tolerance(unit: &Value) -> f64 {
    if unit == "in" { 25.4 / 64.0 } else { 0.02 }
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list")
}

fn sides(piece: &Value) -> [f64; 2] {
    let size = list(&piece["size_mm"]);
    let [a, b] = [0, 1].map(|index| size[index].as_f64().expect("a number"));
    [a.min(b), a.max(b)]
}

struct Beside(PathBuf);

impl IncludeReader for Beside {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        fs::read(self.0.join(path)).map_err(|error| error.to_string())
    }
}

/// A piece: its mark, and both sides in millimetres, the shorter one first.
type Piece = (String, [f64; 2]);

/// Every piece of a plan, in order.
fn pieces_of(plan: &str) -> Vec<Piece> {
    let folder = fixture(plan);
    let bytes = fs::read(folder.join("plan.yaml")).expect("a plan");
    let compiled = jigless_core::compile("plan.yaml", &bytes, &Beside(folder));
    let (plan, workpieces) = compiled.result.expect("a sound plan");
    let marks = Marks::of(&plan);
    let mut pieces = Vec::new();
    for workpiece in &workpieces {
        let part = &workpiece.part;
        let bounds = workpiece.outline().bounds().expect("an outline");
        let (a, b) = (bounds.width(), bounds.height());
        let piece = (marks.mark(&part.id).to_owned(), [a.min(b), a.max(b)]);
        pieces.extend(std::iter::repeat_n(piece, part.count as usize));
    }
    in_order(pieces)
}

fn in_order(mut pieces: Vec<Piece>) -> Vec<Piece> {
    pieces.sort_by(|a, b| {
        let sizes = a.1[0].total_cmp(&b.1[0]).then(a.1[1].total_cmp(&b.1[1]));
        a.0.cmp(&b.0).then(sizes)
    });
    pieces
}

#[track_caller]
fn same(name: &str, found: &[Piece], wanted: &[Piece], tolerance: f64) {
    assert_eq!(found.len(), wanted.len(), "{name}: {found:?}\n{wanted:?}");
    for (found, wanted) in found.iter().zip(wanted) {
        let close = |side: usize| (found.1[side] - wanted.1[side]).abs() <= tolerance;
        assert!(
            found.0 == wanted.0 && close(0) && close(1),
            "{name}: {found:?} in place of {wanted:?}"
        );
    }
}

/// The cuts of the printed words, and nothing else, end in exactly the plan's parts.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn cuts_as_printed_end_in_the_parts_of_the_plan() {
    for (name, seen) in SEEN.iter() {
        assert_eq!(list(&seen["faults"]).len(), 0, "{name}: {}", seen["faults"]);
        let plan = PLANS.iter().find(|plan| {
            let folder = plan.rsplit('/').next().expect("a folder");
            name.contains(&format!("/{folder}/"))
        });
        let plan = plan.unwrap_or_else(|| panic!("{name}: of which plan?"));
        let tolerance = tolerance(&seen["unit"]);
        let wanted = pieces_of(plan);
        let piece = |piece: &Value| {
            let mark = piece["mark"].as_str().expect("a mark");
            (mark.to_owned(), sides(piece))
        };
        let cut = in_order(list(&seen["pieces"]).iter().map(piece).collect());
        same(name, &cut, &wanted, tolerance);
        // The list of parts on the first page says the same.
        let mut listed = Vec::new();
        for part in list(&seen["parts"]) {
            let count = part["count"].as_u64().expect("a count") as usize;
            listed.extend(std::iter::repeat_n(piece(part), count));
        }
        same(name, &in_order(listed), &wanted, tolerance);
        // Each copy is named once.
        let mut names: Vec<&Value> = list(&seen["pieces"]).iter().map(|p| &p["name"]).collect();
        names.sort_by_key(ToString::to_string);
        assert!(
            names.windows(2).all(|pair| pair[0] != pair[1]),
            "{name}: {names:?}"
        );
        // The guide has its place where the saw's offset is known.
        let guides = seen["guides"].as_u64().expect("a count");
        let settings = seen["settings"].as_u64().expect("a count");
        let on_letter = name.starts_with("letter/");
        assert_eq!(
            guides > 0 && guides * 2 >= settings,
            on_letter,
            "{name}: {guides}"
        );
        // Every size that is stated is what the cuts give.
        let worst = seen["worst_mm"].as_f64().expect("a number");
        assert!(worst <= 2.0 * tolerance, "{name}: {worst}");
    }
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn type_is_large_enough_and_on_the_paper() {
    for (name, seen) in SEEN.iter() {
        let smallest = seen["smallest"].as_f64().expect("a number");
        assert!(smallest >= 7.0, "{name}: {smallest} pt");
        assert_eq!(
            list(&seen["outside"]).len(),
            0,
            "{name}: {}",
            seen["outside"]
        );
    }
}

/// No words over words or lines, and nothing nearer to the edge of the paper than 12 mm, as another reader sees it.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn nothing_lies_over_words() {
    let files = files_of(EXPORTED.path(), "pdf").into_iter();
    let names: Vec<String> = files.map(|(name, _)| name).collect();
    let seen = read_halves("check_pdf.py", &below(EXPORTED.path(), &names));
    for (name, file) in names.iter().zip(&seen) {
        assert_eq!(file["qpdf"]["clean"], true, "{name}: {}", file["qpdf"]);
        assert_eq!(file["print_scaling"], "/None", "{name}");
        for (index, page) in list(&file["pages"]).iter().enumerate() {
            let name = format!("{name} page {}", index + 1);
            assert_eq!(
                list(&page["overlaps"]).len(),
                0,
                "{name}: {}",
                page["overlaps"]
            );
            for edge in list(&page["ink_mm"]) {
                assert!(edge.as_f64().expect("a number") >= 12.0, "{name}: {edge}");
            }
        }
    }
}

/// The data give the same list: every cut of a sheet is in the tree, and pieces and offcuts lie where its cuts leave them.
#[test]
fn data_and_pictures_are_there_for_every_sheet() {
    for plan in PLANS {
        let folder = plan.rsplit('/').next().expect("a folder");
        let files = files_of(EXPORTED.path(), "json").into_iter();
        let wanted = format!("a4/{folder}/cutting-json/cutting.json");
        let (_, bytes) = files
            .into_iter()
            .find(|(name, _)| *name == wanted)
            .unwrap_or_else(|| panic!("no {wanted}"));
        let data: Value = serde_json::from_slice(&bytes).expect("JSON");
        let mut pieces = 0;
        let mut pictures = 0;
        for stock in list(&data["stocks"]) {
            let needed = stock["needed"].as_u64().expect("a count");
            assert!(stock["least"].as_u64().expect("a count") <= needed.max(1));
            if let Some(sheets) = stock["sheets"].as_array() {
                assert_eq!(sheets.len() as u64, needed);
                pictures += sheets.len();
                for sheet in sheets {
                    pieces += list(&sheet["pieces"]).len();
                    same_rectangles(sheet);
                }
            } else {
                pictures += 1;
                pieces += list(&stock["boards"])
                    .iter()
                    .map(|board| list(&board["pieces"]).len())
                    .sum::<usize>();
            }
        }
        assert_eq!(pieces, pieces_of(plan).len(), "{plan}");
        let drawn = files_of(&EXPORTED.path().join("a4").join(folder), "svg");
        assert_eq!(drawn.len(), pictures, "{plan}");
    }
}

/// The leaves of a sheet's tree are its pieces and offcuts, at the same places.
fn same_rectangles(sheet: &Value) {
    fn collect<'a>(node: &'a Value, leaves: &mut Vec<(&'a Value, [&'a Value; 4])>) {
        let name = if node["piece"].is_null() {
            &node["offcut"]
        } else {
            &node["piece"]
        };
        if !name.is_null() {
            leaves.push((name, ["x", "y", "width", "height"].map(|key| &node[key])));
        }
        for part in node["parts"].as_array().into_iter().flatten() {
            collect(part, leaves);
        }
    }
    let mut leaves = Vec::new();
    collect(&sheet["tree"], &mut leaves);
    let all = list(&sheet["pieces"]).iter().chain(list(&sheet["offcuts"]));
    let mut listed: Vec<_> = all
        .map(|at| {
            (
                &at["name"],
                ["x", "y", "width", "height"].map(|key| &at[key]),
            )
        })
        .collect();
    leaves.sort_by_key(|(name, _)| name.to_string());
    listed.sort_by_key(|(name, _)| name.to_string());
    assert_eq!(leaves, listed);
}
