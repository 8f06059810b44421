//! The types that a key of a plan may have.

use std::sync::Arc;

use super::context::Context;
use super::field::{Field, Shape};
use super::fields::Fields;
use super::key_set::{KeySet, KeyType};
use super::place::{Place, read_edge_distances, read_step};
use super::placement::{read_placements, read_triple};
use super::spread::{Spread, repeats_of};
use crate::diag::Severity;
use crate::geom::Point;
use crate::hardware::FittingKind;
use crate::load::{Node, Value};
use crate::operation::Depth;
use crate::plan::{CutBy, Grain, Stock, StockKind};
use crate::side::{Corner, Edge, Face};
use crate::source::{Span, Spanned};
use crate::whole::{Direction, Motion, Placement, Triple};

/// Implements [`KeyType`] for types that a method of [`Fields`] reads.
macro_rules! key_types {
    ($($(#[$meta:meta])* $name:ident: $shape:expr => $value:ty, $read:expr;)+) => {$(
        $(#[$meta])*
        #[derive(Debug)]
        pub enum $name {}

        impl KeyType for $name {
            type Value = $value;
            const SHAPE: Shape = $shape;

            fn read(fields: &Fields, key: &'static str) -> Option<Spanned<$value>> {
                $read(fields, key)
            }
        }
    )+};
}

key_types! {
    /// A length above zero, in millimetres.
    Size: Shape::Size => f64, Fields::length;
    /// A length of zero or more, in millimetres.
    Distance: Shape::Distance => f64, Fields::length;
    /// Any length, in millimetres.
    Length: Shape::Length => f64, Fields::length;
    /// A number above zero.
    Number: Shape::Number => f64, Fields::number;
    /// A whole number from 1.
    Count: Shape::Count => u32, Fields::count;
    /// A whole number from 1, and no more than one feature may have of anything.
    Repeats: Shape::Count => u32, repeats_of;
    /// A list of sizes, or one.
    Sizes: Shape::Sizes => Vec<Spanned<f64>>, |fields: &Fields, key| {
        placed(fields, key, fields.lengths(key))
    };
    /// A list of texts, or one.
    Texts: Shape::Texts => Vec<Spanned<String>>, |fields: &Fields, key| {
        placed(fields, key, fields.texts(key))
    };
    /// One edge or several.
    Edges: Shape::Edges => Vec<Spanned<Edge>>, |fields: &Fields, key| {
        placed(fields, key, fields.words(key))
    };
    /// One corner or several.
    Corners: Shape::Corners => Vec<Spanned<Corner>>, |fields: &Fields, key| {
        placed(fields, key, fields.words(key))
    };
    /// A vector.
    Step: Shape::Step => Point, |fields: &Fields, key| {
        fields.required_node(key).and_then(|node| read_step(fields.context(), node))
    };
    /// Distances from edges.
    EdgeDistances: Shape::EdgeDistances => Vec<(Spanned<Edge>, f64)>, |fields: &Fields, key| {
        at_node(fields, key, read_edge_distances)
    };
    /// A place in the whole, or a list of them.
    Placements: Shape::Placements => Vec<Spanned<Placement>>, |fields: &Fields, key| {
        at_node(fields, key, read_placements)
    };
    /// Yes or no.
    YesNo: Shape::Word(&["yes", "no"]) => bool, |fields: &Fields, key| {
        Some(fields.word(key)?.map(|word| word == "yes"))
    };
    /// True or false.
    TrueFalse: Shape::Word(&["true", "false"]) => bool, |fields: &Fields, key| {
        Some(fields.word(key)?.map(|word| word == "true"))
    };
}

/// Degrees between two numbers.
#[derive(Debug)]
pub enum Degrees<const LOW: i32, const HIGH: i32> {}

impl<const LOW: i32, const HIGH: i32> KeyType for Degrees<LOW, HIGH> {
    type Value = f64;
    const SHAPE: Shape = Shape::Degrees(LOW as f64, HIGH as f64);

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<f64>> {
        fields.degrees(key)
    }
}

/// A map with keys of its own.
#[derive(Debug)]
pub struct Map<K>(std::marker::PhantomData<K>);

impl<K: KeySet> KeyType for Map<K> {
    type Value = K;
    const SHAPE: Shape = Shape::Map(K::FIELDS);

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<K>> {
        let map = fields.map(key)?;
        Some(Spanned::new(K::read(&map)?, map.span))
    }
}

/// A list of maps, each with these keys; none where the key is left out.
#[derive(Debug)]
pub struct Maps<K>(std::marker::PhantomData<K>);

impl<K: KeySet> KeyType for Maps<K> {
    type Value = Vec<K>;
    const SHAPE: Shape = Shape::Maps(K::FIELDS);
    const OPTIONAL: bool = true;

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<Vec<K>>> {
        let Some(node) = fields.node(key) else {
            return Some(Spanned::new(Vec::new(), fields.span));
        };
        let Value::List(items) = &node.value else {
            fields.wrong(fields.field(key), node);
            return None;
        };
        let what = format!("an entry of {key}");
        let read: Vec<Option<K>> = items
            .iter()
            .map(|item| {
                let map = Fields::new(fields.context(), &what, item.span, item, K::FIELDS)?;
                K::read(&map)
            })
            .collect();
        let all = read.into_iter().collect::<Option<Vec<K>>>()?;
        Some(Spanned::new(all, node.span))
    }
}

/// A key that may be left out and that counts as left out where it has a fault, so that what it stands beside is still
/// looked at.
#[derive(Debug)]
pub struct Lenient<T>(std::marker::PhantomData<T>);

impl<T: KeyType> KeyType for Lenient<T> {
    type Value = Option<T::Value>;
    const SHAPE: Shape = T::SHAPE;
    const OPTIONAL: bool = true;

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<Self::Value>> {
        let found = fields.has(key).then(|| T::read(fields, key)).flatten();
        let span = found.as_ref().map_or(fields.span, |found| found.span);
        Some(Spanned::new(found.map(|found| found.value), span))
    }
}

/// What the author wrote for a type, unread: for a joint or feature that reads it.
#[derive(Debug)]
pub struct Written<T>(std::marker::PhantomData<T>);

impl<T: KeyType> KeyType for Written<T> {
    type Value = Value;
    const SHAPE: Shape = T::SHAPE;

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<Value>> {
        let node = fields.required_node(key)?;
        Some(Spanned::new(node.value.clone(), node.span))
    }
}

/// The place of the whole map; no key of it.
#[derive(Debug)]
pub enum Here {}

impl KeyType for Here {
    type Value = Span;
    const SHAPE: Shape = Shape::Map(&[]);
    const INCLUDED: Option<&'static [Field]> = Some(&[]);

    fn read(fields: &Fields, _: &'static str) -> Option<Spanned<Span>> {
        Some(Spanned::new(fields.span, fields.span))
    }
}

impl KeyType for String {
    type Value = String;
    const SHAPE: Shape = Shape::Text;

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<String>> {
        fields.text(key)
    }
}

impl KeyType for Depth {
    type Value = Depth;
    const SHAPE: Shape = Shape::Depth;

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<Depth>> {
        fields.depth(key)
    }
}

impl KeyType for Place {
    type Value = Place;
    const SHAPE: Shape = Shape::Place;

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<Place>> {
        at_node(fields, key, Place::read)
    }
}

impl KeyType for Triple {
    type Value = Triple;
    const SHAPE: Shape = Shape::Triple;

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<Triple>> {
        at_node(fields, key, read_triple)
    }
}

impl KeyType for Spread {
    type Value = Spread;
    const SHAPE: Shape = Shape::Spread;

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<Spread>> {
        at_node(fields, key, Spread::read)
    }
}

/// The stock of a name; tells where there is none.
impl KeyType for Arc<Stock> {
    type Value = Arc<Stock>;
    const SHAPE: Shape = Shape::Text;

    fn read(fields: &Fields, key: &'static str) -> Option<Spanned<Arc<Stock>>> {
        let name = fields.text(key)?;
        let stock = fields.context().stock(&name)?;
        Some(Spanned::new(stock, name.span))
    }
}

/// Implements [`KeyType`] for enums that are declared with [`words!`](crate::words).
#[macro_export]
macro_rules! key_words {
    ($($name:ident: $shape:expr),+ $(,)?) => {$(
        impl $crate::resolve::KeyType for $name {
            type Value = $name;
            const SHAPE: $crate::resolve::Shape = $shape;

            fn read(
                fields: &$crate::resolve::Fields,
                key: &'static str,
            ) -> Option<$crate::source::Spanned<$name>> {
                fields.word_of(key)
            }
        }
    )+};
    ($($name:ident),+ $(,)?) => {
        $crate::key_words!($(
            $name: $crate::resolve::Shape::Word(<$name as $crate::words::Word>::WORDS)
        ),+);
    };
}

/// Declares a [`KeyType`] for some of the words of an enum: `HingeSide of Edge: Left, Right`.
#[macro_export]
macro_rules! some_words {
    ($(#[$meta:meta])* $vis:vis $name:ident of $words:ident: $($variant:ident),+) => {
        $(#[$meta])*
        #[derive(Debug)]
        $vis enum $name {}

        impl $crate::resolve::KeyType for $name {
            type Value = $words;
            const SHAPE: $crate::resolve::Shape =
                $crate::resolve::Shape::Word(&[$($words::$variant.name()),+]);

            fn read(
                fields: &$crate::resolve::Fields,
                key: &'static str,
            ) -> Option<$crate::source::Spanned<$words>> {
                let word = fields.word(key)?;
                let found = <$words as $crate::words::Word>::of_word(word.value)?;
                Some($crate::source::Spanned::new(found, word.span))
            }
        }
    };
}

key_words!(Face: Shape::Face, Edge: Shape::Edge);
key_words!(
    Grain,
    StockKind,
    CutBy,
    FittingKind,
    Severity,
    Motion,
    Direction
);

/// What was read of a list, with the place of the whole list.
fn placed<T>(fields: &Fields, key: &str, read: Option<T>) -> Option<Spanned<T>> {
    let span = fields.node(key).map_or(fields.span, |node| node.span);
    Some(Spanned::new(read?, span))
}

/// A reader of a value that is no single text.
fn at_node<T>(
    fields: &Fields,
    key: &'static str,
    read: impl FnOnce(Context, &Node) -> Option<T>,
) -> Option<Spanned<T>> {
    let node = fields.required_node(key)?;
    Some(Spanned::new(read(fields.context(), node)?, node.span))
}
