//! The rectangle or circle that a recess or cutout is.

use jigless_model::diag::Finding;
use jigless_model::geom::{Bounds, Path, Point, circle, rounded_rectangle};
use jigless_model::source::Spanned;

use crate::codes;
use crate::resolve::{Distance, Fields, Frame, Place, Size};

crate::fields! {
    /// The keys of a rectangle or circle.
    pub(super) struct ShapeKeys {
        /// a rectangle: the distance of its sides from two edges
        at: Option<Place>,
        /// a rectangle: its size to the right
        width: Option<Size>,
        /// a rectangle: its size upward
        height: Option<Size>,
        /// a rectangle: radius of its corners
        corner_radius: Spanned<Distance> = "0",
        /// a circle: its centre
        centre: Option<Place>,
        /// a circle: its diameter
        diameter: Option<Size>,
    }
}

impl ShapeKeys {
    /// The rectangle or circle; reports what is missing, too much or does not fit together.
    pub(super) fn path(&self, fields: &Fields, frame: &Frame) -> Option<Spanned<Path>> {
        let (shape, strays): (&str, &[&str]) = match self.centre {
            Some(_) => ("circle", &["width", "height", "corner_radius"]),
            None => ("rectangle", &["diameter"]),
        };
        if let Some(stray) = strays.iter().find(|key| fields.has(key)) {
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
        if let Some(centre) = self.centre {
            let diameter = demanded(fields, "diameter", self.diameter)?;
            let path = circle(centre.point(frame), diameter / 2.0);
            return Some(Spanned::new(path, centre.span));
        }
        let at = self.at?;
        let width = demanded(fields, "width", self.width);
        let height = demanded(fields, "height", self.height);
        let (width, height, radius) = (width?, height?, self.corner_radius);
        let most = width.min(height) / 2.0;
        if radius.value > most {
            let unit = fields.context().unit();
            let shown = [radius.value, width, height].map(|length| unit.show(length));
            let [shown, wide, high] = shown;
            let message = format!("a corner radius of {shown} does not fit into {wide} by {high}");
            fields.context().find(
                Finding::error(codes::RADIUS_TOO_LARGE, radius.span, message)
                    .fix(format!("keep it at {} or below", unit.show(most))),
            );
            return None;
        }
        let corner = at.corner_of(frame, width, height);
        let bounds = Bounds::new(corner, corner + Point::new(width, height));
        let path = rounded_rectangle(bounds, radius.value);
        Some(Spanned::new(path, at.span))
    }
}

/// A length that is optional in the declaration and needed once the shape is known; reports where it is missing.
fn demanded(fields: &Fields, key: &str, given: Option<f64>) -> Option<f64> {
    if given.is_none() {
        fields.context().find(
            Finding::error(
                codes::MISSING_KEY,
                fields.span,
                format!("this shape needs `{key}`"),
            )
            .fix(format!("add `{key}:`, {}", fields.field(key).meaning())),
        );
    }
    given
}
