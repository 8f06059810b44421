//! Acceptances that nothing needs. Runs last, when it is known which were needed.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;

use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("needless-acceptance"),
    name: "a finding is accepted that does not occur",
    group: Group::Safety,
    severity: Severity::Note,
    measures: "entries of `accept` that no finding needed",
    limit: None,
    formula: None,
    source: &[Source::Note("the plan itself")],
    explanation: "An acceptance is printed on the plan with its reason. One that nothing needs tells the builder of a \
        trouble that is no longer there, and would hide it if it came back. Take it away.",
    example: "- groove: {along: width, from: {bottom: 20}, width: 6, depth: 4, accept: {groove-too-deep: it holds}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (place, accepted) in scene.plan.acceptances() {
        if !report.was_needed(accepted) {
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
