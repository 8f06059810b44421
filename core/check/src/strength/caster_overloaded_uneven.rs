//! Casters rated for less than half the load.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use super::{practice_share, report_overload, worst_share};
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("caster-overloaded-uneven"),
    name: "casters rated for less than half the load",
    group: Group::Strength,
    severity: Severity::Warning,
    measures: "the share of the load that one caster may have to carry, against the rating that the author gives",
    limit: None,
    formula: Some("load / 2 > rating"),
    source: &[Source::Note(
        "statics (derived): with one caster of a stiff rectangle in the air the load hangs on a diagonal, so \
        two casters carry half each; a third is not an upper bound",
    )],
    explanation: "Rolled over a sill or an uneven floor, two casters carry everything. Casters rated for half the load \
        bear that.",
    example: "usage: - casters: {rating: 60, load: 150}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.usage {
        let Usage::Casters(casters) = &entry.what else {
            continue;
        };
        let share = worst_share(casters.load.value, casters.count.value);
        let over = share - casters.rating.value;
        // Less than the usual share is the graver finding, and is reported alone.
        let usual = practice_share(casters.load.value, casters.count.value);
        if over <= 1e-9 * share || usual > casters.rating.value * (1.0 + 1e-9) {
            continue;
        }
        report_overload(entry, casters, report);
    }
}
