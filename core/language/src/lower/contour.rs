//! Putting the true contour of a part together.

use jigless_model::diag::{Finding, Severity};
use jigless_model::feature::CornerShape;
use jigless_model::frame::Frame;
use jigless_model::geom::{
    Arc, Bounds, Effort, LENGTH_TOLERANCE, Path, Region, RegionFault, Vertex, rectangle,
};
use jigless_model::side::Corner;
use jigless_model::source::{Span, Spanned};
use jigless_model::units::Unit;

use crate::codes;
use crate::resolve::MIN_SIZE;

/// What shapes the contour, until all of it is known.
#[derive(Debug, Default)]
pub(super) struct Contour {
    outline: Option<(Span, Path)>,
    corners: Vec<(Spanned<Corner>, CornerShape)>,
    cuts: Vec<Cut>,
}

/// A shape that is cut away, and the number of the feature that asks for it.
#[derive(Debug)]
struct Cut {
    span: Span,
    shape: Path,
    feature: usize,
}

impl Contour {
    /// Gives the place where the corner was shaped before, if it was.
    pub(super) fn shape_corner(
        &mut self,
        corner: Spanned<Corner>,
        shape: CornerShape,
    ) -> Option<Span> {
        let first = self
            .corners
            .iter()
            .find(|(other, _)| other.value == corner.value);
        let first = first.map(|(other, _)| other.span);
        self.corners.push((corner, shape));
        first
    }

    pub(super) fn cut_away(&mut self, span: Span, shape: Path, feature: usize) {
        self.cuts.push(Cut {
            span,
            shape,
            feature,
        });
    }

    /// For each opening, the feature that alone makes it: its number and its place.
    pub(super) fn makers_of(&self, openings: &[Path]) -> Vec<Option<(usize, Span)>> {
        let mut by_left: Vec<(Bounds, &Cut)> = self
            .cuts
            .iter()
            .filter_map(|cut| Some((cut.shape.bounds()?, cut)))
            .collect();
        // A stable sort, so that the first of those in one place stays the first.
        by_left.sort_by(|(one, _), (other, _)| one.min.x.total_cmp(&other.min.x));
        let maker = |opening: &Path| {
            let opening = opening.bounds()?;
            let near = by_left
                .partition_point(|(shape, _)| shape.min.x < opening.min.x - LENGTH_TOLERANCE);
            let (_, cut) = by_left[near..]
                .iter()
                .take_while(|(shape, _)| shape.min.x <= opening.min.x + LENGTH_TOLERANCE)
                .filter(|(shape, _)| {
                    shape.contains_box(opening, LENGTH_TOLERANCE)
                        && opening.contains_box(*shape, LENGTH_TOLERANCE)
                })
                .min_by_key(|(_, cut)| cut.feature)?;
            Some((cut.feature, cut.span))
        };
        openings.iter().map(maker).collect()
    }

    /// Gives the place of an outline that was there before, if one was.
    pub(super) fn replace_outline(&mut self, span: Span, outline: Path) -> Option<Span> {
        let first = self.outline.as_ref().map(|(span, _)| *span);
        self.outline = Some((span, outline));
        first
    }

    /// The material that is left.
    pub(super) fn finish(
        &self,
        frame: &Frame,
        unit: Unit,
        effort: &mut Effort,
    ) -> Result<Region, Finding> {
        let outline = match (&self.outline, self.corners.first()) {
            (Some((span, _)), Some((corner, _))) => {
                return Err(Finding::error(
                    codes::CORNER_OF_OUTLINE,
                    corner.span,
                    "a part with an outline of its own has no corners to shape",
                )
                .label(*span, "the outline")
                .fix("give the points of the outline a radius"));
            }
            (Some((span, path)), None) => {
                check_outline(frame, unit, *span, path)?;
                path.clone()
            }
            (None, _) => shaped_rectangle(frame, unit, &self.corners)?,
        };
        let shapes: Vec<&Path> = self.cuts.iter().map(|cut| &cut.shape).collect();
        let cut = Region::new(&outline).cut_all(&shapes, effort);
        let region = cut.map_err(|(number, fault)| bad_cut(self.cuts[number].span, fault))?;
        let left = region
            .outer
            .bounds()
            .map(|left| left.width().min(left.height()));
        match self.cuts.last() {
            Some(last) if left.is_none_or(|left| left < MIN_SIZE) => {
                Err(bad_cut(last.span, RegionFault::NothingLeft))
            }
            _ => Ok(region),
        }
    }
}

fn bad_cut(span: Span, fault: RegionFault) -> Finding {
    let (code, message, fix) = match fault {
        RegionFault::Outside => (
            codes::BAD_CUT,
            "this cuts nothing: it lies beside the part".to_owned(),
            "check its place and size, or take it away",
        ),
        RegionFault::NothingLeft => (
            codes::BAD_CUT,
            "this leaves nothing of the part".to_owned(),
            "make it smaller",
        ),
        RegionFault::Pieces(count) => (
            codes::BAD_CUT,
            format!("this cuts the part into {count} pieces"),
            "make it smaller, or describe the pieces as parts of their own",
        ),
        RegionFault::TooMuch => (
            codes::TOO_MANY_OPERATIONS,
            "so many cuts lie on one another up to here that they are not worked out".to_owned(),
            "describe what they make together as one outline",
        ),
    };
    Finding::error(code, span, message).fix(fix)
}

/// The part's size is what lists and sheets go by, so an outline must fill it, and no more.
fn check_outline(frame: &Frame, unit: Unit, span: Span, path: &Path) -> Result<(), Finding> {
    let part = Bounds::of_size(frame.width, frame.height);
    let Some(bounds) = path.bounds() else {
        return Ok(());
    };
    let fills =
        part.contains_box(bounds, LENGTH_TOLERANCE) && bounds.contains_box(part, LENGTH_TOLERANCE);
    if fills {
        return Ok(());
    }
    Err(Finding::error(
        codes::OUTLINE_NOT_SIZE,
        span,
        format!(
            "the outline reaches from {}, {} to {}, {}; the part from 0, 0 to {}, {}",
            unit.show(bounds.min.x),
            unit.show(bounds.min.y),
            unit.show(bounds.max.x),
            unit.show(bounds.max.y),
            unit.show(frame.width),
            unit.show(frame.height)
        ),
    )
    .fix(
        "make the outline touch all four edges of the part, or change the part's width and height",
    ))
}

/// The rectangle with its corners shaped, counter-clockwise from the lower left corner.
fn shaped_rectangle(
    frame: &Frame,
    unit: Unit,
    corners: &[(Spanned<Corner>, CornerShape)],
) -> Result<Path, Finding> {
    let shape_of = |corner: Corner| {
        corners
            .iter()
            .find(|(of, _)| of.value == corner)
            .map(|(_, shape)| *shape)
    };
    // Corner::ALL runs counter-clockwise like the rectangle, so sides lie between neighbours.
    for (index, corner) in Corner::ALL.into_iter().enumerate() {
        let next = Corner::ALL[(index + 1) % 4];
        let side = if index % 2 == 0 {
            frame.width
        } else {
            frame.height
        };
        let reach = |corner| shape_of(corner).map_or(0.0, |shape| shape.reach().value);
        let needed = reach(corner) + reach(next);
        if needed <= side + LENGTH_TOLERANCE {
            continue;
        }
        let blamed = shape_of(corner).or_else(|| shape_of(next));
        let span = blamed.map(|shape| shape.reach().span);
        return Err(Finding::new(
            codes::RADIUS_TOO_LARGE,
            Severity::Error,
            span,
            format!(
                "the {} and {} corners need {} of a side that is {} long",
                corner.name(),
                next.name(),
                unit.show(needed),
                unit.show(side)
            ),
        )
        .fix("make them smaller"));
    }
    let square = rectangle(Bounds::of_size(frame.width, frame.height));
    let mut vertices = Vec::with_capacity(8);
    for (index, corner) in Corner::ALL.into_iter().enumerate() {
        let here = square.vertices[index].point;
        let Some(shape) = shape_of(corner) else {
            vertices.push(square.vertices[index]);
            continue;
        };
        let before = square.vertices[(index + 3) % 4].point;
        let after = square.vertices[(index + 1) % 4].point;
        let reach = shape.reach().value;
        vertices.push(Vertex {
            point: here + (before - here).unit() * reach,
            bulge: match shape {
                CornerShape::Radius(_) => Arc::bulge_of_sweep(std::f64::consts::FRAC_PI_2),
                CornerShape::Chamfer(_) => 0.0,
            },
        });
        vertices.push(Vertex {
            point: here + (after - here).unit() * reach,
            bulge: 0.0,
        });
    }
    // Two shapes that use up a whole side meet in one point.
    let count = vertices.len();
    let kept: Vec<Vertex> = (0..count)
        .filter(|&i| {
            let next = vertices[(i + 1) % count].point;
            vertices[i].point.distance(next) > LENGTH_TOLERANCE
        })
        .map(|i| vertices[i])
        .collect();
    Ok(Path {
        vertices: kept,
        closed: true,
    })
}
