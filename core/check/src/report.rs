//! Where checks tell what they find: severities and limits of the plan apply here, and what the author accepts is left out.

use std::collections::{BTreeMap, BTreeSet};

use jigless_model::check::Acceptance;
use jigless_model::code::Code;
use jigless_model::diag::{Finding, Findings, MOST_FINDINGS, Severity, Subject};
use jigless_model::operation::Operation;
use jigless_model::plan::{Part, Stock};
use jigless_model::source::Span;
use jigless_model::units::Unit;

use crate::scene::Scene;

/// Where a check reports what it finds.
#[derive(Debug)]
pub struct Report<'a> {
    scene: &'a Scene<'a>,
    code: Code,
    severity: Severity,
    limit: f64,
    log: &'a mut Log,
}

/// What all checks of a plan found.
#[derive(Debug, Default)]
pub(crate) struct Log {
    reported: Vec<Reported>,
    by_place: BTreeMap<Place, usize>,
    /// How many of those reported are errors, and how many are not.
    kept: [usize; 2],
    /// What there was no room for.
    beyond: Findings,
    used: BTreeSet<Span>,
}

/// What is summed up: findings of one check that one place of the plan asks for, by the kinds of the features that they
/// are of. Holes of a row are one mistake and not twenty, and so is what a builder puts into all drawers of a bank.
type Place = (Code, Option<Span>, Vec<String>);

/// What follows from a finding, by codes: at the same place of the plan, or of the feature or part that it is told of.
const CONSEQUENCES: &[(&str, &[&str])] = &[
    (
        "joint-narrow",
        &[
            "hole-breaks-edge",
            "hole-near-edge",
            "edge-work-off-edge",
            "joint-screw-comes-out",
            "joint-screw-short",
            "hole-outside-part",
        ],
    ),
    (
        "work-covered",
        &[
            "edge-hole-meets-work",
            "fastener-meets-work",
            "holes-run-together",
            "holes-too-close",
            "work-meets-inside",
        ],
    ),
    ("bolt-off-insert", &["bolt-short", "work-covered"]),
    ("hardware-screw-long", &["pilot-too-short"]),
    ("screw-through", &["pilot-too-short"]),
    (
        "parts-collide",
        &["door-strikes", "drawer-blocked", "piece-not-held"],
    ),
];

/// A finding, and how many more there are like it.
#[derive(Debug)]
struct Reported {
    first: Finding,
    /// Names of what it is of.
    names: Vec<String>,
    last: String,
    count: usize,
}

impl Reported {
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
    /// What is named by the plan: a feature by its place and its kind, because a builder or joint makes several at one
    /// place; a part, of which a place may make several, by its place.
    fn name(self) -> Option<String> {
        match self {
            Owner::Feature(part, Some(index)) => {
                let feature = part.features.get(index)?;
                Some(format!("{} {}", place(feature.span), feature.key))
            }
            Owner::Part(part) => Some(place(part.span)),
            Owner::Feature(_, None) | Owner::Stock(_) | Owner::Usage(_) => None,
        }
    }

    /// The part, and the feature of it if there is one; of an owner that is one.
    fn subject(self, scene: &Scene, message: &str) -> Option<Subject> {
        let part = self.part()?;
        let Owner::Feature(_, Some(index)) = self else {
            return Some(Subject {
                part: part.id.clone(),
                feature: None,
                work: Vec::new(),
            });
        };
        let feature = part.features.get(index);
        let piece = scene.piece(&part.id).into_iter();
        let own = piece.flat_map(|piece| piece.operations_of(index));
        let numbers: Vec<&str> = own.filter_map(Operation::number).collect();
        let named = |number: &&&str| {
            let mut words = message.split(|c: char| !c.is_alphanumeric());
            words.any(|word| word == **number)
        };
        let of_message: Vec<&&str> = numbers.iter().filter(named).collect();
        let work = if of_message.is_empty() {
            numbers.iter().map(|number| (*number).to_owned()).collect()
        } else {
            of_message
                .iter()
                .map(|number| (**number).to_owned())
                .collect()
        };
        Some(Subject {
            part: part.id.clone(),
            feature: feature.map(|own| own.label.clone().unwrap_or_else(|| own.key.to_owned())),
            work,
        })
    }

    /// The part, of a part or feature.
    fn part(self) -> Option<&'a Part> {
        match self {
            Owner::Part(part) | Owner::Feature(part, _) => Some(part),
            Owner::Stock(_) | Owner::Usage(_) => None,
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

fn place(span: Span) -> String {
    format!("{span:?}")
}

impl<'a> Report<'a> {
    /// For a check of this code, with its severity and limit in the plan.
    pub(crate) fn new(
        scene: &'a Scene<'a>,
        code: Code,
        severity: Severity,
        limit: f64,
        log: &'a mut Log,
    ) -> Self {
        Self {
            scene,
            code,
            severity,
            limit,
            log,
        }
    }

    /// Whether a finding of a check before this one needed the acceptance.
    pub(crate) fn was_needed(&self, accepted: &Acceptance) -> bool {
        self.log.used.contains(&accepted.span)
    }

    /// The limit of this check in this plan, in its own unit.
    pub fn limit(&self) -> f64 {
        self.limit
    }

    /// The author's unit.
    pub fn unit(&self) -> Unit {
        self.scene.plan.units
    }

    /// A length for people, in the author's unit.
    pub fn show(&self, mm: f64) -> String {
        self.scene.plan.units.show(mm)
    }

    /// A finding of this check.
    pub fn finding(&self, span: Span, message: impl Into<String>) -> Finding {
        Finding::new(self.code, self.severity, Some(span), message)
    }

    /// Reports a finding, unless the author accepts it at one of its places.
    ///
    /// The first part among the owners is named first.
    pub fn add(&mut self, owners: &[Owner], mut finding: Finding) {
        let code = self.code;
        if let Some(part) = owners.iter().find_map(|owner| owner.part()) {
            let begins = ["`", "piece "]
                .iter()
                .any(|with| finding.message.starts_with(with));
            if !begins {
                finding.message = format!("`{}`: {}", part.id, finding.message);
            }
        }
        let first = owners.iter().find(|owner| owner.part().is_some());
        let subject = first.and_then(|owner| owner.subject(self.scene, &finding.message));
        finding.details.subject = subject;
        let accepted = owners
            .iter()
            .flat_map(|owner| owner.accepted())
            .find(|accepted| accepted.code == code);
        match accepted {
            Some(accepted) => {
                self.log.used.insert(accepted.span);
            }
            None => self.log.add(owners, finding),
        }
    }
}

impl Log {
    fn add(&mut self, owners: &[Owner], finding: Finding) {
        let names: Vec<_> = owners.iter().filter_map(|owner| owner.name()).collect();
        if !owners.is_empty() && names.len() == owners.len() {
            // Two features that meet do so in one place or in twenty.
            let pair = matches!(owners, [Owner::Feature(..), Owner::Feature(..)]);
            let span = finding.span.filter(|_| !pair);
            let place = (finding.code, span, names.clone());
            if let Some(reported) = self.by_place.get(&place).map(|at| &mut self.reported[*at]) {
                if reported.last != finding.message {
                    reported.count += 1;
                    reported.last = finding.message;
                }
                return;
            }
            if !self.has_room(&finding) {
                self.beyond.leave_out(finding.severity, place);
                return;
            }
            self.by_place.insert(place, self.reported.len());
        } else if self
            .reported
            .iter()
            .any(|reported| reported.first == finding)
        {
            return;
        } else if !self.has_room(&finding) {
            let says = (finding.code, finding.span, finding.message);
            self.beyond.leave_out(finding.severity, says);
            return;
        }
        self.kept[usize::from(finding.severity == Severity::Error)] += 1;
        self.reported.push(Reported {
            last: finding.message.clone(),
            first: finding,
            names,
            count: 1,
        });
    }

    /// As many errors are kept as a list of findings takes, and as many others, of which that list takes the first.
    fn has_room(&self, finding: &Finding) -> bool {
        self.kept[usize::from(finding.severity == Severity::Error)] < MOST_FINDINGS
    }

    pub(crate) fn into_findings(self) -> Findings {
        // One cause, one finding: what follows from another one is left out.
        let follows: Vec<bool> = self
            .reported
            .iter()
            .map(|own| follows(&self.reported, own))
            .collect();
        let mut findings = self.beyond;
        for (reported, follows) in self.reported.into_iter().zip(follows) {
            if !follows {
                findings.push(reported.into_finding());
            }
        }
        findings
    }
}

/// Whether a finding only follows from another one.
fn follows(reported: &[Reported], own: &Reported) -> bool {
    let from: Vec<&str> = CONSEQUENCES
        .iter()
        .filter(|(_, effects)| effects.contains(&own.first.code.as_str()))
        .map(|(cause, _)| *cause)
        .collect();
    !from.is_empty()
        && reported.iter().any(|other| {
            let of_one = || other.names.iter().any(|name| own.names.contains(name));
            from.contains(&other.first.code.as_str())
                && (other.first.span == own.first.span || of_one())
        })
}
