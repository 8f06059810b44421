//! What several builders need.

use jigless_model::plan::{Grain, Stock};
use jigless_model::whole::{Direction, Placement, Triple};

use super::{PartDraft, length, text};
use crate::load::{Node, Value};
use crate::resolve::Fields;

/// The keys of a feature or joint with their values.
pub(super) type Keys = Vec<(&'static str, Value)>;

/// A part of a stock with its grain upward.
pub(super) fn upright(stock: &Stock) -> PartDraft {
    PartDraft {
        stock: stock.id.clone(),
        grain: Grain::Height,
        ..PartDraft::new()
    }
}

/// A place of something that is seen from the front as it is drawn.
pub(super) fn flat(at: Triple) -> Placement {
    Placement {
        at,
        width: Direction::Right,
        height: Direction::Up,
    }
}

/// The first keys of every joint.
pub(super) fn held(part: &str, to: &str, with: &str) -> Keys {
    vec![("part", text(part)), ("to", text(to)), ("with", text(with))]
}

/// A key as the author wrote it, for a joint or feature that knows it too.
pub(super) fn copied(fields: &Fields, key: &'static str) -> Option<(&'static str, Value)> {
    fields.node(key).map(|node| (key, node.value.clone()))
}

/// Holes with nothing more to say: `[("diameter", ..), ("depth", ..)]`.
pub(super) fn drilled(diameter: f64, depth: f64) -> Keys {
    vec![("diameter", length(diameter)), ("depth", length(depth))]
}

/// The maps of a list, each with the keys that its field declares.
pub(super) fn maps<'a>(fields: &Fields<'a>, key: &'static str) -> Option<Vec<Fields<'a>>> {
    let Some(node) = fields.node(key) else {
        return Some(Vec::new());
    };
    let field = fields.field(key);
    let (crate::resolve::Shape::Maps(keys), Value::List(items)) = (field.shape, &node.value) else {
        fields.wrong(field, node);
        return None;
    };
    let one = |item: &'a Node| Fields::new(fields.context(), key, item.span, item, keys);
    items.iter().map(one).collect()
}
