//! What is put together, unit by unit, and then the whole.

use jigless_model::caution::Caution;
use jigless_model::joint::{Joint, With};
use jigless_model::mark::Marks;
use jigless_model::plan::{Part, Plan};
use jigless_model::whole::{Box3, Step};
use jigless_model::workpiece::Workpiece;

use crate::fixings::Fixings;
use crate::pieces::{counted, is_joined, listed, named, of_length, pieces, swings};
use crate::step::{Fixing, Phase, WorkStep};

/// The steps of every unit that is built by itself, then those of the whole, in the order of the plan. What swings or is
/// joined to nothing comes when the piece is fitted out.
pub(crate) fn steps(
    plan: &Plan,
    workpieces: &[Workpiece],
    marks: &Marks,
    fixings: &mut Fixings,
) -> Vec<WorkStep> {
    let mut units: Vec<(Option<&str>, Vec<&Step>)> = Vec::new();
    for step in plan.order.iter().filter(|step| is_put_together(plan, step)) {
        let unit = step.group.as_deref();
        match units.iter_mut().find(|(own, _)| *own == unit) {
            Some((_, steps)) => steps.push(step),
            None => units.push((unit, vec![step])),
        }
    }
    // The whole comes after what goes into it.
    units.sort_by_key(|(unit, _)| unit.is_none());
    let mut all = Vec::new();
    for (unit, steps) in units {
        let parts: Vec<&Part> = steps
            .iter()
            .filter_map(|s| plan.part(&s.part))
            .map(AsRef::as_ref)
            .collect();
        let times = match unit {
            Some(_) => parts
                .iter()
                .map(|part| part.count)
                .reduce(common_divisor)
                .unwrap_or(1),
            None => 1,
        };
        let mut unit = Unit {
            plan,
            marks,
            group: unit,
            times,
            made: Vec::new(),
        };
        for (number, step) in steps.iter().enumerate() {
            let last = number + 1 == steps.len();
            unit.add(step, workpieces, fixings, last.then_some(&parts));
        }
        all.extend(unit.made);
    }
    all
}

/// Whether a part is put together with others, and not hung or laid in later.
fn is_put_together(plan: &Plan, step: &Step) -> bool {
    let part = plan.part(&step.part);
    part.is_some_and(|part| is_joined(plan, part) && !swings(part))
}

fn common_divisor(a: u32, b: u32) -> u32 {
    if b == 0 {
        a.max(1)
    } else {
        common_divisor(b, a % b)
    }
}

/// What is put together by itself: a drawer, or the whole.
struct Unit<'a> {
    plan: &'a Plan,
    marks: &'a Marks,
    /// The group of its parts; none for the whole.
    group: Option<&'a str>,
    times: u32,
    made: Vec<WorkStep>,
}

impl<'a> Unit<'a> {
    /// Adds the step in which a part comes in; the first parts of a unit, which are joined to nothing yet, share one with
    /// the next.
    fn add(
        &mut self,
        step: &'a Step,
        workpieces: &[Workpiece],
        fixings: &mut Fixings,
        whole: Option<&Vec<&Part>>,
    ) {
        let Some(part) = self.plan.part(&step.part) else {
            return;
        };
        let phase = if self.group.is_some() {
            Phase::Build
        } else {
            Phase::Assemble
        };
        let own = pieces(part, self.marks, part.count / self.times);
        let waits = self.made.last().is_some_and(|last| last.acts.is_empty());
        if !waits {
            let title = match self.group {
                Some(unit) => format!("{unit}: {}", part.title),
                None => part.title.clone(),
            };
            let mut made = WorkStep::new(phase, format!("join-{}", part.id), title);
            made.times = self.times;
            made.adds = true;
            self.made.push(made);
        }
        let Some(made) = self.made.last_mut() else {
            return;
        };
        if waits {
            made.title = format!("{} and {}", made.title, part.title);
        }
        made.pieces.push(own);
        if made.reason.is_none() {
            made.reason.clone_from(&step.reason);
        }
        let joints: Vec<&Joint> = step
            .joints
            .iter()
            .filter_map(|number| self.plan.joints.get(*number))
            .collect();
        for joint in &joints {
            let (times, taken) = (self.times, fixings.of_joint(joint, workpieces));
            let taken: Vec<Fixing> = taken
                .into_iter()
                .map(|fixing| Fixing {
                    count: fixing.count / times,
                    ..fixing
                })
                .filter(|fixing| fixing.count > 0)
                .collect();
            made.acts.extend(act(self.plan, self.marks, joint, &taken));
            if joint.glue.is_some() && !made.cautions.contains(&Caution::Glue) {
                made.cautions.push(Caution::Glue);
                made.tools.push("glue and clamps".to_owned());
            }
            if matches!(joint.with, With::Screws | With::PocketScrews | With::Bolts) {
                let driver = "driver".to_owned();
                if !made.tools.contains(&driver) {
                    made.tools.push(driver);
                }
            }
            made.take(taken);
        }
        if let Some(parts) = whole {
            if made.acts.is_empty() {
                made.acts
                    .push("Put the pieces together without glue and see that they fit.".to_owned());
            }
            made.checks.extend(squareness(self.plan, parts));
            if self.group.is_none() {
                made.cautions.push(Caution::Lifting);
            }
        }
    }
}

/// What is done for one joint, in words.
fn act(plan: &Plan, marks: &Marks, joint: &Joint, taken: &[Fixing]) -> Option<String> {
    let (part, to) = (plan.part(&joint.part)?, plan.part(&joint.to)?);
    let (one, other) = (named(part, marks), named(to, marks));
    let glue = if joint.glue.is_some() {
        "Spread glue, then "
    } else {
        ""
    };
    let meet = if joint.housed {
        format!(
            "push {one} into the {} of {other}",
            joint.kind.replace('_', " ")
        )
    } else if joint.meetings.is_empty() {
        format!("join {one} to {other} ({})", joint.kind.replace('_', " "))
    } else {
        format!("set {one} against {other}")
    };
    let count: u32 = taken.iter().map(|fixing| fixing.count).sum();
    let words: Vec<String> = taken
        .iter()
        .map(|fixing| {
            let length = of_length(fixing, plan.units);
            format!("{}{length}", counted(fixing.count, fixing.what.name()))
        })
        .collect();
    let hold = match joint.with {
        With::Screws | With::PocketScrews if count > 0 => format!(", and drive {}", listed(&words)),
        With::Screws | With::PocketScrews => ", and drive its screws".to_owned(),
        With::Dowels if count > 0 => format!(", with {} in the holes", listed(&words)),
        With::Dowels => ", with its dowels in the holes".to_owned(),
        With::Bolts if count > 0 => format!(
            ": put in the inserts, then the bolts, in all {}",
            listed(&words)
        ),
        With::Bolts => ": put in the inserts, then the bolts".to_owned(),
        With::Glue => ", and clamp it until the glue has set".to_owned(),
        With::Nothing if joint.glue.is_none() => {
            "; it is held by its neighbours, without glue".to_owned()
        }
        With::Nothing => String::new(),
    };
    let said = format!("{glue}{meet}{hold}.");
    let mut letters = said.chars();
    Some(letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    }))
}

/// How it is seen that a unit is square: its size outside, and its diagonals.
fn squareness(plan: &Plan, parts: &[&Part]) -> Vec<String> {
    let boxes = parts.iter().filter_map(|part| {
        part.bodies()
            .first()
            .map(jigless_model::whole::Body::bounds)
    });
    let Some(all) = boxes.reduce(Box3::union) else {
        return Vec::new();
    };
    let show = |axis| plan.units.show(all.size(axis));
    vec![
        format!("Outside it is {} wide, {} high and {} deep.", show(0), show(1), show(2)),
        "Both diagonals of the frame, corner to corner, are equal: press the longer one shorter before the glue sets."
            .to_owned(),
    ]
}
