//! Joints whose parts do not meet over what their work needs.

use std::collections::{BTreeMap, BTreeSet};

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::joint::{Joint, Meeting, With};
use jigless_model::plan::{Part, StockKind};
use jigless_model::provenance::Source;
use jigless_model::whole::{Direction, Triple};

use super::TOLERANCE;
use super::pieces::name_of;
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

/// A piece that ends this near to the other part of its joint was meant to meet it, in millimetres.
const NEARLY: f64 = 30.0;

pub(crate) static PIECE_SHORT: CheckKind = CheckKind {
    code: Code::declare("joint-piece-short"),
    name: "a piece that its joint does not reach",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "every piece of the two parts of a joint: one that ends within 30 mm of the other part, and does not meet \
        it as the other pieces do",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
    explanation: "One post of two is short, or one rail stands beside its groove: the joint is drilled into both and holds \
        one.",
    example: "post: {count: 2, place: [{at: [0, 0, 0]}, {at: [300, -5, 0]}]}   # below a shelf that the first one meets",
    run: piece_short,
};

pub(crate) static GAP: CheckKind = CheckKind {
    code: Code::declare("joint-gap"),
    name: "a part that does not reach the bottom of its rebate, housing or groove",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "the air between the end of a part and the bottom of the cut that it goes into; panels of solid wood, which \
        need it, are left out",
    limit: Some(Limit::length(2.0, "most air at the bottom of a cut")),
    formula: None,
    source: &[Source::CommonPractice],
    explanation: "Glue and screws hold across a surface that touches. A part that is some millimetres short hangs on the \
        sides of the cut, and shows a gap at the front.",
    example: "- rebate: {part: top, to: side, depth: 8}   # and a top that goes in 5",
    run: gap,
};

pub(crate) static NARROW: CheckKind = CheckKind {
    code: Code::declare("joint-narrow"),
    name: "two parts that hardly overlap where they are joined",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "the narrower side of the surface in which the two parts of a joint with screws or dowels meet, where \
        both are thicker than that",
    limit: Some(Limit::length(
        8.0,
        "least width for a screw or dowel of usual size",
    )),
    formula: None,
    source: &[Source::Note(
        "twice the diameter of a 4 mm screw; common practice, no source",
    )],
    explanation: "The screws are in the middle of the surface where the parts meet. Where that is a few millimetres wide \
        they break out of the edge.",
    example: "rail: {place: {at: [18, 495, 0]}}   # 5 below the upper end of a side 500 high",
    run: narrow,
};

fn parts<'a>(scene: &Scene<'a>, joint: &Joint) -> Option<(&'a Part, &'a Part)> {
    Some((
        scene.piece(&joint.part)?.part(),
        scene.piece(&joint.to)?.part(),
    ))
}

/// One part of a joint, the other one, and which of the pieces of the first meets it.
type End<'j> = (&'j str, &'j str, fn(&Meeting) -> usize);

fn piece_short(scene: &Scene, report: &mut Report) {
    let solids = &scene.assembled.solids;
    let mut of_part: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (number, solid) in solids.iter().enumerate() {
        of_part
            .entry(&solid.workpiece.part.id)
            .or_default()
            .push(number);
    }
    let mut reported = BTreeSet::new();
    for joint in scene
        .plan
        .joints
        .iter()
        .filter(|joint| !joint.meetings.is_empty())
    {
        let ends: [End; 2] = [
            (&joint.part, &joint.to, |meeting| meeting.part_piece),
            (&joint.to, &joint.part, |meeting| meeting.to_piece),
        ];
        // The way in which the two come together: a piece that lies beside that way belongs to another joint.
        let ways: BTreeSet<usize> = joint.meetings.iter().map(way).collect();
        for (own, other, piece) in ends {
            let met: BTreeSet<usize> = joint.meetings.iter().map(piece).collect();
            for number in of_part.get(own).into_iter().flatten() {
                let solid = &solids[*number];
                if met.contains(&solid.number) || scene.is_loose(*number) {
                    continue;
                }
                let near = scene.assembled.neighbours(*number, NEARLY).into_iter();
                let near = near.filter(|near| solids[*near].workpiece.part.id == other);
                let missed = near.filter_map(|near| {
                    let (axis, distance) = misses(scene, *number, near)?;
                    ways.contains(&axis).then_some((near, distance))
                });
                let Some((near, distance)) = missed.min_by(|a, b| a.1.total_cmp(&b.1)) else {
                    continue;
                };
                if !reported.insert((*number).min(near)) {
                    continue;
                }
                let (part, to) = (&solid.workpiece.part, &solids[near].workpiece.part);
                let finding = report
                    .finding(
                        joint.span,
                        format!(
                            "{} is {} away from `{}`, which its joint needs it to meet",
                            name_of(solid),
                            report.show(distance),
                            to.id
                        ),
                    )
                    .label(part.span, "the part")
                    .fix(format!("move or lengthen it by {}", report.show(distance)));
                report.add(&[Owner::Part(part), Owner::Part(to)], finding);
            }
        }
    }
}

/// The axis along which the two of a meeting come together.
fn way(meeting: &Meeting) -> usize {
    meeting
        .touching()
        .map_or_else(|| meeting.to.thick_axis(), Direction::axis)
}

/// The axis along which two pieces miss each other and by how much, where they lie before each other in the two others.
fn misses(scene: &Scene, one: usize, other: usize) -> Option<(usize, f64)> {
    let solids = &scene.assembled.solids;
    let common = solids[one].bounds.common(solids[other].bounds);
    let apart: Vec<usize> = (0..3)
        .filter(|axis| common.size(*axis) < -TOLERANCE)
        .collect();
    match apart.as_slice() {
        [axis] => Some((*axis, -common.size(*axis))),
        _ => None,
    }
}

fn gap(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for joint in &scene.plan.joints {
        let Some((part, to)) = parts(scene, joint) else {
            continue;
        };
        if !matches!(joint.kind, "rebate" | "housing" | "groove")
            || part.stock.kind == StockKind::Solid
        {
            continue;
        }
        for meeting in &joint.meetings {
            let Some(air) = air_ahead(scene, meeting, to) else {
                continue;
            };
            if air <= limit + TOLERANCE {
                continue;
            }
            let finding = report
                .finding(
                    joint.span,
                    format!(
                        "`{}` ends {} before the bottom of its {} in `{}`",
                        part.id,
                        report.show(air),
                        joint.kind,
                        to.id
                    ),
                )
                .label(part.span, "the part that goes in")
                .figures(report.show(air), format!("at most {}", report.show(limit)))
                .fix(format!(
                    "lengthen or move it by {}, or make the cut shallower by as much",
                    report.show(air)
                ));
            report.add(&[Owner::Part(part), Owner::Part(to)], finding);
        }
    }
}

/// The air between the end of what is sunk and the wood of the other part, along the thickness of that.
fn air_ahead(scene: &Scene, meeting: &Meeting, to: &Part) -> Option<f64> {
    let axis = meeting.to.thick_axis();
    let (own, other) = (meeting.part.bounds(), meeting.to.bounds());
    let common = meeting.common();
    // It comes from the side where it reaches out of the other one.
    let forward = own.min[axis] < other.min[axis];
    let end = if forward {
        common.max[axis]
    } else {
        common.min[axis]
    };
    let far = if forward {
        other.max[axis]
    } else {
        other.min[axis]
    };
    let mut from: Triple = common.centre();
    from[axis] = end;
    let mut until = from;
    until[axis] = far;
    let solids = &scene.assembled.solids;
    let stretches = scene.assembled.stretches(from, until).into_iter();
    let mut own = stretches.filter(|stretch| {
        let solid = &solids[stretch.solid];
        solid.workpiece.part.id == to.id && solid.number == meeting.to_piece
    });
    own.next().map(|stretch| stretch.from)
}

fn narrow(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for joint in &scene.plan.joints {
        if !matches!(joint.with, With::Screws | With::PocketScrews | With::Dowels) || joint.housed {
            continue;
        }
        let Some((part, to)) = parts(scene, joint) else {
            continue;
        };
        let needed = limit.min(part.thickness()).min(to.thickness());
        for meeting in &joint.meetings {
            let common = meeting.common();
            let mut sizes = [0, 1, 2].map(|axis| common.size(axis));
            sizes.sort_by(f64::total_cmp);
            if sizes[1] + TOLERANCE >= needed {
                continue;
            }
            let finding = report
                .finding(
                    joint.span,
                    format!(
                        "`{}` and `{}` meet over a strip only {} wide",
                        part.id,
                        to.id,
                        report.show(sizes[1])
                    ),
                )
                .label(part.span, "the part")
                .label(to.span, "the other part")
                .figures(
                    report.show(sizes[1]),
                    format!("at least {}", report.show(needed)),
                )
                .fix(format!(
                    "move one of them by {} so that they meet over their whole thickness",
                    report.show(needed - sizes[1])
                ));
            report.add(&[Owner::Part(part), Owner::Part(to)], finding);
        }
    }
}
