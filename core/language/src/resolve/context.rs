//! What values are read against: the names that they may use, the part that they belong to, and where faults are reported.

use std::cell::RefCell;
use std::sync::Arc;

use jigless_model::check::Catalogue;
use jigless_model::diag::{Finding, Findings, nearest};
use jigless_model::plan::Stock;
use jigless_model::source::{Sources, Span, Spanned};
use jigless_model::units::Unit;
use jigless_model::words::Word;

use super::budget::Budget;
use crate::codes;
use crate::length::{LengthFault, Names, Quantity};
use crate::load::{Node, Scalar};
use crate::renamed;

/// The longest length that is read, in millimetres. No sheet good is longer.
pub const MAX_LENGTH: f64 = 10_000.0;

/// The smallest size of anything, in millimetres: finer than a shop measures, and far above the tolerance of the
/// geometry.
pub const MIN_SIZE: f64 = 0.01;

/// The longest text that is printed somewhere.
const MAX_TEXT: usize = 200;

/// What values are read against.
#[derive(Clone, Copy)]
pub struct Context<'a> {
    /// The texts, to point into.
    pub sources: &'a Sources,
    /// What names stand for.
    pub names: &'a dyn Names,
    /// The stock that may be named, once it is read.
    pub stocks: &'a [Arc<Stock>],
    /// The lengths of screws that the plan says can be had, in millimetres; none for the usual ones.
    pub lengths_sold: &'a [f64],
    /// The checks that a plan may set and accept.
    pub checks: &'a Catalogue,
    /// Where faults are reported.
    pub findings: &'a RefCell<Findings>,
    /// What the plan may still ask for.
    pub budget: &'a Budget,
}

impl std::fmt::Debug for Context<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Context").finish_non_exhaustive()
    }
}

impl<'a> Context<'a> {
    /// The same place to tell faults, with other names.
    #[must_use]
    pub fn with_names(self, names: &'a dyn Names) -> Self {
        Self { names, ..self }
    }

    /// The same with stock that may be named.
    #[must_use]
    pub fn with_stocks(self, stocks: &'a [Arc<Stock>]) -> Self {
        Self { stocks, ..self }
    }

    /// The same with the lengths of screws that can be had.
    #[must_use]
    pub fn with_lengths_sold(self, lengths_sold: &'a [f64]) -> Self {
        Self {
            lengths_sold,
            ..self
        }
    }

    /// The unit of bare numbers.
    pub fn unit(&self) -> Unit {
        self.names.unit()
    }

    /// Reports a fault.
    pub fn find(&self, finding: Finding) {
        self.findings.borrow_mut().push(finding);
    }

    /// Charges the plan's budget with what is asked for at a place; `None`, and reported the first time, where it asks for
    /// more than is left.
    pub(crate) fn charge(&self, things: usize, span: Span) -> Option<()> {
        self.charged(self.budget.charge(things, span))
    }

    /// Charges the plan's budget with different parts, in the same way.
    pub(crate) fn charge_parts(&self, parts: usize, span: Span) -> Option<()> {
        self.charged(self.budget.charge_parts(parts, span))
    }

    fn charged(&self, charged: Result<(), Option<Finding>>) -> Option<()> {
        match charged {
            Ok(()) => Some(()),
            Err(finding) => {
                if let Some(finding) = finding {
                    self.find(finding);
                }
                None
            }
        }
    }

    /// A length in millimetres from a single value.
    pub fn length_of(&self, node: &Node) -> Option<Spanned<f64>> {
        let Some(scalar) = node.scalar() else {
            self.find(
                Finding::error(
                    codes::WRONG_KIND,
                    node.span,
                    format!("this is {}; a length belongs here", node.kind()),
                )
                .fix("write a length such as `18` or `3/4 in`"),
            );
            return None;
        };
        self.length(scalar, node.span, true)
    }

    /// A length in millimetres. `written` says whether the text stands in the plan, and so can be pointed into.
    pub fn length(&self, scalar: &Scalar, span: Span, written: bool) -> Option<Spanned<f64>> {
        let value = self.quantity(scalar, span, written, |quantity, whole| {
            quantity.as_length(self.names.unit(), whole)
        })?;
        if value.abs() > MAX_LENGTH {
            self.find(
                Finding::error(
                    codes::TOO_LONG,
                    span,
                    format!(
                        "`{}` is {}; the longest length is 10 m",
                        shortened(&scalar.text),
                        in_metres(value)
                    ),
                )
                .fix("check the number and its unit"),
            );
            return None;
        }
        Some(Spanned::new(value, span))
    }

    /// Degrees.
    pub fn degrees(&self, scalar: &Scalar, span: Span, written: bool) -> Option<Spanned<f64>> {
        let value = self.quantity(scalar, span, written, Quantity::as_degrees)?;
        Some(Spanned::new(value, span))
    }

    /// A number without a unit.
    pub fn number(&self, scalar: &Scalar, span: Span, written: bool) -> Option<Spanned<f64>> {
        let value = self.quantity(scalar, span, written, Quantity::as_number)?;
        Some(Spanned::new(value, span))
    }

    /// One of some words.
    pub fn one_of(
        &self,
        word: &str,
        span: Span,
        allowed: &'static [&'static str],
    ) -> Option<Spanned<&'static str>> {
        let truth = truth_word(word, allowed);
        if let Some(found) = allowed.iter().find(|candidate| **candidate == truth) {
            return Some(Spanned::new(found, span));
        }
        if let Some(renamed) = renamed::word(word, allowed) {
            self.find(renamed::finding(span, renamed));
            return Some(Spanned::new(renamed.now, span));
        }
        let choice = super::field::one_of(allowed);
        self.find(
            Finding::error(
                codes::UNKNOWN_WORD,
                span,
                format!("`{}` is none of {}", shortened(word), allowed.join(", ")),
            )
            .fix(match nearest(word, allowed.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("write {choice}"),
            }),
        );
        None
    }

    /// What one of the words of an enum stands for.
    pub fn word_of<T: Word>(&self, word: &str, span: Span) -> Option<Spanned<T>> {
        let found = self.one_of(word, span, T::WORDS)?;
        Some(Spanned::new(T::of_word(found.value)?, span))
    }

    /// The stock of a name; reports if there is none and it is not described badly, which is reported where it is described.
    pub fn stock(&self, name: &Spanned<String>) -> Option<Arc<Stock>> {
        let found = self.stocks.iter().find(|stock| stock.id == name.value);
        if found.is_none() && !self.names.describes_stock(&name.value) {
            self.find(unknown_stock(name, self.stocks));
        }
        found.cloned()
    }

    /// A text that can be printed: short, on one line, without control characters.
    pub fn printable(&self, text: &str, span: Span) -> Option<Spanned<String>> {
        let length = text.chars().count();
        if length > MAX_TEXT {
            self.find(
                Finding::error(
                    codes::TEXT_TOO_LONG,
                    span,
                    format!("this text has {length} characters; {MAX_TEXT} fit on a page"),
                )
                .fix("shorten it"),
            );
            return None;
        }
        if text.chars().any(char::is_control) {
            self.find(
                Finding::error(
                    codes::UNPRINTABLE_TEXT,
                    span,
                    "this text has a line break or a control character in it",
                )
                .fix("write it on one line"),
            );
            return None;
        }
        Some(Spanned::new(text.to_owned(), span))
    }

    /// A number with its kind, from a single value.
    pub fn quantity_of(&self, node: &Node) -> Option<Quantity> {
        let Some(scalar) = node.scalar() else {
            self.find(
                Finding::error(
                    codes::WRONG_KIND,
                    node.span,
                    format!("this is {}; a length or number belongs here", node.kind()),
                )
                .fix("write a length such as `18` or `3/4 in`"),
            );
            return None;
        };
        self.quantity(scalar, node.span, true, |quantity, _| Ok(quantity))
    }

    fn quantity<T>(
        &self,
        scalar: &Scalar,
        span: Span,
        written: bool,
        take: impl FnOnce(Quantity, std::ops::Range<usize>) -> Result<T, LengthFault>,
    ) -> Option<T> {
        let text = scalar.text.as_str();
        let bare_word = text.trim_start_matches(['+', '-', '.']).to_lowercase();
        if matches!(bare_word.as_str(), "nan" | "inf" | "infinity") {
            self.find(
                Finding::error(codes::BAD_NUMBER, span, format!("`{text}` is not a number"))
                    .fix("write a length such as `18` or `3/4 in`"),
            );
            return None;
        }
        let result = scalar
            .expression()
            .and_then(|expression| expression.evaluate(self.names))
            .and_then(|quantity| take(quantity, 0..text.len()));
        match result {
            Ok(value) => Some(value),
            Err(fault) if fault.reported => None,
            Err(fault) => {
                let at = if written {
                    self.within(scalar, span, &fault)
                } else {
                    span
                };
                self.find(Finding::error(codes::BAD_LENGTH, at, fault.message).fix(fault.fix));
                None
            }
        }
    }

    /// The bytes of the source that a fault within a text is about; the whole value where escapes make that unclear.
    fn within(&self, scalar: &Scalar, span: Span, fault: &LengthFault) -> Span {
        let source = self.sources.slice(span);
        let shift = u32::from(scalar.quoted);
        let inside = source.get(shift as usize..).unwrap_or_default();
        if !inside.starts_with(scalar.text.as_str()) {
            return span;
        }
        Span {
            file: span.file,
            start: span.start + shift + fault.start as u32,
            end: span.start + shift + fault.end as u32,
        }
    }
}

/// `yes` where `true` is written and the other way round, as the words that belong there have it: some YAML readers take
/// all four for truth values, and programs that write YAML then write `true`.
fn truth_word<'a>(word: &'a str, words: &[&str]) -> &'a str {
    match word {
        "true" if words.contains(&"yes") => "yes",
        "false" if words.contains(&"no") => "no",
        "yes" if words.contains(&"true") => "true",
        "no" if words.contains(&"false") => "false",
        _ => word,
    }
}

/// A text cut down so that it fits into a message.
pub(crate) fn shortened(text: &str) -> String {
    const LONGEST: usize = 40;
    if text.chars().count() <= LONGEST {
        return text.escape_debug().to_string();
    }
    let start: String = text.chars().take(LONGEST).collect();
    format!("{}...", start.escape_debug())
}

/// That a name is no stock of the plan.
fn unknown_stock(name: &Spanned<String>, known: &[Arc<Stock>]) -> Finding {
    let ids = known.iter().map(|stock| stock.id.as_str());
    let fix = if let Some(near) = nearest(&name.value, ids.clone()) {
        format!("did you mean `{near}`?")
    } else if known.is_empty() {
        "describe it under `stock:`".to_owned()
    } else {
        let all: Vec<&str> = ids.collect();
        format!("the stock of this plan is {}", all.join(", "))
    };
    let message = format!("there is no stock `{}`", shortened(&name.value));
    Finding::error(codes::UNKNOWN_STOCK, name.span, message).fix(fix)
}

fn in_metres(mm: f64) -> String {
    if mm.abs() < 1e12 {
        format!("{} m", jigless_model::units::decimal(mm / 1000.0, 2))
    } else {
        "longer than any workshop".to_owned()
    }
}
