//! Screws too near an edge.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::plan::StockKind;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::scene::edge_distances;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("screw-near-edge"),
    name: "a screw near an edge",
    group: Group::Fixing,
    severity: Severity::Note,
    measures: "the distance from a hole with a `screw` to the nearest edge, in diameters of the screw; in MDF at \
        least 12 mm",
    limit: Some(Limit::number(
        3.0,
        "least distance in diameters of the screw",
    )),
    formula: Some("distance < limit x diameter; in MDF distance < 12 mm"),
    source: &[Source::Note(
        "3 d predrilled: EN 1995-1-1, Table 8.2, as reproduced in the LVL Handbook 2025, Table 5.1 (seen; 5 d \
        without predrilling). MDF 12 mm: mdf-info.eu, screwing (seen). NDS gives no number, only 'sufficient to \
        prevent splitting' (seen)",
    )],
    explanation: "Near an edge the wood splits or the edge bulges. The rule is one for timber structures and may \
        apply; local rules go before it.",
    example: "- hole: {at: [8, 50], diameter: 4.5, depth: through, screw: {length: 40, size: 4 mm, into: side, \
        enters: edge}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for (piece, feature, fact) in scene.facts() {
        let Fact::Screw(screw) = fact else {
            continue;
        };
        let part = piece.part();
        for (operation, drill) in piece.drills_of(feature) {
            let mut wanted = limit * screw.size.value.diameter();
            if part.stock.kind == StockKind::Mdf {
                wanted = wanted.max(12.0);
            }
            let nearest = edge_distances(&part.frame(), drill.centre)
                .into_iter()
                .min_by(|a, b| a.1.total_cmp(&b.1));
            let Some((edge, distance)) = nearest.filter(|(_, d)| d + LENGTH_TOLERANCE < wanted)
            else {
                continue;
            };
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "screw {} is {} from the {} edge; advice for {} is {}",
                        drill.id,
                        report.show(distance),
                        edge.name(),
                        part.stock.kind.name(),
                        report.show(wanted)
                    ),
                )
                .label(screw.size.span, "the screw")
                .figures(
                    report.show(distance),
                    format!("at least {}", report.show(wanted)),
                )
                .fix(format!(
                    "move it {} away from the {} edge",
                    report.show(wanted - distance),
                    edge.name()
                ));
            report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
        }
    }
}
