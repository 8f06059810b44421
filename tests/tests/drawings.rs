//! Drawings of the whole and of each part, as an outside reader sees them.

use std::path::{Path, PathBuf};

use jigless_tests::fixtures::{files_of, sound_plans};
use jigless_tests::program::export_all;
use jigless_tests::readers::{below, read_halves};
use serde_json::Value;

/// Plans that are looked at by default; all of them with `JIGLESS_DRAWINGS=all` in the environment. The three on paper are
/// a door with five hinges, a tall side with rows of pins, runners and pockets, and an odd part in inches.
const PLANS: [&str; 4] = [
    "glaze-cabinet",
    "paper/tall-door",
    "paper/tall-side",
    "paper/odd-part",
];

/// The least distance of ink from the edge of the paper, in millimetres.
const BLANK: f64 = 11.99;

/// No words on other words, marks or lines, and no ink near the border, on any drawing of the plans.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn words_of_drawings_lie_on_nothing() {
    let all = std::env::var("JIGLESS_DRAWINGS").is_ok_and(|wanted| wanted == "all");
    let plans = if all {
        sound_plans()
    } else {
        PLANS.map(str::to_owned).to_vec()
    };
    let plans: Vec<&str> = plans.iter().map(String::as_str).collect();
    let out = tempfile::tempdir().expect("a temporary folder");
    let to = [
        "--quiet",
        "--to",
        "pdf-part-drawings",
        "--to",
        "pdf-drawings",
    ];
    export_all(&plans, out.path(), &to);
    let files = files_of(out.path(), "pdf").into_iter();
    let names: Vec<String> = files.map(|(name, _)| name).collect();
    assert!(names.len() > 4, "{names:?}");
    let files: Vec<PathBuf> = below(out.path(), &names);
    let mut bad = Vec::new();
    for (file, name) in read_halves("check_pdf.py", &files).iter().zip(&names) {
        let pages = file["pages"].as_array().expect("pages");
        for (index, page) in pages.iter().enumerate() {
            let place = format!("{}, page {}", Path::new(name).display(), index + 1);
            if page["overlaps"] != Value::Array(vec![]) {
                bad.push(format!("{place}: {}", page["overlaps"]));
            }
            let ink = page["ink_mm"].as_array().expect("distances");
            if ink.iter().any(|mm| mm.as_f64().is_none_or(|mm| mm < BLANK)) {
                bad.push(format!("{place}: ink at {ink:?}"));
            }
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
}
