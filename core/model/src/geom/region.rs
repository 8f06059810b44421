//! A flat piece of material: one outer contour and the openings in it.

use cavalier_contours::polyline::{BooleanOp, BooleanResultInfo, PlineSource, Polyline};

use super::polyline::{from_polyline, to_polyline};
use super::{LENGTH_TOLERANCE, Path, Point};

/// A flat piece of material.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// The outline, counter-clockwise.
    pub outer: Path,
    /// The openings, clockwise; no two of them meet.
    pub inner: Vec<Path>,
}

/// Why a shape could not be cut out of a region.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RegionFault {
    /// The shape does not meet the material at all.
    Outside,
    /// Nothing of the material would be left.
    NothingLeft,
    /// The material would fall into this many pieces.
    Pieces(usize),
    /// So many shapes lie on one another that cutting them takes too long.
    TooMuch,
}

impl Region {
    /// A piece without openings.
    pub fn new(outer: &Path) -> Self {
        Self {
            outer: outer.normalised(true),
            inner: Vec::new(),
        }
    }

    /// The piece with a closed shape cut out of it.
    ///
    /// A shape inside the material becomes an opening; one that meets an opening widens it; one that reaches over the
    /// outline becomes part of the outline.
    ///
    /// # Errors
    /// When the shape misses the material, leaves nothing of it or takes it apart.
    pub fn cut(self, shape: &Path) -> Result<Region, RegionFault> {
        let mut tool = to_polyline(&shape.normalised(true));
        let mut inner = Vec::with_capacity(self.inner.len() + 1);
        let reach = shape.bounds();
        for opening in self.inner {
            // A pegboard has thousands of openings, and nearly all of them are out of reach.
            let near = match (reach, opening.bounds()) {
                (Some(reach), Some(bounds)) => reach.grown(NEAR).overlaps(bounds, 0.0),
                _ => false,
            };
            match merged(&tool, &opening, near)? {
                Some(union) => tool = union,
                None => inner.push(opening),
            }
        }

        let outer = to_polyline(&self.outer);
        let rest = outer.boolean(&tool, BooleanOp::Not);
        match rest.result_info {
            BooleanResultInfo::Disjoint | BooleanResultInfo::InvalidInput => {
                Err(RegionFault::Outside)
            }
            BooleanResultInfo::Pline1InsidePline2 | BooleanResultInfo::Overlapping => {
                Err(RegionFault::NothingLeft)
            }
            BooleanResultInfo::Pline2InsidePline1 => {
                inner.push(from_polyline(&tool).normalised(false));
                Ok(Region {
                    outer: self.outer,
                    inner,
                })
            }
            BooleanResultInfo::Intersected => {
                let pieces: Vec<Path> = rest
                    .pos_plines
                    .iter()
                    .map(|p| from_polyline(&p.pline))
                    .filter(|p| p.area().abs() > LENGTH_TOLERANCE)
                    .collect();
                match pieces.as_slice() {
                    [] => Err(RegionFault::NothingLeft),
                    [outer] => {
                        let outer = outer.normalised(true);
                        if (self.outer.area() - outer.area()).abs() < LENGTH_TOLERANCE {
                            return Err(RegionFault::Outside);
                        }
                        inner.extend(
                            rest.neg_plines
                                .iter()
                                .map(|p| from_polyline(&p.pline).normalised(false)),
                        );
                        Ok(Region { outer, inner })
                    }
                    many => Err(RegionFault::Pieces(many.len())),
                }
            }
        }
    }

    /// What of a closed shape lies in the material, as closed paths. A shape that lies in it altogether comes back as it is,
    /// and so does one around an opening that it does not cross.
    pub fn covered(&self, shape: &Path) -> Vec<Path> {
        let whole = shape.normalised(true);
        let mut pieces = vec![to_polyline(&whole)];
        let mut part = |tool: &Polyline, operation: BooleanOp| {
            pieces = pieces
                .iter()
                .flat_map(|piece| piece.boolean(tool, operation).pos_plines)
                .map(|result| result.pline)
                .collect();
        };
        part(&to_polyline(&self.outer), BooleanOp::And);
        for opening in &self.inner {
            part(&to_polyline(&opening.normalised(true)), BooleanOp::Not);
        }
        let paths: Vec<Path> = pieces.iter().map(from_polyline).collect();
        let left: f64 = paths.iter().map(|path| path.area().abs()).sum();
        // A ten-thousandth of a square millimetre is what rounding may cost where edges run on edges.
        if (left - whole.area()).abs() < 1e-4 {
            return vec![whole];
        }
        paths
    }

    /// Area of the material.
    pub fn area(&self) -> f64 {
        self.outer.area() + self.inner.iter().map(Path::area).sum::<f64>()
    }

    /// Whether a point lies in the material.
    pub fn contains(&self, point: Point) -> bool {
        self.outer.contains(point) && !self.inner.iter().any(|path| path.contains(point))
    }

    /// The shortest distance from a point to any contour.
    pub fn distance_to_contour(&self, point: Point) -> f64 {
        self.inner
            .iter()
            .map(|path| path.distance_to(point))
            .fold(self.outer.distance_to(point), f64::min)
    }
}

/// Boxes further apart than this, in millimetres, hold shapes that cannot meet; far above any rounding.
const NEAR: f64 = 1.0;

/// A shape that is cut away and an opening that it meets, as one; `None` where they do not meet.
fn merged(
    tool: &Polyline<f64>,
    opening: &Path,
    near: bool,
) -> Result<Option<Polyline<f64>>, RegionFault> {
    if !near {
        return Ok(None);
    }
    let union = tool.boolean(&to_polyline(&opening.normalised(true)), BooleanOp::Or);
    if matches!(
        union.result_info,
        BooleanResultInfo::Disjoint | BooleanResultInfo::InvalidInput
    ) {
        return Ok(None);
    }
    if !union.neg_plines.is_empty() {
        // Two openings that ring a piece of material set it free.
        return Err(RegionFault::Pieces(1 + union.neg_plines.len()));
    }
    let mut outlines = union.pos_plines.into_iter().map(|outline| outline.pline);
    match (outlines.next(), outlines.next()) {
        (Some(one), None) => Ok(Some(one)),
        // They touch in a point: two openings still.
        _ => Ok(None),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Bounds, circle, rectangle, rounded_rectangle};
    use proptest::prelude::*;
    use std::f64::consts::PI;

    fn board() -> Region {
        Region::new(&rectangle(Bounds::of_size(400.0, 300.0)))
    }

    fn boxed(x: f64, y: f64, w: f64, h: f64) -> Path {
        rectangle(Bounds::new(Point::new(x, y), Point::new(x + w, y + h)))
    }

    #[test]
    fn an_opening_inside_stays_an_opening() {
        let region = board()
            .cut(&circle(Point::new(200.0, 150.0), 50.0))
            .unwrap();
        assert_eq!(region.inner.len(), 1);
        assert!((region.area() - (120_000.0 - PI * 2500.0)).abs() < 1e-6);
        assert!(region.inner[0].as_circle().is_some());
    }

    #[test]
    fn a_shape_over_the_edge_becomes_outline_with_its_arcs() {
        let notch = rounded_rectangle(
            Bounds::new(Point::new(100.0, -20.0), Point::new(180.0, 60.0)),
            15.0,
        );
        let region = board().cut(&notch).unwrap();
        assert!(region.inner.is_empty());
        let arcs = region
            .outer
            .vertices
            .iter()
            .filter(|v| v.bulge != 0.0)
            .count();
        assert_eq!(arcs, 2);
        let removed = 80.0 * 60.0 - 2.0 * 225.0 * (1.0 - PI / 4.0);
        assert!((region.area() - (120_000.0 - removed)).abs() < 1e-6);
    }

    #[test]
    fn a_shape_flush_with_the_edge_is_part_of_the_outline() {
        for shape in [
            boxed(0.0, 100.0, 50.0, 60.0),
            boxed(350.0, 100.0, 50.0, 60.0),
            boxed(0.0, 0.0, 50.0, 60.0),
            boxed(100.0, 240.0, 50.0, 60.0),
        ] {
            let region = board().cut(&shape).unwrap();
            assert!(region.inner.is_empty());
            assert!(
                (region.area() - 117_000.0).abs() < 1e-6,
                "{}",
                region.area()
            );
        }
    }

    #[test]
    fn openings_that_meet_become_one() {
        let region = board()
            .cut(&boxed(50.0, 50.0, 100.0, 50.0))
            .and_then(|r| r.cut(&boxed(100.0, 80.0, 100.0, 100.0)))
            .unwrap();
        assert_eq!(region.inner.len(), 1);
        assert!((region.area() - (120_000.0 - 5000.0 - 10_000.0 + 1000.0)).abs() < 1e-6);
    }

    /// By arithmetic: of a strip of 400 by 20 across a notch of 80 by 60, 320 are left of the length.
    #[test]
    fn a_strip_across_a_notch_is_covered_in_two_pieces() {
        let region = board().cut(&boxed(100.0, 0.0, 80.0, 60.0)).unwrap();
        let pieces = region.covered(&boxed(0.0, 10.0, 400.0, 20.0));
        assert_eq!(pieces.len(), 2);
        let area: f64 = pieces.iter().map(Path::area).sum();
        assert!((area - 320.0 * 20.0).abs() < 1e-6, "{area}");
        let whole = boxed(0.0, 0.0, 400.0, 20.0);
        assert_eq!(board().covered(&whole), [whole]);
        assert_eq!(region.covered(&boxed(110.0, 10.0, 20.0, 20.0)), []);
    }

    #[test]
    fn an_opening_widened_over_the_edge_opens_the_outline() {
        let region = board()
            .cut(&boxed(50.0, 50.0, 100.0, 50.0))
            .and_then(|r| r.cut(&boxed(-10.0, 60.0, 80.0, 20.0)))
            .unwrap();
        assert!(region.inner.is_empty());
        assert!((region.area() - (120_000.0 - 5000.0 - 1000.0)).abs() < 1e-6);
    }

    #[test]
    fn what_cannot_be_cut_says_why() {
        assert_eq!(
            board().cut(&boxed(500.0, 0.0, 10.0, 10.0)),
            Err(RegionFault::Outside)
        );
        assert_eq!(
            board().cut(&boxed(400.0, 0.0, 10.0, 10.0)),
            Err(RegionFault::Outside)
        );
        assert_eq!(
            board().cut(&boxed(-1.0, -1.0, 402.0, 302.0)),
            Err(RegionFault::NothingLeft)
        );
        assert_eq!(
            board().cut(&boxed(100.0, -1.0, 10.0, 302.0)),
            Err(RegionFault::Pieces(2))
        );
        let ring = board()
            .cut(&boxed(50.0, 50.0, 20.0, 100.0))
            .and_then(|r| r.cut(&boxed(150.0, 50.0, 20.0, 100.0)))
            .and_then(|r| r.cut(&boxed(50.0, 40.0, 120.0, 20.0)))
            .and_then(|r| r.cut(&boxed(50.0, 140.0, 120.0, 20.0)));
        assert!(matches!(ring, Err(RegionFault::Pieces(2))), "{ring:?}");
    }

    proptest! {
        /// Whatever rectangle is cut, the area left is the area that elementary arithmetic says.
        #[test]
        fn area_left_is_area_minus_overlap(
            x in -100.0..450.0f64, y in -100.0..350.0f64, w in 1.0..300.0f64, h in 1.0..250.0f64,
        ) {
            let overlap_w = (x + w).min(400.0) - x.max(0.0);
            let overlap_h = (y + h).min(300.0) - y.max(0.0);
            match board().cut(&boxed(x, y, w, h)) {
                Ok(region) => {
                    let left = 120_000.0 - overlap_w.max(0.0) * overlap_h.max(0.0);
                    prop_assert!((region.area() - left).abs() < 1e-3);
                    prop_assert!(region.outer.area() > 0.0);
                }
                Err(RegionFault::Outside) => prop_assert!(overlap_w < 1e-4 || overlap_h < 1e-4),
                Err(RegionFault::Pieces(pieces)) => {
                    prop_assert_eq!(pieces, 2);
                    prop_assert!(overlap_w >= 400.0 || overlap_h >= 300.0);
                }
                Err(RegionFault::NothingLeft) => {
                    prop_assert!(overlap_w >= 400.0 && overlap_h >= 300.0);
                }
                Err(RegionFault::TooMuch) => prop_assert!(false, "one shape is never too much"),
            }
        }
    }
}
