//! What programs need besides what drawings do: feeds and speeds of the tools that are used.

use jigless_model::diag::{Finding, Findings, Severity};
use jigless_model::export::ExportInput;
use jigless_model::side::Face;

use super::jobs::Maker;
use super::options::NgcRouterOptions;
use crate::codes;
use crate::machine::router_options::RouterOptions;
use crate::machine::tool::{Tool, ToolKind};
use crate::machine::{router_vet, vet};
use crate::option_check::refused;

/// What programs cannot be made of.
pub(super) fn vet(input: &ExportInput, options: &NgcRouterOptions) -> Findings {
    let mut findings = Findings::new();
    options.vet(&mut findings);
    if findings.has_errors() {
        return findings;
    }
    let router = &options.router;
    if router.tools.is_empty() {
        let message = "no tool is known, and a program needs each tool with its feeds and speed";
        let fix = "list the tools in a profile: `machine: {tools: [{diameter: 6, pass: 4, feed: 2000, plunge: 500, \
                   speed: 18000}]}` with the values of their maker";
        findings.push(refused(codes::PROGRAM_WITHOUT_TOOLS, message, fix));
        return findings;
    }
    let unit = options.units.of_plan(input.plan.units);
    router_vet::vet(
        input,
        router,
        &options.layout,
        options.lead,
        unit,
        &mut findings,
    );
    holes_are_made(&mut findings);
    feeds(input, router, &mut findings);
    let settings = options.arranging();
    vet::sheets(input, settings.as_ref(), &mut findings);
    vet::bed(input, &options.layout, &mut findings);
    findings.extend(vet::hand_work(input));
    findings
}

/// A program must make every hole: what is a warning for a drawing is an error here.
fn holes_are_made(findings: &mut Findings) {
    let all = std::mem::take(findings);
    for finding in all.iter() {
        let mut finding = finding.clone();
        if finding.code == codes::NO_DRILL_FITS {
            finding.severity = Severity::Error;
        }
        findings.push(finding);
    }
}

/// Feeds and speeds are never guessed.
fn feeds(input: &ExportInput, router: &RouterOptions, findings: &mut Findings) {
    let maker = Maker { router };
    let mut reported: Vec<usize> = Vec::new();
    for workpiece in input.workpieces {
        for face in Face::ALL {
            for job in maker.of_view(&workpiece.seen_from(face)) {
                let lacks = lacks(&router.tools[job.tool]);
                if lacks.is_empty() || reported.contains(&job.tool) {
                    continue;
                }
                reported.push(job.tool);
                let tool = &router.tools[job.tool];
                let message = format!(
                    "the {} of {} mm, which `{}` needs, has no {}",
                    kind(tool),
                    tool.diameter,
                    job.name,
                    lacks.join(" and no ")
                );
                let finding =
                    Finding::new(codes::TOOL_WITHOUT_FEEDS, Severity::Error, None, message);
                findings.push(
                    finding.fix("write what its maker gives for your material into the profile"),
                );
            }
        }
    }
}

/// What a tool is called.
pub(super) fn kind(tool: &Tool) -> &'static str {
    match tool.kind {
        ToolKind::Mill => "mill",
        ToolKind::Drill => "drill",
        ToolKind::Countersink => "countersink",
    }
}

/// What a tool lacks to be used in a program.
fn lacks(tool: &Tool) -> Vec<&'static str> {
    let mut lacks = Vec::new();
    if tool.feed.is_none() && tool.kind == ToolKind::Mill {
        lacks.push("feed");
    }
    if tool.plunge.is_none() {
        lacks.push("plunge");
    }
    if tool.speed.is_none() {
        lacks.push("speed");
    }
    lacks
}
