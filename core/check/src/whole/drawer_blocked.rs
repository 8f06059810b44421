//! Drawers that cannot come out.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::whole::Motion;

use super::TOLERANCE;
use crate::assembled::Assembled;
use crate::report::Owner;
use crate::solid::{Solid, shared};
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("drawer-blocked"),
    name: "a drawer that cannot come out",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "the way of every piece of a drawer to the front, by the length of the drawer, against the wood of all \
        other pieces that have places; doors are taken to be open",
    limit: None,
    formula: None,
    source: &[Source::Note("elementary")],
    explanation: "What slides must find nothing in its way: a rail, a post or a shelf that is too low.",
    example: "post: {place: {at: [20, 0, 530]}}   # before a drawer in a cabinet 500 deep",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let assembled = &scene.assembled;
    for front in &assembled.solids {
        if front.workpiece.part.motion == Some(Motion::Slides) {
            slides(front, assembled, report);
        }
    }
}

/// Whether two pieces belong to one group.
fn together(one: &Solid, other: &Solid) -> bool {
    let (one, other) = (&one.workpiece.part, &other.workpiece.part);
    one.id == other.id || one.group.is_some() && one.group == other.group
}

fn slides(front: &Solid, assembled: &Assembled, report: &mut Report) {
    let members: Vec<&Solid> = assembled
        .solids
        .iter()
        .filter(|other| together(front, other))
        .collect();
    let travel = members
        .iter()
        .map(|member| member.bounds.size(2))
        .fold(0.0, f64::max);
    for member in &members {
        let mut path = member.bounds;
        path.max[2] += travel;
        for other in assembled.near(path) {
            let other = &assembled.solids[other];
            let part = &other.workpiece.part;
            let opens = part.motion.and_then(Motion::swings_about).is_some();
            if together(front, other) || opens || !path.overlaps(other.bounds, TOLERANCE) {
                continue;
            }
            let within = path.common(other.bounds);
            let wood = |point| other.contains(point);
            if shared(within, &other.breaks(), wood, TOLERANCE).is_none() {
                continue;
            }
            let room = within.size(0).min(within.size(1));
            let own = &member.workpiece.part;
            let finding = report
                .finding(
                    own.span,
                    format!("`{}` cannot come out: `{}` is in its way", own.id, part.id),
                )
                .label(part.span, "in the way")
                .fix(format!(
                    "make {} of room: make it smaller or move what is in its way",
                    report.show(room)
                ));
            report.add(&[Owner::Part(own), Owner::Part(part)], finding);
        }
    }
}
