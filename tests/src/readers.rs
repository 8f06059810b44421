//! Outside readers: programs of the system, and Python packages in an environment of their own below `target/`.
//!
//! `tests/run` brings them. A test that needs one says so, and is ignored where `build.rs` has not found it:
//! `#[cfg_attr(not(has_pdf_readers), ignore = "needs qpdf and the Python readers: tests/run")]`.

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::fixtures::workspace;

/// Runs a script of `tests/readers` with arguments and gives what it printed: a JSON value on each line. The script's
/// own verdict, its exit code, is not asked: the tests judge what it saw.
///
/// # Panics
/// When the script prints something else.
pub fn read_with(script: &str, arguments: &[PathBuf]) -> Vec<Value> {
    // The interpreter that has the packages of `tests/readers/requirements.txt`; `build.rs` names it.
    let output = Command::new(env!("JIGLESS_READERS_PYTHON"))
        .arg(workspace().join("tests/readers").join(script))
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .expect("Python starts");
    let said = String::from_utf8_lossy(&output.stderr);
    String::from_utf8_lossy(&output.stdout)
        .lines()
        .map(|line| {
            serde_json::from_str(line)
                .unwrap_or_else(|error| panic!("{script}: no JSON ({error}): {line}\n{said}"))
        })
        .collect()
}

/// [`read_with`], for a script that prints a report for each file: in two processes, since starting Python costs more
/// than reading.
///
/// # Panics
/// When the script prints something else, or not a report for each file.
pub fn read_halves(script: &str, files: &[PathBuf]) -> Vec<Value> {
    let seen: Vec<Value> = std::thread::scope(|scope| {
        let running: Vec<_> = files
            .chunks(files.len().div_ceil(2).max(1))
            .map(|half| scope.spawn(move || read_with(script, half)))
            .collect();
        running
            .into_iter()
            .flat_map(|half| half.join().expect("a reader"))
            .collect()
    });
    assert_eq!(seen.len(), files.len(), "a report for each file");
    seen
}

/// Runs a script of `tests/readers` that takes Node packages and gives what it printed: a JSON value on each line.
///
/// # Panics
/// When it prints something else, or fails.
pub fn read_with_node(script: &str, arguments: &[&OsStr]) -> Vec<Value> {
    let output = Command::new("node")
        .arg(workspace().join("tests/readers").join(script))
        .arg(env!("JIGLESS_READERS_NODE"))
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .expect("node starts");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{script}: {said}");
    let text = String::from_utf8_lossy(&output.stdout);
    text.lines()
        .map(|line| {
            serde_json::from_str(line).unwrap_or_else(|error| panic!("{error}: {line}\n{said}"))
        })
        .collect()
}

/// What the Khronos validator says of glTF files: a report for each.
///
/// # Panics
/// When it prints something else, or not a report for each file.
pub fn validate_models(files: &[PathBuf]) -> Vec<Value> {
    let arguments: Vec<&OsStr> = files.iter().map(|file| file.as_os_str()).collect();
    let reports = read_with_node("check_glb.cjs", &arguments);
    assert_eq!(reports.len(), files.len(), "a report for each file");
    reports
}

/// Paths below a folder.
pub fn below(folder: &Path, names: &[String]) -> Vec<PathBuf> {
    names.iter().map(|name| folder.join(name)).collect()
}

/// Lets Chromium run a page and gives what its script put between `BEGIN` and `END` into the body.
///
/// # Panics
/// When Chromium fails or the script says nothing.
pub fn in_browser(page: &str) -> String {
    let place = tempfile::tempdir().expect("a temporary folder");
    let file = place.path().join("page.html");
    fs::write(&file, page).expect("a written page");
    let profile = place.path().join("profile");
    let output = Command::new("chromium")
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--no-first-run",
        ])
        .args([
            "--disable-background-networking",
            "--disable-component-update",
        ])
        .args([
            "--disable-sync",
            "--force-device-scale-factor=1",
            "--dump-dom",
        ])
        .arg(format!("--user-data-dir={}", profile.display()))
        .arg(format!("file://{}", file.display()))
        .stdin(Stdio::null())
        .output()
        .expect("Chromium starts");
    let said = String::from_utf8_lossy(&output.stdout);
    let inner = said
        .split_once("BEGIN")
        .and_then(|(_, rest)| rest.rsplit_once("END"));
    let Some((inner, _)) = inner else {
        panic!("no answer: {}", String::from_utf8_lossy(&output.stderr));
    };
    inner.to_owned()
}
