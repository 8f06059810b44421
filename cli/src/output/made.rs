//! What is to be written of one plan.

use std::collections::{BTreeMap, BTreeSet};

use jigless_core::export::Artifact;

use super::refusal::internal;
use crate::digest::sha256;
use crate::exit::Problem;
use crate::inputs::Inputs;
use crate::manifest::{ExporterRecord, FileRecord, PlanRecord};
use crate::paths::{check_relative, folded};

/// A file that is to be, and the format that made it.
#[derive(Debug)]
pub struct MadeFiles {
    /// Id of the exporter.
    pub exporter: &'static str,
    /// The file.
    pub artifact: Artifact,
}

/// What a run says of a plan, its files apart.
#[derive(Debug)]
pub struct About {
    /// The program and its version.
    pub tool: String,
    /// The plan.
    pub plan: PlanRecord,
    /// What the plan was read from.
    pub inputs: Inputs,
    /// The formats of the run, with their options in force.
    pub exporters: Vec<ExporterRecord>,
    /// Those of them whose files are as they should be and were not made again.
    pub kept: BTreeSet<String>,
    /// The parts of the plan that the run left out, so that their files stay.
    pub other_parts: BTreeSet<String>,
}

/// What is to be written of one plan.
#[derive(Debug)]
pub struct Output {
    pub(super) about: About,
    pub(super) files: BTreeMap<String, (FileRecord, Vec<u8>)>,
}

impl Output {
    /// Gathers the files of a plan.
    ///
    /// # Errors
    /// When an exporter gives a path that may not be, or two files would have one name. Either is a fault of the
    /// program.
    pub fn new(about: About, made: Vec<MadeFiles>) -> Result<Self, Problem> {
        let mut files = BTreeMap::new();
        let mut origins: BTreeMap<String, String> = BTreeMap::new();
        for MadeFiles { exporter, artifact } in made {
            let origin = match &artifact.part {
                Some(part) => format!("{exporter} for part {part}"),
                None => exporter.to_owned(),
            };
            let path = format!("{exporter}/{}", artifact.path);
            if let Err(reason) = check_relative(&path) {
                return Err(internal(&format!(
                    "{origin} gave the path `{path}`: {reason}"
                )));
            }
            if let Some(other) = origins.insert(folded(&path), origin.clone()) {
                return Err(internal(&format!(
                    "{other} and {origin} both made `{path}`"
                )));
            }
            let record = FileRecord {
                path: path.clone(),
                bytes: artifact.bytes.len() as u64,
                sha256: sha256(&artifact.bytes),
                exporter: exporter.to_owned(),
                part: artifact.part,
                earlier_plan: None,
            };
            files.insert(path, (record, artifact.bytes));
        }
        Ok(Self { about, files })
    }

    /// How many files there are, without the manifest.
    pub fn len(&self) -> usize {
        self.files.len()
    }

    /// The files: the id of the format and the path below the plan's folder.
    pub fn paths(&self) -> impl Iterator<Item = (&str, &str)> {
        let records = self.files.values().map(|(record, _)| record);
        records.map(|record| (record.exporter.as_str(), record.path.as_str()))
    }

    /// The records of the files.
    pub(super) fn records(&self) -> Vec<FileRecord> {
        let records = self.files.values().map(|(record, _)| record);
        records.cloned().collect()
    }
}
