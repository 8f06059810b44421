//! Drawer boxes too wide for their runners.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("runner-tight"),
    name: "a drawer box too wide for its runners",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "half of what the opening is wider than the box, against the room that a runner needs",
    limit: None,
    formula: Some("(opening - box) / 2 < room on each side"),
    source: &[Source::Note(
        "most metal side runners need 1/2 in (12.7 mm) on each side: ShopNotes 91, page 10 (seen); +0.8 / -0 \
        mm on a side is common practice, no source",
    )],
    explanation: "A box that is too wide jams: the runners bend or do not go in at all. Room that is lacking cannot be \
        made up, room to spare can be packed out. 12.7 mm is neither 12.5 nor 13: over two sides that is 0.4 \
        mm too little or 0.6 mm too much.",
    example: "usage: - drawer: {opening: 400, width: 375}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.usage {
        let Usage::Drawer(drawer) = &entry.what else {
            continue;
        };
        let room = (drawer.opening.value - drawer.width.value) / 2.0;
        let lacking = drawer.each_side.value - room;
        if lacking <= LENGTH_TOLERANCE {
            continue;
        }
        let finding = report
            .finding(
                drawer.width.span,
                format!(
                    "a box of {} in an opening of {} leaves {} on each side; the runners need {}",
                    report.show(drawer.width.value),
                    report.show(drawer.opening.value),
                    report.show(room),
                    report.show(drawer.each_side.value)
                ),
            )
            .label(drawer.opening.span, "the opening")
            .fix(format!(
                "make the box {} narrower",
                report.show(2.0 * lacking)
            ));
        report.add(&[Owner::Usage(&entry.accepted)], finding);
    }
}
