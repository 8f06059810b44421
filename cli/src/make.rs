//! From a compiled plan to its files, in memory: what the formats say against it, and what they make of it.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::slice;
use std::sync::Arc;

use jigless_core::arrange::{Arrangement, Settings, arrange};
use jigless_core::diag::Findings;
use jigless_core::export::{ExportInput, Stage, Stamp};
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;
use rayon::prelude::*;

use crate::choice::Chosen;
use crate::output::MadeFiles;
use crate::progress::Progress;

/// One call of one format: for a part, or for all of them.
struct Job<'a> {
    exporter: &'a Chosen,
    workpieces: &'a [Workpiece],
    /// The parts on sheets, shared by all formats that ask for the same.
    sheets: Option<Arc<Arrangement>>,
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

/// Arranges the parts for every job that asks for it; what several ask for in the same way is arranged once.
fn arrange_once(jobs: &mut [Job], workpieces: &[Workpiece]) {
    let asked: Vec<Option<Settings>> = jobs.iter().map(|job| job.exporter.arranging()).collect();
    let mut ways: Vec<&Settings> = Vec::new();
    for settings in asked.iter().flatten() {
        if !ways.contains(&settings) {
            ways.push(settings);
        }
    }
    let arranged: Vec<Arc<Arrangement>> = ways
        .par_iter()
        .map(|settings| Arc::new(arrange(workpieces, settings)))
        .collect();
    for (job, asked) in jobs.iter_mut().zip(&asked) {
        let way = asked
            .as_ref()
            .and_then(|asked| ways.iter().position(|way| *way == asked));
        job.sheets = way.map(|way| Arc::clone(&arranged[way]));
    }
}

/// The files of each format, in the order of the formats whatever the number of threads. A format that fails does not
/// stop the others.
pub fn make(
    exporters: &[&Chosen],
    plan: &Plan,
    workpieces: &[Workpiece],
    stamp: &Stamp,
    progress: &Progress,
) -> Vec<(&'static str, Result<Vec<MadeFiles>, String>)> {
    let mut jobs = jobs(exporters, workpieces);
    arrange_once(&mut jobs, workpieces);
    progress.jobs(jobs.len());
    let export = |job: &Job| {
        let mut input = ExportInput::new(plan, job.workpieces, stamp);
        if let Some(sheets) = &job.sheets {
            input = input.on_sheets(sheets);
        }
        // A fault of the program in one format is reported as such; the other formats are not lost by it.
        let artifacts = catch_unwind(AssertUnwindSafe(|| job.exporter.export(&input)));
        progress.job_done();
        match artifacts {
            Ok(artifacts) => artifacts.map_err(|error| error.message),
            Err(_) => Err("a fault in Jigless itself stopped it".to_owned()),
        }
    };
    // Collected first and judged after, so that the failure that is reported does not hang on the threads.
    let results: Vec<_> = jobs.par_iter().map(export).collect();
    let mut made: Vec<(&'static str, Result<Vec<MadeFiles>, String>)> = Vec::new();
    for (job, result) in jobs.iter().zip(results) {
        let id = job.exporter.id();
        if made.last().is_none_or(|(last, _)| *last != id) {
            made.push((id, Ok(Vec::new())));
        }
        let Some((_, files)) = made.last_mut() else {
            continue;
        };
        match (files.as_mut(), result) {
            (Ok(files), Ok(artifacts)) => {
                files.extend(artifacts.into_iter().map(|artifact| MadeFiles {
                    exporter: id,
                    artifact,
                }));
            }
            (Ok(_), Err(reason)) => *files = Err(reason),
            // The first failure of a format is its own.
            (Err(_), _) => {}
        }
    }
    made
}
