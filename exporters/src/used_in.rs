//! In which steps of the order of work each part is used, for lists and templates.

use jigless_model::export::ExportInput;
use jigless_model::hardware::Fitting;
use jigless_model::joint::outlined_part;
use jigless_steps::{Phase, WorkStep, steps};

/// The steps of a plan, to be asked by part. They change with the rest of the plan, so nothing that they say may count for
/// whether a sheet is still good.
#[derive(Debug, Default)]
pub(crate) struct UsedIn {
    steps: Vec<WorkStep>,
}

impl UsedIn {
    /// The steps of the whole plan; none where only some of its parts are asked for, since numbers would differ then, or
    /// where nothing is put together.
    pub(crate) fn new(input: &ExportInput) -> Self {
        let whole = input.workpieces.len() == input.plan.parts.len();
        if !whole || input.plan.joints.is_empty() {
            return Self::default();
        }
        Self {
            steps: steps(input.plan, input.workpieces, &jigless_words::ENGLISH),
        }
    }

    fn of<'a>(&'a self, part: &'a str) -> impl Iterator<Item = &'a WorkStep> {
        let uses = move |step: &&WorkStep| step.pieces.iter().any(|own| own.part == part);
        self.steps.iter().filter(uses)
    }

    /// The numbers of all steps that work with a part.
    pub(crate) fn part(&self, part: &str) -> Vec<usize> {
        self.of(part).map(|step| step.number).collect()
    }

    /// The numbers of the steps that drill, cut and mark a part: in which its templates are used.
    pub(crate) fn shaped(&self, part: &str) -> Vec<usize> {
        let shape = self.of(part).filter(|step| step.phase == Phase::Shape);
        shape.map(|step| step.number).collect()
    }

    /// The number of the step in which a pencil outline is used, by what stands at it: the part that joints name it after
    /// comes to the others, or the hardware that it begins with is fitted (`caster 1`).
    pub(crate) fn comes_in(&self, outline: &str) -> Option<usize> {
        let uses = |step: &&WorkStep| match outlined_part(outline) {
            Some(part) => step.adds && step.pieces.iter().any(|own| own.part == part),
            None => step.fixings.iter().any(|own| {
                let rest = outline.strip_prefix(own.what.name());
                rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
            }),
        };
        self.steps.iter().find(uses).map(|step| step.number)
    }

    /// The numbers of the steps that take some hardware.
    pub(crate) fn fitting(&self, fitting: &Fitting) -> Vec<usize> {
        let takes = |step: &&WorkStep| {
            step.fixings.iter().any(|own| {
                own.what == fitting.kind
                    && own.gauge == fitting.gauge
                    && own.length == fitting.length
            })
        };
        let steps = self.steps.iter().filter(takes);
        steps.map(|step| step.number).collect()
    }
}

/// Numbers of steps in words: `step 5`, `steps 5, 17`; nothing where there are none.
pub(crate) fn in_words(numbers: &[usize]) -> String {
    let listed: Vec<String> = numbers.iter().map(usize::to_string).collect();
    match numbers {
        [] => String::new(),
        [one] => format!("step {one}"),
        _ => format!("steps {}", listed.join(", ")),
    }
}
