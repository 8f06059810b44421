//! Two hundred runs over a library, each killed at a moment of its own: every file is whole at any time, as outside
//! readers see it, and the last run ends as if nothing had happened.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use fastrand::Rng;
use jigless_tests::fixtures::tree;
use jigless_tests::program::{jigless, run};
use jigless_tests::readers::{python, read_with};

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

#[test]
fn every_file_is_whole_after_a_kill_at_any_moment() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let place = place.path();
    library(&place.join("one"), "12");
    library(&place.join("two"), "18");
    run(&mut export(place, "two", "clean-two")).done();
    let start = Instant::now();
    run(&mut export(place, "one", "clean-one")).done();
    let whole = start.elapsed();
    let clean = named(&place.join("clean-one"));

    // Each content once, under the name of one of the files that had it.
    let mut seen: BTreeSet<(String, Vec<u8>)> = BTreeSet::new();
    let mut rng = Rng::with_seed(7);
    let mut killed = 0;
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
        killed += usize::from(child.wait().expect("an end").code().is_none());
        for (path, bytes) in named(&place.join("out")) {
            let name = path.rsplit('/').next().unwrap_or_default().to_owned();
            seen.insert((name, bytes));
        }
    }
    assert!(
        killed > RUNS / 2,
        "only {killed} of {RUNS} runs were killed before their end"
    );
    run(&mut export(place, "one", "out")).done();
    assert_eq!(
        tree(&place.join("out")).len(),
        clean.len(),
        "something is left over"
    );
    assert!(
        named(&place.join("out")) == clean,
        "the last run does not end as a clean one"
    );

    let Some(python) = python() else {
        return;
    };
    for (number, (name, bytes)) in seen.iter().enumerate() {
        let folder = place.join("seen").join(number.to_string());
        fs::create_dir_all(&folder).expect("a folder");
        fs::write(folder.join(name), bytes).expect("a written file");
    }
    let verdicts = read_with(python, "parses.py", &[place.join("seen")]);
    assert_eq!(verdicts.len(), seen.len());
    for verdict in verdicts {
        assert!(verdict["wrong"].is_null(), "{verdict}");
    }
    println!("{killed} runs killed, {} contents read", seen.len());
}
