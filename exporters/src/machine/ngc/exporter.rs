//! Files from all of that: a program for each face of each part or sheet, and a picture of what it leaves.

use jigless_model::caution::{Caution, DEFER};
use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_model::sheets::Settings;
use jigless_model::side::Face;
use jigless_model::units::{Unit, decimal};
use jigless_simulate::{Program, picture, read, simulate};

use super::face_work::{self, FaceWork, number};
use super::jobs::{Cut, Job};
use super::options::NgcRouterOptions;
use super::route::{Cost, Paces};
use super::write::{Hole, Writer};
use super::{toolpath, vet};
use crate::machine::tool::{Tool, ToolKind};
use crate::machine::{sheet_list, suits, through};

/// Programs for a router, proved by simulated removal.
#[derive(Debug, Clone, Copy)]
pub struct NgcRouter;

impl Exporter for NgcRouter {
    type Options = NgcRouterOptions;

    fn id(&self) -> &'static str {
        "ngc-router"
    }

    fn summary(&self) -> &'static str {
        "programs for a router in RS274/NGC, each with a picture of what a simulation shows it leaves; needs a profile with tools, feeds and speeds; suits plans that say `cut_by: router`"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn suits(&self, plan: &Plan) -> bool {
        suits::says_router(plan)
    }

    fn arranging(&self, options: &NgcRouterOptions) -> Option<Settings> {
        options.arranging()
    }

    fn vet(&self, input: &ExportInput, options: &NgcRouterOptions) -> Findings {
        vet::vet(input, options)
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &NgcRouterOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let failed = |message: String| ExportError {
            exporter: Exporter::id(self),
            message,
        };
        let mut artifacts = Vec::new();
        for work in face_work::all(input, options).map_err(failed)? {
            artifacts.extend(files(input, options, &work).map_err(failed)?);
        }
        let unit = options.units.of_plan(input.plan.units);
        artifacts.extend(sheet_list::artifacts(input, unit));
        Ok(artifacts)
    }
}

/// The files of one face. Nothing is given that the simulation does not prove.
fn files(
    input: &ExportInput,
    options: &NgcRouterOptions,
    work: &FaceWork,
) -> Result<Vec<Artifact>, String> {
    if work.jobs.is_empty() {
        return Ok(Vec::new());
    }
    let artifact = |path: String, media_type, text: String| Artifact {
        path,
        media_type,
        part: work.part.clone(),
        bytes: text.into_bytes(),
    };
    let mut artifacts = Vec::new();
    let mut whole = Program::default();
    let runs: Vec<&[Job]> = if options.file_per_tool {
        work.jobs.chunk_by(|a, b| a.tool == b.tool).collect()
    } else {
        vec![&work.jobs]
    };
    for (index, jobs) in runs.iter().enumerate() {
        let stem = if runs.len() > 1 {
            format!("{}.{}", work.stem, index + 1)
        } else {
            work.stem.clone()
        };
        let text = program(input, options, work, jobs, &format!("{stem}.ngc"));
        let mut read = read(&text);
        whole.motions.append(&mut read.motions);
        whole.faults.append(&mut read.faults);
        whole.unit_line = read.unit_line;
        artifacts.push(artifact(format!("{stem}.ngc"), "text/plain", text));
    }
    let faults = simulate(&whole, &work.setup, Some(&work.target));
    if let Some(first) = faults.first() {
        let more = match faults.len() {
            1 => String::new(),
            count => format!(", and {} more", count - 1),
        };
        return Err(format!(
            "the program of {} fails its own simulation, so it is not written: {first}{more}",
            work.stem
        ));
    }
    let drawn = picture(&whole, &work.setup);
    artifacts.push(artifact(
        format!("{}.left.svg", work.stem),
        "image/svg+xml",
        drawn,
    ));
    Ok(artifacts)
}

/// The text of one program.
fn program(
    input: &ExportInput,
    options: &NgcRouterOptions,
    work: &FaceWork,
    jobs: &[Job],
    file: &str,
) -> String {
    let unit = options.units.of_plan(input.plan.units);
    let mut writer = Writer::new(unit);
    for line in header(input, options, work, jobs, file) {
        writer.comment(&line);
    }
    writer.begin();
    let mut current = None;
    for job in jobs {
        let tool = &options.router.tools[job.tool];
        if current != Some(job.tool) {
            let number = number(options, job.tool);
            writer.comment(&tool_words(tool, number, unit));
            writer.tool(number, tool.speed.unwrap_or(0.0), options.safe);
            current = Some(job.tool);
        }
        writer.comment(&job.name);
        let plunge = tool.plunge.unwrap_or(0.0);
        match job.cut {
            Cut::Down(at) if options.canned && tool.kind == ToolKind::Drill => {
                let hole = Hole {
                    at,
                    depth: job.depth,
                    peck: tool.pass,
                    clearance: options.clearance,
                };
                writer.hole(&hole, plunge, options.safe);
            }
            _ => {
                let route = toolpath::of(job, tool, options, work.stock.thickest());
                writer.route(&route, tool.feed.unwrap_or(plunge), plunge);
            }
        }
    }
    writer.end()
}

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
        let cost = toolpath::of(job, tool, options, thickness).cost(&paces);
        sum.cut += cost.cut;
        sum.rapid += cost.rapid;
        sum.seconds += cost.seconds;
    }
    sum
}

/// `T2: mill of 6 mm, 18000 turns a minute, feed 2000 mm and plunge 500 mm a minute`.
pub(super) fn tool_words(tool: &Tool, number: u32, unit: Unit) -> String {
    let rate = |feed: Option<f64>| feed.map_or_else(|| "none".to_owned(), |feed| unit.show(feed));
    let speed = tool.speed.unwrap_or(0.0);
    let chips = match (tool.feed, tool.flutes) {
        (Some(feed), Some(flutes)) if flutes > 0 && speed > 0.0 => {
            let chip = feed / speed / f64::from(flutes);
            format!(", chip load {} mm", decimal(chip, 3))
        }
        _ => String::new(),
    };
    let feed = match tool.kind {
        ToolKind::Mill => format!("feed {} and ", rate(tool.feed)),
        ToolKind::Drill | ToolKind::Countersink => String::new(),
    };
    format!(
        "T{number}: {} of {}, {} turns a minute, {feed}plunge {} a minute{chips}",
        vet::kind(tool),
        unit.show(tool.diameter),
        decimal(speed, 0),
        rate(tool.plunge),
    )
}

/// What a program says of itself.
fn header(
    input: &ExportInput,
    options: &NgcRouterOptions,
    work: &FaceWork,
    jobs: &[Job],
    file: &str,
) -> Vec<String> {
    let unit = options.units.of_plan(input.plan.units);
    let mut lines = vec![
        format!("File: {file}"),
        format!("Plan: {}", input.plan.title),
        format!("Work: {}", work.title),
        format!(
            "Sheet: {}, {} by {}, {} thick at most",
            work.stock.label,
            unit.show(work.own.width()),
            unit.show(work.own.height()),
            unit.show(work.stock.thickest())
        ),
        "Zero: lower left corner of the part or sheet as it lies, z 0 on its upper face".to_owned(),
        through::statement(&options.router, work.stock, unit),
    ];
    if let Some(turned) = work.turned {
        let along = if turned { "along x" } else { "along y" };
        lines.push(format!("Grain of the sheet: {along}"));
    }
    let middle = unit.show(work.own.width() / 2.0);
    lines.push(match (work.faces, work.face) {
        (1, _) => "Face: the front is up, and is the only one".to_owned(),
        (_, Face::Back) => format!(
            "Face: the BACK is up. This program is FIRST; then turn over about the upright line at x = {middle}"
        ),
        (_, Face::Front) => "Face: the FRONT is up. The program of the back comes before; this one frees the parts".to_owned(),
    });
    let mut tools: Vec<usize> = Vec::new();
    for job in jobs {
        if !tools.contains(&job.tool) {
            tools.push(job.tool);
        }
    }
    for tool in tools {
        let number = number(options, tool);
        lines.push(tool_words(&options.router.tools[tool], number, unit));
    }
    let cost = cost(options, jobs, work.stock.thickest());
    lines.push(format!(
        "Cut: {} in about {} minutes, at {} mm/s2 and rapids of {} mm a minute, without changes of tools",
        unit.show(cost.cut),
        decimal((cost.seconds / 60.0).max(0.1), 1),
        decimal(options.acceleration, 0),
        decimal(options.rapid, 0)
    ));
    lines
        .push("Arcs: G2 and G3 with I and J from the start; both radii within 0.002 mm".to_owned());
    lines.extend(work.by_hand.iter().map(|line| format!("By hand: {line}")));
    let cautions = [Caution::Work, Caution::Router].map(Caution::text);
    lines.extend(
        cautions
            .into_iter()
            .chain([DEFER])
            .map(|text| format!("Caution: {text}")),
    );
    lines
}
