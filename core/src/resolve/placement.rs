//! Where a part is in the whole.

use super::context::Context;
use super::fields::Fields;
use super::key_set::KeySet;
use crate::diag::Finding;
use crate::load::{Node, Value};
use crate::source::Spanned;
use crate::whole::{Direction, Placement, Triple};

crate::fields! {
    /// The keys of a place in the whole.
    pub struct PlacementKeys {
        /// the corner of the part's box nearest left, bottom and back; x to the right, y up, z to the front
        at: Triple,
        /// where the part's width runs
        width: Direction = "right",
        /// where the part's height runs
        height: Direction = "up",
    }
}

/// Reads one place, or a list of them.
pub(crate) fn read_placements(context: Context, node: &Node) -> Option<Vec<Spanned<Placement>>> {
    match &node.value {
        Value::List(items) => items.iter().map(|item| read(context, item)).collect(),
        _ => read(context, node).map(|place| vec![place]),
    }
}

fn read(context: Context, node: &Node) -> Option<Spanned<Placement>> {
    let fields = Fields::new(context, "place", node.span, node, PlacementKeys::FIELDS)?;
    let PlacementKeys { at, width, height } = PlacementKeys::read(&fields)?;
    if width.axis() == height.axis() {
        context.find(
            Finding::error(
                "parallel-directions",
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
    Some(Spanned::new(Placement { at, width, height }, node.span))
}

pub(crate) fn read_triple(context: Context, node: &Node) -> Option<Triple> {
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

fn wrong(context: Context, node: &Node) -> Option<Triple> {
    context.find(
        Finding::error(
            "wrong-kind",
            node.span,
            format!("this is {}; a place in the whole belongs here", node.kind()),
        )
        .fix("write `[x, y, z]`: to the right, upward and toward the viewer"),
    );
    None
}
