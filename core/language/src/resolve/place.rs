//! Points of a part and positions along its edges.

use jigless_model::diag::Finding;
use jigless_model::frame::Frame;
use jigless_model::geom::Point;
use jigless_model::side::Edge;
use jigless_model::source::{Span, Spanned};
use jigless_model::whole::Triple;

use super::context::Context;
use super::field::Shape;
use super::fields::Fields;
use super::key_set::{KeyType, at_node, key_types};
use crate::codes;
use crate::load::{Entry, Node, Value};

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
                            codes::TWO_PARALLEL_EDGES,
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
fn read_step(context: Context, node: &Node) -> Option<Spanned<Point>> {
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
fn read_edge_distances(context: Context, node: &Node) -> Option<Vec<(Spanned<Edge>, f64)>> {
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
                Finding::error(
                    codes::WRONG_KIND,
                    node.span,
                    format!("this is {}", node.kind()),
                )
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
            codes::WRONG_KIND,
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
            codes::WRONG_KIND,
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

/// Reads `[x, y, z]`.
fn read_triple(context: Context, node: &Node) -> Option<Triple> {
    if let Value::List(items) = &node.value
        && let [x, y, z] = items.as_slice()
    {
        let read = [x, y, z].map(|item| context.length_of(item));
        let [x, y, z] = read;
        return Some([x?.value, y?.value, z?.value]);
    }
    context.find(
        Finding::error(
            codes::WRONG_KIND,
            node.span,
            format!(
                "this is {}; a place in the assembly belongs here",
                node.kind()
            ),
        )
        .fix("write `[x, y, z]`: to the right, upward and toward the viewer"),
    );
    None
}

key_types! {
    /// A vector.
    Step: Shape::Step => Point, |fields, key| {
        let step = fields.required_node(key)?;
        read_step(fields.context(), step)
    };
    /// Distances from edges.
    EdgeDistances: Shape::EdgeDistances => Vec<(Spanned<Edge>, f64)>, |fields, key| {
        at_node(fields, key, read_edge_distances)
    };
}

impl KeyType for Place {
    type Value = Place;
    const SHAPE: Shape = Shape::Place;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Place>> {
        at_node(fields, key, Place::read)
    }
}

impl KeyType for Triple {
    type Value = Triple;
    const SHAPE: Shape = Shape::Triple;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Triple>> {
        at_node(fields, key, read_triple)
    }
}
