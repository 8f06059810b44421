//! Where a part is in the whole.

use jigless_model::diag::Finding;
use jigless_model::source::Spanned;
use jigless_model::whole::{Direction, Placement};

use super::context::Context;
use super::field::{Field, Shape};
use super::fields::Fields;
use crate::codes;
use crate::load::{Node, Value};

/// The keys of a place in the assembly.
pub const PLACEMENT_FIELDS: &[Field] = &[
    Field::required(
        "at",
        Shape::Triple,
        "the corner of the part's box nearest left, bottom and back; x to the right, y up, z to the front",
    ),
    Field::with_default(
        "width",
        Shape::Word(DIRECTION_WORDS),
        "right",
        "where the part's width runs",
    ),
    Field::with_default(
        "height",
        Shape::Word(DIRECTION_WORDS),
        "up",
        "where the part's height runs",
    ),
];

const DIRECTION_WORDS: &[&str] = &["right", "left", "up", "down", "front", "back"];

/// Reads one place, or a list of them.
pub(crate) fn read_placements(context: Context, node: &Node) -> Option<Vec<Spanned<Placement>>> {
    match &node.value {
        Value::List(items) => items.iter().map(|item| read(context, item)).collect(),
        _ => read(context, node).map(|place| vec![place]),
    }
}

fn read(context: Context, node: &Node) -> Option<Spanned<Placement>> {
    let fields = Fields::new(context, "place", node.span, node, PLACEMENT_FIELDS)?;
    let at = fields
        .required_node("at")
        .and_then(|node| read_triple(context, node));
    let (width, height) = (direction(&fields, "width"), direction(&fields, "height"));
    let (width, height) = (width?, height?);
    if width.axis() == height.axis() {
        context.find(
            Finding::error(
                codes::PARALLEL_DIRECTIONS,
                node.span,
                format!(
                    "the part's width runs {} and its height {}: both along one line",
                    width.name(),
                    height.name()
                ),
            )
            .fix("give them directions that are square to each other"),
        );
        return None;
    }
    let place = Placement {
        at: at?,
        width,
        height,
    };
    Some(Spanned::new(place, node.span))
}

fn direction(fields: &Fields, key: &'static str) -> Option<Direction> {
    let word = fields.word(key)?;
    Direction::ALL
        .into_iter()
        .find(|direction| direction.name() == word.value)
}

pub(crate) fn read_triple(context: Context, node: &Node) -> Option<[f64; 3]> {
    let Value::List(items) = &node.value else {
        return wrong(context, node);
    };
    let [x, y, z] = items.as_slice() else {
        return wrong(context, node);
    };
    let (x, y, z) = (
        context.length_of(x),
        context.length_of(y),
        context.length_of(z),
    );
    Some([x?.value, y?.value, z?.value])
}

fn wrong(context: Context, node: &Node) -> Option<[f64; 3]> {
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
