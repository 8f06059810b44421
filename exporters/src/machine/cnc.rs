//! DXF for a router or any machine with a driven depth.

use jigless_model::diag::{Finding, Findings, Severity};
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::geom::Point;
use jigless_model::operation::{ContourSide, Depth, Drill, MillArea, Mouth, Work};
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
use super::parallel::{fillets, turns};
use super::relief::relieve;
use super::router_options::{Relief, RouterOptions};
use super::{dxf_files, hand_work, marks, notes, suits, tools, vet};
use crate::codes;

/// DXF for a router: each operation and depth on a layer of its own.
#[derive(Debug, Clone, Copy)]
pub struct DxfCnc;

/// Between parts on a sheet besides the tool, in millimetres. Common practice, no source.
const BETWEEN_PARTS: f64 = 2.0;

/// Between the part and a hole for a register pin, besides the largest tool, in millimetres. Common practice, no source.
const BESIDE_PART: f64 = 5.0;

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
        let spacing = options.router.largest() + BETWEEN_PARTS;
        options.layout.settings(spacing, false)
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
        for workpiece in input.workpieces {
            tools::vet(&options.router, workpiece, unit, &mut findings);
            vet_nominal(&options.router, workpiece, &mut findings);
        }
        vet::sheets(input, self.arranging(options).as_ref(), &mut findings);
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

/// Says that a part wants what only a known tool gives.
fn vet_nominal(options: &RouterOptions, workpiece: &Workpiece, findings: &mut Findings) {
    let part = &workpiece.part;
    let open = workpiece
        .operations
        .iter()
        .any(|operation| matches!(&operation.work, Work::MillArea(area) if !area.open.is_empty()));
    let wants = open || !workpiece.mating.is_empty();
    if !(options.tools.is_empty() && wants) {
        return;
    }
    let message = format!(
        "part `{}`: no tool is known, so grooves and rebates end at the edge and inside corners are not relieved",
        part.id
    );
    findings.push(
        Finding::new(
            codes::ROUTER_HAS_NO_TOOLS,
            Severity::Note,
            Some(part.span),
            message,
        )
        .fix("list the tools in a profile: `machine: {tools: [{diameter: 6, pass: 4}]}`"),
    );
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
                Work::MillArea(area) => passes.extend(self.draw_area(area, view, unit, drawing)),
                Work::Mark(mark) => marks::draw(mark, text_height, drawing),
                // Contours are not among a view's operations; the rest is hand work, below.
                Work::AngledBore(_) | Work::CutContour(_) | Work::EdgeDrill(_) | Work::Bevel(_) => {
                }
            }
        }
        let mut remarks = notes::grouped(passes);
        remarks.extend(self.draw_register(view, unit, drawing));
        remarks.extend(notes::grouped(hand_work::draw(
            view,
            unit,
            text_height,
            drawing,
        )));
        remarks.extend(notes::router_cautions());
        remarks
    }

    fn finish(&self, _: &Stock, _: Unit, _: &mut LayerDrawing) -> Result<Vec<String>, String> {
        Ok(vec![
            "Lines are those of the work: your program allows for the tool's radius".to_owned(),
            "The order of the lines is advice: your program may change it".to_owned(),
        ])
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
                - done.corners;
            drawing.path(layer, &done.path);
        }
        let Some(tool) = tool.filter(|_| view.face == Face::Front) else {
            return remarks;
        };
        let thickness = view.workpiece.part.thickness();
        remarks.push(("contours".to_owned(), tools::passes(tool, thickness, unit)));
        let word = match self.0.relief {
            Relief::None => "not relieved",
            Relief::DogBone => "relieved as dog-bones",
            Relief::TBone => "relieved as T-bones",
        };
        if relieved > 0 {
            remarks.push((
                format!("{relieved} mating inside corners"),
                format!("{word} for the {} tool", unit.show(tool.diameter)),
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

    /// An area, run out over the edge where it is open; gives its passes.
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
        drawing.path(layer, &border);
        let mut what = tools::passes(tool, area.depth, unit);
        if fillets(&area.outline, -tool.diameter / 2.0) > 0.0 && area.open.len() < 2 {
            what += ", closed corners keep its radius";
        }
        Some((area.id.clone(), what))
    }

    /// Two holes beside a part that is worked from both faces. They lie the same on both, since a part is turned over
    /// about the upright line through its middle.
    fn draw_register(
        &self,
        view: &FaceView,
        unit: Unit,
        drawing: &mut LayerDrawing,
    ) -> Vec<String> {
        if self.0.register == 0.0 || !view.workpiece.has_work_on(Face::Back) {
            return Vec::new();
        }
        let beside = self.0.largest() + self.0.register / 2.0 + BESIDE_PART;
        for x in [-beside, view.width + beside] {
            let centre = Point::new(x, view.height / 2.0);
            drawing.circle(Layer::Register, centre, self.0.register);
        }
        vec![format!(
            "Register: {} pins {} to the left and right of the part, halfway up, the same for both faces",
            unit.show(self.0.register),
            unit.show(beside)
        )]
    }
}

/// The hole at its true diameter, and its mouth on a layer of its own.
fn draw_hole(hole: &Drill, drawing: &mut LayerDrawing) {
    if let Some(mouth) = hole.mouth {
        drawing.circle(layer_of_mouth(mouth), hole.centre, mouth.diameter());
    }
    let layer = match hole.depth {
        Depth::Through => Layer::DrillThrough,
        Depth::Blind(depth) => Layer::DrillBlind(depth),
    };
    drawing.circle(layer, hole.centre, hole.diameter);
}

fn layer_of_mouth(mouth: Mouth) -> Layer {
    match mouth {
        Mouth::Countersink { angle, .. } => Layer::Countersink(angle),
        Mouth::Counterbore { depth, .. } => Layer::Counterbore(depth),
    }
}
