//! Work on an edge where the edge has been cut away.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::Work;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("edge-work-off-edge"),
    name: "work on an edge that is cut away there",
    group: Group::Geometry,
    severity: Severity::Error,
    measures: "whether the contour runs where a hole enters an edge or a pocket screw leaves it",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
    explanation: "Notches, corners and outlines take the straight edge away; a hole that is measured along it then \
        starts in air and has another depth than the plan says.",
    example: "- edge_hole: {edge: bottom, along: 20, diameter: 8, depth: 30} # where a notch starts at 0 and is 60 \
        wide",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for piece in scene.pieces() {
        let frame = piece.part().frame();
        for operation in &piece.workpiece.operations {
            let (id, edge, at) = match &operation.work {
                Work::EdgeDrill(hole) => (
                    &hole.id,
                    hole.edge,
                    frame.from_edge(hole.edge, hole.along, 0.0),
                ),
                Work::AngledBore(bore) => (&bore.id, bore.edge, bore.exit),
                _ => continue,
            };
            let off = piece.region.distance_to_contour(at);
            if off <= LENGTH_TOLERANCE {
                continue;
            }
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "{id} is on the {} edge at {}, {}, where the edge is cut away: the wood is {} off",
                        edge.name(),
                        report.show(at.x),
                        report.show(at.y),
                        report.show(off)
                    ),
                )
                .fix("move it to where the edge runs straight, or describe it as a hole of the notched side");
            report.add(
                &[Owner::Feature(piece.part(), operation.origin.feature)],
                finding,
            );
        }
    }
}
