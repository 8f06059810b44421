//! The 3-D model as the Khronos validator, trimesh and pygltflib see it.

use std::path::PathBuf;

use jigless_core::export::{ExportInput, Stamp};
use jigless_model::mark::Marks;
use jigless_model::plan::Plan;
use jigless_model::whole::{Box3, Triple};
use jigless_model::workpiece::Workpiece;
use jigless_tests::any_cabinet::some_cabinets;
use jigless_tests::fixtures::sound_plans;
use jigless_tests::plans::compiled;
use jigless_tests::readers::{read_with, validate_models};
use serde_json::{Value, json};
use tempfile::TempDir;

/// 32-bit floats of metres: a few nanometres at the size of a cabinet, and what turning loses.
const TOLERANCE: f64 = 1e-6;

/// Models of every fixture whose parts have places and of some random cabinets.
fn models() -> (TempDir, Vec<(PathBuf, Plan, Vec<Workpiece>)>) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut plans: Vec<(Plan, Vec<Workpiece>)> =
        sound_plans().iter().map(|name| compiled(name)).collect();
    for cabinet in some_cabinets(20) {
        let text = cabinet.plan();
        let read = jigless_core::compile(
            "plan.yaml",
            text.as_bytes(),
            &jigless_core::load::NoIncludes,
        );
        plans.extend(read.result);
    }
    let exporter = jigless_exporters::exporter("glb").expect("the exporter");
    let configured = exporter.configure(&[]).expect("its defaults");
    let stamp = Stamp::new("test", None);
    let mut models = Vec::new();
    for (plan, workpieces) in plans {
        let made = configured
            .export(&ExportInput::new(&plan, &workpieces, &stamp))
            .expect("a model");
        assert_eq!(made.is_empty(), !configured.suits(&plan), "{}", plan.title);
        for artifact in made {
            let path = folder.path().join(format!("{}.glb", models.len()));
            std::fs::write(&path, artifact.bytes).expect("a written file");
            models.push((path, plan.clone(), workpieces.clone()));
        }
    }
    assert!(models.len() > 10);
    (folder, models)
}

#[test]
#[cfg_attr(
    not(has_model_readers),
    ignore = "needs node, gltf-validator and the Python readers: tests/run"
)]
fn models_are_valid_and_read_as_they_are_meant() {
    let (_folder, models) = models();
    let paths: Vec<PathBuf> = models.iter().map(|(path, ..)| path.clone()).collect();
    for report in validate_models(&paths) {
        assert_eq!(
            (&report["errors"], &report["warnings"]),
            (&json!(0), &json!(0)),
            "{report:#}"
        );
    }
    let seen = read_with("check_glb.py", &paths);
    assert_eq!(seen.len(), models.len());
    for ((_, plan, _), seen) in models.iter().zip(&seen) {
        agrees(plan, seen);
    }
}

fn triple(value: &Value) -> Triple {
    [0, 1, 2].map(|i| value[i].as_f64().expect("a number"))
}

/// Each piece is a node by its mark that fills the box of its place in the plan; together they fill the plan's.
fn agrees(plan: &Plan, seen: &Value) {
    let marks = Marks::of(plan);
    assert_eq!(seen["watertight"], json!(true), "{}", plan.title);
    let same = |what: &str, seen: &Value, wanted: Box3| {
        let ends = [
            (triple(&seen[0]), wanted.min),
            (triple(&seen[1]), wanted.max),
        ];
        for (own, meant) in ends {
            for axis in 0..3 {
                assert!(
                    (own[axis] - meant[axis] / 1000.0).abs() < TOLERANCE,
                    "{what}: {seen} is not {wanted:?}"
                );
            }
        }
    };
    let mut whole: Option<Box3> = None;
    let mut count = 0;
    for part in &plan.parts {
        let bodies = part.bodies();
        for (number, body) in bodies.iter().enumerate() {
            let mark = marks.mark(&part.id);
            let name = if bodies.len() == 1 {
                mark.to_owned()
            } else {
                format!("{mark}-{}", number + 1)
            };
            same(&name, &seen["nodes"][&name], body.bounds());
            assert_eq!(seen["extras"][&name]["part"], json!(part.id));
            let step = plan
                .order
                .iter()
                .position(|step| step.part == part.id)
                .map(|n| n + 1);
            assert_eq!(seen["extras"][&name]["step"], json!(step), "{name}");
            whole = Some(whole.map_or(body.bounds(), |all| all.union(body.bounds())));
            count += 1;
        }
    }
    assert_eq!(seen["nodes"].as_object().expect("nodes").len(), count);
    same(&plan.title, &seen["bounds"], whole.expect("a piece"));
}
