//! Tests of runs that are stopped, or that the disk refuses, at any one of their steps: no file is half written, nothing of
//! the user's is lost, and the next run ends as if nothing had happened.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};

use fastrand::Rng;
use rayon::prelude::*;

use super::tests::{output, tree};
use super::{Before, Changes};
use crate::exit::Problem;
use crate::write::{Gate, Step, Writer};

/// How many steps are stopped at, over all plans, where `JIGLESS_STEPS` says nothing else.
const POINTS: usize = 2_000;

/// What happens at a step.
#[derive(Debug, Clone, Copy)]
enum Mishap {
    /// The disk refuses this step.
    Refused,
    /// The disk is full from this step on: what makes or writes files is refused.
    Full,
    /// The program ends before this step.
    Ended,
}

struct Stopping {
    at: usize,
    mishap: Mishap,
    steps: AtomicUsize,
}

impl Stopping {
    fn new(at: usize, mishap: Mishap) -> Self {
        Self {
            at,
            mishap,
            steps: AtomicUsize::new(0),
        }
    }
}

impl Gate for Stopping {
    fn pass(&self, step: Step) -> io::Result<()> {
        let number = self.steps.fetch_add(1, Ordering::Relaxed);
        let writes = matches!(step, Step::MakeFolder | Step::Begin | Step::Write);
        let refused = match self.mishap {
            Mishap::Refused => number == self.at,
            Mishap::Full => number >= self.at && writes,
            Mishap::Ended => number >= self.at,
        };
        if refused {
            Err(io::ErrorKind::StorageFull.into())
        } else {
            Ok(())
        }
    }
}

/// The content of a plan's output: format, path and text of each file.
type Files = Vec<(&'static str, String, String)>;

fn some_files(rng: &mut Rng) -> Files {
    let mut files: BTreeMap<(&'static str, String), String> = BTreeMap::new();
    for _ in 0..rng.usize(1..6) {
        let format = rng.choice(["dots", "lines"]).unwrap_or("dots");
        let folder = rng.choice(["", "sub/"]).unwrap_or("");
        let name = format!("{folder}{}.txt", rng.char('a'..='d'));
        // Few contents, so that some files stay as they are.
        files.insert((format, name), "x".repeat(rng.usize(0..4)));
    }
    // Both formats, so that what either does not make any more goes.
    for format in ["dots", "lines"] {
        let always = (format, "always.txt".to_owned());
        files.insert(always, rng.u8(..).to_string());
    }
    let files = files.into_iter();
    files
        .map(|((format, name), text)| (format, name, text))
        .collect()
}

fn export(out: &Path, digest: &str, files: &Files, writer: Writer) -> Result<(), Problem> {
    let files: Vec<(&'static str, &str, &str)> = files
        .iter()
        .map(|(format, name, text)| (*format, name.as_str(), text.as_str()))
        .collect();
    let output = output(digest, &files)?;
    let before = Before::read(&out.join("kiln/shelf"))?;
    let changes = Changes::of(&output, out, before, false)?;
    if changes.is_nothing() {
        Ok(())
    } else {
        changes.apply(writer)
    }
}

fn clean(digest: &str, files: &Files) -> BTreeMap<String, String> {
    let out = tempfile::tempdir().unwrap();
    export(out.path(), digest, files, Writer::default()).unwrap();
    tree(out.path())
}

/// Files under their own names, but for records.
fn is_made(path: &str) -> bool {
    !path.contains("/.jigless-") && !path.contains("/manifest")
}

/// One plan: every step of a run over an older output, with every mishap. Gives how many there were.
fn stop_everywhere(seed: u64) -> usize {
    let mut rng = Rng::with_seed(seed);
    let (old, new, later) = (
        some_files(&mut rng),
        some_files(&mut rng),
        some_files(&mut rng),
    );
    let (clean_old, clean_new) = (clean("d1", &old), clean("d2", &new));
    let clean_later = clean("d3", &later);
    let mut points = 0;
    for mishap in [Mishap::Refused, Mishap::Full, Mishap::Ended] {
        for at in 0.. {
            let out = tempfile::tempdir().unwrap();
            export(out.path(), "d1", &old, Writer::default()).unwrap();
            let mine = out.path().join("kiln/shelf/dots/mine.txt");
            fs::write(&mine, "mine").unwrap();
            let stopping = Stopping::new(at, mishap);
            let ended = export(out.path(), "d2", &new, Writer { gate: &stopping });
            if stopping.steps.load(Ordering::Relaxed) <= at {
                ended.unwrap();
                break;
            }
            points += 1;
            for (path, text) in tree(out.path()).iter().filter(|(path, _)| is_made(path)) {
                let whole = [&clean_old, &clean_new]
                    .iter()
                    .any(|clean| clean.get(path) == Some(text));
                assert!(
                    whole || path.ends_with("mine.txt"),
                    "seed {seed}, {mishap:?} at {at}: {path} is `{text}`"
                );
            }
            // Another plan may come next, or the same one.
            let (digest, files, clean) = if at % 3 == 0 {
                ("d3", &later, &clean_later)
            } else {
                ("d2", &new, &clean_new)
            };
            export(out.path(), digest, files, Writer::default()).unwrap();
            assert_eq!(fs::read_to_string(&mine).unwrap(), "mine");
            fs::remove_file(&mine).unwrap();
            assert_eq!(&tree(out.path()), clean, "seed {seed}, {mishap:?} at {at}");
        }
    }
    points
}

#[test]
fn a_run_that_is_stopped_at_any_step_is_mended_by_the_next() {
    let wanted = std::env::var("JIGLESS_STEPS")
        .ok()
        .and_then(|n| n.parse().ok());
    let wanted: usize = wanted.unwrap_or(POINTS);
    let mut points = 0;
    let mut seed = 0;
    while points < wanted {
        let stopped: usize = (seed..seed + 8).into_par_iter().map(stop_everywhere).sum();
        points += stopped;
        seed += 8;
    }
    println!("{points} steps of {seed} plans");
}
