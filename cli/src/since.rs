//! What an earlier print was, so that only sheets that changed are printed.

use std::fs;
use std::path::{Path, PathBuf};

use jigless_exporters::EXPORTERS;

use crate::args::{ChoiceArgs, SetArg};
use crate::disk::in_words;
use crate::exit::{Exit, Problem};
use crate::styled::shown;

/// The option of a format that takes the record of an earlier print.
const OPTION: &str = "since";
/// The file that such a format writes beside its pages.
const RECORD: &str = "sheets.json";

/// The settings by which the formats of a run make only what changed since an earlier one.
///
/// # Errors
/// When there is no record of an earlier print, or no format of the run prints sheets.
pub fn settings(choice: &ChoiceArgs, since: Option<&Path>) -> Result<Vec<SetArg>, Problem> {
    let Some(place) = since else {
        return Ok(Vec::new());
    };
    let mut sets = Vec::new();
    let mut asked = false;
    for exporter in EXPORTERS {
        let chosen = choice.to.is_empty() || choice.to.iter().any(|id| id == exporter.id());
        if !chosen || !exporter.options().iter().any(|spec| spec.key == OPTION) {
            continue;
        }
        asked = true;
        if let Some(file) = record(place, exporter.id()) {
            let text = fs::read_to_string(&file).map_err(|error| {
                Problem::disk(format!(
                    "{} cannot be read: {}",
                    shown(&file),
                    in_words(&error)
                ))
            })?;
            let value: serde_json::Value = serde_json::from_str(&text).map_err(|error| {
                let message = format!("{} is no record of sheets: {error}", shown(&file));
                Problem::new(Exit::Faulty, message).fix("print all sheets, without --since")
            })?;
            sets.push(SetArg {
                format: exporter.id().to_owned(),
                option: OPTION.to_owned(),
                value: value.to_string(),
            });
        }
    }
    if !asked {
        let message =
            "`--since` leaves out what is still good on paper, and no such format is made";
        return Err(Problem::usage(message).fix("leave --since out"));
    }
    if sets.is_empty() {
        let message = format!("{} holds no record of an earlier print", shown(place));
        return Err(Problem::usage(message).fix(
            "name the folder of the plan below the output folder, its manifest.json, or a sheets.json",
        ));
    }
    Ok(sets)
}

/// The record that a folder, a manifest or a record stands for.
fn record(place: &Path, format: &str) -> Option<PathBuf> {
    let is_record = place.file_name().is_some_and(|name| name == RECORD);
    if is_record && place.is_file() {
        return Some(place.to_owned());
    }
    let folder = if place.is_dir() {
        place
    } else {
        place.parent()?
    };
    let tries = [folder.join(format).join(RECORD), folder.join(RECORD)];
    tries.into_iter().find(|file| file.is_file())
}
