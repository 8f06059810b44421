//! What steps are made of: the plan with its marks, and the words of a language.

use jigless_model::mark::Marks;
use jigless_model::plan::{Part, Plan};
use jigless_model::whole::{Motion, OrderReason};
use jigless_model::workpiece::Workpiece;
use jigless_words::{StepWords, Words, said};

use crate::step::{Fixing, Pieces};

/// How steps are told to a reader.
#[derive(Clone, Copy)]
pub struct Telling<'a> {
    /// The words of the language.
    pub words: &'a Words,
    /// How the reader's paper has a length, with its unit.
    pub length: &'a dyn Fn(f64) -> String,
    /// The same for what is measured with a caliper.
    pub thickness: &'a dyn Fn(f64) -> String,
}

/// A plan, its parts by name, mark and number, and the words of a language.
pub(crate) struct Wording<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) workpieces: &'a [Workpiece],
    pub(crate) marks: Marks,
    pub(crate) telling: Telling<'a>,
}

impl<'a> Wording<'a> {
    /// The words of the language.
    pub(crate) fn words(&self) -> &'a Words {
        self.telling.words
    }

    /// The words of steps.
    pub(crate) fn steps(&self) -> &StepWords {
        &self.words().steps
    }

    /// A length with its unit.
    pub(crate) fn length(&self, mm: f64) -> String {
        (self.telling.length)(mm)
    }

    /// The same for what is measured with a caliper.
    pub(crate) fn thickness(&self, mm: f64) -> String {
        (self.telling.thickness)(mm)
    }

    /// So many pieces of a part.
    pub(crate) fn pieces(&self, part: &Part, count: u32) -> Pieces {
        Pieces {
            mark: self.marks.mark(&part.id).to_owned(),
            part: part.id.clone(),
            title: part.title.clone(),
            count,
        }
    }

    /// `Left side (A)`.
    pub(crate) fn named(&self, part: &Part) -> String {
        format!("{} ({})", part.title, self.marks.mark(&part.id))
    }

    /// `3 screws of 45 mm`.
    pub(crate) fn counted(&self, fixing: &Fixing) -> String {
        let [one, several] = self.words().things.hardware(fixing.what);
        self.sized(fixing, self.words().counted(fixing.count, one, several))
    }

    /// `3 × screw of 45 mm`.
    pub(crate) fn times(&self, fixing: &Fixing) -> String {
        let [one, _] = self.words().things.hardware(fixing.what);
        let words = said(self.steps().count_of, &[&fixing.count.to_string(), one]);
        self.sized(fixing, words)
    }

    /// What has no length has no words for it.
    fn sized(&self, fixing: &Fixing, words: String) -> String {
        match fixing.length {
            Some(length) => said(self.steps().of_length, &[&words, &self.length(length)]),
            None => words,
        }
    }

    /// Why a part comes where it comes.
    pub(crate) fn reason(&self, reason: &OrderReason) -> String {
        let steps = self.steps();
        let title = |id: &String| {
            self.plan
                .part(id)
                .map_or(id.clone(), |part| part.title.clone())
        };
        match reason {
            OrderReason::PlanSaysSo => steps.plan_says_so.to_owned(),
            OrderReason::CannotPass(part) => said(steps.cannot_pass, &[&title(part)]),
            OrderReason::IsHeld(part) => said(steps.is_held, &[&title(part)]),
            OrderReason::DriverLater(part) => said(steps.driver_later, &[&title(part)]),
            OrderReason::Before(part, because) => {
                let because = self.reason(because);
                said(steps.before_because, &[&title(part), &because])
            }
        }
    }
}

/// Whether a part swings once it is in its place: a door.
pub(crate) fn swings(part: &Part) -> bool {
    part.motion.and_then(Motion::swings_about).is_some()
}

/// Whether a joint holds a part.
pub(crate) fn is_joined(plan: &Plan, part: &Part) -> bool {
    let mut joints = plan.joints.iter();
    joints.any(|joint| joint.part == part.id || joint.to == part.id)
}
