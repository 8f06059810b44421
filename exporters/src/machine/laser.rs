//! DXF for a laser, which cuts right through or engraves lines, and nothing between.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::geom::{Bounds, Point};
use jigless_model::operation::{ContourSide, Depth, Operation, Work};
use jigless_model::plan::{Plan, Stock};
use jigless_model::sheets::Settings;
use jigless_model::side::Face;
use jigless_model::units::Unit;
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::contract::Machine;
use super::drawing::{LayerDrawing, LayerShape};
use super::file_options::DxfFile;
use super::laser_options::{AROUND_REGISTER, LaserOptions, PartIds};
use super::layers::Layer;
use super::layout_options::SheetLayout;
use super::{
    blind_work, cut_time, dxf_files, hand_work, kerf, laser_vet, lead_in, lettering, marks, notes,
    register, suits, tabs,
};

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
        options.laser.arranging(&options.layout)
    }

    fn vet(&self, input: &ExportInput, options: &DxfLaserOptions) -> Findings {
        let mut findings = Findings::new();
        options.file.vet(&mut findings);
        let unit = options.file.units.of_plan(input.plan.units);
        findings.extend(laser_vet::vet(input, &options.layout, &options.laser, unit));
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
            .filter_map(|operation| blind_work::of(operation, unit))
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
            // The beam takes its width from the gap.
            let (x, y) = width.axes();
            let count = tabs::leave(drawing, self.0.cell, self.0.tab + x.max(y));
            if count > 0 {
                remarks.push(format!(
                    "Tabs of {} hold {count} small parts",
                    unit.show(self.0.tab)
                ));
            }
        }
        if self.0.lead > 0.0 {
            let without = lead_in::lead_in(drawing, self.0.lead);
            let but = match without {
                0 => String::new(),
                1 => ", but of one that has no room".to_owned(),
                count => format!(", but of {count} that have no room"),
            };
            remarks.push(format!(
                "Lines begin {} off in the waste{but}",
                unit.show(self.0.lead)
            ));
        }
        drawing.order = self.0.order;
        remarks.extend(cut_time::statements(drawing, self.0, unit));
        remarks.push("The order of the lines is advice: your program may change it".to_owned());
        Ok(remarks)
    }

    fn registers(&self, own: Bounds, on_sheet: bool) -> (f64, Vec<Point>) {
        let diameter = self.0.register;
        if diameter == 0.0 {
            return (0.0, Vec::new());
        }
        let clear = diameter / 2.0 + AROUND_REGISTER;
        let holes = if on_sheet {
            register::within(own, clear)
        } else {
            register::beside(own, clear)
        };
        (diameter, holes)
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
