//! Tokens to a tree of calculations.

use std::ops::Range;

use super::token::{Token, UnitWord, What, tokens};
use super::{Kind, LengthFault, Quantity};

/// How long a length text may be, in bytes, and how deep its brackets may nest.
const MAX_TEXT: usize = 500;
const MAX_NESTING: usize = 40;

/// A calculation, ready to be worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Expression {
    pub(super) root: Term,
}

/// A calculation and the bytes that it was written in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Term {
    pub(super) what: TermKind,
    pub(super) range: Range<usize>,
}

impl Term {
    /// What no text says.
    fn made(what: TermKind) -> Self {
        Self { what, range: 0..0 }
    }
}

#[derive(Debug, Clone, PartialEq)]
pub(super) enum TermKind {
    Bare(f64),
    /// Millimetres.
    Length(f64),
    /// Degrees.
    Angle(f64),
    Name(String),
    Minus(Box<Term>),
    Two(Operator, Box<Term>, Box<Term>),
    Call(Function, Vec<Term>),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Operator {
    Add,
    Subtract,
    Multiply,
    Divide,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Function {
    Min,
    Max,
    Floor,
    Ceil,
}

const FUNCTIONS: [(&str, Function); 4] = [
    ("min", Function::Min),
    ("max", Function::Max),
    ("floor", Function::Floor),
    ("ceil", Function::Ceil),
];

impl Expression {
    /// Reads a text.
    ///
    /// # Errors
    /// What cannot be read, and where.
    pub fn parse(text: &str) -> Result<Self, LengthFault> {
        if text.len() > MAX_TEXT {
            return Err(LengthFault::new(
                0..text.len(),
                format!(
                    "this calculation has {} characters; {MAX_TEXT} are allowed",
                    text.len()
                ),
                "name parts of it under `values:`",
            ));
        }
        if text.trim().is_empty() {
            return Err(LengthFault::new(
                0..text.len(),
                "this is empty; a length belongs here",
                "write a number or a length such as `3/4 in`",
            ));
        }
        let tokens = tokens(text)?;
        let mut parser = Parser {
            tokens: &tokens,
            at: 0,
            end: text.len(),
            nesting: 0,
        };
        let root = parser.sum()?;
        if let Some(token) = parser.peek() {
            return Err(parser.unexpected(token, text));
        }
        Ok(Self { root })
    }

    /// What needs no working out.
    pub fn of(quantity: Quantity) -> Self {
        let value = quantity.value;
        Self {
            root: Term::made(match quantity.kind {
                Kind::Length => TermKind::Length(value),
                Kind::Angle => TermKind::Angle(value),
                Kind::Bare | Kind::Ratio => TermKind::Bare(value),
            }),
        }
    }

    /// One calculation less another.
    #[must_use]
    pub fn minus(self, other: Self) -> Self {
        let (left, right) = (Box::new(self.root), Box::new(other.root));
        Self {
            root: Term::made(TermKind::Two(Operator::Subtract, left, right)),
        }
    }

    /// Millimetres, where it is a length that needs no working out.
    pub fn as_length(&self) -> Option<f64> {
        match self.root.what {
            TermKind::Length(mm) => Some(mm),
            _ => None,
        }
    }

    /// Whether a text can name a value: a word of letters, digits and `_` that means nothing else.
    pub fn is_name(word: &str) -> bool {
        let mut chars = word.chars();
        chars
            .next()
            .is_some_and(|c| c.is_ascii_alphabetic() || c == '_')
            && chars.all(|c| c.is_ascii_alphanumeric() || c == '_')
            && !super::token::is_unit(word)
            && !FUNCTIONS.iter().any(|(name, _)| *name == word)
    }

    /// Whether a name occurs in it.
    pub fn mentions(&self, name: &str) -> bool {
        fn within(term: &Term, name: &str) -> bool {
            match &term.what {
                TermKind::Bare(_) | TermKind::Length(_) | TermKind::Angle(_) => false,
                TermKind::Name(own) => own == name,
                TermKind::Minus(inner) => within(inner, name),
                TermKind::Two(_, a, b) => within(a, name) || within(b, name),
                TermKind::Call(_, arguments) => arguments.iter().any(|a| within(a, name)),
            }
        }
        within(&self.root, name)
    }
}

struct Parser<'a> {
    tokens: &'a [Token],
    at: usize,
    end: usize,
    nesting: usize,
}

impl Parser<'_> {
    fn peek(&self) -> Option<&Token> {
        self.tokens.get(self.at)
    }

    fn take(&mut self, what: &What) -> bool {
        let found = self.peek().is_some_and(|token| token.what == *what);
        if found {
            self.at += 1;
        }
        found
    }

    fn unexpected(&self, token: &Token, text: &str) -> LengthFault {
        let written = &text[token.range.clone()];
        let previous_is_value = self.at > 0
            && matches!(
                self.tokens[self.at - 1].what,
                What::Number(_) | What::Unit(_) | What::Name(_) | What::Close
            );
        let fix = match token.what {
            What::Comma => "write decimals with a point: `12.5`",
            What::Close => "take the bracket away or open it before",
            _ if previous_is_value => "put + - * or / between the two",
            _ => "check the calculation",
        };
        LengthFault::new(
            token.range.clone(),
            format!("`{written}` was not expected here"),
            fix,
        )
    }

    fn sum(&mut self) -> Result<Term, LengthFault> {
        let mut left = self.product()?;
        loop {
            let operator = if self.take(&What::Plus) {
                Operator::Add
            } else if self.take(&What::Minus) {
                Operator::Subtract
            } else {
                return Ok(left);
            };
            left = two(operator, left, self.product()?);
        }
    }

    fn product(&mut self) -> Result<Term, LengthFault> {
        let mut left = self.signed()?;
        loop {
            let operator = if self.take(&What::Times) {
                Operator::Multiply
            } else if self.take(&What::Over) {
                Operator::Divide
            } else {
                return Ok(left);
            };
            left = two(operator, left, self.signed()?);
        }
    }

    fn signed(&mut self) -> Result<Term, LengthFault> {
        let start = self.peek().map_or(self.end, |t| t.range.start);
        if self.take(&What::Minus) {
            self.deeper(start)?;
            let inner = self.signed()?;
            self.nesting -= 1;
            let range = start..inner.range.end;
            return Ok(Term {
                what: TermKind::Minus(Box::new(inner)),
                range,
            });
        }
        if self.take(&What::Plus) {
            self.deeper(start)?;
            let inner = self.signed();
            self.nesting -= 1;
            return inner;
        }
        self.value()
    }

    fn value(&mut self) -> Result<Term, LengthFault> {
        let Some(token) = self.peek().cloned() else {
            return Err(LengthFault::new(
                self.end..self.end,
                "the calculation ends where a value is expected",
                "add what is missing, or take the last sign away",
            ));
        };
        self.at += 1;
        match token.what {
            What::Number(number) => Ok(self.measure(number, token.range)),
            What::Name(name) => self.name_or_call(name, token.range),
            What::Open => {
                self.deeper(token.range.start)?;
                let inner = self.sum()?;
                self.nesting -= 1;
                let range = token.range.start..self.close(&token.range)?;
                Ok(Term { range, ..inner })
            }
            _ => Err(LengthFault::new(
                token.range,
                "a number, a name or a bracket is expected here",
                "check the signs of the calculation",
            )),
        }
    }

    /// A number with its unit; feet may be followed by inches.
    fn measure(&mut self, number: f64, range: Range<usize>) -> Term {
        let Some(Token {
            what: What::Unit(unit),
            range: unit_range,
        }) = self.peek().cloned()
        else {
            return Term {
                what: TermKind::Bare(number),
                range,
            };
        };
        self.at += 1;
        let mut end = unit_range.end;
        let Some(scale) = unit.millimetres() else {
            return Term {
                what: TermKind::Angle(number),
                range: range.start..end,
            };
        };
        let mut length = number * scale;
        if unit == UnitWord::Foot
            && let Some(What::Number(inches)) = self.peek().map(|t| t.what.clone())
            && let Some(Token {
                what: What::Unit(second),
                range: second_range,
            }) = self.tokens.get(self.at + 1)
            && second.is_inch()
        {
            length += inches * second.millimetres().unwrap_or_default();
            end = second_range.end;
            self.at += 2;
        }
        Term {
            what: TermKind::Length(length),
            range: range.start..end,
        }
    }

    fn name_or_call(&mut self, name: String, range: Range<usize>) -> Result<Term, LengthFault> {
        let function = FUNCTIONS.iter().find(|(word, _)| *word == name);
        let open = self.peek().map(|t| t.range.clone());
        match (function, self.take(&What::Open), open) {
            (None, false, _) => Ok(Term {
                what: TermKind::Name(name),
                range,
            }),
            (Some((_, function)), true, Some(open)) => {
                self.deeper(range.start)?;
                let mut arguments = vec![self.sum()?];
                while self.take(&What::Comma) {
                    arguments.push(self.sum()?);
                }
                self.nesting -= 1;
                let range = range.start..self.close(&open)?;
                check_arguments(*function, &name, arguments.len(), &range)?;
                Ok(Term {
                    what: TermKind::Call(*function, arguments),
                    range,
                })
            }
            (Some(_), _, _) => Err(LengthFault::new(
                range,
                format!("`{name}` needs brackets with what it works on"),
                format!("write `{name}(...)`"),
            )),
            (None, _, _) => Err(LengthFault::new(
                range,
                format!("there is no function `{name}`"),
                "the functions are min, max, floor and ceil; write * to multiply",
            )),
        }
    }

    fn close(&mut self, open: &Range<usize>) -> Result<usize, LengthFault> {
        let end = self.peek().map_or(self.end, |t| t.range.end);
        if self.take(&What::Close) {
            Ok(end)
        } else if self.peek().is_some_and(|t| t.what == What::Comma) {
            let range = self.peek().map_or(open.clone(), |t| t.range.clone());
            Err(LengthFault::new(
                range,
                "a comma was not expected here",
                "write decimals with a point: `12.5`",
            ))
        } else {
            Err(LengthFault::new(
                open.clone(),
                "this bracket is never closed",
                "add `)` where it ends",
            ))
        }
    }

    fn deeper(&mut self, start: usize) -> Result<(), LengthFault> {
        self.nesting += 1;
        if self.nesting > MAX_NESTING {
            return Err(LengthFault::new(
                start..self.end,
                format!("brackets and signs nest more than {MAX_NESTING} deep"),
                "name parts of the calculation under `values:`",
            ));
        }
        Ok(())
    }
}

fn two(operator: Operator, left: Term, right: Term) -> Term {
    let range = left.range.start..right.range.end;
    Term {
        what: TermKind::Two(operator, Box::new(left), Box::new(right)),
        range,
    }
}

fn check_arguments(
    function: Function,
    name: &str,
    given: usize,
    range: &Range<usize>,
) -> Result<(), LengthFault> {
    let single = matches!(function, Function::Floor | Function::Ceil);
    if single && given != 1 {
        return Err(LengthFault::new(
            range.clone(),
            format!("`{name}` works on one value; {given} are given"),
            format!("write `{name}(value)`"),
        ));
    }
    Ok(())
}
