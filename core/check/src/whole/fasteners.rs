//! Screws and nails that go through one part into others, followed along their axis through the parts in their places.

use std::collections::BTreeSet;

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::hardware::FittingKind;
use jigless_model::provenance::Source;
use jigless_model::whole::Triple;

use super::along::{AHEAD, PLAY, Passed, part_of, passed};
use crate::driven::Driven;
use crate::report::Owner;
use crate::scene::name_of;
use crate::{CheckKind, CheckedPart, Group, Limit, Report, Scene};

/// A screw that comes out of the back of everything by this much or more is meant for the wall.
const INTO_WALL: f64 = 20.0;

pub(crate) static COMES_OUT: CheckKind = CheckKind {
    code: Code::declare("fastener-comes-out"),
    name: "a screw that comes out of the last part that it reaches",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "the tip of every screw or nail of a stated length that goes through one part into others, along its axis \
        through the wood of all parts that have places",
    limit: Some(Limit::length(1.0, "least wood in front of the point")),
    formula: Some("length > wood and joints along the axis - limit"),
    source: &[
        Source::Elementary,
        Source::Note(
            "the limit is common practice, no source. A screw that leaves the back of everything by 20 mm or more is \
            taken to go into the wall, and one with nothing placed before it is not looked at",
        ),
    ],
    explanation: "The point tears skin and cloth, and splits the face that it comes out of. Take a shorter screw.",
    example: "- hole: {at: [50, 50], diameter: 4.5, depth: through, hardware: {what: screw, length: 50}} # 18 mm against 18 mm",
    run: comes_out,
};

pub(crate) static IN_AIR: CheckKind = CheckKind {
    code: Code::declare("fastener-in-air"),
    name: "a screw that passes through air between two parts, or misses the part that it is meant for",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "air along the axis of every screw of a stated length between the part that it goes through and the next \
        one; and whether it meets the part that the plan names with `into`",
    limit: Some(Limit::length(PLAY, "most air between the two parts")),
    formula: None,
    source: &[Source::Elementary],
    explanation: "A screw pulls two parts together only where they touch; over a gap, a slot or a notch it bends and \
        works loose, and a screw beside the part holds nothing.",
    example: "- hole: {at: [50, 50], diameter: 4.5, depth: through, screw: {length: 40, size: 4 mm, into: side}} # the side is 10 mm off",
    run: in_air,
};

pub(crate) static SHORT: CheckKind = CheckKind {
    code: Code::declare("fastener-short"),
    name: "a screw that hardly reaches into the next part",
    group: Group::Fixing,
    severity: Severity::Warning,
    measures: "how much of every screw of a stated length that goes through a part is in the parts behind that",
    limit: Some(Limit::length(6.0, "the least that a thread holds in")),
    formula: None,
    source: &[Source::CommonPractice],
    explanation: "A thread with hardly any wood around it is pulled out by hand.",
    example: "- hole: {at: [50, 50], diameter: 4.5, depth: through, hardware: {what: screw, length: 20}} # through 18",
    run: short,
};
/// A place on a grid of a hundredth of a millimetre whose lines lie where no sum of round lengths does.
fn on_grid(point: Triple) -> [i64; 3] {
    point.map(|at| (at * 100.0 + 0.312_3).floor() as i64)
}

/// Screws that go through their part, without those of joints, which have checks of their own.
fn screws<'s, 'a>(scene: &'s Scene<'a>) -> Vec<(usize, &'s Driven<'a>)> {
    let of_joints: BTreeSet<[i64; 3]> = scene
        .plan
        .joints
        .iter()
        .flat_map(|joint| &joint.screws)
        .map(|screw| on_grid(screw.head))
        .collect();
    let kinds = [
        FittingKind::Screw,
        FittingKind::Nail,
        FittingKind::Staple,
        FittingKind::PocketScrew,
    ];
    let wanted = |driven: &Driven| {
        driven.through && kinds.contains(&driven.kind) && !of_joints.contains(&on_grid(driven.head))
    };
    let all = scene.driven.iter();
    all.filter(|(_, driven)| wanted(driven))
        .map(|(solid, driven)| (*solid, driven))
        .collect()
}

/// Whether another check follows it: a screw whose part is named.
fn has_own_check(driven: &Driven) -> bool {
    driven.into.is_some() && driven.kind == FittingKind::Screw
}

/// Whether the axis leaves the back of everything here, toward the wall.
fn is_the_wall(scene: &Scene, driven: &Driven, end: f64) -> bool {
    let backmost = scene.assembled.bounds.map_or(0.0, |all| all.min[2]);
    driven.toward[2] < -0.99 && driven.at(end)[2] <= backmost + PLAY
}
fn comes_out(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for (solid, driven) in screws(scene) {
        if has_own_check(driven) {
            continue;
        }
        let Some(Passed {
            beyond: Some((first, end, last)),
            ..
        }) = passed(scene, solid, driven)
        else {
            continue;
        };
        let length = driven.length.value;
        let left = end - length;
        if left + LENGTH_TOLERANCE >= limit || length <= first.from {
            continue;
        }
        if -left >= INTO_WALL && is_the_wall(scene, driven, end) {
            continue;
        }
        let (part, other) = (part_of(scene, solid), part_of(scene, last));
        let message = if left < 0.0 {
            format!(
                "`{}`: a {} {} long at {} comes {} out of `{}`",
                part.id,
                driven.what,
                report.show(length),
                name_of(driven.operation),
                report.show(-left),
                other.id
            )
        } else {
            format!(
                "`{}`: a {} {} long at {} leaves {} of wood in front of its point in `{}`",
                part.id,
                driven.what,
                report.show(length),
                name_of(driven.operation),
                report.show(left),
                other.id
            )
        };
        let finding = report
            .finding(driven.length.span, message)
            .label(other.span, "the part that it ends in")
            .figures(
                report.show(left),
                format!("at least {}", report.show(limit)),
            )
            .fix(format!(
                "take one at least {} shorter",
                report.show(limit - left)
            ));
        report.add(
            &[
                Owner::Feature(part, Some(driven.feature)),
                Owner::Part(other),
            ],
            finding,
        );
    }
}

fn in_air(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for (solid, driven) in screws(scene) {
        let part = part_of(scene, solid);
        if scene.is_loose(solid) {
            continue;
        }
        let Some(Passed { own, beyond }) = passed(scene, solid, driven) else {
            continue;
        };
        let named = driven.into.and_then(|into| scene.piece(&into.value));
        if let Some(named) = named
            .map(CheckedPart::part)
            .filter(|named| !named.places.is_empty())
        {
            let far = driven.at(driven.length.value + AHEAD);
            let stretches = scene.assembled.stretches(driven.head, far);
            let met = stretches
                .iter()
                .find(|stretch| part_of(scene, stretch.solid).id == named.id)
                .map(|stretch| stretch.from);
            let needed = match met {
                None => Some((
                    "does not meet".to_owned(),
                    format!(
                        "put the hole where `{}` lies behind it, with {} of its wood for the screw",
                        named.id,
                        report.show((driven.length.value - own).max(0.0))
                    ),
                )),
                Some(from) if from >= driven.length.value => {
                    let missing = report.show(from - driven.length.value);
                    Some((
                        format!("ends {missing} before it comes to"),
                        format!("take one more than {missing} longer"),
                    ))
                }
                Some(_) => None,
            };
            if let Some((what, fix)) = needed {
                let finding = report
                    .finding(
                        driven.into.map_or(driven.span(), |into| into.span),
                        format!(
                            "`{}`: a {} at {} {what} `{}`",
                            part.id,
                            driven.what,
                            name_of(driven.operation),
                            named.id
                        ),
                    )
                    .label(named.span, "the part that is named")
                    .fix(fix);
                report.add(&[Owner::Feature(part, Some(driven.feature))], finding);
                continue;
            }
        }
        let Some((first, ..)) = beyond else { continue };
        let gap = first.from - own;
        // What does not reach the next part is not meant for it.
        if gap <= limit + LENGTH_TOLERANCE || driven.length.value <= first.from {
            continue;
        }
        let other = part_of(scene, first.solid);
        let finding = report
            .finding(
                driven.length.span,
                format!(
                    "`{}`: a {} at {} passes {} of air before it comes to `{}`",
                    part.id,
                    driven.what,
                    name_of(driven.operation),
                    report.show(gap),
                    other.id
                ),
            )
            .label(other.span, "the next part")
            .figures(report.show(gap), format!("at most {}", report.show(limit)))
            .fix(format!(
                "move one of them by {}, or the hole to where they touch",
                report.show(gap)
            ));
        report.add(
            &[
                Owner::Feature(part, Some(driven.feature)),
                Owner::Part(other),
            ],
            finding,
        );
    }
}

fn short(scene: &Scene, report: &mut Report) {
    let least = report.limit();
    for (solid, driven) in screws(scene) {
        if has_own_check(driven) {
            continue;
        }
        let Some(Passed {
            own,
            beyond: Some((first, ..)),
        }) = passed(scene, solid, driven)
        else {
            continue;
        };
        let inside = driven.length.value - first.from;
        // What ends in its own part is no screw through it; a gap has been reported.
        if driven.length.value <= own + LENGTH_TOLERANCE
            || first.from - own > PLAY
            || inside + LENGTH_TOLERANCE >= least
        {
            continue;
        }
        let (part, other) = (part_of(scene, solid), part_of(scene, first.solid));
        let finding = report
            .finding(
                driven.length.span,
                format!(
                    "`{}`: a {} {} long at {} reaches only {} into `{}`",
                    part.id,
                    driven.what,
                    report.show(driven.length.value),
                    name_of(driven.operation),
                    report.show(inside.max(0.0)),
                    other.id
                ),
            )
            .label(other.span, "the next part")
            .figures(
                report.show(inside),
                format!("at least {}", report.show(least)),
            )
            .fix(format!("take one {} longer", report.show(least - inside)));
        report.add(&[Owner::Feature(part, Some(driven.feature))], finding);
    }
}
