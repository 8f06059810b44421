//! Screws of joints that a straight driver cannot reach when their turn comes.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::joint::{DRIVER, DrivenScrew, Joint};
use jigless_model::plan::Part;
use jigless_model::provenance::Source;

use super::TOLERANCE;
use super::turns::turns;
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("screw-out-of-reach"),
    name: "a screw that a straight driver cannot reach when its turn comes",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "the line behind the head of every screw of a joint, as long as a driver, against the wood of all parts that \
        are there by then in the order of the work; what is built by itself, as a drawer, is there by itself",
    limit: Some(Limit::length(
        DRIVER,
        "a driver with its bit, behind the face that it comes in at",
    )),
    formula: None,
    source: &[Source::CommonPractice],
    explanation: "A screw that cannot be driven straight is driven crooked, or not at all.",
    example: "order: [wall, side, rail]   # and the screws of the rail come from where the wall stands",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let plan = scene.plan;
    let turns = turns(scene);
    for (turn, step) in plan.order.iter().enumerate() {
        for joint in step
            .joints
            .iter()
            .filter_map(|number| plan.joints.get(*number))
        {
            let groups = [&joint.part, &joint.to]
                .map(|id| scene.piece(id).map(|piece| piece.part().group.as_deref()));
            // Parts of two groups come together later, each with its own.
            let [Some(group), Some(other)] = groups else {
                continue;
            };
            if group != other {
                continue;
            }
            let is_there = |solid: usize| {
                let part = &scene.assembled.solids[solid].workpiece.part;
                turns[solid].is_some_and(|own| own <= turn)
                    && part.group.as_deref() == group
                    && (group.is_some() || part.motion.is_none())
            };
            // The screws of a joint are reached from one side: one that is stopped speaks for all.
            let stopped = joint.screws.iter().find_map(|screw| {
                Some((screw, in_the_way(scene, report.limit(), screw, is_there)?))
            });
            if let Some((screw, part)) = stopped {
                add(scene, report, joint, screw, part);
            }
        }
    }
}

/// The first part that the driver runs into.
fn in_the_way<'a>(
    scene: &Scene<'a>,
    driver: f64,
    screw: &DrivenScrew,
    is_there: impl Fn(usize) -> bool,
) -> Option<&'a Part> {
    let part = |solid: usize| -> &'a Part { &scene.assembled.solids[solid].workpiece.part };
    let is_other = |part: &Part| part.id != screw.through && part.id != screw.into;
    let counts = |solid| is_there(solid) && is_other(part(solid));
    let met = scene
        .assembled
        .in_the_way(screw.driver(driver), TOLERANCE, counts)?;
    Some(part(met.solid))
}

fn add(scene: &Scene, report: &mut Report, joint: &Joint, screw: &DrivenScrew, part: &Part) {
    let finding = report
        .finding(
            joint.span,
            format!(
                "`{}`: its screws into `{}` cannot be reached: `{}` is there by then",
                screw.through, screw.into, part.id
            ),
        )
        .label(part.span, "in the way of the driver")
        .fix(format!(
            "let `{}` come later in `order`, or use a driver that needs less than {}",
            part.id,
            report.show(report.limit())
        ));
    let through = scene.piece(&screw.through);
    let through = through.map(|piece| Owner::Part(&piece.workpiece.part));
    let owners: Vec<Owner> = through.into_iter().chain([Owner::Part(part)]).collect();
    report.add(&owners, finding);
}
