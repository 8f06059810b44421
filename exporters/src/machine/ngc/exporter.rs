//! Files from all of that: a program for each face of each part or sheet, and a picture of what it leaves.

use jigless_model::caution::{Caution, DEFER};
use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_model::sheets::Settings;
use jigless_model::side::Face;
use jigless_model::units::decimal;
use jigless_simulate::{Program, left, read, simulate, swept};

use super::cost::cost;
use super::face_work::{self, FaceWork, number};
use super::job_sheet;
use super::jobs::{Cut, Job};
use super::operation::{self, Operation};
use super::options::NgcRouterOptions;
use super::route::Cost;
use super::tool_words::tool_words;
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
        let all = face_work::all(input, options).map_err(failed)?;
        for faces in all.chunk_by(|a, b| a.name == b.name) {
            for work in faces {
                artifacts.extend(files(input, options, work).map_err(failed)?);
            }
            artifacts.extend(job_sheet(input, options, faces).map_err(failed)?);
        }
        let unit = options.units.of_plan(input.plan.units);
        artifacts.extend(sheet_list::artifacts(input, unit));
        Ok(artifacts)
    }
}

/// The job sheet of a part or sheet, unless nothing is cut.
fn job_sheet(
    input: &ExportInput,
    options: &NgcRouterOptions,
    faces: &[FaceWork],
) -> Result<Option<Artifact>, String> {
    let cut: Vec<&FaceWork> = faces.iter().filter(|work| !work.jobs.is_empty()).collect();
    let Some(first) = cut.first() else {
        return Ok(None);
    };
    Ok(Some(Artifact {
        path: format!("{}.job.pdf", first.name),
        media_type: "application/pdf",
        part: first.part.clone(),
        bytes: job_sheet::document(input, options, &cut)?,
    }))
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
    let operations = operation::numbered(&work.jobs);
    let runs: Vec<&[Operation]> = if options.file_per_tool {
        operations.chunk_by(|a, b| a.tool == b.tool).collect()
    } else {
        vec![&operations]
    };
    for (index, run) in runs.iter().enumerate() {
        let stem = if runs.len() > 1 {
            format!("{}.{}", work.stem, index + 1)
        } else {
            work.stem.clone()
        };
        let text = program(input, options, work, run, &format!("{stem}.ngc"));
        let mut read = read(&text);
        whole.motions.append(&mut read.motions);
        whole.faults.append(&mut read.faults);
        whole.unit_line = read.unit_line;
        artifacts.push(artifact(format!("{stem}.ngc"), "text/plain", text));
    }
    let swept = swept(&whole, &work.setup);
    let faults = simulate(&whole, &swept, &work.setup, Some(&work.target));
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
    let drawn = left(&swept, &work.setup).svg();
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
    operations: &[Operation],
    file: &str,
) -> String {
    let unit = options.units.of_plan(input.plan.units);
    let mut writer = Writer::new(unit);
    for line in header(input, options, work, operations, file) {
        writer.comment(&line);
    }
    writer.begin();
    let through = through::depth(&options.router, work.stock);
    let mut current = None;
    for operation in operations {
        let tool = &options.router.tools[operation.tool];
        if current != Some(operation.tool) {
            let number = number(options, operation.tool);
            writer.comment(&tool_words(tool, number, unit));
            writer.tool(number, tool.speed.unwrap_or(0.0), options.safe);
            current = Some(operation.tool);
        }
        let words = operation.words(tool, through, unit);
        writer.comment(&format!("Operation {}: {words}", operation.number));
        for job in operation.jobs {
            writer.comment(&job.name);
            write_job(&mut writer, job, tool, options, work);
        }
    }
    writer.end()
}

fn write_job(
    writer: &mut Writer,
    job: &Job,
    tool: &Tool,
    options: &NgcRouterOptions,
    work: &FaceWork,
) {
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

/// What a program says of itself.
fn header(
    input: &ExportInput,
    options: &NgcRouterOptions,
    work: &FaceWork,
    operations: &[Operation],
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
    for operation in operations {
        if !tools.contains(&operation.tool) {
            tools.push(operation.tool);
        }
    }
    for tool in tools {
        let number = number(options, tool);
        lines.push(tool_words(&options.router.tools[tool], number, unit));
    }
    let mut whole = Cost::default();
    for operation in operations {
        whole.add(cost(options, operation.jobs, work.stock.thickest()));
    }
    lines.push(format!(
        "Cut: {} in about {} minutes, at {} mm/s2 and rapids of {} mm a minute, without changes of tools",
        unit.show(whole.cut),
        decimal((whole.seconds / 60.0).max(0.1), 1),
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
