//! The order in which parts are put together: what would become unreachable goes first.

use std::collections::BTreeMap;

use jigless_model::joint::{DRIVER, Joint, With};
use jigless_model::plan::Part;
use jigless_model::whole::{Body, Box3, MEETS, Motion, OrderReason, Step};

use crate::way_in::{Before, ways_in};

/// What must be there before a part can be added, and why.
struct Wait {
    part: usize,
    before: usize,
    reason: OrderReason,
}

/// What is known while the order is worked out; parts by their number.
struct Ordering<'a> {
    parts: &'a [&'a Part],
    waits: &'a [Wait],
    placed: Vec<bool>,
    /// How many each part still waits for.
    open: Vec<usize>,
    /// Whether a part is joined to one that is placed.
    reached: Vec<bool>,
    last: Option<usize>,
}

/// Orders the parts. Those that `given` names come first, in its order; the rest as the joints ask:
///
/// - a part that is held in cuts of two others, or by dowels, goes in before the second of them;
/// - a part that stands in the way of a straight driver comes after the parts that its screws hold;
/// - a group (a drawer) that has been begun is finished first, and doors come last;
/// - a part comes before those that would stand in its way;
/// - otherwise a part comes next that is joined to what is there, in the order of the plan;
/// - what is joined to nothing and belongs to no group comes at the end.
pub fn order(parts: &[&Part], joints: &[Joint], given: &[String]) -> Vec<Step> {
    let numbers: BTreeMap<&str, usize> = parts
        .iter()
        .enumerate()
        .map(|(index, part)| (part.id.as_str(), index))
        .collect();
    let ends: Vec<Option<(usize, usize)>> = joints
        .iter()
        .map(|joint| {
            Some((
                *numbers.get(joint.part.as_str())?,
                *numbers.get(joint.to.as_str())?,
            ))
        })
        .collect();
    let mut joined = vec![Vec::new(); parts.len()];
    let mut joints_of = vec![Vec::new(); parts.len()];
    for (index, (one, other)) in ends
        .iter()
        .enumerate()
        .filter_map(|(i, e)| Some((i, (*e)?)))
    {
        joined[one].push(other);
        joined[other].push(one);
        joints_of[one].push(index);
        joints_of[other].push(index);
    }
    let mut waits = waits(parts, joints, &numbers);
    let sequence = |waits: &[Wait]| in_sequence(parts, &joined, waits, &numbers, given);
    let mut chosen = sequence(&waits);
    let wished: Vec<usize> = chosen.iter().map(|(part, _)| *part).collect();
    let known: Vec<Before> = waits
        .iter()
        .map(|wait| Before {
            first: wait.before,
            then: wait.part,
        })
        .collect();
    let befores = ways_in(parts, &wished, &known);
    if !befores.is_empty() {
        waits.extend(befores.into_iter().map(|Before { first, then }| Wait {
            part: then,
            before: first,
            reason: OrderReason::CannotPass(parts[first].id.clone()),
        }));
        chosen = sequence(&waits);
    }
    let mut placed = vec![false; parts.len()];
    let mut steps = Vec::with_capacity(parts.len());
    for (next, reason) in chosen {
        placed[next] = true;
        let here =
            |index: &usize| ends[*index].is_some_and(|(one, other)| placed[one] && placed[other]);
        steps.push(Step {
            part: parts[next].id.clone(),
            group: parts[next].group.clone(),
            joints: joints_of[next].iter().copied().filter(here).collect(),
            reason,
        });
    }
    steps
}

/// Every part once, each with the reason for its place, as far as something waits for it or it for something.
fn in_sequence(
    parts: &[&Part],
    joined: &[Vec<usize>],
    waits: &[Wait],
    numbers: &BTreeMap<&str, usize>,
    given: &[String],
) -> Vec<(usize, Option<OrderReason>)> {
    let mut open = vec![0; parts.len()];
    let mut waiting_for = vec![Vec::new(); parts.len()];
    for wait in waits {
        open[wait.part] += 1;
        waiting_for[wait.before].push(wait.part);
    }
    let mut ordering = Ordering {
        waits,
        parts,
        placed: vec![false; parts.len()],
        open,
        reached: vec![false; parts.len()],
        last: None,
    };
    let mut wanted: Vec<usize> = given
        .iter()
        .filter_map(|id| numbers.get(id.as_str()).copied())
        .collect();
    wanted.reverse();
    let (mut waiting, alone): (Vec<usize>, Vec<usize>) = (0..parts.len()).partition(|index| {
        !joined[*index].is_empty()
            || parts[*index].group.is_some()
            || parts[*index].motion.is_some()
    });
    let mut alone = alone.into_iter();
    let mut sequence = Vec::with_capacity(parts.len());
    loop {
        let (next, reason) = if let Some(next) = wanted.pop() {
            (next, Some(OrderReason::PlanSaysSo))
        } else if let Some(next) = ordering.choose(&waiting) {
            (next, ordering.reason(next))
        } else if let Some(next) = alone.next() {
            (next, None)
        } else {
            return sequence;
        };
        waiting.retain(|index| *index != next);
        if std::mem::replace(&mut ordering.placed[next], true) {
            continue;
        }
        for part in &waiting_for[next] {
            ordering.open[*part] -= 1;
        }
        for other in &joined[next] {
            ordering.reached[*other] = true;
        }
        ordering.last = Some(next);
        sequence.push((next, reason));
    }
}

impl Ordering<'_> {
    fn choose(&self, waiting: &[usize]) -> Option<usize> {
        let current = self.last.and_then(|last| self.parts[last].group.as_deref());
        let unfinished = waiting
            .iter()
            .any(|index| self.parts[*index].group.as_deref() == current);
        waiting.iter().copied().min_by_key(|candidate| {
            let part = self.parts[*candidate];
            let leaves = self.last.is_some() && unfinished && part.group.as_deref() != current;
            let late = part.motion.and_then(Motion::swings_about).is_some();
            let (open, joined) = (self.open[*candidate], self.reached[*candidate]);
            (leaves, late, open, !joined, *candidate)
        })
    }

    fn reason(&self, next: usize) -> Option<OrderReason> {
        let waited = self
            .waits
            .iter()
            .find(|wait| wait.part == next && self.placed[wait.before]);
        let awaited = self
            .waits
            .iter()
            .find(|wait| wait.before == next && !self.placed[wait.part]);
        match (waited, awaited) {
            (Some(wait), _) => Some(wait.reason.clone()),
            (None, Some(wait)) => {
                let before = self.parts[wait.part].id.clone();
                Some(OrderReason::Before(before, Box::new(wait.reason.clone())))
            }
            (None, None) => None,
        }
    }
}

fn waits(parts: &[&Part], joints: &[Joint], numbers: &BTreeMap<&str, usize>) -> Vec<Wait> {
    let index_of = |id: &str| numbers.get(id).copied();
    let boxes: Vec<Vec<Box3>> = parts
        .iter()
        .map(|part| part.bodies().iter().map(Body::bounds).collect())
        .collect();
    let mut waits = Vec::new();
    let mut sliding: BTreeMap<&str, Vec<&Joint>> = BTreeMap::new();
    for joint in joints.iter().filter(|joint| slides_in(joint)) {
        sliding.entry(&joint.part).or_default().push(joint);
    }
    for (captured, part) in parts.iter().enumerate() {
        let own = sliding.get(part.id.as_str());
        let holders: Vec<(usize, usize)> = own
            .into_iter()
            .flatten()
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
                    reason: OrderReason::IsHeld(part.id.clone()),
                });
            }
        }
    }
    for screw in joints.iter().flat_map(|joint| &joint.screws) {
        let (mouth, end) = screw.driver(DRIVER);
        let ends = [&screw.through, &screw.into].map(|id| index_of(id));
        // What is built by itself or hung later is not there yet.
        let group = ends[0].and_then(|through| parts[through].group.as_deref());
        for (cover, own) in boxes.iter().enumerate() {
            let part = parts[cover];
            let other_unit = part.group.as_deref() != group;
            if other_unit || (group.is_none() && part.motion.is_some()) {
                continue;
            }
            if ends.contains(&Some(cover))
                || !own
                    .iter()
                    .any(|bounds| bounds.is_crossed(mouth, end, MEETS))
            {
                continue;
            }
            for before in ends.into_iter().flatten() {
                if !waits
                    .iter()
                    .any(|wait: &Wait| wait.part == cover && wait.before == before)
                {
                    waits.push(Wait {
                        part: cover,
                        before,
                        reason: OrderReason::DriverLater(screw.into.clone()),
                    });
                }
            }
        }
    }
    waits
}

/// Whether a joint can only be made by pushing the part toward the other: into a cut, or onto dowels.
fn slides_in(joint: &Joint) -> bool {
    joint.housed || joint.with == With::Dowels
}
