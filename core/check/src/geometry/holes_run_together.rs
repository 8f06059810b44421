//! Holes that run into one another.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::scene::Footprint;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("holes-run-together"),
    name: "holes that run into one another",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "holes from one face that overlap; a wider and a narrower one about the same centre are a stepped \
        hole and are meant",
    limit: None,
    formula: Some("distance of centres < both radii together"),
    source: &[Source::Elementary],
    explanation: "The second drill slips into the first hole. If the same hole is described twice, keep one; if a long \
        hole is meant, a cutout or recess gives a clean one.",
    example: "- hole_row: {first: [50, 50], step: [0, 4], count: 2, diameter: 5, depth: 10}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for piece in scene.pieces() {
        for (first, second) in piece.near_pairs() {
            let (Footprint::Circle(a, r), Footprint::Circle(b, s)) =
                (&first.footprint, &second.footprint)
            else {
                continue;
            };
            let same_face = first.operation.face() == second.operation.face();
            let apart = a.distance(*b);
            let stepped = apart <= LENGTH_TOLERANCE && (r - s).abs() > LENGTH_TOLERANCE;
            if !same_face || stepped || apart + LENGTH_TOLERANCE >= r + s {
                continue;
            }
            let twice = apart <= LENGTH_TOLERANCE;
            let message = if twice {
                format!("holes {} and {} are the same hole", first.id(), second.id())
            } else {
                format!(
                    "holes {} and {} run into one another by {}",
                    first.id(),
                    second.id(),
                    report.show(r + s - apart)
                )
            };
            let fix = if twice {
                "keep one of them".to_owned()
            } else {
                format!("move them {} further apart", report.show(r + s - apart))
            };
            let finding = report
                .finding(second.operation.origin.span, message)
                .label(first.operation.origin.span, format!("hole {}", first.id()))
                .fix(fix);
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
