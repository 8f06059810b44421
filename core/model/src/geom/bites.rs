//! What shapes take from an outline: an opening, or a bite, which is one stretch of it that gives way to another one.

use cavalier_contours::core::math::Vector2;
use cavalier_contours::polyline::{
    BooleanOp, BooleanResultInfo, PlineBooleanOptions, PlineSource, PlineSourceMut, PlineVertex,
    Polyline, seg_split_at_point,
};
use cavalier_contours::static_aabb2d_index::StaticAABB2DIndex;

use super::polyline::{from_polyline, to_polyline};
use super::{LENGTH_TOLERANCE, Path};

/// What a shape takes from an outline.
pub(super) enum Effect {
    /// It lies inside.
    Opening,
    Bite(Bite),
}

/// One stretch of the outline that gives way to another one.
pub(super) struct Bite {
    /// Where the outline is left: the segment, by the number of its first vertex, and how far from that vertex, squared.
    leaves: (usize, f64),
    /// Where it is left.
    from: Vector2<f64>,
    /// The other way, from there to where the outline goes on, without that last point.
    way: Vec<PlineVertex<f64>>,
    /// Where the outline goes on, as `leaves`.
    returns: (usize, f64),
    /// The point, with the bulge from there to the end of its segment.
    back: PlineVertex<f64>,
    /// What is taken away.
    area: f64,
}

/// Positions closer than this are one to the library.
const SAME: f64 = 1e-5;

/// An outline with an index of its segments.
pub(super) struct Outline {
    shape: Polyline<f64>,
    index: StaticAABB2DIndex<f64>,
    area: f64,
}

impl Outline {
    pub(super) fn new(path: &Path) -> Self {
        let shape = to_polyline(path);
        Self {
            index: shape.create_approx_aabb_index(),
            area: shape.area(),
            shape,
        }
    }

    /// How many vertices it has.
    pub(super) fn vertices(&self) -> usize {
        self.shape.vertex_count()
    }

    /// What a shape takes; `None` where it is more than a bite.
    pub(super) fn effect(&self, shape: &Polyline<f64>) -> Option<Effect> {
        let options = PlineBooleanOptions {
            pline1_aabb_index: Some(&self.index),
            ..PlineBooleanOptions::new()
        };
        let rest = self.shape.boolean_opt(shape, BooleanOp::Not, &options);
        match rest.result_info {
            BooleanResultInfo::Pline2InsidePline1 => return Some(Effect::Opening),
            BooleanResultInfo::Intersected if rest.neg_plines.is_empty() => {}
            _ => return None,
        }
        let [piece] = rest.pos_plines.as_slice() else {
            return None;
        };
        let [one, other] = piece.subslices.as_slice() else {
            return None;
        };
        let (kept, taken) = if one.source_is_pline1 {
            (one, other)
        } else {
            (other, one)
        };
        if !kept.source_is_pline1 || taken.source_is_pline1 || kept.overlapping || taken.overlapping
        {
            return None;
        }
        let (kept, mut taken) = (kept.view_data, taken.view_data);
        let area = self.area - piece.pline.area().abs();
        // Both run counter-clockwise, so the shape's own way goes against the outline's.
        taken.inverted_direction = true;
        let mut way: Vec<_> = taken.view(shape).iter_vertexes().collect();
        let last = way.pop()?;
        let first = way.first()?;
        let meets = |one: Vector2<f64>, other: Vector2<f64>| one.fuzzy_eq_eps(other, SAME);
        if area < LENGTH_TOLERANCE
            || !meets(first.pos(), kept.end_point)
            || !meets(last.pos(), kept.updated_start.pos())
        {
            return None;
        }
        let count = self.shape.vertex_count();
        let leaves = (kept.start_index + kept.end_index_offset) % count;
        Some(Effect::Bite(Bite {
            leaves: (leaves, self.along(leaves, kept.end_point)),
            from: kept.end_point,
            way,
            returns: (
                kept.start_index,
                self.along(kept.start_index, kept.updated_start.pos()),
            ),
            back: kept.updated_start,
            area,
        }))
    }

    /// How much of a shape lies within it.
    pub(super) fn area_within(&self, shape: &Polyline<f64>) -> f64 {
        let options = PlineBooleanOptions {
            pline1_aabb_index: Some(&self.index),
            ..PlineBooleanOptions::new()
        };
        let within = self.shape.boolean_opt(shape, BooleanOp::And, &options);
        let areas = within.pos_plines.iter().map(|it| it.pline.area().abs());
        areas.sum()
    }

    /// How far a point on a segment is from its first vertex, squared: no segment is more than half a circle.
    fn along(&self, segment: usize, point: Vector2<f64>) -> f64 {
        (point - self.shape.at(segment).pos()).length_squared()
    }

    /// The outline without bites that do not meet; `None` where the sum of their areas is not what it lost.
    pub(super) fn without(&self, mut bites: Vec<Bite>) -> Option<Path> {
        if bites.is_empty() {
            return Some(from_polyline(&self.shape).normalised(true));
        }
        bites.sort_by(|one, other| {
            let (one, other) = (one.leaves, other.leaves);
            one.0.cmp(&other.0).then(one.1.total_cmp(&other.1))
        });
        let mut walked = Polyline::new_closed();
        for (number, bite) in bites.iter().enumerate() {
            let next = &bites[(number + 1) % bites.len()];
            self.walk(bite, next, &mut walked);
            for vertex in &next.way {
                walked.add_vertex(*vertex);
            }
        }
        let lost: f64 = bites.iter().map(|bite| bite.area).sum();
        // A ten-thousandth of a square millimetre is what rounding may cost.
        if (self.area - lost - walked.area()).abs() > 1e-4 {
            return None;
        }
        Some(from_polyline(&walked).normalised(true))
    }

    /// Adds the outline from where one bite returns to it to where the next one leaves it.
    fn walk(&self, bite: &Bite, next: &Bite, walked: &mut Polyline<f64>) {
        let count = self.shape.vertex_count();
        let (start, end) = (bite.returns.0, next.leaves.0);
        let until = |from: PlineVertex<f64>, segment: usize| {
            let to = self.shape.at((segment + 1) % count);
            seg_split_at_point(from, to, next.from, SAME).updated_start
        };
        if start == end && bite.returns.1 <= next.leaves.1 {
            walked.add_vertex(until(bite.back, start));
            return;
        }
        walked.add_vertex(bite.back);
        let mut segment = (start + 1) % count;
        while segment != end {
            walked.add_vertex(self.shape.at(segment));
            segment = (segment + 1) % count;
        }
        walked.add_vertex(until(self.shape.at(segment), segment));
    }
}
