//! Findings: what is wrong with a plan, where, by how much, and what to do about it.

pub use crate::code::Severity;

use std::collections::{BTreeMap, BTreeSet};
use std::hash::{DefaultHasher, Hash, Hasher};

use crate::code::Code;
use crate::source::Span;

/// A further place that belongs to a finding, with what is to be seen there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// The place.
    pub span: Span,
    /// What is there, in a few words.
    pub text: String,
}

/// One name of the plan language that was changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Renamed {
    /// The name before.
    pub old: &'static str,
    /// The name now.
    pub now: &'static str,
    /// Where it stands, in words.
    pub place: &'static str,
}

/// A figure that was measured beside the wanted one, each with its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figures {
    /// What was measured: `2 mm`.
    pub measured: String,
    /// What is wanted instead: `at least 6 mm`.
    pub wanted: String,
}

/// What of the furniture a finding is of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Subject {
    /// Id of the part.
    pub part: String,
    /// The feature: its label, or the key of its kind.
    pub feature: Option<String>,
    /// The numbers that its work has on the template: `H1`; those that the message names, where it names any.
    pub work: Vec<String>,
}

/// What is known of a finding besides its words.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Details {
    /// What it is of, where it is of one part.
    pub subject: Option<Subject>,
    /// What was measured and what is wanted instead, where each is one figure.
    pub figures: Option<Figures>,
}

/// One thing that was found, with its place and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// Stable name in kebab case; it names the offence and is never used again for another one.
    pub code: Code,
    /// How much it matters.
    pub severity: Severity,
    /// The place; `None` where no text is to blame (an exporter option on the command line, say).
    pub span: Option<Span>,
    /// What is wrong, with the numbers.
    pub message: String,
    /// What it is of, and its figures.
    pub details: Box<Details>,
    /// What to do about it.
    pub fix: Option<Box<str>>,
    /// What stands at the place by its old name, where writing its present one is all there is to do.
    pub renamed: Option<&'static Renamed>,
    /// Other places that belong to it.
    pub labels: Vec<Label>,
}

impl Finding {
    /// A finding that stops the export.
    pub fn error(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Error, Some(span), message)
    }

    /// A finding that lets the export go on.
    pub fn warning(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Warning, Some(span), message)
    }

    /// A finding with every choice open.
    pub fn new(
        code: Code,
        severity: Severity,
        span: Option<Span>,
        message: impl Into<String>,
    ) -> Self {
        Self {
            code,
            severity,
            span,
            message: message.into(),
            details: Box::default(),
            fix: None,
            renamed: None,
            labels: Vec::new(),
        }
    }

    /// Sets the measured figure beside the wanted one, each with its unit.
    #[must_use]
    pub fn figures(mut self, measured: impl Into<String>, wanted: impl Into<String>) -> Self {
        self.details.figures = Some(Figures {
            measured: measured.into(),
            wanted: wanted.into(),
        });
        self
    }

    /// Says what to do.
    #[must_use]
    pub fn fix(mut self, fix: impl Into<String>) -> Self {
        self.fix = Some(fix.into().into_boxed_str());
        self
    }

    /// Says that an old name stands at the place, and that its present one belongs there.
    #[must_use]
    pub fn renamed(mut self, renamed: &'static Renamed) -> Self {
        self.renamed = Some(renamed);
        self
    }

    /// What it says, at its place, as a number.
    fn digest(&self) -> u64 {
        digest((self.code, self.span, self.message.as_str()))
    }

    /// Points at one more place.
    #[must_use]
    pub fn label(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label {
            span,
            text: text.into(),
        });
        self
    }
}

/// How many findings one list takes.
pub const MOST_FINDINGS: usize = 1000;

/// How many findings are counted that a list has no room for.
pub const MOST_COUNTED: usize = 100_000;

/// The findings of one or more stages.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Findings {
    list: Vec<Finding>,
    /// What those say that the list has, as digests, once it is full.
    listed: BTreeSet<u64>,
    /// Whether the list is full, and of errors alone.
    only_errors: bool,
    /// What those say that it has no room for, so that each counts once.
    left_out: BTreeMap<u64, Severity>,
}

impl Findings {
    /// An empty list.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a finding, unless the very same one is there already. Beyond [`MOST_FINDINGS`] they are counted and no more:
    /// nobody reads them, and a hostile file must not make the list grow without end. An error then takes the place of a
    /// finding that is none, so that what stops the export is always among what is reported.
    pub fn push(&mut self, finding: Finding) {
        if self.list.len() < MOST_FINDINGS {
            if !self.list.contains(&finding) {
                self.list.push(finding);
            }
            return;
        }
        if self.only_errors && self.left_out.len() == MOST_COUNTED {
            return;
        }
        if self.listed.is_empty() {
            self.listed = self.list.iter().map(Finding::digest).collect();
        }
        let digest = finding.digest();
        if self.listed.contains(&digest) {
            return;
        }
        let is_error = |finding: &Finding| finding.severity == Severity::Error;
        let lesser = if is_error(&finding) && !self.only_errors {
            let lesser = self.list.iter().rposition(|other| !is_error(other));
            self.only_errors = lesser.is_none();
            lesser
        } else {
            None
        };
        let Some(lesser) = lesser else {
            self.count_left_out(finding.severity, digest);
            return;
        };
        let extra = std::mem::replace(&mut self.list[lesser], finding);
        self.listed.remove(&extra.digest());
        self.listed.insert(digest);
        self.left_out.remove(&digest);
        self.count_left_out(extra.severity, extra.digest());
    }

    /// Counts a finding without keeping it; one that says the same was counted already.
    pub fn leave_out(&mut self, severity: Severity, says: impl Hash) {
        self.count_left_out(severity, digest(says));
    }

    fn count_left_out(&mut self, severity: Severity, digest: u64) {
        if self.left_out.len() < MOST_COUNTED {
            self.left_out.insert(digest, severity);
        }
    }

    /// How many there are beside those that are listed, up to [`MOST_COUNTED`].
    pub fn left_out(&self) -> usize {
        self.left_out.len()
    }

    /// Adds all findings of another list.
    pub fn extend(&mut self, other: Findings) {
        for finding in other.list {
            self.push(finding);
        }
        for (digest, severity) in other.left_out {
            self.count_left_out(severity, digest);
        }
    }

    /// The same findings, each said in another way.
    #[must_use]
    pub fn each(&self, other: impl FnMut(&Finding) -> Finding) -> Findings {
        let mut all = Findings::new();
        for finding in self.list.iter().map(other) {
            all.push(finding);
        }
        all.left_out.extend(&self.left_out);
        all
    }

    /// Whether one of them stops the export.
    pub fn has_errors(&self) -> bool {
        self.count(Severity::Error) > 0
    }

    /// How many there are of one severity, with those that are left out.
    pub fn count(&self, severity: Severity) -> usize {
        let listed = self.list.iter().map(|finding| finding.severity);
        let all = listed.chain(self.left_out.values().copied());
        all.filter(|of| *of == severity).count()
    }

    /// How many are listed.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// In order of file and place; findings without a place come first.
    pub fn sorted(mut self) -> Vec<Finding> {
        self.list
            .sort_by(|a, b| (a.span, a.code, &a.message).cmp(&(b.span, b.code, &b.message)));
        self.list
    }

    /// In the order in which they were found.
    pub fn iter(&self) -> impl Iterator<Item = &Finding> {
        self.list.iter()
    }
}

impl From<Finding> for Findings {
    fn from(finding: Finding) -> Self {
        Self {
            list: vec![finding],
            ..Self::default()
        }
    }
}

fn digest(says: impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    says.hash(&mut hasher);
    hasher.finish()
}

/// Longer words, in letters, are not compared: nobody misspells one.
const LONGEST_COMPARED: usize = 80;

/// So many words of about the same length are compared, so that the findings of thousands of wrong names come in time.
const MOST_COMPARED: usize = 300;

/// The allowed word nearest to `word`, if one is near enough to be meant.
pub fn nearest<'a>(word: &str, allowed: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let letters = word.chars().count();
    if letters > LONGEST_COMPARED {
        return None;
    }
    let lower = word.to_lowercase();
    allowed
        .into_iter()
        .filter_map(|candidate| {
            let own = candidate.chars().count();
            // Of two letters nothing is left to guess from: `cm` is not a misspelt `mm`.
            let most = match own.min(letters) {
                0..=2 => 0,
                shorter => 1 + shorter / 4,
            };
            (own.abs_diff(letters) <= most).then_some((candidate, most))
        })
        .take(MOST_COMPARED)
        .filter_map(|(candidate, most)| {
            let distance = strsim::damerau_levenshtein(&lower, &candidate.to_lowercase());
            (distance <= most).then_some((distance, candidate))
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Sources;

    fn warning(span: Span, number: usize) -> Finding {
        Finding::warning(Code::declare("thin"), span, format!("thin {number}"))
    }

    #[test]
    fn what_a_list_has_no_room_for_is_counted_once_and_an_error_is_always_listed() {
        let file = Sources::default().add("plan.yaml", "a: 1");
        let (start, end) = (0, 4);
        let span = Span { file, start, end };
        let mut findings = Findings::new();
        for number in (0..MOST_FINDINGS + 5).chain(0..MOST_FINDINGS + 5) {
            findings.push(warning(span, number));
        }
        assert_eq!((findings.len(), findings.left_out()), (MOST_FINDINGS, 5));
        assert_eq!(findings.count(Severity::Warning), MOST_FINDINGS + 5);
        assert!(!findings.has_errors());

        let error = Finding::error(Code::declare("gone"), span, "nothing is left");
        findings.push(error.clone());
        assert_eq!((findings.len(), findings.left_out()), (MOST_FINDINGS, 6));
        assert!(findings.iter().any(|finding| *finding == error));

        for number in 0..2 * MOST_COUNTED {
            findings.push(warning(span, number));
        }
        assert_eq!(findings.left_out(), MOST_COUNTED);
        let mut sum = Findings::from(error);
        sum.extend(findings.each(Finding::clone));
        assert_eq!((sum.len(), sum.left_out()), (MOST_FINDINGS, MOST_COUNTED));
    }

    #[test]
    fn a_misspelt_word_finds_its_neighbour() {
        let words = ["diameter", "depth", "face", "at"];
        assert_eq!(nearest("diamter", words), Some("diameter"));
        assert_eq!(nearest("Depth", words), Some("depth"));
        assert_eq!(nearest("colour", words), None);
        assert_eq!(nearest("cm", ["mm", "in"]), None);
    }
}
