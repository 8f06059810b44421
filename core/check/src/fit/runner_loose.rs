//! Drawer boxes too narrow for their runners.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("runner-loose"),
    name: "a drawer box narrower than its runners allow",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "half of what the opening is wider than the box, less the room that a runner needs",
    limit: Some(Limit::length(
        0.8,
        "most room beyond what the runner needs, on each side",
    )),
    formula: Some("(opening - box) / 2 - room on each side > limit"),
    source: &[Source::Note(
        "+1/32 in (0.8 mm) and -0 on each side: common practice, no source; the room itself: ShopNotes 91, \
        page 10 (seen)",
    )],
    explanation: "Runners that are pulled apart run hard and let the drawer hang. Pack one side out, or make the box \
        wider.",
    example: "usage: - drawer: {opening: 400, width: 372}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for entry in &scene.plan.usage {
        let Usage::Drawer(drawer) = &entry.what else {
            continue;
        };
        let room = (drawer.opening.value - drawer.width.value) / 2.0;
        let spare = room - drawer.each_side.value;
        if spare <= limit + LENGTH_TOLERANCE {
            continue;
        }
        let finding = report
            .finding(
                drawer.width.span,
                format!(
                    "a box of {} in an opening of {} leaves {} on each side, {} more than the runners need",
                    report.show(drawer.width.value),
                    report.show(drawer.opening.value),
                    report.show(room),
                    report.show(spare)
                ),
            )
            .label(drawer.opening.span, "the opening")
            .fix(format!(
                "make the box {} wider, or pack each side out by {}",
                report.show(2.0 * spare),
                report.show(spare)
            ));
        report.add(&[Owner::Usage(&entry.accepted)], finding);
    }
}
