//! Crossing parts whose notches are too shallow.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::{Fact, Received, Slot};
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use crate::CheckedPart;
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("laps-stay-open"),
    name: "crossing parts whose notches are too shallow to close",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "the depths of two notches that take one another's part, against the lower of the two parts",
    limit: None,
    formula: Some("depth + depth < smaller height across the notch"),
    source: &[Source::Elementary],
    explanation: "Parts that cross, such as tray dividers, slide into one another until the notches meet. Together the \
        notches must be as deep as the parts are high, or they stay apart.",
    example: "- notch: {edge: top, start: 40, width: 3.2, depth: 20, receives: cross} # and 20 in `cross`, both 50 \
        high",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (piece, feature, fact) in scene.facts() {
        let Some(received) = lap(fact) else {
            continue;
        };
        let Some(other) = scene.piece(&received.part.value) else {
            continue;
        };
        let id = piece.part().id.as_str();
        let twin = other
            .facts
            .iter()
            .filter_map(|(_, fact)| lap(fact))
            .filter(|twin| twin.part.value == id)
            .min_by(|a, b| a.depth.value.total_cmp(&b.depth.value));
        // Each pair is reported once, at the part that comes first in the plan.
        let Some(twin) = twin.filter(|twin| first_of(piece, received, other, twin)) else {
            continue;
        };
        let (own, others) = (across(piece, received), across(other, twin));
        let height = own.min(others);
        let together = received.depth.value + twin.depth.value;
        if together + LENGTH_TOLERANCE >= height {
            continue;
        }
        let finding = report
            .finding(
                received.depth.span,
                format!(
                    "notches {} and {} deep do not let parts {} high slide together: {} is missing",
                    report.show(received.depth.value),
                    report.show(twin.depth.value),
                    report.show(height),
                    report.show(height - together)
                ),
            )
            .label(twin.depth.span, "the notch in the other part")
            .fix(format!(
                "make each {} deeper",
                report.show((height - together) / 2.0)
            ));
        report.add(
            &[
                Owner::Feature(piece.part(), Some(feature)),
                Owner::Part(other.part()),
            ],
            finding,
        );
    }
}

fn lap(fact: &Fact) -> Option<&Received> {
    match fact {
        Fact::Receives(received) if received.slot == Slot::Lap => Some(received),
        _ => None,
    }
}

fn first_of(
    piece: &CheckedPart,
    received: &Received,
    other: &CheckedPart,
    twin: &Received,
) -> bool {
    piece.part().id != other.part().id && received.depth.span < twin.depth.span
}

/// Size of the part in the direction of the notch.
fn across(piece: &CheckedPart, received: &Received) -> f64 {
    let part = piece.part();
    if received
        .edge
        .is_some_and(jigless_model::side::Edge::is_upright)
    {
        part.width
    } else {
        part.height
    }
}
