//! Every DXF file of every sound plan, read strictly by `ezdxf` and by GDAL, which know nothing of each other or of
//! Jigless. Expected coordinates are worked out by hand from the plans' own text.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::LazyLock;

use jigless_tests::cabinet;
use jigless_tests::fixtures::{files_of, fixture, sound_plans};
use jigless_tests::program::export_all;
use jigless_tests::readers::{below, read_halves};
use serde_json::Value;
use tempfile::TempDir;

/// What a file must agree with the plan in, in millimetres or inches: the last digits of a double.
const TOLERANCE: f64 = 1e-6;

fn exported(version: &str) -> TempDir {
    let out = tempfile::tempdir().expect("a temporary folder");
    let plans = sound_plans();
    let plans: Vec<&str> = plans.iter().map(String::as_str).collect();
    let set = |exporter: &str| format!("{exporter}.version={version}");
    let (cnc, laser) = (set("dxf-cnc"), set("dxf-laser"));
    let formats = ["--quiet", "--to", "dxf-cnc,dxf-laser"];
    let settings = ["--set", &cnc, "--set", &laser];
    export_all(&plans, out.path(), &[&formats[..], &settings[..]].concat());
    out
}

/// All files in a version, and what the readers saw in each, by path.
struct Drawings {
    seen: BTreeMap<String, Value>,
    _folder: TempDir,
}

impl Drawings {
    fn new(version: &str) -> Self {
        let folder = exported(version);
        Self {
            seen: read(folder.path()),
            _folder: folder,
        }
    }

    /// What was seen in one file.
    #[track_caller]
    fn file(&self, name: &str) -> &Value {
        let missing = || panic!("{name} was not made");
        self.seen.get(name).unwrap_or_else(missing)
    }
}

/// What the readers see in every DXF file below a folder.
fn read(folder: &Path) -> BTreeMap<String, Value> {
    let files = files_of(folder, "dxf").into_iter();
    let names: Vec<String> = files.map(|(name, _)| name).collect();
    let seen = read_halves("check_dxf.py", &below(folder, &names));
    names.into_iter().zip(seen).collect()
}

static R2000: LazyLock<Drawings> = LazyLock::new(|| Drawings::new("r2000"));
static R12: LazyLock<Drawings> = LazyLock::new(|| Drawings::new("r12"));

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn entities<'a>(file: &'a Value, layer: &'a str) -> impl Iterator<Item = &'a Value> {
    let entities = file["entities"].as_array().expect("a list").iter();
    entities.filter(move |entity| entity["layer"] == layer)
}

/// The centres of the circles of a diameter on a layer.
fn circles(file: &Value, layer: &str, diameter: f64) -> Vec<(f64, f64)> {
    entities(file, layer)
        .filter(|entity| entity["type"] == "CIRCLE")
        .filter(|circle| (2.0 * number(&circle["radius"]) - diameter).abs() < TOLERANCE)
        .map(|circle| (number(&circle["centre"][0]), number(&circle["centre"][1])))
        .collect()
}

/// The box around the closed contours on a layer, arcs to their outermost points: left, bottom, right, top.
fn contour_box(file: &Value, layer: &str) -> [f64; 4] {
    let mut seen = [
        f64::INFINITY,
        f64::INFINITY,
        f64::NEG_INFINITY,
        f64::NEG_INFINITY,
    ];
    for contour in entities(file, layer) {
        let vertices = contour["vertices"].as_array().expect("vertices");
        for (index, vertex) in vertices.iter().enumerate() {
            let next = &vertices[(index + 1) % vertices.len()];
            let [a, b] = [vertex, next].map(|v| (number(&v[0]), number(&v[1])));
            for (x, y) in outermost(a, b, number(&vertex[2])) {
                seen = [
                    seen[0].min(x),
                    seen[1].min(y),
                    seen[2].max(x),
                    seen[3].max(y),
                ];
            }
        }
    }
    seen
}

/// The start of a segment, and where its arc turns around left, right, top or bottom. The centre lies on the
/// perpendicular through the middle of the chord, (1 - b^2) / 4b chords to its left (follows from the bulge's
/// definition by the tangent of half an angle).
fn outermost(a: (f64, f64), b: (f64, f64), bulge: f64) -> Vec<(f64, f64)> {
    let mut points = vec![a];
    if bulge != 0.0 {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let aside = (1.0 - bulge * bulge) / (4.0 * bulge);
        let centre = (
            f64::midpoint(a.0, b.0) - dy * aside,
            f64::midpoint(a.1, b.1) + dx * aside,
        );
        let radius = (a.0 - centre.0).hypot(a.1 - centre.1);
        let start = (a.1 - centre.1).atan2(a.0 - centre.0);
        let sweep = 4.0 * bulge.atan();
        for quarter in 0..4_u8 {
            let angle = f64::from(quarter) * std::f64::consts::FRAC_PI_2;
            let onward = ((angle - start) * bulge.signum()).rem_euclid(std::f64::consts::TAU);
            if onward <= sweep.abs() {
                points.push((
                    centre.0 + radius * angle.cos(),
                    centre.1 + radius * angle.sin(),
                ));
            }
        }
    }
    points
}

/// Every expected place has a circle of its own, and there are no others.
#[track_caller]
fn assert_places(found: Vec<(f64, f64)>, expected: &[(f64, f64)]) {
    assert_eq!(found.len(), expected.len(), "{found:?} is not {expected:?}");
    let mut left = found;
    for (x, y) in expected {
        let near = |(a, b): &(f64, f64)| (a - x).abs() < TOLERANCE && (b - y).abs() < TOLERANCE;
        let at = left.iter().position(near);
        left.remove(at.unwrap_or_else(|| panic!("nothing at {x}, {y} among {left:?}")));
    }
}

#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn strict_readers_find_nothing_to_complain_of() {
    for (drawings, version) in [(&*R2000, "AC1015"), (&*R12, "AC1009")] {
        for (name, file) in &drawings.seen {
            assert_eq!(file["strict_ok"], true, "{name}: {file}");
            // $ACADVER: AC1009 is R12, AC1015 is 2000 (header page of the DXF reference).
            assert_eq!(file["acadver"], version, "{name}");
            for faults in ["audit_errors", "audit_fixes", "name_faults", "undeclared"] {
                assert_eq!(file[faults], Value::Array(vec![]), "{name}: {faults}");
            }
            assert_eq!(file["handles_unique"], true, "{name}");
            assert_eq!(file["handseed_free"], true, "{name}");
        }
    }
}

/// GDAL, which shares nothing with `ezdxf`, sees as many entities.
#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn a_second_reader_sees_as_much() {
    for (name, file) in R2000.seen.iter().chain(&R12.seen) {
        let entities = file["entities"].as_array().expect("a list").len();
        assert_eq!(file["ogr_count"], entities, "{name}: {}", file["ogr_error"]);
        assert_eq!(file["ogr_messages"], "", "{name}");
    }
}

/// Holes are circles, contours are closed polylines, arcs are bulges in them: no splines, no hatches, all in the plane.
/// In R12 there is no LWPOLYLINE (it is not legal in AC1009).
#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn only_plain_entities_are_written() {
    for (drawings, polyline) in [(&*R2000, "LWPOLYLINE"), (&*R12, "POLYLINE")] {
        for (name, file) in &drawings.seen {
            for entity in file["entities"].as_array().expect("a list") {
                let kind = entity["type"].as_str().expect("a type");
                assert!(
                    ["CIRCLE", "TEXT", polyline].contains(&kind),
                    "{name} has {kind}"
                );
                assert_eq!(number(&entity["z"]).to_bits(), 0, "{name}: {entity}");
                let layer = entity["layer"].as_str().expect("a name");
                assert!(
                    !layer.starts_with("CUT") || kind != "TEXT",
                    "{name}: {layer}"
                );
                if kind == polyline {
                    assert_is_a_clean_line(name, entity);
                }
            }
        }
    }
}

/// What is cut is closed; no line begins again where it is, and no segment is shorter than a hair.
fn assert_is_a_clean_line(name: &str, line: &Value) {
    let layer = line["layer"].as_str().expect("a name");
    let closed = line["closed"] == true;
    assert!(
        closed || !layer.starts_with("CUT"),
        "{name}: {layer} is open"
    );
    let vertices = line["vertices"].as_array().expect("vertices");
    let segments = if closed {
        vertices.len()
    } else {
        vertices.len() - 1
    };
    for index in 0..segments {
        let (a, b) = (&vertices[index], &vertices[(index + 1) % vertices.len()]);
        let length = (number(&a[0]) - number(&b[0])).hypot(number(&a[1]) - number(&b[1]));
        assert!(
            length > 0.001,
            "{name}: {layer} has a segment of {length} at {a}"
        );
    }
}

#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn outlines_are_as_large_as_the_parts() {
    for drawings in [&*R2000, &*R12] {
        for exporter in ["dxf-cnc", "dxf-laser"] {
            for (part, width, height) in cabinet::PARTS {
                let name = format!("glaze-cabinet/{exporter}/{part}.dxf");
                let file = drawings.file(&name);
                let seen = contour_box(file, "CUT_OUTSIDE");
                for (seen, wanted) in seen.into_iter().zip([0.0, 0.0, width, height]) {
                    assert!(
                        (seen - wanted).abs() < TOLERANCE,
                        "{name}: {seen} is not {wanted}"
                    );
                }
            }
        }
    }
}

/// $INSUNITS: 1 is inches, 4 is millimetres (format owner's INSUNITS page). The organiser's board is 14 in wide, the
/// panel of `features/plain` 320 mm; an inch is 25.4 mm exactly (international yard and pound agreement, 1959).
#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn the_unit_in_the_header_agrees_with_the_coordinates() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let (own, other) = (out.path().join("own"), out.path().join("other"));
    let plans = ["thread-organiser", "features/plain"];
    export_all(&plans, &own, &["--to", "dxf-cnc"]);
    export_all(
        &plans[..1],
        &other,
        &["--to", "dxf-cnc", "--set", "dxf-cnc.units=mm"],
    );
    export_all(
        &plans[1..],
        &other,
        &["--to", "dxf-cnc", "--set", "dxf-cnc.units=in"],
    );
    let seen = read(out.path());
    for (name, units, width) in [
        ("own/thread-organiser/dxf-cnc/board.dxf", 1, 14.0),
        ("own/plain/dxf-cnc/panel.dxf", 4, 320.0),
        ("other/thread-organiser/dxf-cnc/board.dxf", 4, 14.0 * 25.4),
        ("other/plain/dxf-cnc/panel.dxf", 1, 320.0 / 25.4),
    ] {
        assert_eq!(seen[name]["insunits"], units, "{name}");
        let outline = contour_box(&seen[name], "CUT_OUTSIDE");
        assert!(
            (outline[2] - width).abs() < TOLERANCE,
            "{name}: {outline:?}"
        );
    }
}

/// A profile turns both at once: inches, and the old version, which has no $INSUNITS.
#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn a_profile_for_an_old_machine() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let profile = fixture("profiles/inch-router.yaml");
    let profile = profile.to_str().expect("a plain path");
    export_all(
        &["features/plain"],
        out.path(),
        &["--to", "dxf-cnc", "--profile", profile],
    );
    let seen = read(out.path());
    let panel = &seen["plain/dxf-cnc/panel.dxf"];
    assert_eq!(panel["acadver"], "AC1009");
    assert_eq!(panel["insunits"], Value::Null);
    let outline = contour_box(panel, "CUT_OUTSIDE");
    assert!((outline[2] - 320.0 / 25.4).abs() < TOLERANCE, "{outline:?}");
}

#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn holes_of_the_cabinet_side_are_where_the_plan_has_them() {
    for drawings in [&*R2000, &*R12] {
        let side = drawings.file("glaze-cabinet/dxf-cnc/side-left.dxf");
        assert_places(circles(side, "DRILL_D5_12", 5.0), &cabinet::SIDE_PLATES);
        assert_places(circles(side, "DRILL_D5_10", 5.0), &cabinet::side_pins());
        assert_places(circles(side, "DRILL_D2-5_10", 2.5), &cabinet::SIDE_RUNNER);
        // Drilled from the outside, so drawn as seen from there.
        let back = drawings.file("glaze-cabinet/dxf-cnc/side-left.back.dxf");
        let screws = cabinet::from_behind(400.0, &cabinet::SIDE_SCREWS);
        assert_places(circles(back, "DRILL_THROUGH_D4-5", 4.5), &screws);
        assert_places(circles(back, "COUNTERSINK_90DEG_4-5", 9.0), &screws);
    }
}

#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn cups_of_the_door_are_where_the_plan_has_them() {
    for drawings in [&*R2000, &*R12] {
        let door = drawings.file("glaze-cabinet/dxf-cnc/door-left.dxf");
        // 35 from the right edge and 80 from the top.
        assert_places(circles(door, "DRILL_THROUGH_D5", 5.0), &[(362.0, 574.0)]);
        let back = drawings.file("glaze-cabinet/dxf-cnc/door-left.back.dxf");
        let cups = cabinet::from_behind(397.0, &cabinet::CUPS);
        assert_places(circles(back, "DRILL_D35_12-5", 35.0), &cups);
        let screws = cabinet::from_behind(397.0, &cabinet::CUP_SCREWS);
        assert_places(circles(back, "DRILL_D2-5_10", 2.5), &screws);
    }
}

/// Pegs every 2 1/4 across and 1 1/2 upward from 3/4, 3/4, in inches.
#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn pegs_of_the_rack_are_where_the_plan_has_them() {
    for drawings in [&*R2000, &*R12] {
        let rack = drawings.file("thread-organiser/dxf-laser/peg-rack.dxf");
        let pegs: Vec<(f64, f64)> = (0..25)
            .map(|n| (f64::from(n % 5), f64::from(n / 5)))
            .map(|(across, up)| (0.75 + 2.25 * across, 0.75 + 1.5 * up))
            .collect();
        assert_places(circles(rack, "CUT_INSIDE", 0.25), &pegs);
    }
}

fn bulges(file: &Value, layer: &str) -> Vec<f64> {
    let lines = entities(file, layer).filter(|entity| entity["type"] != "CIRCLE");
    let vertices = lines.flat_map(|line| line["vertices"].as_array().expect("vertices"));
    let bulges = vertices.map(|vertex| number(&vertex[2]));
    let mut bulges: Vec<f64> = bulges.filter(|bulge| *bulge != 0.0).collect();
    bulges.sort_by(f64::total_cmp);
    bulges
}

/// "The bulge is the tangent of one fourth the included angle for an arc segment, made negative if the arc goes
/// clockwise" (DXF Reference, VERTEX). A quarter circle has tan(22.5 deg) = 0.414213562, a half circle 1. The board's
/// arc rises 2 over 14, and the same definition gives 2 x rise / chord = 2/7 (elementary).
#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn arcs_are_bulges() {
    for drawings in [&*R2000, &*R12] {
        for (name, layer, expected) in [
            (
                "thread-organiser/dxf-laser/peg-rack.dxf",
                "CUT_OUTSIDE",
                vec![0.414_213_562_373_095; 4],
            ),
            (
                "thread-organiser/dxf-laser/board.dxf",
                "CUT_OUTSIDE",
                vec![2.0 / 7.0, 0.414_213_562_373_095, 0.414_213_562_373_095],
            ),
            ("outline/dxf-cnc/round-top.dxf", "CUT_OUTSIDE", vec![1.0]),
        ] {
            let file = drawings.file(name);
            let found = bulges(file, layer);
            assert_eq!(found.len(), expected.len(), "{name}: {found:?}");
            for (found, expected) in found.iter().zip(&expected) {
                assert!(
                    (found - expected).abs() < 1e-9,
                    "{name}: {found} is not {expected}"
                );
            }
        }
        // Two half circles close the air slot's ends; an opening runs clockwise.
        let back = drawings.file("glaze-cabinet/dxf-cnc/back.dxf");
        let back = bulges(back, "CUT_INSIDE");
        let sum: f64 = back.iter().map(|bulge| 4.0 * bulge.abs().atan()).sum();
        assert!((sum - std::f64::consts::TAU).abs() < 1e-9, "{back:?}");
    }
}
