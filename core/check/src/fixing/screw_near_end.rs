//! Screws too near an end.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::plan::{Grain, StockKind};
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::scene::edge_distances;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("screw-near-end"),
    name: "a screw near an end of the grain, or in MDF near a corner",
    group: Group::Fixing,
    severity: Severity::Note,
    measures: "the distance from a hole with a `screw` to the nearer end of the grain, in diameters of the screw; \
        in MDF the distance from the nearest corner",
    limit: Some(Limit::number(
        7.0,
        "least distance from an end in diameters of the screw",
    )),
    formula: Some("distance < limit x diameter; in MDF distance from a corner < 25 mm"),
    source: &[Source::Note(
        "7 d predrilled, unloaded end: EN 1995-1-1, Table 8.2, as reproduced in the LVL Handbook 2025, Table \
        5.1 (seen; 10 d without predrilling). MDF 25 mm: mdf-info.eu, screwing (seen). NDS gives no number (seen)",
    )],
    explanation: "A screw near the end of a board splits it along the grain. The rule is one for timber structures and \
        may apply; local rules go before it. Parts without `grain` are not looked at, except MDF.",
    example: "- hole: {at: [15, 50], diameter: 4.5, depth: through, screw: {length: 40, size: 4 mm, into: side, \
        enters: edge}} # grain: width",
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
            let distances = edge_distances(&part.frame(), drill.centre);
            let of = |upright: bool| {
                let ends = distances
                    .iter()
                    .filter(|(edge, _)| edge.is_upright() == upright);
                ends.map(|(_, distance)| *distance)
                    .fold(f64::INFINITY, f64::min)
            };
            let (distance, wanted, what) = if part.stock.kind == StockKind::Mdf {
                (of(true).hypot(of(false)), 25.0, "corner")
            } else {
                let distance = match part.grain {
                    Grain::Width => of(true),
                    Grain::Height => of(false),
                    Grain::None => continue,
                };
                (
                    distance,
                    limit * screw.size.value.diameter(),
                    "end of the grain",
                )
            };
            if distance + LENGTH_TOLERANCE >= wanted {
                continue;
            }
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "screw {} is {} from the nearest {what}; advice for {} is {}",
                        drill.id,
                        report.show(distance),
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
                    "move it {} away from the {what}",
                    report.show(wanted - distance)
                ));
            report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
        }
    }
}
