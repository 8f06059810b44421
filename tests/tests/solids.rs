//! Solids of parts against `trimesh`, and against arithmetic on the plan's own contours.

use std::fs;

use jigless_core::load::NoIncludes;
use jigless_core::operation::{ContourSide, Depth, Mouth, Work};
use jigless_core::workpiece::Workpiece;
use jigless_model::geom::Path;
use jigless_solid::{CHORD_ERROR, Solid, solid};
use jigless_tests::any_cabinet::some_cabinets;
use jigless_tests::fixtures::sound_plans;
use jigless_tests::plans::compiled;
use jigless_tests::readers::read_with;
use serde_json::json;

/// The workpieces of every plan without a fault, and of random cabinets.
fn workpieces(random: usize) -> Vec<(String, Workpiece)> {
    let mut all = Vec::new();
    for name in sound_plans() {
        let (_, workpieces) = compiled(&name);
        all.extend(
            workpieces
                .into_iter()
                .map(|w| (format!("{name} {}", w.part.id), w)),
        );
    }
    for (number, cabinet) in some_cabinets(random).into_iter().enumerate() {
        let plan = cabinet.plan();
        let compiled = jigless_core::compile("plan.yaml", plan.as_bytes(), &NoIncludes);
        let Some((_, workpieces)) = compiled.result else {
            continue;
        };
        all.extend(
            workpieces
                .into_iter()
                .map(|w| (format!("{number} {}", w.part.id), w)),
        );
    }
    all
}

/// What the parts of a cabinet have in common is measured once.
fn solids(random: usize) -> Vec<(String, Workpiece, Solid)> {
    let made = workpieces(random).into_iter();
    made.map(|(name, workpiece)| {
        let solid = solid(&workpiece);
        (name, workpiece, solid)
    })
    .collect()
}

#[test]
fn every_solid_is_closed() {
    for (name, _, solid) in solids(30) {
        assert!(solid.mesh.edges().is_some(), "{name} is open");
    }
}

/// Work whose volume elementary arithmetic gives: boards with straight contours, milled areas that overlap nothing, and
/// nothing else.
fn flat_volume(workpiece: &Workpiece) -> Option<f64> {
    let straight = |path: &Path| path.vertices.iter().all(|vertex| vertex.bulge == 0.0);
    let mut volume = workpiece.region().area() * workpiece.part.thickness();
    let mut areas: Vec<&Path> = Vec::new();
    for operation in &workpiece.operations {
        match &operation.work {
            Work::CutContour(cut) if straight(&cut.path) => {}
            Work::Mark(_) => {}
            Work::MillArea(area) if straight(&area.outline) => {
                let here = area.outline.bounds()?;
                let alone = areas
                    .iter()
                    .all(|other| other.bounds().is_some_and(|b| !b.overlaps(here, 0.0)));
                let inner = workpiece.contours(ContourSide::Inner).next().is_none();
                let square = workpiece.outline().vertices.len() == 4;
                if !alone || !inner || !square {
                    return None;
                }
                let board = workpiece.part.bounds();
                let common = board.intersection(here)?;
                if (common.width() * common.height() - area.outline.area()).abs() > 1e-6 {
                    return None;
                }
                areas.push(&area.outline);
                volume -= area.outline.area() * area.depth;
            }
            _ => return None,
        }
    }
    Some(volume)
}

#[test]
fn flat_parts_have_the_volume_of_arithmetic() {
    let mut seen = 0;
    for (name, workpiece, solid) in solids(30) {
        let Some(wanted) = flat_volume(&workpiece) else {
            continue;
        };
        seen += 1;
        let volume = solid.mesh.measures().volume;
        assert!(
            (volume / wanted - 1.0).abs() < 1e-6,
            "{name}: {volume}, not {wanted}"
        );
    }
    assert!(seen > 50, "{seen}");
}

/// Holes square to a face that overlap nothing: volume by arithmetic on true circles. What chords leave lies between
/// nothing and a ring as wide as the chord error.
#[test]
fn drilled_parts_are_off_by_the_chord_error_at_most() {
    let mut seen = 0;
    for (name, workpiece, solid) in solids(0) {
        let thickness = workpiece.part.thickness();
        let mut holes = workpiece.clone();
        holes
            .operations
            .retain(|op| !matches!(op.work, Work::Drill(_)));
        let Some(mut wanted) = flat_volume(&holes) else {
            continue;
        };
        let (mut room, mut plain) = (0.0, true);
        for operation in &workpiece.operations {
            let Work::Drill(drill) = &operation.work else {
                continue;
            };
            let depth = match drill.depth {
                Depth::Through => thickness,
                Depth::Blind(depth) => depth,
            };
            let (radius, around) = (drill.diameter / 2.0, drill.diameter * std::f64::consts::PI);
            let mut taken = std::f64::consts::PI * radius * radius * depth;
            room += around * depth * CHORD_ERROR;
            match drill.mouth {
                None => {}
                Some(Mouth::Countersink { diameter, .. }) => {
                    // A frustum less the cylinder in it.
                    let wide = diameter / 2.0;
                    let cone = drill.mouth.map_or(0.0, |mouth| mouth.depth(drill.diameter));
                    plain &= cone < depth;
                    taken += std::f64::consts::PI * cone / 3.0
                        * (wide * wide + wide * radius - 2.0 * radius * radius);
                    room += std::f64::consts::PI * diameter * cone * CHORD_ERROR;
                }
                Some(Mouth::Counterbore { diameter, depth }) => {
                    taken += std::f64::consts::PI
                        * (diameter * diameter / 4.0 - radius * radius)
                        * depth;
                    room += std::f64::consts::PI * diameter * depth * CHORD_ERROR;
                }
            }
            wanted -= taken;
            let around = jigless_model::geom::Bounds::around(drill.centre, drill.diameter);
            plain &= workpiece.part.bounds().contains_box(around, 0.0);
            plain &= !workpiece.operations.iter().any(|op| match &op.work {
                Work::MillArea(area) => area
                    .outline
                    .bounds()
                    .is_some_and(|b| b.overlaps(around, 0.0)),
                _ => false,
            });
        }
        if !plain || room == 0.0 {
            continue;
        }
        seen += 1;
        let over = solid.mesh.measures().volume - wanted;
        assert!((-1e-3..room).contains(&over), "{name}: {over} of {room}");
    }
    assert!(seen > 20, "{seen}");
}

/// What is left out or drawn simpler is known: of the demo plans nothing but the pockets of the trolley's rack, which run
/// through the tool holes beside them.
#[test]
fn nothing_of_the_demo_plans_is_simplified() {
    for name in ["glaze-cabinet", "glazing-trolley", "thread-organiser"] {
        for workpiece in compiled(name).1 {
            let simplified = solid(&workpiece).simplified;
            assert_eq!(simplified, [""; 0], "{name} {}", workpiece.part.id);
        }
    }
}

/// Volume, area, centre of mass and whether the body is closed, as `trimesh` has them: for all fixtures and 300 random
/// cabinets.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn trimesh_measures_what_we_do() {
    let solids = solids(300);
    let mut lines = String::new();
    for (name, _, solid) in &solids {
        let mut triangles = Vec::new();
        for facet in &solid.mesh.facets {
            let of_facet = solid.mesh.triangles(facet);
            triangles.extend(of_facet.unwrap_or_else(|| panic!("{name}: no triangles")));
        }
        let body = json!({"name": name, "corners": solid.mesh.corners, "triangles": triangles});
        lines.push_str(&body.to_string());
        lines.push('\n');
    }
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("solids.jsonl");
    fs::write(&file, lines).expect("a written file");
    let seen = read_with("check_solids.py", &[file]);
    assert_eq!(seen.len(), solids.len());
    for ((name, _, solid), seen) in solids.iter().zip(&seen) {
        assert_eq!(seen["name"], *name);
        assert_eq!(
            (&seen["watertight"], &seen["winding"]),
            (&json!(true), &json!(true)),
            "{name}"
        );
        let measures = solid.mesh.measures();
        let close = |own: f64, theirs: &serde_json::Value, scale: f64| {
            let theirs = theirs.as_f64().expect("a number");
            assert!(
                (own - theirs).abs() <= 1e-6 * scale,
                "{name}: {own}, not {theirs}"
            );
        };
        close(measures.volume, &seen["volume"], measures.volume);
        close(measures.area, &seen["area"], measures.area);
        let size = measures.area.sqrt();
        for axis in 0..3 {
            close(measures.centre[axis], &seen["centre"][axis], size);
        }
    }
}
