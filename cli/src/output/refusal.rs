//! Why nothing is written, in words.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use crate::disk::in_words;
use crate::exit::{Exit, Problem};
use crate::styled::shown;

/// How many files in the way are named.
const NAMED: usize = 20;

/// What the disk refused.
pub(super) fn failed(path: &Path, what: &str, error: &std::io::Error) -> Problem {
    Problem::disk(format!(
        "{} cannot {what}: {}",
        shown(path),
        in_words(error)
    ))
}

/// A file stands where a folder should be.
pub(super) fn not_a_folder(path: &Path) -> Problem {
    Problem::disk(format!("{}: it is a file, not a folder", shown(path)))
        .fix("move it away, or choose another --out")
}

/// A folder stands where a file should be.
pub(super) fn is_a_folder(path: &Path) -> Problem {
    Problem::disk(format!(
        "{}: a folder stands where a file should be",
        shown(path)
    ))
    .fix("move it away, or choose another --out")
}

/// Files that are not ours are in the way.
pub(super) fn foreign(files: &[PathBuf]) -> Problem {
    let mut message =
        String::from("nothing was written: these were not made by Jigless, or were changed since");
    for file in files.iter().take(NAMED) {
        message.push_str("\n  ");
        message.push_str(&shown(file));
    }
    if files.len() > NAMED {
        // Writing to a String cannot fail.
        let _ = write!(message, "\n  and {} more", files.len() - NAMED);
    }
    Problem::disk(message).fix("move them away, choose another --out, or replace them with --force")
}

/// A fault of the program, which is no fault of the user's.
pub(super) fn internal(message: &str) -> Problem {
    Problem::new(
        Exit::Faulty,
        format!("a fault in Jigless itself: {message}"),
    )
    .fix("nothing was written; report it with the plan")
}
