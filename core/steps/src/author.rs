//! What the author says of the steps: other titles, more to do, another place, steps of their own.

use jigless_model::diag::{Finding, Findings, nearest};
use jigless_model::source::Spanned;
use jigless_model::whole::StepNote;

use crate::codes;
use crate::step::{Phase, WorkStep};

/// Does to the steps what the author says, one note after another. What cannot be done is left out and reported.
pub(crate) fn apply(notes: &[StepNote], steps: &mut Vec<WorkStep>) -> Findings {
    let mut findings = Findings::new();
    for note in notes {
        if let Err(finding) = apply_one(note, steps) {
            findings.push(finding);
        }
    }
    findings
}

fn apply_one(note: &StepNote, steps: &mut Vec<WorkStep>) -> Result<(), Finding> {
    let own = position(steps, &note.step.value);
    let after = match &note.after {
        None => None,
        Some(after) => Some(position(steps, &after.value).ok_or_else(|| unknown(after, steps))?),
    };
    let (from, mut step) = match (own, after) {
        (Some(own), _) => (own, steps.remove(own)),
        (None, Some(_)) => (
            steps.len(),
            WorkStep::new(Phase::Author, &note.step.value, &note.step.value),
        ),
        (None, None) => return Err(unknown(&note.step, steps)),
    };
    if let Some(title) = &note.title {
        step.title.clone_from(title);
    }
    step.acts.extend(note.text.iter().cloned());
    let to = match after {
        None => from,
        // What stood before has moved up by one.
        Some(after) if own.is_some_and(|own| own < after) => after,
        Some(after) if own == Some(after) => after,
        Some(after) => after + 1,
    };
    let hindrance = if to > from {
        steps[from.min(steps.len())..to]
            .iter()
            .find(|passed| must_follow(passed, &step))
    } else {
        steps[to..from.min(steps.len())]
            .iter()
            .find(|passed| must_follow(&step, passed))
    };
    if let (Some(other), Some(after)) = (hindrance, &note.after) {
        let finding = out_of_order(after, &step, other, to > from);
        steps.insert(from, step);
        return Err(finding);
    }
    steps.insert(to, step);
    Ok(())
}

fn position(steps: &[WorkStep], name: &str) -> Option<usize> {
    steps.iter().position(|step| step.name == name)
}

/// Whether one step can only be done after another.
fn must_follow(later: &WorkStep, earlier: &WorkStep) -> bool {
    use Phase::{Assemble, Author, Build, Cut, Finish, Fit, Measure, Place, Sand, Shape};
    let shared = later
        .pieces
        .iter()
        .any(|piece| earlier.pieces.iter().any(|other| other.part == piece.part));
    match (earlier.phase, later.phase) {
        (Author, _) | (_, Author) => false,
        (Measure, _)
        | (_, Place)
        | (Build, Build)
        | (Assemble | Build, Assemble)
        | (Sand, Finish)
        | (Finish, Fit)
        | (Fit, Finish | Fit) => true,
        (Cut, Shape | Build | Assemble | Fit)
        | (Shape, Build | Assemble | Fit)
        | (Build | Assemble, Fit) => shared,
        _ => false,
    }
}

pub(crate) fn unknown(name: &Spanned<String>, steps: &[WorkStep]) -> Finding {
    let known = steps.iter().map(|step| step.name.as_str());
    let message = format!("there is no step `{}`", name.value);
    Finding::error(codes::UNKNOWN_STEP, name.span, message).fix(match nearest(&name.value, known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => {
            "`jigless steps PLAN` prints the names; a step of your own takes `after`".to_owned()
        }
    })
}

fn out_of_order(
    after: &Spanned<String>,
    step: &WorkStep,
    other: &WorkStep,
    later: bool,
) -> Finding {
    let (first, second) = if later { (step, other) } else { (other, step) };
    let message = format!(
        "`{}` cannot come after `{}`: `{}` is done before `{}`",
        step.name, after.value, first.name, second.name
    );
    let put_together = [first, second]
        .iter()
        .all(|step| matches!(step.phase, Phase::Build | Phase::Assemble));
    let finding = Finding::error(codes::STEP_OUT_OF_ORDER, after.span, message);
    finding.fix(match (put_together, later) {
        (true, _) => "the order in which parts are put together is set by `order`".to_owned(),
        (false, true) => format!("name a step that comes before `{}`", second.name),
        (false, false) => format!("name `{}`, or a step that comes after it", first.name),
    })
}
