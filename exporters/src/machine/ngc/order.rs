//! The order of the jobs: holes, areas, openings, outlines; in each, one tool after the other, the small before the large,
//! and of those alike in size the nearest next.

use jigless_model::geom::Point;

use super::jobs::{Cut, Job, Phase};
use crate::machine::nearest::nearest_first;

/// Puts jobs in order. The tool that comes last in one step of the work is first in the next where it is used there, so
/// that tools are changed no more often than they must.
pub(super) fn sort(jobs: &mut Vec<Job>) {
    let mut sorted: Vec<Job> = Vec::with_capacity(jobs.len());
    let mut at = Point::default();
    let phases = [
        Phase::Register,
        Phase::Drill,
        Phase::Pocket,
        Phase::Inside,
        Phase::Outside,
    ];
    for phase in phases {
        let (mut own, rest): (Vec<Job>, Vec<Job>) =
            jobs.drain(..).partition(|job| job.phase == phase);
        *jobs = rest;
        let mut tools: Vec<usize> = own.iter().map(|job| job.tool).collect();
        tools.sort_unstable();
        tools.dedup();
        let next: Option<usize> = jobs
            .iter()
            .map(|job| (job.phase, job.tool))
            .min()
            .map(|n| n.1);
        let last = sorted.last().map(|job| job.tool);
        tools.sort_by_key(|tool| (Some(*tool) != last, next == Some(*tool), *tool));
        for tool in tools {
            let (mut same, others): (Vec<Job>, Vec<Job>) =
                own.drain(..).partition(|job| job.tool == tool);
            own = others;
            same.sort_by_key(size);
            let mut start = 0;
            while start < same.len() {
                let alike = same[start..]
                    .iter()
                    .take_while(|job| size(job) == size(&same[start]))
                    .count();
                at = nearest_next(&mut same[start..start + alike], at);
                start += alike;
            }
            sorted.append(&mut same);
        }
    }
    *jobs = sorted;
}

/// Doubles of the area of what is followed; all holes are alike.
fn size(job: &Job) -> i32 {
    match job.cut {
        Cut::Down(_) => 0,
        Cut::Clear { .. } | Cut::Follow { .. } => {
            let bounds = job.bounds();
            (bounds.width() * bounds.height()).max(1e-3).log2().floor() as i32
        }
    }
}

fn nearest_next(jobs: &mut [Job], from: Point) -> Point {
    let middles: Vec<(Point, Point)> = jobs
        .iter()
        .map(|job| job.bounds().centre())
        .map(|middle| (middle, middle))
        .collect();
    let order = nearest_first(&middles, from);
    let ordered: Vec<Job> = order.iter().map(|number| jobs[*number].clone()).collect();
    for (job, next) in jobs.iter_mut().zip(ordered) {
        *job = next;
    }
    order.last().map_or(from, |last| middles[*last].1)
}
