//! Gives the program its commit, for people, and a digest of its source, by which it knows files that another version
//! made. Neither changes from one build of the same source to the next.

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use sha2::{Digest, Sha256};

/// Everything that can change what is made, seen from this crate's folder.
const SOURCES: [&str; 8] = [
    "../core/src",
    "../core/model/src",
    "../core/language/src",
    "../core/check/src",
    "../core/layout/src",
    "../exporters/src",
    "src",
    "../Cargo.lock",
];

fn main() {
    let mut digest = Sha256::new();
    for source in SOURCES {
        println!("cargo::rerun-if-changed={source}");
        let mut files = Vec::new();
        add_files(Path::new(source), &mut files);
        files.sort();
        for file in files {
            let bytes = fs::read(&file).unwrap_or_default();
            digest.update(file.to_string_lossy().replace('\\', "/").as_bytes());
            digest.update((bytes.len() as u64).to_le_bytes());
            digest.update(&bytes);
        }
    }
    let mut hex = String::new();
    for byte in digest.finalize() {
        // Writing to a String cannot fail.
        let _ = write!(hex, "{byte:02x}");
    }
    println!("cargo::rustc-env=JIGLESS_BUILD={}", &hex[..16]);
    let version = std::env::var("CARGO_PKG_VERSION").unwrap_or_default();
    let version = match commit() {
        Some(commit) => format!("{version} (commit {commit})"),
        None => version,
    };
    println!("cargo::rustc-env=JIGLESS_VERSION={version}");
}

fn add_files(path: &Path, files: &mut Vec<PathBuf>) {
    if path.is_dir() {
        for entry in fs::read_dir(path).into_iter().flatten().flatten() {
            add_files(&entry.path(), files);
        }
    } else if path.is_file() {
        files.push(path.to_owned());
    }
}

/// The commit that is built; nothing outside a repository of our own, or without git.
fn commit() -> Option<String> {
    // A source archive may lie inside somebody else's repository.
    if !Path::new("../.git").exists() {
        return None;
    }
    for name in ["HEAD", "logs/HEAD", "index"] {
        if let Some(path) = git(&["rev-parse", "--git-path", name]) {
            println!("cargo::rerun-if-changed={path}");
        }
    }
    let commit = git(&["rev-parse", "--short=12", "HEAD"])?;
    let changed = git(&["status", "--porcelain", "--untracked-files=no"])?;
    Some(if changed.is_empty() {
        commit
    } else {
        format!("{commit}, changed since")
    })
}

fn git(args: &[&str]) -> Option<String> {
    let output = Command::new("git").args(args).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    output.status.success().then(|| text.trim().to_owned())
}
