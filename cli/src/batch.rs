//! Many plans in one run: in parallel, reported in order, one faulty plan without harm to the others.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

use jigless_core::diag::{Findings, Severity};
use jigless_core::source::Sources;
use rayon::ThreadPool;

use crate::console::Console;
use crate::exit::{Exit, Problem};
use crate::find::PlanAt;
use crate::furniture::Furniture;
use crate::message::Message;
use crate::progress::Progress;
use crate::report::counted;

/// How far the work may run ahead of the plan whose report is printed next: one slow plan must not make the reports of
/// all others wait in memory.
const AHEAD: usize = 256;

/// What was done about a plan that did not fail.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Deed {
    /// Its files were made.
    #[default]
    MadeFiles,
    /// Some formats were made, and others that should have been were not.
    InPart,
    /// Its files are as they should be.
    Unchanged,
    /// It has none of the parts that were asked for.
    PassedOver,
}

/// What came of one plan.
#[derive(Debug, Default)]
pub struct Outcome {
    /// Findings and problems, in the order in which they are reported.
    pub messages: Vec<Message>,
    /// The line about the result.
    pub line: String,
    /// How many errors were found.
    pub errors: usize,
    /// How many warnings were found.
    pub warnings: usize,
    /// How many findings are among them that are counted and not listed.
    pub not_listed: usize,
    /// What was done about it, where it did not fail.
    pub deed: Deed,
    /// How the plan ended.
    pub exit: Exit,
}

impl From<Problem> for Outcome {
    fn from(problem: Problem) -> Self {
        Self::of_problem(&problem)
    }
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
        let not_listed = findings.left_out();
        let mut furniture = Furniture::of(sources);
        for finding in findings.sorted() {
            let message = Message::of_finding(sources, &mut furniture, &finding);
            self.messages.push(message);
        }
        if not_listed > 0 {
            self.not_listed += not_listed;
            let more = counted(not_listed, "more finding");
            let message = format!("{more} in this plan: counted, and not listed");
            self.add_note(&message, "mend those that are listed, then check again");
        }
    }

    /// Adds the number of warnings that a format has, and how to see them.
    pub fn add_count(&mut self, plan: &str, format: &str, findings: &Findings) {
        let count = findings.count(Severity::Warning);
        if count > 0 {
            self.warnings += count;
            let warnings = counted(count, "warning");
            let message = format!("{plan}: {format} has {warnings}");
            let fix = format!("`--to {format}` shows them; name the formats that you need");
            self.add_remark(Severity::Warning, &message, &fix);
        }
    }

    /// Whether there is nothing to print.
    fn is_silent(&self) -> bool {
        self.messages.is_empty() && self.line.is_empty()
    }

    /// Adds a note without a place.
    pub fn add_note(&mut self, message: &str, fix: &str) {
        self.add_remark(Severity::Note, message, fix);
    }

    /// Adds something without a place that is not counted here.
    pub fn add_remark(&mut self, severity: Severity, message: &str, fix: &str) {
        self.messages.push(Message::remark(severity, message, fix));
    }

    /// Adds a problem.
    pub fn add_problem(&mut self, problem: &Problem) {
        self.messages.push(Message::of_problem(problem));
        self.errors += 1;
        self.exit = self.exit.max(problem.exit);
    }
}

/// What came of all plans.
#[derive(Debug, Default)]
pub struct Tally {
    /// Plans whose files were made.
    pub made: usize,
    /// Plans whose files were as they should be.
    pub unchanged: usize,
    /// Plans with none of the parts that were asked for.
    pub passed_over: usize,
    /// Plans of which some formats were made and others were not.
    pub in_part: usize,
    /// Plans that were not finished.
    pub failed: usize,
    /// Plans that were not begun.
    pub not_tried: usize,
    errors: usize,
    warnings: usize,
    not_listed: usize,
    /// How the run ended so far.
    pub exit: Exit,
}

impl Tally {
    /// Adds what came of a plan.
    fn add_plan(&mut self, outcome: &Outcome) {
        match (outcome.exit, outcome.deed) {
            (_, Deed::InPart) => self.in_part += 1,
            (Exit::Done, Deed::MadeFiles) => self.made += 1,
            (Exit::Done, Deed::Unchanged) => self.unchanged += 1,
            (Exit::Done, Deed::PassedOver) => self.passed_over += 1,
            (Exit::Faulty | Exit::Usage | Exit::Disk, _) => self.failed += 1,
        }
        self.add(outcome);
    }

    /// Adds what came of something.
    fn add(&mut self, outcome: &Outcome) {
        self.errors += outcome.errors;
        self.warnings += outcome.warnings;
        self.not_listed += outcome.not_listed;
        self.exit = self.exit.max(outcome.exit);
    }

    /// Adds what belongs to no plan, and prints it.
    pub fn report(&mut self, outcome: &Outcome, console: &mut Console) {
        console.report(&outcome.messages);
        self.add(outcome);
    }

    /// Prints how many errors and warnings there were, if any.
    pub fn print(&self, console: &mut Console) {
        let summary = Message::Summary {
            errors: self.errors,
            warnings: self.warnings,
            not_listed: self.not_listed,
            exit: self.exit as u8,
        };
        console.report(&[summary]);
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
/// No more plans are in memory than there are threads. `fail_fast` begins no plan after one has failed.
pub fn for_each_plan(
    plans: &[PlanAt],
    fail_fast: bool,
    pool: &ThreadPool,
    console: &mut Console,
    tally: &mut Tally,
    work: impl Fn(&PlanAt, &Progress) -> Outcome + Sync,
) {
    let progress = Progress::new(plans.len(), console.is_quiet());
    let queue = Queue {
        state: Mutex::new(State {
            next: 0,
            printed: 0,
            stopped: false,
            waiting: BTreeMap::new(),
            console,
            tally,
        }),
        printed: Condvar::new(),
        plans: plans.len(),
        fail_fast,
    };
    pool.broadcast(|_| {
        while let Some(index) = queue.take() {
            let plan = &plans[index];
            // A fault of the program in one plan is reported as such; the other plans are not lost by it.
            let outcome = catch_unwind(AssertUnwindSafe(|| work(plan, &progress)))
                .unwrap_or_else(|_| Outcome::of_problem(&fault_in(plan)));
            progress.plan_done();
            queue.give(index, outcome, &progress);
        }
    });
    progress.finish();
    let state = queue.state.into_inner();
    let state = state.unwrap_or_else(PoisonError::into_inner);
    state.tally.not_tried += plans.len() - state.next;
}

/// Hands out plans in order and takes back what comes of them.
struct Queue<'a> {
    state: Mutex<State<'a>>,
    printed: Condvar,
    plans: usize,
    fail_fast: bool,
}

struct State<'a> {
    /// The plan that is begun next.
    next: usize,
    /// How many were printed.
    printed: usize,
    stopped: bool,
    /// What came of plans whose turn to be printed has not come.
    waiting: BTreeMap<usize, Outcome>,
    console: &'a mut Console,
    tally: &'a mut Tally,
}

impl<'a> Queue<'a> {
    fn lock(&self) -> MutexGuard<'_, State<'a>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The next plan to work on, once it is not too far ahead.
    fn take(&self) -> Option<usize> {
        let mut state = self.lock();
        while !state.stopped && state.next >= state.printed + AHEAD {
            state = self
                .printed
                .wait(state)
                .unwrap_or_else(PoisonError::into_inner);
        }
        if state.stopped || state.next == self.plans {
            return None;
        }
        state.next += 1;
        Some(state.next - 1)
    }

    /// Takes what came of a plan, and prints all whose turn it is.
    fn give(&self, index: usize, outcome: Outcome, progress: &Progress) {
        let mut state = self.lock();
        state.stopped |= self.fail_fast && outcome.exit != Exit::Done;
        state.waiting.insert(index, outcome);
        let mut ready = Vec::new();
        while let Some(outcome) = {
            let turn = state.printed;
            state.waiting.remove(&turn)
        } {
            state.printed += 1;
            ready.push(outcome);
        }
        if ready.iter().any(|outcome| !outcome.is_silent()) {
            progress.aside(|| {
                for outcome in &ready {
                    state.console.report(&outcome.messages);
                    state.console.out(&outcome.line);
                }
            });
        }
        for outcome in &ready {
            state.tally.add_plan(outcome);
        }
        self.printed.notify_all();
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
    use crate::args::FindingsForm;

    fn plans(count: usize) -> Vec<PlanAt> {
        let plan = |n: usize| PlanAt {
            name: n.to_string(),
            file: n.to_string().into(),
        };
        (0..count).map(plan).collect()
    }

    #[test]
    fn the_worst_plan_ends_the_run_and_none_is_left_out() {
        let seen = Mutex::new(Vec::new());
        let mut tally = Tally::default();
        let mut console = Console::new(true, FindingsForm::Words);
        let pool = threads(Some(2)).unwrap();
        let work = |plan: &PlanAt, _: &Progress| {
            seen.lock().unwrap().push(plan.name.clone());
            let mut outcome = Outcome::default();
            match plan.name.as_str() {
                "3" => outcome.exit = Exit::Disk,
                "77" => outcome.exit = Exit::Faulty,
                "78" => panic!("a fault that the test makes"),
                _ => outcome.warnings = 1,
            }
            outcome
        };
        for_each_plan(&plans(650), false, &pool, &mut console, &mut tally, work);
        assert_eq!((tally.made, tally.failed, tally.warnings), (647, 3, 647));
        assert_eq!((tally.exit, tally.not_tried), (Exit::Disk, 0));
        assert_eq!(seen.into_inner().unwrap().len(), 650);
    }

    #[test]
    fn the_work_does_not_run_far_ahead_of_a_slow_plan() {
        let mut tally = Tally::default();
        let mut console = Console::new(true, FindingsForm::Words);
        let pool = threads(Some(2)).unwrap();
        let begun = Mutex::new(0);
        let most = Mutex::new(0);
        let work = |plan: &PlanAt, _: &Progress| {
            *begun.lock().unwrap() += 1;
            if plan.name == "0" {
                // As long as the others get on, which is until they are told to wait.
                let mut before = 0;
                loop {
                    std::thread::sleep(std::time::Duration::from_millis(50));
                    let now = *begun.lock().unwrap();
                    if now == before {
                        *most.lock().unwrap() = now;
                        break;
                    }
                    before = now;
                }
            }
            Outcome::default()
        };
        for_each_plan(
            &plans(5 * AHEAD),
            false,
            &pool,
            &mut console,
            &mut tally,
            work,
        );
        assert_eq!(most.into_inner().unwrap(), AHEAD);
        assert_eq!(tally.made, 5 * AHEAD);
    }

    #[test]
    fn no_plan_is_begun_after_a_failure_when_that_is_asked_for() {
        let mut tally = Tally::default();
        let mut console = Console::new(true, FindingsForm::Words);
        let pool = threads(Some(1)).unwrap();
        let work = |plan: &PlanAt, _: &Progress| Outcome {
            exit: if plan.name == "5" {
                Exit::Faulty
            } else {
                Exit::Done
            },
            ..Outcome::default()
        };
        for_each_plan(&plans(20), true, &pool, &mut console, &mut tally, work);
        assert_eq!((tally.made, tally.failed, tally.not_tried), (5, 1, 14));
    }
}
