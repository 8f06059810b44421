//! DXF for a router or any machine with a driven depth.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::geom::{Bounds, Point};
use jigless_model::operation::{ContourSide, Drill, MillArea, Mouth, Work};
use jigless_model::plan::{Plan, Stock};
use jigless_model::sheets::Settings;
use jigless_model::side::Face;
use jigless_model::units::Unit;
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::contract::Machine;
use super::drawing::LayerDrawing;
use super::file_options::DxfFile;
use super::layers::Layer;
use super::layout_options::SheetLayout;
use super::ngc::{LayerOperation, OnFace, operations_by_layer};
use super::parallel::{fillets, turns};
use super::relief::{relieve, relieve_area};
use super::router_options::{Relief, RouterOptions};
use super::{
    beyond, dxf_files, hand_work, marks, notes, register, router_vet, square_corners, suits, tabs,
    through, tools, vet,
};

/// DXF for a router: each operation and depth on a layer of its own.
#[derive(Debug, Clone, Copy)]
pub struct DxfCnc;

/// Options of `dxf-cnc`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct DxfCncOptions {
    /// What the file is like.
    #[serde(flatten)]
    pub file: DxfFile,
    /// Where things are.
    #[serde(flatten)]
    pub layout: SheetLayout,
    /// What the router can do.
    #[serde(flatten)]
    pub router: RouterOptions,
}

impl Exporter for DxfCnc {
    type Options = DxfCncOptions;

    fn id(&self) -> &'static str {
        "dxf-cnc"
    }

    fn summary(&self) -> &'static str {
        "DXF for a router: contours, holes and blind work, a layer for each operation and depth; suits plans with sheet goods that are not for saw or laser"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn suits(&self, plan: &Plan) -> bool {
        suits::router(plan)
    }

    fn renamed_options(&self) -> &'static [(&'static str, &'static str)] {
        &[("run_out", "overrun")]
    }

    fn arranging(&self, options: &DxfCncOptions) -> Option<Settings> {
        let sweep = beyond::at_most(&options.router, 0.0);
        let (spacing, margin) = beyond::distances(&options.router, sweep);
        options.layout.settings(spacing, margin, false)
    }

    fn vet(&self, input: &ExportInput, options: &DxfCncOptions) -> Findings {
        let mut findings = Findings::new();
        options.file.vet(&mut findings);
        options.layout.vet(&mut findings);
        options.router.vet(&mut findings);
        if findings.has_errors() {
            return findings;
        }
        let unit = options.file.units.of_plan(input.plan.units);
        router_vet::vet(
            input,
            &options.router,
            &options.layout,
            0.0,
            unit,
            &mut findings,
        );
        dxf_files::vet_layers(
            &Router(&options.router),
            input,
            &options.file,
            &mut findings,
        );
        vet::sheets(input, self.arranging(options).as_ref(), &mut findings);
        vet::bed(input, &options.layout, &mut findings);
        findings.extend(vet::hand_work(input));
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &DxfCncOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let router = Router(&options.router);
        dxf_files::export(
            &router,
            input,
            &options.file,
            &options.layout,
            options.router.z,
        )
    }
}

/// A router that can do so much.
pub(super) struct Router<'a>(pub(super) &'a RouterOptions);

impl Machine for Router<'_> {
    fn id(&self) -> &'static str {
        Exporter::id(&DxfCnc)
    }

    fn needs_file(&self, workpiece: &Workpiece, face: Face) -> bool {
        face == Face::Front || workpiece.has_work_on(face)
    }

    fn draw(&self, view: &FaceView, unit: Unit, drawing: &mut LayerDrawing) -> Vec<String> {
        let mut passes = self.draw_contours(view, unit, drawing);
        for operation in &view.from_other_face {
            if let Work::Drill(hole) = &operation.work {
                drawing.circle(Layer::Reference, hole.centre, hole.diameter);
            }
        }
        let text_height = notes::text_height(view);
        for operation in &view.operations {
            match &operation.work {
                Work::Drill(hole) => draw_hole(hole, drawing),
                Work::MillArea(area) => {
                    passes.extend(self.draw_area(area, view, unit, drawing));
                }
                Work::Mark(mark) => marks::draw(mark, text_height, drawing),
                // Contours are not among a view's operations; the rest is hand work, below.
                Work::AngledBore(_) | Work::CutContour(_) | Work::EdgeDrill(_) | Work::Bevel(_) => {
                }
            }
        }
        let mut remarks = notes::grouped(passes);
        let square = square_corners::of(view, self.0);
        remarks.extend(square_corners::draw(&square, text_height, drawing));
        remarks.extend(notes::grouped(hand_work::draw(
            view,
            unit,
            text_height,
            drawing,
        )));
        remarks
    }

    fn finish(
        &self,
        stock: &Stock,
        unit: Unit,
        drawing: &mut LayerDrawing,
    ) -> Result<Vec<String>, String> {
        let mut remarks = vec![
            through::statement(self.0, stock, unit),
            "Lines are those of the work: your program allows for the tool's radius".to_owned(),
            "The order of the lines is advice: your program may change it".to_owned(),
        ];
        if self.0.tab > 0.0 {
            // The tool eats its radius at each end of the gap.
            let gap = self.0.tab + self.0.largest();
            let count = tabs::leave(drawing, f64::INFINITY, gap);
            remarks.push(format!(
                "Tabs of {} hold {count} parts: outlines have gaps of {}, of which the largest tool takes its diameter",
                unit.show(self.0.tab),
                unit.show(gap)
            ));
        }
        remarks.extend(notes::router_cautions());
        Ok(remarks)
    }

    fn operations(&self, on: &OnFace) -> Vec<LayerOperation> {
        operations_by_layer(self.0, on)
    }

    fn through(&self, stock: &Stock) -> f64 {
        through::depth(self.0, stock)
    }

    fn about_part(&self, workpiece: &Workpiece, unit: Unit) -> Vec<String> {
        let sweep = beyond::of(self.0, workpiece, 0.0);
        if sweep == 0.0 {
            return Vec::new();
        }
        let part = &workpiece.part;
        vec![format!(
            "Blank: at least {} by {}, since tools sweep {} beyond the part; clamps and fence stay farther off",
            unit.show(part.width + 2.0 * sweep),
            unit.show(part.height + 2.0 * sweep),
            unit.show(sweep)
        )]
    }

    fn registers(&self, own: Bounds, on_sheet: bool) -> (f64, Vec<Point>) {
        register::of_router(self.0, own, on_sheet)
    }
}

impl Router<'_> {
    /// The contours, their corners relieved; gives the passes.
    fn draw_contours(
        &self,
        view: &FaceView,
        unit: Unit,
        drawing: &mut LayerDrawing,
    ) -> Vec<(String, String)> {
        let tool = tools::for_contours(self.0, view.workpiece);
        let mut remarks = Vec::new();
        let (mut relieved, mut left) = (0, 0);
        for cut in &view.contours {
            let layer = match (view.face, cut.side) {
                (Face::Back, _) => Layer::Reference,
                (Face::Front, ContourSide::Outer) => Layer::CutOutside,
                (Face::Front, ContourSide::Inner) => Layer::CutInside,
            };
            let Some(tool) = tool.filter(|_| view.face == Face::Front) else {
                drawing.path(layer, &cut.path);
                continue;
            };
            let done = relieve(
                &cut.path,
                &view.workpiece.mating,
                self.0.relief,
                tool.diameter / 2.0,
            );
            relieved += done.corners;
            left += turns(&cut.path)
                .iter()
                .filter(|turn| **turn < -1e-3)
                .count()
                - done.corners
                - done.left.len();
            drawing.path(layer, &done.path);
        }
        let Some(tool) = tool.filter(|_| view.face == Face::Front) else {
            return remarks;
        };
        let depth = through::depth(self.0, &view.workpiece.part.stock);
        remarks.push(("contours".to_owned(), tools::passes(tool, depth, unit)));
        if relieved > 0 {
            remarks.push((
                format!("{relieved} mating inside corners"),
                format!(
                    "{} for the {} tool",
                    self.relieved(),
                    unit.show(tool.diameter)
                ),
            ));
        }
        if left > 0 {
            remarks.push((
                format!("{left} inside corners"),
                format!("keep a radius of {}", unit.show(tool.diameter / 2.0)),
            ));
        }
        remarks
    }

    /// How corners are relieved.
    fn relieved(&self) -> &'static str {
        match self.0.relief {
            Relief::None => "not relieved",
            Relief::DogBone => "relieved as dog-bones",
            Relief::TBone => "relieved as T-bones",
        }
    }

    /// An area, run out over the edge where it is open and its blind corners relieved where they take a part; gives its
    /// passes.
    fn draw_area(
        &self,
        area: &MillArea,
        view: &FaceView,
        unit: Unit,
        drawing: &mut LayerDrawing,
    ) -> Option<(String, String)> {
        let layer = Layer::Area(area.kind, area.depth);
        let Some((tool, border)) = tools::for_area(self.0, area, (view.width, view.height)) else {
            drawing.path(layer, &area.outline);
            return None;
        };
        if border != area.outline {
            // Where the work itself ends.
            drawing.path(Layer::Notes, &area.outline);
        }
        let radius = tool.diameter / 2.0;
        let done = relieve_area(
            &border,
            &square_corners::mating_of(view),
            self.0.relief,
            radius,
        );
        drawing.path(layer, &done.path);
        let mut what = tools::passes(tool, area.depth, unit);
        if done.corners > 0 {
            let corners = done.corners;
            what = format!("{what}, {corners} blind corners {}", self.relieved());
        } else if done.left.is_empty()
            && fillets(&area.outline, -radius) > 0.0
            && area.open.len() < 2
        {
            what += ", closed corners keep its radius";
        }
        Some((area.id.clone(), what))
    }
}

/// The hole at its true diameter, and its mouth on a layer of its own.
fn draw_hole(hole: &Drill, drawing: &mut LayerDrawing) {
    if let Some(mouth) = hole.mouth {
        drawing.circle(layer_of_mouth(mouth), hole.centre, mouth.diameter());
    }
    drawing.circle(Layer::of_hole(hole), hole.centre, hole.diameter);
}

fn layer_of_mouth(mouth: Mouth) -> Layer {
    match mouth {
        Mouth::Countersink { angle, diameter } => Layer::Countersink { angle, diameter },
        Mouth::Counterbore { diameter, depth } => Layer::Counterbore { diameter, depth },
    }
}
