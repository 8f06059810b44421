//! SVG drawings as Chromium lays them out: at 96 pixels to the inch everything is where the plan has it.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use jigless_tests::cabinet;
use jigless_tests::fixtures::{files_of, sound_plans};
use jigless_tests::program::export_all;
use jigless_tests::readers::{below, in_browser, read_with};
use serde_json::Value;
use tempfile::TempDir;

/// What a drawing may be wrong by, in millimetres.
const TOLERANCE: f64 = 0.05;

static EXPORTED: LazyLock<TempDir> = LazyLock::new(|| {
    let out = tempfile::tempdir().expect("a temporary folder");
    let plans = sound_plans();
    let plans: Vec<&str> = plans.iter().map(String::as_str).collect();
    export_all(&plans, out.path(), &["--quiet", "--to", "svg-drilling"]);
    out
});

/// What Chromium makes of every file, by path. It lays out at 96 pixels to the inch
/// (CSS: 1in = 96px and 1in = 25.4mm; W3C, CSS Values and Units, absolute lengths), and the script turns pixels back
/// into millimetres by that alone.
static SEEN: LazyLock<BTreeMap<String, Value>> = LazyLock::new(|| {
    let files = files_of(EXPORTED.path(), "svg").into_iter();
    let names: Vec<String> = files.map(|(name, _)| name).collect();
    let seen = read_with("check_svg.py", &below(EXPORTED.path(), &names));
    assert_eq!(seen.len(), names.len(), "a report for each file");
    names.into_iter().zip(seen).collect()
});

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// A drawing in millimetres with y upward from the lower left corner of the outline.
struct Drawing {
    width: f64,
    height: f64,
    /// x, y and diameter of the circles among the hole marks.
    circles: Vec<[f64; 3]>,
}

#[track_caller]
fn drawing(name: &str) -> Drawing {
    let missing = || panic!("{name} was not made");
    let seen = SEEN.get(name).unwrap_or_else(missing);
    let outline: Vec<f64> = seen["outline_mm"]
        .as_array()
        .expect("a box")
        .iter()
        .map(number)
        .collect();
    let holes = seen["holes"].as_array().expect("a list").iter();
    let circles = holes.map(|hole| {
        let (at, diameter) = (&hole["part_mm"], &hole["diameter_mm"]);
        [number(&at[0]), number(&at[1]), number(diameter)]
    });
    Drawing {
        width: outline[2] - outline[0],
        height: outline[3] - outline[1],
        circles: circles.collect(),
    }
}

#[track_caller]
fn assert_holes(drawing: &Drawing, diameter: f64, places: &[(f64, f64)]) {
    for (x, y) in places {
        let there = drawing.circles.iter().any(|circle| {
            (circle[0] - x).abs() < TOLERANCE
                && (circle[1] - y).abs() < TOLERANCE
                && (circle[2] - diameter).abs() < TOLERANCE
        });
        assert!(
            there,
            "no hole of {diameter} at {x}, {y} among {:?}",
            drawing.circles
        );
    }
}

#[test]
#[cfg_attr(
    not(has_svg_readers),
    ignore = "needs chromium and the Python readers: tests/run"
)]
fn outlines_are_as_large_as_the_parts() {
    for (part, width, height) in cabinet::PARTS {
        let drawing = drawing(&format!("glaze-cabinet/svg-drilling/{part}.svg"));
        assert!(
            (drawing.width - width).abs() < TOLERANCE,
            "{part}: {}",
            drawing.width
        );
        assert!(
            (drawing.height - height).abs() < TOLERANCE,
            "{part}: {}",
            drawing.height
        );
    }
}

#[test]
#[cfg_attr(
    not(has_svg_readers),
    ignore = "needs chromium and the Python readers: tests/run"
)]
fn holes_are_where_the_plan_has_them() {
    let side = drawing("glaze-cabinet/svg-drilling/side-left.svg");
    assert_holes(&side, 5.0, &cabinet::SIDE_PLATES);
    assert_holes(&side, 5.0, &cabinet::side_pins());
    assert_holes(&side, 2.5, &cabinet::SIDE_RUNNER);
    let back = drawing("glaze-cabinet/svg-drilling/side-left.back.svg");
    let screws = cabinet::from_behind(400.0, &cabinet::SIDE_SCREWS);
    assert_holes(&back, 4.5, &screws);
    assert_holes(&back, 9.0, &screws);
    let door = drawing("glaze-cabinet/svg-drilling/door-left.back.svg");
    assert_holes(&door, 35.0, &cabinet::from_behind(397.0, &cabinet::CUPS));
    assert_holes(
        &door,
        2.5,
        &cabinet::from_behind(397.0, &cabinet::CUP_SCREWS),
    );
    // Inches: pegs of 1/4 every 2 1/4 across and 1 1/2 upward from 3/4, 3/4.
    let rack = drawing("thread-organiser/svg-drilling/peg-rack.svg");
    let pegs: Vec<(f64, f64)> = (0..25)
        .map(|n| (f64::from(n % 5), f64::from(n / 5)))
        .map(|(across, up)| ((0.75 + 2.25 * across) * 25.4, (0.75 + 1.5 * up) * 25.4))
        .collect();
    assert_holes(&rack, 6.35, &pegs);
    assert!(
        (rack.width - 10.5 * 25.4).abs() < TOLERANCE,
        "{}",
        rack.width
    );
    // Every field of a hole: `features/hole`, whose plan says what is to be seen.
    let holes = drawing("hole/svg-drilling/panel.svg");
    assert_holes(&holes, 5.0, &[(30.0, 40.0)]);
    assert_holes(&holes, 6.5, &[(170.0, 70.0)]);
    assert_holes(&holes, 14.0, &[(60.0, 80.0)]);
    assert_holes(&holes, 3.0, &[(140.0, 25.0)]);
}

/// The root is sized in millimetres, and one unit of the viewBox is one of them.
#[test]
fn one_unit_of_the_view_box_is_a_millimetre() {
    for (name, bytes) in files_of(EXPORTED.path(), "svg") {
        let text = String::from_utf8(bytes).expect("UTF-8");
        let root = text
            .split_once("<svg")
            .and_then(|(_, rest)| rest.split_once('>'));
        let root = root.expect("a root").0;
        let attribute = |key: &str| {
            let (_, rest) = root.split_once(&format!(" {key}=\"")).expect(key);
            rest.split_once('"').expect("a closing quote").0.to_owned()
        };
        let millimetres = |key: &str| -> f64 {
            let value = attribute(key);
            let number = value.strip_suffix("mm").expect("millimetres");
            number.parse().expect("a number")
        };
        let view: Vec<f64> = attribute("viewBox")
            .split_whitespace()
            .map(|number| number.parse().expect("a number"))
            .collect();
        assert!(
            (view[2] - millimetres("width")).abs() < 1e-9,
            "{name}: {root}"
        );
        assert!(
            (view[3] - millimetres("height")).abs() < 1e-9,
            "{name}: {root}"
        );
    }
}

/// Words do not lie on other words and do not reach out of the drawing.
#[test]
#[cfg_attr(
    not(has_svg_readers),
    ignore = "needs chromium and the Python readers: tests/run"
)]
fn words_do_not_collide() {
    for (name, seen) in &*SEEN {
        assert_eq!(seen["overlaps"], Value::Array(vec![]), "{name}");
    }
}

/// The line to measure a print by is as long as it says.
#[test]
#[cfg_attr(
    not(has_svg_readers),
    ignore = "needs chromium and the Python readers: tests/run"
)]
fn the_check_line_is_a_hundred_millimetres() {
    for (name, seen) in &*SEEN {
        let length = number(&seen["check_mm"]);
        assert!((length - 100.0).abs() < TOLERANCE, "{name}: {length}");
    }
}

/// Words of every script survive as XML: Chromium's strict parser, which stops at the first fault, takes every file.
#[test]
#[cfg_attr(not(has_chromium), ignore = "needs chromium: tests/run")]
fn drawings_are_well_formed_xml() {
    let files = files_of(EXPORTED.path(), "svg");
    let texts: Vec<String> = files
        .into_iter()
        .map(|(_, bytes)| String::from_utf8(bytes).expect("UTF-8"))
        .collect();
    let json = serde_json::to_string(&texts)
        .expect("JSON")
        .replace("</", "<\\/");
    let script = "
        const read = file => new DOMParser().parseFromString(file, 'image/svg+xml');
        const bad = files.filter(file => read(file).querySelector('parsererror'));
        const broken = read('<svg').querySelector('parsererror') ? 'seen' : 'overlooked';
        document.body.textContent = `BEGIN${files.length} ${bad.length} ${broken}END`;";
    let page = "<!doctype html><meta charset=utf-8><body><script>const files = ".to_owned();
    let said = in_browser(&(page + &json + ";" + script + "</script>"));
    assert_eq!(said, format!("{} 0 seen", texts.len()));
}
