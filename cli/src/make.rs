//! From a compiled plan to its files, in memory: what the formats say against it, and what they make of it.

use std::slice;

use jigless_core::arrange::{Arrangement, arrange};
use jigless_core::diag::Findings;
use jigless_core::export::{ExportError, ExportInput, Stage, Stamp};
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;
use rayon::prelude::*;

use crate::choice::Chosen;
use crate::output::Made;
use crate::progress::Progress;

/// One call of one format: for a part, or for all of them.
struct Job<'a> {
    exporter: &'a Chosen,
    workpieces: &'a [Workpiece],
    sheets: Option<Arrangement>,
}

/// The jobs in the order of the formats and the parts, which is also the order of what they give.
fn jobs<'a>(exporters: &[&'a Chosen], workpieces: &'a [Workpiece]) -> Vec<Job<'a>> {
    let mut jobs = Vec::new();
    for &exporter in exporters {
        match exporter.stage() {
            Stage::Part => jobs.extend(workpieces.iter().map(|workpiece| Job {
                exporter,
                workpieces: slice::from_ref(workpiece),
                sheets: None,
            })),
            // Sheets are arranged when files are made, and only then.
            Stage::Plan | Stage::Sheet => jobs.push(Job {
                exporter,
                workpieces,
                sheets: None,
            }),
        }
    }
    jobs
}

/// What each format cannot express of a plan, in the order of the formats.
pub fn vet(
    exporters: &[&Chosen],
    plan: &Plan,
    workpieces: &[Workpiece],
    stamp: &Stamp,
) -> Vec<(&'static str, Findings)> {
    let vet = |exporter: &&Chosen| {
        let mut findings = Findings::new();
        for job in jobs(slice::from_ref(exporter), workpieces) {
            let input = ExportInput::new(plan, job.workpieces, stamp);
            findings.extend(exporter.vet(&input));
        }
        (exporter.id(), findings)
    };
    exporters.par_iter().map(vet).collect()
}

/// All files of a plan, in the same order for any number of threads.
///
/// # Errors
/// The first failure in that order.
pub fn make(
    exporters: &[&Chosen],
    plan: &Plan,
    workpieces: &[Workpiece],
    stamp: &Stamp,
    progress: &Progress,
) -> Result<Vec<Made>, ExportError> {
    let mut jobs = jobs(exporters, workpieces);
    jobs.par_iter_mut().for_each(|job| {
        let asked = job.exporter.arranging();
        job.sheets = asked.map(|settings| arrange(job.workpieces, &settings));
    });
    progress.jobs(jobs.len());
    let export = |job: &Job| {
        let mut input = ExportInput::new(plan, job.workpieces, stamp);
        if let Some(sheets) = &job.sheets {
            input = input.on_sheets(sheets);
        }
        let artifacts = job.exporter.export(&input);
        progress.job_done();
        artifacts
    };
    // Collected first and judged after, so that the failure that is told does not hang on the threads.
    let results: Vec<_> = jobs.par_iter().map(export).collect();
    let mut made = Vec::new();
    for (job, result) in jobs.iter().zip(results) {
        made.extend(result?.into_iter().map(|artifact| Made {
            exporter: job.exporter.id(),
            artifact,
        }));
    }
    Ok(made)
}
