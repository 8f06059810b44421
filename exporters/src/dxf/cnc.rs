//! DXF for a router or any machine with a driven depth.

use jigless_core::diag::Findings;
use jigless_core::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_core::geom::Point;
use jigless_core::operation::{ContourSide, Depth, Drill, Mark, Mouth, Work};
use jigless_core::side::Face;
use jigless_core::units::Unit;
use jigless_core::view::FaceView;
use jigless_core::workpiece::Workpiece;

use super::drawing::{Drawing, Shape, Text};
use super::layers::Layer;
use super::options::DxfOptions;
use super::{Machine, hand_work, notes};

/// DXF for a router: each operation and depth on a layer of its own.
#[derive(Debug, Clone, Copy)]
pub struct DxfCnc;

impl Exporter for DxfCnc {
    type Options = DxfOptions;

    fn id(&self) -> &'static str {
        "dxf-cnc"
    }

    fn summary(&self) -> &'static str {
        "DXF for a router: contours, holes and blind work, a layer for each operation and depth"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn vet(&self, input: &ExportInput, _options: &DxfOptions) -> Findings {
        super::vet_hand_work(input)
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &DxfOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        super::export(self, input, *options)
    }
}

impl Machine for DxfCnc {
    fn id(&self) -> &'static str {
        Exporter::id(self)
    }

    fn needs_file(&self, workpiece: &Workpiece, face: Face) -> bool {
        face == Face::Front || workpiece.has_work_on(face)
    }

    fn draw(&self, view: &FaceView, unit: Unit, drawing: &mut Drawing) -> Vec<String> {
        for cut in &view.contours {
            let layer = match (view.face, cut.side) {
                (Face::Back, _) => Layer::Reference,
                (Face::Front, ContourSide::Outer) => Layer::CutOutside,
                (Face::Front, ContourSide::Inner) => Layer::CutInside,
            };
            drawing.path(layer, &cut.path);
        }
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
                    drawing.path(Layer::Area(area.kind, area.depth), &area.outline);
                }
                Work::Mark(mark) => draw_mark(mark, Layer::Mark, text_height, drawing),
                // Contours are not among a view's operations; the rest is hand work, below.
                Work::AngledBore(_) | Work::CutContour(_) | Work::EdgeDrill(_) | Work::Bevel(_) => {
                }
            }
        }
        let mut remarks = notes::grouped(hand_work::draw(view, unit, text_height, drawing));
        remarks.extend(notes::router_cautions());
        remarks
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

/// The lines of a mark on layer MARK, its text on a layer that the machine can make of it what it can.
pub(super) fn draw_mark(mark: &Mark, text_layer: Layer, text_height: f64, drawing: &mut Drawing) {
    for line in &mark.lines {
        drawing.path(Layer::Mark, line);
    }
    if let Some((middle, text)) = &mark.text {
        let base = Point::new(middle.x, (middle.y - text_height / 2.0).max(0.0));
        let text = Text {
            at: base,
            centred: true,
            height: text_height,
            upward: false,
            content: text.clone(),
        };
        drawing.add(text_layer, Shape::Text(text));
    }
}
