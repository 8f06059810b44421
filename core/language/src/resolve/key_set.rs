//! Sets of keys: one declaration gives the struct, its reader and everything that is said of the keys.

use jigless_model::provenance::Source;
use jigless_model::source::Spanned;

use super::context::Context;
use super::field::{Field, Need, Shape};
use super::fields::Fields;
use crate::load::Node;

/// A set of keys that is declared with [`fields!`](crate::fields).
pub trait KeySet: Sized {
    /// The keys, for messages, the manual and the schema.
    const FIELDS: &'static [Field];

    /// Reads every key before it gives up, so that all faults of a map are reported at once. `None` where there was one.
    fn read(fields: &Fields) -> Option<Self>;
}

/// What a member of a set of keys is read as.
pub trait KeyType {
    /// What the member holds.
    type Value;
    /// What belongs there in a plan.
    const SHAPE: Shape;
    /// Whether the key may be left out without a default.
    const OPTIONAL: bool = false;
    /// The keys that stand beside the others, where the member is a set of keys itself.
    const INCLUDED: Option<&'static [Field]> = None;

    /// Reads the value of a key, or its default. `None` where there is nothing usable, which has been reported.
    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Self::Value>>;
}

/// Declares a set of keys, and a struct with what is read from them.
///
/// ```
/// use jigless_language::resolve::{Distance, KeySet, Size, Spanned};
///
/// jigless_language::fields! {
///     /// A hole for a cable.
///     pub struct CableHole {
///         /// diameter of the hole
///         diameter: Spanned<Size> = "60 mm" [CommonPractice],
///         /// how far its rim is rounded
///         rounding: Option<Distance>,
///     }
/// }
/// assert_eq!(CableHole::FIELDS[0].key, "diameter");
/// assert_eq!(CableHole::FIELDS[0].meaning(), "diameter of the hole (common practice, no source)");
/// ```
///
/// - The comment of a member is what messages, the manual and the schema say of its key.
/// - Its type is a [`KeyType`]: the member holds that type's value (`Size` a length in millimetres). `Option` is a key
///   that may be left out, `Spanned` keeps the place of the value, `Map` and `Maps` take maps with keys of their own.
/// - `= "60 mm"` is the default, read as an author's text is; behind it in brackets is the [`Source`] of it.
/// - A key that is no name of a member is written after it: `room as "in": ...`.
/// - A member whose type is a set of keys takes those keys into this map.
/// - `for Door { ... }` in place of `struct` declares the keys of a struct that is there already.
/// - `one of "radius", "chamfer";` behind the struct asks for one of some keys and reports none and of several.
#[macro_export]
macro_rules! fields {
    (
        $(#[$meta:meta])*
        $vis:vis struct $name:ident {
            $(
                $(#[doc = $doc:literal])*
                $member:ident $(as $key:literal)? : $type:ty
                    $(= $default:literal)? $([$($source:tt)+])?
            ),* $(,)?
        }
        $(one of $($choice:literal),+;)*
    ) => {
        $(#[$meta])*
        #[allow(
            clippy::pub_underscore_fields,
            clippy::doc_markdown,
            reason = "a key that others read is marked by its name; what is said of a key is for users"
        )]
        #[derive(Debug)]
        $vis struct $name {
            $(
                $(#[doc = $doc])*
                $vis $member: <$type as $crate::resolve::KeyType>::Value
            ),*
        }

        $crate::fields! {
            for $name {
                $(
                    $(#[doc = $doc])*
                    $member $(as $key)? : $type $(= $default)? $([$($source)+])?
                ),*
            }
            $(one of $($choice),+;)*
        }
    };
    (
        for $name:ty {
            $(
                $(#[doc = $doc:literal])*
                $member:ident $(as $key:literal)? : $type:ty
                    $(= $default:literal)? $([$($source:tt)+])?
            ),* $(,)?
        }
        $(one of $($choice:literal),+;)*
    ) => {
        impl $crate::resolve::KeySet for $name {
            const FIELDS: &'static [$crate::resolve::Field] = {
                const ENTRIES: &[$crate::resolve::Declared] = &[$(
                    $crate::resolve::Declared::new::<$type>(
                        $crate::fields!(@key $member $($key)?),
                        &[$($default)?],
                        concat!($($doc),*),
                        &[$($crate::resolve::Source::$($source)+)?],
                    )
                ),*];
                const ALL: [$crate::resolve::Field; $crate::resolve::Declared::count(ENTRIES)] =
                    $crate::resolve::Declared::joined(ENTRIES);
                &ALL
            };

            fn read(fields: &$crate::resolve::Fields) -> Option<Self> {
                $(
                    let $member = <$type as $crate::resolve::KeyType>::read_key(
                        fields,
                        $crate::fields!(@key $member $($key)?),
                    );
                )*
                let chosen: &[bool] = &[$(fields.exactly_one(&[$($choice),+]).is_some()),*];
                if chosen.contains(&false) {
                    return None;
                }
                Some(Self {
                    $($member: $member?.value),*
                })
            }
        }

        impl $crate::resolve::KeyType for $name {
            type Value = Self;
            const SHAPE: $crate::resolve::Shape =
                $crate::resolve::Shape::Map(<Self as $crate::resolve::KeySet>::FIELDS);
            const INCLUDED: Option<&'static [$crate::resolve::Field]> =
                Some(<Self as $crate::resolve::KeySet>::FIELDS);

            fn read_key(
                fields: &$crate::resolve::Fields,
                _: &'static str,
            ) -> Option<$crate::resolve::Spanned<Self>> {
                let read = <Self as $crate::resolve::KeySet>::read(fields);
                read.map(|keys| $crate::resolve::Spanned::new(keys, fields.span))
            }
        }
    };
    (@key $member:ident) => {
        stringify!($member)
    };
    (@key $member:ident $key:literal) => {
        $key
    };
}

/// A member of a set of keys as it is declared: a key, or a set of keys that it takes in. For [`fields!`](crate::fields).
#[derive(Debug, Clone, Copy)]
pub enum Declared {
    /// One key.
    One(Field),
    /// The keys of another set.
    Included(&'static [Field]),
}

impl Declared {
    /// A member of a type; `default` and `source` hold one entry or none.
    pub const fn new<T: KeyType>(
        key: &'static str,
        default: &[&'static str],
        help: &'static str,
        source: &[Source],
    ) -> Self {
        if let Some(included) = T::INCLUDED {
            return Declared::Included(included);
        }
        let need = match default.first() {
            Some(default) => Need::Default(default),
            None if T::OPTIONAL => Need::Optional,
            None => Need::Required,
        };
        Declared::One(Field {
            key,
            shape: T::SHAPE,
            need,
            help: help.trim_ascii(),
            source: match source.first() {
                Some(source) => Some(*source),
                None => None,
            },
        })
    }

    /// How many keys some members have together.
    pub const fn count(members: &[Declared]) -> usize {
        let (mut count, mut index) = (0, 0);
        while index < members.len() {
            count += match members[index] {
                Declared::One(_) => 1,
                Declared::Included(fields) => fields.len(),
            };
            index += 1;
        }
        count
    }

    /// The keys of some members, in order; as many as [`Declared::count`] says.
    pub const fn joined<const COUNT: usize>(members: &[Declared]) -> [Field; COUNT] {
        let mut all = [Field::optional("", Shape::Text, ""); COUNT];
        let (mut filled, mut index) = (0, 0);
        while index < members.len() {
            match members[index] {
                Declared::One(field) => {
                    all[filled] = field;
                    filled += 1;
                }
                Declared::Included(fields) => {
                    let mut next = 0;
                    while next < fields.len() {
                        all[filled] = fields[next];
                        filled += 1;
                        next += 1;
                    }
                }
            }
            index += 1;
        }
        all
    }
}

impl<T: KeyType> KeyType for Option<T> {
    type Value = Option<T::Value>;
    const SHAPE: Shape = T::SHAPE;
    const OPTIONAL: bool = true;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Self::Value>> {
        if fields.has(key) {
            T::read_key(fields, key).map(|found| found.map(Some))
        } else {
            Some(Spanned::new(None, fields.span))
        }
    }
}

impl<T: KeyType> KeyType for Spanned<T> {
    type Value = Spanned<T::Value>;
    const SHAPE: Shape = T::SHAPE;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Self::Value>> {
        let found = T::read_key(fields, key)?;
        let span = found.span;
        Some(Spanned::new(found, span))
    }
}

/// Declares types of keys that hold another value than themselves, each with a function that reads it.
macro_rules! key_types {
    ($($(#[$meta:meta])* $name:ident: $shape:expr => $value:ty, $read:expr;)+) => {$(
        $(#[$meta])*
        #[derive(Debug)]
        pub enum $name {}

        impl KeyType for $name {
            type Value = $value;
            const SHAPE: Shape = $shape;

            fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<$value>> {
                let read: fn(&Fields, &'static str) -> Option<Spanned<$value>> = $read;
                read(fields, key)
            }
        }
    )+};
}

pub(crate) use key_types;

/// A reader of a value that is no single text.
pub(super) fn at_node<T>(
    fields: &Fields,
    key: &'static str,
    read: impl FnOnce(Context, &Node) -> Option<T>,
) -> Option<Spanned<T>> {
    let node = fields.required_node(key)?;
    Some(Spanned::new(read(fields.context(), node)?, node.span))
}

/// Implements [`KeyType`] for enums that are declared with [`words!`](jigless_model::words).
#[macro_export]
macro_rules! key_words {
    ($($name:ident: $shape:expr),+ $(,)?) => {$(
        impl $crate::resolve::KeyType for $name {
            type Value = $name;
            const SHAPE: $crate::resolve::Shape = $shape;

            fn read_key(
                fields: &$crate::resolve::Fields,
                key: &'static str,
            ) -> Option<$crate::resolve::Spanned<$name>> {
                fields.word_of(key)
            }
        }
    )+};
    ($($name:ident),+ $(,)?) => {
        $crate::key_words!($(
            $name: $crate::resolve::Shape::Word(<$name as $crate::resolve::Word>::WORDS)
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

            fn read_key(
                fields: &$crate::resolve::Fields,
                key: &'static str,
            ) -> Option<$crate::resolve::Spanned<$words>> {
                let word = fields.word(key)?;
                let found = <$words as $crate::resolve::Word>::of_word(word.value)?;
                Some($crate::resolve::Spanned::new(found, word.span))
            }
        }
    };
}
