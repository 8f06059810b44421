//! Screws in the edge of MDF near a corner.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::Work;
use jigless_model::plan::StockKind;
use jigless_model::provenance::{Confidence, Source};

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("edge-screw-near-corner"),
    name: "a screw in the edge of MDF near a corner",
    group: Group::Fixing,
    severity: Severity::Warning,
    measures: "the distance from an `edge_hole` with a `screw` to the nearer end of its edge, in MDF",
    limit: Some(Limit::length(70.0, "least distance from a corner")),
    formula: Some("distance < limit"),
    source: &[Source::Handbook("mdf-info.eu, screwing", Confidence::Seen)],
    explanation: "MDF splits in its middle layer when a screw goes into the edge, and first of all at a corner. Dowels \
        or a confirmed pilot of the right size help, too.",
    example: "- edge_hole: {edge: left, along: 40, diameter: 2.5, depth: 40, screw: {length: 38, size: 4 mm}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for (piece, feature, fact) in scene.facts() {
        let Fact::Screw(screw) = fact else {
            continue;
        };
        let part = piece.part();
        if part.stock.kind != StockKind::Mdf {
            continue;
        }
        for operation in &piece.workpiece.operations {
            let Work::EdgeDrill(hole) = &operation.work else {
                continue;
            };
            let distance = hole.along.min(part.edge_length(hole.edge) - hole.along);
            if operation.origin.feature != Some(feature) || distance + LENGTH_TOLERANCE >= limit {
                continue;
            }
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "screw {} in the {} edge is {} from the corner; {} is wanted in MDF",
                        hole.id,
                        hole.edge.name(),
                        report.show(distance),
                        report.show(limit)
                    ),
                )
                .label(screw.size.span, "the screw")
                .figures(
                    report.show(distance),
                    format!("at least {}", report.show(limit)),
                )
                .fix(format!(
                    "move it {} away from the corner",
                    report.show(limit - distance)
                ));
            report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
        }
    }
}
