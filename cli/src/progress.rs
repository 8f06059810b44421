//! Progress on a terminal; nothing anywhere else.

use std::fmt::Write;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressState, ProgressStyle};

/// Counts plans, or the jobs of the only plan.
#[derive(Debug)]
pub struct Progress {
    bar: ProgressBar,
    by_plan: bool,
    quiet: bool,
}

impl Progress {
    /// Progress over a number of plans. It draws on standard error, if that is a terminal and `quiet` is not asked for.
    pub fn new(plans: usize, quiet: bool) -> Self {
        let by_plan = plans > 1;
        let bar = ProgressBar::hidden();
        let (length, template) = if by_plan {
            (
                plans,
                "{bar:30} {pos}/{len} plans, {rate} a second, {eta} left",
            )
        } else {
            (0, "{bar:30} {pos}/{len}")
        };
        bar.set_length(length as u64);
        if let Ok(style) = ProgressStyle::with_template(template) {
            bar.set_style(style.with_key("rate", rate));
        }
        let progress = Self {
            bar,
            by_plan,
            quiet,
        };
        if by_plan {
            progress.show();
        }
        progress
    }

    /// So many jobs are ahead in a plan.
    pub fn jobs(&self, count: usize) {
        if !self.by_plan {
            self.bar.inc_length(count as u64);
            self.show();
        }
    }

    fn show(&self) {
        if !self.quiet {
            // Hides itself where standard error is no terminal.
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
    }

    /// One job is done.
    pub fn job_done(&self) {
        if !self.by_plan {
            self.bar.inc(1);
        }
    }

    /// One plan is done.
    pub fn plan_done(&self) {
        if self.by_plan {
            self.bar.inc(1);
        }
    }

    /// Nothing more will come: the bar goes.
    pub fn finish(&self) {
        self.bar.finish_and_clear();
    }

    /// Prints something without tearing the bar.
    pub fn aside(&self, print: impl FnOnce()) {
        self.bar.suspend(print);
    }
}

fn rate(state: &ProgressState, text: &mut dyn Write) {
    // A bar that cannot be written is not worth a word.
    let _ = write!(text, "{:.0}", state.per_sec());
}
