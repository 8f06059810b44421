//! Screws that hold to too little.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::{Hold, hold};
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("screw-too-short"),
    name: "a screw that holds to little wood",
    group: Group::Fixing,
    severity: Severity::Note,
    measures: "what a screw reaches beyond the part that it goes through, in diameters of the screw",
    limit: Some(Limit::number(6.0, "least reach in diameters of the screw")),
    formula: Some("reach < limit x diameter, and reach < thickness of the other part - 4 mm"),
    source: &[Source::Note(
        "6 d: EN 1995-1-1, 8.7.2(3) (memory), and the same in the notes to the NDS tables (memory). Both are \
        rules for timber structures and may apply to furniture that carries load; local rules go before them",
    )],
    explanation: "A screw holds by the wood around its thread. Where the far part is thin, more screws hold more than \
        longer ones.",
    example: "- hole: {at: [50, 50], diameter: 4.5, depth: through, screw: {length: 25, size: 4 mm, into: side, \
        enters: edge}}",
    run,
};

/// Wood that stays before the point of a screw that is long enough, in millimetres: a millimetre, and the step between two
/// lengths that are sold. Common practice, no source.
const SKIN: f64 = 4.0;

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for (piece, feature, fact) in scene.facts() {
        let Fact::Screw(screw) = fact else {
            continue;
        };
        let Some(Hold {
            part, reach, room, ..
        }) = hold(scene, piece, feature, screw).filter(|held| held.goes_on)
        else {
            continue;
        };
        // What would come out of the other side is no advice.
        let wanted = (limit * screw.size.value.diameter()).min(room - SKIN);
        if reach + LENGTH_TOLERANCE >= wanted {
            continue;
        }
        let finding = report
            .finding(
                screw.length.span,
                format!(
                    "a screw of {} reaches {} into `{}`; {} is wanted: {} times its diameter of {}, or as much as \
                     leaves {} before its point",
                    report.show(screw.length.value),
                    report.show(reach),
                    part.id,
                    report.show(wanted),
                    jigless_model::units::decimal(limit, 1),
                    report.show(screw.size.value.diameter()),
                    report.show(SKIN)
                ),
            )
            .label(screw.size.span, "its size")
            .fix(format!("a screw {} longer, or a thinner one; advice from timber structures, which may apply", report.show(wanted - reach)));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
