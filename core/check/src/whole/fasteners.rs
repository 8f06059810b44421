//! Screws and bolts that go through one part into others, followed along their axis through the parts in their places.

use std::collections::BTreeSet;

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::hardware::FittingKind;
use jigless_model::operation::Depth;
use jigless_model::plan::Part;
use jigless_model::provenance::Source;
use jigless_model::whole::Triple;

use crate::assembled::Stretch;
use crate::driven::{Driven, axis_of, driven_into};
use crate::report::Owner;
use crate::scene::name_of;
use crate::solid::{Solid, distance};
use crate::{CheckKind, CheckedPart, Group, Limit, Report, Scene};

/// How far beyond its tip the axis of a screw is followed.
const AHEAD: f64 = 400.0;
/// Air between two parts that a screw pulls together, in millimetres: the play of a panel in its rebate.
const PLAY: f64 = 1.0;
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

pub(crate) static BOLT_SHORT: CheckKind = CheckKind {
    code: Code::declare("bolt-short"),
    name: "a bolt that does not reach its nut or insert",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "a bolt of a stated length in a through hole, against the wood along its axis and its own diameter for \
        the nut; where an insert stands behind the hole, how far it goes into the insert, against the bolt's diameter \
        or the insert's length, whichever is less",
    limit: None,
    formula: Some("length < wood + diameter; length - wood < min(diameter, insert)"),
    source: &[Source::Note(
        "a nut is about 0.8 of its thread high and a washer 0.2 (ISO 4032, ISO 7089, from memory); one diameter of \
        thread: common practice, no source",
    )],
    explanation: "A nut that is not filled with thread strips.",
    example: "- hole: {at: [50, 50], diameter: 8.5, depth: through, hardware: {what: bolt, length: 20, gauge: M8}} # through 18",
    run: bolt_short,
};

pub(crate) static BOLT_BOTTOMS: CheckKind = CheckKind {
    code: Code::declare("bolt-bottoms"),
    name: "a bolt or knob that comes to the bottom of its hole before it is tight",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "a bolt, or the thread of a knob, that goes into a threaded insert in a blind hole, against the depth of \
        that hole",
    limit: None,
    formula: Some("length - wood before the insert > depth of the hole"),
    source: &[Source::Elementary],
    explanation: "The thread meets the wood behind the insert and pushes the insert out instead of pulling the parts \
        together. Take a shorter one, or drill deeper.",
    example: "- hole: {at: [50, 50], diameter: 9.5, depth: 14, insert: {hole: 9.5, length: 13}, hardware: {what: knob, length: 25}}",
    run: bolt_bottoms,
};

pub(crate) static BOLT_OFF: CheckKind = CheckKind {
    code: Code::declare("bolt-off-insert"),
    name: "a bolt that misses the insert that it is meant for",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "the axis of every bolt of a stated length in a through hole against that of the nearest insert behind it, \
        up to 10 mm away; the play of the bolt in its hole is allowed",
    limit: None,
    formula: Some("distance of the axes > (hole - bolt) / 2, and 0.1 mm at least"),
    source: &[Source::Elementary],
    explanation: "Of two holes that are half a millimetre beside each other the bolt finds none. Drill both from one \
        template, or from the places of the parts by a `bolted` joint.",
    example: "rail: {place: {at: [18, 0.5, 0]}}   # with a bolt into an insert of a side at 0",
    run: bolt_off,
};

/// How far an insert is looked for beside a bolt, in millimetres.
const BESIDE: f64 = 10.0;
/// What a drill is off by itself, in millimetres (common practice, no source).
const DRILLED: f64 = 0.1;

fn bolt_off(scene: &Scene, report: &mut Report) {
    for (solid, driven) in &scene.driven {
        if driven.kind != FittingKind::Bolt || !driven.through {
            continue;
        }
        let Some(Passed { own, beyond }) = passed(scene, *solid, driven) else {
            continue;
        };
        let Some((first, ..)) = beyond.filter(|(first, ..)| first.from - own <= PLAY) else {
            continue;
        };
        let mouth = driven.at(first.from);
        let Some(off) = nearest_insert(scene, first.solid, mouth) else {
            continue;
        };
        let play = (driven.radius - diameter_of(driven) / 2.0).max(DRILLED);
        if off <= play + LENGTH_TOLERANCE || off > BESIDE {
            continue;
        }
        let (part, other) = (part_of(scene, *solid), part_of(scene, first.solid));
        let finding = report
            .finding(
                driven.span(),
                format!(
                    "`{}`: a bolt at {} misses its insert in `{}` by {}",
                    part.id,
                    name_of(driven.operation),
                    other.id,
                    report.show(off)
                ),
            )
            .label(other.span, "the part with the insert")
            .figures(report.show(off), format!("at most {}", report.show(play)))
            .fix(format!("move one of the two by {}", report.show(off)));
        report.add(
            &[
                Owner::Feature(part, Some(driven.feature)),
                Owner::Part(other),
            ],
            finding,
        );
    }
}

/// How far the mouth of the nearest insert of a piece is.
fn nearest_insert(scene: &Scene, solid: usize, at: Triple) -> Option<f64> {
    let own = &scene.assembled.solids[solid];
    let frame = own.workpiece.part.frame();
    let facts = scene.part_of(solid).facts.iter();
    let features = facts.filter(|(_, fact)| matches!(fact, Fact::Insert { .. }));
    let features: BTreeSet<usize> = features.map(|(feature, _)| *feature).collect();
    let operations = own.workpiece.operations.iter();
    operations
        .filter(|operation| {
            operation
                .origin
                .feature
                .is_some_and(|of| features.contains(&of))
        })
        .filter_map(|operation| axis_of(operation, &frame))
        .map(|(mouth, ..)| distance(own.whole(mouth.0, mouth.1), at))
        .min_by(f64::total_cmp)
}

/// What of a screw is in the wood behind the part that it goes through.
struct Passed {
    /// Where the first part ends, along the axis.
    own: f64,
    /// Where the wood of the others begins and where it ends, without a gap, and the last of them.
    beyond: Option<(Stretch, f64, usize)>,
}

/// Follows a screw through its own part and those that lie behind it.
fn passed(scene: &Scene, solid: usize, driven: &Driven) -> Option<Passed> {
    let far = driven.length.value + AHEAD;
    let stretches = scene.assembled.stretches(driven.head, driven.at(far));
    let own = stretches.iter().find(|s| s.solid == solid)?.to;
    let mut behind = stretches
        .iter()
        .filter(|s| s.solid != solid && s.to > own + LENGTH_TOLERANCE);
    let first = behind.next().copied();
    let beyond = first.map(|first| {
        let (mut end, mut last) = (first.to, first.solid);
        for next in behind {
            if next.from > end + PLAY {
                break;
            }
            if next.to > end {
                (end, last) = (next.to, next.solid);
            }
        }
        (first, end, last)
    });
    Some(Passed { own, beyond })
}

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

fn part_of<'a>(scene: &Scene<'a>, solid: usize) -> &'a Part {
    &scene.assembled.solids[solid].workpiece.part
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

/// A bolt, the wood along it, and the insert that it goes into, if there is one.
struct Bolted<'a> {
    part: &'a Part,
    driven: Driven<'a>,
    wood: f64,
    insert: Option<Inserted>,
}

/// A threaded insert in its hole.
#[derive(Clone, Copy)]
struct Inserted {
    length: f64,
    /// How deep the hole is, where it is blind.
    hole: Option<f64>,
}

fn bolts<'a>(scene: &Scene<'a>) -> Vec<Bolted<'a>> {
    let mut all = Vec::new();
    let kinds = [FittingKind::Bolt, FittingKind::Knob];
    for piece in scene
        .pieces()
        .filter(|piece| piece.part().places.is_empty())
    {
        if !piece
            .facts
            .iter()
            .any(|(_, fact)| matches!(fact, Fact::Fastener(f) if kinds.contains(&f.kind)))
        {
            continue;
        }
        let alone = Solid::alone(piece.workpiece);
        for driven in driven_into(&alone, &piece.facts) {
            let insert = own_insert(piece, driven.feature);
            let wood = if driven.through {
                piece.part().thickness() - driven.sunk
            } else {
                0.0
            };
            let wanted = match driven.kind {
                FittingKind::Knob => insert.is_some(),
                kind => kind == FittingKind::Bolt,
            };
            if wanted {
                let wood = if insert.is_some() { 0.0 } else { wood };
                all.push(Bolted {
                    part: piece.part(),
                    driven,
                    wood,
                    insert,
                });
            }
        }
    }
    for (solid, driven) in &scene.driven {
        let part = part_of(scene, *solid);
        let own = || own_insert(scene.part_of(*solid), driven.feature);
        let driven = driven.clone();
        match driven.kind {
            FittingKind::Knob => {
                if let Some(insert) = own() {
                    all.push(Bolted {
                        part,
                        driven,
                        wood: 0.0,
                        insert: Some(insert),
                    });
                }
            }
            FittingKind::Bolt if !driven.through => {
                all.push(Bolted {
                    part,
                    driven,
                    wood: 0.0,
                    insert: own(),
                });
            }
            FittingKind::Bolt => {
                let Some(Passed { own, beyond }) = passed(scene, *solid, &driven) else {
                    continue;
                };
                let ahead = beyond.filter(|(first, ..)| first.from - own <= PLAY);
                let insert = ahead
                    .and_then(|(first, ..)| insert_at(scene, first.solid, &driven, first.from));
                let wood = match (insert, ahead) {
                    (Some(_), Some((first, ..))) => first.from,
                    (None, Some((_, end, _))) => end,
                    (_, None) => own,
                };
                all.push(Bolted {
                    part,
                    driven,
                    wood,
                    insert,
                });
            }
            _ => {}
        }
    }
    all
}

/// The insert that stands in the holes of a feature.
fn own_insert(piece: &CheckedPart, feature: usize) -> Option<Inserted> {
    piece.facts.iter().find_map(|(of, fact)| match fact {
        Fact::Insert { length, depth, .. } if *of == feature => Some(Inserted {
            length: length.value,
            hole: blind(depth.value),
        }),
        _ => None,
    })
}

fn blind(depth: Depth) -> Option<f64> {
    match depth {
        Depth::Through => None,
        Depth::Blind(depth) => Some(depth),
    }
}

/// The insert that stands in a piece where an axis comes into it.
fn insert_at(scene: &Scene, solid: usize, driven: &Driven, along: f64) -> Option<Inserted> {
    let at = driven.at(along);
    let own = &scene.assembled.solids[solid];
    let frame = own.workpiece.part.frame();
    scene
        .part_of(solid)
        .facts
        .iter()
        .find_map(|(feature, fact)| {
            let Fact::Insert { length, depth, .. } = fact else {
                return None;
            };
            let mut operations = own.workpiece.operations.iter();
            let found = operations.any(|operation| {
                operation.origin.feature == Some(*feature)
                    && axis_of(operation, &frame).is_some_and(|(mouth, bottom, ..)| {
                        let ends = [mouth, bottom].map(|(point, depth)| own.whole(point, depth));
                        ends.iter().any(|end| distance(*end, at) <= PLAY)
                    })
            });
            found.then(|| Inserted {
                length: length.value,
                hole: blind(depth.value),
            })
        })
}

/// Diameter of a bolt: of its name where that says so, or of its hole.
fn diameter_of(driven: &Driven) -> f64 {
    let named = driven.gauge.and_then(|gauge| {
        let digits = gauge.trim().trim_start_matches(['M', 'm']);
        digits.split_whitespace().next()?.parse::<f64>().ok()
    });
    named.unwrap_or(2.0 * driven.radius)
}

fn bolt_short(scene: &Scene, report: &mut Report) {
    for Bolted {
        part,
        driven,
        wood,
        insert,
    } in bolts(scene)
    {
        // A bolt that is meant to end in its own blind hole is a screw, and is looked at as one.
        if insert.is_none() && !driven.through {
            continue;
        }
        let own = diameter_of(&driven);
        let needed = insert.map_or(own, |insert| own.min(insert.length));
        let reach = driven.length.value - wood;
        if driven.kind == FittingKind::Knob || reach + LENGTH_TOLERANCE >= needed {
            continue;
        }
        let holder = if insert.is_some() { "insert" } else { "nut" };
        let finding = report
            .finding(
                driven.length.span,
                format!(
                    "`{}`: a {} {} long at {} reaches {} into its {holder}; {} is wanted",
                    part.id,
                    driven.what,
                    report.show(driven.length.value),
                    name_of(driven.operation),
                    report.show(reach.max(0.0)),
                    report.show(needed)
                ),
            )
            .figures(
                report.show(reach),
                format!("at least {}", report.show(needed)),
            )
            .fix(format!(
                "take one at least {} longer",
                report.show(needed - reach)
            ));
        report.add(&[Owner::Feature(part, Some(driven.feature))], finding);
    }
}

fn bolt_bottoms(scene: &Scene, report: &mut Report) {
    for Bolted {
        part,
        driven,
        wood,
        insert,
    } in bolts(scene)
    {
        let Some(hole) = insert.and_then(|insert| insert.hole) else {
            continue;
        };
        let over = driven.length.value - wood - hole;
        if over <= LENGTH_TOLERANCE {
            continue;
        }
        let finding = report
            .finding(
                driven.length.span,
                format!(
                    "`{}`: a {} {} long at {} is {} longer than the hole of its insert is deep",
                    part.id,
                    driven.what,
                    report.show(driven.length.value),
                    name_of(driven.operation),
                    report.show(over)
                ),
            )
            .figures(
                report.show(driven.length.value - wood),
                format!("at most {}", report.show(hole)),
            )
            .fix(format!("take one at least {} shorter", report.show(over)));
        report.add(&[Owner::Feature(part, Some(driven.feature))], finding);
    }
}
