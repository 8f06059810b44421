//! Outlines that are written as a list of points.

use jigless_model::diag::Finding;
use jigless_model::geom::{
    Arc, Bounds, LENGTH_TOLERANCE, Path, Point, RoundingFault, Vertex, rounded,
};
use jigless_model::source::{Span, Spanned};

use crate::codes;
use crate::load::{Node, Value};
use crate::resolve::{Context, Fields, Frame, KeySet, KeyType, MAX_LENGTH, Place, Shape, Size};

/// The most points of one outline.
pub(super) const MAX_POINTS: usize = 50_000;

crate::fields! {
    /// The keys of a point that is written as a map.
    struct PointKeys {
        /// the point
        at: Place,
        /// rounds the corner at this point
        radius: Option<Size>,
        /// a point that the way to the next point goes through, as an arc
        arc: Option<Place>,
    }
}

/// The points of an outline as they are written.
#[derive(Debug)]
pub(super) struct Points {
    points: Vec<(PointKeys, Span)>,
    span: Span,
}

impl KeyType for Points {
    type Value = Points;
    const SHAPE: Shape = Shape::Points;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Points>> {
        let node = fields.required_node(key)?;
        let Value::List(items) = &node.value else {
            fields.context().find(
                Finding::error(
                    codes::WRONG_KIND,
                    node.span,
                    format!("this is {}", node.kind()),
                )
                .fix(format!("write {}", Shape::Points.describe())),
            );
            return None;
        };
        if items.len() > MAX_POINTS {
            let message = format!(
                "an outline may have {MAX_POINTS} points; this has {}",
                items.len()
            );
            fields.context().find(
                Finding::error(codes::TOO_MANY_POINTS, node.span, message)
                    .fix("leave points out, or write arcs in their place"),
            );
            return None;
        }
        let one = |item: &Node| Some((read_point(fields.context(), item)?, item.span));
        let read: Vec<_> = items.iter().map(one).collect();
        let points = Points {
            points: read.into_iter().collect::<Option<_>>()?,
            span: node.span,
        };
        Some(Spanned::new(points, node.span))
    }
}

fn read_point(context: Context, item: &Node) -> Option<PointKeys> {
    if item.get("at").is_none() {
        return Some(PointKeys {
            at: Place::read(context, item)?,
            radius: None,
            arc: None,
        });
    }
    let fields = Fields::new(context, "point", item.span, item, PointKeys::FIELDS)?;
    PointKeys::read(&fields)
}

impl Points {
    /// A closed path that does not cross itself, counter-clockwise; reports where they make none.
    pub(super) fn path(&self, context: Context, frame: &Frame) -> Option<Spanned<Path>> {
        let refuse = |message: String, fix: &str| {
            context.find(Finding::error(codes::BAD_OUTLINE, self.span, message).fix(fix));
        };
        let count = self.points.len();
        let arcs = self.points.iter().filter(|(keys, _)| keys.arc.is_some());
        if count + arcs.count() < 3 {
            refuse(
                format!("{count} points make no outline"),
                "write at least three points",
            );
            return None;
        }
        let path = self.joined(context, frame)?;
        // An arc through a point nearly on its chord is part of a circle larger than any workshop.
        let far = MAX_LENGTH + 1.0;
        let within = Bounds::around(Point::default(), far);
        if !path
            .bounds()
            .is_some_and(|bounds| within.contains_box(bounds, 0.0))
        {
            refuse(
                "an arc of the outline reaches further than 10 m".to_owned(),
                "check the point that it goes through",
            );
            return None;
        }
        if let Some(at) = path.crossing() {
            let unit = context.unit();
            refuse(
                format!(
                    "the outline crosses or touches itself at {}, {}",
                    unit.show(at.x),
                    unit.show(at.y)
                ),
                "list the points in order around the shape",
            );
            return None;
        }
        if path.area().abs() < 1e-6 {
            refuse("the outline holds no area".to_owned(), "check the points");
            return None;
        }
        Some(Spanned::new(path.normalised(true), self.span))
    }

    fn joined(&self, context: Context, frame: &Frame) -> Option<Path> {
        let mut vertices = Vec::with_capacity(self.points.len());
        for (index, (keys, span)) in self.points.iter().enumerate() {
            let (next, next_span) = &self.points[(index + 1) % self.points.len()];
            let (from, to) = (keys.at.point(frame), next.at.point(frame));
            if from.distance(to) < LENGTH_TOLERANCE {
                context.find(
                    Finding::error(
                        codes::BAD_OUTLINE,
                        *next_span,
                        "two points in a row are the same",
                    )
                    .label(*span, "the one before")
                    .fix("take one of them away; the outline closes by itself"),
                );
                return None;
            }
            let bulge = match keys
                .arc
                .map(|arc| bulge_through(from, arc.point(frame), to))
            {
                None => 0.0,
                Some(Some(bulge)) => bulge,
                Some(None) => {
                    context.find(
                        Finding::error(
                            codes::BAD_OUTLINE,
                            *span,
                            "the point of the arc lies on the straight line to the next point",
                        )
                        .fix("move it to the side, or leave `arc` out for a straight line"),
                    );
                    return None;
                }
            };
            vertices.push(Vertex { point: from, bulge });
        }
        let path = Path {
            vertices,
            closed: true,
        };
        let radii: Vec<f64> = self
            .points
            .iter()
            .map(|(keys, _)| keys.radius.unwrap_or(0.0))
            .collect();
        match rounded(&path, &radii) {
            Ok(path) => Some(path),
            Err(fault) => {
                context.find(self.rounding(context, &fault));
                None
            }
        }
    }

    fn rounding(&self, context: Context, fault: &RoundingFault) -> Finding {
        let unit = context.unit();
        match fault {
            RoundingFault::TooLong {
                vertex,
                available,
                needed,
            } => Finding::error(
                codes::RADIUS_TOO_LARGE,
                self.points[*vertex].1,
                format!(
                    "the roundings at this point and the next need {}, and the side between them is {} long",
                    unit.show(*needed),
                    unit.show(*available)
                ),
            )
            .fix("make a radius smaller"),
            RoundingFault::BesideArc { vertex } => Finding::error(
                codes::BAD_OUTLINE,
                self.points[*vertex].1,
                "a point where an arc begins or ends cannot have a radius as well",
            )
            .fix("take the radius away, or end the arc at another point"),
        }
    }
}

/// The bulge of the arc from one point through a second to a third; `None` where they lie on one line.
///
/// The angle at the middle point stands on the arc that the middle point is not on, so half the included angle is its
/// supplement (inscribed angle theorem).
fn bulge_through(from: Point, through: Point, to: Point) -> Option<f64> {
    let a = from - through;
    let b = to - through;
    let (cross, dot) = (a.cross(b), a.dot(b));
    if cross.abs() < 1e-9 * a.length() * b.length() || a.length() == 0.0 || b.length() == 0.0 {
        return None;
    }
    let inscribed = cross.abs().atan2(dot);
    let bulge = Arc::bulge_of_sweep(2.0 * (std::f64::consts::PI - inscribed));
    // Counter-clockwise when the middle point is to the right of the chord.
    let right_of_chord = (to - from).cross(through - from) < 0.0;
    Some(if right_of_chord { bulge } else { -bulge })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_through_three_points_is_the_circle_of_the_textbook() {
        let arc = |from: (f64, f64), through: (f64, f64), to: (f64, f64)| {
            let point = |p: (f64, f64)| Point::new(p.0, p.1);
            let bulge = bulge_through(point(from), point(through), point(to)).unwrap();
            Arc {
                from: point(from),
                to: point(to),
                bulge,
            }
        };
        // Elementary: three quarters of the circle of radius 5 about the origin.
        let large = arc((5.0, 0.0), (-5.0, 0.0), (0.0, -5.0));
        assert!((large.sweep().to_degrees() - 270.0).abs() < 1e-9);
        assert!(large.centre().length() < 1e-9);
        // NIST IR 6556, 3.5.3.2: centre (10,11), radius 5, clockwise; (5,11) is on it.
        let clockwise = arc((7.0, 7.0), (5.0, 11.0), (10.0, 16.0));
        assert!(clockwise.centre().distance(Point::new(10.0, 11.0)) < 1e-9);
        assert!((clockwise.sweep().to_degrees() + 143.130_102_354).abs() < 1e-6);
        assert_eq!(
            bulge_through(
                Point::new(0.0, 0.0),
                Point::new(1.0, 1.0),
                Point::new(2.0, 2.0)
            ),
            None
        );
    }
}
