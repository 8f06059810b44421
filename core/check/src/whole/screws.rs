//! Screws of joints that come out of the far side, or hardly reach it.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::joint::DrivenScrew;
use jigless_model::plan::Part;
use jigless_model::provenance::Source;

use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static COMES_OUT: CheckKind = CheckKind {
    code: Code::declare("joint-screw-comes-out"),
    name: "a screw of a joint that comes out of the far side",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "the tip of every screw of a joint whose parts have places, against the box of the part that it is driven \
        into",
    limit: None,
    formula: None,
    source: &[Source::Note("elementary")],
    explanation: "A tip that comes out scratches, splits the face and holds less than one that ends inside.",
    example: "- butt: {part: rail, to: side, screw: {length: 80}}   # through 18 into a rail 60 wide",
    run: comes_out,
};

pub(crate) static SHORT: CheckKind = CheckKind {
    code: Code::declare("joint-screw-short"),
    name: "a screw of a joint that hardly reaches the other part",
    group: Group::Fixing,
    severity: Severity::Warning,
    measures: "how much of every screw of a joint whose parts have places is in the part that it is driven into",
    limit: Some(Limit::length(
        6.0,
        "the least that a thread holds in; a 14 mm false front has no room for more",
    )),
    formula: None,
    source: &[Source::CommonPractice],
    explanation: "A thread with hardly any wood around it is pulled out by hand.",
    example: "- butt: {part: shelf, to: side, screw: {length: 20}}   # through 18",
    run: short,
};

/// How much of a screw is in one piece of a part, and how far its tip is beyond that piece: of the piece that it passes
/// deepest.
fn held(screw: &DrivenScrew, part: &Part) -> Option<(f64, f64)> {
    let along = |axis: usize| (screw.tip[axis] - screw.head[axis]).abs();
    let axis = (0..3).max_by(|a, b| along(*a).total_cmp(&along(*b)))?;
    let (head, tip) = (screw.head[axis], screw.tip[axis]);
    part.bodies()
        .iter()
        .filter_map(|body| {
            let bounds = body.bounds();
            let beside = (0..3).any(|other| {
                let at = screw.head[other];
                other != axis && !(bounds.min[other]..=bounds.max[other]).contains(&at)
            });
            let (low, high) = (bounds.min[axis], bounds.max[axis]);
            let inside = head.max(tip).min(high) - head.min(tip).max(low);
            let out = if tip > head { tip - high } else { low - tip };
            (!beside && inside > 0.0).then_some((inside, out))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0))
}

fn comes_out(scene: &Scene, report: &mut Report) {
    for joint in &scene.plan.joints {
        for screw in &joint.screws {
            let Some(part) = scene.plan.part(&screw.into) else {
                continue;
            };
            let (through, into) = (&screw.through, &screw.into);
            let finding = match held(screw, part) {
                Some((_, out)) if out > 0.0 => report
                    .finding(
                        joint.span,
                        format!(
                            "a screw from `{through}` comes {} out of `{into}`",
                            report.show(out)
                        ),
                    )
                    .fix(format!(
                        "use one that is at least {} shorter",
                        report.show(out + 1.0)
                    )),
                Some(_) => continue,
                None => report
                    .finding(
                        joint.span,
                        format!("a screw from `{through}` misses `{into}`"),
                    )
                    .fix("move the screws to where the two parts meet"),
            };
            report.add(&[], finding);
        }
    }
}

fn short(scene: &Scene, report: &mut Report) {
    let least = report.limit();
    for joint in &scene.plan.joints {
        for screw in &joint.screws {
            let Some(part) = scene.plan.part(&screw.into) else {
                continue;
            };
            let Some((inside, _)) = held(screw, part) else {
                continue;
            };
            if inside >= least {
                continue;
            }
            let finding = report
                .finding(
                    joint.span,
                    format!(
                        "a screw from `{}` reaches only {} into `{}`",
                        screw.through,
                        report.show(inside),
                        screw.into
                    ),
                )
                .fix(format!(
                    "use one that is {} longer",
                    report.show(least - inside)
                ));
            report.add(&[], finding);
        }
    }
}
