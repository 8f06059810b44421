//! The closed shapes that recesses, cutouts and outlines are made of.

use jigless_model::diag::Finding;
use jigless_model::geom::{
    Arc, Bounds, Path, Point, RoundingFault, Vertex, circle, rounded, rounded_rectangle,
};
use jigless_model::source::{Span, Spanned};

use crate::codes;
use crate::load::{Node, Value};
use crate::resolve::{Context, Field, Fields, Frame, Place, Shape};

/// The keys of a rectangle or circle.
pub(super) const AT: Field = Field::optional(
    "at",
    Shape::Place,
    "a rectangle: the distance of its sides from two edges",
);
pub(super) const WIDTH: Field =
    Field::optional("width", Shape::Size, "a rectangle: its size to the right");
pub(super) const HEIGHT: Field =
    Field::optional("height", Shape::Size, "a rectangle: its size upward");
pub(super) const CORNER_RADIUS: Field = Field::with_default(
    "corner_radius",
    Shape::Distance,
    "0",
    "a rectangle: radius of its corners",
);
pub(super) const CENTRE: Field = Field::optional("centre", Shape::Place, "a circle: its centre");
pub(super) const ROUND: Field = Field::optional("diameter", Shape::Size, "a circle: its diameter");

/// The keys of a point that is written as a map.
const POINT_FIELDS: &[Field] = &[
    Field::required("at", Shape::Place, "the point"),
    Field::optional("radius", Shape::Size, "rounds the corner at this point"),
    Field::optional(
        "arc",
        Shape::Place,
        "a point that the way to the next point goes through, as an arc",
    ),
];

/// Reads a rectangle or a circle.
pub(super) fn read_box_or_circle(fields: &Fields, frame: &Frame) -> Option<Spanned<Path>> {
    let round = fields.has("centre");
    let strays: &[&str] = if round {
        &["width", "height", "corner_radius"]
    } else {
        &["diameter"]
    };
    if let Some(stray) = strays.iter().find(|key| fields.has(key)) {
        let shape = if round { "circle" } else { "rectangle" };
        fields.context().find(
            Finding::error(
                codes::TOO_MANY_KEYS,
                fields.key_span(stray),
                format!("a {shape} has no `{stray}`"),
            )
            .fix("a rectangle takes at, width and height; a circle takes centre and diameter"),
        );
        return None;
    }
    if round {
        let centre = Place::read(fields.context(), fields.node("centre")?);
        let diameter = demanded(fields, "diameter");
        let centre = centre?;
        let path = circle(centre.point(frame), diameter?.value / 2.0);
        return Some(Spanned::new(path, centre.span));
    }
    let at = Place::read(fields.context(), fields.node("at")?);
    let width = demanded(fields, "width");
    let height = demanded(fields, "height");
    let radius = fields.length("corner_radius");
    let (at, width, height, radius) = (at?, width?.value, height?.value, radius?);
    if radius.value > width.min(height) / 2.0 {
        let unit = fields.context().names.unit();
        fields.context().find(
            Finding::error(
                codes::RADIUS_TOO_LARGE,
                radius.span,
                format!(
                    "a corner radius of {} does not fit into {} by {}",
                    unit.show(radius.value),
                    unit.show(width),
                    unit.show(height)
                ),
            )
            .fix(format!(
                "keep it at {} or below",
                unit.show(width.min(height) / 2.0)
            )),
        );
        return None;
    }
    let corner = at.corner_of(frame, width, height);
    let bounds = Bounds::new(corner, corner + Point::new(width, height));
    Some(Spanned::new(
        rounded_rectangle(bounds, radius.value),
        at.span,
    ))
}

/// A length that is optional in the declaration and needed once the shape is known.
fn demanded(fields: &Fields, key: &'static str) -> Option<Spanned<f64>> {
    if fields.has(key) {
        return fields.length(key);
    }
    let field = fields.field(key);
    fields.context().find(
        Finding::error(
            codes::MISSING_KEY,
            fields.span,
            format!("this shape needs `{key}`"),
        )
        .fix(format!("add `{key}:`, {}", field.help)),
    );
    None
}

/// One corner of an outline as written.
struct Corner {
    point: Point,
    radius: f64,
    through: Option<Point>,
    span: Span,
}

/// Reads a list of points into a closed path that does not cross itself, counter-clockwise.
pub(super) fn read_points(context: Context, node: &Node, frame: &Frame) -> Option<Spanned<Path>> {
    let Value::List(items) = &node.value else {
        context.find(
            Finding::error(
                codes::WRONG_KIND,
                node.span,
                format!("this is {}", node.kind()),
            )
            .fix(format!("write {}", Shape::Points.describe())),
        );
        return None;
    };
    let corners: Vec<Option<Corner>> = items
        .iter()
        .map(|item| read_corner(context, item, frame))
        .collect();
    let corners: Vec<Corner> = corners.into_iter().collect::<Option<_>>()?;
    let arcs = corners
        .iter()
        .filter(|corner| corner.through.is_some())
        .count();
    if corners.len() + arcs < 3 {
        context.find(
            Finding::error(
                codes::BAD_OUTLINE,
                node.span,
                format!("{} points make no outline", corners.len()),
            )
            .fix("write at least three points"),
        );
        return None;
    }
    let path = join(context, &corners)?;
    if path.crosses_itself() {
        context.find(
            Finding::error(
                codes::BAD_OUTLINE,
                node.span,
                "the outline crosses or touches itself",
            )
            .fix("list the points in order around the shape"),
        );
        return None;
    }
    if path.area().abs() < 1e-6 {
        context.find(
            Finding::error(codes::BAD_OUTLINE, node.span, "the outline holds no area")
                .fix("check the points"),
        );
        return None;
    }
    Some(Spanned::new(path.normalised(true), node.span))
}

fn read_corner(context: Context, item: &Node, frame: &Frame) -> Option<Corner> {
    if item.get("at").is_none() {
        let place = Place::read(context, item)?;
        return Some(Corner {
            point: place.point(frame),
            radius: 0.0,
            through: None,
            span: item.span,
        });
    }
    let fields = Fields::new(context, "point", item.span, item, POINT_FIELDS)?;
    let place = Place::read(context, fields.node("at")?);
    let radius = if fields.has("radius") {
        fields.length("radius").map(|radius| radius.value)
    } else {
        Some(0.0)
    };
    let through = match fields.node("arc") {
        Some(node) => Place::read(context, node).map(|place| Some(place.point(frame))),
        None => Some(None),
    };
    Some(Corner {
        point: place?.point(frame),
        radius: radius?,
        through: through?,
        span: item.span,
    })
}

fn join(context: Context, corners: &[Corner]) -> Option<Path> {
    let mut vertices = Vec::with_capacity(corners.len());
    for (index, corner) in corners.iter().enumerate() {
        let next = &corners[(index + 1) % corners.len()];
        if corner.point.distance(next.point) < jigless_model::geom::LENGTH_TOLERANCE {
            context.find(
                Finding::error(
                    codes::BAD_OUTLINE,
                    next.span,
                    "two points in a row are the same",
                )
                .label(corner.span, "the one before")
                .fix("take one of them away; the outline closes by itself"),
            );
            return None;
        }
        let bulge = match corner.through {
            None => 0.0,
            Some(through) => {
                let Some(bulge) = bulge_through(corner.point, through, next.point) else {
                    context.find(
                        Finding::error(
                            codes::BAD_OUTLINE,
                            corner.span,
                            "the point of the arc lies on the straight line to the next point",
                        )
                        .fix("move it to the side, or leave `arc` out for a straight line"),
                    );
                    return None;
                };
                bulge
            }
        };
        vertices.push(Vertex {
            point: corner.point,
            bulge,
        });
    }
    let path = Path {
        vertices,
        closed: true,
    };
    let radii: Vec<f64> = corners.iter().map(|corner| corner.radius).collect();
    match rounded(&path, &radii) {
        Ok(path) => Some(path),
        Err(fault) => {
            tell_rounding(context, corners, &fault);
            None
        }
    }
}

fn tell_rounding(context: Context, corners: &[Corner], fault: &RoundingFault) {
    let unit = context.names.unit();
    let finding = match fault {
        RoundingFault::TooLong {
            vertex,
            available,
            needed,
        } => Finding::error(
            codes::RADIUS_TOO_LARGE,
            corners[*vertex].span,
            format!(
                "the roundings at this point and the next need {}, and the side between them is {} long",
                unit.show(*needed),
                unit.show(*available)
            ),
        )
        .fix("make a radius smaller"),
        RoundingFault::BesideArc { vertex } => Finding::error(
            codes::BAD_OUTLINE,
            corners[*vertex].span,
            "a point where an arc begins or ends cannot have a radius as well",
        )
        .fix("take the radius away, or end the arc at another point"),
    };
    context.find(finding);
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
