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
const NODE: Program = ("node", "--version");

/// Packages that `tests/run` brings, besides programs of the system.
#[derive(Clone, Copy, PartialEq)]
enum Packages {
    None,
    Python,
    Node,
    PythonAndNode,
}

/// What tests ask for, as `cfg` names: the programs and packages that it takes.
const READERS: [(&str, &[Program], Packages); 9] = [
    ("has_python3", &[PYTHON3], Packages::None),
    ("has_pdftoppm", &[PDFTOPPM], Packages::None),
    ("has_chromium", &[CHROMIUM], Packages::None),
    ("has_python_readers", &[], Packages::Python),
    ("has_pdf_readers", &[QPDF], Packages::Python),
    ("has_dxf_readers", &[OGRINFO], Packages::Python),
    ("has_svg_readers", &[CHROMIUM], Packages::Python),
    ("has_model_readers", &[NODE], Packages::PythonAndNode),
    ("has_driven_browser", &[CHROMIUM, NODE], Packages::Node),
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
    let (python, node) = (python_packages(), node_packages());
    for (name, programs, packages) in READERS {
        println!("cargo::rustc-check-cfg=cfg({name})");
        let there = match packages {
            Packages::None => true,
            Packages::Python => python,
            Packages::Node => node,
            Packages::PythonAndNode => python && node,
        };
        if programs.iter().all(starts) && there {
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
    let folder = readers_folder();
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
    let wanted = fs::read_to_string("readers/requirements.txt").unwrap_or_default();
    installed == wanted && succeeds(Command::new(python).args(["-c", "pass"]))
}

/// The folder into which `tests/run` brings packages.
fn readers_folder() -> PathBuf {
    let here = env::var_os("CARGO_MANIFEST_DIR").expect("cargo names the package's folder");
    let here = Path::new(&here);
    env::var_os("JIGLESS_READERS").map_or_else(
        || here.with_file_name("target").join("outside-readers"),
        PathBuf::from,
    )
}

/// Whether the Node packages are there that `package.json` lists now. Reports the tests where they are.
fn node_packages() -> bool {
    println!("cargo::rerun-if-changed=readers/package.json");
    let folder = readers_folder().join("node");
    println!("cargo::rustc-env=JIGLESS_READERS_NODE={}", folder.display());
    let Ok(installed) = fs::read_to_string(folder.join("package.json")) else {
        return false;
    };
    let wanted = fs::read_to_string("readers/package.json").unwrap_or_default();
    installed == wanted && folder.join("node_modules/gltf-validator").is_dir()
}
