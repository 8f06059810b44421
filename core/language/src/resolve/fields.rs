//! Reading the keys of one map of a plan, with a finding for everything that is wrong.

use std::cell::RefCell;

use jigless_model::diag::{Finding, Renamed, nearest};
use jigless_model::operation::Depth;
use jigless_model::source::{Span, Spanned};
use jigless_model::words::Word;

use super::context::{Context, MIN_SIZE};
use super::field::{Field, Need, Shape};
use crate::codes;
use crate::length::Names;
use crate::load::{Entry, Node, Scalar, Value};
use crate::renamed;

/// The keys of one map, read by the fields that are declared for it.
///
/// Every method gives `None` when there is nothing usable, and has reported why if that is a fault. A key that is left out
/// and has a default gives the default, at the place of the whole map.
#[derive(Debug)]
pub struct Fields<'a> {
    context: Context<'a>,
    declared: &'static [Field],
    common: &'static [Field],
    entries: &'a [Entry],
    /// Where the map is, for what is missing.
    pub span: Span,
    /// What the map describes: `hole`.
    what: String,
    /// Missing keys that have been reported or must not be: one key may be asked for twice, or be there misspelt.
    reported: RefCell<Vec<&'static str>>,
}

impl<'a> Fields<'a> {
    /// Takes a map and reports keys that it must not have.
    pub fn new(
        context: Context<'a>,
        what: &str,
        span: Span,
        node: &'a Node,
        fields: &'static [Field],
    ) -> Option<Self> {
        Self::with_common(context, what, span, node, fields, &[])
    }

    /// The same for a map that takes keys besides its own.
    pub(super) fn with_common(
        context: Context<'a>,
        what: &str,
        span: Span,
        node: &'a Node,
        fields: &'static [Field],
        common: &'static [Field],
    ) -> Option<Self> {
        let entries: &[Entry] = match &node.value {
            Value::Map(entries) => entries,
            Value::Null => &[],
            _ => {
                context.find(
                    Finding::error(
                        codes::WRONG_KIND,
                        node.span,
                        format!("`{what}` is {}; it must be a map", node.kind()),
                    )
                    .fix(format!("write {}", Shape::Map(fields).describe())),
                );
                return None;
            }
        };
        let mut reported = Vec::new();
        for entry in entries {
            let key = entry.key.value.as_str();
            let mut all = fields.iter().chain(common);
            if !all.any(|field| field.key == key) {
                let keys: Vec<&'static str> =
                    fields.iter().chain(common).map(|field| field.key).collect();
                if let Some(renamed) = renamed::key(key, &keys) {
                    context.find(renamed_key(entries, entry, renamed));
                    continue;
                }
                let near = nearest(key, keys.iter().copied());
                context.find(
                    Finding::error(
                        codes::UNKNOWN_KEY,
                        entry.key.span,
                        format!("`{key}` is not a key of {what}"),
                    )
                    .fix(match near {
                        Some(near) => format!("did you mean `{near}`?"),
                        None => format!("its keys are {}", keys.join(", ")),
                    }),
                );
                // What is there under another spelling is not missing as well.
                reported.extend(near);
            }
        }
        Some(Self {
            context,
            declared: fields,
            common,
            entries,
            span,
            what: what.to_owned(),
            reported: RefCell::new(reported),
        })
    }

    /// The same map read against other names; nothing is reported its keys again.
    pub(super) fn against<'b>(&self, names: &'b dyn Names) -> Fields<'b>
    where
        'a: 'b,
    {
        Fields {
            context: self.context.with_names(names),
            what: self.what.clone(),
            reported: self.reported.clone(),
            ..*self
        }
    }

    /// What everything is read against.
    pub fn context(&self) -> Context<'a> {
        self.context
    }

    /// Whether a key is given.
    pub fn has(&self, key: &str) -> bool {
        self.node(key).is_some()
    }

    /// The value of a key, if it is given.
    pub fn node(&self, key: &str) -> Option<&'a Node> {
        renamed::entry(self.entries, key).map(|entry| &entry.value)
    }

    /// Where a key is written; the whole map if it is not.
    pub fn key_span(&self, key: &str) -> Span {
        renamed::entry(self.entries, key).map_or(self.span, |entry| entry.key.span)
    }

    /// Reports that exactly one of some keys belongs here. Gives the one that is there.
    pub fn exactly_one(&self, keys: &[&'static str]) -> Option<&'static str> {
        let given: Vec<&'static str> = keys.iter().copied().filter(|key| self.has(key)).collect();
        let choice = super::field::one_of(keys);
        match given.as_slice() {
            [one] => Some(one),
            [] => {
                self.context.find(
                    Finding::error(
                        codes::MISSING_KEY,
                        self.span,
                        format!("{} needs {choice}", self.what),
                    )
                    .fix(format!("add {choice}")),
                );
                None
            }
            [first, second, ..] => {
                self.context.find(
                    Finding::error(
                        codes::TOO_MANY_KEYS,
                        self.key_span(second),
                        format!("{} takes only one of {}", self.what, keys.join(", ")),
                    )
                    .label(self.key_span(first), "already given here")
                    .fix("keep one of them"),
                );
                None
            }
        }
    }

    /// A length in millimetres, as its field demands: above zero, or zero or more.
    pub fn length(&self, key: &'static str) -> Option<Spanned<f64>> {
        self.length_with(key, self.context.names)
    }

    /// A length, with names of its own.
    pub(super) fn length_with(&self, key: &'static str, names: &dyn Names) -> Option<Spanned<f64>> {
        let context = self.context.with_names(names);
        let field = self.field(key);
        let (text, span, node) = self.given_or_default(field)?;
        let Some(text) = text else {
            self.wrong(field, node?);
            return None;
        };
        if text.text == "through" {
            context.find(
                Finding::error(
                    codes::BAD_LENGTH,
                    span,
                    format!("`{key}` of {} cannot be `through`", self.what),
                )
                .fix("write a length; an opening right through is a `cutout`, or a `hole`"),
            );
            return None;
        }
        let length = context.length(&text, span, node.is_some())?;
        self.in_range(field, length, node)
    }

    /// An angle in degrees.
    pub fn degrees(&self, key: &'static str) -> Option<Spanned<f64>> {
        let field = self.field(key);
        let (text, span, node) = self.given_or_default(field)?;
        let Some(text) = text else {
            self.wrong(field, node?);
            return None;
        };
        let degrees = self.context.degrees(&text, span, node.is_some())?;
        let Shape::Degrees(low, high) = field.shape else {
            return Some(degrees);
        };
        if (low..=high).contains(&degrees.value) {
            return Some(degrees);
        }
        self.out_of_range(field, span, &format!("{} degrees", degrees.value));
        None
    }

    /// A number above zero, without a unit.
    pub fn number(&self, key: &'static str) -> Option<Spanned<f64>> {
        let field = self.field(key);
        let (text, span, node) = self.given_or_default(field)?;
        let Some(text) = text else {
            self.wrong(field, node?);
            return None;
        };
        let number = self.context.number(&text, span, node.is_some())?;
        let none = number.value.abs() < 1e-9 && matches!(field.shape, Shape::AtHand);
        if number.value > 0.0 || none {
            return Some(number);
        }
        self.out_of_range(field, span, &text.text);
        None
    }

    /// A whole number from 1; from 0 where the key counts what is at hand.
    pub fn count(&self, key: &'static str) -> Option<Spanned<u32>> {
        let number = self.number(key)?;
        let whole = number.value.round();
        let field = self.field(key);
        let least = if matches!(field.shape, Shape::AtHand) {
            0.0
        } else {
            1.0
        };
        if (number.value - whole).abs() < 1e-6 && (least..=1e9).contains(&whole) {
            return Some(Spanned::new(whole as u32, number.span));
        }
        self.out_of_range(field, number.span, &format!("{}", number.value));
        None
    }

    /// A whole number from 1, or a list of them.
    pub fn counts(&self, key: &'static str) -> Option<Vec<Spanned<u32>>> {
        self.one_or_more(key, |scalar, span| {
            let number = self.context.number(scalar, span, true)?;
            let whole = number.value.round();
            if (number.value - whole).abs() < 1e-6 && (1.0..=1e9).contains(&whole) {
                return Some(Spanned::new(whole as u32, span));
            }
            self.out_of_range(self.field(key), span, &scalar.text);
            None
        })
    }

    /// A depth.
    pub fn depth(&self, key: &'static str) -> Option<Spanned<Depth>> {
        let field = self.field(key);
        let (text, span, _) = self.given_or_default(field)?;
        if text.is_some_and(|text| text.text == "through") {
            return Some(Spanned::new(Depth::Through, span));
        }
        let length = self.length(key)?;
        Some(length.map(Depth::Blind))
    }

    /// Any text; numbers count as texts here.
    pub fn text(&self, key: &'static str) -> Option<Spanned<String>> {
        let field = self.field(key);
        let (text, span, node) = self.given_or_default(field)?;
        let Some(text) = text else {
            self.wrong(field, node?);
            return None;
        };
        self.context.printable(&text.text, span)
    }

    /// One of the words that the field allows.
    pub fn word(&self, key: &'static str) -> Option<Spanned<&'static str>> {
        let field = self.field(key);
        let Shape::Word(words) = field.shape else {
            return None;
        };
        let (text, span, node) = self.given_or_default(field)?;
        let Some(text) = text else {
            self.wrong(field, node?);
            return None;
        };
        self.context.one_of(&text.text, span, words)
    }

    /// What one of the words of an enum stands for.
    pub fn word_of<T: Word>(&self, key: &'static str) -> Option<Spanned<T>> {
        let field = self.field(key);
        let (text, span, node) = self.given_or_default(field)?;
        let Some(text) = text else {
            self.wrong(field, node?);
            return None;
        };
        self.context.word_of(&text.text, span)
    }

    /// The same for one word or a list of them.
    pub fn words<T: Word>(&self, key: &'static str) -> Option<Vec<Spanned<T>>> {
        self.one_or_more(key, |scalar, span| self.context.word_of(&scalar.text, span))
    }

    /// A length, or a list of lengths, in millimetres.
    pub fn lengths(&self, key: &'static str) -> Option<Vec<Spanned<f64>>> {
        let field = self.field(key);
        let Some(Node {
            value: Value::List(items),
            ..
        }) = self.node(key)
        else {
            return self.length(key).map(|one| vec![one]);
        };
        if items.is_empty() {
            self.wrong(field, self.node(key)?);
            return None;
        }
        let all: Vec<Option<Spanned<f64>>> = items
            .iter()
            .map(|item| {
                let length = self.context.length_of(item)?;
                self.in_range(field, length, Some(item))
            })
            .collect();
        all.into_iter().collect()
    }

    /// A list of texts, or one.
    pub fn texts(&self, key: &'static str) -> Option<Vec<Spanned<String>>> {
        self.one_or_more(key, |scalar, span| {
            self.context.printable(&scalar.text, span)
        })
    }

    /// A map with keys of its own.
    pub fn map(&self, key: &'static str) -> Option<Fields<'a>> {
        let field = self.field(key);
        let Shape::Map(fields) = field.shape else {
            return None;
        };
        let Some(node) = self.node(key) else {
            self.missing(field);
            return None;
        };
        Fields::new(self.context, key, self.key_span(key), node, fields)
    }

    /// A value that a reader elsewhere takes apart; reports if it is missing and required.
    pub fn required_node(&self, key: &'static str) -> Option<&'a Node> {
        let node = self.node(key);
        if node.is_none() {
            self.missing(self.field(key));
        }
        node
    }

    /// Reports that a value is not what its field wants.
    pub fn wrong(&self, field: &Field, node: &Node) {
        self.context.find(
            Finding::error(
                codes::WRONG_KIND,
                node.span,
                format!("`{}` is {}", field.key, node.kind()),
            )
            .fix(format!("write {}", field.shape.describe())),
        );
    }

    /// The declaration of a key.
    ///
    /// # Panics
    /// When the key is not declared, which is a mistake in the program that any test of the feature shows.
    pub fn field(&self, key: &str) -> &'static Field {
        self.declared
            .iter()
            .chain(self.common)
            .find(|field| field.key == key)
            .unwrap_or_else(|| panic!("`{key}` is not declared for {}", self.what))
    }

    /// A list of single values, or one; every one is read before any is needed.
    fn one_or_more<T>(
        &self,
        key: &'static str,
        read: impl Fn(&Scalar, Span) -> Option<T>,
    ) -> Option<Vec<T>> {
        let field = self.field(key);
        let Some(node) = self.node(key) else {
            self.missing(field);
            return None;
        };
        let items = match &node.value {
            Value::List(items) if !items.is_empty() => items.as_slice(),
            _ => std::slice::from_ref(node),
        };
        let all: Vec<Option<T>> = items
            .iter()
            .map(|item| {
                let Some(scalar) = item.scalar() else {
                    self.wrong(field, item);
                    return None;
                };
                read(scalar, item.span)
            })
            .collect();
        all.into_iter().collect()
    }

    /// The text of a key, where it is and its node; the default's text if it is left out. The text is `None` where the
    /// node is no single value.
    #[allow(
        clippy::type_complexity,
        reason = "three values that only this file takes apart"
    )]
    fn given_or_default(&self, field: &Field) -> Option<(Option<Scalar>, Span, Option<&'a Node>)> {
        if let Some(node) = self.node(field.key) {
            return Some((node.scalar().cloned(), node.span, Some(node)));
        }
        let Need::Default(default) = field.need else {
            self.missing(field);
            return None;
        };
        Some((Some(Scalar::plain(default)), self.span, None))
    }

    fn missing(&self, field: &Field) {
        if field.need != Need::Required || self.reported.borrow().contains(&field.key) {
            return;
        }
        self.reported.borrow_mut().push(field.key);
        self.context.find(
            Finding::error(
                codes::MISSING_KEY,
                self.span,
                format!("{} needs `{}`: {}", self.what, field.key, field.meaning()),
            )
            .fix(format!(
                "add `{}:` with {}",
                field.key,
                field.shape.describe()
            )),
        );
    }

    fn in_range(
        &self,
        field: &Field,
        length: Spanned<f64>,
        node: Option<&Node>,
    ) -> Option<Spanned<f64>> {
        let fits = match field.shape {
            Shape::Distance => length.value >= 0.0,
            Shape::Length => true,
            _ => length.value > 0.0,
        };
        let unit = self.context.names.unit();
        let may_vanish = matches!(field.shape, Shape::Distance | Shape::Length);
        if fits && !may_vanish && length.value < MIN_SIZE {
            self.context.find(
                Finding::error(
                    codes::TOO_SHORT,
                    length.span,
                    format!(
                        "`{}` is less than {}, the smallest size",
                        field.key,
                        unit.show(MIN_SIZE)
                    ),
                )
                .fix("check the number and its unit"),
            );
            return None;
        }
        if fits {
            return Some(length);
        }
        let written = node
            .and_then(Node::scalar)
            .map_or_else(String::new, |scalar| scalar.text.clone());
        let value = unit.show(length.value);
        let shown = if written.is_empty() || value.starts_with(&written) {
            value
        } else {
            format!("{written} = {value}")
        };
        self.out_of_range(field, length.span, &shown);
        None
    }

    fn out_of_range(&self, field: &Field, span: Span, shown: &str) {
        self.context.find(
            Finding::error(
                codes::OUT_OF_RANGE,
                span,
                format!("`{}` cannot be {shown}", field.key),
            )
            .fix(format!("write {}", field.shape.describe())),
        );
    }
}

/// Reports a key by its old name; where the map has it by its present name as well, only the author can say which one
/// is meant.
fn renamed_key(entries: &[Entry], entry: &Entry, renamed: &'static Renamed) -> Finding {
    let Renamed { old, now, .. } = renamed;
    match entries.iter().find(|other| other.key.value == *now) {
        None => renamed::finding(entry.key.span, renamed),
        Some(other) => Finding::error(
            codes::OLD_NAME,
            entry.key.span,
            format!("`{old}` is now called `{now}`, and both are given"),
        )
        .label(other.key.span, "given here as well")
        .fix(format!("keep one of them, as `{now}`")),
    }
}
