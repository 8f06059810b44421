//! Coverages that no tin has.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::units::decimal;

use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("finish-coverage-unlikely"),
    name: "a coverage that no tin has",
    group: Group::Finish,
    severity: Severity::Warning,
    measures: "how thick a coat lies while it is wet, which follows from how far a litre goes: thicker than the limit, or \
        thinner than 0.02 mm",
    limit: Some(Limit::length(0.5, "thickest wet coat")),
    formula: Some("wet coat in mm = 1 / coverage in m2 a litre"),
    source: &[
        Source::Note("a litre is a coat of 1 mm on 1 m2 (derived)"),
        Source::Note("both limits: common practice, no source"),
    ],
    explanation: "A coat as thick as that runs, and one as thin as that is not there: most likely the coverage is of \
        another unit, or of the whole tin. `coverage` is square metres a litre, `coverage_in_feet` square feet a US \
        gallon.",
    example: "finish: [{kind: oil, coats: 2, coverage: 400}]   # square feet a gallon",
    run,
};

/// A thinner wet coat is none, in millimetres. Common practice, no source.
const THINNEST: f64 = 0.02;

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.finish {
        let Some(coverage) = entry.coverage else {
            continue;
        };
        let film = 1.0 / coverage.value;
        let most = report.limit();
        let how = if film > most + 1e-9 {
            "thick"
        } else if film < THINNEST - 1e-9 {
            "thin"
        } else {
            continue;
        };
        let message = format!(
            "`{}` at {} m2 a litre is a wet coat {} mm {how}",
            entry.title,
            decimal(coverage.value, 2),
            decimal(film, 3)
        );
        let fix = format!(
            "look at the tin: between {} and {} m2 a litre, or `coverage_in_feet` for square feet a US gallon",
            decimal(1.0 / most, 1),
            decimal(1.0 / THINNEST, 0)
        );
        let finding = report.finding(coverage.span, message).fix(fix);
        report.add(&[], finding);
    }
}
