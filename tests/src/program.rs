//! The built program, run as a person runs it.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;
use std::time::{Duration, Instant};

/// What a run of the program gave.
#[derive(Debug)]
pub struct Run {
    /// Exit code; `None` when a signal ended it.
    pub code: Option<i32>,
    /// What it wrote to standard output.
    pub stdout: String,
    /// What it wrote to standard error.
    pub stderr: String,
    /// How long it took.
    pub took: Duration,
}

impl Run {
    /// This run, if it ended well.
    ///
    /// # Panics
    /// When the exit code is not 0.
    #[expect(
        clippy::return_self_not_must_use,
        reason = "that it ended well is often all that is asked"
    )]
    #[track_caller]
    pub fn done(self) -> Self {
        assert_eq!(self.code, Some(0), "{}\n{}", self.stdout, self.stderr);
        self
    }
}

/// Path of the program, built once per test binary, so that a test run alone never measures an old build.
///
/// # Panics
/// When it does not build.
pub fn program() -> &'static Path {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM.get_or_init(|| build("jigless"))
}

/// Path of the worked outside format in Rust.
///
/// # Panics
/// When it does not build.
pub fn outside_example() -> &'static Path {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM.get_or_init(|| build("jigless-outside-example"))
}

fn build(package: &str) -> PathBuf {
    // .../target/debug/deps/corpus-0123: the profile's folder is two up, the target folder three.
    let test = std::env::current_exe().expect("the test knows its own path");
    let profile = test
        .ancestors()
        .nth(2)
        .expect("a profile folder")
        .to_owned();
    let target = profile.parent().expect("a target folder");
    let profile = match profile.file_name().and_then(OsStr::to_str) {
        Some("debug") | None => "dev",
        Some(name) => name,
    };
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let output = Command::new(cargo)
        .args(["build", "--locked", "--package", package])
        .args(["--bin", package, "--profile", profile])
        .arg("--message-format=json-render-diagnostics")
        .arg("--target-dir")
        .arg(target)
        .current_dir(crate::fixtures::workspace())
        .stderr(Stdio::inherit())
        .output()
        .expect("cargo starts");
    assert!(output.status.success(), "{package} does not build");
    String::from_utf8_lossy(&output.stdout)
        .lines()
        .filter_map(|line| serde_json::from_str::<serde_json::Value>(line).ok())
        .find_map(|message| Some(PathBuf::from(message.get("executable")?.as_str()?)))
        .expect("cargo names the program that it built")
}

/// The program with a clean environment and nothing on standard input, to be run in a folder.
pub fn jigless(folder: &Path) -> Command {
    let mut command = Command::new(program());
    command.current_dir(folder).env_clear().stdin(Stdio::null());
    command
}

/// Runs a command of [`jigless`].
///
/// # Panics
/// When it cannot be started.
pub fn run(command: &mut Command) -> Run {
    let start = Instant::now();
    let Output {
        status,
        stdout,
        stderr,
    } = command.output().expect("the program starts");
    Run {
        code: status.code(),
        stdout: String::from_utf8_lossy(&stdout).into_owned(),
        stderr: String::from_utf8_lossy(&stderr).into_owned(),
        took: start.elapsed(),
    }
}

/// Exports plans, by their paths below `fixtures/`, with every exporter into `out`.
///
/// # Panics
/// When that fails.
pub fn export_all(plans: &[&str], out: &Path, more: &[&str]) -> Run {
    let mut command = jigless(&crate::fixtures::workspace());
    command.arg("export");
    command.args(plans.iter().map(|plan| crate::fixtures::fixture(plan)));
    command.arg("--out").arg(out).args(more);
    run(&mut command).done()
}
