//! The printers that were measured, kept in a file of the user's configuration folder.

use std::collections::BTreeMap;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;
use jigless_exporters::{EXPORTERS, PrinterCorrection, Readings};
use serde::{Deserialize, Serialize};

use crate::args::{ChoiceArgs, SetArg};
use crate::disk::in_words;
use crate::exit::{Exit, Problem};
use crate::styled::shown;
use crate::write::replace;

/// The options of a format whose pages can be corrected: the printer's name, and what is drawn across and along the
/// feed for each millimetre meant.
const OPTIONS: [&str; 3] = ["printer", "scale_across", "scale_feed"];
/// The longest name of a printer.
const LONGEST: usize = 40;

/// Every printer that was measured.
#[derive(Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Printers {
    printers: BTreeMap<String, Measured>,
}

/// What is kept of a printer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// What is drawn for each millimetre meant.
    #[serde(flatten)]
    pub correction: PrinterCorrection,
    /// What the bars measured; printers that were stored by an earlier version have none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub readings: Option<Readings>,
    /// The day of the readings, as the user gave it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<String>,
}

/// Where printers are kept: `jigless/printers.json` below `XDG_CONFIG_HOME` or `~/.config`, and below `%APPDATA%` on
/// Windows.
///
/// # Errors
/// When the user has no home folder.
fn file() -> Result<PathBuf, Problem> {
    let folders = etcetera::choose_base_strategy().map_err(|_| {
        Problem::disk("there is no home folder to keep printers in")
            .fix("set HOME or XDG_CONFIG_HOME")
    })?;
    Ok(folders.config_dir().join("jigless").join("printers.json"))
}

fn read(path: &Path) -> Result<Printers, Problem> {
    let bytes = match fs::read(path) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Printers::default()),
        Err(error) => {
            let message = format!("{} cannot be read: {}", shown(path), in_words(&error));
            return Err(Problem::disk(message));
        }
    };
    serde_json::from_slice(&bytes).map_err(|error| {
        let message = format!("{} is no list of printers: {error}", shown(path));
        Problem::new(Exit::Faulty, message).fix("remove the file, and measure the printer again")
    })
}

/// Keeps a printer's correction; gives the file that it is in.
///
/// # Errors
/// When the name cannot be printed, or the disk refuses.
pub fn store(name: &str, measured: Measured) -> Result<PathBuf, Problem> {
    let name = checked(name)?;
    let path = file()?;
    let mut printers = read(&path)?;
    printers.printers.insert(name.to_owned(), measured);
    let failed = |error: &std::io::Error| {
        Problem::disk(format!(
            "{} cannot be written: {}",
            shown(&path),
            in_words(error)
        ))
    };
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(|error| failed(&error))?;
    }
    let mut text = serde_json::to_string_pretty(&printers).unwrap_or_default();
    text.push('\n');
    replace(&path, text.as_bytes()).map_err(|error| failed(&error))?;
    Ok(path)
}

/// The correction of a printer.
///
/// # Errors
/// When it has not been measured, or the disk refuses.
pub fn load(name: &str) -> Result<PrinterCorrection, Problem> {
    let name = checked(name)?;
    let printers = read(&file()?)?.printers;
    if let Some(Measured { correction, .. }) = printers.get(name) {
        // The file may have been written by hand.
        let (across, feed) = (180.0 / correction.across, 250.0 / correction.feed);
        return PrinterCorrection::from_measured(across, feed)
            .map(|_| *correction)
            .map_err(|fault| Problem::new(Exit::Faulty, format!("printer `{name}`: {fault}")));
    }
    let message = format!("the printer `{name}` has not been measured");
    let known: Vec<&str> = printers.keys().map(String::as_str).collect();
    let fix = if known.is_empty() {
        "print a sheet with `jigless print-check`, measure it, and store both bars with --measured"
            .to_owned()
    } else {
        format!("measured are: {}", known.join(", "))
    };
    Err(Problem::usage(message).fix(fix))
}

/// A name that can be printed on a page.
fn checked(name: &str) -> Result<&str, Problem> {
    let name = name.trim();
    let fits = !name.is_empty() && name.chars().count() <= LONGEST;
    if fits && !name.chars().any(char::is_control) {
        return Ok(name);
    }
    let message = format!("a printer's name is 1 to {LONGEST} letters");
    Err(Problem::usage(message))
}

/// The settings by which the pages of a run are corrected for a printer. What is set on the command line itself overrides
/// them.
///
/// # Errors
/// As [`load`]; and when no format of the run prints pages.
pub fn corrections(choice: &ChoiceArgs, printer: Option<&str>) -> Result<Vec<SetArg>, Problem> {
    let Some(name) = printer else {
        return Ok(Vec::new());
    };
    let correction = load(name)?;
    let values = [
        name.trim().to_owned(),
        correction.across.to_string(),
        correction.feed.to_string(),
    ];
    let mut sets = Vec::new();
    for exporter in EXPORTERS {
        let chosen = choice.to.is_empty() || choice.to.iter().any(|id| id == exporter.id());
        let specs = exporter.options();
        let has = |key: &str| specs.iter().any(|spec| spec.key == key);
        if chosen && OPTIONS.iter().all(|key| has(key)) {
            sets.extend(OPTIONS.iter().zip(&values).map(|(option, value)| SetArg {
                format: exporter.id().to_owned(),
                option: (*option).to_owned(),
                value: value.clone(),
            }));
        }
    }
    if sets.is_empty() {
        let message = "`--printer` corrects what is printed, and no such format is made";
        return Err(Problem::usage(message).fix("leave --printer out"));
    }
    Ok(sets)
}
