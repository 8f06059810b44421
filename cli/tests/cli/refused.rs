//! Formats that cannot do their work: each is named, the others are made, and what it wrote before stays.

use crate::{Place, formats, plan};

const PDF: &str = "pdf-template";

/// An option that can be read and that the format refuses: no page is 10 m wide.
const WRONG: [&str; 2] = ["--set", "pdf-template.overlap=9999"];

#[test]
fn options_that_a_format_refuses_delete_nothing_wherever_they_come_from() {
    let place = Place::with_jars();
    place.expect(0, &["export", "jars"]);
    let before = place.tree("out");
    assert!(before.keys().any(|path| path.contains(PDF)));
    place.file("wrong.yaml", "export: {pdf-template: {overlap: 9999}}\n");
    for wrong in [&WRONG, &["--profile", "wrong.yaml"]] {
        for to in [&[][..], &["--to", PDF], &["--to", "pdf-template,dxf-cnc"]] {
            let args = [&["export", "jars"], &wrong[..], to].concat();
            let ran = place.expect(1, &args);
            assert!(ran.err.contains("error: pdf-template: "), "{}", ran.err);
            assert!(ran.err.contains("(option-out-of-range)"), "{}", ran.err);
            assert_eq!(place.tree("out"), before, "{args:?}");
        }
    }
    assert_eq!(
        place.expect(0, &["export", "jars"]).out,
        "jars: unchanged\n"
    );
}

#[test]
fn the_other_formats_are_made_and_the_refused_one_is_named() {
    let place = Place::with_jars();
    let ran = place.expect(1, &[&["export", "jars"][..], &WRONG].concat());
    assert!(
        ran.results().ends_with(", not pdf-template\n"),
        "{}",
        ran.out
    );
    let made = |out: &str| -> Vec<&str> {
        let exists = |id: &&str| place.path(&format!("{out}/jars/{id}")).is_dir();
        formats().into_iter().filter(exists).collect()
    };
    let others = made("out");
    assert!(others.len() > 2 && !others.contains(&PDF), "{others:?}");
    // The next run makes it; the others are as they should be.
    place.expect(0, &["export", "jars"]);
    place.expect(0, &["export", "jars", "--out", "clean"]);
    assert_eq!(place.tree("out"), place.tree("clean"));
    // Of several plans each is made as far as it can be.
    place.file("lib/a/plan.yaml", &plan("A", &["door"]));
    place.file("lib/b/plan.yaml", &plan("B", &["door"]));
    let ran = place.expect(1, &[&["export", "lib"][..], &WRONG].concat());
    assert!(
        ran.results().ends_with("0 plans exported, 2 in part\n"),
        "{}",
        ran.out
    );
}

#[test]
fn a_format_that_was_asked_for_and_refuses_the_plan_does_not_stop_the_others() {
    let place = Place::empty();
    let vinyl = plan("Sign", &["a"]).replace("kind: plywood", "kind: pvc");
    place.file("sign/plan.yaml", &vinyl);
    let ran = place.expect(1, &["export", "sign", "--to", "dxf-laser,pdf-template"]);
    assert!(ran.err.contains("sign/plan.yaml:"), "{}", ran.err);
    assert!(ran.results().ends_with(", not dxf-laser\n"), "{}", ran.out);
    assert!(place.path("out/sign/pdf-template").is_dir());
    assert!(!place.path("out/sign/dxf-laser").exists());
}

#[test]
fn an_option_that_spoils_one_plan_only_keeps_what_was_made_of_it() {
    let place = Place::with_jars();
    place.expect(0, &["export", "jars"]);
    let before = place.tree("out");
    // No part fits so small a bed: nobody asked for the format, and the plan is the same.
    place.file(
        "bed.yaml",
        "machine: {tools: [{diameter: 6, pass: 4}]}\nexport: {dxf-cnc: {arrange: bed, bed: [50, 90]}}\n",
    );
    let ran = place.expect(0, &["export", "jars", "--profile", "bed.yaml"]);
    assert!(ran.err.contains("dxf-cnc is left out"), "{}", ran.err);
    assert_eq!(place.tree("out"), before);
}

#[test]
fn check_tests_options_too() {
    let place = Place::with_jars();
    place.file("wrong.yaml", "export: {pdf-template: {overlap: 9999}}\n");
    for wrong in [&WRONG, &["--profile", "wrong.yaml"]] {
        let ran = place.expect(1, &[&["check", "jars"], &wrong[..]].concat());
        assert!(ran.err.contains("error: pdf-template: "), "{}", ran.err);
    }
    place.expect(0, &["check", "jars", "--set", "pdf-template.overlap=12"]);
    // A plan is not at fault when a format that nobody asked for cannot express it.
    place.file(
        "bed.yaml",
        "machine: {tools: [{diameter: 6, pass: 4}]}\nexport: {dxf-cnc: {arrange: bed, bed: [50, 90]}}\n",
    );
    place.expect(0, &["check", "jars", "--profile", "bed.yaml"]);
}
