//! Casters rated for less than their share.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use super::{practice_share, report_overload};
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("caster-overloaded"),
    name: "casters rated for less than their share",
    group: Group::Strength,
    severity: Severity::Warning,
    measures: "the share of the load that one caster may have to carry, against the rating that the author gives",
    limit: None,
    formula: Some("load / (count - 1) > rating"),
    source: &[Source::Note(
        "a third of the load for four casters: trade practice (seen on two makers' pages); the rating is the \
        one that the author gives",
    )],
    explanation: "Floors are never flat, so one caster hangs in the air and the others carry. The rating is per caster \
        and for a smooth floor.",
    example: "usage: - casters: {rating: 40, load: 150}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.usage {
        let Usage::Casters(casters) = &entry.what else {
            continue;
        };
        let share = practice_share(casters.load.value, casters.count.value);
        let over = share - casters.rating.value;
        if over <= 1e-9 * share {
            continue;
        }
        report_overload(entry, casters, report);
    }
}
