//! The contract between the pipeline and the formats.
//!
//! An exporter is a type with an id, documented options and a pure function from an [`ExportInput`] to
//! [`Artifact`]s. It sees no disk, clock or terminal. [`AnyExporter`] is the same contract with the type of the options
//! rubbed out, which is what a registry holds; every [`Exporter`] is one.

mod options;

pub use options::{OptionFault, OptionSpec, Setting, settle_values, specs_of};

use schemars::JsonSchema;
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::diag::Findings;
use crate::plan::Plan;
use crate::sheets::{self, Arrangement};
use crate::workpiece::Workpiece;

/// What an exporter works on, so that no stage runs that nobody asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// One part at a time: it may be handed any choice of parts, one by one or together, with the same result.
    Part,
    /// The whole plan at once.
    Plan,
    /// The whole plan at once, its parts arranged on sheets.
    Sheet,
}

/// What is known of the run and may be printed.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Stamp {
    /// The program and its version.
    pub tool: String,
    /// Seconds since 1970-01-01 UTC, only when the user gave a date; nothing reads a clock.
    pub date: Option<i64>,
}

impl Stamp {
    /// A stamp with the user's date, if one was given.
    pub fn new(tool: impl Into<String>, date: Option<i64>) -> Self {
        Self {
            tool: tool.into(),
            date,
        }
    }
}

/// What an exporter is given.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct ExportInput<'a> {
    /// The resolved plan.
    pub plan: &'a Plan,
    /// The chosen parts with their work, in the order of the plan.
    pub workpieces: &'a [Workpiece],
    /// What may be printed about the run.
    pub stamp: &'a Stamp,
    /// The parts on sheets, for exporters that asked for it with [`Exporter::arranging`].
    pub sheets: Option<&'a Arrangement>,
}

impl<'a> ExportInput<'a> {
    /// Joins what an exporter needs.
    pub fn new(plan: &'a Plan, workpieces: &'a [Workpiece], stamp: &'a Stamp) -> Self {
        Self {
            plan,
            workpieces,
            stamp,
            sheets: None,
        }
    }

    /// Adds the parts on sheets.
    #[must_use]
    pub fn on_sheets(self, sheets: &'a Arrangement) -> Self {
        Self {
            sheets: Some(sheets),
            ..self
        }
    }
}

/// A file that is to be, before it reaches the disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Artifact {
    /// Path below the exporter's own folder, with `/` between names: `door.back.dxf`.
    pub path: String,
    /// IANA media type, or the format's usual one.
    pub media_type: &'static str,
    /// The part that it shows; `None` where it shows several.
    pub part: Option<String>,
    /// Its content.
    pub bytes: Vec<u8>,
}

/// Why an exporter failed although nothing was wrong with the plan that `vet` could see.
#[derive(Debug, thiserror::Error)]
#[error("{exporter}: {message}")]
pub struct ExportError {
    /// Id of the exporter.
    pub exporter: &'static str,
    /// What happened.
    pub message: String,
}

/// One format.
pub trait Exporter: Send + Sync {
    /// What the user can choose. Every field has a default and a doc comment; both are shown by `jigless formats`.
    type Options: Serialize + DeserializeOwned + Default + JsonSchema + Send + Sync;

    /// Short name in kebab case; also the name of its output folder.
    fn id(&self) -> &'static str;

    /// One line on what it makes.
    fn summary(&self) -> &'static str;

    /// What it works on, when nothing is set.
    fn stage(&self) -> Stage;

    /// Whether it is of use for a plan. A run in which the user names no format makes those that suit; a format that is
    /// named is made of any plan. What does not say otherwise suits every plan; what does says in its summary which.
    fn suits(&self, _plan: &Plan) -> bool {
        true
    }

    /// Options that had another name in an earlier version: that name, and today's. It is refused, and today's is named.
    fn renamed_options(&self) -> &'static [(&'static str, &'static str)] {
        &[]
    }

    /// How parts are to be arranged on sheets, if these options ask for it; nothing is arranged that nobody asked for.
    /// The exporter is then handed all chosen parts at once ([`Stage::Sheet`]) with [`ExportInput::sheets`].
    fn arranging(&self, _options: &Self::Options) -> Option<sheets::Settings> {
        None
    }

    /// What the format cannot express of this plan. Errors stop the whole run before anything is written.
    fn vet(&self, _input: &ExportInput, _options: &Self::Options) -> Findings {
        Findings::new()
    }

    /// Makes the files. The same input gives the same bytes.
    ///
    /// # Errors
    /// When a library that writes the format fails.
    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError>;
}

/// An [`Exporter`] whose options are still to be read.
pub trait AnyExporter: Send + Sync {
    /// Short name in kebab case.
    fn id(&self) -> &'static str;
    /// One line on what it makes.
    fn summary(&self) -> &'static str;
    /// What it works on.
    fn stage(&self) -> Stage;
    /// Its options in alphabetical order.
    fn options(&self) -> Vec<OptionSpec>;
    /// See [`Exporter::renamed_options`].
    fn renamed_options(&self) -> &'static [(&'static str, &'static str)] {
        &[]
    }
    /// JSON Schema (2020-12) of its options.
    fn options_schema(&self) -> serde_json::Value;
    /// Settles the options: the defaults, then each setting in order.
    ///
    /// # Errors
    /// Every setting that is unknown or does not fit.
    fn configure(&self, settings: &[Setting])
    -> Result<Box<dyn Configured + '_>, Vec<OptionFault>>;
}

/// An exporter whose options are settled.
pub trait Configured: Send + Sync {
    /// Short name in kebab case.
    fn id(&self) -> &'static str;
    /// What it works on with these options.
    fn stage(&self) -> Stage;
    /// See [`Exporter::suits`].
    fn suits(&self, _plan: &Plan) -> bool {
        true
    }
    /// See [`Exporter::arranging`].
    fn arranging(&self) -> Option<sheets::Settings>;
    /// The options in force, as JSON.
    fn options(&self) -> serde_json::Value;
    /// See [`Exporter::vet`].
    fn vet(&self, input: &ExportInput) -> Findings;
    /// See [`Exporter::export`].
    ///
    /// # Errors
    /// As [`Exporter::export`].
    fn export(&self, input: &ExportInput) -> Result<Vec<Artifact>, ExportError>;
}

impl<E: Exporter> AnyExporter for E {
    fn id(&self) -> &'static str {
        Exporter::id(self)
    }

    fn summary(&self) -> &'static str {
        Exporter::summary(self)
    }

    fn stage(&self) -> Stage {
        Exporter::stage(self)
    }

    fn options(&self) -> Vec<OptionSpec> {
        options::specs::<E::Options>()
    }

    fn renamed_options(&self) -> &'static [(&'static str, &'static str)] {
        Exporter::renamed_options(self)
    }

    fn options_schema(&self) -> serde_json::Value {
        options::schema::<E::Options>()
    }

    fn configure(
        &self,
        settings: &[Setting],
    ) -> Result<Box<dyn Configured + '_>, Vec<OptionFault>> {
        let options = options::settle::<E::Options>(settings, Exporter::renamed_options(self))?;
        Ok(Box::new(WithOptions {
            exporter: self,
            options,
        }))
    }
}

struct WithOptions<'a, E: Exporter> {
    exporter: &'a E,
    options: E::Options,
}

impl<E: Exporter> Configured for WithOptions<'_, E> {
    fn id(&self) -> &'static str {
        Exporter::id(self.exporter)
    }

    fn stage(&self) -> Stage {
        if self.arranging().is_some() {
            Stage::Sheet
        } else {
            Exporter::stage(self.exporter)
        }
    }

    fn suits(&self, plan: &Plan) -> bool {
        self.exporter.suits(plan)
    }

    fn arranging(&self) -> Option<sheets::Settings> {
        self.exporter.arranging(&self.options)
    }

    fn options(&self) -> serde_json::Value {
        serde_json::to_value(&self.options).unwrap_or_default()
    }

    fn vet(&self, input: &ExportInput) -> Findings {
        self.exporter.vet(input, &self.options)
    }

    fn export(&self, input: &ExportInput) -> Result<Vec<Artifact>, ExportError> {
        self.exporter.export(input, &self.options)
    }
}
