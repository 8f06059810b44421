//! Where a feature puts its work when it is read.

use jigless_model::diag::Finding;
use jigless_model::fact::Fact;
use jigless_model::feature::{CornerShape, FeatureWork, Shaping, Working};
use jigless_model::frame::Frame;
use jigless_model::geom::{Path, Point};
use jigless_model::hardware::Fitting;
use jigless_model::operation::{AreaKind, Depth, Drill, MillArea, Mouth, Work};
use jigless_model::side::{Corner, Edge, Face};
use jigless_model::source::{Span, Spanned};
use jigless_model::units::Unit;

use crate::codes;

/// Where a feature puts its work when it is read. It knows the size of the part and nothing of the other features: what
/// depends on those is put together in [`lower`](super::lower).
#[derive(Debug)]
pub struct Lowering {
    frame: Frame,
    unit: Unit,
    /// How much more work it may add.
    room: usize,
    work: FeatureWork,
}

impl Lowering {
    /// For a feature of a part of a size; `unit` is the author's, for messages. Work beyond `room` pieces is dropped: a
    /// plan that asks for that much is refused, and must not fill the memory before.
    pub fn new(frame: Frame, unit: Unit, room: usize) -> Self {
        Self {
            frame,
            unit,
            room,
            work: FeatureWork::default(),
        }
    }

    /// What the feature asked for.
    pub fn into_work(self) -> FeatureWork {
        self.work
    }

    /// Size of the part.
    pub fn frame(&self) -> Frame {
        self.frame
    }

    /// A length in the author's unit, for messages.
    pub fn show(&self, mm: f64) -> String {
        self.unit.show(mm)
    }

    /// Reports a fault. An error keeps the part from being exported.
    pub fn find(&mut self, finding: Finding) {
        self.work.findings.push(finding);
    }

    /// Adds work that `span` asks for. Its short name stays empty: it is numbered within the part when that is lowered.
    pub fn push(&mut self, span: Span, work: Work) {
        if self.work.work.len() < self.room {
            self.work.work.push(Spanned::new(work, span));
        }
    }

    /// Adds a line of arithmetic that a builder can follow, to be printed beside the work of this feature.
    pub fn working(&mut self, line: String) {
        self.work.workings.push(Working::Line(line));
    }

    /// Adds a line of arithmetic that gives how far something is from an edge.
    pub fn working_from(&mut self, what: &'static str, edge: Edge, sum: String) {
        let line = Working::FromEdge { what, edge, sum };
        self.work.workings.push(line);
    }

    /// Adds what the feature knows of hardware and of other parts, for the checks.
    pub fn know(&mut self, fact: Fact) {
        self.work.facts.push(fact);
    }

    /// Adds hardware that the feature takes.
    pub fn fit(&mut self, fitting: Fitting) {
        self.work.fittings.push(fitting);
    }

    /// Adds a hole square to a face.
    pub fn drill(
        &mut self,
        face: Face,
        centre: Spanned<Point>,
        diameter: f64,
        depth: Depth,
        mouth: Option<Mouth>,
    ) {
        self.hole_fits(diameter, centre.span);
        self.push(
            centre.span,
            Work::Drill(Drill {
                id: String::new(),
                face,
                centre: centre.value,
                diameter,
                depth,
                mouth,
            }),
        );
    }

    /// Adds a hole that ends in the material.
    pub fn drill_blind(
        &mut self,
        face: Face,
        centre: Spanned<Point>,
        diameter: f64,
        depth: Spanned<f64>,
    ) {
        self.drill(face, centre, diameter, Depth::Blind(depth.value), None);
    }

    /// Adds an area milled to a depth.
    pub fn mill(
        &mut self,
        span: Span,
        kind: AreaKind,
        face: Face,
        outline: Path,
        depth: f64,
        open: Vec<Edge>,
    ) {
        self.push(
            span,
            Work::MillArea(MillArea {
                id: String::new(),
                kind,
                face,
                outline,
                depth,
                open,
            }),
        );
    }

    /// Says that the corner of another part must go into each corner of an area.
    pub fn takes_corners(&mut self, outline: &Path) {
        let corners = outline.vertices.iter().map(|vertex| vertex.point);
        self.work.mating.extend(corners);
    }

    /// Shapes a corner of the part.
    pub fn shape_corner(&mut self, corner: Spanned<Corner>, shape: CornerShape) {
        self.work.shapes.push(Shaping::Corner(corner, shape));
    }

    /// Cuts a closed shape away, right through; `mating` where the corners of another part must go into it.
    pub fn cut_away(&mut self, span: Span, shape: Path, mating: bool) {
        self.work.shapes.push(Shaping::Cut {
            shape,
            mating,
            span,
        });
    }

    /// Puts a closed shape in place of the rectangle.
    pub fn replace_outline(&mut self, span: Span, outline: Path) {
        let outline = Spanned::new(outline, span);
        self.work.shapes.push(Shaping::Outline(outline));
    }

    /// Reports a hole that is larger than the part; of many holes of one feature, once.
    fn hole_fits(&mut self, diameter: f64, span: Span) {
        let code = codes::HOLE_LARGER_THAN_PART;
        let (width, height) = (self.frame.width, self.frame.height);
        let reported = self.work.findings.iter().any(|other| other.code == code);
        if diameter <= width.min(height) || reported {
            return;
        }
        let [hole, width, height] = [diameter, width, height].map(|length| self.show(length));
        let message =
            format!("a hole of {hole} is larger than the part, which is {width} by {height}");
        self.find(
            Finding::error(code, span, message).fix("check its diameter and the part's size"),
        );
    }

    /// Whether a depth leaves something of the part; reports if it does not.
    pub fn depth_fits(&mut self, depth: Spanned<f64>, what: &str) -> bool {
        if depth.value < self.frame.thickness {
            return true;
        }
        let (deep, thickness) = (self.show(depth.value), self.show(self.frame.thickness));
        let message = format!("a {what} {deep} deep does not fit into a part {thickness} thick");
        let fix = match what {
            "hole" => format!("keep it below {thickness}, or write `through`"),
            _ => format!("keep it below {thickness}"),
        };
        self.find(Finding::error(codes::DEPTH_BEYOND_THICKNESS, depth.span, message).fix(fix));
        false
    }
}
