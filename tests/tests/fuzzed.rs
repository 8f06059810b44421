//! Every target of the fuzzer, without the fuzzer: its corpus, and mutations of it by a fixed seed. The same inputs on
//! every machine; about a minute of one processor in all.

use std::fs;
use std::panic::catch_unwind;
use std::path::{Path, PathBuf};

use jigless_tests::fixtures::{files_of, fixture, tree, workspace};
use jigless_tests::fuzz::{Mutator, TARGETS, Target};

/// Longer inputs take longer than they teach.
const LONGEST: usize = 4_000;
/// How many mutations each target is given.
const MUTATIONS: usize = 2_000;

/// The corpus of a target and its seeds, in a fixed order.
fn inputs(target: &Target) -> Vec<Vec<u8>> {
    let mut files = tree(&workspace().join("core/fuzz/corpus").join(target.name));
    for (folder, ending) in target.seeds {
        files.extend(files_of(&fixture(folder), ending));
    }
    let mut inputs: Vec<Vec<u8>> = files.into_iter().map(|(_, bytes)| bytes).collect();
    inputs.retain(|bytes| bytes.len() <= LONGEST);
    inputs
}

/// Where an input is kept that a target could not take.
fn kept(target: &Target) -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("fuzz-{}", target.name))
}

fn give(target: &Target, bytes: &[u8]) {
    if catch_unwind(|| (target.run)(bytes)).is_err() {
        let file = kept(target);
        fs::write(&file, bytes).expect("a written file");
        panic!("{} does not take {}", target.name, file.display());
    }
}

fn give_all(target: &Target) {
    let inputs = inputs(target);
    assert!(
        inputs.len() > 10,
        "{}: {} inputs",
        target.name,
        inputs.len()
    );
    for bytes in &inputs {
        give(target, bytes);
    }
    let mut mutator = Mutator::new(1, &inputs);
    for _ in 0..MUTATIONS {
        give(target, &mutator.input());
    }
}

#[test]
fn every_target_takes_its_corpus_and_what_is_near_it() {
    std::thread::scope(|scope| {
        for target in TARGETS {
            scope.spawn(|| give_all(target));
        }
    });
}

/// Each target has a program of its own for the fuzzer, and there are no others.
#[test]
fn the_fuzzer_has_every_target() {
    let mut targets: Vec<String> = TARGETS.iter().map(|it| format!("{}.rs", it.name)).collect();
    targets.sort();
    let programs = tree(&workspace().join("core/fuzz/fuzz_targets"));
    let programs: Vec<String> = programs.into_iter().map(|(name, _)| name).collect();
    assert_eq!(programs, targets);
}
