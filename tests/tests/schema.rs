//! The JSON Schema of plans, by an outside validator: every sound plan holds against it, and faulty ones of the kinds that
//! a schema can see do not.

use std::fs;
use std::path::PathBuf;

use jigless_tests::expectation::expectations;
use jigless_tests::fixtures::{faulty_plans, files_of, fixture, sound_plans, workspace};
use jigless_tests::program::{jigless, run};
use jigless_tests::readers::read_with;
use serde_json::Value;
use tempfile::TempDir;

/// Faults that show in keys, kinds and single values, without working out a length or looking at a second value.
const SEEN_BY_A_SCHEMA: &[&str] = &[
    "missing-key",
    "no-reason",
    "too-many-keys",
    "two-parallel-edges",
    "unknown-check",
    "unknown-feature",
    "unknown-key",
    "unknown-word",
    "wrong-kind",
];

/// Faulty plans of those kinds that the schema does not see, because the tables of keys declare each key by itself and not
/// that one of several must stand, or how many edges a distance may be measured from.
const HIDDEN: &[&str] = &[
    "corner-no-shape",
    "corner-two-shapes",
    "groove-from-two-edges",
    "mark-of-nothing",
    "only-neither",
    "recess-of-two-shapes",
    "recess-without-a-shape",
    "spread-of-two-kinds",
    "tray-sizes-and-count",
    "two-mouths",
    "weight-twice",
];

fn written_schema() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("plan.schema.json");
    let printed = run(jigless(&workspace()).arg("schema")).done();
    fs::write(&file, printed.stdout).expect("a written file");
    (folder, file)
}

/// What the validator says of each file.
fn validate(files: &[PathBuf]) -> Vec<Value> {
    let (_folder, schema) = written_schema();
    let arguments: Vec<PathBuf> = std::iter::once(schema)
        .chain(files.iter().cloned())
        .collect();
    let said = read_with("validate_json.py", &arguments);
    assert_eq!(said.len(), files.len());
    said
}

fn yaml_below(folder: &str) -> Vec<PathBuf> {
    let folder = fixture(folder);
    files_of(&folder, "yaml")
        .into_iter()
        .map(|(name, _)| folder.join(name))
        .collect()
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn sound_plans_hold_against_the_schema() {
    let mut files: Vec<PathBuf> = sound_plans()
        .iter()
        .flat_map(|plan| yaml_below(plan))
        .collect();
    // What a check finds is beyond a schema.
    files.extend(yaml_below("faulty/checks"));
    files.push(workspace().join("cli/src/starter.yaml"));
    let said = validate(&files);
    for (file, said) in files.iter().zip(&said) {
        assert_eq!(said["faults"], serde_json::json!([]), "{}", file.display());
    }
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn faulty_plans_that_a_schema_can_see_are_refused_by_it() {
    let mut files = Vec::new();
    for case in faulty_plans() {
        let file = fixture("faulty").join(&case).join("plan.yaml");
        let Ok(text) = fs::read_to_string(&file) else {
            continue;
        };
        let seen = expectations(&text)
            .iter()
            .any(|e| SEEN_BY_A_SCHEMA.contains(&e.code.as_str()));
        if seen {
            files.push(file);
        }
    }
    assert!(files.len() > 20, "only {} plans", files.len());
    let said = validate(&files);
    let missed: Vec<String> = files
        .iter()
        .zip(&said)
        .filter(|(_, said)| said["faults"] == serde_json::json!([]))
        .filter_map(|(file, _)| Some(file.parent()?.file_name()?.to_string_lossy().into_owned()))
        .collect();
    assert_eq!(missed, HIDDEN);
}

/// What `jigless start` writes names its schema in both ways that editors look for, and the schema is beside it.
#[test]
fn a_new_plan_names_its_schema() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    run(jigless(folder.path()).args(["start", "shelf"])).done();
    let plan = fs::read_to_string(folder.path().join("shelf/plan.yaml")).expect("a plan");
    let lines: Vec<&str> = plan.lines().take(2).collect();
    assert_eq!(
        lines,
        [
            "# yaml-language-server: $schema=plan.schema.json",
            "# $schema: plan.schema.json"
        ]
    );
    let beside =
        fs::read_to_string(folder.path().join("shelf/plan.schema.json")).expect("a schema");
    let printed = run(jigless(folder.path()).arg("schema")).done();
    assert_eq!(beside, printed.stdout);
}
