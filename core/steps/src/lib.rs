//! The order of work of a plan as data: measuring, cutting, work on each part, sub-assemblies, the assembly, hardware on
//! and off, sanding, finish, fitting out.
//!
//! [`steps`] is a pure function of the plan and its workpieces. What it says is taken from them alone: parts and their work,
//! joints with their screws, hardware, and the order that [`Plan::order`](jigless_model::plan::Plan::order) gives. The words
//! are those of a table that the caller hands in, whatever its language.
//! [`in_words`] prints the steps as text.

mod assembly;
mod author;
mod codes;
mod cutting;
mod finishing;
mod fitting_out;
mod fixings;
mod pieces;
mod shaping;
mod squaring;
mod step;
mod text;

pub use codes::CODES;
pub use squaring::{Measured, Rectangle, SeenFrom, rectangles};
pub use step::{Fixing, OrderOfWork, Phase, Pieces, WorkStep};
pub use text::in_words;

use jigless_model::caution::{Caution, DEFER, Medium, called_for};
use jigless_model::diag::Findings;
use jigless_model::mark::Marks;
use jigless_model::photograph::{Photograph, PhotographPlace};
use jigless_model::plan::Plan;
use jigless_model::source::Spanned;
use jigless_model::workpiece::Workpiece;
use jigless_words::{ENGLISH, Words};

use fixings::Fixings;
pub use pieces::Telling;
use pieces::Wording;

/// The order of work of a plan, in English.
pub fn order_of_work<'a>(plan: &'a Plan, workpieces: &[Workpiece]) -> OrderOfWork<'a> {
    OrderOfWork {
        title: &plan.title,
        revision: plan.revision.as_deref(),
        plan: &plan.digest,
        cautions: [DEFER, Caution::Work.text()],
        caution_texts: called_for(plan, workpieces, Medium::Whole)
            .into_iter()
            .map(|caution| (caution.name(), caution.text()))
            .collect(),
        steps: steps(plan, workpieces, &ENGLISH),
    }
}

/// Every step of a plan, in the order in which it is done, numbered from 1; lengths in the plan's unit, with decimals.
pub fn steps(plan: &Plan, workpieces: &[Workpiece], words: &Words) -> Vec<WorkStep> {
    with_notes(plan, workpieces, words).0
}

/// The same with lengths as a reader's paper has them.
pub fn steps_told(plan: &Plan, workpieces: &[Workpiece], telling: Telling) -> Vec<WorkStep> {
    told(plan, workpieces, telling).0
}

/// What the author says of steps and cannot be done.
pub fn vet(plan: &Plan, workpieces: &[Workpiece]) -> Findings {
    let photographed: Vec<_> = plan.photographs.iter().filter_map(of_a_step).collect();
    if plan.step_notes.is_empty() && photographed.is_empty() {
        return Findings::new();
    }
    let (steps, mut findings) = with_notes(plan, workpieces, &ENGLISH);
    let missing = photographed
        .into_iter()
        .filter(|name| steps.iter().all(|step| step.name != name.value));
    for name in missing {
        findings.push(author::unknown(name, &steps));
    }
    findings
}

/// The name of the step that a photograph stands in.
fn of_a_step(photograph: &Photograph) -> Option<&Spanned<String>> {
    match &photograph.place {
        PhotographPlace::Step(name) => Some(name),
        PhotographPlace::Chapter(_) => None,
    }
}

fn with_notes(plan: &Plan, workpieces: &[Workpiece], words: &Words) -> (Vec<WorkStep>, Findings) {
    let length = |mm| words.length(plan.units, mm);
    let (length, thickness) = (&length, &length);
    told(
        plan,
        workpieces,
        Telling {
            words,
            length,
            thickness,
        },
    )
}

fn told(plan: &Plan, workpieces: &[Workpiece], telling: Telling) -> (Vec<WorkStep>, Findings) {
    let wording = Wording {
        plan,
        workpieces,
        marks: Marks::of(plan),
        telling,
    };
    let mut fixings = Fixings::of(workpieces);
    let mut steps = cutting::steps(&wording);
    steps.extend(shaping::steps(&wording));
    steps.extend(assembly::steps(&wording, &mut fixings));
    steps.extend(fitting_out::steps(&wording, &mut fixings));
    let findings = author::apply(&plan.step_notes, &mut steps);
    for (number, step) in steps.iter_mut().enumerate() {
        step.number = number + 1;
    }
    (steps, findings)
}
