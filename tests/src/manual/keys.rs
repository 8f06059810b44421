//! Tables of keys, made from their declarations.

use std::fmt::Write as _;

use jigless_core::resolve::{
    Field, KeySet as _, Need, PartKeys, PlacementKeys, PlanKeys, Shape, SpreadKeys, StockKeys,
};

/// Keys that several kinds share, and where they are described.
pub(super) struct Shared<'a> {
    /// The keys.
    pub(super) fields: &'a [Field],
    /// The heading that they stand under, as a link's target.
    pub(super) anchor: &'a str,
}

impl Shared<'_> {
    /// Whether a key is described with those that are shared.
    fn holds(&self, field: &Field) -> bool {
        self.fields.iter().any(|shared| same(shared, field))
    }
}

/// Whether two keys are declared alike.
pub(super) fn same(one: &Field, other: &Field) -> bool {
    one.key == other.key && one.need == other.need && one.meaning() == other.meaning()
}

/// A table of keys, and one below it for each key that has keys of its own. `name` is the map that they belong to.
///
/// Of a shared key that has keys of its own the row is kept, and those stand with the shared ones.
pub(super) fn tables(name: &str, fields: &[Field], shared: &Shared) -> String {
    let mut text = String::new();
    let mut inner = Vec::new();
    let elsewhere = |field: &&Field| shared.holds(field) && map(field).is_none();
    let own: Vec<&Field> = fields.iter().filter(|field| !elsewhere(field)).collect();
    if !own.is_empty() {
        text.push_str("| key | what it is | value | default |\n|---|---|---|---|\n");
    }
    for field in own {
        let _ = writeln!(
            text,
            "| `{}` | {} | {} | {} |",
            field.key,
            cell(&field.meaning()),
            if shared.holds(field) {
                format!("[{}, see below](#{})", value(&field.shape), shared.anchor)
            } else {
                cell(&value(&field.shape))
            },
            need(field.need)
        );
        if let Some(fields) = map(field).filter(|_| !shared.holds(field)) {
            inner.push((field.key, fields));
        }
    }
    let others: Vec<String> = fields
        .iter()
        .filter(elsewhere)
        .map(|field| format!("`{}`", field.key))
        .collect();
    if !others.is_empty() {
        let _ = writeln!(
            text,
            "\nAlso {}: see [keys that several share](#{}).",
            others.join(", "),
            shared.anchor
        );
    }
    for (key, fields) in inner {
        let name = if name.is_empty() {
            key.to_owned()
        } else {
            format!("{name}.{key}")
        };
        let _ = write!(
            text,
            "\nKeys of `{name}`:\n\n{}",
            tables(&name, fields, shared)
        );
    }
    text
}

/// The keys that a key has below it.
fn map(field: &Field) -> Option<&'static [Field]> {
    match field.shape {
        Shape::Map(fields) | Shape::Maps(fields) => Some(fields),
        _ => None,
    }
}

fn need(need: Need) -> String {
    match need {
        Need::Required => "required".to_owned(),
        Need::Optional => "none".to_owned(),
        Need::Default(default) => format!("`{default}`"),
    }
}

/// What may stand for a key, short enough for a table. Bare lengths are in the plan's unit.
fn value(shape: &Shape) -> String {
    match shape {
        Shape::Text => "text".to_owned(),
        Shape::Word(words) => words
            .iter()
            .map(|word| format!("`{word}`"))
            .collect::<Vec<_>>()
            .join(", "),
        Shape::Size => "length above 0".to_owned(),
        Shape::Distance => "length, 0 or more".to_owned(),
        Shape::Length => "length".to_owned(),
        Shape::Depth => "length above 0, or `through`".to_owned(),
        Shape::Degrees(least, most) => format!("degrees, {least} to {most}"),
        Shape::Number => "number above 0".to_owned(),
        Shape::Count => "whole number".to_owned(),
        Shape::AtHand => "whole number, 0 or more".to_owned(),
        Shape::Counts => "whole number, or a list".to_owned(),
        Shape::Words(words) => format!("{}, or a list", value(&Shape::Word(words))),
        Shape::Place => "point on the part".to_owned(),
        Shape::Step => "`[dx, dy]`, lengths".to_owned(),
        Shape::Triple => "`[x, y, z]`, lengths".to_owned(),
        Shape::Spread => "positions along an edge".to_owned(),
        Shape::Edge => "edge".to_owned(),
        Shape::Edges => "edge, or a list".to_owned(),
        Shape::Corners => "corner, or a list".to_owned(),
        Shape::Face => "`front`, `back`".to_owned(),
        Shape::Sizes => "length above 0, or a list".to_owned(),
        Shape::EdgeDistances => "map of edges and lengths".to_owned(),
        Shape::Points => "list of points".to_owned(),
        Shape::Map(_) => "map".to_owned(),
        Shape::Maps(_) => "list of maps".to_owned(),
        Shape::Labels(words) => format!("map of texts for {}", words.join(", ")),
        Shape::Values => "map of names and lengths".to_owned(),
        Shape::Stocks | Shape::Parts => "map of names".to_owned(),
        Shape::Builds => "map of names, each with a builder".to_owned(),
        Shape::Texts => "list of texts".to_owned(),
        Shape::Placements => "place in the assembly, or a list".to_owned(),
        Shape::Joints => "list of joints".to_owned(),
        Shape::Reasons => "map of codes and reasons".to_owned(),
        Shape::Features => "list of features".to_owned(),
        Shape::Checks => "map of codes and settings".to_owned(),
        Shape::Usage => "list of entries".to_owned(),
    }
}

/// A text that does not end its cell.
pub(super) fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

const NONE: Shared = Shared {
    fields: &[],
    anchor: "",
};

/// The keys of a plan.
pub(super) fn plan_keys() -> String {
    tables("", PlanKeys::FIELDS, &NONE)
}

/// The keys of a part.
pub(super) fn part_keys() -> String {
    tables("", PartKeys::FIELDS, &NONE)
}

/// The keys of a stock.
pub(super) fn stock_keys() -> String {
    tables("", StockKeys::FIELDS, &NONE)
}

/// The keys of positions along an edge.
pub(super) fn spread_keys() -> String {
    tables("", SpreadKeys::FIELDS, &NONE)
}

/// The keys of a place in the assembly.
pub(super) fn place_keys() -> String {
    tables("", PlacementKeys::FIELDS, &NONE)
}
