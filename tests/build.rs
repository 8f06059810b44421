//! Looks for the outside readers. A test whose reader is not there is marked as ignored, so that cargo counts it as what
//! it is; `tests/run` brings what is missing.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A program of the system, and how it is asked whether it is there.
type Program = (&'static str, &'static str);

const QPDF: Program = ("qpdf", "--version");
const PDFTOPPM: Program = ("pdftoppm", "-v");
const OGRINFO: Program = ("ogrinfo", "--version");
const CHROMIUM: Program = ("chromium", "--version");
const PYTHON3: Program = ("python3", "--version");

/// What tests ask for, as `cfg` names: the programs that it takes, and whether it takes the Python packages.
const READERS: [(&str, &[Program], bool); 7] = [
    ("has_python3", &[PYTHON3], false),
    ("has_pdftoppm", &[PDFTOPPM], false),
    ("has_chromium", &[CHROMIUM], false),
    ("has_python_readers", &[], true),
    ("has_pdf_readers", &[QPDF], true),
    ("has_dxf_readers", &[OGRINFO], true),
    ("has_svg_readers", &[CHROMIUM], true),
];

/// Folders in which a later installation of a program shows.
const INSTALLED_IN: [&str; 3] = ["/usr/bin", "/usr/local/bin", "/opt/homebrew/bin"];

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-env-changed=PATH");
    for folder in INSTALLED_IN.into_iter().filter(|it| Path::new(it).is_dir()) {
        println!("cargo::rerun-if-changed={folder}");
    }
    let target = env::var("TARGET").expect("cargo names the platform");
    println!("cargo::rustc-env=JIGLESS_TARGET={target}");
    let packages = python_packages();
    for (name, programs, python) in READERS {
        println!("cargo::rustc-check-cfg=cfg({name})");
        if programs.iter().all(starts) && (packages || !python) {
            println!("cargo::rustc-cfg={name}");
        }
    }
}

fn starts((program, question): &Program) -> bool {
    succeeds(Command::new(program).arg(question))
}

fn succeeds(command: &mut Command) -> bool {
    let command = command.stdin(Stdio::null()).stdout(Stdio::null());
    let status = command.stderr(Stdio::null()).status();
    status.is_ok_and(|status| status.success())
}

/// Whether the environment that `tests/run` makes is there and has what `requirements.txt` lists now. Reports the tests
/// where its Python is.
fn python_packages() -> bool {
    println!("cargo::rerun-if-env-changed=JIGLESS_READERS");
    // `tests/run` touches this file when it has made the environment.
    println!("cargo::rerun-if-changed=readers/requirements.txt");
    let here = env::var_os("CARGO_MANIFEST_DIR").expect("cargo names the package's folder");
    let here = Path::new(&here);
    let folder = env::var_os("JIGLESS_READERS").map_or_else(
        || here.with_file_name("target").join("outside-readers"),
        PathBuf::from,
    );
    let python = folder.join("venv/bin/python");
    println!(
        "cargo::rustc-env=JIGLESS_READERS_PYTHON={}",
        python.display()
    );
    let mark = folder.join("installed.txt");
    let Ok(installed) = fs::read_to_string(&mark) else {
        return false;
    };
    println!("cargo::rerun-if-changed={}", mark.display());
    let wanted = fs::read_to_string(here.join("readers/requirements.txt")).unwrap_or_default();
    installed == wanted && succeeds(Command::new(python).args(["-c", "pass"]))
}
