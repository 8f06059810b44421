//! The same plan gives the same bytes: run after run, on one thread and on two, from any folder.

use jigless_core::export::Stage;
use std::path::Path;

use jigless_tests::fixtures::{fixture, tree, workspace};
use jigless_tests::program::{export_all, jigless, run};

const PLANS: [&str; 4] = [
    "glaze-cabinet",
    "thread-organiser",
    "features/hole",
    "features/letters",
];

type Tree = Vec<(String, Vec<u8>)>;

/// All files of some plans, exported with variables of the environment and further arguments.
fn export(variables: &[(&str, &str)], arguments: &[&str]) -> Tree {
    let out = tempfile::tempdir().expect("a temporary folder");
    let mut command = jigless(&workspace());
    command.arg("export").args(PLANS.map(fixture));
    command.arg("--out").arg(out.path()).args(arguments);
    command.envs(variables.iter().copied());
    run(&mut command).done();
    tree(out.path())
}

#[track_caller]
fn assert_same(one: &Tree, other: &Tree) {
    let names = |tree: &Tree| {
        tree.iter()
            .map(|(name, _)| name.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(names(one), names(other));
    for ((name, a), (_, b)) in one.iter().zip(other) {
        assert!(a == b, "{name} differs");
    }
}

#[test]
fn runs_threads_and_languages_make_no_difference() {
    let first = export(&[], &[]);
    assert!(first.len() > 100, "only {} files", first.len());
    assert_same(&first, &export(&[], &[]));
    assert_same(&first, &export(&[], &["--jobs", "1"]));
    assert_same(&first, &export(&[], &["--jobs", "2"]));
    let elsewhere = [
        ("TZ", "Asia/Kathmandu"),
        ("LANG", "de_DE.UTF-8"),
        ("LC_ALL", "de_DE.UTF-8"),
    ];
    assert_same(&first, &export(&elsewhere, &[]));
}

#[test]
fn exporting_again_over_the_same_output_changes_nothing() {
    let out = tempfile::tempdir().expect("a temporary folder");
    export_all(&PLANS, out.path(), &[]);
    let first = tree(out.path());
    export_all(&PLANS, out.path(), &[]);
    assert_same(&first, &tree(out.path()));
}

#[test]
fn one_part_alone_has_the_same_bytes_as_among_all() {
    let all = export(&[], &[]);
    let out = tempfile::tempdir().expect("a temporary folder");
    let parts = ["--part", "shelf", "--part", "door-right"];
    export_all(&["glaze-cabinet"], out.path(), &parts);
    let some = tree(&out.path().join("glaze-cabinet"));
    let some: Vec<_> = some
        .iter()
        .filter(|(name, _)| {
            // Lists are of the whole plan, so they hold less when parts are left out.
            let exporter = name.split('/').next().and_then(jigless_exporters::exporter);
            exporter.is_some_and(|exporter| exporter.stage() == Stage::Part)
        })
        .collect();
    assert!(!some.is_empty());
    for (name, bytes) in some {
        let name = format!("glaze-cabinet/{name}");
        if let Some((_, among_all)) = all.iter().find(|(other, _)| *other == name) {
            assert!(bytes == among_all, "{name} differs");
        } else {
            panic!("{name} is not made when all parts are");
        }
    }
}

/// The convention of reproducible-builds.org: seconds since 1970-01-01 UTC. 1767225600 is 2026-01-01T00:00:00Z.
#[test]
fn source_date_epoch_is_printed_and_nothing_else_is_a_date() {
    let undated = export(&[], &[]);
    let dated = |seconds: &str| export(&[("SOURCE_DATE_EPOCH", seconds)], &[]);
    let first = dated("1767225600");
    assert_same(&first, &dated("1767225600"));
    let later = dated("1769904000");
    let differing = |one: &Tree, other: &Tree| {
        let pairs = one.iter().zip(other);
        pairs
            .filter(|((_, a), (_, b))| a != b)
            .map(|((name, _), _)| name.clone())
            .collect::<Vec<_>>()
    };
    assert!(
        !differing(&undated, &first).is_empty(),
        "the date is printed nowhere"
    );
    assert!(
        !differing(&first, &later).is_empty(),
        "the date does not follow"
    );
    for name in differing(&undated, &first) {
        let file = Path::new(&name)
            .extension()
            .and_then(|e| e.to_str())
            .unwrap_or_default();
        assert!(["pdf", "json", "svg", "dxf"].contains(&file), "{name}");
    }
    assert!(
        undated
            .iter()
            .all(|(_, bytes)| !contains(bytes, b"2026-01-01"))
    );
}

fn contains(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}
