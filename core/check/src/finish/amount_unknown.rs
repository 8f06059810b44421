//! Finishes of which nobody can say how much is needed.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;

use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("finish-amount-unknown"),
    name: "a finish whose litres are not known",
    group: Group::Finish,
    severity: Severity::Note,
    measures: "whether an entry of `finish` that puts something on has both coats and a coverage",
    limit: None,
    formula: Some("litres = area x coats / coverage"),
    source: &[Source::Note(
        "arithmetic; the coverage is the author's, from the tin",
    )],
    explanation: "How far a litre goes differs by product and by wood, so it is never guessed: the area is listed, and \
        litres are not. The tin says what it covers.",
    example: "finish: [{kind: oil, coats: 2}]",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in scene.plan.finish.iter().filter(|entry| !entry.is_bare()) {
        let (missing, fix) = match (entry.coats, entry.coverage) {
            (Some(_), Some(_)) => continue,
            (Some(_), None) => (
                "coverage",
                "write what the tin says: `coverage: 12`, in square metres a litre",
            ),
            (None, Some(_)) => ("number of coats", "write how many: `coats: 2`"),
            (None, None) => (
                "coats and no coverage",
                "write both: `coats: 2, coverage: 12`, in square metres a litre, from the tin",
            ),
        };
        let message = format!(
            "`{}` has no {missing}: the area is listed, litres are not",
            entry.title
        );
        let finding = report.finding(entry.span, message).fix(fix);
        report.add(&[], finding);
    }
}
