//! The order of the jobs: holes, areas, openings, outlines; in each, one tool after the other, the small before the large,
//! and of those alike in size the nearest next.

use std::cmp::Reverse;

use jigless_model::geom::{Bounds, Path, Point};

use super::jobs::{Cut, Job, Phase};
use crate::machine::nearest::nearest_first;

/// How far inside an opening a cut lies at least that is not the opening itself, in millimetres.
const NESTED: f64 = 0.01;

/// Puts jobs in order. The tool that comes last in one step of the work is first in the next where it is used there, so
/// that tools are changed no more often than they must.
pub(super) fn sort(jobs: &mut Vec<Job>) {
    let mut sorted: Vec<Job> = Vec::with_capacity(jobs.len());
    let mut at = Point::default();
    let openings = openings_around(jobs);
    let mut waiting: Vec<(usize, Job)> = openings.into_iter().zip(jobs.drain(..)).collect();
    let deepest = waiting.iter().map(|(openings, _)| *openings).max();
    let first = [Phase::Register, Phase::Drill, Phase::Pocket].map(|phase| (None, phase));
    let cuts = (0..=deepest.unwrap_or(0)).rev();
    let cuts =
        cuts.flat_map(|depth| [Phase::Inside, Phase::Outside].map(|phase| (Some(depth), phase)));
    for (depth, phase) in first.into_iter().chain(cuts) {
        let (own, rest): (Vec<_>, Vec<_>) = waiting.into_iter().partition(|(openings, job)| {
            job.phase == phase && depth.is_none_or(|depth| depth == *openings)
        });
        waiting = rest;
        let mut own: Vec<Job> = own.into_iter().map(|(_, job)| job).collect();
        let mut tools: Vec<usize> = own.iter().map(|job| job.tool).collect();
        tools.sort_unstable();
        tools.dedup();
        let next: Option<usize> = waiting
            .iter()
            .map(|(openings, job)| (job.phase < Phase::Inside, *openings, job))
            .map(|(is_first, openings, job)| {
                let depth = if is_first { usize::MAX } else { openings };
                (Reverse(depth), job.phase, job.tool)
            })
            .min()
            .map(|next| next.2);
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

/// How many openings each job lies in: a part that lies in an opening of another one is cut before that opening, which
/// would set it free.
fn openings_around(jobs: &[Job]) -> Vec<usize> {
    let openings: Vec<(&Path, Bounds)> = jobs
        .iter()
        .filter(|job| job.phase == Phase::Inside)
        .filter_map(|job| match &job.cut {
            Cut::Follow { contour, .. } => Some((contour, job.bounds())),
            Cut::Down(_) | Cut::Clear { .. } => None,
        })
        .collect();
    let around = |job: &Job| {
        let own = job.bounds();
        let holds = |(path, bounds): &&(&Path, Bounds)| {
            bounds.contains_box(own, -NESTED) && path.contains(own.centre())
        };
        openings.iter().filter(holds).count()
    };
    jobs.iter().map(around).collect()
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
