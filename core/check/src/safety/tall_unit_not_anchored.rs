//! Tall units that nothing holds to the wall.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("tall-unit-not-anchored"),
    name: "a tall unit that is not fixed to the wall",
    group: Group::Safety,
    severity: Severity::Warning,
    measures: "the height of an entry `freestanding` that is not `anchored: yes`",
    limit: Some(Limit::length(
        600.0,
        "height from which a unit should be anchored",
    )),
    formula: Some("height >= limit and not anchored"),
    source: &[
        Source::CommonPractice,
        Source::Note("rules on tip-over differ from place to place and may apply to lower units"),
    ],
    explanation: "Children climb on open drawers, and a cabinet that tips kills. Fix it to the wall with hardware for \
        your kind of wall, say so in the plan, and set `anchored: yes`. Rules of the place where it stands \
        may apply and go before this.",
    example: "usage: - freestanding: {height: 900}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for entry in &scene.plan.usage {
        let Usage::Freestanding(unit) = &entry.what else {
            continue;
        };
        if unit.anchored || unit.height.value + LENGTH_TOLERANCE < limit {
            continue;
        }
        let finding = report
            .finding(
                unit.height.span,
                format!(
                    "a unit {} high is not fixed to the wall; from {} on it should be",
                    report.show(unit.height.value),
                    report.show(limit)
                ),
            )
            .fix("plan hardware that fixes it to the wall, then write `anchored: yes`; local rules on tip-over may apply");
        report.add(&[Owner::Usage(&entry.accepted)], finding);
    }
}
