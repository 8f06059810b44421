//! What changed in the order of work. Steps are compared by their names, which stay when others come in.

use jigless_model::plan::Plan;
use jigless_model::workpiece::Workpiece;
use jigless_steps::{WorkStep, steps};

/// A line for each step that is new, gone, or other than before, and one for the order where steps changed places.
pub(super) fn step_changes(
    before: (&Plan, &[Workpiece]),
    after: (&Plan, &[Workpiece]),
) -> Vec<String> {
    let (before, after) = {
        let words = &jigless_words::ENGLISH;
        (
            steps(before.0, before.1, words),
            steps(after.0, after.1, words),
        )
    };
    let find = |all: &'_ [WorkStep], name: &str| all.iter().position(|step| step.name == name);
    let mut lines = Vec::new();
    for step in &after {
        match find(&before, &step.name) {
            None => lines.push(format!("{}: new, {}", step.name, step.title)),
            Some(index) => {
                let other = other_in(&before[index], step);
                if !other.is_empty() {
                    lines.push(format!("{}: other {}", step.name, other.join(", ")));
                }
            }
        }
    }
    for step in before
        .iter()
        .filter(|step| find(&after, &step.name).is_none())
    {
        lines.push(format!("{}: gone, {}", step.name, step.title));
    }
    let common = |all: &'_ [WorkStep], others: &[WorkStep]| -> Vec<String> {
        let kept = all.iter().filter(|step| find(others, &step.name).is_some());
        kept.map(|step| step.name.clone()).collect()
    };
    let (was, is) = (common(&before, &after), common(&after, &before));
    if let Some(first) = (0..was.len()).find(|index| was[*index] != is[*index]) {
        lines.push(format!(
            "order: {} now comes where {} was",
            is[first], was[first]
        ));
    }
    lines
}

/// In what two steps of one name differ.
fn other_in(was: &WorkStep, is: &WorkStep) -> Vec<&'static str> {
    [
        ("pieces", was.pieces != is.pieces || was.times != is.times),
        ("fixings", was.fixings != is.fixings),
        ("tools", was.tools != is.tools),
        ("work", was.acts != is.acts),
        ("checks", was.checks != is.checks),
    ]
    .into_iter()
    .filter_map(|(what, differs)| differs.then_some(what))
    .collect()
}
