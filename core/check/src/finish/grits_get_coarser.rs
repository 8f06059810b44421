//! Sanding that goes from fine to coarse.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;

use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("grits-get-coarser"),
    name: "abrasive that is coarser than the one before",
    group: Group::Finish,
    severity: Severity::Warning,
    measures: "whether each number of `grits` is greater than the one before it, and `between` no smaller than the last",
    limit: None,
    formula: None,
    source: &[Source::Note(
        "a greater number is a finer grit (ISO 6344, from memory); from coarse to fine: common practice, no source",
    )],
    explanation: "Coarse abrasive leaves scratches that only the next finer one takes out. Between coats it would go through \
        the coat.",
    example: "finish: [{kind: oil, grits: [240, 120]}]",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.finish {
        let falls = entry
            .grits
            .windows(2)
            .find(|pair| pair[1].value <= pair[0].value);
        if let Some([before, after]) = falls {
            let mut sorted: Vec<u32> = entry.grits.iter().map(|grit| grit.value).collect();
            sorted.sort_unstable();
            sorted.dedup();
            let sorted: Vec<String> = sorted.iter().map(u32::to_string).collect();
            let how = if after.value == before.value {
                "the same as"
            } else {
                "coarser than"
            };
            let message = format!(
                "`{}`: grit {} comes after {} and is {how} it",
                entry.title, after.value, before.value
            );
            let fix = format!("go from coarse to fine: [{}]", sorted.join(", "));
            let finding = report
                .finding(after.span, message)
                .label(before.span, "the one before")
                .fix(fix);
            report.add(&[], finding);
            continue;
        }
        if let (Some(last), Some(between)) = (entry.grits.last(), entry.between)
            && between.value < last.value
        {
            let message = format!(
                "`{}`: grit {} between coats is coarser than {}, with which the wood was sanded",
                entry.title, between.value, last.value
            );
            let finding = report
                .finding(between.span, message)
                .label(last.span, "the last one on bare wood")
                .fix(format!("take {} or finer", last.value));
            report.add(&[], finding);
        }
    }
}
