//! Templates on paper as `pdfplumber`, `pikepdf` and `qpdf` see them: pages of the sizes that the standards give, hole
//! marks where the plan has them, also from one page to the next.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use jigless_tests::cabinet;
use jigless_tests::fixtures::{files_of, fixture};
use jigless_tests::program::export_all;
use jigless_tests::readers::{below, read_halves, read_with};
use serde_json::Value;
use tempfile::TempDir;

/// What a distance between two hole marks may be wrong by, in millimetres.
const TOLERANCE: f64 = 0.01;

/// Paper by the exporter's word, and its width and height in millimetres upright.
///
/// A4 and A3: ISO 216. Letter and Tabloid are sizes A (8.5 x 11 in) and B (11 x 17 in) of ANSI/ASME Y14.1; Legal,
/// 8.5 x 14 in, is not in that standard but is 612 x 1008 units by arithmetic like them.
const PAPERS: [(&str, f64, f64); 5] = [
    ("a4", 210.0, 297.0),
    ("a3", 297.0, 420.0),
    ("letter", 215.9, 279.4),
    ("legal", 215.9, 355.6),
    ("tabloid", 279.4, 431.8),
];

/// The least distance of ink from the edge of the paper, in millimetres: home printers leave about 4 to 12 blank
/// (common practice, no source).
const BLANK: f64 = 12.0;

/// Whole faces, over as many pages as they take: the whole cabinet on A4, the organiser on Letter, and one tall and one small part on every other paper, below a
/// folder for each paper.
static EXPORTED: LazyLock<TempDir> = LazyLock::new(|| {
    let out = tempfile::tempdir().expect("a temporary folder");
    for (paper, ..) in PAPERS {
        let setting = format!("pdf-template.paper={paper}");
        let whole = "pdf-template.scope=face";
        let to = [
            "--quiet",
            "--to",
            "pdf-template",
            "--set",
            &setting,
            "--set",
            whole,
        ];
        let below = out.path().join(paper);
        let parts = ["--part", "side-left,door-left,tray-long"];
        let chosen = if paper == "a4" { &[][..] } else { &parts[..] };
        export_all(&["glaze-cabinet"], &below, &[&to[..], chosen].concat());
        if ["a4", "letter"].contains(&paper) {
            let plans = [
                "thread-organiser",
                "features/large",
                "features/letters",
                "features/hole",
            ];
            export_all(&plans, &below, &to);
        }
    }
    let roll = [
        "--quiet",
        "--to",
        "pdf-template",
        "--set",
        "pdf-template.paper=roll",
        "--part",
        "side-left",
    ];
    export_all(&["glaze-cabinet"], &out.path().join("roll"), &roll);
    out
});

/// What the readers see in every file, by path.
static SEEN: LazyLock<BTreeMap<String, Value>> = LazyLock::new(|| {
    let files = files_of(EXPORTED.path(), "pdf").into_iter();
    let names: Vec<String> = files.map(|(name, _)| name).collect();
    let seen = read_halves("check_pdf.py", &below(EXPORTED.path(), &names));
    names.into_iter().zip(seen).collect()
});

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list")
}

/// Every page of every file, with the file's path.
fn pages() -> impl Iterator<Item = (&'static str, &'static Value)> {
    SEEN.iter().flat_map(|(name, file)| {
        list(&file["pages"])
            .iter()
            .map(|page| (name.as_str(), page))
    })
}

/// ISO 32000-1: a unit is 1/72 in (Table 30), and a viewer must not scale what it prints where `/PrintScaling` is `/None`
/// (12.2, Table 150).
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn files_are_sound_and_print_at_full_size() {
    for (name, file) in &*SEEN {
        assert_eq!(
            file["qpdf"]["clean"], true,
            "{name}: {}",
            file["qpdf"]["says"]
        );
        assert_eq!(file["print_scaling"], "/None", "{name}");
        assert_eq!(file["duplex"], "/Simplex", "{name}");
        assert_eq!(file["language"], "en", "{name}");
        let pages = list(&file["pages"]).len();
        assert_eq!(list(&file["labels"]).len(), pages, "{name}: names of pages");
        for bookmark in list(&file["bookmarks"]) {
            assert!(
                (1.0..=pages as f64).contains(&number(&bookmark[1])),
                "{name}: {bookmark}"
            );
        }
        assert!(file["id"].is_array(), "{name} has no /ID");
    }
}

#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn pages_are_of_standard_sizes() {
    for (paper, width, height) in PAPERS {
        let mut count = 0;
        for (name, page) in pages().filter(|(name, _)| name.starts_with(&format!("{paper}/"))) {
            let box_ = &page["media_box"];
            assert!(
                number(&box_[0]) == 0.0 && number(&box_[1]) == 0.0,
                "{name}: {box_}"
            );
            // Upright or on its side.
            let mut size = [number(&box_[2]), number(&box_[3])];
            size.sort_by(f64::total_cmp);
            for (points, millimetres) in size.into_iter().zip([width, height]) {
                let seen = points * 25.4 / 72.0;
                assert!(
                    (seen - millimetres).abs() < 0.001,
                    "{name}: {seen} is not {millimetres}"
                );
            }
            count += 1;
        }
        assert!(count > 0, "no pages on {paper}");
    }
}

#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn no_ink_comes_near_the_edge_of_the_paper() {
    for (name, page) in pages() {
        for distance in list(&page["ink_mm"]) {
            assert!(
                number(distance) > BLANK - 1e-3,
                "{name}: {}",
                page["ink_mm"]
            );
        }
    }
}

/// A hole mark: its centre from the part's corner, and the diameters of the circles around it.
type Mark = ((f64, f64), Vec<f64>);

/// Hole marks on one face of a part, `door-left back`, as the readers see them.
#[track_caller]
fn marks(name: &str, face: &str) -> Vec<Mark> {
    let missing = || panic!("{name} was not made");
    let file = SEEN.get(name).unwrap_or_else(missing);
    let templates = list(&file["pages"])
        .iter()
        .flat_map(|page| list(&page["templates"]));
    let on_face = templates.filter(|template| {
        let view = template["viewport"]["name"].as_str();
        view.is_some_and(|view| view.starts_with(face))
    });
    let marks = on_face.flat_map(|page| list(&page["marks"]));
    let place = |mark: &Value| (number(&mark["part_mm"][0]), number(&mark["part_mm"][1]));
    let circles = |mark: &Value| list(&mark["circles_mm"]).iter().map(number).collect();
    marks.map(|mark| (place(mark), circles(mark))).collect()
}

/// Every expected hole is marked, with its diameter, and nothing is marked anywhere else.
#[track_caller]
fn assert_marks(marks: &[Mark], expected: &[((f64, f64), f64)]) {
    let near = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).hypot(a.1 - b.1) < TOLERANCE;
    for (place, diameter) in expected {
        let there = marks.iter().any(|(at, circles)| {
            near(*at, *place)
                && circles
                    .iter()
                    .any(|circle| (circle - diameter).abs() < TOLERANCE)
        });
        assert!(there, "no mark of {diameter} at {place:?}: {marks:?}");
    }
    for (at, _) in marks {
        assert!(
            expected.iter().any(|(place, _)| near(*at, *place)),
            "a mark too many at {at:?}"
        );
    }
}

fn with_diameter(places: &[(f64, f64)], diameter: f64) -> Vec<((f64, f64), f64)> {
    places.iter().map(|place| (*place, diameter)).collect()
}

/// The side takes many pages of every size: marks on different pages stand as far from each other as in the plan, by
/// the place of the part's corner that each page carries (ISO 32000-1, 12.9: measurement properties).
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn hole_marks_are_where_the_plan_has_them_across_pages() {
    let papers = PAPERS.iter().map(|(paper, ..)| *paper).chain(["roll"]);
    for paper in papers {
        let file = match paper {
            "roll" => "side-left",
            _ => "templates",
        };
        let name = format!("{paper}/glaze-cabinet/pdf-template/{file}.pdf");
        let (front, back) = (
            marks(&name, "side-left front"),
            marks(&name, "side-left back"),
        );
        let expected = [
            with_diameter(&cabinet::SIDE_PLATES, 5.0),
            with_diameter(&cabinet::side_pins(), 5.0),
            with_diameter(&cabinet::SIDE_RUNNER, 2.5),
            // Drilled from behind; they come out here.
            with_diameter(&cabinet::SIDE_SCREWS, 4.5),
        ];
        assert_marks(&front, &expected.concat());
        let screws = cabinet::from_behind(400.0, &cabinet::SIDE_SCREWS);
        assert_marks(
            &back,
            &[with_diameter(&screws, 4.5), with_diameter(&screws, 9.0)].concat(),
        );
    }
    let door = marks(
        "a4/glaze-cabinet/pdf-template/templates.pdf",
        "door-left back",
    );
    let cups = with_diameter(&cabinet::from_behind(397.0, &cabinet::CUPS), 35.0);
    let screws = with_diameter(&cabinet::from_behind(397.0, &cabinet::CUP_SCREWS), 2.5);
    let knob = with_diameter(&[(35.0, 574.0)], 5.0);
    assert_marks(&door, &[cups, screws, knob].concat());
}

/// In inches and on Letter: 25 pegs, each 2 1/4 from the next across and 1 1/2 upward. An inch is 25.4 mm exactly.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn pegs_of_the_rack_are_where_the_plan_has_them() {
    let name = "letter/thread-organiser/pdf-template/templates.pdf";
    let marks = marks(name, "peg-rack front");
    let pegs: Vec<(f64, f64)> = (0..25)
        .map(|n| (f64::from(n % 5), f64::from(n / 5)))
        .map(|(across, up)| ((0.75 + 2.25 * across) * 25.4, (0.75 + 1.5 * up) * 25.4))
        .collect();
    assert_marks(&marks, &with_diameter(&pegs, 6.35));
}

/// The corner that a page carries is not taken on trust: what is drawn on two neighbouring pages (their join marks)
/// must lie at the same place of the part by both.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn neighbouring_pages_agree_on_their_join_marks() {
    let file = &SEEN["a4/large/pdf-template/templates.pdf"];
    // By the page's name, `front B3`: column and row.
    let mut tiles: BTreeMap<(u8, u32), Vec<[f64; 4]>> = BTreeMap::new();
    for page in list(&file["pages"])
        .iter()
        .flat_map(|page| list(&page["templates"]))
    {
        let Some(name) = page["viewport"]["name"]
            .as_str()
            .and_then(|name| name.strip_prefix("board front "))
        else {
            continue;
        };
        let origin = &page["viewport"]["origin_mm"];
        let strokes = list(&page["strokes"]).iter().map(|stroke| {
            let edges = list(&stroke["box_mm"]);
            let from = |index: usize| number(&edges[index]) - number(&origin[index % 2]);
            [from(0), from(1), from(2), from(3)]
        });
        let small = |edges: &[f64; 4]| (edges[2] - edges[0]).max(edges[3] - edges[1]) < 15.0;
        let column = name.as_bytes()[0];
        let row: u32 = name[1..].parse().expect("a row");
        tiles.insert((column, row), strokes.filter(small).collect());
    }
    let mut joined = 0;
    for ((column, row), strokes) in &tiles {
        for neighbour in [(column + 1, *row), (*column, row + 1)] {
            let Some(others) = tiles.get(&neighbour) else {
                continue;
            };
            let same = |a: &[f64; 4], b: &[f64; 4]| {
                a.iter().zip(b).all(|(a, b)| (a - b).abs() < TOLERANCE)
            };
            let shared = strokes
                .iter()
                .filter(|stroke| others.iter().any(|other| same(stroke, other)));
            let shared = shared.count();
            assert!(
                shared >= 2,
                "only {shared} marks join {column}{row} and {neighbour:?}"
            );
            joined += 1;
        }
    }
    assert!(
        joined >= 10,
        "a board of 600 by 2400 has more than {joined} seams on A4"
    );
}

/// Bars of 100 mm lie along both ways of every page with a template on it, to measure the print by.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn every_template_page_has_a_bar_of_a_hundred_millimetres_both_ways() {
    for (name, page) in pages().filter(|(_, page)| !list(&page["templates"]).is_empty()) {
        let lengths = |from: usize| {
            list(&page["strokes"]).iter().any(|stroke| {
                let edges = &stroke["box_mm"];
                (number(&edges[from + 2]) - number(&edges[from]) - 100.0).abs() < TOLERANCE
            })
        };
        assert!(
            lengths(0) && lengths(1),
            "{name}: {}",
            page["templates"][0]["viewport"]["name"]
        );
    }
}

#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn words_do_not_collide() {
    for (name, page) in pages() {
        assert_eq!(
            page["overlaps"],
            Value::Array(vec![]),
            "{name}: {}",
            page["templates"]
        );
    }
}

/// A reader that draws (poppler) takes every page of a file with every kind of word in it, and says nothing.
#[test]
#[cfg_attr(not(has_pdftoppm), ignore = "needs pdftoppm: tests/run")]
fn pages_can_be_drawn() {
    for name in [
        "a4/letters/pdf-template/templates.pdf",
        "a4/glaze-cabinet/pdf-template/templates.pdf",
    ] {
        let place = tempfile::tempdir().expect("a temporary folder");
        let output = std::process::Command::new("pdftoppm")
            .args(["-r", "50", "-gray"])
            .arg(EXPORTED.path().join(name))
            .arg(place.path().join("page"))
            .output()
            .expect("pdftoppm starts");
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success() && said.is_empty(), "{name}: {said}");
        let drawn = files_of(place.path(), "pgm");
        assert!(drawn.len() >= 2, "{name}: {} pages", drawn.len());
        // A page without anything on it would be white throughout.
        for (page, bytes) in drawn {
            assert!(
                bytes.iter().any(|byte| *byte < 100),
                "{name}: {page} is blank"
            );
        }
    }
}

/// A printer's own paper comes from a profile.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn a_profile_chooses_the_paper() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let profile = fixture("profiles/letter-printer.yaml");
    let profile = profile.to_str().expect("a plain path");
    export_all(
        &["features/plain"],
        out.path(),
        &["--to", "pdf-template", "--profile", profile],
    );
    let seen = read_with(
        "check_pdf.py",
        &[out.path().join("plain/pdf-template/templates.pdf")],
    );
    let size = &seen[0]["pages"][0]["media_box"];
    // Letter: 612 x 792 units of 1/72 in, by arithmetic.
    assert!(
        (number(&size[2]) - 612.0).abs() < 1e-3 && (number(&size[3]) - 792.0).abs() < 1e-3,
        "{size}"
    );
}
