//! What a laser cannot make of a plan, and what must not go under it.

use jigless_model::diag::{Finding, Findings, Severity};
use jigless_model::export::ExportInput;
use jigless_model::operation::{ContourSide, Depth, Operation, Work};
use jigless_model::plan::{CutBy, StockKind};
use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;

use super::drawing::LayerShape;
use super::laser_options::LaserOptions;
use super::layout_options::SheetLayout;
use super::{blind_work, kerf, lettering, notes, tabs, vet};
use crate::codes;

/// What a laser cannot make of a plan.
pub(super) fn vet(
    input: &ExportInput,
    layout: &SheetLayout,
    options: &LaserOptions,
    unit: Unit,
) -> Findings {
    let mut findings = Findings::new();
    layout.vet(&mut findings);
    options.vet(&mut findings);
    if findings.has_errors() {
        return findings;
    }
    if options.shared_edges
        && (!options.kerfs.is_empty()
            || options.kerf.axes().0.to_bits() != options.kerf.axes().1.to_bits())
    {
        findings.push(
            Finding::new(
                codes::SHARED_EDGES_OF_SEVERAL_KERFS,
                Severity::Error,
                None,
                "edges can be shared only where the kerf is one number",
            )
            .fix("give one `kerf` and no `kerfs`, or set `shared_edges: false`"),
        );
    }
    for workpiece in input.workpieces {
        vet_stock(workpiece, &mut findings);
        vet_operations(workpiece, unit, &mut findings);
        vet_sizes(workpiece, options, unit, &mut findings);
    }
    vet::sheets(input, options.arranging(layout).as_ref(), &mut findings);
    vet::bed(input, layout, &mut findings);
    findings.extend(vet::hand_work(input));
    findings
}

/// What is smaller than the beam or the openings of the bed.
fn vet_sizes(workpiece: &Workpiece, options: &LaserOptions, unit: Unit, findings: &mut Findings) {
    let part = &workpiece.part;
    let width = kerf::of_stock(options, &part.stock);
    for operation in &workpiece.operations {
        let (shape, outward) = match &operation.work {
            Work::CutContour(cut) => (
                LayerShape::of_path(&cut.path),
                cut.side == ContourSide::Outer,
            ),
            Work::Drill(hole) if hole.depth == Depth::Through => (
                LayerShape::Circle {
                    centre: hole.centre,
                    radius: hole.diameter / 2.0,
                },
                false,
            ),
            _ => continue,
        };
        if kerf::moved(&shape, outward, width).is_none() {
            let (x, y) = width.axes();
            let message = format!(
                "part `{}`: a slot, opening or inside radius is too small for a kerf of {}",
                part.id,
                unit.show(x.max(y))
            );
            findings.push(
                Finding::error(codes::CUT_BELOW_KERF, operation.origin.span, message)
                    .fix("make it wider than the kerf, with inside radii of at least half of it"),
            );
        }
    }
    if tabs::is_small(workpiece.outline(), options.cell) {
        let message = format!(
            "part `{}` is narrower than the openings of the bed, {}, and may fall through or tip up",
            part.id,
            unit.show(options.cell)
        );
        let (x, y) = width.axes();
        let gap = options.tab + x.max(y);
        if options.tab > 0.0 && tabs::places(workpiece.outline(), gap).is_empty() {
            findings.push(tabs::refused(part, gap, unit));
        }
        let fix = if options.tab > 0.0 {
            "tabs hold it; break them out afterwards"
        } else {
            "set `tab: 0.5` in the profile, or cut on a closed board"
        };
        let severity = if options.tab > 0.0 {
            Severity::Note
        } else {
            Severity::Warning
        };
        findings.push(
            Finding::new(
                codes::PART_SMALLER_THAN_BED_OPENING,
                severity,
                Some(part.span),
                message,
            )
            .fix(fix),
        );
    }
}

/// Materials that a laser must not touch, or of which nobody knows.
fn vet_stock(workpiece: &Workpiece, findings: &mut Findings) {
    let stock = &workpiece.part.stock;
    let label = &stock.label;
    // The checks have reported it, or the author accepts it with a reason. What poisons is refused all the same.
    if stock.cut_by == Some(CutBy::Laser) && stock.kind.is_unsure_under_laser() {
        return;
    }
    match stock.kind {
        StockKind::Pvc => findings.push(
            Finding::error(
                codes::LASER_ON_PVC,
                stock.span,
                format!(
                    "{label} is PVC: under a laser it gives off hydrogen chloride, which poisons people and eats the \
                     machine"
                ),
            )
            .fix("take another material, or leave these parts out of the laser's files"),
        ),
        StockKind::Other => findings.push(
            Finding::warning(
                codes::LASER_ON_UNKNOWN_MATERIAL,
                stock.span,
                format!("{label} is of kind `other`: whether it may go under a laser is not known"),
            )
            .fix("ask its maker; never cut anything that holds PVC or vinyl"),
        ),
        kind if notes::is_glue_bound(kind) => findings.push(
            Finding::new(
                codes::LASER_ON_GLUE_BOUND_BOARD,
                Severity::Note,
                Some(stock.span),
                format!("{label} is {}: its glue gives off harmful fumes under a laser", kind.name()),
            )
            .fix("ask your workshop, and extract the fumes"),
        ),
        _ => {}
    }
}

/// Work that a laser cannot do: one finding for each part, with a label at each feature that asks for it.
fn vet_operations(workpiece: &Workpiece, unit: Unit, findings: &mut Findings) {
    let part = &workpiece.part;
    let features = || {
        workpiece
            .operations
            .chunk_by(|a, b| a.origin.feature == b.origin.feature)
    };
    let mut count = 0;
    let mut labels = Vec::new();
    for operations in features() {
        let pieces: Vec<_> = operations
            .iter()
            .filter_map(|operation| blind_work::of(operation, unit))
            .collect();
        if let Some(first) = operations.first().filter(|_| !pieces.is_empty()) {
            count += pieces.len();
            labels.push((first.origin.span, notes::grouped(pieces).join("; ")));
        }
    }
    if count > 0 {
        let pieces = if count == 1 { "piece" } else { "pieces" };
        let mut finding = Finding::warning(
            codes::BLIND_WORK_FOR_LASER,
            part.span,
            format!(
                "part `{}`: a laser cuts right through and cannot make {count} {pieces} of blind work",
                part.id
            ),
        )
        .fix("they are drawn on layer NOTES only: make them by hand or with `dxf-cnc`");
        for (span, text) in labels {
            finding = finding.label(span, text);
        }
        findings.push(finding);
    }
    let mut texts = Finding::new(
        codes::TEXT_NOT_ENGRAVED,
        Severity::Note,
        Some(part.span),
        format!(
            "part `{}`: texts of marks with letters beyond A to Z and 0 to 9 are on layer NOTES and not engraved",
            part.id
        ),
    );
    for operations in features() {
        if let Some(mark) = operations.iter().find(|operation| has_mark_text(operation)) {
            texts = texts.label(mark.origin.span, "this text");
        }
    }
    if !texts.labels.is_empty() {
        findings.push(texts);
    }
}

fn has_mark_text(operation: &Operation) -> bool {
    matches!(&operation.work, Work::Mark(mark) if mark.text.as_ref().is_some_and(|(_, text)| !lettering::knows(text)))
}
