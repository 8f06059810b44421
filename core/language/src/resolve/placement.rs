//! Where a part is in the assembly.

use jigless_model::diag::Finding;
use jigless_model::source::Spanned;
use jigless_model::whole::{Direction, Placement, Triple};

use super::context::Context;
use super::field::Shape;
use super::fields::Fields;
use super::key_set::{KeySet, KeyType, at_node, key_types};
use crate::codes;
use crate::load::{Node, Value};

crate::fields! {
    /// The keys of a place in the assembly.
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
    Some(Spanned::new(Placement { at, width, height }, node.span))
}

key_types! {
    /// A place in the assembly, or a list of them.
    Placements: Shape::Placements => Vec<Spanned<Placement>>, |fields, key| {
        at_node(fields, key, read_placements)
    };
}
