//! What a site says of a plan, kept beside its files: made again only when one of them is another one.

use std::path::Path;

use serde::{Deserialize, Serialize};

use crate::date::parse_date;
use crate::disk::read_text;
use crate::exit::Problem;
use crate::find::PlanAt;
use crate::styled::shown;

/// Name of the record.
pub(super) const RECORD: &str = "about.json";

/// What a site says of a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct About {
    /// What it was made from: a digest of the program and of all records of files.
    pub(super) key: String,
    /// Name of its folder below that of the plans.
    pub name: String,
    /// What it is called.
    pub title: String,
    /// Who made it.
    pub author: Option<String>,
    /// The author's revision.
    pub revision: Option<String>,
    /// What changed in it in the author's words, a line each.
    pub notes: Vec<String>,
    /// The licence.
    pub licence: Option<String>,
    /// The plan's digest.
    pub digest: String,
    /// Width, height and depth in words; nothing where no part has a place.
    pub size: Option<String>,
    /// Its width in millimetres.
    pub width_mm: Option<f64>,
    /// How many pieces it has.
    pub pieces: u32,
    /// What it is made of.
    pub materials: Vec<String>,
    /// The picture, by its address below the plan's folder.
    pub picture: Option<String>,
    /// The page to read, likewise.
    pub page: Option<String>,
    /// The booklet to print, likewise.
    pub booklet: Option<String>,
    /// All files in one.
    pub zip: Zip,
    /// Earlier revisions, the latest first.
    pub earlier: Vec<Earlier>,
}

/// All files of a plan in one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Zip {
    /// Its name in the plan's folder.
    pub name: String,
    /// Its size.
    pub bytes: u64,
    /// SHA-256 in hexadecimal.
    pub sha256: String,
}

/// An earlier revision.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Earlier {
    /// The name of its folder below `revisions`.
    pub name: String,
    /// The author's revision.
    pub revision: Option<String>,
    /// The plan's digest.
    pub digest: String,
    /// What changed from it to the one after it, a line each.
    pub changes: Vec<String>,
    /// Its sheets of templates that are as they are now, in words.
    pub good: Vec<String>,
    /// Those that are not.
    pub bad: Vec<String>,
}

impl About {
    /// Reads the record of a plan.
    ///
    /// # Errors
    /// When there is none.
    pub fn read(plans: &Path, plan: &PlanAt) -> Result<Self, Problem> {
        let file = plans.join(&plan.name).join(RECORD);
        let unusable = |reason: String| Problem::disk(format!("{}: {reason}", shown(&file)));
        let bytes = read_text(&file).map_err(unusable)?;
        serde_json::from_slice(&bytes).map_err(|error| unusable(error.to_string()))
    }

    /// The date of this revision in seconds since 1970-01-01 UTC, where it is called by it.
    pub fn date(&self) -> Option<i64> {
        dated(self.revision.as_deref()?)
    }
}

impl Earlier {
    /// As [`About::date`]; the name of its file counts, too.
    pub fn date(&self) -> Option<i64> {
        let revision = self.revision.as_deref().and_then(dated);
        revision.or_else(|| dated(&self.name))
    }

    /// What it is called.
    pub fn title(&self) -> &str {
        self.revision.as_deref().unwrap_or(&self.name)
    }
}

/// The day that a text begins with: `2026-03-31`, `2026-03-31-b`.
fn dated(text: &str) -> Option<i64> {
    parse_date(text.get(..10)?).ok()
}
