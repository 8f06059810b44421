//! The types that a key of a plan may have.

use std::sync::Arc;

use jigless_model::diag::{Finding, Severity};
use jigless_model::hardware::FittingKind;
use jigless_model::joint::With;
use jigless_model::language::Language;
use jigless_model::operation::Depth;
use jigless_model::photograph::Chapter;
use jigless_model::plan::{CutBy, Grain, Stock, StockKind};
use jigless_model::side::{Corner, Edge, Face};
use jigless_model::source::{Span, Spanned};
use jigless_model::units::Unit;
use jigless_model::whole::{Direction, Motion};

use super::context::Context;
use super::field::{Field, Shape};
use super::fields::Fields;
use super::key_set::{KeySet, KeyType, key_types};
use crate::codes;
use crate::key_words;
use crate::load::Value;

/// The most repeats that one feature may ask for.
pub const MAX_REPEATS: u32 = 10_000;

key_types! {
    /// A length above zero, in millimetres.
    Size: Shape::Size => f64, |fields, key| fields.length(key);
    /// A length of zero or more, in millimetres.
    Distance: Shape::Distance => f64, |fields, key| fields.length(key);
    /// Any length, in millimetres.
    Length: Shape::Length => f64, |fields, key| fields.length(key);
    /// A number above zero.
    Number: Shape::Number => f64, |fields, key| fields.number(key);
    /// A whole number from 1.
    Count: Shape::Count => u32, |fields, key| fields.count(key);
    /// A whole number from 1, and no more than one feature may have of anything.
    Repeats: Shape::Count => u32, repeats;
    /// A whole number from 0, and no more than one feature may have of anything.
    AtHand: Shape::AtHand => u32, repeats;
    /// A list of whole numbers from 1, or one.
    Counts: Shape::Counts => Vec<Spanned<u32>>, |fields, key| {
        placed(fields, key, fields.counts(key))
    };
    /// A list of sizes, or one.
    Sizes: Shape::Sizes => Vec<Spanned<f64>>, |fields, key| {
        placed(fields, key, fields.lengths(key))
    };
    /// A list of texts, or one.
    Texts: Shape::Texts => Vec<Spanned<String>>, |fields, key| {
        placed(fields, key, fields.texts(key))
    };
    /// One edge or several.
    Edges: Shape::Edges => Vec<Spanned<Edge>>, |fields, key| {
        placed(fields, key, fields.words(key))
    };
    /// One corner or several.
    Corners: Shape::Corners => Vec<Spanned<Corner>>, |fields, key| {
        placed(fields, key, fields.words(key))
    };
    /// Yes or no.
    YesNo: Shape::Word(&["yes", "no"]) => bool, |fields, key| {
        Some(fields.word(key)?.map(|word| word == "yes"))
    };
    /// True or false.
    TrueFalse: Shape::Word(&["true", "false"]) => bool, |fields, key| {
        Some(fields.word(key)?.map(|word| word == "true"))
    };
}

/// Degrees between two numbers.
#[derive(Debug)]
pub enum Degrees<const LOW: i32, const HIGH: i32> {}

impl<const LOW: i32, const HIGH: i32> KeyType for Degrees<LOW, HIGH> {
    type Value = f64;
    const SHAPE: Shape = Shape::Degrees(LOW as f64, HIGH as f64);

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<f64>> {
        fields.degrees(key)
    }
}

/// A map with keys of its own.
#[derive(Debug)]
pub struct Map<K>(std::marker::PhantomData<K>);

impl<K: KeySet> KeyType for Map<K> {
    type Value = K;
    const SHAPE: Shape = Shape::Map(K::FIELDS);

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<K>> {
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

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Vec<K>>> {
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

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Self::Value>> {
        let found = fields.has(key).then(|| T::read_key(fields, key)).flatten();
        let span = found.as_ref().map_or(fields.span, |found| found.span);
        Some(Spanned::new(found.map(|found| found.value), span))
    }
}

/// What is declared here and read elsewhere, against other names or entry by entry.
#[derive(Debug)]
pub struct Unread<T>(std::marker::PhantomData<T>);

impl<T: KeyType> KeyType for Unread<T> {
    type Value = ();
    const SHAPE: Shape = T::SHAPE;

    fn read_key(fields: &Fields, _: &'static str) -> Option<Spanned<()>> {
        Some(Spanned::new((), fields.span))
    }
}

/// What the author wrote for a type, unread: for a joint or feature that reads it.
#[derive(Debug)]
pub struct Written<T>(std::marker::PhantomData<T>);

impl<T: KeyType> KeyType for Written<T> {
    type Value = Value;
    const SHAPE: Shape = T::SHAPE;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Value>> {
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

    fn read_key(fields: &Fields, _: &'static str) -> Option<Spanned<Span>> {
        Some(Spanned::new(fields.span, fields.span))
    }
}

impl KeyType for String {
    type Value = String;
    const SHAPE: Shape = Shape::Text;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<String>> {
        fields.text(key)
    }
}

impl KeyType for Depth {
    type Value = Depth;
    const SHAPE: Shape = Shape::Depth;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Depth>> {
        fields.depth(key)
    }
}

/// The stock of a name; reports where there is none.
impl KeyType for Arc<Stock> {
    type Value = Arc<Stock>;
    const SHAPE: Shape = Shape::Text;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Arc<Stock>>> {
        let name = fields.text(key)?;
        let stock = fields.context().stock(&name)?;
        Some(Spanned::new(stock, name.span))
    }
}

key_words!(Face: Shape::Face, Edge: Shape::Edge);
key_words!(
    Grain,
    StockKind,
    CutBy,
    FittingKind,
    With,
    Severity,
    Motion,
    Direction,
    Language,
    Chapter,
    Unit
);

/// What was read of a list, with the place of the whole list.
fn placed<T>(fields: &Fields, key: &str, read: Option<T>) -> Option<Spanned<T>> {
    let span = fields.node(key).map_or(fields.span, |node| node.span);
    Some(Spanned::new(read?, span))
}

fn repeats(fields: &Fields, key: &'static str) -> Option<Spanned<u32>> {
    let count = fields.count(key)?;
    checked_repeats(fields.context(), f64::from(count.value), count.span)?;
    Some(count)
}

/// Reports a number of repeats that no one feature needs.
pub fn checked_repeats(context: Context, count: f64, span: Span) -> Option<u32> {
    if count <= f64::from(MAX_REPEATS) {
        return Some(count as u32);
    }
    context.find(
        Finding::error(
            codes::TOO_MANY_REPEATS,
            span,
            format!("this asks for {count} repeats; one feature may have {MAX_REPEATS}"),
        )
        .fix("check the count and the step"),
    );
    None
}
