//! Writing parts as a builder's author would: the nodes of a plan, made in code.

use jigless_model::hardware::FittingKind;
use jigless_model::plan::Grain;
use jigless_model::source::{Span, Spanned};
use jigless_model::whole::Placement;

use crate::load::{Entry, Node, Scalar, Value};

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
    /// How it moves: one of the words of [`jigless_model::whole::Motion`].
    pub moves: Option<&'static str>,
    /// Hardware that goes with each piece: what and how many.
    pub fittings: Vec<(FittingKind, u32)>,
    /// What its mirror image is called on paper.
    pub mirror_title: Option<String>,
    /// Labels of its edges: `("left", "front edge")`.
    pub edges: Vec<(&'static str, String)>,
    /// Labels of its faces: `("front", "inside")`.
    pub faces: Vec<(&'static str, String)>,
    /// What is done to it: a key of a feature and its fields, made with [`entry`], [`length`] and the like.
    pub features: Vec<(&'static str, Vec<(&'static str, Value)>)>,
}

impl PartDraft {
    /// One part of nothing.
    pub fn new() -> Self {
        Self {
            count: 1,
            ..Self::default()
        }
    }

    /// The entry of `parts:` that an author would have written.
    pub(super) fn into_entry(self, id: String, span: Span) -> Entry {
        let at = |value: Value| Node { span, value };
        let labels = |labels: Vec<(&'static str, String)>| {
            let labels = labels.into_iter().map(|(side, label)| (side, text(&label)));
            map(span, labels)
        };
        let mut fields = vec![
            ("title", text(&self.title)),
            ("stock", text(&self.stock)),
            ("width", length(self.width)),
            ("height", length(self.height)),
        ];
        match self.grain {
            Grain::Width => fields.push(("grain", text("width"))),
            Grain::Height => fields.push(("grain", text("height"))),
            Grain::None => {}
        }
        if self.count != 1 {
            fields.push(("count", text(&self.count.to_string())));
        }
        if !self.faces.is_empty() {
            fields.push(("faces", labels(self.faces)));
        }
        if !self.edges.is_empty() {
            fields.push(("edges", labels(self.edges)));
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
            fields.push(("moves", text(moves)));
        }
        if !self.fittings.is_empty() {
            let fittings = self.fittings.iter().map(|(kind, count)| {
                map(
                    span,
                    [
                        ("what", text(kind.name())),
                        ("count", text(&count.to_string())),
                    ],
                )
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
    let rounded = (mm * GRID).round() / GRID;
    // Adding zero turns -0 into 0.
    text(&format!("{} mm", rounded + 0.0))
}

/// A single value.
pub fn text(text: &str) -> Value {
    Value::Scalar(Scalar {
        text: text.to_owned(),
        quoted: false,
    })
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
