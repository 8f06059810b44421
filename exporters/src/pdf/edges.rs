//! The lines of edges on paper: a thin line on the true edge, and beside it, on the waste side, a band. So nobody has to
//! guess at which side of a thick line the edge is.

use jigless_model::geom::{LENGTH_TOLERANCE, Path, Point, Segment, Vertex};
use jigless_model::side::Edge;
use jigless_model::view::FaceView;

use crate::drawing::{Dash, Ink, Item, ItemShape, Pen, Role};
use crate::view_edge;

/// The line on the true edge.
pub(super) const EDGE: Pen = Pen::new(0.25, Ink::BLACK);
/// Width of the band along an edge that is there already, in millimetres.
pub(super) const BAND: f64 = 0.45;
/// Width of the band along what is to be sawn, in millimetres.
pub(super) const SAWN: f64 = 0.85;

/// Thin lines in place of the contours of a drawing, and their bands. `folded` are the sides of the view that the paper
/// folds over.
pub(super) fn draw(view: &FaceView, items: &mut Vec<Item>, folded: &[Edge]) {
    for item in items.iter_mut() {
        if let (Role::Contour, ItemShape::Stroke(path, pen)) = (item.role, &mut item.shape)
            && path.closed
        {
            *pen = EDGE;
        }
    }
    for cut in &view.contours {
        for segment in cut.path.segments() {
            let edge = edge_of(view, &segment);
            let (width, dash) = match edge {
                Some(edge) if folded.contains(&edge) => (BAND, Dash::Hidden),
                Some(_) => (BAND, Dash::Solid),
                None => (SAWN, Dash::Solid),
            };
            let off = f64::midpoint(EDGE.width, width);
            if let Some(path) = beside(&segment, off) {
                let pen = Pen::new(width, Ink::BLACK).dashed(dash);
                items.push(Item::stroke(Role::Note, path, pen));
            }
        }
    }
}

/// The side of the view that a straight piece lies on.
fn edge_of(view: &FaceView, segment: &Segment) -> Option<Edge> {
    let Segment::Line(from, to) = segment else {
        return None;
    };
    Edge::ALL.into_iter().find(|edge| {
        let off = |point: Point| view_edge::distance(view, *edge, point).abs();
        off(*from) < LENGTH_TOLERANCE && off(*to) < LENGTH_TOLERANCE
    })
}

/// A line beside a piece of a contour, on its right-hand side, where the waste is; `None` where it would be no longer.
fn beside(segment: &Segment, off: f64) -> Option<Path> {
    match segment {
        Segment::Line(from, to) => {
            let out = (*to - *from).unit().left() * -off;
            (from.distance(*to) > LENGTH_TOLERANCE).then(|| Path::line(*from + out, *to + out))
        }
        Segment::Arc(arc) => {
            let (centre, radius) = (arc.centre(), arc.radius());
            let wider = radius + off * arc.sweep().signum();
            let point = |at: Point| centre + (at - centre) * (wider / radius);
            (wider > 0.3).then(|| Path {
                vertices: vec![
                    Vertex {
                        point: point(segment.from()),
                        bulge: jigless_model::geom::Arc::bulge_of_sweep(arc.sweep()),
                    },
                    Vertex {
                        point: point(segment.to()),
                        bulge: 0.0,
                    },
                ],
                closed: false,
            })
        }
    }
}
