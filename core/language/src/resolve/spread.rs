//! Repeats along an edge.

use jigless_model::diag::Finding;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::side::Edge;
use jigless_model::source::{Span, Spanned};

use super::context::Context;
use super::field::{Field, Shape};
use super::fields::Fields;
use crate::codes;
use crate::load::{Node, Value};

/// The most repeats that one feature may ask for.
pub const MAX_REPEATS: u32 = 10_000;

/// The keys of a spread that is not a plain list.
pub const SPREAD_FIELDS: &[Field] = &[
    Field::optional("at", Shape::Sizes, "the positions, one by one"),
    Field::optional(
        "inset",
        Shape::Distance,
        "distance of the outermost ones from both ends",
    ),
    Field::optional(
        "most",
        Shape::Size,
        "greatest distance between neighbours; with inset",
    ),
    Field::optional("first", Shape::Distance, "position of the first one"),
    Field::optional(
        "step",
        Shape::Size,
        "distance between neighbours; with first",
    ),
    Field::optional("count", Shape::Count, "how many; with inset or first"),
    Field::optional(
        "from",
        Shape::Edge,
        "the end that is measured from: bottom or left where nothing is said",
    ),
];

/// Reads a spread along an edge of the given length; see [`read_spread_on`].
pub fn read_spread(
    context: Context,
    node: &Node,
    edge: Edge,
    length: f64,
) -> Option<Vec<Spanned<f64>>> {
    let name = format!("the {} edge", edge.name());
    read_spread_on(context, node, edge, length, &name)
}

/// Reads a spread along something that is called `name` in messages and runs like an edge. Gives positions in millimetres from the edge's left or bottom end,
/// in the order in which they are written or counted.
pub fn read_spread_on(
    context: Context,
    node: &Node,
    edge: Edge,
    length: f64,
    name: &str,
) -> Option<Vec<Spanned<f64>>> {
    let positions = match &node.value {
        Value::Scalar(_) => vec![context.length_of(node)?],
        Value::List(items) if items.is_empty() => {
            return nothing(context, node.span);
        }
        Value::List(items) => items
            .iter()
            .map(|item| context.length_of(item))
            .collect::<Option<Vec<_>>>()?,
        Value::Map(_) => {
            let fields = Fields::new(context, "spread", node.span, node, SPREAD_FIELDS)?;
            let positions = counted(&fields, length)?;
            from_end(&fields, positions, edge, length)?
        }
        Value::Null => return nothing(context, node.span),
    };
    let mut inside = true;
    for position in &positions {
        if position.value < -LENGTH_TOLERANCE || position.value > length + LENGTH_TOLERANCE {
            let unit = context.names.unit();
            context.find(
                Finding::error(
                    codes::BEYOND_EDGE,
                    position.span,
                    format!(
                        "a position at {} is not on {name}, which is {} long",
                        unit.show(position.value),
                        unit.show(length)
                    ),
                )
                .fix(format!(
                    "keep positions between 0 and {}",
                    unit.show(length)
                )),
            );
            inside = false;
            // One finding tells; ten thousand of them would hide it.
            break;
        }
    }
    inside.then_some(positions)
}

fn counted(fields: &Fields, length: f64) -> Option<Vec<Spanned<f64>>> {
    let span = fields.span;
    let kind = fields.exactly_one(&["at", "inset", "first"])?;
    let strays: &[&str] = match kind {
        "at" => &["most", "step", "count"],
        "inset" => &["step"],
        _ => &["most"],
    };
    if let Some(stray) = strays.iter().find(|key| fields.has(key)) {
        fields.context().find(
            Finding::error(
                codes::TOO_MANY_KEYS,
                fields.key_span(stray),
                format!("`{stray}` says nothing beside `{kind}`"),
            )
            .fix(format!("write {}", Shape::Spread.describe())),
        );
        return None;
    }
    match kind {
        "at" => fields.lengths("at"),
        "inset" => {
            let inset = fields.length("inset")?;
            let run = length - 2.0 * inset.value;
            if run < -LENGTH_TOLERANCE {
                let unit = fields.context().names.unit();
                fields.context().find(
                    Finding::error(
                        codes::BEYOND_EDGE,
                        inset.span,
                        format!(
                            "an inset of {} from both ends leaves nothing of an edge of {}",
                            unit.show(inset.value),
                            unit.show(length)
                        ),
                    )
                    .fix(format!("keep it below {}", unit.show(length / 2.0))),
                );
                return None;
            }
            let count = if fields.exactly_one(&["count", "most"])? == "count" {
                repeats(fields)?
            } else {
                let most = fields.length("most")?;
                let gaps = (run / most.value - 1e-9).ceil().max(1.0);
                checked_repeats(fields, gaps + 1.0, most.span)?
            };
            Some(even(inset.value, run, count, span))
        }
        _ => {
            let first = fields.length("first")?;
            let count = if fields.has("count") {
                repeats(fields)?
            } else {
                1
            };
            let step = if count > 1 || fields.has("step") {
                required(fields, "step")?
            } else {
                0.0
            };
            Some(
                (0..count)
                    .map(|i| Spanned::new(first.value + f64::from(i) * step, span))
                    .collect(),
            )
        }
    }
}

fn even(inset: f64, run: f64, count: u32, span: Span) -> Vec<Spanned<f64>> {
    if count == 1 {
        return vec![Spanned::new(inset + run / 2.0, span)];
    }
    (0..count)
        .map(|i| Spanned::new(inset + run * f64::from(i) / f64::from(count - 1), span))
        .collect()
}

fn from_end(
    fields: &Fields,
    mut positions: Vec<Spanned<f64>>,
    edge: Edge,
    length: f64,
) -> Option<Vec<Spanned<f64>>> {
    if !fields.has("from") {
        return Some(positions);
    }
    let from = fields.edge("from")?;
    if from.value.is_upright() == edge.is_upright() {
        let (low, high) = if edge.is_upright() {
            ("bottom", "top")
        } else {
            ("left", "right")
        };
        fields.context().find(
            Finding::error(
                codes::WRONG_END,
                from.span,
                format!(
                    "the {} edge has no {} end to measure from",
                    edge.name(),
                    from.value.name()
                ),
            )
            .fix(format!("write {low} or {high}")),
        );
        return None;
    }
    if matches!(from.value, Edge::Top | Edge::Right) {
        for position in &mut positions {
            position.value = length - position.value;
        }
    }
    Some(positions)
}

fn required(fields: &Fields, key: &'static str) -> Option<f64> {
    if !fields.has(key) {
        fields.context().find(
            Finding::error(
                codes::MISSING_KEY,
                fields.span,
                format!("this spread needs `{key}`"),
            )
            .fix(format!("add `{key}:`, the distance between neighbours")),
        );
        return None;
    }
    fields.length(key).map(|length| length.value)
}

/// The `count` of a map, kept within what one feature may ask for.
pub fn repeats(fields: &Fields) -> Option<u32> {
    let count = fields.count("count")?;
    checked_repeats(fields, f64::from(count.value), count.span)
}

/// Tells of a number of repeats that no one feature needs.
pub fn checked_repeats(fields: &Fields, count: f64, span: Span) -> Option<u32> {
    if count <= f64::from(MAX_REPEATS) {
        return Some(count as u32);
    }
    fields.context().find(
        Finding::error(
            codes::TOO_MANY_REPEATS,
            span,
            format!("this asks for {count} repeats; one feature may have {MAX_REPEATS}"),
        )
        .fix("check the count and the step"),
    );
    None
}

fn nothing(context: Context, span: Span) -> Option<Vec<Spanned<f64>>> {
    context.find(
        Finding::error(codes::WRONG_KIND, span, "there are no positions here")
            .fix(format!("write {}", Shape::Spread.describe())),
    );
    None
}
