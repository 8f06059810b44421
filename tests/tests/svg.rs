//! SVG drawings as Chromium lays them out: at 96 pixels to the inch everything is where the plan has it.

use std::path::Path;
use std::sync::LazyLock;

use jigless_tests::cabinet;
use jigless_tests::fixtures::files_of;
use jigless_tests::program::export_all;
use jigless_tests::readers::{CHROMIUM, have, in_browser};
use serde_json::Value;
use tempfile::TempDir;

/// CSS: 1in = 96px, and 1in = 25.4mm (W3C, CSS Values and Units, absolute lengths).
const PIXELS_PER_MM: f64 = 96.0 / 25.4;
/// What a drawing may be wrong by, in millimetres.
const TOLERANCE: f64 = 0.05;

static EXPORTED: LazyLock<TempDir> = LazyLock::new(|| {
    let out = tempfile::tempdir().expect("a temporary folder");
    let plans = [
        "glaze-cabinet",
        "thread-organiser",
        "features/hole",
        "features/letters",
    ];
    export_all(&plans, out.path(), &["--to", "svg-drilling"]);
    out
});

/// Run in the browser: for each drawing its size, the boxes of its outline and the circles among its hole marks, in
/// pixels of the screen, as laid out. `getScreenCTM` is the way from a drawing's own units to the screen.
const MEASURE: &str = r"
const seen = [...document.querySelectorAll('svg')].map(svg => {
    const page = svg.getBoundingClientRect();
    const place = (node, x, y) => {
        const point = new DOMPoint(x, y).matrixTransform(node.getScreenCTM());
        return [point.x - page.left, point.y - page.top];
    };
    const box = node => {
        const own = node.getBBox();
        const [left, top] = place(node, own.x, own.y);
        const [right, bottom] = place(node, own.x + own.width, own.y + own.height);
        return [left, top, right, bottom];
    };
    const circle = node => {
        const [x, y] = place(node, node.cx.baseVal.value, node.cy.baseVal.value);
        const [edge] = place(node, node.cx.baseVal.value + node.r.baseVal.value, node.cy.baseVal.value);
        return [x, y, 2 * (edge - x)];
    };
    return {
        width: page.width,
        height: page.height,
        contours: [...svg.querySelectorAll('#contour > *')].map(box),
        circles: [...svg.querySelectorAll('#holes circle')].map(circle),
        texts: [...svg.querySelectorAll('text')].map(node => node.getComputedTextLength()),
    };
});
document.body.textContent = 'BEGIN' + JSON.stringify(seen) + 'END';
";

/// What the browser sees in each SVG file below a folder, by path.
fn measure(folder: &Path) -> Vec<(String, Value)> {
    let mut page = String::from("<!doctype html><meta charset=utf-8><body style='margin:0'>");
    let mut names = Vec::new();
    for (name, bytes) in files_of(folder, "svg") {
        page += "<div style='position:absolute;left:0;top:0'>";
        page += &String::from_utf8(bytes).expect("UTF-8");
        page += "</div>";
        names.push(name);
    }
    page += "<script>";
    page += MEASURE;
    page += "</script>";
    let seen: Vec<Value> = serde_json::from_str(&in_browser(&page)).expect("JSON");
    assert_eq!(
        seen.len(),
        names.len(),
        "a drawing is missing from the page"
    );
    names.into_iter().zip(seen).collect()
}

static SEEN: LazyLock<Vec<(String, Value)>> = LazyLock::new(|| {
    if have(&[CHROMIUM]) {
        measure(EXPORTED.path())
    } else {
        Vec::new()
    }
});

fn numbers(value: &Value) -> Vec<f64> {
    let list = value.as_array().expect("a list").iter();
    list.map(|number| number.as_f64().expect("a number"))
        .collect()
}

/// A drawing turned into millimetres with y upward from the lower left corner of the outline.
struct Drawing {
    width: f64,
    height: f64,
    /// x, y and diameter.
    circles: Vec<[f64; 3]>,
}

fn drawing(name: &str) -> Option<Drawing> {
    if SEEN.is_empty() {
        return None;
    }
    let (_, seen) = SEEN.iter().find(|(other, _)| other == name).expect(name);
    let outline = numbers(&seen["contours"][0]);
    let circles = seen["circles"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|circle| {
            let circle = numbers(circle);
            let (x, y) = (circle[0] - outline[0], outline[3] - circle[1]);
            [x, y, circle[2]].map(|pixels| pixels / PIXELS_PER_MM)
        });
    Some(Drawing {
        width: (outline[2] - outline[0]) / PIXELS_PER_MM,
        height: (outline[3] - outline[1]) / PIXELS_PER_MM,
        circles: circles.collect(),
    })
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
fn outlines_are_as_large_as_the_parts() {
    for (part, width, height) in cabinet::PARTS {
        let Some(drawing) = drawing(&format!("glaze-cabinet/svg-drilling/{part}.svg")) else {
            return;
        };
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
fn holes_are_where_the_plan_has_them() {
    let Some(side) = drawing("glaze-cabinet/svg-drilling/side-left.svg") else {
        return;
    };
    assert_holes(&side, 5.0, &cabinet::SIDE_PLATES);
    assert_holes(&side, 5.0, &cabinet::side_pins());
    assert_holes(&side, 2.5, &cabinet::SIDE_RUNNER);
    let back = drawing("glaze-cabinet/svg-drilling/side-left.back.svg").expect("the back");
    let screws = cabinet::from_behind(400.0, &cabinet::SIDE_SCREWS);
    assert_holes(&back, 4.5, &screws);
    assert_holes(&back, 9.0, &screws);
    let door = drawing("glaze-cabinet/svg-drilling/door-left.back.svg").expect("the door");
    assert_holes(&door, 35.0, &cabinet::from_behind(397.0, &cabinet::CUPS));
    assert_holes(
        &door,
        2.5,
        &cabinet::from_behind(397.0, &cabinet::CUP_SCREWS),
    );
    // Inches: pegs of 1/4 every 2 1/4 across and 1 1/2 upward from 3/4, 3/4.
    let rack = drawing("thread-organiser/svg-drilling/peg-rack.svg").expect("the rack");
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
    let holes = drawing("hole/svg-drilling/panel.svg").expect("the panel");
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

/// Words of every script survive as XML: Chromium's strict parser, which stops at the first fault, takes every file.
#[test]
fn drawings_are_well_formed_xml() {
    if !have(&[CHROMIUM]) {
        return;
    }
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
