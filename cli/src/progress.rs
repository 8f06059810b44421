//! Progress on a terminal; nothing anywhere else.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// Counts plans, or the jobs of the only plan.
#[derive(Debug)]
pub struct Progress {
    bar: ProgressBar,
    by_plan: bool,
}

impl Progress {
    /// Progress over a number of plans. It draws on standard error, if that is a terminal and `quiet` is not asked for.
    pub fn new(plans: usize, quiet: bool) -> Self {
        let target = if quiet {
            ProgressDrawTarget::hidden()
        } else {
            ProgressDrawTarget::stderr()
        };
        let by_plan = plans > 1;
        let bar = ProgressBar::with_draw_target(Some(0), target);
        let template = if by_plan {
            bar.set_length(plans as u64);
            "{bar:30} {pos}/{len} plans, {per_sec}, {eta} left"
        } else {
            "{bar:30} {pos}/{len}"
        };
        if let Ok(style) = ProgressStyle::with_template(template) {
            bar.set_style(style);
        }
        Self { bar, by_plan }
    }

    /// So many jobs are ahead in a plan.
    pub fn jobs(&self, count: usize) {
        if !self.by_plan {
            self.bar.inc_length(count as u64);
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

    /// Prints something without tearing the bar.
    pub fn aside(&self, print: impl FnOnce()) {
        self.bar.suspend(print);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
