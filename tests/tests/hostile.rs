//! Texts that nobody would write in good faith: a placed finding, never a panic, never a long wait, and bounded memory.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::time::Duration;

use jigless_core::load::NoIncludes;
use jigless_tests::fixtures::{faulty_plans, fixture, sound_plans, tree};
use jigless_tests::program::{Run, jigless, run};
use jigless_tests::report::{Printed, printed};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use serde_json::Value;

/// Far more than any plan takes, with a debug build on a machine that is busy with other things.
const PATIENCE: Duration = Duration::from_secs(60);

fn export(folder: &Path, plan: &str) -> Run {
    let run = run(jigless(folder).args(["export", plan, "--out", "out"]));
    assert!(run.took < PATIENCE, "{plan} took {:?}", run.took);
    assert!(!run.stderr.contains("panicked"), "{plan}: {}", run.stderr);
    run
}

/// Exports a plan that is a single text, expects that it is refused, and gives the findings with a place.
#[track_caller]
fn refused(text: &[u8]) -> Vec<Printed> {
    let folder = tempfile::tempdir().expect("a temporary folder");
    fs::write(folder.path().join("plan.yaml"), text).expect("a written plan");
    let run = export(folder.path(), "plan.yaml");
    assert_eq!(run.code, Some(1), "{}", run.stderr);
    assert!(!folder.path().join("out").exists(), "something was written");
    let found = printed(&run.stderr);
    assert!(!found.is_empty(), "no finding has a place:\n{}", run.stderr);
    for finding in &found {
        assert_eq!(finding.file, "plan.yaml", "{finding:?}");
        assert!(finding.line >= 1 && finding.column >= 1, "{finding:?}");
        assert!(finding.message.chars().count() < 500, "{finding:?}");
    }
    assert!(
        run.stderr.len() < 100_000,
        "{} bytes of findings",
        run.stderr.len()
    );
    found
}

const HEAD: &str = "jigless: 1\ntitle: Hostile\nunits: mm\nstock:\n  board: {thickness: 18}\n";

#[test]
fn every_faulty_plan_is_refused_quickly_and_in_place() {
    for case in faulty_plans() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        for (name, bytes) in tree(&fixture("faulty").join(&case)) {
            let path = folder.path().join(&name);
            fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
            fs::write(path, bytes).expect("a written file");
        }
        let run = export(folder.path(), "plan.yaml");
        let found = printed(&run.stderr);
        assert!(!found.is_empty(), "{case}: {}", run.stderr);
        let refused = found.iter().any(|finding| finding.severity == "error");
        assert_eq!(run.code, Some(i32::from(refused)), "{case}: {}", run.stderr);
    }
}

#[test]
fn texts_that_are_no_text() {
    let utf16 = |text: &str| -> Vec<u8> {
        let units = std::iter::once(0xfeff).chain(text.encode_utf16());
        units.flat_map(u16::to_le_bytes).collect()
    };
    assert_eq!(refused(&utf16(HEAD))[0].code, "not-text");
    assert!(refused(&utf16(HEAD))[0].message.contains("UTF-16"));
    assert_eq!(refused(b"jigless: 1\ntitle: caf\xe9\n")[0].code, "not-text");
    assert_eq!(refused(b"\0\0\0\0")[0].code, "not-text");
    assert_eq!(refused(b"")[0].code, "empty-file");
    refused(b"\n  \n");
    refused(b"# only a comment\n");
    assert_eq!(refused(b"\xef\xbb\xbf")[0].code, "empty-file");
    refused(b"%PDF-1.7\n");
    refused(b"PK\x03\x04");
}

/// Files of 50 MB that would be sound if they were shorter, as plans and as what a plan includes.
#[test]
fn files_of_fifty_megabytes() {
    const LENGTH: usize = 50 << 20;
    let mut values = format!("{HEAD}values:\n");
    for number in 0.. {
        if values.len() > LENGTH {
            break;
        }
        let _ = writeln!(values, "  value_{number}: 1");
    }
    let comment = format!("{HEAD}# {}\n", "x".repeat(LENGTH));
    for text in [values, comment, " ".repeat(LENGTH)] {
        let folder = tempfile::tempdir().expect("a temporary folder");
        fs::write(folder.path().join("plan.yaml"), &text).expect("a written plan");
        fs::write(folder.path().join("more.yaml"), text).expect("a written file");
        let including = format!("{HEAD}include: [more.yaml]\n");
        fs::write(folder.path().join("short.yaml"), including).expect("a written plan");
        for (plan, faulty) in [("plan.yaml", "plan.yaml"), ("short.yaml", "more.yaml")] {
            let run = export(folder.path(), plan);
            assert_eq!(run.code, Some(1), "{}", run.stderr);
            let found = printed(&run.stderr);
            assert_eq!(found[0].code, "too-much-yaml", "{}", run.stderr);
            assert_eq!(found[0].file, faulty, "{}", run.stderr);
            for words in ["8388608 bytes", "To mend: divide it into several plans"] {
                assert!(run.stderr.contains(words), "{}", run.stderr);
            }
            assert!(!folder.path().join("out").exists(), "something was written");
        }
    }
}

/// A megabyte of values, each of which is checked.
#[test]
fn a_long_plan_is_read_in_good_time() {
    let mut values = format!("{HEAD}values:\n");
    for number in 0..50_000 {
        let _ = writeln!(values, "  value_{number}: {number} mm");
    }
    let found = refused(
        format!("{values}parts:\n  panel: {{stock: board, width: value_7, height: value_0}}\n")
            .as_bytes(),
    );
    assert_eq!(found[0].line, 50_000 + 8, "{found:?}");
}

#[test]
fn plans_at_the_edge_of_what_is_allowed_are_refused_quickly() {
    let part = |features: &str| {
        format!(
            "{HEAD}parts:\n  panel:\n    stock: board\n    width: 900\n    height: 900\n    features:\n{features}"
        )
    };
    // Many features that each ask for as much as one may.
    let row =
        "      - hole_row: {at: [1, 1], step: [0.08, 0], count: 10000, diameter: 0.01, depth: 1}\n";
    let started = std::time::Instant::now();
    let folder = tempfile::tempdir().expect("a temporary folder");
    fs::write(folder.path().join("plan.yaml"), part(&row.repeat(2000))).expect("a written plan");
    let run = run(jigless(folder.path()).args(["check", "plan.yaml"]));
    assert!(!run.stderr.contains("panicked"), "{}", run.stderr);
    assert_eq!(run.code, Some(1), "{}", run.stderr);
    assert!(started.elapsed() < PATIENCE, "{:?}", started.elapsed());
    // A list of a hundred thousand faulty things: the findings are cut short.
    refused(part(&"      - hole: {}\n".repeat(20_000)).as_bytes());
    // A value that leads through every other.
    let mut chain = format!("{HEAD}values:\n  v0: 1\n");
    for number in 1..5000 {
        let _ = writeln!(chain, "  v{number}: v{} + 1", number - 1);
    }
    refused(format!("{chain}  v5000: v4999 * v4999 + 1 mm * 1 mm\n").as_bytes());
    // Doubling sixty-four times over.
    let mut doubling = format!("{HEAD}values:\n  v0: 1\n");
    for number in 1..2000 {
        let _ = writeln!(doubling, "  v{number}: v{0} + v{0}", number - 1);
    }
    refused(
        format!("{doubling}parts:\n  panel: {{stock: board, width: v1999, height: 1}}\n")
            .as_bytes(),
    );
}

/// Each of these took gigabytes or accepted millions of sheets before its numbers were counted.
#[cfg(target_os = "linux")]
#[test]
fn two_hundred_bytes_do_not_take_gigabytes() {
    let cabinet = "builds:\n  c: {carcass: {stock: board, width: 800, height: 900, depth: 400";
    let plans = [
        format!(
            "{HEAD}{cabinet}}}}}\n  d: {{door: {{stock: board, in: c, edge_gap: 5, hinges: 4000000000}}}}\n"
        ),
        format!("{HEAD}{cabinet}, dividers: [{{name: d, count: 10000}}]}}}}\n"),
        format!("{HEAD}{cabinet}, loose_shelves: [{{count: 10000, pins: 10000}}]}}}}\n"),
        format!("{HEAD}parts: {{p: {{stock: board, width: 99, height: 99, count: 1000000000}}}}\n"),
    ];
    for plan in plans {
        assert!(plan.len() < 250, "{} bytes", plan.len());
        let folder = tempfile::tempdir().expect("a temporary folder");
        fs::write(folder.path().join("plan.yaml"), &plan).expect("a written plan");
        // What the program may reserve at all, in kilobytes; a process that asks for more ends without a word of ours.
        let mut limited = std::process::Command::new("sh");
        limited.current_dir(folder.path()).args([
            "-c",
            "ulimit -v 4000000; exec \"$0\" export plan.yaml --out out",
        ]);
        limited.arg(jigless_tests::program::program());
        let run = run(&mut limited);
        assert_eq!(run.code, Some(1), "{plan}\n{}", run.stderr);
        assert!(!printed(&run.stderr).is_empty(), "{plan}\n{}", run.stderr);
        assert!(run.took < PATIENCE, "{plan} took {:?}", run.took);
    }
}

#[test]
fn numbers_that_are_no_sizes() {
    for number in [
        ".nan",
        "-.inf",
        "1e308",
        "1e999",
        "-1",
        "0",
        "1e-300",
        "1e9",
        "0x10",
        "1_000",
        "١٨",
        "１８",
        "99999999999999999999999999999999999999",
        "1/0",
        "0/0",
        "1e",
        "1.2.3",
        "5 5",
        "½",
        "true",
        "~",
        "''",
        "\"\\u0000\"",
        "{}",
        "[]",
    ] {
        let found = refused(
            format!("{HEAD}parts:\n  panel: {{stock: board, width: {number}, height: 100}}\n")
                .as_bytes(),
        );
        assert!(
            found.iter().any(|finding| finding.line == 7),
            "{number}: {found:?}"
        );
    }
}

/// A part of 10 km, a slipped unit, is refused whichever way it is written.
#[test]
fn parts_of_ten_kilometres() {
    for length in [
        "10000000",
        "10000 m",
        "1000000 cm",
        "32808.4 ft",
        "393701 in",
    ] {
        let found = refused(
            format!("{HEAD}parts:\n  panel: {{stock: board, width: 100, height: {length}}}\n")
                .as_bytes(),
        );
        assert_eq!(found[0].line, 7, "{length}: {found:?}");
    }
}

/// Links are made here because a checkout cannot be trusted to keep them.
#[cfg(unix)]
#[test]
fn includes_do_not_follow_links_out_of_the_folder() {
    use std::os::unix::fs::symlink;
    let place = tempfile::tempdir().expect("a temporary folder");
    let plan = place.path().join("plan");
    let outside = place.path().join("outside");
    fs::create_dir_all(&plan).expect("a folder");
    fs::create_dir_all(&outside).expect("a folder");
    fs::write(outside.join("secret.yaml"), "values:\n  secret: 1\n").expect("a file");
    symlink(outside.join("secret.yaml"), plan.join("file.yaml")).expect("a link");
    symlink(&outside, plan.join("folder")).expect("a link");
    symlink(plan.join("round.yaml"), plan.join("round.yaml")).expect("a link");
    for include in ["file.yaml", "folder/secret.yaml", "round.yaml"] {
        let text = HEAD.replace("stock:", &format!("include: [{include}]\nstock:"));
        let text = format!("{text}parts:\n  panel: {{stock: board, width: 100, height: 100}}\n");
        fs::write(plan.join("plan.yaml"), text).expect("a written plan");
        let run = export(&plan, "plan.yaml");
        assert_eq!(run.code, Some(1), "{include}: {}", run.stderr);
        assert_eq!(printed(&run.stderr)[0].line, 4, "{include}: {}", run.stderr);
        assert!(!run.stderr.contains("secret: 1"), "{}", run.stderr);
    }
}

/// A named pipe would make the program wait for ever.
#[cfg(unix)]
#[test]
fn a_pipe_is_no_plan() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let made = std::process::Command::new("mkfifo")
        .arg(folder.path().join("plan.yaml"))
        .status();
    assert!(made.is_ok_and(|status| status.success()), "no pipe is made");
    let mut child = jigless(folder.path())
        .args(["check", "plan.yaml"])
        .spawn()
        .expect("the program starts");
    let started = std::time::Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().expect("a status") {
            break Some(status);
        }
        if started.elapsed() > PATIENCE {
            child.kill().expect("it can be ended");
            break None;
        }
        std::thread::sleep(Duration::from_millis(20));
    };
    let code = status.expect("it does not wait for ever").code();
    assert!(code.is_some_and(|code| (1..=3).contains(&code)), "{code:?}");
}

/// Texts with a few bytes changed, left out or doubled never panic; whatever is refused is refused in place. The seed is
/// fixed, so that a run that failed once fails again.
#[test]
fn damaged_plans_do_not_panic() {
    let mut seeds: Vec<Vec<u8>> = Vec::new();
    for plan in sound_plans() {
        for (_, bytes) in tree(&fixture(&plan)) {
            seeds.push(bytes);
        }
    }
    let damage = (
        0..seeds.len(),
        prop::collection::vec((any::<prop::sample::Index>(), 0..6_u8, any::<u8>()), 1..6),
    );
    let config = Config {
        cases: 2_000,
        failure_persistence: None,
        ..Config::default()
    };
    let mut runner =
        TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]));
    let result = runner.run(&damage, |(seed, changes)| {
        let mut text = seeds[seed].clone();
        for (place, kind, byte) in changes {
            if text.is_empty() {
                break;
            }
            let at = place.index(text.len());
            let word = b"0123456789.-/*()[]{}:, \n#&*!|>'\"%@`ainfmthrough";
            match kind {
                0 => text[at] = byte,
                1 => text[at] = word[usize::from(byte) % word.len()],
                2 => drop(text.remove(at)),
                3 => text.insert(at, word[usize::from(byte) % word.len()]),
                4 => {
                    let end = (at + usize::from(byte)).min(text.len());
                    let piece = text[at..end].to_vec();
                    text.splice(at..at, piece);
                }
                _ => drop(text.drain(at..(at + usize::from(byte)).min(text.len()))),
            }
        }
        let compiled = jigless_core::compile("plan.yaml", &text, &NoIncludes);
        prop_assert_eq!(compiled.result.is_none(), compiled.findings.has_errors());
        prop_assert!(
            compiled
                .findings
                .iter()
                .all(|finding| finding.span.is_some())
        );
        Ok(())
    });
    if let Err(error) = result {
        panic!("{error}");
    }
}

/// A list of findings has an end, and the last line says what is beyond it, in words and as JSON.
#[test]
fn what_is_not_listed_is_counted() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut text = format!("{HEAD}parts:\n");
    for number in 0..1_234 {
        let _ = writeln!(
            text,
            "  p{number}: {{stock: bord, width: 300, height: 200}}"
        );
    }
    fs::write(folder.path().join("plan.yaml"), text).expect("a written plan");
    let words = run(jigless(folder.path()).args(["check", "plan.yaml"]));
    assert_eq!(words.code, Some(1));
    let last = words.stderr.lines().last();
    assert_eq!(last, Some("1234 errors (234 of them not listed)"));
    let said = "234 more findings in this plan: counted, and not listed";
    assert!(words.stderr.contains(said), "{}", words.stderr);
    let lines = run(jigless(folder.path()).args(["check", "plan.yaml", "--findings", "lines"]));
    let lines: Vec<Value> = lines
        .stdout
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect();
    let listed = lines.iter().filter(|line| line["type"] == "finding");
    assert_eq!(listed.count(), 1_000);
    let summary = lines.last().expect("a summary");
    assert_eq!(summary["errors"], 1_234);
    assert_eq!(summary["not_listed"], 234);
}
