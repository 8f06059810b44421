//! DXF for a laser, which cuts right through or engraves lines, and nothing between.

use crate::codes;
use jigless_core::arrange::Settings;
use jigless_core::diag::{Finding, Findings, Severity};
use jigless_core::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_core::geom::{Bounds, Point};
use jigless_core::operation::{ContourSide, Depth, Operation, Work};
use jigless_core::plan::{CutBy, Plan, Stock, StockKind};
use jigless_core::side::Face;
use jigless_core::units::Unit;
use jigless_core::view::FaceView;
use jigless_core::workpiece::Workpiece;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::contract::Machine;
use super::drawing::{LayerDrawing, LayerShape};
use super::file_options::DxfFile;
use super::laser_options::{LaserOptions, PartIds};
use super::layers::Layer;
use super::layout_options::SheetLayout;
use super::{dxf_files, hand_work, kerf, lettering, marks, notes, suits, tabs, vet};

/// DXF for a laser: what goes right through, and marks.
///
/// Holes are openings here. Blind work is drawn on layer NOTES, and `vet` warns of it.
#[derive(Debug, Clone, Copy)]
pub struct DxfLaser;

/// Options of `dxf-laser`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct DxfLaserOptions {
    /// What the file is like.
    #[serde(flatten)]
    pub file: DxfFile,
    /// Where things are.
    #[serde(flatten)]
    pub layout: SheetLayout,
    /// What the laser does.
    #[serde(flatten)]
    pub laser: LaserOptions,
}

/// Between parts on a sheet, in millimetres. Common practice, no source.
const BETWEEN_PARTS: f64 = 2.0;

/// Height of engraved letters, in millimetres, greatest and least. Common practice, no source.
const LETTERS: (f64, f64) = (5.0, 2.0);

/// Beginnings of labels of faces that nobody sees.
const HIDDEN: [&str; 5] = ["hidden", "inside", "underside", "toward the wall", "inner"];

impl Exporter for DxfLaser {
    type Options = DxfLaserOptions;

    fn id(&self) -> &'static str {
        "dxf-laser"
    }

    fn summary(&self) -> &'static str {
        "DXF for a laser: outline, openings and marks; blind work is noted only; suits plans of thin stock, or with `cut_by: laser`"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn suits(&self, plan: &Plan) -> bool {
        suits::laser(plan)
    }

    fn arranging(&self, options: &DxfLaserOptions) -> Option<Settings> {
        arranging(&options.layout, &options.laser)
    }

    fn vet(&self, input: &ExportInput, options: &DxfLaserOptions) -> Findings {
        let mut findings = Findings::new();
        options.file.vet(&mut findings);
        let unit = options.file.units.of_plan(input.plan.units);
        findings.extend(vet_laser(input, &options.layout, &options.laser, unit));
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &DxfLaserOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let laser = Laser(&options.laser, Exporter::id(self));
        dxf_files::export(&laser, input, &options.file, &options.layout, false)
    }
}

/// How parts are arranged for a laser.
pub(super) fn arranging(layout: &SheetLayout, laser: &LaserOptions) -> Option<Settings> {
    let (x, y) = laser.kerf.axes();
    let mut settings = layout.settings(BETWEEN_PARTS + x.max(y), laser.shared_edges)?;
    if laser.shared_edges {
        // One cut between two parts takes one kerf from both.
        settings.spacing = x.max(y);
    }
    Some(settings)
}

/// What a laser cannot make of a plan.
pub(super) fn vet_laser(
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
    vet::sheets(input, arranging(layout, options).as_ref(), &mut findings);
    findings.extend(vet::hand_work(input));
    findings
}

/// A laser that does so much, and the exporter that speaks for it.
pub(super) struct Laser<'a>(pub(super) &'a LaserOptions, pub(super) &'static str);

impl Machine for Laser<'_> {
    fn id(&self) -> &'static str {
        self.1
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

    fn draw(&self, view: &FaceView, unit: Unit, drawing: &mut LayerDrawing) -> Vec<String> {
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
                Work::Mark(mark) => marks::draw(mark, text_height, drawing),
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
        if view.face == Face::Front {
            remarks.extend(self.engrave_id(view, drawing));
        }
        remarks.extend(notes::laser_cautions(view.workpiece.part.stock.kind));
        remarks
    }

    fn finish(
        &self,
        stock: &Stock,
        unit: Unit,
        drawing: &mut LayerDrawing,
    ) -> Result<Vec<String>, String> {
        let width = kerf::of_stock(self.0, stock);
        if let Some(lost) = kerf::apply(drawing, width).first() {
            return Err(format!(
                "a cut about {}, {} is narrower than the kerf",
                unit.show(lost.x),
                unit.show(lost.y)
            ));
        }
        let mut remarks = vec![kerf::statement(width, unit)];
        if stock.readings.len() > 1 || stock.nominal.is_some() {
            let nominal = stock
                .nominal
                .map_or("not known".to_owned(), |n| unit.show(n));
            remarks.push(format!(
                "Thickness: nominal {nominal}, measured {}, thickest {}",
                unit.show(stock.thickness),
                unit.show(stock.thickest())
            ));
        }
        if let Some(fit) = self.0.fit {
            remarks.push(format!(
                "Fit by the coupon of this machine: {} wider than the stock",
                unit.show(fit)
            ));
        }
        if self.0.tab > 0.0 {
            let count = tabs::leave(drawing, self.0.cell, self.0.tab);
            if count > 0 {
                remarks.push(format!(
                    "Tabs of {} hold {count} small parts",
                    unit.show(self.0.tab)
                ));
            }
        }
        remarks.push("The order of the lines is advice: your program may change it".to_owned());
        Ok(remarks)
    }

    fn shares_edges(&self) -> bool {
        self.0.shared_edges
    }
}

impl Laser<'_> {
    /// Engraves the part's name where no line is; says if it is left out.
    fn engrave_id(&self, view: &FaceView, drawing: &mut LayerDrawing) -> Option<String> {
        let part = &view.workpiece.part;
        let hidden = part
            .face_label(Face::Front)
            .is_some_and(|label| HIDDEN.iter().any(|word| label.starts_with(word)));
        match self.0.part_ids {
            PartIds::None => return None,
            PartIds::Hidden if !hidden => {
                return Some("Name of the part: not engraved, this face is seen".to_owned());
            }
            PartIds::Hidden | PartIds::Always => {}
        }
        let widest = 0.8 * view.width / lettering::length(&part.id, 1.0);
        let height = LETTERS.0.min(widest).min(0.3 * view.height);
        let place = [0.5, 0.25, 0.75, 0.15, 0.85]
            .iter()
            .flat_map(|up| [0.5, 0.3, 0.7].map(|along| (along, *up)))
            .map(|(along, up)| {
                let size = Point::new(lettering::length(&part.id, height), height);
                let start = Point::new(view.width * along, view.height * up) - size * 0.5;
                Bounds::new(start, start + size)
            })
            .find(|strip| {
                let room = strip.grown(height / 4.0);
                part.bounds().contains_box(room, 0.0)
                    && view.workpiece.region().contains(strip.centre())
                    && drawing.is_clear(room)
            });
        match place {
            Some(strip) if height >= LETTERS.1 => {
                for stroke in lettering::strokes(&part.id, strip.min, height) {
                    drawing.add(Layer::Mark, LayerShape::Path(stroke));
                }
                None
            }
            _ => Some("Name of the part: not engraved, there is no room".to_owned()),
        }
    }
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
    // The checks have told of it, or the author accepts it with a reason. What poisons is refused all the same.
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
