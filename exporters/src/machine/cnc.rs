//! DXF for a router or any machine with a driven depth.

use jigless_core::arrange::Settings;
use jigless_core::diag::{Finding, Findings, Severity};
use jigless_core::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_core::geom::{Bounds, Point};
use jigless_core::operation::{ContourSide, Depth, Drill, Mark, MillArea, Mouth, Work};
use jigless_core::plan::Stock;
use jigless_core::side::Face;
use jigless_core::units::Unit;
use jigless_core::view::FaceView;
use jigless_core::workpiece::Workpiece;

use super::drawing::{Drawing, Shape, Text};
use super::layers::Layer;
use super::options::{DxfCncOptions, Relief, RouterOptions};
use super::parallel::{fillets, turns};
use super::relief::relieve;
use super::{Machine, hand_work, lettering, notes, pencil, tools};
use crate::codes;

/// DXF for a router: each operation and depth on a layer of its own.
#[derive(Debug, Clone, Copy)]
pub struct DxfCnc;

/// Between parts on a sheet besides the tool, in millimetres. Common practice, no source.
const BETWEEN_PARTS: f64 = 2.0;

/// Between the part and a hole for a register pin, besides the largest tool, in millimetres. Common practice, no source.
const BESIDE_PART: f64 = 5.0;

impl Exporter for DxfCnc {
    type Options = DxfCncOptions;

    fn id(&self) -> &'static str {
        "dxf-cnc"
    }

    fn summary(&self) -> &'static str {
        "DXF for a router: contours, holes and blind work, a layer for each operation and depth"
    }

    fn stage(&self) -> Stage {
        Stage::Part
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
        super::vet_sheets(input, self.arranging(options).as_ref(), &mut findings);
        findings.extend(super::vet_hand_work(input));
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &DxfCncOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let router = Router(&options.router);
        super::export_dxf(
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

    fn draw(&self, view: &FaceView, unit: Unit, drawing: &mut Drawing) -> Vec<String> {
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
                Work::Mark(mark) => draw_mark(mark, text_height, drawing),
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

    fn finish(&self, _: &Stock, _: Unit, _: &mut Drawing) -> Result<Vec<String>, String> {
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
        drawing: &mut Drawing,
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
        drawing: &mut Drawing,
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
    fn draw_register(&self, view: &FaceView, unit: Unit, drawing: &mut Drawing) -> Vec<String> {
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
fn draw_hole(hole: &Drill, drawing: &mut Drawing) {
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

/// The lines and the text of a mark. A text with letters that the alphabet has not goes to the notes.
pub(super) fn draw_mark(mark: &Mark, text_height: f64, drawing: &mut Drawing) {
    for line in &mark.lines {
        for piece in pencil::not_yet_drawn(line, drawing) {
            drawing.path(Layer::Mark, &piece);
        }
    }
    let Some((middle, text)) = &mark.text else {
        return;
    };
    let base = Point::new(middle.x, (middle.y - text_height / 2.0).max(0.0));
    if lettering::knows(text) {
        let base = beside_lines(text, base, text_height, drawing);
        let start = base - Point::new(lettering::length(text, text_height) / 2.0, 0.0);
        for stroke in lettering::strokes(text, start, text_height) {
            drawing.path(Layer::Mark, &stroke);
        }
        return;
    }
    let text = Text {
        at: base,
        centred: true,
        height: text_height,
        upward: false,
        content: text.clone(),
    };
    drawing.add(Layer::Notes, Shape::Text(text));
}

/// The place nearest to where a text is asked for at which it lies on no line; that place itself, if there is none.
fn beside_lines(text: &str, base: Point, height: f64, drawing: &Drawing) -> Point {
    let length = lettering::length(text, height);
    let steps = [
        (0.0, 0.0),
        (0.0, 1.25 * height),
        (0.0, -1.25 * height),
        (0.5 * length + height, 0.0),
        (-0.5 * length - height, 0.0),
        (0.5 * length + height, height),
        (-0.5 * length - height, -height),
    ];
    steps
        .into_iter()
        .map(|(x, y)| base + Point::new(x, y))
        .find(|at| {
            let corner = *at - Point::new(length / 2.0, 0.0);
            let room = Bounds::new(corner, corner + Point::new(length, height));
            room.min.x >= 0.0 && room.min.y >= 0.0 && drawing.is_clear(room.grown(0.1 * height))
        })
        .unwrap_or(base)
}
