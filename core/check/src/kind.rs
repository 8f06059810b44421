//! What a check is: what it is called, what it measures, why, and how it runs.

use jigless_model::check::{CheckName, CheckSetting, LimitUnit};
use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::plan::Plan;
use jigless_model::provenance::{Source, sentences};

use crate::report::Report;
use crate::scene::Scene;

/// What a check is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Whether the work can be done to the wood.
    Geometry,
    /// Whether parts go together.
    Fit,
    /// Whether screws and hardware hold.
    Fixing,
    /// Whether sanding and finish can be meant as they are said.
    Finish,
    /// Whether it bears what is asked of it: advice, never a rating.
    Strength,
    /// Whether somebody may be hurt: advice, which leaves the last word to the rules of the place.
    Safety,
}

impl Group {
    /// Every group in the order of the manual.
    pub const ALL: [Group; 6] = [
        Group::Geometry,
        Group::Fit,
        Group::Fixing,
        Group::Finish,
        Group::Strength,
        Group::Safety,
    ];

    /// Its name in the manual.
    pub const fn name(self) -> &'static str {
        match self {
            Group::Geometry => "Geometry",
            Group::Fit => "Fit",
            Group::Fixing => "Fixing",
            Group::Finish => "Finish",
            Group::Strength => "Strength",
            Group::Safety => "Safety",
        }
    }
}

/// What a check holds something against.
#[derive(Debug)]
pub struct Limit {
    /// The limit where the plan sets none: millimetres, or a bare number.
    pub default: f64,
    /// What the number is.
    pub unit: LimitUnit,
    /// What it limits.
    pub help: &'static str,
}

impl Limit {
    pub(crate) const fn length(default: f64, help: &'static str) -> Limit {
        Limit {
            default,
            unit: LimitUnit::Millimetres,
            help,
        }
    }

    pub(crate) const fn number(default: f64, help: &'static str) -> Limit {
        Limit {
            default,
            unit: LimitUnit::Number,
            help,
        }
    }
}

/// A check: what it is called, what it measures, why, and how it runs.
#[derive(Debug)]
pub struct CheckKind {
    /// Stable name in kebab case; it names the offence.
    pub code: Code,
    /// The offence in one line.
    pub name: &'static str,
    /// What it is about.
    pub group: Group,
    /// How much it matters where the plan says nothing else.
    pub severity: Severity,
    /// What is measured, and when.
    pub measures: &'static str,
    /// What it is held against, if that is one number.
    pub limit: Option<Limit>,
    /// How it is worked out, if that takes more than a comparison.
    pub formula: Option<&'static str>,
    /// Where the limit and the formula come from, and how sure that is.
    pub source: &'static [Source],
    /// Why it matters, and what to do.
    pub explanation: &'static str,
    /// A line of a plan that is found at fault.
    pub example: &'static str,
    pub(crate) run: fn(&Scene, &mut Report),
}

impl CheckKind {
    /// Where the limit and the formula come from, and how sure that is, in words.
    pub fn source_in_words(&self) -> String {
        sentences(self.source)
    }

    /// The check as far as a plan can name it.
    pub fn name_in_plans(&self) -> CheckName {
        CheckName {
            code: self.code,
            limit: self.limit.as_ref().map(|limit| limit.unit),
        }
    }

    /// How much it matters in a plan.
    pub(crate) fn severity_in(&self, plan: &Plan) -> Severity {
        let set = self.setting(plan).and_then(|set| set.severity);
        set.unwrap_or(self.severity)
    }

    /// Its limit in a plan, in its own unit; 0 for a check without one.
    pub(crate) fn limit_in(&self, plan: &Plan) -> f64 {
        let set = self.setting(plan).and_then(|set| set.limit);
        set.map(|limit| limit.value)
            .or(self.limit.as_ref().map(|limit| limit.default))
            .unwrap_or(0.0)
    }

    fn setting<'a>(&self, plan: &'a Plan) -> Option<&'a CheckSetting> {
        plan.checks.iter().find(|set| set.code == self.code)
    }
}
