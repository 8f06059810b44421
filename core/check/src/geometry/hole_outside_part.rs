//! Holes beside the material.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("hole-outside-part"),
    name: "a hole whose centre is not on the material",
    group: Group::Geometry,
    severity: Severity::Error,
    measures: "whether the centre of every hole lies within the outline and outside every opening",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
    explanation: "A drill that finds no wood under its point wanders or catches. Usually an edge was mixed up, or the \
        part has been made smaller since.",
    example: "- hole: {at: [500, 50], diameter: 5, depth: through} # on a part 200 wide",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for piece in scene.pieces() {
        for rim in piece.rims.iter().filter(|rim| !rim.inside) {
            let (operation, drill) = (rim.operation, rim.drill);
            let part = piece.part();
            let fix = if piece.region.inner.is_empty() && piece.region.outer.vertices.len() == 4 {
                format!(
                    "keep it within {} by {}",
                    report.show(part.width),
                    report.show(part.height)
                )
            } else {
                "check its place against the cutouts and the outline".to_owned()
            };
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "the centre of hole {} at {}, {} is not on its material",
                        drill.id,
                        report.show(drill.centre.x),
                        report.show(drill.centre.y)
                    ),
                )
                .fix(fix);
            report.add(
                &[Owner::Feature(piece.part(), operation.origin.feature)],
                finding,
            );
        }
    }
}
