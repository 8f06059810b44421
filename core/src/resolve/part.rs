//! Reading the `parts:` section.

use std::sync::Arc;

use super::allow::{COMMON_FIELDS, read_allowances};
use super::context::Context;
use super::field::{Field, Shape};
use super::fields::Fields;
use super::names::{PartNames, PlanNames};
use super::place::Frame;
use super::{id, stock};
use crate::diag::{Finding, nearest};
use crate::feature;
use crate::length::Expression;
use crate::load::{Entry, Node, Value};
use crate::plan::{Grain, Pair, Part, PlacedFeature, Stock};
use crate::side::Face;
use crate::source::Spanned;

/// The keys of a part.
pub const PART_FIELDS: &[Field] = &[
    Field::optional("title", Shape::Text, "what it is called on paper"),
    Field::required(
        "stock",
        Shape::Text,
        "what it is made of: a name under `stock:`",
    ),
    Field::required(
        "width",
        Shape::Size,
        "size to the right, looking at the front face",
    ),
    Field::required(
        "height",
        Shape::Size,
        "size upward, looking at the front face",
    ),
    Field::with_default(
        "grain",
        Shape::Word(&["width", "height", "none"]),
        "none",
        "which way the grain runs",
    ),
    Field::with_default("count", Shape::Count, "1", "how many are needed"),
    Field::optional(
        "faces",
        Shape::Labels(&["front", "back"]),
        "free labels of the faces",
    ),
    Field::optional(
        "edges",
        Shape::Labels(&["left", "right", "top", "bottom"]),
        "free labels of the edges",
    ),
    Field::optional("features", Shape::Features, "what is done to it, in order"),
    Field::optional(
        "mirror_as",
        Shape::Text,
        "also makes a part of this name, mirrored left to right: a handed pair",
    ),
    Field::optional(
        "mirror_title",
        Shape::Text,
        "what the mirrored part is called on paper",
    ),
];

/// Reads one part, and its mirror image if the plan asks for one.
pub(super) fn read_part<'a>(
    names: &'a PlanNames<'a>,
    entry: &'a Entry,
    stocks: &[Arc<Stock>],
    features: &feature::Registry,
) -> Option<Vec<Part>> {
    let context = names.context();
    let name = &entry.key;
    let usable = id::check_part_id(context, &name.value, name.span);
    let what = format!("part `{}`", super::context::shortened(&name.value));
    let fields = Fields::with_common(
        context,
        &what,
        name.span,
        &entry.value,
        PART_FIELDS,
        COMMON_FIELDS,
    )?;

    let title = fields.text("title");
    let stock = read_stock_of(names, &fields, stocks);
    let grain = fields.word("grain");
    let count = fields.count("count");
    let face_labels = labels(&fields, "faces", |word| {
        Face::ALL.into_iter().find(|face| face.name() == word)
    });
    let edge_labels = labels(&fields, "edges", super::fields::edge_named);
    let mirror = read_mirror(&fields, name);
    let mirror_title = fields.text("mirror_title");
    let size = read_size(names, &fields, stock.as_deref());

    let (stock, (width, height)) = (stock?, size?);
    let frame = Frame {
        width,
        height,
        thickness: stock.thickness,
    };
    let part_names = PartNames {
        plan: names,
        width: Some(width),
        height: Some(height),
        thickness: Some(stock.thickness),
    };
    let features = read_features(context.with_names(&part_names), &fields, &frame, features);
    if !usable {
        return None;
    }
    let part = Part {
        id: name.value.clone(),
        title: title.map_or_else(|| name.value.clone(), |title| title.value),
        stock,
        width,
        height,
        grain: match grain?.value {
            "width" => Grain::Width,
            "height" => Grain::Height,
            _ => Grain::None,
        },
        count: count?.value,
        face_labels,
        edge_labels,
        pair: None,
        features,
        allowed: read_allowances(&fields),
        span: name.span,
    };
    Some(match mirror {
        Some(other) => with_mirror_image(part, &other, mirror_title),
        None => vec![part],
    })
}

fn with_mirror_image(
    mut part: Part,
    other: &Spanned<String>,
    title: Option<Spanned<String>>,
) -> Vec<Part> {
    let mut image = part.clone();
    image.id.clone_from(&other.value);
    image.title = match title {
        Some(title) => title.value,
        None if part.title == part.id => other.value.clone(),
        None => format!("{} (mirrored)", part.title),
    };
    image.span = other.span;
    for (edge, _) in &mut image.edge_labels {
        *edge = edge.mirrored();
    }
    image.pair = Some(Pair {
        other: part.id.clone(),
        mirrored: true,
    });
    part.pair = Some(Pair {
        other: other.value.clone(),
        mirrored: false,
    });
    vec![part, image]
}

fn read_stock_of(names: &PlanNames, fields: &Fields, stocks: &[Arc<Stock>]) -> Option<Arc<Stock>> {
    let name = fields.text("stock")?;
    let found = stocks.iter().find(|stock| stock.id == name.value);
    if found.is_none() && !names.describes_stock(&name.value) {
        stock::unknown_stock(fields.context(), &name, stocks);
    }
    found.cloned()
}

fn read_mirror(fields: &Fields, name: &Spanned<String>) -> Option<Spanned<String>> {
    if !fields.has("mirror_as") {
        return None;
    }
    let other = fields.text("mirror_as")?;
    if !id::check_part_id(fields.context(), &other.value, other.span) {
        return None;
    }
    if other.value == name.value {
        fields.context().find(
            Finding::error(
                "duplicate-part",
                other.span,
                format!("`{}` cannot be its own mirror image", name.value),
            )
            .label(name.span, "the part itself")
            .fix("give the mirror image another name, such as `side-right`"),
        );
        return None;
    }
    Some(other)
}

/// Width and height may each use the other, so the one that uses nothing of the other is read first.
fn read_size(names: &PlanNames, fields: &Fields, stock: Option<&Stock>) -> Option<(f64, f64)> {
    let uses = |key: &str, name: &str| {
        fields
            .node(key)
            .and_then(Node::scalar)
            .and_then(|scalar| Expression::parse(&scalar.text).ok())
            .is_some_and(|expression| expression.mentions(name))
    };
    let thickness = stock.map(|stock| stock.thickness);
    let read = |key: &'static str, width: Option<f64>, height: Option<f64>| {
        let part_names = PartNames {
            plan: names,
            width,
            height,
            thickness,
        };
        fields
            .length_with(key, &part_names)
            .map(|length| length.value)
    };
    let circle = |key: &'static str, other: &str| {
        let span = fields.node(key).map_or(fields.span, |node| node.span);
        fields.context().find(
            Finding::error(
                "bad-length",
                span,
                format!("values use one another in a circle: {key} -> {other} -> {key}"),
            )
            .fix(format!("give `{key}` a length of its own")),
        );
    };
    for (key, other) in [("width", "height"), ("height", "width")] {
        if uses(key, key) {
            let span = fields.node(key).map_or(fields.span, |node| node.span);
            fields.context().find(
                Finding::error("bad-length", span, format!("`{key}` uses itself"))
                    .fix("give it a length of its own"),
            );
            return None;
        }
        if uses(key, other) && uses(other, key) {
            circle(key, other);
            return None;
        }
    }
    if fields.node("width").is_none() {
        fields.length("width");
    }
    if fields.node("height").is_none() {
        fields.length("height");
    }
    if uses("width", "height") {
        let height = read("height", None, None);
        let width = read("width", None, height);
        Some((width?, height?))
    } else {
        let width = read("width", None, None);
        let height = read("height", width, None);
        Some((width?, height?))
    }
}

fn labels<K>(
    fields: &Fields,
    key: &'static str,
    named: impl Fn(&str) -> Option<K>,
) -> Vec<(K, String)> {
    let Some(node) = fields.node(key) else {
        return Vec::new();
    };
    let field = fields.field(key);
    let (Shape::Labels(words), Value::Map(entries)) = (field.shape, &node.value) else {
        fields.wrong(field, node);
        return Vec::new();
    };
    let context = fields.context();
    let mut labels = Vec::new();
    for entry in entries {
        let word = context.one_of(&entry.key.value, entry.key.span, words);
        let Some(scalar) = entry.value.scalar() else {
            context.find(
                Finding::error(
                    "wrong-kind",
                    entry.value.span,
                    format!("this is {}; a label belongs here", entry.value.kind()),
                )
                .fix("write a text"),
            );
            continue;
        };
        let text = context.printable(&scalar.text, entry.value.span);
        if let (Some(word), Some(text)) = (word, text)
            && let Some(side) = named(word.value)
        {
            labels.push((side, text.value));
        }
    }
    labels
}

fn read_features(
    context: Context,
    fields: &Fields,
    frame: &Frame,
    registry: &feature::Registry,
) -> Vec<PlacedFeature> {
    let Some(node) = fields.node("features") else {
        return Vec::new();
    };
    let items = match &node.value {
        Value::List(items) => items.as_slice(),
        Value::Null => &[],
        _ => {
            context.find(
                Finding::error(
                    "wrong-kind",
                    node.span,
                    format!("`features` is {}; it must be a list", node.kind()),
                )
                .fix("write `- hole: {at: [37, 80], diameter: 5, depth: 12}`, one entry for each"),
            );
            return Vec::new();
        }
    };
    items
        .iter()
        .filter_map(|item| read_feature(context, item, frame, registry))
        .collect()
}

fn read_feature(
    context: Context,
    item: &Node,
    frame: &Frame,
    registry: &feature::Registry,
) -> Option<PlacedFeature> {
    let entry = match &item.value {
        Value::Map(entries) if entries.len() == 1 => &entries[0],
        Value::Map(entries) if entries.len() > 1 => {
            context.find(
                Finding::error(
                    "bad-feature",
                    entries[1].key.span,
                    format!(
                        "`{}` stands beside `{}`; an entry has one feature",
                        entries[1].key.value, entries[0].key.value
                    ),
                )
                .fix("start a new entry with `-`, or indent the keys of the feature further"),
            );
            return None;
        }
        _ => {
            context.find(
                Finding::error(
                    "bad-feature",
                    item.span,
                    format!("this is {}; a feature belongs here", item.kind()),
                )
                .fix("write `- hole: {...}`"),
            );
            return None;
        }
    };
    let key = entry.key.value.as_str();
    let Some(kind) = registry.kind(key) else {
        let keys = registry.keys();
        context.find(
            Finding::error(
                "unknown-feature",
                entry.key.span,
                format!("there is no feature `{key}`"),
            )
            .fix(match nearest(key, keys.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("the features are {}", keys.join(", ")),
            }),
        );
        return None;
    };
    let fields = Fields::with_common(
        context,
        kind.key,
        entry.key.span,
        &entry.value,
        kind.fields,
        COMMON_FIELDS,
    )?;
    let allowed = read_allowances(&fields);
    // A feature need not take a label; asking for one that is not declared would be a mistake of ours.
    let takes_label = kind.fields.iter().any(|field| field.key == "label");
    let label = if takes_label && fields.has("label") {
        fields.text("label").map(|label| label.value)
    } else {
        None
    };
    let feature = (kind.read)(&fields, frame)?;
    Some(PlacedFeature {
        key: kind.key,
        label,
        feature,
        allowed,
        span: entry.key.span,
    })
}

impl Part {
    /// The size that places on this part are measured against.
    pub fn frame(&self) -> Frame {
        Frame {
            width: self.width,
            height: self.height,
            thickness: self.thickness(),
        }
    }
}
