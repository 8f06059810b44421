//! What a map in a plan may hold: declared once, used for reading, for messages and for documentation.

use jigless_model::provenance::Source;

/// One key of a map.
#[derive(Debug, Clone, Copy)]
pub struct Field {
    /// The key.
    pub key: &'static str,
    /// What belongs there.
    pub shape: Shape,
    /// Whether it must be given.
    pub need: Need,
    /// What it means, with its unit where the shape does not say.
    pub help: &'static str,
    /// Where its default comes from.
    pub source: Option<Source>,
}

/// Whether a key must be given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// It must.
    Required,
    /// It may be left out, and then there is none.
    Optional,
    /// It may be left out, and then this text is read in its place.
    Default(&'static str),
}

/// What belongs to a key.
#[derive(Debug, Clone, Copy)]
pub enum Shape {
    /// Any text.
    Text,
    /// One of these words.
    Word(&'static [&'static str]),
    /// One of these words or several.
    Words(&'static [&'static str]),
    /// A length above zero.
    Size,
    /// A length of zero or more.
    Distance,
    /// Any length.
    Length,
    /// A length above zero, or `through`.
    Depth,
    /// Degrees, at least the first and at most the second number.
    Degrees(f64, f64),
    /// A number above zero.
    Number,
    /// A whole number from 1.
    Count,
    /// A whole number from 1, or a list of them.
    Counts,
    /// A whole number from 0: how many there are already.
    AtHand,
    /// A point: `[x, y]` from left and bottom, or a distance from each of two edges.
    Place,
    /// A vector: `[dx, dy]`.
    Step,
    /// A point of the whole: `[x, y, z]`.
    Triple,
    /// Positions along an edge.
    Spread,
    /// One edge.
    Edge,
    /// One edge or a list of them.
    Edges,
    /// One corner or a list of them.
    Corners,
    /// `front` or `back`.
    Face,
    /// A list of sizes, or one.
    Sizes,
    /// Distances from edges: `{left: 37, right: 37}`.
    EdgeDistances,
    /// The points of an outline.
    Points,
    /// A map with keys of its own.
    Map(&'static [Field]),
    /// A list of such maps.
    Maps(&'static [Field]),
    /// Free labels: a map from each of these words to a text.
    Labels(&'static [&'static str]),
    /// Named values: a map of names to lengths and numbers.
    Values,
    /// Named stock.
    Stocks,
    /// Named parts.
    Parts,
    /// Named things that builders make.
    Builds,
    /// A list of texts.
    Texts,
    /// A place in the whole, or a list of them.
    Placements,
    /// A list of joints, each a map with one key.
    Joints,
    /// A map from codes of checks to reasons.
    Reasons,
    /// A list of features.
    Features,
    /// What the plan sets of the checks.
    Checks,
    /// What the parts do together.
    Usage,
}

impl Field {
    /// A key that must be given.
    pub const fn required(key: &'static str, shape: Shape, help: &'static str) -> Self {
        Self {
            key,
            shape,
            need: Need::Required,
            help,
            source: None,
        }
    }

    /// A key that may be left out.
    pub const fn optional(key: &'static str, shape: Shape, help: &'static str) -> Self {
        Self {
            key,
            shape,
            need: Need::Optional,
            help,
            source: None,
        }
    }

    /// A key that stands for `default` where it is left out.
    pub const fn with_default(
        key: &'static str,
        shape: Shape,
        default: &'static str,
        help: &'static str,
    ) -> Self {
        Self {
            key,
            shape,
            need: Need::Default(default),
            help,
            source: None,
        }
    }
}

impl Field {
    /// What it means, and where its default comes from.
    pub fn meaning(&self) -> String {
        match self.source {
            Some(source) => format!("{} ({})", self.help, source.sentence()),
            None => self.help.to_owned(),
        }
    }
}

impl Shape {
    /// What belongs there, in words for a message.
    pub fn describe(&self) -> String {
        match self {
            Shape::Text => "a text".to_owned(),
            Shape::Word(words) => one_of(words),
            Shape::Words(words) => format!("{}, or a list of them", one_of(words)),
            Shape::Size => "a length above 0, such as `18` or `3/4 in`".to_owned(),
            Shape::Length => "a length, such as `37` or `-1/2 in`".to_owned(),
            Shape::Distance => "a length of 0 or more, such as `37` or `1 1/2 in`".to_owned(),
            Shape::Depth => "a depth such as `12`, or `through`".to_owned(),
            Shape::Degrees(low, high) => format!("an angle from {low} to {high} degrees"),
            Shape::Number => "a number above 0".to_owned(),
            Shape::Count => "a whole number from 1".to_owned(),
            Shape::AtHand => "a whole number from 0".to_owned(),
            Shape::Counts => "a whole number from 1, or a list of them".to_owned(),
            Shape::Place => {
                "a place: `[x, y]` from left and bottom, or `{right: 37, top: 80}`".to_owned()
            }
            Shape::Step => "a step: `[dx, dy]`".to_owned(),
            Shape::Triple => "a place in the assembly: `[x, y, z]`".to_owned(),
            Shape::Spread => {
                "positions along the edge: `[60, 440]`, `{inset: 50, count: 4}`, `{inset: 50, most: 150}` or `{first: 37, step: 32, count: 12}`"
                    .to_owned()
            }
            Shape::Edge => "an edge: left, right, top or bottom".to_owned(),
            Shape::Edges => "an edge or a list of them: left, right, top, bottom".to_owned(),
            Shape::Corners => {
                "a corner or a list of them: bottom-left, bottom-right, top-right, top-left"
                    .to_owned()
            }
            Shape::Face => "front or back".to_owned(),
            Shape::Sizes => "a length above 0, or a list of them".to_owned(),
            Shape::EdgeDistances => "a distance for each edge: `{left: 37, right: 37}`".to_owned(),
            Shape::Points => {
                "a list of at least three points, each `[x, y]` or `{at: [x, y], radius: 10}`"
                    .to_owned()
            }
            Shape::Map(fields) => {
                let keys: Vec<&str> = fields.iter().map(|field| field.key).collect();
                format!("a map with {}", keys.join(", "))
            }
            Shape::Maps(fields) => format!("a list, each entry {}", Shape::Map(fields).describe()),
            Shape::Labels(words) => format!("a map of texts for {}", words.join(", ")),
            Shape::Values | Shape::Stocks | Shape::Parts | Shape::Builds => {
                "a name for each entry, and under it what it is".to_owned()
            }
            Shape::Texts => "a list of texts".to_owned(),
            Shape::Placements => {
                "a place in the assembly, such as `{at: [0, 0, 0], width: right, height: up}`, or a list of them"
                    .to_owned()
            }
            Shape::Joints => "a list of joints: `- butt: {part: shelf, to: side}`".to_owned(),
            Shape::Reasons => {
                "a map from codes of checks to reasons: `{thin-floor: the glue holds it}`".to_owned()
            }
            Shape::Features => "a list of features, such as `- hole: {...}`".to_owned(),
            Shape::Checks => {
                "a map from codes of checks to settings: `{thin-floor: {limit: 3}}`".to_owned()
            }
            Shape::Usage => "a list, each entry a map with one key, such as `- door: {...}`".to_owned(),
        }
    }
}

/// `a, b or c`.
pub(crate) fn one_of(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
