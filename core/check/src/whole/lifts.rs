//! Units that are to lift off and cannot.

use std::collections::{BTreeMap, BTreeSet};

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::hardware::FittingKind;
use jigless_model::joint::{DRIVER, Joint, With};
use jigless_model::plan::Part;
use jigless_model::provenance::Source;

use super::TOLERANCE;
use crate::report::Owner;
use crate::scene::name_of;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("lift-blocked"),
    name: "a part that is to lift off and cannot",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "of every joint with `lifts_off: yes`: whether anything else joins what lifts to what stays, and whether \
        anything that stays is above it; and whether its bolts are reached by a straight driver of 150 mm, with drawers out, \
        doors open and what is loose away",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
    explanation: "What is to come apart for moving house must not be glued or screwed elsewhere, and its way up must be free.",
    example: "- bolted: {part: top, to: base, insert: {hole: 9.5, length: 13}, lifts_off: yes}   # and a rail over the top",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for joint in &scene.plan.joints {
        if joint.lifts_off {
            lifts(scene, joint, report);
        }
    }
}

fn lifts(scene: &Scene, joint: &Joint, report: &mut Report) {
    // Of the two the upper one lifts, with all that hangs on it otherwise.
    let Some(meeting) = joint.meetings.first() else {
        return;
    };
    let part_is_upper = meeting.part.bounds().centre()[1] >= meeting.to.bounds().centre()[1];
    let (upper, lower) = if part_is_upper {
        (joint.part.as_str(), joint.to.as_str())
    } else {
        (joint.to.as_str(), joint.part.as_str())
    };
    let lifted = hanging_on(scene, upper);
    let Some(part) = scene.piece(upper).map(crate::CheckedPart::part) else {
        return;
    };
    if lifted.contains(lower) {
        let holding = scene.plan.joints.iter().find(|other| {
            !other.lifts_off
                && (other.part == lower || other.to == lower)
                && other.with != With::Nothing
        });
        let with = holding.map_or("another joint", |other| other.with.name());
        let mut finding = report.finding(
            joint.span,
            format!("`{upper}` is to lift off `{lower}`, and other joints hold the two together, by {with}"),
        );
        if let Some(other) = holding {
            finding = finding.label(other.span, "what holds it, too");
        }
        let finding = finding.fix("leave that joint out, or write `lifts_off: yes` at it, too");
        report.add(&[Owner::Part(part)], finding);
        return;
    }
    let solids = &scene.assembled.solids;
    let Some(all) = scene.assembled.bounds else {
        return;
    };
    for solid in solids
        .iter()
        .filter(|solid| lifted.contains(solid.workpiece.part.id.as_str()))
    {
        let mut way = solid.bounds;
        way.min[1] = solid.bounds.max[1];
        way.max[1] = all.max[1] + 1.0;
        let blocks = |other: &usize| {
            let part = &solids[*other].workpiece.part;
            !lifted.contains(part.id.as_str()) && solids[*other].bounds.overlaps(way, TOLERANCE)
        };
        if let Some(other) = scene.assembled.near(way).into_iter().find(blocks) {
            let blocking = &solids[other].workpiece.part;
            let finding = report
                .finding(
                    joint.span,
                    format!(
                        "`{}` cannot lift off: `{}` is above it, {} higher",
                        solid.workpiece.part.id,
                        blocking.id,
                        report.show(solids[other].bounds.min[1] - solid.bounds.max[1])
                    ),
                )
                .label(blocking.span, "in the way")
                .fix("move it aside, or let it lift off first by a joint of its own");
            report.add(&[Owner::Part(part), Owner::Part(blocking)], finding);
            return;
        }
    }
    out_of_reach(scene, joint, report);
}

/// Reports a bolt of the joint that a straight driver does not reach when everything is there.
/// Drawers are taken out for it, doors opened, and what is loose taken away.
fn out_of_reach(scene: &Scene, joint: &Joint, report: &mut Report) {
    let ids = [joint.part.as_str(), joint.to.as_str()];
    let part_of = |solid: usize| &scene.assembled.solids[solid].workpiece.part;
    let stays = |part: &Part| part.motion.is_none() && part.group.is_none() && !part.loose;
    for (solid, driven) in &scene.driven {
        let part = part_of(*solid);
        let is_own = |id: &str| ids.contains(&id) && id != part.id;
        if driven.kind != FittingKind::Bolt || !ids.contains(&part.id.as_str()) {
            continue;
        }
        let ahead = scene.assembled.stretches(driven.head, driven.tip());
        if !ahead
            .iter()
            .any(|stretch| is_own(&part_of(stretch.solid).id))
        {
            continue;
        }
        let behind = (driven.at(-TOLERANCE), driven.at(-DRIVER));
        let counts = |other: usize| other != *solid && stays(part_of(other));
        let Some(before) = scene.assembled.in_the_way(behind, TOLERANCE, counts) else {
            continue;
        };
        let blocking = part_of(before.solid);
        let finding = report
            .finding(
                joint.span,
                format!(
                    "`{}`: its bolt at {} cannot be reached: `{}` is {} before its head",
                    part.id,
                    name_of(driven.operation),
                    blocking.id,
                    report.show(before.from + TOLERANCE)
                ),
            )
            .label(blocking.span, "in the way of the driver")
            .fix(format!(
                "leave {} free before the head of each bolt, or let the bolts come from the other side",
                report.show(DRIVER)
            ));
        report.add(&[Owner::Part(part), Owner::Part(blocking)], finding);
        return;
    }
}

/// The parts that hang on one by joints that stay.
fn hanging_on<'a>(scene: &Scene<'a>, first: &'a str) -> BTreeSet<&'a str> {
    let mut joined: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for joint in scene.plan.joints.iter().filter(|joint| !joint.lifts_off) {
        joined.entry(&joint.part).or_default().push(&joint.to);
        joined.entry(&joint.to).or_default().push(&joint.part);
    }
    let mut found = BTreeSet::from([first]);
    let mut waiting = vec![first];
    while let Some(next) = waiting.pop() {
        for other in joined.get(next).into_iter().flatten() {
            if found.insert(other) {
                waiting.push(other);
            }
        }
    }
    found
}
