//! Bolts and knobs against the nuts and inserts that they go into, along their axis.

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

use super::along::{PLAY, Passed, part_of, passed};
use crate::driven::{Driven, axis_of, driven_into};
use crate::report::Owner;
use crate::scene::name_of;
use crate::solid::{Solid, distance};
use crate::{CheckKind, CheckedPart, Group, Report, Scene};

pub(crate) static SHORT: CheckKind = CheckKind {
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
    run: short,
};

pub(crate) static BOTTOMS: CheckKind = CheckKind {
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
    run: bottoms,
};

pub(crate) static OFF: CheckKind = CheckKind {
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
    run: off,
};

/// How far an insert is looked for beside a bolt, in millimetres.
const BESIDE: f64 = 10.0;
/// What a drill is off by itself, in millimetres (common practice, no source).
const DRILLED: f64 = 0.1;

fn off(scene: &Scene, report: &mut Report) {
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
        let Some((insert, off)) = nearest_insert(scene, first.solid, mouth) else {
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
                Owner::Feature(other, Some(insert)),
            ],
            finding,
        );
    }
}

/// The feature of the nearest insert of a piece, and how far its mouth is.
fn nearest_insert(scene: &Scene, solid: usize, at: Triple) -> Option<(usize, f64)> {
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
        .filter_map(|operation| {
            let (mouth, ..) = axis_of(operation, &frame)?;
            let off = distance(own.whole(mouth.0, mouth.1), at);
            Some((operation.origin.feature?, off))
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
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

fn short(scene: &Scene, report: &mut Report) {
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

fn bottoms(scene: &Scene, report: &mut Report) {
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
