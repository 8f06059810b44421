//! The program as a user meets it: arguments in; files, text and exit status out.

mod batch;
mod crash;
mod export;
mod library;
mod refused;
mod shard;
mod start;
mod trust;
mod usage;
mod watch;

use std::collections::BTreeMap;
use std::fmt::{self, Write};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use sha2::{Digest, Sha256};
use tempfile::TempDir;

/// A folder to run the program in.
pub(crate) struct Place {
    folder: TempDir,
}

/// The content of a file; failed comparisons show its digest.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Content(pub Vec<u8>);

impl Content {
    pub(crate) fn sha256(&self) -> String {
        let mut text = String::new();
        for byte in Sha256::digest(&self.0) {
            write!(text, "{byte:02x}").unwrap();
        }
        text
    }
}

impl fmt::Debug for Content {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "{} bytes {}", self.0.len(), &self.sha256()[..8])
    }
}

/// What came of a run.
#[derive(Debug)]
pub(crate) struct Ran {
    pub status: i32,
    pub out: String,
    pub err: String,
}

impl Ran {
    /// The lines about plans, without those that say what to open.
    pub(crate) fn results(&self) -> &str {
        self.out.split("Open in ").next().unwrap_or_default()
    }
}

impl Place {
    pub(crate) fn empty() -> Self {
        let folder = tempfile::tempdir().unwrap();
        Self { folder }
    }

    /// A place with one plan of two parts in `jars/`.
    pub(crate) fn with_jars() -> Self {
        let place = Self::empty();
        place.file("jars/plan.yaml", &plan("Jars", &["door", "shelf"]));
        place
    }

    pub(crate) fn path(&self, path: &str) -> PathBuf {
        self.folder.path().join(path)
    }

    pub(crate) fn file(&self, path: &str, text: &str) {
        let path = self.path(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    pub(crate) fn read(&self, path: &str) -> String {
        fs::read_to_string(self.path(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
    }

    pub(crate) fn read_bytes(&self, path: &str) -> Vec<u8> {
        fs::read(self.path(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
    }

    pub(crate) fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_jigless"));
        command
            .args(args)
            .current_dir(self.folder.path())
            .env_remove("SOURCE_DATE_EPOCH")
            // Nobody's own configuration.
            .env("XDG_CONFIG_HOME", self.path("no-configuration"))
            .stdin(Stdio::null());
        command
    }

    pub(crate) fn run(&self, args: &[&str]) -> Ran {
        ran(&mut self.command(args))
    }

    /// Runs and demands an exit status.
    pub(crate) fn expect(&self, status: i32, args: &[&str]) -> Ran {
        let ran = self.run(args);
        assert_eq!(ran.status, status, "{args:?}\n{}\n{}", ran.out, ran.err);
        ran
    }

    /// Every file below a folder with its content; empty where there is no such folder.
    pub(crate) fn tree(&self, folder: &str) -> BTreeMap<String, Content> {
        let root = self.path(folder);
        let mut tree = BTreeMap::new();
        if root.is_dir() {
            add_tree(&root, &root, &mut tree);
        }
        tree
    }
}

pub(crate) fn ran(command: &mut Command) -> Ran {
    let output = command.output().unwrap();
    Ran {
        status: output.status.code().expect("it ends by itself"),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

fn add_tree(root: &Path, folder: &Path, tree: &mut BTreeMap<String, Content>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            add_tree(root, &path, tree);
        } else {
            let name = path.strip_prefix(root).unwrap().to_str().unwrap();
            tree.insert(name.to_owned(), Content(fs::read(&path).unwrap()));
        }
    }
}

const PART: &str = "  NAME:
    stock: ply
    width: 296
    height: 500
    features:
      - hole: {at: [60, 80], diameter: 8, depth: through}
";

/// A plan without a fault, with parts of these names.
pub(crate) fn plan(title: &str, parts: &[&str]) -> String {
    let mut text = format!(
        "jigless: 1\ntitle: {title}\nunits: mm\nstock:\n  ply: {{label: Birch plywood 18 mm, kind: plywood, nominal: 18, thickness: 17.8, sheets: [{{width: 1220, height: 2440, count: 1}}]}}\nparts:\n"
    );
    for part in parts {
        text.push_str(&PART.replace("NAME", part));
    }
    text
}

/// Ids of all formats.
pub(crate) fn formats() -> Vec<&'static str> {
    let ids: Vec<_> = jigless_exporters::EXPORTERS
        .iter()
        .map(|e| e.id())
        // A program needs a profile with tools.
        .filter(|id| *id != "ngc-router")
        .collect();
    assert!(!ids.is_empty());
    ids
}
