//! Allowances that nothing needs. Runs last, when it is known which were needed.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;

use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("needless-allowance"),
    name: "something is allowed that does not occur",
    group: Group::Safety,
    severity: Severity::Note,
    measures: "entries of `allow` that no finding needed",
    limit: None,
    formula: None,
    source: &[Source::Note("the plan itself")],
    explanation: "An allowance is printed on the plan with its reason. One that nothing needs tells the builder of a \
        trouble that is no longer there, and would hide it if it came back. Take it away.",
    example: "- groove: {along: width, from: {bottom: 20}, width: 6, depth: 4, allow: {groove-too-deep: it holds}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (place, allowed) in scene.plan.allowances() {
        if !report.was_needed(allowed) {
            let finding = report
                .finding(
                    allowed.span,
                    format!(
                        "`{}` is allowed here ({place}), and there is none",
                        allowed.code
                    ),
                )
                .fix("take it away");
            report.tell(&[], finding);
        }
    }
}
