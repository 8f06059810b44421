//! The two of a handed pair are mirror images of each other in every DXF file, as `ezdxf` sees them.

use std::collections::BTreeMap;
use std::path::PathBuf;

use jigless_tests::program::export_all;
use jigless_tests::readers::read_with;
use serde_json::Value;

/// Name of the plan, of the two without their handed word, and their width in millimetres.
const PAIRS: [(&str, &str, f64); 4] = [
    ("glaze-cabinet", "side", 400.0),
    ("glaze-cabinet", "door", 397.0),
    ("glaze-cabinet", "drawer-side", 350.0),
    ("handed-pair", "bracket", 200.0),
];

/// Layers that hold texts or follow how texts fit in; letters that are engraved are strokes on the layer of pencil marks,
/// and read the same way on both.
const NOT_GEOMETRY: [&str; 3] = ["NOTES", "HAND_WORK", "MARK"];

/// Letters of a mark are single strokes no larger than this, in millimetres, and stay readable on both hands.
const LETTER: f64 = 10.0;

/// Whether an entity is a stroke of a letter.
fn is_letter(entity: &Value) -> bool {
    let Some(vertices) = entity["vertices"].as_array() else {
        return false;
    };
    let extent = |axis: usize| {
        let along = vertices.iter().map(|vertex| number(&vertex[axis]));
        along.clone().fold(f64::MIN, f64::max) - along.fold(f64::MAX, f64::min)
    };
    entity["layer"] == "MARK" && extent(0) < LETTER && extent(1) < LETTER
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// The longer side of the box around the vertices of a line, in the file's unit.
fn size(entity: &Value) -> f64 {
    let Some(vertices) = entity["vertices"].as_array() else {
        return f64::INFINITY;
    };
    let side = |axis: usize| {
        let places = vertices.iter().map(|vertex| number(&vertex[axis]));
        let (low, high) = places.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
        high - low
    };
    side(0).max(side(1))
}

/// What is worked, by layer, as points and radii in whole ten-thousandths of a millimetre, in order, so that two
/// drawings of one thing compare equal. `flip` mirrors x about the middle of a width.
fn work(file: &Value, flip: Option<f64>) -> BTreeMap<String, Vec<[i64; 4]>> {
    let x = |x: f64| flip.map_or(x, |width| width - x);
    let round = |value: f64| (value * 1e4).round() as i64;
    let mut layers: BTreeMap<String, Vec<[i64; 4]>> = BTreeMap::new();
    for entity in file["entities"].as_array().expect("a list") {
        let layer = entity["layer"].as_str().expect("a name");
        if NOT_GEOMETRY.contains(&layer) || entity["type"] == "TEXT" || is_letter(entity) {
            continue;
        }
        // Engraved letters are no larger than this, and stay readable on a mirror image.
        if layer == "MARK" && size(entity) < 10.0 {
            continue;
        }
        let places = layers.entry(layer.to_owned()).or_default();
        if entity["type"] == "CIRCLE" {
            let centre = &entity["centre"];
            let radius = number(&entity["radius"]);
            places.push([
                round(x(number(&centre[0]))),
                round(number(&centre[1])),
                round(radius),
                1,
            ]);
        } else {
            for vertex in entity["vertices"].as_array().expect("vertices") {
                places.push([
                    round(x(number(&vertex[0]))),
                    round(number(&vertex[1])),
                    0,
                    0,
                ]);
            }
            // An arc stays as it is bent: each bulge turns over, and the way round with it, so only its size counts.
            let bulges = entity["vertices"].as_array().expect("vertices").iter();
            for bulge in bulges
                .map(|vertex| number(&vertex[2]))
                .filter(|bulge| *bulge != 0.0)
            {
                places.push([0, 0, round(bulge.abs()), 2]);
            }
        }
    }
    for places in layers.values_mut() {
        places.sort_unstable();
    }
    layers
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn a_handed_pair_is_two_mirror_images() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let formats = ["--to", "dxf-cnc", "--to", "dxf-laser"];
    export_all(
        &["glaze-cabinet", "features/handed-pair"],
        out.path(),
        &formats,
    );
    for (plan, part, width) in PAIRS {
        for exporter in ["dxf-cnc", "dxf-laser"] {
            let mut handed = false;
            for face in ["", ".back"] {
                let path = |hand: &str| -> PathBuf {
                    out.path()
                        .join(format!("{plan}/{exporter}/{part}-{hand}{face}.dxf"))
                };
                let (left, right) = (path("left"), path("right"));
                assert_eq!(
                    left.exists(),
                    right.exists(),
                    "{plan}/{exporter}/{part}{face}"
                );
                if !left.exists() {
                    assert_eq!(face, ".back", "{} is not there", left.display());
                    continue;
                }
                let seen = read_with("check_dxf.py", &[left, right]);
                let mirrored = work(&seen[0], Some(width));
                let other = work(&seen[1], None);
                assert_eq!(mirrored, other, "{plan}/{exporter}/{part}{face}");
                let count: usize = other.values().map(Vec::len).sum();
                assert!(
                    count >= 4,
                    "{plan}/{exporter}/{part}{face} holds next to nothing"
                );
                handed |= work(&seen[0], None) != other;
            }
            // A part without a hand would prove nothing; for a laser only what goes through is left of it.
            assert!(
                handed || exporter == "dxf-laser",
                "{plan}: {part} has no hand"
            );
        }
    }
}
