//! What the files of a plan are made from, as digests: the plan file and what it includes, byte for byte.

use std::cell::RefCell;
use std::path::Path;

use jigless_core::load::IncludeReader;
use serde::{Deserialize, Serialize};

use crate::digest::sha256;
use crate::disk::FolderIncludes;
use crate::plan_defaults::PlanDefaults;

/// The digests of everything that was read for a plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Inputs {
    /// SHA-256 of the plan file, in hexadecimal.
    pub plan: String,
    /// The included files, in the order of the plan.
    pub includes: Vec<Include>,
    /// SHA-256 of the profiles that say something for plans, if any does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub profiles: Option<String>,
}

/// An included file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Include {
    /// Path below the plan's folder, as the plan writes it.
    pub path: String,
    /// SHA-256 of its content; `null` where it cannot be read.
    pub sha256: Option<String>,
}

impl Inputs {
    /// What a plan is made from now, if it still includes the files that it included before. Only a plan file that has
    /// changed can include others.
    pub fn now(
        file: &Path,
        bytes: &[u8],
        defaults: &PlanDefaults,
        before: Option<&Inputs>,
    ) -> Self {
        let reader = FolderIncludes::of_plan(file);
        let now = |include: &Include| Include {
            path: include.path.clone(),
            sha256: reader.read(&include.path).ok().map(|bytes| sha256(&bytes)),
        };
        Self {
            plan: sha256(bytes),
            includes: before
                .iter()
                .flat_map(|inputs| &inputs.includes)
                .map(now)
                .collect(),
            profiles: defaults.digest(),
        }
    }

    /// What has changed since `before`, in a few words.
    pub fn changed_since(&self, before: &Inputs) -> Option<String> {
        if self.plan != before.plan {
            return Some("the plan has changed".to_owned());
        }
        if self.profiles != before.profiles {
            return Some("what a profile says for plans has changed".to_owned());
        }
        let now = self.includes.iter();
        let changed = now
            .zip(&before.includes)
            .find(|(now, before)| now != before)?;
        Some(format!("`{}` has changed", changed.0.path))
    }

    /// One digest of all.
    pub fn digest(&self) -> String {
        // Plain structs of texts: their JSON is the same everywhere.
        sha256(&serde_json::to_vec(self).unwrap_or_default())
    }
}

/// Reads included files and keeps their digests.
pub struct Recording {
    reader: FolderIncludes,
    seen: RefCell<Vec<Include>>,
}

impl Recording {
    /// For a plan file.
    pub fn of_plan(file: &Path) -> Self {
        Self {
            reader: FolderIncludes::of_plan(file),
            seen: RefCell::default(),
        }
    }

    /// What was read, with the plan file itself.
    pub fn inputs(self, plan: &[u8], defaults: &PlanDefaults) -> Inputs {
        Inputs {
            plan: sha256(plan),
            includes: self.seen.into_inner(),
            profiles: defaults.digest(),
        }
    }
}

impl IncludeReader for Recording {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        let read = self.reader.read(path);
        self.seen.borrow_mut().push(Include {
            path: path.to_owned(),
            sha256: read.as_ref().ok().map(|bytes| sha256(bytes)),
        });
        read
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_change_of_a_byte_is_seen() {
        let folder = tempfile::tempdir().unwrap();
        let none = PlanDefaults::default();
        let file = folder.path().join("plan.yaml");
        std::fs::write(folder.path().join("tray.yaml"), "a").unwrap();
        let recording = Recording::of_plan(&file);
        recording.read("tray.yaml").unwrap();
        recording.read("none.yaml").unwrap_err();
        let before = recording.inputs(b"x", &PlanDefaults::default());
        let same = Inputs::now(&file, b"x", &none, Some(&before));
        assert_eq!(same, before);
        assert_eq!(same.digest(), before.digest());
        assert_eq!(same.changed_since(&before), None);
        let other = Inputs::now(&file, b"x # a comment", &none, Some(&before));
        assert_ne!(other.digest(), before.digest());
        assert_eq!(
            other.changed_since(&before).unwrap(),
            "the plan has changed"
        );
        for change in ["tray.yaml", "none.yaml"] {
            std::fs::write(folder.path().join(change), "b").unwrap();
            let now = Inputs::now(&file, b"x", &none, Some(&before));
            assert_ne!(now.digest(), before.digest());
        }
        let now = Inputs::now(&file, b"x", &none, Some(&before));
        assert_eq!(
            now.changed_since(&before).unwrap(),
            "`tray.yaml` has changed"
        );
    }
}
