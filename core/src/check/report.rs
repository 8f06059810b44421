//! Where checks tell what they find: severities and limits of the plan apply here, and what the author accepts is left out.

use std::collections::{BTreeMap, BTreeSet};

use super::{CheckKind, Group, Piece, Scene};
use crate::diag::{Finding, Findings, MOST_FINDINGS, Severity};
use crate::feature::fact::Fact;
use crate::plan::{Acceptance, Part, Plan, Stock};
use crate::source::Span;
use crate::units::Unit;

/// Where checks tell what they find.
#[derive(Debug)]
pub struct Report<'a> {
    plan: &'a Plan,
    kind: &'static CheckKind,
    severity: Severity,
    limit: f64,
    told: Vec<Told>,
    by_place: BTreeMap<Place, usize>,
    used: BTreeSet<Span>,
}

/// What is summed up: findings of one check that one place of the plan asks for, by the features that they are of. Holes
/// of a row are one mistake and not twenty.
type Place = (&'static str, Option<Span>, Vec<(String, usize)>);

/// A finding, and how many more there are like it.
#[derive(Debug)]
struct Told {
    first: Finding,
    last: String,
    count: usize,
}

impl Told {
    fn into_finding(self) -> Finding {
        let Self {
            mut first, count, ..
        } = self;
        if count > 1 {
            first.message = format!("{} (the first of {count} asked for here)", first.message);
        }
        first
    }
}

/// Whose place a finding is at: what the author accepts there holds for it.
#[derive(Debug, Clone, Copy)]
pub enum Owner<'a> {
    /// A stock.
    Stock(&'a Stock),
    /// A part as a whole.
    Part(&'a Part),
    /// A feature of a part, by its number.
    Feature(&'a Part, Option<usize>),
    /// An entry of `usage`.
    Usage(&'a [Acceptance]),
}

impl<'a> Owner<'a> {
    /// The part and the number of the feature, of a feature.
    fn feature(self) -> Option<(String, usize)> {
        match self {
            Owner::Feature(part, Some(index)) => Some((part.id.clone(), index)),
            _ => None,
        }
    }

    fn accepted(self) -> impl Iterator<Item = &'a Acceptance> {
        let (first, second): (&[Acceptance], &[Acceptance]) = match self {
            Owner::Usage(accepted) => (accepted, &[]),
            Owner::Stock(stock) => (&stock.accepted, &[]),
            Owner::Part(part) => (&part.accepted, &[]),
            Owner::Feature(part, feature) => {
                let own = feature.and_then(|index| part.features.get(index));
                (
                    own.map_or(&[], |feature| feature.accepted.as_slice()),
                    &part.accepted,
                )
            }
        };
        first.iter().chain(second)
    }
}

impl<'a> Report<'a> {
    pub(super) fn new(plan: &'a Plan) -> Self {
        Self {
            plan,
            kind: &NEEDLESS_ACCEPTANCE,
            severity: NEEDLESS_ACCEPTANCE.severity,
            limit: 0.0,
            told: Vec::new(),
            by_place: BTreeMap::new(),
            used: BTreeSet::new(),
        }
    }

    /// Makes ready for a check.
    pub(super) fn begin(&mut self, kind: &'static CheckKind) {
        let setting = self.plan.checks.iter().find(|set| set.code == kind.code);
        self.kind = kind;
        self.severity = setting
            .and_then(|set| set.severity)
            .unwrap_or(kind.severity);
        self.limit = super::limit_in(self.plan, kind);
    }

    /// The limit of this check in this plan, in its own unit.
    pub fn limit(&self) -> f64 {
        self.limit
    }

    /// The author's unit.
    pub fn unit(&self) -> Unit {
        self.plan.units
    }

    /// A length for people, in the author's unit.
    pub fn show(&self, mm: f64) -> String {
        self.plan.units.show(mm)
    }

    /// A finding of this check.
    pub fn finding(&self, span: Span, message: impl Into<String>) -> Finding {
        Finding::new(self.kind.code, self.severity, Some(span), message)
    }

    /// Tells a finding, unless the author accepts it at one of its places.
    pub fn tell(&mut self, owners: &[Owner], finding: Finding) {
        let code = self.kind.code;
        let accepted = owners
            .iter()
            .flat_map(|owner| owner.accepted())
            .find(|accepted| accepted.code == code);
        match accepted {
            Some(accepted) => {
                self.used.insert(accepted.span);
            }
            None => self.add(owners, finding),
        }
    }

    fn add(&mut self, owners: &[Owner], finding: Finding) {
        let features: Vec<_> = owners.iter().filter_map(|owner| owner.feature()).collect();
        if !owners.is_empty() && features.len() == owners.len() {
            let place = (finding.code, finding.span, features);
            if let Some(told) = self.by_place.get(&place).map(|at| &mut self.told[*at]) {
                if told.last != finding.message {
                    told.count += 1;
                    told.last = finding.message;
                }
                return;
            }
            if self.told.len() < MOST_FINDINGS {
                self.by_place.insert(place, self.told.len());
            }
        } else if self.told.iter().any(|told| told.first == finding) {
            return;
        }
        // As many as a list of findings takes.
        if self.told.len() < MOST_FINDINGS {
            self.told.push(Told {
                last: finding.message.clone(),
                first: finding,
                count: 1,
            });
        }
    }

    pub(super) fn into_findings(self) -> Findings {
        let mut findings = Findings::new();
        for told in self.told {
            findings.push(told.into_finding());
        }
        findings
    }
}

/// Runs last, when it is known which acceptances were needed.
pub(super) static NEEDLESS_ACCEPTANCE: CheckKind = CheckKind {
    code: "needless-acceptance",
    name: "a finding is accepted that does not occur",
    group: Group::Safety,
    severity: Severity::Note,
    measures: "entries of `accept` that no finding needed",
    limit: None,
    formula: None,
    source: "the plan itself",
    explanation: "An acceptance is printed on the plan with its reason. One that nothing needs tells the builder of a \
        trouble that is no longer there, and would hide it if it came back. Take it away.",
    example: "- groove: {along: width, from: {bottom: 20}, width: 6, depth: 4, accept: {groove-too-deep: it holds}}",
    run: |_, report| needless(report),
};

fn needless(report: &mut Report) {
    let plan = report.plan;
    for (place, accepted) in plan.acceptances() {
        if !report.used.contains(&accepted.span) {
            let finding = report
                .finding(
                    accepted.span,
                    format!(
                        "`{}` is accepted here ({place}), and there is none",
                        accepted.code
                    ),
                )
                .fix("take it away");
            report.add(&[], finding);
        }
    }
}

impl<'a> Scene<'a> {
    /// Every part with each of its facts and the number of the feature that knows it; mirror images are left out.
    pub fn facts<'s>(&'s self) -> impl Iterator<Item = (&'s Piece<'a>, usize, &'s Fact)> {
        self.pieces().flat_map(|piece| {
            piece
                .facts
                .iter()
                .map(move |(feature, fact)| (piece, *feature, fact))
        })
    }
}
