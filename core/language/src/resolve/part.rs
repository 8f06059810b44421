//! Reading the `parts:` section.

use std::sync::Arc;

use jigless_model::diag::{Finding, nearest};
use jigless_model::feature::FeatureWork;
use jigless_model::frame::Frame;
use jigless_model::hardware::Fitting;
use jigless_model::plan::{Grain, Pair, Part, PlacedFeature, Stock};
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;
use jigless_model::whole::{Motion, Placement};
use jigless_model::words::Word;

use super::accept::{COMMON_FIELDS, read_acceptances};
use super::context::Context;
use super::field::{Field, Shape};
use super::fields::Fields;
use super::id;
use super::key_set::KeyType;
use super::key_types::Maps;
use super::names::{PartNames, PlanNames};
use super::placement::read_placements;
use crate::codes;
use crate::feature;
use crate::fitting::FittingKeys;
use crate::load::{Entry, Node, Value};
use crate::lower::{Lowering, MAX_OPERATIONS};

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
    Field::with_default("grain", Grain::SHAPE, "none", "which way the grain runs"),
    Field::with_default("count", Shape::Count, "1", "how many are needed"),
    Field::optional(
        "faces",
        Shape::Labels(Face::WORDS),
        "free labels of the faces",
    ),
    Field::optional(
        "edges",
        Shape::Labels(Edge::WORDS),
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
    Field::optional(
        "place",
        Shape::Placements,
        "where it is in the assembly; a list with a place for each where several are needed",
    ),
    Field::optional(
        "mirror_place",
        Shape::Placements,
        "where its mirror image is",
    ),
    Field::optional(
        "fittings",
        Maps::<FittingKeys>::SHAPE,
        "hardware that goes with each piece and needs no hole in it",
    ),
    Field::optional(
        "group",
        Shape::Text,
        "what it is put together with before the assembly: a drawer",
    ),
    Field::optional(
        "moves",
        Motion::SHAPE,
        "how it moves once it is in its place; what slides takes its group along",
    ),
];

/// The keys that every feature may have beside its own.
pub const FEATURE_FIELDS: &[Field] = &[Field::optional(
    "only",
    Shape::Text,
    "of a handed pair, the part that has this feature alone; it is written as for the first of the two",
)];

/// A part of which everything is known but what is done to it.
#[derive(Debug)]
pub(crate) struct Header {
    /// The part, without features.
    pub(crate) part: Part,
    /// Its mirror image, if it is one of a handed pair; without features, too.
    pub(crate) image: Option<Part>,
    /// Whether it may be used: a part with an unusable name is read only for its faults.
    usable: bool,
}

impl Header {
    /// The part, and its mirror image.
    pub(crate) fn parts(&self) -> impl Iterator<Item = &Part> {
        std::iter::once(&self.part).chain(&self.image)
    }
}

/// Reads everything of a part but what is done to it.
pub(super) fn read_header<'a>(
    names: &'a PlanNames<'a>,
    entry: &'a Entry,
    stocks: &[Arc<Stock>],
) -> Option<Header> {
    let context = names.context().with_stocks(stocks);
    let name = &entry.key;
    let usable = id::check_part_id(context, &name.value, name.span);
    let fields = part_fields(context, entry)?;

    let title = fields.text("title");
    let stock = Arc::<Stock>::read_key(&fields, "stock").map(|stock| stock.value);
    let grain = fields.word_of("grain");
    let count = fields.count("count");
    let face_labels = labels(&fields, "faces");
    let edge_labels = labels(&fields, "edges");
    let mirror = read_mirror(&fields, name);
    let mirror_title = fields.text("mirror_title");
    let size = read_size(names, &fields, stock.as_deref());
    let group = given(&fields, "group", |key| fields.text(key));
    let motion = given(&fields, "moves", |key| fields.word_of(key));

    let (stock, (width, height)) = (stock?, size?);
    let part_names = PartNames {
        plan: names,
        width: Some(width),
        height: Some(height),
        thickness: Some(stock.thickness),
    };
    let count = count?.value;
    let place = |key| places(context.with_names(&part_names), &fields, key, count);
    let part = Part {
        id: name.value.clone(),
        title: title.map_or_else(|| name.value.clone(), |title| title.value),
        stock,
        width,
        height,
        grain: grain?.value,
        count,
        face_labels,
        edge_labels,
        pair: None,
        places: place("place"),
        group: group.map(|group| group.value),
        fittings: read_fittings(&fields),
        motion: motion.map(|motion| motion.value),
        features: Vec::new(),
        accepted: read_acceptances(&fields),
        span: name.span,
    };
    let (part, image) = match mirror {
        Some(other) => {
            let (part, image) =
                with_mirror_image(part, &other, mirror_title, place("mirror_place"));
            (part, Some(image))
        }
        None => (part, None),
    };
    Some(Header {
        part,
        image,
        usable,
    })
}

/// Reads what is done to a part, and gives it with its mirror image.
pub(super) fn read_part<'a>(
    names: &'a PlanNames<'a>,
    header: Header,
    entry: &'a Entry,
    features: &feature::Registry,
    budget: &mut Budget,
) -> Option<Vec<Part>> {
    let context = names.context();
    // The keys have been told where the header was read, and a finding is told once.
    let fields = part_fields(context, entry)?;
    let Header {
        mut part,
        image,
        usable,
    } = header;
    let part_names = PartNames {
        plan: names,
        width: Some(part.width),
        height: Some(part.height),
        thickness: Some(part.thickness()),
    };
    let of_pair = [
        Some(part.id.as_str()),
        image.as_ref().map(|i| i.id.as_str()),
    ];
    let read = read_features(
        context.with_names(&part_names),
        &fields,
        &part.frame(),
        features,
        of_pair,
        budget,
    );
    part.features = read;
    let image = image.map(|mut image| {
        image.features.clone_from(&part.features);
        image
    });
    usable.then(|| std::iter::once(part).chain(image).collect())
}

fn part_fields<'a>(context: Context<'a>, entry: &'a Entry) -> Option<Fields<'a>> {
    let name = &entry.key;
    let what = format!("part `{}`", super::context::shortened(&name.value));
    Fields::with_common(
        context,
        &what,
        name.span,
        &entry.value,
        PART_FIELDS,
        COMMON_FIELDS,
    )
}

fn given<T>(
    fields: &Fields,
    key: &'static str,
    read: impl FnOnce(&'static str) -> Option<T>,
) -> Option<T> {
    fields.has(key).then(|| read(key)).flatten()
}

fn read_fittings(fields: &Fields) -> Vec<Fitting> {
    let read = Maps::<FittingKeys>::read_key(fields, "fittings");
    let keys = read.map(|list| list.value).unwrap_or_default();
    keys.into_iter().map(FittingKeys::fitting).collect()
}

/// The places of a part: none, or no more than there are pieces of it.
fn places(context: Context, fields: &Fields, key: &'static str, count: u32) -> Vec<Placement> {
    let Some(node) = fields.node(key) else {
        return Vec::new();
    };
    let places = read_placements(context, node).unwrap_or_default();
    if places.len() > count as usize {
        context.find(
            Finding::error(
                codes::TOO_MANY_PLACES,
                places[count as usize].span,
                format!("there are {} places for {count} of them", places.len()),
            )
            .fix("write a `count:` to match"),
        );
    }
    places.into_iter().map(|place| place.value).collect()
}

fn with_mirror_image(
    mut part: Part,
    other: &Spanned<String>,
    title: Option<Spanned<String>>,
    places: Vec<Placement>,
) -> (Part, Part) {
    let mut image = part.clone();
    image.places = places;
    image.motion = part.motion.map(Motion::mirrored);
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
    (part, image)
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
                codes::DUPLICATE_PART,
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
            .and_then(|scalar| scalar.expression().ok())
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
                codes::BAD_LENGTH,
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
                Finding::error(codes::BAD_LENGTH, span, format!("`{key}` uses itself"))
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

fn labels<K: Word>(fields: &Fields, key: &'static str) -> Vec<(K, String)> {
    let Some(node) = fields.node(key) else {
        return Vec::new();
    };
    let field = fields.field(key);
    let Value::Map(entries) = &node.value else {
        fields.wrong(field, node);
        return Vec::new();
    };
    let context = fields.context();
    let mut labels = Vec::new();
    for entry in entries {
        let side = context.word_of::<K>(&entry.key.value, entry.key.span);
        let Some(scalar) = entry.value.scalar() else {
            context.find(
                Finding::error(
                    codes::WRONG_KIND,
                    entry.value.span,
                    format!("this is {}; a label belongs here", entry.value.kind()),
                )
                .fix("write a text"),
            );
            continue;
        };
        let text = context.printable(&scalar.text, entry.value.span);
        if let (Some(side), Some(text)) = (side, text) {
            labels.push((side.value, text.value));
        }
    }
    labels
}

fn read_features(
    context: Context,
    fields: &Fields,
    frame: &Frame,
    registry: &feature::Registry,
    of_pair: [Option<&str>; 2],
    budget: &mut Budget,
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
                    codes::WRONG_KIND,
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
        .filter_map(|item| read_feature(context, item, frame, registry, of_pair, budget))
        .collect()
}

/// How much more work the features of a plan may ask for. A plan that asks for more is refused when it is lowered, and
/// until then must not fill the memory.
#[derive(Debug)]
pub(super) struct Budget {
    left: usize,
}

impl Budget {
    pub(super) fn new() -> Self {
        Self {
            left: MAX_OPERATIONS,
        }
    }

    /// Room for what a feature asks for, and one more, so that too much is seen as too much.
    fn room(&self) -> usize {
        self.left + 1
    }

    fn take(&mut self, work: &FeatureWork) {
        self.left = self.left.saturating_sub(work.work.len());
    }
}

fn read_feature(
    context: Context,
    item: &Node,
    frame: &Frame,
    registry: &feature::Registry,
    of_pair: [Option<&str>; 2],
    budget: &mut Budget,
) -> Option<PlacedFeature> {
    let entry = match &item.value {
        Value::Map(entries) if entries.len() == 1 => &entries[0],
        Value::Map(entries) if entries.len() > 1 => {
            context.find(
                Finding::error(
                    codes::BAD_FEATURE,
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
                    codes::BAD_FEATURE,
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
                codes::UNKNOWN_FEATURE,
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
    let (own, only) = read_only(context, &entry.value, of_pair)?;
    let fields = Fields::with_common(
        context,
        kind.key,
        entry.key.span,
        &own,
        kind.fields,
        COMMON_FIELDS,
    )?;
    let accepted = read_acceptances(&fields);
    // A feature need not take a label; asking for one that is not declared would be a mistake of ours.
    let takes_label = kind.fields.iter().any(|field| field.key == "label");
    let label = if takes_label && fields.has("label") {
        fields.text("label").map(|label| label.value)
    } else {
        None
    };
    let mut lowering = Lowering::new(*frame, context.unit(), budget.room());
    (kind.make)(&fields, &mut lowering)?;
    let work = lowering.into_work();
    budget.take(&work);
    Some(PlacedFeature {
        key: kind.key,
        label,
        only,
        work: Arc::new(work),
        accepted,
        span: entry.key.span,
    })
}

/// Takes `only` out of a feature's own keys.
fn read_only(
    context: Context,
    node: &Node,
    of_pair: [Option<&str>; 2],
) -> Option<(Node, Option<String>)> {
    let Some(only) = node.get("only") else {
        return Some((node.clone(), None));
    };
    let mut own = node.clone();
    if let Value::Map(entries) = &mut own.value {
        entries.retain(|entry| entry.key.value != "only");
    }
    let name = only.scalar().map(|scalar| scalar.text.as_str());
    if name.is_some() && of_pair.contains(&name) && of_pair[1].is_some() {
        return Some((own, name.map(str::to_owned)));
    }
    let fix = match of_pair {
        [Some(one), Some(other)] => format!("write {one} or {other}"),
        _ => "leave it out: this part is not one of a handed pair".to_owned(),
    };
    context.find(
        Finding::error(
            codes::UNKNOWN_WORD,
            only.span,
            "`only` names neither of a handed pair",
        )
        .fix(fix),
    );
    None
}
