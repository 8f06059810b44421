//! Pilot holes of the wrong size.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::pilot_range;
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("pilot-off"),
    name: "a pilot hole too small or too large for its screw",
    group: Group::Fixing,
    severity: Severity::Note,
    measures: "the diameter of a hole with a screw that ends in this part, against the root of the screw's thread",
    limit: None,
    formula: Some(
        "root = 2/3 x diameter; softwood to hardwood 70 to 90 % of the root, fibre- and particleboard 85 to \
        95 %",
    ),
    source: &[Source::Note(
        "root about 2/3 of the shank: Wood Handbook (GTR-190), page 8-10 (seen); 70 % softwood, 90 % \
        hardwood: Wood Handbook ch. 8 (memory), NDS Commentary Part XI (seen); MDF 85 to 95 %: mdf-info.eu (seen)",
    )],
    explanation: "Too small a pilot splits the wood or shears the screw; too large a one leaves the thread nothing. \
        The root is an estimate: the data sheet of your own screw goes before it.",
    example: "- hole: {at: [50, 50], diameter: 4, depth: 25, screw: {length: 24, size: \"#8\"}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (piece, feature, fact) in scene.facts() {
        let Fact::Screw(screw) = fact else {
            continue;
        };
        if screw.into.is_some() {
            continue;
        }
        let Some((low, high)) = pilot_range(screw.size.value, piece.part().stock.kind) else {
            continue;
        };
        let pilot = screw.diameter.value;
        if (low - LENGTH_TOLERANCE..=high + LENGTH_TOLERANCE).contains(&pilot) {
            continue;
        }
        let fix = if pilot < low {
            format!("make it at least {} larger", report.show(low - pilot))
        } else {
            format!("make it at least {} smaller", report.show(pilot - high))
        };
        let finding = report
            .finding(
                screw.diameter.span,
                format!(
                    "a pilot of {} for a screw of size {} in {}; advice is {} to {}",
                    report.show(pilot),
                    screw.size.value.name(),
                    piece.part().stock.kind.name(),
                    report.show(low),
                    report.show(high)
                ),
            )
            .label(screw.size.span, "the screw")
            .fix(fix);
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
