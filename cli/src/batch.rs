//! Many plans in one run: in parallel, told in order, one faulty plan without harm to the others.

use std::panic::{AssertUnwindSafe, catch_unwind};

use jigless_core::diag::{Findings, Severity};
use jigless_core::source::Sources;
use rayon::ThreadPool;
use rayon::prelude::*;

use crate::console::Console;
use crate::exit::{Exit, Problem};
use crate::find::PlanAt;
use crate::message::Message;
use crate::progress::Progress;
use crate::report;

/// How many plans are worked on before their reports are printed; it bounds the memory of a large batch.
const AT_A_TIME: usize = 64;

/// What came of one plan.
#[derive(Debug, Default)]
pub struct Outcome {
    /// Findings and problems, ready to print.
    pub report: String,
    /// The same for programs.
    pub messages: Vec<Message>,
    /// The line about the result.
    pub line: String,
    /// How many errors were found.
    pub errors: usize,
    /// How many warnings were found.
    pub warnings: usize,
    /// Whether there was nothing to do for it.
    pub passed_over: bool,
    /// How the plan ended.
    pub exit: Exit,
}

impl Outcome {
    /// A plan that a problem ended.
    pub fn of_problem(problem: &Problem) -> Self {
        let mut outcome = Self::default();
        outcome.add_problem(problem);
        outcome
    }

    /// Adds findings; errors among them end the plan.
    pub fn add_findings(&mut self, findings: Findings, sources: &Sources) {
        self.errors += findings.count(Severity::Error);
        self.warnings += findings.count(Severity::Warning);
        if findings.has_errors() {
            self.exit = self.exit.max(Exit::Faulty);
        }
        let sorted = findings.clone().sorted();
        let messages = sorted
            .iter()
            .map(|finding| Message::of_finding(sources, finding));
        self.messages.extend(messages);
        self.report.push_str(&report::findings(sources, findings));
    }

    /// Adds the number of warnings that a format has, and how to see them.
    pub fn add_count(&mut self, plan: &str, exporter: &str, findings: &Findings) {
        let count = findings.count(Severity::Warning);
        if count > 0 {
            self.warnings += count;
            let warnings = report::counted(count, "warning");
            let message = format!("{plan}: {exporter} has {warnings}");
            let fix = format!("`--to {exporter}` shows them; name the formats that you need");
            self.messages
                .push(Message::remark(Severity::Warning, &message, &fix));
            self.report.push_str(&report::warning(&message, &fix));
        }
    }

    /// Adds a note without a place.
    pub fn add_note(&mut self, message: &str, fix: &str) {
        self.messages
            .push(Message::remark(Severity::Note, message, fix));
        self.report.push_str(&report::note(message, fix));
    }

    /// Adds a problem.
    pub fn add_problem(&mut self, problem: &Problem) {
        self.messages.push(Message::of_problem(problem));
        self.report.push_str(&report::problem(problem));
        self.errors += 1;
        self.exit = self.exit.max(problem.exit);
    }
}

/// What came of all plans.
#[derive(Debug, Default)]
pub struct Tally {
    /// Plans that were finished.
    pub done: usize,
    /// Plans for which there was nothing to do.
    pub passed_over: usize,
    /// Plans that were not finished.
    pub failed: usize,
    errors: usize,
    warnings: usize,
    /// How the run ended so far.
    pub exit: Exit,
}

impl Tally {
    /// Adds what came of something.
    fn add(&mut self, outcome: &Outcome) {
        self.errors += outcome.errors;
        self.warnings += outcome.warnings;
        self.exit = self.exit.max(outcome.exit);
    }

    /// Adds what belongs to no plan, and prints it.
    pub fn tell(&mut self, outcome: &Outcome, console: &mut Console) {
        console.tell(&outcome.report, &outcome.messages);
        self.add(outcome);
    }

    /// Prints how many errors and warnings there were, if any.
    pub fn print(&self, console: &mut Console) {
        let words = report::tally(self.errors, self.warnings);
        let words = words.map_or_else(String::new, |words| format!("{words}\n"));
        let summary = Message::Summary {
            errors: self.errors,
            warnings: self.warnings,
            exit: self.exit as u8,
        };
        console.tell(&words, &[summary]);
    }
}

/// The threads of a run.
///
/// # Errors
/// When the system gives no threads.
pub fn threads(jobs: Option<u16>) -> Result<ThreadPool, Problem> {
    rayon::ThreadPoolBuilder::new()
        .num_threads(jobs.map_or(0, usize::from))
        .build()
        .map_err(|error| Problem::disk(format!("the system gives no threads: {error}")))
}

/// Does the work for each plan and prints what comes of it, in the order of the plans whatever the number of threads.
pub fn for_each_plan(
    plans: &[PlanAt],
    pool: &ThreadPool,
    console: &mut Console,
    tally: &mut Tally,
    work: impl Fn(&PlanAt, &Progress) -> Outcome + Sync,
) {
    let progress = Progress::new(plans.len(), console.is_quiet());
    let mut left = plans.len();
    for some in plans.chunks(AT_A_TIME) {
        let one = |plan: &PlanAt| {
            // A fault of the program in one plan is told as such; the other plans are not lost by it.
            let outcome = catch_unwind(AssertUnwindSafe(|| work(plan, &progress)))
                .unwrap_or_else(|_| Outcome::of_problem(&fault_in(plan)));
            progress.plan_done();
            outcome
        };
        let outcomes: Vec<Outcome> = pool.install(|| some.par_iter().map(one).collect());
        left -= some.len();
        if left == 0 {
            progress.finish();
        }
        progress.aside(|| {
            for outcome in &outcomes {
                console.tell(&outcome.report, &outcome.messages);
                console.out(&outcome.line);
            }
        });
        for outcome in outcomes {
            match outcome.exit {
                Exit::Done if outcome.passed_over => tally.passed_over += 1,
                Exit::Done => tally.done += 1,
                Exit::Faulty | Exit::Usage | Exit::Disk => tally.failed += 1,
            }
            tally.add(&outcome);
        }
    }
}

fn fault_in(plan: &PlanAt) -> Problem {
    let message = format!("a fault in Jigless itself stopped {}", plan.name);
    Problem::new(Exit::Faulty, message).fix("report it with the plan and the lines above")
}

#[cfg(test)]
mod tests {
    use std::sync::Mutex;

    use super::*;
    use crate::args::MessageFormat;

    #[test]
    fn the_worst_plan_ends_the_run_and_none_is_left_out() {
        let plans: Vec<PlanAt> = (0..150)
            .map(|n| PlanAt {
                name: n.to_string(),
                file: n.to_string().into(),
            })
            .collect();
        let seen = Mutex::new(Vec::new());
        let mut tally = Tally::default();
        let mut console = Console::new(true, MessageFormat::Human);
        let pool = threads(Some(2)).unwrap();
        for_each_plan(&plans, &pool, &mut console, &mut tally, |plan, _| {
            seen.lock().unwrap().push(plan.name.clone());
            let mut outcome = Outcome::default();
            match plan.name.as_str() {
                "3" => outcome.exit = Exit::Disk,
                "77" => outcome.exit = Exit::Faulty,
                "78" => panic!("a fault that the test makes"),
                _ => outcome.warnings = 1,
            }
            outcome
        });
        assert_eq!((tally.done, tally.failed, tally.warnings), (147, 3, 147));
        assert_eq!(tally.exit, Exit::Disk);
        assert_eq!(seen.into_inner().unwrap().len(), 150);
    }
}
