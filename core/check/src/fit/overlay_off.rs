//! Doors whose hinges give another overlay than the plan wants.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use super::edge_gap_of;
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("overlay-off"),
    name: "a door whose hinges give another overlay than is wanted",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "the overlay that follows from the hinge's constant, the edge gap of the cups and the height of the \
        plate, where an entry `door` gives all three",
    limit: Some(Limit::length(0.5, "most difference of the overlays")),
    formula: Some("overlay = hinge constant + edge gap - plate height"),
    source: &[Source::Note(
        "trade practice, seen in trade catalogues and a forum ('height of plate moves the door's edge that \
        far'); no standard fixes it. Example of a maker-neutral chart: gap 3, plate 0, overlay 3/4 in gives a constant \
        of 16",
    )],
    explanation: "A millimetre more of edge gap is a millimetre more of overlay; a millimetre more of plate is one \
        less. Use the figures of the data sheet of your own hinge.",
    example: "usage: - door: {part: door, side: side, overlay: 16, constant: 16, plate: 3} # cups with an edge \
        gap of 5",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for entry in &scene.plan.usage {
        let Usage::Door(door) = &entry.what else {
            continue;
        };
        let (Some(wanted), Some(constant), Some(plate)) = (door.overlay, door.constant, door.plate)
        else {
            continue;
        };
        let Some(gap) = scene.piece(&door.door.value).and_then(edge_gap_of) else {
            continue;
        };
        let overlay = overlay(constant.value, gap.value, plate.value);
        let off = overlay - wanted.value;
        if off.abs() <= limit + LENGTH_TOLERANCE {
            continue;
        }
        let right = gap.value - off;
        let fix = if right >= 0.0 {
            format!(
                "an edge gap of {} gives {}",
                report.show(right),
                report.show(wanted.value)
            )
        } else {
            format!(
                "a plate {} higher gives {}",
                report.show(off),
                report.show(wanted.value)
            )
        };
        let finding = report
            .finding(
                wanted.span,
                format!(
                    "the hinges give an overlay of {} + {} - {} = {}, and {} is wanted",
                    report.show(constant.value),
                    report.show(gap.value),
                    report.show(plate.value),
                    report.show(overlay),
                    report.show(wanted.value)
                ),
            )
            .label(gap.span, "the edge gap of the cups")
            .label(constant.span, "the hinge's constant")
            .label(plate.span, "the plate")
            .fix(fix);
        report.add(&[Owner::Usage(&entry.accepted)], finding);
    }
}

/// Overlay of a door on cup hinges, in millimetres: hinge constant + edge gap - plate height.
fn overlay(constant: f64, edge_gap: f64, plate: f64) -> f64 {
    constant + edge_gap - plate
}

#[cfg(test)]
mod tests {
    use super::overlay;

    /// Trade practice (no standard): a gap of 3 and a plate of 0 with an overlay of 3/4 in belong to a constant of 16; a
    /// millimetre of gap is one more, a millimetre of plate is one less.
    #[test]
    fn overlay_follows_gap_and_plate() {
        assert!((overlay(16.0, 3.0, 0.0) - 19.05).abs() < 0.06);
        assert!((overlay(16.0, 4.0, 0.0) - overlay(16.0, 3.0, 0.0) - 1.0).abs() < 1e-12);
        assert!((overlay(16.0, 3.0, 2.0) - overlay(16.0, 3.0, 0.0) + 2.0).abs() < 1e-12);
    }
}
