//! Outside readers: programs of the system, and Python packages in an environment of their own below `target/`.
//!
//! Where one is missing a test says so and passes, so that the suite runs on any machine; where `CI` is set it fails.

use std::fs::{self, File};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

use crate::fixtures::workspace;

/// A program of the system, and the package that brings it on Debian and Ubuntu.
#[derive(Debug, Clone, Copy)]
pub struct Tool {
    name: &'static str,
    version: &'static str,
    package: &'static str,
}

/// Checks the structure of a PDF.
pub const QPDF: Tool = Tool {
    name: "qpdf",
    version: "--version",
    package: "qpdf",
};
/// Draws PDF pages.
pub const PDFTOPPM: Tool = Tool {
    name: "pdftoppm",
    version: "-v",
    package: "poppler-utils",
};
/// Reads DXF, unrelated to `ezdxf`.
pub const OGRINFO: Tool = Tool {
    name: "ogrinfo",
    version: "--version",
    package: "gdal-bin",
};
/// Draws SVG and HTML.
pub const CHROMIUM: Tool = Tool {
    name: "chromium",
    version: "--version",
    package: "chromium",
};

/// Whether all these programs can be started. Prints what is missing.
///
/// # Panics
/// When one is missing and `CI` is set.
pub fn have(tools: &[Tool]) -> bool {
    let missing: Vec<&Tool> = tools.iter().filter(|tool| !starts(tool)).collect();
    for tool in &missing {
        absent(&format!(
            "the program `{}` is missing: install it with `apt-get install {}`",
            tool.name, tool.package
        ));
    }
    missing.is_empty()
}

fn starts(tool: &Tool) -> bool {
    Command::new(tool.name)
        .arg(tool.version)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

fn absent(what: &str) {
    assert!(std::env::var_os("CI").is_none(), "{what}");
    eprintln!("skipped: {what}");
}

/// The Python interpreter that has the packages of `tests/readers/requirements.txt`; made when it is first asked for.
/// `None`, with a printed reason, when it cannot be made.
///
/// # Panics
/// When it cannot be made and `CI` is set.
pub fn python() -> Option<&'static Path> {
    static PYTHON: OnceLock<Result<PathBuf, String>> = OnceLock::new();
    match PYTHON.get_or_init(environment) {
        Ok(python) => Some(python),
        Err(why) => {
            absent(why);
            None
        }
    }
}

fn environment() -> Result<PathBuf, String> {
    let wanted = fs::read_to_string(workspace().join("tests/readers/requirements.txt"))
        .map_err(|error| format!("cannot read tests/readers/requirements.txt: {error}"))?;
    let target = std::env::current_exe().expect("the test knows its own path");
    let target = target.ancestors().nth(3).expect("a target folder");
    let folder = target.join("outside-readers");
    let broken = |error: std::io::Error| format!("cannot write {}: {error}", folder.display());
    fs::create_dir_all(&folder).map_err(broken)?;
    // Test binaries may run side by side: the first one makes the environment and the others wait.
    let lock = File::create(folder.join("lock")).map_err(broken)?;
    lock.lock().map_err(broken)?;
    let python = folder.join("venv/bin/python");
    let mark = folder.join("installed.txt");
    if fs::read_to_string(&mark).is_ok_and(|installed| installed == wanted) && python.exists() {
        return Ok(python);
    }
    let base = std::env::var_os("JIGLESS_PYTHON").unwrap_or_else(|| "python3".into());
    step(
        Command::new(base)
            .args(["-m", "venv", "--clear"])
            .arg(folder.join("venv")),
        "a Python environment cannot be made: install it with `apt-get install python3-venv`",
    )?;
    step(
        Command::new(&python)
            .args(["-m", "pip", "install", "--quiet", "--no-deps"])
            .args(["--disable-pip-version-check", "--requirement"])
            .arg(workspace().join("tests/readers/requirements.txt")),
        "the packages of tests/readers/requirements.txt cannot be installed (Python 3.11 or later is needed)",
    )?;
    let mut file = File::create(&mark).map_err(broken)?;
    file.write_all(wanted.as_bytes()).map_err(broken)?;
    Ok(python)
}

fn step(command: &mut Command, failed: &str) -> Result<(), String> {
    match command.stdin(Stdio::null()).output() {
        Ok(output) if output.status.success() => Ok(()),
        Ok(output) => Err(format!(
            "{failed}\n{}",
            String::from_utf8_lossy(&output.stderr)
        )),
        Err(error) => Err(format!("{failed} ({error})")),
    }
}

/// Runs a script of `tests/readers` with arguments and gives what it printed: a JSON value on each line. The script's
/// own verdict, its exit code, is not asked: the tests judge what it saw.
///
/// # Panics
/// When the script prints something else.
pub fn read_with(python: &Path, script: &str, arguments: &[PathBuf]) -> Vec<serde_json::Value> {
    let output = Command::new(python)
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

/// Lets Chromium run a page and gives what its script put between `BEGIN` and `END` into the body.
///
/// # Panics
/// When Chromium fails or the script says nothing.
pub fn in_browser(page: &str) -> String {
    let place = tempfile::tempdir().expect("a temporary folder");
    let file = place.path().join("page.html");
    fs::write(&file, page).expect("a written page");
    let profile = place.path().join("profile");
    let output = Command::new(CHROMIUM.name)
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
