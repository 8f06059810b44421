//! Repeats along an edge.

use jigless_model::diag::Finding;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::side::Edge;
use jigless_model::source::{Span, Spanned};

use super::context::Context;
use super::field::Shape;
use super::fields::Fields;
use super::key_set::{KeySet, KeyType, at_node};
use super::key_types::{Distance, Here, Repeats, Size, Sizes, checked_repeats};
use crate::codes;
use crate::load::{Node, Value};

crate::fields! {
    /// The keys of a spread that is not a plain list.
    pub struct SpreadKeys {
        /// where it is written
        here: Here,
        /// the positions, one by one
        at: Option<Sizes>,
        /// distance of the outermost ones from both ends
        inset: Option<Spanned<Distance>>,
        /// greatest distance between neighbours; with inset
        most: Option<Spanned<Size>>,
        /// position of the first one
        first: Option<Spanned<Distance>>,
        /// distance between neighbours; with first
        step: Option<Size>,
        /// how many; with inset or first
        count: Option<Repeats>,
        /// the end that is measured from: bottom or left where nothing is said
        from: Option<Spanned<Edge>>,
    }
    one of "at", "inset", "first";
}

/// Positions along an edge as they are written, before the edge is known.
#[derive(Debug, Clone)]
pub struct Spread {
    how: How,
    /// The end that is measured from.
    from: Option<Spanned<Edge>>,
    span: Span,
}

#[derive(Debug, Clone)]
enum How {
    Listed(Vec<Spanned<f64>>),
    /// Evenly between two insets.
    Even(Spanned<f64>, Many),
    /// From a first one in steps.
    Stepped {
        first: f64,
        step: f64,
        count: u32,
    },
}

#[derive(Debug, Clone, Copy)]
enum Many {
    Count(u32),
    /// So many that neighbours are no further apart.
    Most(Spanned<f64>),
}

impl Spread {
    /// Reads a position, a list of them or a map.
    pub fn read(context: Context, node: &Node) -> Option<Spread> {
        let listed = |positions: Vec<Spanned<f64>>| Spread {
            how: How::Listed(positions),
            from: None,
            span: node.span,
        };
        match &node.value {
            Value::Scalar(_) => Some(listed(vec![context.length_of(node)?])),
            Value::List(items) if !items.is_empty() => {
                let read: Vec<_> = items.iter().map(|item| context.length_of(item)).collect();
                read.into_iter().collect::<Option<_>>().map(listed)
            }
            Value::Map(_) => {
                let fields = Fields::new(context, "spread", node.span, node, SpreadKeys::FIELDS)?;
                Spread::of_keys(&fields, SpreadKeys::read(&fields)?)
            }
            Value::List(_) | Value::Null => {
                context.find(
                    Finding::error(codes::WRONG_KIND, node.span, "there are no positions here")
                        .fix(format!("write {}", Shape::Spread.describe())),
                );
                None
            }
        }
    }

    fn of_keys(fields: &Fields, keys: SpreadKeys) -> Option<Spread> {
        let (most, step, count) = (
            ("most", keys.most.is_some()),
            ("step", keys.step.is_some()),
            ("count", keys.count.is_some()),
        );
        let how = match (keys.at, keys.inset, keys.first) {
            (Some(positions), _, _) => {
                refuse(fields, "at", &[most, step, count])?;
                How::Listed(positions)
            }
            (_, Some(inset), _) => {
                refuse(fields, "inset", &[step])?;
                fields.exactly_one(&["count", "most"])?;
                let many = keys.count.map(Many::Count);
                How::Even(inset, many.or(keys.most.map(Many::Most))?)
            }
            (_, _, first) => {
                refuse(fields, "first", &[most])?;
                let count = keys.count.unwrap_or(1);
                if count > 1 && keys.step.is_none() {
                    fields.context().find(
                        Finding::error(codes::MISSING_KEY, fields.span, "this spread needs `step`")
                            .fix("add `step:`, the distance between neighbours"),
                    );
                    return None;
                }
                How::Stepped {
                    first: first?.value,
                    step: keys.step.unwrap_or(0.0),
                    count,
                }
            }
        };
        Some(Spread {
            how,
            from: keys.from,
            span: keys.here,
        })
    }

    /// The positions along an edge of a length, in millimetres from its left or bottom end, in the order in which they
    /// are written or counted. Reports those that are not on it.
    pub fn on_edge(&self, context: Context, edge: Edge, length: f64) -> Option<Vec<Spanned<f64>>> {
        self.along(context, edge, length, &format!("the {} edge", edge.name()))
    }

    /// The same along something that is called `name` in messages and runs like an edge.
    pub fn along(
        &self,
        context: Context,
        edge: Edge,
        length: f64,
        name: &str,
    ) -> Option<Vec<Spanned<f64>>> {
        let mut positions = self.positions(context, length)?;
        if self.is_from_far_end(context, edge)? {
            for position in &mut positions {
                position.value = length - position.value;
            }
        }
        let unit = context.unit();
        let off = |position: &&Spanned<f64>| {
            position.value < -LENGTH_TOLERANCE || position.value > length + LENGTH_TOLERANCE
        };
        // One finding tells; ten thousand of them would hide it.
        if let Some(position) = positions.iter().find(off) {
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
            return None;
        }
        Some(positions)
    }

    fn positions(&self, context: Context, length: f64) -> Option<Vec<Spanned<f64>>> {
        match &self.how {
            How::Listed(positions) => Some(positions.clone()),
            How::Even(inset, many) => {
                let run = length - 2.0 * inset.value;
                if run < -LENGTH_TOLERANCE {
                    let unit = context.unit();
                    context.find(
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
                let count = match many {
                    Many::Count(count) => *count,
                    Many::Most(most) => {
                        let gaps = (run / most.value - 1e-9).ceil().max(1.0);
                        checked_repeats(context, gaps + 1.0, most.span)?
                    }
                };
                Some(even(inset.value, run, count, self.span))
            }
            How::Stepped { first, step, count } => {
                let at = |i| Spanned::new(first + f64::from(i) * step, self.span);
                Some((0..*count).map(at).collect())
            }
        }
    }

    /// Whether positions count from the top or right end; reports where the edge has no such end as is written.
    fn is_from_far_end(&self, context: Context, edge: Edge) -> Option<bool> {
        let Some(from) = self.from else {
            return Some(false);
        };
        if from.value.is_upright() != edge.is_upright() {
            return Some(matches!(from.value, Edge::Top | Edge::Right));
        }
        let (low, high) = if edge.is_upright() {
            ("bottom", "top")
        } else {
            ("left", "right")
        };
        context.find(
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
        None
    }
}

/// Reports the first key that says nothing beside another one.
fn refuse(fields: &Fields, beside: &str, strays: &[(&str, bool)]) -> Option<()> {
    let Some((stray, _)) = strays.iter().find(|(_, given)| *given) else {
        return Some(());
    };
    fields.context().find(
        Finding::error(
            codes::TOO_MANY_KEYS,
            fields.key_span(stray),
            format!("`{stray}` says nothing beside `{beside}`"),
        )
        .fix(format!("write {}", Shape::Spread.describe())),
    );
    None
}

fn even(inset: f64, run: f64, count: u32, span: Span) -> Vec<Spanned<f64>> {
    if count == 1 {
        return vec![Spanned::new(inset + run / 2.0, span)];
    }
    (0..count)
        .map(|i| Spanned::new(inset + run * f64::from(i) / f64::from(count - 1), span))
        .collect()
}

impl KeyType for Spread {
    type Value = Spread;
    const SHAPE: Shape = Shape::Spread;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Spread>> {
        at_node(fields, key, Spread::read)
    }
}
