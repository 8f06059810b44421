//! What the user can choose of a document, whatever shows it.

use jigless_model::diag::Findings;
use jigless_model::language::Language;
use jigless_model::plan::Plan;
use jigless_words::{ENGLISH, GERMAN, Words};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::drawing::Tint;
use crate::drawing::measure::PaperUnits;
use crate::option_check;
use crate::saw_options::SawOptions;

/// The language of a document: the plan's own, or another. What the author wrote stays as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub enum DocumentLanguage {
    /// That of the plan, and English where it names none.
    #[default]
    #[serde(rename = "plan")]
    Plan,
    /// English.
    #[serde(rename = "en")]
    English,
    /// German.
    #[serde(rename = "de")]
    German,
}

impl DocumentLanguage {
    /// Its words.
    pub(crate) fn words(self, plan: &Plan) -> &'static Words {
        let language = match self {
            DocumentLanguage::Plan => plan.language.unwrap_or(Language::English),
            DocumentLanguage::English => Language::English,
            DocumentLanguage::German => Language::German,
        };
        match language {
            Language::English => &ENGLISH,
            Language::German => &GERMAN,
        }
    }
}

/// What can be chosen of a document.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct DocumentOptions {
    /// Language of all words that are not the author's: `en`, `de`, or `plan` for what the plan says under `language`.
    pub language: DocumentLanguage,
    /// Units of the numbers. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Inks: greys, or a tint for each material; lines are always black.
    pub inks: Tint,
    /// How sheets and boards are sawn.
    #[serde(flatten)]
    pub saw: SawOptions,
}

impl Default for DocumentOptions {
    fn default() -> Self {
        Self {
            language: DocumentLanguage::Plan,
            units: PaperUnits::Plan,
            fractions: 64,
            inks: Tint::Colour,
            saw: SawOptions::default(),
        }
    }
}

impl DocumentOptions {
    /// What cannot be.
    pub(crate) fn faults(&self) -> Findings {
        let mut findings = Findings::new();
        option_check::fractions("fractions", self.fractions, &mut findings);
        self.saw.vet(&mut findings);
        findings
    }
}
