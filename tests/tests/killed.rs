//! Two hundred runs over a library, each killed at a moment of its own: every file is whole at any time, as outside
//! readers see it, and the last run ends as if nothing had happened.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::LazyLock;
use std::time::Instant;

use fastrand::Rng;
use jigless_tests::fixtures::tree;
use jigless_tests::program::{jigless, run};
use jigless_tests::readers::read_with;

const RUNS: usize = 200;
const PLANS: usize = 12;

fn library(folder: &Path, thickness: &str) {
    for number in 0..PLANS {
        let mut parts = String::new();
        for part in 0..4 {
            let (width, diameter) = (200 + 10 * number, 4 + part);
            let hole = format!("{{hole: {{at: [60, 80], diameter: {diameter}}}}}");
            writeln!(
                parts,
                "  part-{part}: {{stock: ply, width: {width}, height: 240, features: [{hole}]}}"
            )
            .expect("a text takes more");
        }
        let text = format!(
            "jigless: 1\ntitle: Box {number}\nunits: mm\nstock: {{ply: {{thickness: {thickness}, kind: plywood}}}}\nparts:\n{parts}"
        );
        fs::create_dir_all(folder).expect("a folder");
        fs::write(folder.join(format!("box-{number:02}.yaml")), text).expect("a plan");
    }
}

fn export(place: &Path, library: &str, out: &str) -> Command {
    let mut command = jigless(place);
    command.args(["export", library, "--out", out, "--jobs", "2"]);
    command
}

/// The files of an output, but for those that were never given their names, which no reader looks for.
fn named(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut files = if folder.exists() {
        tree(folder)
    } else {
        Vec::new()
    };
    files.retain(|(path, _)| !path.split('/').any(|name| name.starts_with(".jigless")));
    files
}

/// What became of the runs.
struct Killed {
    /// How many were killed before their end.
    runs: usize,
    /// Every content that one of them left, once, with the name of a file that had it.
    contents: BTreeSet<(String, Vec<u8>)>,
    /// All files after the last run, which was not killed.
    last: Vec<(String, Vec<u8>)>,
    /// What a run into a new folder makes.
    clean: Vec<(String, Vec<u8>)>,
}

static KILLED: LazyLock<Killed> = LazyLock::new(|| {
    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    library(&place.join("one"), "12");
    library(&place.join("two"), "18");
    run(&mut export(place, "two", "clean-two")).done();
    let start = Instant::now();
    run(&mut export(place, "one", "clean-one")).done();
    let whole = start.elapsed();
    let mut contents = BTreeSet::new();
    let mut rng = Rng::with_seed(7);
    let mut runs = 0;
    for number in 0..RUNS {
        let library = if number % 2 == 0 { "one" } else { "two" };
        let mut command = export(place, library, "out");
        let mut child = command
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        std::thread::sleep(whole.mul_f64(rng.f64() * 1.1));
        child.kill().expect("a killed program");
        runs += usize::from(child.wait().expect("an end").code().is_none());
        for (path, bytes) in named(&place.join("out")) {
            let name = path.rsplit('/').next().unwrap_or_default().to_owned();
            contents.insert((name, bytes));
        }
    }
    run(&mut export(place, "one", "out")).done();
    Killed {
        runs,
        contents,
        last: tree(&place.join("out")),
        clean: named(&place.join("clean-one")),
    }
});

#[test]
fn the_run_after_a_kill_at_any_moment_ends_as_a_clean_one() {
    let runs = KILLED.runs;
    assert!(runs > RUNS / 2, "only {runs} of {RUNS} were killed");
    let names = |files: &[(String, Vec<u8>)]| -> Vec<String> {
        files.iter().map(|(name, _)| name.clone()).collect()
    };
    assert_eq!(names(&KILLED.last), names(&KILLED.clean));
    assert!(KILLED.last == KILLED.clean, "a content is another one");
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn every_file_is_whole_after_a_kill_at_any_moment() {
    let place = tempfile::tempdir().expect("a temporary folder");
    for (number, (name, bytes)) in KILLED.contents.iter().enumerate() {
        let folder = place.path().join(number.to_string());
        fs::create_dir(&folder).expect("a folder");
        fs::write(folder.join(name), bytes).expect("a written file");
    }
    let verdicts = read_with("parses.py", &[place.path().to_owned()]);
    assert_eq!(verdicts.len(), KILLED.contents.len());
    for verdict in verdicts {
        assert!(verdict["wrong"].is_null(), "{verdict}");
    }
}
