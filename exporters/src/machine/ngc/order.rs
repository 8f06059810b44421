//! The order of the jobs: holes, areas, openings, outlines; in each, one tool after the other, the small before the large,
//! and of those alike in size the nearest next.

use jigless_model::geom::Point;

use super::jobs::{Cut, Job, Phase};

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
    let mut at = from;
    for done in 0..jobs.len() {
        let middles = jobs[done..]
            .iter()
            .map(|job| job.bounds().centre().distance(at));
        let nearest = middles
            .enumerate()
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map_or(0, |(index, _)| index);
        jobs[done..=done + nearest].rotate_right(1);
        at = jobs[done].bounds().centre();
    }
    at
}
