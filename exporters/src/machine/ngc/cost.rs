//! Length and time of jobs.

use super::jobs::Job;
use super::options::NgcRouterOptions;
use super::route::{Cost, Paces};
use super::toolpath;

/// Length and time of jobs.
pub(super) fn cost(options: &NgcRouterOptions, jobs: &[Job], thickness: f64) -> Cost {
    let mut sum = Cost::default();
    for job in jobs {
        let tool = &options.router.tools[job.tool];
        let paces = Paces {
            rapid: options.rapid,
            feed: tool.feed.or(tool.plunge).unwrap_or(1.0),
            plunge: tool.plunge.unwrap_or(1.0),
            acceleration: options.acceleration,
        };
        sum.add(toolpath::of(job, tool, options, thickness).cost(&paces));
    }
    sum
}
