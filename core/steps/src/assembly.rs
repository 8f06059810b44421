//! What is put together, unit by unit, and then the whole.

use jigless_model::caution::Caution;
use jigless_model::joint::{Joint, With};
use jigless_model::plan::{Part, Plan};
use jigless_model::whole::{Box3, Step};
use jigless_words::said;

use crate::fixings::Fixings;
use crate::pieces::{Wording, is_joined, swings};
use crate::step::{Fixing, Phase, WorkStep};

/// The steps of every unit that is built by itself, then those of the whole, in the order of the plan. What swings or is
/// joined to nothing comes when the piece is fitted out.
pub(crate) fn steps(wording: &Wording, fixings: &mut Fixings) -> Vec<WorkStep> {
    let plan = wording.plan;
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
            wording,
            group: unit,
            times,
            made: Vec::new(),
        };
        for (number, step) in steps.iter().enumerate() {
            let last = number + 1 == steps.len();
            unit.add(step, fixings, last.then_some(&parts));
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
    wording: &'a Wording<'a>,
    /// The group of its parts; none for the whole.
    group: Option<&'a str>,
    times: u32,
    made: Vec<WorkStep>,
}

impl<'a> Unit<'a> {
    /// Adds the step in which a part comes in; the first parts of a unit, which are joined to nothing yet, share one with
    /// the next.
    fn add(&mut self, step: &'a Step, fixings: &mut Fixings, whole: Option<&Vec<&Part>>) {
        let wording = self.wording;
        let (plan, words) = (wording.plan, wording.steps());
        let Some(part) = plan.part(&step.part) else {
            return;
        };
        let phase = if self.group.is_some() {
            Phase::Build
        } else {
            Phase::Assemble
        };
        let own = wording.pieces(part, part.count / self.times);
        let waits = self.made.last().is_some_and(|last| last.acts.is_empty());
        if !waits {
            let title = match self.group {
                Some(unit) => said(words.of_unit, &[unit, &part.title]),
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
            made.title = said(words.and, &[&made.title, &part.title]);
        }
        made.pieces.push(own);
        if made.reason.is_none() {
            made.reason = step.reason.as_ref().map(|reason| wording.reason(reason));
        }
        let joints: Vec<&Joint> = step
            .joints
            .iter()
            .filter_map(|number| plan.joints.get(*number))
            .collect();
        for joint in &joints {
            let (times, taken) = (self.times, fixings.of_joint(joint, wording.workpieces));
            let taken: Vec<Fixing> = taken
                .into_iter()
                .map(|fixing| Fixing {
                    count: fixing.count / times,
                    ..fixing
                })
                .filter(|fixing| fixing.count > 0)
                .collect();
            made.acts.extend(act(wording, joint, &taken));
            if joint.glue.is_some() && !made.cautions.contains(&Caution::Glue) {
                made.cautions.push(Caution::Glue);
                made.tools.push(words.glue_and_clamps.to_owned());
            }
            if matches!(joint.with, With::Screws | With::PocketScrews | With::Bolts) {
                let driver = words.driver.to_owned();
                if !made.tools.contains(&driver) {
                    made.tools.push(driver);
                }
            }
            made.take(taken);
        }
        if let Some(parts) = whole {
            if made.acts.is_empty() {
                made.acts.push(words.dry_fit.to_owned());
            }
            made.checks.extend(squareness(wording, parts));
            if self.group.is_none() {
                made.cautions.push(Caution::Lifting);
            }
        }
    }
}

/// What is done for one joint, in words.
fn act(wording: &Wording, joint: &Joint, taken: &[Fixing]) -> Option<String> {
    let (plan, words) = (wording.plan, wording.steps());
    let (part, to) = (plan.part(&joint.part)?, plan.part(&joint.to)?);
    let (one, other) = (wording.named(part), wording.named(to));
    let hold = hold(wording, joint, taken);
    let [into, how] = wording.words().things.joint(joint.kind);
    let with_glue = |plain, glued| if joint.glue.is_some() { glued } else { plain };
    Some(if joint.housed {
        let template = with_glue(words.push_into, words.glue_push_into);
        said(template, &[&one, &into, &other, &hold])
    } else if joint.meetings.is_empty() {
        let template = with_glue(words.join_to, words.glue_join_to);
        said(template, &[&one, &other, &how, &hold])
    } else {
        let template = with_glue(words.set_against, words.glue_set_against);
        said(template, &[&one, &other, &hold])
    })
}

/// By what a joint is held, as the end of a sentence.
fn hold(wording: &Wording, joint: &Joint, taken: &[Fixing]) -> String {
    let words = wording.steps();
    let listed: Vec<String> = taken.iter().map(|fixing| wording.counted(fixing)).collect();
    let listed = wording.words().listed(&listed);
    let or_unnamed = |named: &str, unnamed: &str| {
        if taken.iter().any(|fixing| fixing.count > 0) {
            said(named, &[&listed])
        } else {
            unnamed.to_owned()
        }
    };
    match joint.with {
        With::Screws | With::PocketScrews => or_unnamed(words.and_drive, words.and_drive_screws),
        With::Dowels => or_unnamed(words.with_dowels, words.with_its_dowels),
        With::Bolts => or_unnamed(words.with_bolts, words.with_its_bolts),
        With::Glue => words.and_clamp.to_owned(),
        With::Nothing if joint.glue.is_none() => words.held_by_others.to_owned(),
        With::Nothing => String::new(),
    }
}

/// How it is seen that a unit is square: its size outside, and its diagonals.
fn squareness(wording: &Wording, parts: &[&Part]) -> Vec<String> {
    let boxes = parts.iter().filter_map(|part| {
        part.bodies()
            .first()
            .map(jigless_model::whole::Body::bounds)
    });
    let Some(all) = boxes.reduce(Box3::union) else {
        return Vec::new();
    };
    let words = wording.steps();
    let [width, height, depth] = [0, 1, 2].map(|axis| wording.length(all.size(axis)));
    vec![
        said(words.outside_sizes, &[&width, &height, &depth]),
        words.diagonals_equal.to_owned(),
    ]
}
