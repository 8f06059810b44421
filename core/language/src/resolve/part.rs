//! Reading the `parts:` section.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::hardware::Fitting;
use jigless_model::plan::{AsCut, Grain, Pair, Part, Stock};
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;
use jigless_model::whole::{Motion, Placement};
use jigless_model::words::Word;

use super::accept::{COMMON_FIELDS, read_acceptances};
use super::context::Context;
use super::features::{Features, read_features};
use super::field::Shape;
use super::fields::Fields;
use super::id;
use super::key_set::{KeySet, KeyType};
use super::key_types::{AtHand, Count, Lenient, Map, Maps, Size, Unread, YesNo};
use super::names::{PartNames, PlanNames};
use super::placement::{Placements, read_placements};
use crate::codes;
use crate::feature;
use crate::load::{Entry, Node, Value};

crate::fields! {
    /// The keys of a part.
    pub struct PartKeys {
        /// what it is called on paper
        title: Lenient<String>,
        /// what it is made of: a name under `stock:`
        _stock as "stock": Arc<Stock>,
        /// size to the right, looking at the front face
        _width as "width": Unread<Size>,
        /// size upward, looking at the front face
        _height as "height": Unread<Size>,
        /// which way the grain runs
        grain: Grain = "none",
        /// how many are needed
        count: Spanned<Count> = "1",
        /// parts with the same name here come from one sheet, so that the grain can run on from one to the next
        grain_group: Lenient<String>,
        /// sheets with parts of a greater number are cut first
        priority: AtHand = "0",
        /// free labels of the faces
        faces: Labels<Face>,
        /// free labels of the edges
        edges: Labels<Edge>,
        /// what is done to it, in order
        _features as "features": Option<Features>,
        /// also makes a part of this name, mirrored left to right: a handed pair
        mirror_as: Lenient<Spanned<String>>,
        /// what the mirrored part is called on paper
        mirror_title: Lenient<String>,
        /// where it is in the assembly; a list with a place for each where several are needed
        _place as "place": Option<Unread<Placements>>,
        /// where its mirror image is
        _mirror_place as "mirror_place": Option<Unread<Placements>>,
        /// hardware that goes with each piece and needs no hole in it
        fittings: Lenient<Maps<Fitting>>,
        /// what it is put together with before the assembly: a drawer
        group: Lenient<String>,
        /// how it moves once it is in its place; what slides takes its group along
        moves: Lenient<Motion>,
        /// what it really measures once it is cut; the checks say what then does not fit, and nothing else changes
        as_cut: Option<Map<AsCut>>,
        /// whether it lies or stands where it is by its own weight: a tray on a shelf
        loose: YesNo = "no",
    }
}

crate::fields! {
    for AsCut {
        /// its width as it is cut
        width: Option<Spanned<Size>>,
        /// its height as it is cut
        height: Option<Spanned<Size>>,
    }
}

/// Free labels: a map from the words of an enum to texts. Those that have a fault are left out.
#[derive(Debug)]
pub struct Labels<K>(std::marker::PhantomData<K>);

impl<K: Word> KeyType for Labels<K> {
    type Value = Vec<(K, String)>;
    const SHAPE: Shape = Shape::Labels(K::WORDS);
    const OPTIONAL: bool = true;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Self::Value>> {
        Some(Spanned::new(labels(fields, key), fields.span))
    }
}

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

    let stock = Arc::<Stock>::read_key(&fields, "stock").map(|stock| stock.value);
    let size = read_size(names, &fields, stock.as_deref());
    let keys = PartKeys::read(&fields);
    let (stock, (width, height), keys) = (stock?, size?, keys?);
    let mirror = mirror_name(context, keys.mirror_as, name);
    let part_names = PartNames {
        plan: names,
        width: Some(width),
        height: Some(height),
        thickness: Some(stock.thickness),
    };
    let count = keys.count.value;
    let parts = if mirror.is_some() { 2 } else { 1 };
    context.charge_parts(parts, name.span)?;
    context.charge(count as usize * parts, keys.count.span)?;
    let place = |key| places(context.with_names(&part_names), &fields, key, count);
    let part = Part {
        id: name.value.clone(),
        title: keys.title.unwrap_or_else(|| name.value.clone()),
        stock,
        width,
        height,
        grain: keys.grain,
        count,
        grain_group: keys.grain_group,
        priority: keys.priority,
        face_labels: keys.faces,
        edge_labels: keys.edges,
        pair: None,
        places: place("place"),
        group: keys.group,
        fittings: keys.fittings.unwrap_or_default(),
        motion: keys.moves,
        loose: keys.loose,
        as_cut: keys.as_cut,
        features: Vec::new(),
        accepted: read_acceptances(&fields),
        span: name.span,
    };
    let (part, image) = match mirror {
        Some(other) => {
            let (part, image) =
                with_mirror_image(part, &other, keys.mirror_title, place("mirror_place"));
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
) -> Option<Vec<Part>> {
    let context = names.context();
    // The keys have been reported where the header was read, and a finding is reported once.
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
        PartKeys::FIELDS,
        COMMON_FIELDS,
    )
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
    title: Option<String>,
    places: Vec<Placement>,
) -> (Part, Part) {
    let mut image = part.clone();
    image.places = places;
    image.motion = part.motion.map(Motion::mirrored);
    image.id.clone_from(&other.value);
    image.title = match title {
        Some(title) => title,
        None if part.title == part.id => other.value.clone(),
        None => other_hand(&part.title),
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

/// What the mirror image is called: `Right side` beside `Left side`; where the title names no hand, the same with a word
/// that tells them apart.
fn other_hand(title: &str) -> String {
    let hands = [("Left", "Right"), ("left", "right"), ("LEFT", "RIGHT")];
    let both = hands.into_iter().flat_map(|(a, b)| [(a, b), (b, a)]);
    let mut changed = false;
    let words = title.split(' ').map(|word| {
        let hand = both.clone().find(|(hand, _)| *hand == word);
        changed |= hand.is_some();
        hand.map_or(word, |(_, other)| other)
    });
    let words = words.collect::<Vec<_>>().join(" ");
    if changed {
        words
    } else {
        format!("{title} (mirrored)")
    }
}

/// The name of the mirror image, where it can have it; reports where it cannot.
fn mirror_name(
    context: Context,
    other: Option<Spanned<String>>,
    name: &Spanned<String>,
) -> Option<Spanned<String>> {
    let other = other?;
    if !id::check_part_id(context, &other.value, other.span) {
        return None;
    }
    if other.value == name.value {
        context.find(
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
