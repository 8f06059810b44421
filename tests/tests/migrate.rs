//! `jigless migrate`: old plans become what stands beside them, and nothing else changes or is ever touched.

use std::fs;
use std::path::{Path, PathBuf};

use jigless_tests::fixtures::{fixture, sound_plans, tree};
use jigless_tests::program::{Run, jigless, run};
use tempfile::TempDir;

/// Folders below `fixtures/migrate`: each has an old plan in `before`, and what becomes of it in `after`.
fn cases() -> Vec<PathBuf> {
    let folder = fixture("migrate");
    let entries = fs::read_dir(&folder).expect("fixtures/migrate can be read");
    let mut cases: Vec<PathBuf> = entries
        .map(|entry| entry.expect("a readable entry").path())
        .collect();
    cases.sort();
    assert!(cases.len() >= 3);
    cases
}

/// A copy of a folder that may be changed, with what `change` makes of each file.
fn copy(folder: &Path, change: impl Fn(Vec<u8>) -> Vec<u8>) -> TempDir {
    let to = tempfile::tempdir().expect("a temporary folder");
    for (name, bytes) in tree(folder) {
        let path = to.path().join(&name);
        fs::create_dir_all(path.parent().expect("it has a folder")).expect("a made folder");
        fs::write(path, change(bytes)).expect("a written file");
    }
    to
}

/// The files of a folder as texts.
fn texts(folder: &Path) -> Vec<(String, String)> {
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    let files = tree(folder).into_iter();
    files.map(|(name, bytes)| (name, text(bytes))).collect()
}

fn migrate(folder: &Path, arguments: &[&str]) -> Run {
    run(jigless(folder).arg("migrate").args(arguments))
}

#[test]
fn old_plans_become_what_stands_beside_them() {
    for case in cases() {
        let folder = copy(&case.join("before"), |bytes| bytes);
        migrate(folder.path(), &["plan.yaml"]).done();
        assert_eq!(
            texts(folder.path()),
            texts(&case.join("after")),
            "{}",
            case.display()
        );
        run(jigless(folder.path()).args(["check", "plan.yaml"])).done();
    }
}

#[test]
fn migrating_twice_changes_nothing() {
    for case in cases() {
        let folder = copy(&case.join("after"), |bytes| bytes);
        let file = folder.path().join("plan.yaml");
        let time = |file: &Path| {
            fs::metadata(file)
                .and_then(|about| about.modified())
                .expect("a time")
        };
        let before = time(&file);
        let said = migrate(folder.path(), &["plan.yaml"]).done().stdout;
        assert_eq!(said, "plan.yaml: no old names\n");
        assert_eq!(time(&file), before, "it was not even written again");
        assert_eq!(texts(folder.path()), texts(&case.join("after")));
    }
}

#[test]
fn no_plan_of_ours_has_an_old_name() {
    for plan in sound_plans() {
        let said = migrate(&fixture(&plan), &["--dry-run", "plan.yaml"])
            .done()
            .stdout;
        assert_eq!(said, "plan.yaml: no old names\n", "{plan}");
    }
}

/// Line ends of both kinds, a mark of the encoding and a missing last line end stay.
#[test]
fn line_ends_stay() {
    let dos = |bytes: Vec<u8>| {
        let text = String::from_utf8(bytes).expect("UTF-8");
        format!("\u{feff}{}", text.trim_end().replace('\n', "\r\n")).into_bytes()
    };
    let case = fixture("migrate/all-names");
    let folder = copy(&case.join("before"), dos);
    migrate(folder.path(), &["plan.yaml"]).done();
    assert_eq!(
        texts(folder.path()),
        texts(copy(&case.join("after"), dos).path())
    );
}

/// The trial run writes nothing, and says each line as it is and as it would be.
#[test]
fn a_trial_run_says_what_would_change() {
    let case = fixture("migrate/glazing-trolley");
    let folder = copy(&case.join("before"), |bytes| bytes);
    let said = migrate(folder.path(), &["--dry-run", "."]).done().stdout;
    assert_eq!(
        said.lines().collect::<Vec<_>>(),
        [
            "./plan.yaml:23 is             on: base",
            "./plan.yaml:23 would be       stands_on: base",
        ]
    );
    assert_eq!(texts(folder.path()), texts(&case.join("before")));
}

/// A plan with another error is reported and left alone, together with what it includes.
#[test]
fn a_plan_that_cannot_be_read_is_left_alone() {
    let case = fixture("migrate/all-names");
    let spoil = |bytes: Vec<u8>| {
        let text = String::from_utf8(bytes).expect("UTF-8");
        text.replace("depth: 300", "depth: 300 deg").into_bytes()
    };
    let folder = copy(&case.join("before"), spoil);
    let run = migrate(folder.path(), &["plan.yaml"]);
    assert_eq!(run.code, Some(1));
    assert!(run.stderr.contains("an angle"), "{}", run.stderr);
    assert!(
        run.stderr.contains("plan.yaml is left as it is"),
        "{}",
        run.stderr
    );
    assert_eq!(
        texts(folder.path()),
        texts(copy(&case.join("before"), spoil).path())
    );
}

/// `takes` that one alias stands for means two things; only the author can write that out.
#[test]
fn an_alias_with_two_meanings_is_refused() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let plan = "jigless: 1\ntitle: An alias\nunits: mm\nstock: {board: {thickness: 18, kind: plywood}}\nparts:\n  panel:\n    stock: board\n    width: 400\n    height: 300\n    features:\n      - hole: &it {at: [50, 50], diameter: 5, takes: panel}\n      - groove: *it\n";
    fs::write(folder.path().join("plan.yaml"), plan).expect("a written file");
    let run = migrate(folder.path(), &["plan.yaml"]);
    assert_eq!(run.code, Some(1));
    let now = fs::read_to_string(folder.path().join("plan.yaml")).expect("a plan");
    assert_eq!(now, plan);
}

#[cfg(unix)]
#[test]
fn nothing_is_written_through_a_link() {
    use std::os::unix::fs::symlink;
    let case = fixture("migrate/all-names/before");
    for linked in ["plan.yaml", "more", "more/side.yaml"] {
        let folder = copy(&case, |bytes| bytes);
        let (link, kept) = (folder.path().join(linked), folder.path().join("kept"));
        fs::rename(&link, &kept).expect("a renamed file");
        symlink(&kept, &link).expect("a link");
        let before = texts(folder.path());
        let run = migrate(folder.path(), &["plan.yaml"]);
        assert_eq!(run.code, Some(3), "{linked}: {}", run.stderr);
        assert!(run.stderr.contains("it is a link"), "{}", run.stderr);
        assert_eq!(texts(folder.path()), before, "{linked}");
    }
}
