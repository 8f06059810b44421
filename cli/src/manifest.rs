//! The record of what was made: what the files of a plan are, and which of those on the disk are ours.
//!
//! Two files stand in a plan's output folder. `manifest.json` says what is there. `manifest.pending.json` is written
//! before the first file and removed after the last one; a run that was killed between them leaves it behind, and the
//! next run knows by it which of the files are ours.

use std::collections::BTreeMap;
use std::path::Path;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::digest::sha256;
use crate::disk::{in_words, read_text};
use crate::inputs::Inputs;
use crate::paths::check_relative;
use crate::write::{There, what_is};

/// Name of the record.
pub const MANIFEST: &str = "manifest.json";
/// Name of the record of a run that is not finished.
pub const PENDING: &str = "manifest.pending.json";
/// The keys by which they are known as ours.
const MANIFEST_MARK: &str = "jigless_manifest";
const PENDING_MARK: &str = "jigless_pending";
/// Version of both.
const VERSION: u32 = 1;

/// What was made of one plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Manifest {
    /// Version of the record; also the mark by which it is known as ours.
    #[serde(rename = "jigless_manifest")]
    version: u32,
    /// In the file, SHA-256 of the file with an empty text here; in memory always empty.
    #[serde(default)]
    own_sha256: String,
    /// Whether the file is not as this program wrote it. Such a record is not taken at its word.
    #[serde(skip)]
    pub edited: bool,
    /// The program and its version.
    pub tool: String,
    /// The plan.
    pub plan: PlanRecord,
    /// What it was read from.
    pub inputs: Inputs,
    /// The formats with the options that were in force, in order of their ids.
    pub exporters: Vec<ExporterRecord>,
    /// The files, in order of their paths.
    pub files: Vec<FileRecord>,
}

/// The plan that a manifest is about.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlanRecord {
    /// Name of its output folder.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Digest of the plan as the core gives it, in hexadecimal.
    pub digest: String,
    /// How many warnings the plan itself has.
    pub warnings: usize,
    /// Ids of formats that do not suit the plan, and so are made only when they are named.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub unsuited: Vec<String>,
}

/// A format and how it was set.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ExporterRecord {
    /// Its id.
    pub id: String,
    /// Every option, given or not.
    pub options: Value,
    /// What its files were made from. They are remade when any of it is another one.
    pub made_from: MadeFrom,
    /// Why the format is left out of this plan, in a line, where it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_out: Option<String>,
    /// How many warnings the format has about the plan.
    pub warnings: usize,
}

/// What the files of a format were made from, but for its options.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MadeFrom {
    /// The program: a digest of its source.
    pub build: String,
    /// The plan file and what it includes: their digest.
    pub inputs: String,
    /// The date, the choice of parts, and of an outside format its program: their digest.
    pub run: String,
}

/// One file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FileRecord {
    /// Path below the plan's output folder, with `/` between names.
    pub path: String,
    /// Its size.
    pub bytes: u64,
    /// SHA-256 of its content, in hexadecimal.
    pub sha256: String,
    /// Id of the format.
    pub exporter: String,
    /// The part that it shows; `null` where it shows several.
    pub part: Option<String>,
    /// Digest of the plan that it was made from, where that is not the present one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub earlier_plan: Option<String>,
}

impl Manifest {
    /// A record of this version, its files in order.
    pub fn new(
        tool: String,
        plan: PlanRecord,
        inputs: Inputs,
        mut exporters: Vec<ExporterRecord>,
        mut files: Vec<FileRecord>,
    ) -> Self {
        exporters.sort_by(|a, b| a.id.cmp(&b.id));
        files.sort_by(|a, b| a.path.cmp(&b.path));
        Self {
            version: VERSION,
            own_sha256: String::new(),
            edited: false,
            tool,
            plan,
            inputs,
            exporters,
            files,
        }
    }

    /// Its bytes, with their own digest in them.
    pub fn to_bytes(&self) -> Vec<u8> {
        let bytes = json_bytes(self);
        let sealed = OWN.to_owned() + &sha256(&bytes);
        // JSON is text, and the digest stands before anything that others name.
        let text = String::from_utf8_lossy(&bytes);
        text.replacen(OWN, &sealed, 1).into_bytes()
    }

    /// Takes the digest out of what was read, and looks whether it is right.
    fn unseal(mut self, bytes: &[u8]) -> Self {
        let sealed = OWN.to_owned() + &self.own_sha256;
        let text = String::from_utf8_lossy(bytes);
        let open = text.replacen(&sealed, OWN, 1);
        self.edited = self.own_sha256 != sha256(open.as_bytes());
        self.own_sha256.clear();
        self
    }

    /// Reads its bytes.
    ///
    /// # Errors
    /// When a newer version wrote them.
    pub fn from_bytes(bytes: &[u8]) -> Result<Record<Self>, String> {
        Ok(match record::<Self>(bytes, MANIFEST_MARK)? {
            Record::Ours(manifest) => Record::Ours(manifest.unseal(bytes)),
            other => other,
        })
    }
}

/// What stands before the digest of a manifest in itself.
const OWN: &str = "\"own_sha256\": \"";

/// The files that an unfinished run may have written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pending {
    /// Version of the record; also the mark by which it is known as ours.
    #[serde(rename = "jigless_pending")]
    version: u32,
    /// The files. One path may stand here several times, with another content each time.
    pub files: Vec<FileRecord>,
}

impl Pending {
    /// A record of this version.
    pub fn new(files: Vec<FileRecord>) -> Self {
        Self {
            version: VERSION,
            files,
        }
    }

    /// Its bytes.
    pub fn to_bytes(&self) -> Vec<u8> {
        json_bytes(self)
    }
}

fn json_bytes<T: Serialize>(value: &T) -> Vec<u8> {
    // Writing plain structs of texts and numbers into memory has no way to fail.
    let mut bytes = serde_json::to_vec_pretty(value).unwrap_or_default();
    bytes.push(b'\n');
    bytes
}

/// What stands under the name of a record.
#[derive(Debug, Clone, PartialEq)]
pub enum Record<T> {
    /// Nothing.
    None,
    /// A record of ours.
    Ours(T),
    /// Something else.
    Foreign,
}

/// The record of what was made in an output folder.
///
/// # Errors
/// Why it cannot be read or used, in plain words.
pub fn read_manifest(folder: &Path) -> Result<Record<Manifest>, String> {
    read_record(&folder.join(MANIFEST), Manifest::from_bytes)
}

/// The record that an unfinished run left in an output folder.
///
/// # Errors
/// Why it cannot be read or used, in plain words.
pub fn read_pending(folder: &Path) -> Result<Record<Pending>, String> {
    read_record(&folder.join(PENDING), |bytes| record(bytes, PENDING_MARK))
}

/// Whether a file is a manifest of ours.
pub fn is_ours(file: &Path) -> bool {
    read_text(file)
        .ok()
        .and_then(|bytes| serde_json::from_slice::<Value>(&bytes).ok())
        .is_some_and(|value| value[MANIFEST_MARK].is_u64())
}

fn read_record<T>(
    file: &Path,
    read: impl FnOnce(&[u8]) -> Result<Record<T>, String>,
) -> Result<Record<T>, String> {
    match what_is(file).map_err(|error| in_words(&error))? {
        There::Nothing => Ok(Record::None),
        There::File => read(&std::fs::read(file).map_err(|error| in_words(&error))?),
        There::Folder | There::Link | There::Other => Ok(Record::Foreign),
    }
}

fn record<T: DeserializeOwned>(bytes: &[u8], mark: &str) -> Result<Record<T>, String> {
    let Ok(value) = serde_json::from_slice::<Value>(bytes) else {
        return Ok(Record::Foreign);
    };
    match value[mark].as_u64() {
        None => Ok(Record::Foreign),
        Some(version) if version > u64::from(VERSION) => {
            Err("a newer version of Jigless wrote it; use that one, or another --out".to_owned())
        }
        Some(_) => Ok(
            serde_json::from_value(value).map_or(Record::Foreign, |record| Record::Ours(record))
        ),
    }
}

/// The files that earlier runs made, by path, with every content that they may have.
#[derive(Debug, Default)]
pub struct Owned {
    files: BTreeMap<String, Vec<FileRecord>>,
}

impl Owned {
    /// Adds records. Those whose path leads elsewhere were not written by us.
    pub fn add(&mut self, files: Vec<FileRecord>) {
        for file in files {
            if check_relative(&file.path).is_ok() {
                self.files.entry(file.path.clone()).or_default().push(file);
            }
        }
    }

    /// The record of a file with this very content.
    pub fn find(&self, path: &str, sha256: &str) -> Option<&FileRecord> {
        let records = self.files.get(path)?;
        records.iter().find(|record| record.sha256 == sha256)
    }

    /// All paths, in order.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(path: &str, content: &str) -> FileRecord {
        FileRecord {
            path: path.to_owned(),
            bytes: content.len() as u64,
            sha256: sha256(content.as_bytes()),
            exporter: "list".to_owned(),
            part: None,
            earlier_plan: None,
        }
    }

    #[test]
    fn a_manifest_is_read_back_as_it_was_written() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(read_manifest(folder.path()), Ok(Record::None));
        let plan = PlanRecord {
            name: "a/b".to_owned(),
            title: "Jars".to_owned(),
            digest: sha256(b"jigless: 1"),
            warnings: 0,
            unsuited: Vec::new(),
        };
        let inputs = Inputs {
            plan: sha256(b"jigless: 1"),
            includes: Vec::new(),
            profiles: None,
        };
        let manifest = Manifest::new(
            "jigless 1".to_owned(),
            plan,
            inputs,
            Vec::new(),
            vec![file("list/z.csv", "z"), file("list/a.csv", "a")],
        );
        assert_eq!(manifest.files[0].path, "list/a.csv");
        let path = folder.path().join(MANIFEST);
        std::fs::write(&path, manifest.to_bytes()).unwrap();
        assert!(is_ours(&path));
        let text = String::from_utf8(manifest.to_bytes()).unwrap();
        std::fs::write(&path, text.replace("Jars", "Pots")).unwrap();
        let Ok(Record::Ours(edited)) = read_manifest(folder.path()) else {
            panic!("it is still a manifest");
        };
        assert!(edited.edited);
        std::fs::write(&path, text).unwrap();
        assert_eq!(read_manifest(folder.path()), Ok(Record::Ours(manifest)));
    }

    #[test]
    fn what_others_wrote_is_not_taken_for_ours() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join(MANIFEST);
        for foreign in [
            "",
            "{}",
            "[1]",
            r#"{"name": "page"}"#,
            r#"{"jigless_manifest": 1}"#,
        ] {
            std::fs::write(&path, foreign).unwrap();
            assert_eq!(
                read_manifest(folder.path()),
                Ok(Record::Foreign),
                "{foreign}"
            );
        }
        std::fs::write(&path, r#"{"jigless_manifest": 2}"#).unwrap();
        assert!(read_manifest(folder.path()).unwrap_err().contains("newer"));
    }

    #[test]
    fn a_record_cannot_claim_files_elsewhere() {
        let mut owned = Owned::default();
        owned.add(vec![
            file("../x", "x"),
            file("/x", "x"),
            file("list/x", "x"),
        ]);
        assert_eq!(owned.paths().collect::<Vec<_>>(), ["list/x"]);
        assert!(owned.find("list/x", &sha256(b"x")).is_some());
        assert!(owned.find("list/x", &sha256(b"y")).is_none());
    }
}
