//! Work from the two faces that meets inside the part.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::{Depth, Work};
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("work-meets-inside"),
    name: "work from the two faces meets inside the part",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "blind holes, grooves, rebates and recesses from opposite faces that overlap as seen on the front and \
        in depth",
    limit: None,
    formula: Some("depth from the front + depth from the back > thickness"),
    source: &[Source::Elementary],
    explanation: "What should be two blind pieces of work becomes an opening: screws meet screws, pins fall through, \
        glue runs out. A hole right through is meant to meet and is not looked at.",
    example: "- hole: {at: [50, 50], diameter: 8, depth: 10} # and a groove 10 deep behind it, in 18 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for piece in scene.pieces() {
        for (first, second) in piece.near_pairs() {
            let through = |void: &crate::scene::Void| matches!(&void.operation.work, Work::Drill(drill) if drill.depth == Depth::Through);
            let (one, other) = (first.operation.face(), second.operation.face());
            let depth = first.overlap_in_depth(second);
            if one == other
                || one.is_none()
                || other.is_none()
                || through(first)
                || through(second)
                || depth <= LENGTH_TOLERANCE
                || first.gap_to(second) >= -LENGTH_TOLERANCE
            {
                continue;
            }
            let finding = report
                .finding(
                    second.operation.origin.span,
                    format!(
                        "{} {} and {} {} from the other face meet: together they are {} deeper than the part",
                        second.name(),
                        second.id(),
                        first.name(),
                        first.id(),
                        report.show(depth)
                    ),
                )
                .label(first.operation.origin.span, format!("{} {}", first.name(), first.id()))
                .fix(format!("move one of them, or take more than {} off their depths", report.show(depth)));
            report.add(
                &[
                    Owner::Feature(piece.part(), second.operation.origin.feature),
                    Owner::Feature(piece.part(), first.operation.origin.feature),
                ],
                finding,
            );
        }
    }
}
