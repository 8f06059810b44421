//! A resolved part to operations on exact geometry.
//!
//! Features add operations and shape the contour. The contour is put together last, from the rectangle or outline, its
//! corners, and everything that is cut away, so that the order of features does not matter to it.

mod contour;

pub use contour::CornerShape;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::diag::{Finding, Findings};
use crate::geom::{Path, Point};
use crate::hardware::Fitting;
use crate::operation::{
    AreaKind, ContourSide, CutContour, Depth, Drill, MillArea, Mouth, Operation, Origin, Work,
};
use crate::plan::{Part, PlacedFeature, Plan};
use crate::resolve::Frame;
use crate::side::{Corner, Edge, Face};
use crate::source::{Span, Spanned};
use crate::units::Unit;
use crate::workpiece::{Working, Workpiece};
use contour::Contour;

/// The most operations that one plan may have.
pub const MAX_OPERATIONS: usize = 1_000_000;

/// Lowers every part of a plan, in its order. A part of which something cannot be made is left out, and the findings
/// say why.
pub fn lower(plan: &Plan) -> (Vec<Workpiece>, Findings) {
    let mut workpieces: Vec<Workpiece> = Vec::with_capacity(plan.parts.len());
    let mut findings = Findings::new();
    let mut operations = 0;
    for part in &plan.parts {
        let image_of = part
            .pair
            .as_ref()
            .filter(|pair| pair.mirrored)
            .map(|pair| pair.other.as_str());
        let lowered = match image_of {
            Some(other) => lower_image(plan, part, other, &workpieces, &mut findings),
            None => lower_part(part, &part.id, plan.units, &mut findings),
        };
        let Some(workpiece) = lowered else {
            continue;
        };
        operations += workpiece.operations.len();
        if operations > MAX_OPERATIONS {
            findings.push(
                Finding::error(
                    "too-many-operations",
                    part.span,
                    format!("the plan has more than {MAX_OPERATIONS} operations here"),
                )
                .fix("split it into several plans"),
            );
            break;
        }
        workpieces.push(workpiece);
    }
    (workpieces, findings)
}

/// The second of a handed pair: the work of the first mirrored, but for what only one of them has.
fn lower_image(
    plan: &Plan,
    image: &Arc<Part>,
    other: &str,
    workpieces: &[Workpiece],
    findings: &mut Findings,
) -> Option<Workpiece> {
    if image.features.iter().all(|placed| placed.only.is_none()) {
        return workpieces
            .iter()
            .find(|workpiece| workpiece.part.id == other)
            .map(|workpiece| workpiece.mirrored_as(Arc::clone(image)));
    }
    let part = plan.part(other)?;
    lower_part(part, &image.id, plan.units, findings)
        .map(|workpiece| workpiece.mirrored_as(Arc::clone(image)))
}

/// Lowers what the part called `of` has of the features: a handed pair is described by one of the two.
fn lower_part(
    part: &Arc<Part>,
    of: &str,
    unit: Unit,
    findings: &mut Findings,
) -> Option<Workpiece> {
    let mut lowering = Lowering {
        frame: part.frame(),
        unit,
        findings,
        failed: false,
        current: None,
        operations: Vec::new(),
        workings: Vec::new(),
        fittings: Vec::new(),
        last_number: BTreeMap::new(),
        contour: Contour::default(),
        mating: Vec::new(),
    };
    let own = |placed: &PlacedFeature| placed.only.as_deref().is_none_or(|only| only == of);
    for (index, placed) in part.features.iter().enumerate() {
        if !own(placed) {
            continue;
        }
        lowering.current = Some((index, placed.clone()));
        placed.feature.lower(&mut lowering);
        // Whoever builds from the template reads why something odd is meant to be so.
        for accepted in &placed.accepted {
            lowering.working(format!(
                "meant to be so ({}): {}",
                accepted.code, accepted.reason
            ));
        }
        if lowering.operations.len() > MAX_OPERATIONS {
            break;
        }
    }
    lowering.finish(part)
}

/// Where features put their work.
#[derive(Debug)]
pub struct Lowering<'a> {
    frame: Frame,
    unit: Unit,
    findings: &'a mut Findings,
    failed: bool,
    current: Option<(usize, PlacedFeature)>,
    operations: Vec<Operation>,
    workings: Vec<Working>,
    fittings: Vec<Fitting>,
    last_number: BTreeMap<char, u32>,
    contour: Contour,
    mating: Vec<Point>,
}

impl Lowering<'_> {
    /// Size of the part.
    pub fn frame(&self) -> Frame {
        self.frame
    }

    /// The author's unit, for messages.
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// Tells of a fault. An error keeps the part from being exported.
    pub fn find(&mut self, finding: Finding) {
        self.failed |= finding.severity == crate::diag::Severity::Error;
        self.findings.push(finding);
    }

    /// The next short name of a kind of work within the part: `H1`, `H2`.
    pub fn next_id(&mut self, letter: char) -> String {
        let number = self.last_number.entry(letter).or_insert(0);
        *number += 1;
        format!("{letter}{number}")
    }

    /// Adds an operation that `span` asks for.
    pub fn push(&mut self, span: Span, work: Work) {
        let origin = match &self.current {
            Some((index, placed)) => Origin {
                key: placed.key,
                feature: Some(*index),
                label: placed.label.clone(),
                span,
            },
            None => Origin {
                key: "outline",
                feature: None,
                label: None,
                span,
            },
        };
        self.operations.push(Operation { origin, work });
    }

    /// Adds a line of arithmetic that a builder can follow, to be printed beside the work of this feature.
    pub fn working(&mut self, line: String) {
        let Some((index, _)) = self.current else {
            return;
        };
        match self.workings.last_mut() {
            Some(last) if last.feature == index => last.lines.push(line),
            _ => self.workings.push(Working {
                feature: index,
                lines: vec![line],
            }),
        }
    }

    /// Adds hardware that the feature takes.
    pub fn fit(&mut self, fitting: Fitting) {
        self.fittings.push(fitting);
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
        let id = self.next_id('H');
        self.push(
            centre.span,
            Work::Drill(Drill {
                id,
                face,
                centre: centre.value,
                diameter,
                depth,
                mouth,
            }),
        );
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
        let letter = match kind {
            AreaKind::Groove => 'G',
            AreaKind::Rebate => 'R',
            AreaKind::Recess => 'C',
        };
        let id = self.next_id(letter);
        self.push(
            span,
            Work::MillArea(MillArea {
                id,
                kind,
                face,
                outline,
                depth,
                open,
            }),
        );
    }

    /// Where an edge was bevelled before, if it was.
    pub fn bevel_of(&self, edge: Edge) -> Option<Span> {
        let same = |operation: &&Operation| matches!(&operation.work, Work::Bevel(bevel) if bevel.edge == edge);
        let first = self.operations.iter().find(same);
        first.map(|operation| operation.origin.span)
    }

    /// Shapes a corner of the part.
    pub fn shape_corner(&mut self, corner: Spanned<Corner>, shape: CornerShape) {
        if let Some(first) = self.contour.shape_corner(corner, shape) {
            self.find(
                Finding::error(
                    "corner-shaped-twice",
                    corner.span,
                    format!("the {} corner is shaped twice", corner.value.name()),
                )
                .label(first, "first shaped here")
                .fix("keep one of them"),
            );
        }
    }

    /// Cuts a closed shape away, right through.
    pub fn cut_away(&mut self, span: Span, shape: Path) {
        let feature = self.current.as_ref().map(|(index, _)| *index);
        self.contour.cut_away(span, shape, feature);
    }

    /// Cuts a closed shape away into which the corners of another part must go.
    pub fn cut_away_mating(&mut self, span: Span, shape: Path) {
        self.mating.extend(shape.vertices.iter().map(|v| v.point));
        self.cut_away(span, shape);
    }

    /// Puts a closed shape in place of the rectangle.
    pub fn replace_outline(&mut self, span: Span, outline: Path) {
        if let Some(first) = self.contour.replace_outline(span, outline) {
            self.find(
                Finding::error("two-outlines", span, "the part has two outlines")
                    .label(first, "the first one")
                    .fix("keep one of them"),
            );
        }
    }

    /// Whether a depth leaves something of the part; tells if it does not.
    pub fn depth_fits(&mut self, depth: Spanned<f64>, what: &str) -> bool {
        if depth.value < self.frame.thickness {
            return true;
        }
        let unit = self.unit;
        let thickness = unit.show(self.frame.thickness);
        self.find(
            Finding::error(
                "depth-beyond-thickness",
                depth.span,
                format!(
                    "a {what} {} deep does not fit into a part {thickness} thick",
                    unit.show(depth.value)
                ),
            )
            .fix(match what {
                "hole" => format!("keep it below {thickness}, or write `through`"),
                _ => format!("keep it below {thickness}"),
            }),
        );
        false
    }

    fn finish(mut self, part: &Arc<Part>) -> Option<Workpiece> {
        self.current = None;
        let contour = std::mem::take(&mut self.contour);
        let region = match contour.finish(&self.frame, self.unit) {
            Ok(region) => region,
            Err(finding) => {
                self.find(finding);
                return None;
            }
        };
        for path in region.inner {
            // An opening that one feature alone makes is that feature's, with its name; others are the contour's.
            let maker = contour.maker_of(&path);
            self.current = maker.and_then(|(index, _)| {
                let placed = part.features.get(index)?;
                Some((index, placed.clone()))
            });
            let span = maker.map_or(part.span, |(_, span)| span);
            let side = ContourSide::Inner;
            self.push(span, Work::CutContour(CutContour { side, path }));
        }
        self.current = None;
        let (side, path) = (ContourSide::Outer, region.outer);
        self.push(part.span, Work::CutContour(CutContour { side, path }));
        (!self.failed).then(|| {
            Workpiece::new(Arc::clone(part), self.operations)
                .with_workings(self.workings)
                .with_fittings(self.fittings)
                .with_mating(self.mating)
        })
    }
}
