//! The order in which parts are put together: what would become unreachable goes first.

use super::space::{MEETS, Triple};
use crate::joint::{DrivenScrew, Joint};
use crate::plan::Part;

/// One step: a part is added to those that are there already.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Step {
    /// The part.
    pub part: String,
    /// What it is put together with before the whole, if the plan says.
    pub group: Option<String>,
    /// Numbers of the joints that are made in this step, in the order of the plan's joints.
    pub joints: Vec<usize>,
    /// Why it comes here, in a few words.
    pub reason: String,
}

/// What must be there before a part can be added, and why.
struct Wait {
    part: usize,
    before: usize,
    reason: String,
}

/// Orders the parts. Those that `given` names come first, in its order; the rest as the joints ask:
///
/// - a part that is held in cuts of two others goes in before the second of them;
/// - a part that covers the heads of screws comes after the parts that they hold;
/// - groups (drawers) are put together before what they go into is closed by doors, and doors come last;
/// - otherwise a part comes next that is joined to what is there, in the order of the plan.
pub fn order(parts: &[&Part], joints: &[Joint], given: &[String]) -> Vec<Step> {
    let index_of = |id: &str| parts.iter().position(|part| part.id == id);
    let waits = waits(parts, joints);
    let mut placed: Vec<usize> = Vec::new();
    let mut steps = Vec::new();
    let mut wanted: Vec<usize> = given.iter().filter_map(|id| index_of(id)).collect();
    wanted.reverse();
    while placed.len() < parts.len() {
        let (next, reason) = match wanted.pop() {
            Some(next) if placed.contains(&next) => continue,
            Some(next) => (next, "the plan says so".to_owned()),
            None => choose(parts, joints, &waits, &placed),
        };
        let made = joints.iter().enumerate().filter(|(_, joint)| {
            let here = |id: &str| index_of(id).is_some_and(|i| i == next || placed.contains(&i));
            let part_of = joint.part == parts[next].id || joint.to == parts[next].id;
            part_of && here(&joint.part) && here(&joint.to)
        });
        steps.push(Step {
            part: parts[next].id.clone(),
            group: parts[next].group.clone(),
            joints: made.map(|(index, _)| index).collect(),
            reason,
        });
        placed.push(next);
    }
    steps
}

fn choose(parts: &[&Part], joints: &[Joint], waits: &[Wait], placed: &[usize]) -> (usize, String) {
    let rank = |candidate: usize| {
        let part = parts[candidate];
        let open = waits
            .iter()
            .filter(|wait| wait.part == candidate && !placed.contains(&wait.before))
            .count();
        // A group that has been begun is finished first.
        let current = placed.last().and_then(|last| parts[*last].group.as_deref());
        let begun = part.group.as_deref() == current;
        let unfinished = parts
            .iter()
            .enumerate()
            .any(|(index, other)| other.group.as_deref() == current && !placed.contains(&index));
        let leaves = !begun && unfinished && !placed.is_empty();
        let late = u8::from(matches!(part.motion, Some(super::Motion::Swings(_))));
        let joined = joints.iter().any(|joint| {
            let other = if joint.part == part.id {
                &joint.to
            } else if joint.to == part.id {
                &joint.part
            } else {
                return false;
            };
            placed.iter().any(|index| parts[*index].id == *other)
        });
        (leaves, late, open, !joined, candidate)
    };
    let next = (0..parts.len())
        .filter(|index| !placed.contains(index))
        .min_by_key(|index| rank(*index))
        .unwrap_or(0);
    let reason = waits
        .iter()
        .find(|wait| wait.part == next && placed.contains(&wait.before))
        .or_else(|| {
            waits
                .iter()
                .find(|wait| wait.before == next && !placed.contains(&wait.part))
        })
        .map_or_else(
            || {
                let (_, _, _, alone, _) = rank(next);
                if alone {
                    "begins"
                } else {
                    "joined to what is there"
                }
                .to_owned()
            },
            |wait| wait.reason.clone(),
        );
    (next, reason)
}

fn waits(parts: &[&Part], joints: &[Joint]) -> Vec<Wait> {
    let index_of = |id: &str| parts.iter().position(|part| part.id == id);
    let mut waits = Vec::new();
    for (captured, part) in parts.iter().enumerate() {
        let holders: Vec<(usize, usize)> = joints
            .iter()
            .filter(|joint| joint.captures && joint.part == part.id)
            .filter_map(|joint| {
                let meeting = joint.meetings.first()?;
                Some((index_of(&joint.to)?, meeting.to.thick_axis()))
            })
            .collect();
        // Two holders that face each other: whichever comes second finds the part there.
        for (number, (holder, axis)) in holders.iter().enumerate() {
            if holders[..number].iter().any(|(_, other)| other == axis) {
                waits.push(Wait {
                    part: *holder,
                    before: captured,
                    reason: format!("{} is held between it and the one opposite", part.title),
                });
            }
        }
    }
    for joint in joints {
        for screw in &joint.screws {
            for (cover, part) in parts.iter().enumerate() {
                if part.id == screw.through || part.id == screw.into {
                    continue;
                }
                let out = before_head(screw);
                if !part
                    .bodies()
                    .iter()
                    .any(|body| body.bounds().holds(out, 0.0))
                {
                    continue;
                }
                for id in [&screw.through, &screw.into] {
                    if let Some(before) = index_of(id) {
                        waits.push(Wait {
                            part: cover,
                            before,
                            reason: format!("it covers the screws of {}", screw.into),
                        });
                    }
                }
            }
        }
    }
    waits
}

/// Just outside the head of a screw, where the driver is.
fn before_head(screw: &DrivenScrew) -> Triple {
    const AWAY: f64 = 0.5;
    let length = |i: usize| screw.head[i] - screw.tip[i];
    [0, 1, 2].map(|i| {
        let away = if length(i).abs() > MEETS {
            AWAY.copysign(length(i))
        } else {
            0.0
        };
        screw.head[i] + away
    })
}
