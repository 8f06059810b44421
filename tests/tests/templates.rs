//! Small templates and everything else that the default settings print, as `pdfplumber`, `pikepdf` and `qpdf` see it: a
//! hinge to a page, rows that go on, depths beside their holes.

use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use jigless_tests::cabinet;
use jigless_tests::fixtures::{files_of, sound_plans};
use jigless_tests::paper::{
    BLANK, SMALLEST, TOLERANCE, all_words, assert_mark, has_reference, list, marks, names_hole,
    number, pages, read, stops, words,
};
use jigless_tests::program::export_all;
use jigless_tests::readers::{below, read_halves};
use serde_json::Value;
use tempfile::TempDir;

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

/// What the reader sees of the templates of one plan: `a4/glaze-cabinet`.
fn exported(plan: &str) -> Value {
    let file = Path::new(plan).join("pdf-template/templates.pdf");
    read(&EXPORTED.path().join(file))
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

/// The name of the hole that a label is about, if the label gives a depth in its first lines: `H1 Ø35 back`, `12.5 deep`.
fn deep_hole<'a>(line: &'a str, lines: &[&str]) -> Option<&'a str> {
    let (name, rest) = line.split_once(' ')?;
    let is_hole =
        name.starts_with('H') && name[1..].parse::<u32>().is_ok() && rest.starts_with('Ø');
    let index = lines.iter().position(|other| *other == line)?;
    let next = lines.get(index + 1)?;
    (is_hole && next.ends_with(" deep")).then_some(name)
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

/// A plan may have three parts called `Left side of a drawer`: the mark of the cutting list keeps them apart.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn sheets_and_index_name_each_part_by_the_mark_of_the_cutting_list() {
    let lists = tempfile::tempdir().expect("a temporary folder");
    export_all(
        &["glazing-trolley"],
        lists.path(),
        &["--to", "cutting-list-csv"],
    );
    let list_of_parts = lists
        .path()
        .join("glazing-trolley/cutting-list-csv/cutting-list.csv");
    let rows = fs::read_to_string(list_of_parts).expect("a list");
    let mut reader = csv::Reader::from_reader(rows.as_bytes());
    let parts = reader.records().map(|row| row.expect("a row"));
    let named: Vec<String> = parts
        .map(|row| format!("{} · {}", &row[0], &row[2]))
        .collect();
    let file = exported("a4/glazing-trolley");
    let (index, sheets) = list(&file["pages"]).split_first().expect("pages");
    let index = words(index);
    // Long names are cut off in the index.
    for name in named.iter().filter(|name| name.len() < 30) {
        assert!(index.contains(&format!("× {name}")), "{name}: {index}");
    }
    let templates = sheets.iter().map(words);
    for sheet in templates.filter(|sheet| sheet.contains("1:1 TEMPLATE")) {
        let of = named.iter().filter(|name| sheet.contains(name.as_str()));
        assert_eq!(of.count(), 1, "{sheet}");
    }
}
