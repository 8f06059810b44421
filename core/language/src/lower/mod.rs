//! A resolved part to operations on exact geometry.
//!
//! Features have said what they ask for when they were read. Here the work of those that a part has is numbered, and its
//! contour is put together last, from the rectangle or outline, its corners, and everything that is cut away, so that the
//! order of features does not matter to it.

mod contour;
mod lowering;

pub use lowering::Lowering;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use jigless_model::code::Code;
use jigless_model::diag::{Finding, Findings, Severity, Subject};
use jigless_model::feature::{FeatureWork, Shaping, Working};
use jigless_model::geom::{Effort, Point};
use jigless_model::hardware::Fitting;
use jigless_model::operation::{ContourSide, CutContour, Operation, Origin, Work};
use jigless_model::plan::{Part, PlacedFeature, Plan};
use jigless_model::side::Edge;
use jigless_model::source::Span;
use jigless_model::units::Unit;
use jigless_model::workpiece::{Workings, Workpiece};

use crate::codes;
use contour::Contour;

/// How many vertices may be looked at for what is cut out of all parts of a plan: some seconds of work.
const MOST_CUTTING: usize = 1_500_000;

/// Lowers every part of a plan, in its order. A part of which something cannot be made is left out, and the findings
/// say why.
pub fn lower(plan: &Plan) -> (Vec<Workpiece>, Findings) {
    let mut workpieces: Vec<Workpiece> = Vec::with_capacity(plan.parts.len());
    let mut faults = Faults::default();
    let mut effort = Effort::new(MOST_CUTTING);
    for part in &plan.parts {
        let image_of = part
            .pair
            .as_ref()
            .filter(|pair| pair.mirrored)
            .map(|pair| pair.other.as_str());
        let lowered = match image_of {
            Some(other) => lower_image(plan, part, other, &workpieces, &mut faults, &mut effort),
            None => lower_part(part, &part.id, plan.units, &mut faults, &mut effort),
        };
        // One finding tells that the plan is too much; one for each part would hide the others.
        if effort.is_spent() {
            break;
        }
        let Some(workpiece) = lowered else {
            continue;
        };
        workpieces.push(workpiece);
    }
    (workpieces, faults.findings)
}

/// What cannot be made.
#[derive(Debug, Default)]
struct Faults {
    findings: Findings,
    /// What has been reported: a builder asks for the same in several parts.
    reported: BTreeSet<(Code, Option<Span>, String)>,
}

/// The second of a handed pair: the work of the first mirrored, but for what only one of them has.
fn lower_image(
    plan: &Plan,
    image: &Arc<Part>,
    other: &str,
    workpieces: &[Workpiece],
    faults: &mut Faults,
    effort: &mut Effort,
) -> Option<Workpiece> {
    if image.features.iter().all(|placed| placed.only.is_none()) {
        return workpieces
            .iter()
            .find(|workpiece| workpiece.part.id == other)
            .map(|workpiece| workpiece.mirrored_as(Arc::clone(image)));
    }
    let part = plan.part(other)?;
    lower_part(part, &image.id, plan.units, faults, effort)
        .map(|workpiece| workpiece.mirrored_as(Arc::clone(image)))
}

/// Lowers what the part called `of` has of the features: a handed pair is described by one of the two.
fn lower_part(
    part: &Arc<Part>,
    of: &str,
    unit: Unit,
    faults: &mut Faults,
    effort: &mut Effort,
) -> Option<Workpiece> {
    let mut assembling = Assembling {
        part,
        unit,
        faults,
        effort,
        failed: false,
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
        assembling.add(index, placed);
    }
    assembling.finish()
}

/// The work of one part, until all of its features are in.
#[derive(Debug)]
struct Assembling<'a> {
    part: &'a Arc<Part>,
    unit: Unit,
    faults: &'a mut Faults,
    effort: &'a mut Effort,
    failed: bool,
    operations: Vec<Operation>,
    workings: Vec<Workings>,
    fittings: Vec<Fitting>,
    last_number: BTreeMap<char, u32>,
    contour: Contour,
    mating: Vec<Point>,
}

impl Assembling<'_> {
    /// Reports a fault, the part's name first. An error keeps the part from being exported. What a builder asks for in
    /// several parts is told of the first.
    fn find(&mut self, mut finding: Finding) {
        self.failed |= finding.severity == Severity::Error;
        let own = (finding.code, finding.span, finding.message.clone());
        if !self.faults.reported.insert(own) {
            return;
        }
        let part = &self.part.id;
        finding.message = format!("`{part}`: {}", finding.message);
        finding.details.subject = Some(Subject {
            part: part.clone(),
            feature: None,
            work: Vec::new(),
        });
        self.faults.findings.push(finding);
    }

    /// Adds a feature of the part, by its number.
    fn add(&mut self, index: usize, placed: &PlacedFeature) {
        let asked: &FeatureWork = &placed.work;
        for finding in &asked.findings {
            self.find(finding.clone());
        }
        for work in &asked.work {
            if !self.is_new(&work.value, work.span) {
                break;
            }
            self.push(Some((index, placed)), work.span, work.value.clone());
        }
        self.mating.extend(&asked.mating);
        for shaping in &asked.shapes {
            self.shape(index, shaping);
        }
        let mut lines = asked.workings.clone();
        // Whoever builds from the template reads why something odd is meant to be so.
        for accepted in &placed.accepted {
            let (code, reason) = (accepted.code, &accepted.reason);
            lines.push(Working::Line(format!("meant to be so ({code}): {reason}")));
        }
        if !lines.is_empty() {
            self.workings.push(Workings {
                feature: index,
                lines,
            });
        }
        self.fittings.extend(asked.fittings.iter().cloned());
    }

    /// Whether work may stand beside that of the features before; reports if it may not.
    fn is_new(&mut self, work: &Work, span: Span) -> bool {
        let Work::Bevel(bevel) = work else {
            return true;
        };
        let Some(first) = self.bevel_of(bevel.edge) else {
            return true;
        };
        self.find(
            Finding::error(
                codes::EDGE_BEVELLED_TWICE,
                span,
                format!("the {} edge is bevelled twice", bevel.edge.name()),
            )
            .label(first, "first bevelled here")
            .fix("keep one of them"),
        );
        false
    }

    /// Where an edge was bevelled before, if it was.
    fn bevel_of(&self, edge: Edge) -> Option<Span> {
        let same = |operation: &&Operation| matches!(&operation.work, Work::Bevel(bevel) if bevel.edge == edge);
        let first = self.operations.iter().find(same);
        first.map(|operation| operation.origin.span)
    }

    /// Adds work that `span` asks for: that of a feature, or the contour.
    fn push(&mut self, asked_by: Option<(usize, &PlacedFeature)>, span: Span, work: Work) {
        let origin = Origin {
            key: asked_by.map_or("outline", |(_, placed)| placed.key),
            feature: asked_by.map(|(index, _)| index),
            label: asked_by.and_then(|(_, placed)| placed.label.clone()),
            span,
        };
        let work = work.numbered(|letter| {
            let number = self.last_number.entry(letter).or_insert(0);
            *number += 1;
            *number
        });
        self.operations.push(Operation { origin, work });
    }

    fn shape(&mut self, index: usize, shaping: &Shaping) {
        match shaping {
            Shaping::Corner(corner, shape) => {
                if let Some(first) = self.contour.shape_corner(*corner, *shape) {
                    self.find(
                        Finding::error(
                            codes::CORNER_SHAPED_TWICE,
                            corner.span,
                            format!("the {} corner is shaped twice", corner.value.name()),
                        )
                        .label(first, "first shaped here")
                        .fix("keep one of them"),
                    );
                }
            }
            Shaping::Cut {
                shape,
                mating,
                span,
            } => {
                if *mating {
                    self.mating.extend(shape.vertices.iter().map(|v| v.point));
                }
                self.contour.cut_away(*span, shape.clone(), index);
            }
            Shaping::Outline(outline) => {
                let first = self
                    .contour
                    .replace_outline(outline.span, outline.value.clone());
                if let Some(first) = first {
                    self.find(
                        Finding::error(
                            codes::TWO_OUTLINES,
                            outline.span,
                            "the part has two outlines",
                        )
                        .label(first, "the first one")
                        .fix("keep one of them"),
                    );
                }
            }
        }
    }

    fn finish(mut self) -> Option<Workpiece> {
        let part = Arc::clone(self.part);
        let contour = std::mem::take(&mut self.contour);
        let region = match contour.finish(&part.frame(), self.unit, self.effort) {
            Ok(region) => region,
            Err(finding) => {
                self.find(finding);
                return None;
            }
        };
        // An opening that one feature alone makes is that feature's, with its name; others are the contour's.
        let makers = contour.makers_of(&region.inner);
        for (path, maker) in region.inner.into_iter().zip(makers) {
            let asked_by = maker.and_then(|(index, _)| Some((index, part.features.get(index)?)));
            let span = maker.map_or(part.span, |(_, span)| span);
            let side = ContourSide::Inner;
            self.push(asked_by, span, Work::CutContour(CutContour { side, path }));
        }
        let (side, path) = (ContourSide::Outer, region.outer);
        self.push(None, part.span, Work::CutContour(CutContour { side, path }));
        (!self.failed).then(|| {
            Workpiece::new(part, self.operations)
                .with_workings(self.workings)
                .with_fittings(self.fittings)
                .with_mating(self.mating)
        })
    }
}
