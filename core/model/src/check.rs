//! What a plan may say of checks: which of them there are, what the author sets of each, and what is meant to be so.

use crate::code::Code;
use crate::diag::Severity;
use crate::source::{Span, Spanned};

/// What the number of a check's limit is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitUnit {
    /// A length in millimetres.
    Millimetres,
    /// A bare number.
    Number,
}

/// A check as far as a plan can name it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CheckName {
    /// Its code.
    pub code: Code,
    /// What its limit is; `None` for a check without one.
    pub limit: Option<LimitUnit>,
}

/// The checks that a plan may set and accept, in the order of the manual.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Catalogue {
    checks: Vec<CheckName>,
}

impl Catalogue {
    /// The check of a code.
    pub fn find(&self, code: &str) -> Option<CheckName> {
        let mut checks = self.checks.iter().copied();
        checks.find(|check| check.code == code)
    }

    /// Every code.
    pub fn codes(&self) -> impl Iterator<Item = &'static str> {
        self.checks.iter().map(|check| check.code.as_str())
    }
}

impl FromIterator<CheckName> for Catalogue {
    fn from_iter<I: IntoIterator<Item = CheckName>>(checks: I) -> Self {
        Self {
            checks: checks.into_iter().collect(),
        }
    }
}

/// A finding that the author accepts at its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Acceptance {
    /// Code of the check.
    pub code: Code,
    /// Why it is meant to be so, in the author's words.
    pub reason: String,
    /// Where the plan says so.
    pub span: Span,
}

/// What the plan sets of a check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CheckSetting {
    /// Code of the check.
    pub code: Code,
    /// How much it matters in this plan.
    pub severity: Option<Severity>,
    /// The limit in this plan: millimetres, or a bare number, as the check has it.
    pub limit: Option<Spanned<f64>>,
}
