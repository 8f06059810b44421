//! What a router cannot make of a plan with the tools that it has.

use jigless_model::diag::{Finding, Findings, Severity};
use jigless_model::export::ExportInput;
use jigless_model::operation::{Depth, Drill, Mouth, Work};
use jigless_model::plan::Stock;
use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;

use super::layout_options::{Arrange, SheetLayout};
use super::router_options::RouterOptions;
use super::tool::{Tool, ToolKind};
use super::{beyond, tabs, through, tools};
use crate::codes;
use crate::option_check::refused;

/// What a router cannot make of a plan. `lead` is how far beside an outline a tool goes into the wood.
pub(super) fn vet(
    input: &ExportInput,
    router: &RouterOptions,
    layout: &SheetLayout,
    lead: f64,
    unit: Unit,
    findings: &mut Findings,
) {
    if router.tools.is_empty() {
        no_tools(layout, findings);
        return;
    }
    for workpiece in input.workpieces {
        tools::vet(router, workpiece, unit, findings);
        drills(router, workpiece, unit, findings);
        let gap = router.tab + router.largest();
        if router.tab > 0.0 && tabs::places(workpiece.outline(), gap).is_empty() {
            findings.push(tabs::refused(&workpiece.part, gap, unit));
        }
    }
    beyond::vet(router, layout, input.workpieces, lead, unit, findings);
    for stock in stocks(input) {
        if router.skin.is_some() && through::depth(router, stock) <= 0.0 {
            let message = format!("a skin as thick as `{}` leaves nothing to cut", stock.id);
            findings.push(
                Finding::error(codes::OPTION_OUT_OF_RANGE, stock.span, message)
                    .fix("give a thinner skin"),
            );
        }
    }
}

/// The stocks of the parts, each once.
fn stocks<'a>(input: &ExportInput<'a>) -> Vec<&'a Stock> {
    let mut stocks: Vec<&Stock> = Vec::new();
    for workpiece in input.workpieces {
        let stock = &*workpiece.part.stock;
        if stocks.iter().all(|other| other.id != stock.id) {
            stocks.push(stock);
        }
    }
    stocks
}

/// Without tools nothing is known of sweeps: sheets are refused, files of single parts hold nominal lines. That is what a
/// shop with tools of its own asks for, so it is noted and not warned of.
fn no_tools(layout: &SheetLayout, findings: &mut Findings) {
    const FIX: &str = "list the tools in a profile: `machine: {tools: [{diameter: 6, pass: 4}]}`";
    if layout.arrange == Arrange::No {
        let message = "no tool is known, so lines are nominal: grooves and rebates end at the edge, inside corners are \
                       not relieved, and nothing is said of what a tool sweeps beside them";
        let severity = Severity::Note;
        let finding = Finding::new(codes::ROUTER_HAS_NO_TOOLS, severity, None, message);
        findings.push(finding.fix(FIX));
    } else {
        let message =
            "no tool is known, so nothing can be said of how far apart parts must lie on a sheet";
        findings.push(refused(codes::SHEETS_WITHOUT_TOOLS, message, FIX));
    }
}

/// Holds holes against the drills: a hole is drilled by a drill of its diameter, or milled by a smaller mill.
fn drills(router: &RouterOptions, workpiece: &Workpiece, unit: Unit, findings: &mut Findings) {
    let through = through::depth(router, &workpiece.part.stock);
    let mut missing: Vec<(String, Finding)> = Vec::new();
    for operation in &workpiece.operations {
        let Work::Drill(hole) = &operation.work else {
            continue;
        };
        for (what, wanted) in lacking(router, hole, through, unit) {
            let span = operation.origin.span;
            if let Some((_, finding)) = missing.iter_mut().find(|(other, _)| *other == what) {
                let same = finding.span == Some(span)
                    || finding.labels.iter().any(|label| label.span == span);
                if !same {
                    *finding = finding.clone().label(span, "and here");
                }
                continue;
            }
            let message = format!("part `{}`: no tool makes {what}", workpiece.part.id);
            let finding = Finding::warning(codes::NO_DRILL_FITS, span, message)
                .fix(format!("add {wanted} to the profile, or make it by hand"));
            missing.push((what, finding));
        }
    }
    for (_, finding) in missing {
        findings.push(finding);
    }
}

/// What of a hole no tool makes, and the tool that would.
fn lacking(
    router: &RouterOptions,
    hole: &Drill,
    through: f64,
    unit: Unit,
) -> Vec<(String, String)> {
    let depth = match hole.depth {
        Depth::Through => through,
        Depth::Blind(depth) => depth,
    };
    let mut lacking = Vec::new();
    if for_hole(router, hole.diameter, depth).is_none() {
        let (diameter, depth) = (unit.show(hole.diameter), unit.show(depth));
        lacking.push((
            format!("a hole of {diameter}, {depth} deep"),
            format!("a drill of {diameter} that reaches {depth}"),
        ));
    }
    match hole.mouth {
        Some(Mouth::Countersink { diameter, angle })
            if for_cone(router, diameter, angle).is_none() =>
        {
            let degrees = jigless_model::units::decimal(angle.to_degrees(), 1);
            let diameter = unit.show(diameter);
            lacking.push((
                format!("a countersink of {degrees} degrees and {diameter}"),
                format!("a countersink of {degrees} degrees"),
            ));
        }
        Some(Mouth::Counterbore { diameter, depth })
            if for_hole(router, diameter, depth).is_none() =>
        {
            lacking.push((
                format!("a counterbore of {}", unit.show(diameter)),
                "a smaller mill".to_owned(),
            ));
        }
        _ => {}
    }
    lacking
}

/// The tool for a hole: a drill of its diameter, or the largest mill that goes into it.
pub(super) fn for_hole(router: &RouterOptions, diameter: f64, depth: f64) -> Option<&Tool> {
    let off = |tool: &Tool| (tool.diameter - diameter).abs();
    let drills = router
        .tools
        .iter()
        .filter(|tool| tool.drills(diameter) && tool.reaches(depth));
    let nearest = drills.min_by(|a, b| off(a).total_cmp(&off(b)));
    nearest.or_else(|| {
        let goes_in = |tool: &&Tool| {
            // A mill that does not cut to its centre winds its way down, and needs some room for that.
            let room = if tool.plunges { 1.0 } else { 0.95 };
            tool.is_mill() && tool.reaches(depth) && tool.diameter <= room * diameter + 1e-6
        };
        let mills = router.tools.iter().filter(goes_in);
        mills.max_by(|a, b| a.diameter.total_cmp(&b.diameter))
    })
}

/// The countersink for a conical mouth.
pub(super) fn for_cone(router: &RouterOptions, diameter: f64, angle: f64) -> Option<&Tool> {
    router.tools.iter().find(|tool| {
        tool.kind == ToolKind::Countersink
            && tool
                .angle
                .is_some_and(|own| (own - angle.to_degrees()).abs() < 0.5)
            && tool.diameter >= diameter - 1e-6
    })
}
