//! Writing parts as a builder's author would: the nodes of a plan, made in code.

use crate::length::{Expression, Kind, Quantity};
use crate::load::{Entry, Node, Scalar, Value};
use jigless_model::hardware::FittingKind;
use jigless_model::plan::Grain;
use jigless_model::side::{Edge, Face};
use jigless_model::source::{Span, Spanned};
use jigless_model::whole::{Motion, Placement};

/// The keys of a feature or joint with their values.
pub type Keys = Vec<(&'static str, Value)>;

/// A feature as a plan has it: its key, and its own keys.
pub type FeatureDraft = (&'static str, Keys);

/// A part that a builder makes, before it is an entry of the plan.
#[derive(Debug, Clone, Default)]
pub struct PartDraft {
    /// What it is called on paper.
    pub title: String,
    /// Name of its stock.
    pub stock: String,
    /// Size to the right, in millimetres.
    pub width: f64,
    /// Size upward, in millimetres.
    pub height: f64,
    /// Which way its grain runs.
    pub grain: Grain,
    /// How many are needed.
    pub count: u32,
    /// The name of its mirror image, if it is one of a handed pair.
    pub mirror_as: Option<String>,
    /// Where its pieces are in the whole.
    pub places: Vec<Placement>,
    /// Where the pieces of its mirror image are.
    pub mirror_places: Vec<Placement>,
    /// What it is put together with before the whole.
    pub group: Option<String>,
    /// How it moves.
    pub moves: Option<Motion>,
    /// Whether it lies or stands where it is by its own weight.
    pub loose: bool,
    /// Hardware that goes with each piece: what and how many.
    pub fittings: Vec<(FittingKind, u32)>,
    /// What its mirror image is called on paper.
    pub mirror_title: Option<String>,
    /// Labels of its edges.
    pub edges: Vec<(Edge, &'static str)>,
    /// Labels of its faces.
    pub faces: Vec<(Face, &'static str)>,
    /// What is done to it, made with [`length`], [`list`] and the like.
    pub features: Vec<FeatureDraft>,
}

/// How much of the plan's budget a feature takes: itself and the entries of its lists.
pub(super) fn things(keys: &Keys) -> usize {
    let listed = keys.iter().map(|(_, value)| match value {
        Value::List(items) => items.len(),
        Value::Map(_) | Value::Scalar(_) | Value::Null => 0,
    });
    1 + listed.sum::<usize>()
}

impl PartDraft {
    /// One part of nothing.
    pub fn new() -> Self {
        Self {
            count: 1,
            ..Self::default()
        }
    }

    /// How much of the plan's budget it takes: itself, its features and what they list.
    pub(super) fn things(&self) -> usize {
        let of_features = self.features.iter().map(|(_, keys)| things(keys));
        1 + self.places.len() + self.mirror_places.len() + of_features.sum::<usize>()
    }

    /// The entry of `parts:` that an author would have written.
    pub(super) fn into_entry(self, id: String, span: Span) -> Entry {
        let at = |value: Value| Node { span, value };
        let mut fields = vec![
            ("title", text(&self.title)),
            ("stock", text(&self.stock)),
            ("width", length(self.width)),
            ("height", length(self.height)),
        ];
        if self.grain != Grain::None {
            fields.push(("grain", text(self.grain.name())));
        }
        if self.count != 1 {
            fields.push(("count", number(self.count)));
        }
        if !self.faces.is_empty() {
            let faces = self
                .faces
                .iter()
                .map(|(face, label)| (face.name(), text(label)));
            fields.push(("faces", map(span, faces)));
        }
        if !self.edges.is_empty() {
            let edges = self
                .edges
                .iter()
                .map(|(edge, label)| (edge.name(), text(label)));
            fields.push(("edges", map(span, edges)));
        }
        if let Some(other) = &self.mirror_as {
            fields.push(("mirror_as", text(other)));
        }
        if let Some(title) = &self.mirror_title {
            fields.push(("mirror_title", text(title)));
        }
        if !self.places.is_empty() {
            fields.push(("place", placements(span, &self.places)));
        }
        if !self.mirror_places.is_empty() {
            fields.push(("mirror_place", placements(span, &self.mirror_places)));
        }
        if let Some(group) = &self.group {
            fields.push(("group", text(group)));
        }
        if let Some(moves) = self.moves {
            fields.push(("moves", text(moves.name())));
        }
        if self.loose {
            fields.push(("loose", text("yes")));
        }
        if !self.fittings.is_empty() {
            let fittings = self.fittings.iter().map(|(kind, count)| {
                let keys = [("what", text(kind.name())), ("count", number(*count))];
                map(span, keys)
            });
            fields.push(("fittings", list(span, fittings)));
        }
        if !self.features.is_empty() {
            let features = self
                .features
                .into_iter()
                .map(|(key, fields)| at(map(span, [(key, map(span, fields))])));
            fields.push(("features", Value::List(features.collect())));
        }
        Entry {
            key: Spanned::new(id, span),
            value: at(map(span, fields)),
        }
    }
}

fn placements(span: Span, places: &[Placement]) -> Value {
    let one = |place: &Placement| {
        let keys = [
            ("at", list(span, place.at.map(length))),
            ("width", text(place.width.name())),
            ("height", text(place.height.name())),
        ];
        map(span, keys)
    };
    match places {
        [place] => one(place),
        _ => list(span, places.iter().map(one)),
    }
}

/// A length in millimetres, on a grid of a millionth of a micrometre so that noise of the arithmetic does not show.
pub fn length(mm: f64) -> Value {
    const GRID: f64 = 1e9;
    // Adding zero turns -0 into 0.
    let rounded = (mm * GRID).round() / GRID + 0.0;
    meaning(format!("{rounded} mm"), Quantity::length(rounded))
}

/// A whole number.
pub fn number(number: u32) -> Value {
    meaning(number.to_string(), Quantity::bare(f64::from(number)))
}

/// An angle in degrees.
pub fn degrees(degrees: f64) -> Value {
    let kind = Kind::Angle;
    meaning(
        degrees.to_string(),
        Quantity {
            value: degrees,
            kind,
        },
    )
}

fn meaning(text: String, quantity: Quantity) -> Value {
    Value::Scalar(Scalar::meaning(text, Expression::of(quantity)))
}

/// A single text.
pub fn text(text: &str) -> Value {
    Value::Scalar(Scalar::plain(text))
}

/// A point of a part.
pub fn point(span: Span, x: f64, y: f64) -> Value {
    list(span, [length(x), length(y)])
}

/// The hardware that a hole takes.
pub fn hardware(span: Span, kind: FittingKind, mm: Option<f64>, gauge: Option<&str>) -> Value {
    let mut keys = vec![("what", text(kind.name()))];
    keys.extend(mm.map(|mm| ("length", length(mm))));
    keys.extend(gauge.map(|gauge| ("gauge", text(gauge))));
    map(span, keys)
}

/// A list of values.
pub fn list(span: Span, items: impl IntoIterator<Item = Value>) -> Value {
    let node = |value| Node { span, value };
    Value::List(items.into_iter().map(node).collect())
}

/// A map of keys to values.
pub fn map<K: Into<String>>(span: Span, entries: impl IntoIterator<Item = (K, Value)>) -> Value {
    let entries = entries
        .into_iter()
        .map(|(key, value)| entry(span, key, value));
    Value::Map(entries.collect())
}

/// A key and its value.
pub fn entry(span: Span, key: impl Into<String>, value: Value) -> Entry {
    Entry {
        key: Spanned::new(key.into(), span),
        value: Node { span, value },
    }
}
