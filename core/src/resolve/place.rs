//! Points of a part and positions along its edges.

use super::context::Context;
use crate::diag::Finding;
use crate::geom::Point;
use crate::load::{Entry, Node, Value};
use crate::side::Edge;
use crate::source::{Span, Spanned};

/// The size of a part, against which places are measured, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Along x.
    pub width: f64,
    /// Along y.
    pub height: f64,
    /// Measured thickness.
    pub thickness: f64,
}

impl Frame {
    /// Length of an edge.
    pub fn edge_length(&self, edge: Edge) -> f64 {
        if edge.is_upright() {
            self.height
        } else {
            self.width
        }
    }

    /// How far it is from an edge to the opposite one.
    pub fn across(&self, edge: Edge) -> f64 {
        if edge.is_upright() {
            self.width
        } else {
            self.height
        }
    }

    /// The point at `along` (from the left or bottom end of the edge) and `inward` (from the edge into the part).
    pub fn from_edge(&self, edge: Edge, along: f64, inward: f64) -> Point {
        match edge {
            Edge::Left => Point::new(inward, along),
            Edge::Right => Point::new(self.width - inward, along),
            Edge::Bottom => Point::new(along, inward),
            Edge::Top => Point::new(along, self.height - inward),
        }
    }
}

/// A point, as distances from two edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// `Left` or `Right`, and the distance from it in millimetres.
    pub across: (Edge, f64),
    /// `Bottom` or `Top`, and the distance from it in millimetres.
    pub upward: (Edge, f64),
    /// Where it is written.
    pub span: Span,
}

impl Place {
    /// The point in the part's coordinates.
    pub fn point(&self, frame: &Frame) -> Point {
        self.corner_of(frame, 0.0, 0.0)
    }

    /// The lower left corner of a box of a size whose sides nearest to the two edges are at the given distances.
    pub fn corner_of(&self, frame: &Frame, width: f64, height: f64) -> Point {
        let x = match self.across {
            (Edge::Right, distance) => frame.width - distance - width,
            (_, distance) => distance,
        };
        let y = match self.upward {
            (Edge::Top, distance) => frame.height - distance - height,
            (_, distance) => distance,
        };
        Point::new(x, y)
    }

    /// Reads `[x, y]` or a map of two edges.
    pub fn read(context: Context, node: &Node) -> Option<Place> {
        match &node.value {
            Value::List(items) => {
                let [x, y] = items.as_slice() else {
                    return wrong(context, node);
                };
                let (x, y) = (context.length_of(x), context.length_of(y));
                Some(Place {
                    across: (Edge::Left, x?.value),
                    upward: (Edge::Bottom, y?.value),
                    span: node.span,
                })
            }
            Value::Map(entries) => {
                let [a, b] = entries.as_slice() else {
                    return wrong(context, node);
                };
                let (a, b) = (edge_distance(context, a), edge_distance(context, b));
                let (a, b) = (a?, b?);
                if a.0.is_upright() == b.0.is_upright() {
                    context.find(
                        Finding::error(
                            "two-parallel-edges",
                            node.span,
                            format!(
                                "{} and {} are parallel; they do not fix a point",
                                a.0.name(),
                                b.0.name()
                            ),
                        )
                        .fix("measure once from left or right and once from top or bottom"),
                    );
                    return None;
                }
                let (across, upward) = if a.0.is_upright() { (a, b) } else { (b, a) };
                Some(Place {
                    across,
                    upward,
                    span: node.span,
                })
            }
            _ => wrong(context, node),
        }
    }
}

/// Reads `[dx, dy]`.
pub fn read_step(context: Context, node: &Node) -> Option<Spanned<Point>> {
    let Value::List(items) = &node.value else {
        return wrong_step(context, node);
    };
    let [dx, dy] = items.as_slice() else {
        return wrong_step(context, node);
    };
    let (dx, dy) = (context.length_of(dx), context.length_of(dy));
    Some(Spanned::new(Point::new(dx?.value, dy?.value), node.span))
}

/// Reads `{left: 37, right: 37}`.
pub fn read_edge_distances(context: Context, node: &Node) -> Option<Vec<(Spanned<Edge>, f64)>> {
    match &node.value {
        Value::Map(entries) if !entries.is_empty() => {
            let read: Vec<_> = entries
                .iter()
                .map(|entry| {
                    let (edge, distance) = edge_distance(context, entry)?;
                    Some((Spanned::new(edge, entry.key.span), distance))
                })
                .collect();
            read.into_iter().collect()
        }
        _ => {
            context.find(
                Finding::error("wrong-kind", node.span, format!("this is {}", node.kind()))
                    .fix("write a distance for each edge: `{left: 37, right: 37}`"),
            );
            None
        }
    }
}

fn edge_distance(context: Context, entry: &Entry) -> Option<(Edge, f64)> {
    let edge = context.word_of::<Edge>(&entry.key.value, entry.key.span);
    let distance = context.length_of(&entry.value);
    Some((edge?.value, distance?.value))
}

fn wrong(context: Context, node: &Node) -> Option<Place> {
    context.find(
        Finding::error(
            "wrong-kind",
            node.span,
            format!("{} is no place", describe(node)),
        )
        .fix("write `[x, y]` from left and bottom, or two edges: `{right: 37, top: 80}`"),
    );
    None
}

fn wrong_step(context: Context, node: &Node) -> Option<Spanned<Point>> {
    context.find(
        Finding::error(
            "wrong-kind",
            node.span,
            format!("{} is no step", describe(node)),
        )
        .fix("write `[dx, dy]`: how far to the right and how far up"),
    );
    None
}

fn describe(node: &Node) -> String {
    match &node.value {
        Value::List(items) => format!("a list of {}", items.len()),
        Value::Map(entries) => format!("a map of {}", entries.len()),
        Value::Null => "nothing".to_owned(),
        Value::Scalar(scalar) => format!("`{}`", super::context::shortened(&scalar.text)),
    }
}
