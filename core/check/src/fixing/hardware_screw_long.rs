//! Hardware whose screw is longer than what holds it.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::{Enters, Fact};
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use crate::driven::driven_into;
use crate::report::Owner;
use crate::scene::name_of;
use crate::solid::Solid;
use crate::{CheckKind, CheckedPart, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("hardware-screw-long"),
    name: "a stated screw that comes through the part that it ends in",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "the length of what the plan puts into a blind hole (`hardware:` or `screw:` with a length), against the \
        wood of the part along the axis of the hole: its thickness, less what is milled away behind it",
    limit: Some(Limit::length(1.0, "least wood in front of the point")),
    formula: Some("length > wood along the axis - limit"),
    source: &[
        Source::Elementary,
        Source::Note("the limit is common practice, no source"),
    ],
    explanation: "The screws that come in the bag are for a thicker board. Take shorter ones of the same head: the \
        point comes out on the show side.",
    example: "- runner_holes: {edge: left, height: 60, setback: 2, offsets: [37], diameter: 2.5, depth: 10, screw: \
        {length: 16}} # in 12 mm",
    run,
};

/// Whether an insert stands in the holes of a feature.
fn has_insert(piece: &CheckedPart, feature: usize) -> bool {
    let mut facts = piece.facts.iter();
    facts.any(|(of, fact)| *of == feature && matches!(fact, Fact::Insert { .. }))
}

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for piece in scene.pieces() {
        // A screw that goes on in another part is followed there; one in a face has a check of its own.
        let stated = |(_, fact): &&(usize, &Fact)| match fact {
            Fact::Fastener(_) => true,
            Fact::Screw(screw) => screw.into.is_none() && screw.enters == Enters::Edge,
            _ => false,
        };
        let stated: Vec<_> = piece.facts.iter().filter(stated).copied().collect();
        if stated.is_empty() {
            continue;
        }
        let alone = Solid::alone(piece.workpiece);
        for driven in driven_into(&alone, &stated) {
            // What goes into an insert, and the insert itself, have checks of their own.
            if driven.through || has_insert(piece, driven.feature) {
                continue;
            }
            let far =
                driven.at(piece.part().width + piece.part().height + piece.part().thickness());
            let stretches = alone.along(driven.head, far);
            let Some(wood) = stretches.first().map(|(_, to)| *to) else {
                continue;
            };
            let length = driven.length;
            let left = wood - length.value;
            if left + LENGTH_TOLERANCE >= limit {
                continue;
            }
            let part = piece.part();
            let finding = report
                .finding(
                    length.span,
                    format!(
                        "`{}`: a {} {} long has {} of wood before it at {}",
                        part.id,
                        driven.what,
                        report.show(length.value),
                        report.show(wood),
                        name_of(driven.operation)
                    ),
                )
                .label(part.stock.span, "the stock")
                .figures(
                    report.show(left),
                    format!("at least {} in front of the point", report.show(limit)),
                )
                .fix(format!(
                    "take one at least {} shorter",
                    report.show(limit - left)
                ));
            report.add(&[Owner::Feature(part, Some(driven.feature))], finding);
        }
    }
}
