//! The tree of a YAML text, and of what builders and joints write into it.

use std::borrow::Cow;
use std::sync::Arc;

use jigless_model::source::{Span, Spanned};

use crate::length::{Expression, LengthFault};

/// A value of a YAML text and its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// Where it was written. A list or map spans from its start to the end of its last value.
    pub span: Span,
    /// What was written.
    pub value: Value,
}

/// What can be written in YAML.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Nothing, or `~`.
    Null,
    /// A text, number or truth value; which of them is for the reader to say.
    Scalar(Scalar),
    /// A list.
    List(Vec<Node>),
    /// A map, in the order of the text; no key occurs twice.
    Map(Vec<Entry>),
}

/// A single value as text.
#[derive(Debug, Clone, PartialEq)]
pub struct Scalar {
    /// The content, without quotes.
    pub text: String,
    /// Whether it was quoted or written as a block.
    pub quoted: bool,
    /// What a builder or joint means by the text; `None` where an author wrote it, and it is still to be read.
    pub meant: Option<Arc<Expression>>,
}

/// A key and its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The key.
    pub key: Spanned<String>,
    /// The value.
    pub value: Node,
}

impl Node {
    /// What kind of value this is, for messages.
    pub fn kind(&self) -> &'static str {
        match &self.value {
            Value::Null => "nothing",
            Value::Scalar(_) => "a single value",
            Value::List(_) => "a list",
            Value::Map(_) => "a map",
        }
    }

    /// The single value, if it is one.
    pub fn scalar(&self) -> Option<&Scalar> {
        match &self.value {
            Value::Scalar(scalar) => Some(scalar),
            _ => None,
        }
    }

    /// The value of a key, if this is a map that has it.
    pub fn get(&self, key: &str) -> Option<&Node> {
        match &self.value {
            Value::Map(entries) => entries
                .iter()
                .find(|entry| entry.key.value == key)
                .map(|entry| &entry.value),
            _ => None,
        }
    }

    /// The same value as JSON. Plain texts that YAML's core schema reads as a number, truth value or nothing become
    /// that; everything else stays text.
    pub fn to_json(&self) -> serde_json::Value {
        match &self.value {
            Value::Null => serde_json::Value::Null,
            Value::Scalar(scalar) => scalar.to_json(),
            Value::List(items) => items.iter().map(Node::to_json).collect(),
            Value::Map(entries) => entries
                .iter()
                .map(|entry| (entry.key.value.clone(), entry.value.to_json()))
                .collect(),
        }
    }
}

impl Scalar {
    /// A text as it is written without quotes.
    pub fn plain(text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            quoted: false,
            meant: None,
        }
    }

    /// A calculation that was worked out here, and how it is written.
    pub fn meaning(text: impl Into<String>, meant: Expression) -> Self {
        Self {
            meant: Some(Arc::new(meant)),
            ..Self::plain(text)
        }
    }

    /// The calculation that it stands for.
    ///
    /// # Errors
    /// What cannot be read as one, and where.
    pub fn expression(&self) -> Result<Cow<'_, Expression>, LengthFault> {
        match &self.meant {
            Some(meant) => Ok(Cow::Borrowed(meant)),
            None => Expression::parse(&self.text).map(Cow::Owned),
        }
    }

    fn to_json(&self) -> serde_json::Value {
        let text = || serde_json::Value::String(self.text.clone());
        if self.quoted {
            return text();
        }
        match self.text.as_str() {
            "true" => true.into(),
            "false" => false.into(),
            number if number.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c)) => {
                let plain = number.strip_prefix('+').unwrap_or(number);
                if let Ok(whole) = plain.parse::<i64>() {
                    return whole.into();
                }
                plain
                    .parse::<f64>()
                    .ok()
                    .and_then(serde_json::Number::from_f64)
                    .map_or_else(text, serde_json::Value::Number)
            }
            _ => text(),
        }
    }
}
