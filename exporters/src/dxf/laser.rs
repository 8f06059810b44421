//! DXF for a laser, which cuts right through or engraves lines, and nothing between.

use jigless_core::diag::{Finding, Findings, Severity};
use jigless_core::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_core::operation::{ContourSide, Depth, Operation, Work};
use jigless_core::plan::StockKind;
use jigless_core::side::Face;
use jigless_core::units::Unit;
use jigless_core::view::FaceView;
use jigless_core::workpiece::Workpiece;

use super::cnc::draw_mark;
use super::drawing::Drawing;
use super::layers::Layer;
use super::options::DxfOptions;
use super::{Machine, hand_work, notes};

/// DXF for a laser: what goes right through, and marks.
///
/// Holes are openings here. Blind work is drawn on layer NOTES, and `vet` warns of it.
#[derive(Debug, Clone, Copy)]
pub struct DxfLaser;

impl Exporter for DxfLaser {
    type Options = DxfOptions;

    fn id(&self) -> &'static str {
        "dxf-laser"
    }

    fn summary(&self) -> &'static str {
        "DXF for a laser: outline, openings and marks; blind work is noted only"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn vet(&self, input: &ExportInput, options: &DxfOptions) -> Findings {
        let unit = options.units.of_plan(input.plan.units);
        let mut findings = Findings::new();
        for workpiece in input.workpieces {
            vet_stock(workpiece, &mut findings);
            vet_operations(workpiece, unit, &mut findings);
        }
        findings.extend(super::vet_hand_work(input));
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &DxfOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        super::export(self, input, *options)
    }
}

impl Machine for DxfLaser {
    fn id(&self) -> &'static str {
        Exporter::id(self)
    }

    /// The back needs a file for what cannot be done from the front: everything but plain holes right through.
    fn needs_file(&self, workpiece: &Workpiece, face: Face) -> bool {
        let needs_back = |operation: &Operation| match &operation.work {
            Work::CutContour(_) => false,
            Work::Drill(hole) => hole.depth != Depth::Through || hole.mouth.is_some(),
            _ => true,
        };
        face == Face::Front
            || workpiece
                .operations
                .iter()
                .any(|operation| operation.face() == Some(face) && needs_back(operation))
    }

    fn draw(&self, view: &FaceView, unit: Unit, drawing: &mut Drawing) -> Vec<String> {
        let through = |side: ContourSide| match (view.face, side) {
            (Face::Back, _) => Layer::Reference,
            (Face::Front, ContourSide::Outer) => Layer::CutOutside,
            (Face::Front, ContourSide::Inner) => Layer::CutInside,
        };
        for cut in &view.contours {
            drawing.path(through(cut.side), &cut.path);
        }
        let text_height = notes::text_height(view);
        // Every hole right through is cut from the front, whichever face the plan drills it from.
        for operation in view.operations.iter().chain(&view.from_other_face) {
            match &operation.work {
                Work::Drill(hole) => {
                    let layer = match hole.depth {
                        Depth::Through => through(ContourSide::Inner),
                        Depth::Blind(_) => Layer::Notes,
                    };
                    drawing.circle(layer, hole.centre, hole.diameter);
                    if operation.face() == Some(view.face)
                        && let Some(mouth) = hole.mouth
                    {
                        drawing.circle(Layer::Notes, hole.centre, mouth.diameter());
                    }
                }
                Work::MillArea(area) => drawing.path(Layer::Notes, &area.outline),
                Work::Mark(mark) => draw_mark(mark, Layer::Notes, text_height, drawing),
                // Contours are not among a view's operations; the rest is hand work, below.
                Work::AngledBore(_) | Work::CutContour(_) | Work::EdgeDrill(_) | Work::Bevel(_) => {
                }
            }
        }
        let blind = view
            .operations
            .iter()
            .filter_map(|operation| blind_work(operation, unit))
            .map(|(id, what)| (id, format!("{what}, not made by the laser")));
        let mut remarks = notes::grouped(blind.collect());
        let by_hand = hand_work::draw(view, unit, text_height, drawing);
        remarks.extend(notes::grouped(by_hand));
        remarks.extend(notes::laser_cautions(view.workpiece.part.stock.kind));
        remarks
    }
}

/// What in an operation leaves a floor: its name on paper, and what it is; `None` where nothing does.
fn blind_work(operation: &Operation, unit: Unit) -> Option<(String, String)> {
    match &operation.work {
        Work::Drill(hole) => {
            let what = match (hole.depth, hole.mouth) {
                (Depth::Blind(depth), _) => format!(
                    "hole of {}, {} deep",
                    unit.show(hole.diameter),
                    unit.show(depth)
                ),
                (Depth::Through, Some(mouth)) => {
                    format!("wider mouth of {}", unit.show(mouth.diameter()))
                }
                (Depth::Through, None) => return None,
            };
            Some((hole.id.clone(), what))
        }
        Work::MillArea(area) => {
            let what = format!("{} {} deep", area.kind.name(), unit.show(area.depth));
            Some((area.id.clone(), what))
        }
        Work::AngledBore(_)
        | Work::CutContour(_)
        | Work::Mark(_)
        | Work::EdgeDrill(_)
        | Work::Bevel(_) => None,
    }
}

/// Materials that a laser must not touch, or of which nobody knows.
fn vet_stock(workpiece: &Workpiece, findings: &mut Findings) {
    let stock = &workpiece.part.stock;
    let label = &stock.label;
    match stock.kind {
        StockKind::Pvc => findings.push(
            Finding::error(
                "laser-refuses-pvc",
                stock.span,
                format!("{label} is PVC: under a laser it gives off chlorine, which harms people and machine"),
            )
            .fix("take another material, or leave these parts out of the laser's files"),
        ),
        StockKind::Other => findings.push(
            Finding::warning(
                "laser-does-not-know-stock",
                stock.span,
                format!("{label} is of kind `other`: whether it may go under a laser is not known"),
            )
            .fix("ask its maker; never cut anything that holds PVC or vinyl"),
        ),
        kind if notes::is_glue_bound(kind) => findings.push(
            Finding::new(
                "laser-on-glue-bound-board",
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
            .filter_map(|operation| blind_work(operation, unit))
            .collect();
        if let Some(first) = operations.first().filter(|_| !pieces.is_empty()) {
            count += pieces.len();
            labels.push((first.origin.span, notes::grouped(pieces).join("; ")));
        }
    }
    if count > 0 {
        let pieces = if count == 1 { "piece" } else { "pieces" };
        let mut finding = Finding::warning(
            "laser-cannot-cut-blind",
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
        "laser-does-not-engrave-text",
        Severity::Note,
        Some(part.span),
        format!(
            "part `{}`: texts of marks are on layer NOTES and are not engraved",
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
    matches!(&operation.work, Work::Mark(mark) if mark.text.is_some())
}
