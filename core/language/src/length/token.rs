//! Text to tokens. Fractions and mixed numbers are put together here, because only the spelling tells `2-1/2in`
//! (two and a half inches) from `2 - 1/2 in` (a difference).

use std::ops::Range;

use jigless_model::units::{MM_PER_FOOT, MM_PER_INCH};

use super::LengthFault;

/// A piece of a length text.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Token {
    pub(super) what: What,
    pub(super) range: Range<usize>,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) enum What {
    /// A number; fractions and mixed numbers are one number.
    Number(f64),
    /// A unit that follows a number.
    Unit(UnitWord),
    /// A name, with dots in it: `gap`, `birch18.thickness`.
    Name(String),
    Plus,
    Minus,
    Times,
    Over,
    Open,
    Close,
    Comma,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum UnitWord {
    /// Millimetres in one.
    Length(f64),
    Foot,
    Degree,
}

const UNITS: [(&str, UnitWord); 13] = [
    ("mm", UnitWord::Length(1.0)),
    ("cm", UnitWord::Length(10.0)),
    ("m", UnitWord::Length(1000.0)),
    ("in", UnitWord::Length(MM_PER_INCH)),
    ("inch", UnitWord::Length(MM_PER_INCH)),
    ("inches", UnitWord::Length(MM_PER_INCH)),
    ("\"", UnitWord::Length(MM_PER_INCH)),
    ("ft", UnitWord::Foot),
    ("foot", UnitWord::Foot),
    ("feet", UnitWord::Foot),
    ("'", UnitWord::Foot),
    ("deg", UnitWord::Degree),
    ("°", UnitWord::Degree),
];

impl UnitWord {
    /// Millimetres in one; `None` for an angle.
    pub(super) fn millimetres(self) -> Option<f64> {
        match self {
            UnitWord::Length(mm) => Some(mm),
            UnitWord::Foot => Some(MM_PER_FOOT),
            UnitWord::Degree => None,
        }
    }

    pub(super) fn is_inch(self) -> bool {
        self == UnitWord::Length(MM_PER_INCH)
    }
}

/// Whether a word is a unit, and so cannot be a name.
pub(super) fn is_unit(word: &str) -> bool {
    UNITS.iter().any(|(unit, _)| *unit == word)
}

/// Splits a text.
pub(super) fn tokens(text: &str) -> Result<Vec<Token>, LengthFault> {
    let mut lexer = Lexer { text, at: 0 };
    let mut tokens: Vec<Token> = Vec::new();
    while let Some(next) = lexer.skip_space() {
        let start = lexer.at;
        let after_number = matches!(tokens.last(), Some(t) if matches!(t.what, What::Number(_)));
        let what = match next {
            '0'..='9' | '.' => lexer.number()?,
            '+' => lexer.sign(What::Plus),
            '-' | '\u{2212}' => lexer.sign(What::Minus),
            '*' | '\u{d7}' => lexer.sign(What::Times),
            '/' => lexer.sign(What::Over),
            '(' => lexer.sign(What::Open),
            ')' => lexer.sign(What::Close),
            ',' => lexer.sign(What::Comma),
            '"' | '\u{2033}' if after_number => {
                lexer.sign(What::Unit(UnitWord::Length(MM_PER_INCH)))
            }
            '\'' | '\u{2032}' if after_number => lexer.sign(What::Unit(UnitWord::Foot)),
            '°' if after_number => lexer.sign(What::Unit(UnitWord::Degree)),
            c if c.is_alphabetic() || c == '_' => lexer.word(after_number)?,
            other => {
                return Err(LengthFault::new(
                    start..start + other.len_utf8(),
                    format!("`{other}` does not belong in a length"),
                    if ('\u{bc}'..='\u{be}').contains(&other)
                        || ('\u{2150}'..='\u{215e}').contains(&other)
                    {
                        "write the fraction with a slash: `2 1/2 in`"
                    } else {
                        "write a number, a fraction with a unit, or a calculation"
                    },
                ));
            }
        };
        tokens.push(Token {
            what,
            range: start..lexer.at,
        });
    }
    Ok(tokens)
}

/// What is asked of a room or a part whose name has hyphens in it: `drawer-1.inside_width`. A hyphen with a space beside
/// it is a minus, and so is one before what is asked of stock.
fn hyphenated(rest: &str) -> Option<String> {
    const ASKED: [&str; 5] = [
        "width",
        "height",
        "inside_width",
        "inside_height",
        "inside_depth",
    ];
    let belongs = |c: char| c.is_alphanumeric() || matches!(c, '_' | '-' | '.');
    let word = &rest[..rest.find(|c| !belongs(c)).unwrap_or(rest.len())];
    let (name, asked) = word.split_once('.')?;
    let clean = |part: &str| !part.is_empty() && !part.contains('.');
    let is_one = name.contains('-') && name.split('-').all(clean) && ASKED.contains(&asked);
    is_one.then(|| word.to_owned())
}

struct Lexer<'a> {
    text: &'a str,
    at: usize,
}

impl Lexer<'_> {
    fn rest(&self) -> &str {
        &self.text[self.at..]
    }

    fn skip_space(&mut self) -> Option<char> {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
        self.rest().chars().next()
    }

    fn sign(&mut self, what: What) -> What {
        self.at += self.rest().chars().next().map_or(0, char::len_utf8);
        what
    }

    fn digits(&mut self) -> &str {
        let start = self.at;
        let rest = self.rest();
        let length = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        self.at += length;
        &self.text[start..self.at]
    }

    /// A number with decimals, a fraction or a mixed number.
    fn number(&mut self) -> Result<What, LengthFault> {
        let start = self.at;
        let whole_digits = self.digits().len();
        let mut decimal = false;
        if self.rest().starts_with('.') {
            decimal = true;
            self.at += 1;
            self.digits();
        }
        let rest = self.rest();
        if rest.starts_with(['e', 'E'])
            && rest[1..]
                .trim_start_matches(['+', '-'])
                .starts_with(|c: char| c.is_ascii_digit())
        {
            decimal = true;
            self.at += 1;
            if self.rest().starts_with(['+', '-']) {
                self.at += 1;
            }
            self.digits();
        }
        let text = &self.text[start..self.at];
        let Ok(value) = text.parse::<f64>() else {
            return Err(LengthFault::new(
                start..self.at,
                format!("`{text}` is not a number"),
                "write digits with at most one decimal point",
            ));
        };
        if decimal || whole_digits == 0 {
            return Ok(What::Number(value));
        }
        if let Some(fraction) = self.simple_fraction()? {
            return Ok(What::Number(value / fraction));
        }
        Ok(What::Number(value + self.fraction_of_mixed(start)?))
    }

    /// `/4` directly after whole digits: the denominator.
    fn simple_fraction(&mut self) -> Result<Option<f64>, LengthFault> {
        let start = self.at;
        if !self.rest().starts_with('/') {
            return Ok(None);
        }
        self.at += 1;
        let digits = self.digits().to_owned();
        // Only `3/4 in` binds tighter than division; `3/4` alone has the same value either way, and `6/gap`, `1/2.5`
        // and `3/4e2` are divisions.
        if digits.is_empty()
            || self.rest().starts_with(['.', 'e', 'E'])
            || self.rest().starts_with('(')
        {
            self.at = start;
            return Ok(None);
        }
        let denominator: f64 = digits.parse().unwrap_or(0.0);
        if denominator == 0.0 {
            return Err(LengthFault::new(
                start..self.at,
                "a fraction cannot have 0 below the line",
                "write the denominator that you mean",
            ));
        }
        Ok(Some(denominator))
    }

    /// ` 1/2` or `-1/2` after whole digits: the fraction of a mixed number, or 0.
    fn fraction_of_mixed(&mut self, whole_start: usize) -> Result<f64, LengthFault> {
        let before = self.at;
        let hyphen = self.rest().starts_with('-');
        if hyphen {
            self.at += 1;
        } else {
            let rest = self.rest();
            let spaces = rest.len() - rest.trim_start_matches(' ').len();
            if spaces == 0 {
                return Ok(0.0);
            }
            self.at += spaces;
        }
        let numerator = self.digits().to_owned();
        if numerator.is_empty() || !self.rest().starts_with('/') {
            self.at = before;
            return Ok(0.0);
        }
        let Some(denominator) = self.simple_fraction()? else {
            self.at = before;
            return Ok(0.0);
        };
        if hyphen && !self.unit_follows() {
            return Err(LengthFault::new(
                whole_start..self.at,
                format!(
                    "`{}` can be read in two ways",
                    &self.text[whole_start..self.at]
                ),
                "write `2 1/2` for two and a half, or `2 - 1/2` for the difference",
            ));
        }
        Ok(numerator.parse::<f64>().unwrap_or(0.0) / denominator)
    }

    fn unit_follows(&self) -> bool {
        let rest = self.rest().trim_start();
        let word: String = rest.chars().take_while(|c| c.is_alphabetic()).collect();
        is_unit(&word) || rest.starts_with(['"', '\'', '\u{2033}', '\u{2032}'])
    }

    /// A unit after a number, else a name.
    fn word(&mut self, after_number: bool) -> Result<What, LengthFault> {
        let start = self.at;
        let rest = self.rest();
        let length = rest
            .find(|c: char| !(c.is_alphanumeric() || c == '_' || c == '.'))
            .unwrap_or(rest.len());
        let hyphenated = hyphenated(rest);
        let word = hyphenated.unwrap_or_else(|| rest[..length].trim_end_matches('.').to_owned());
        self.at += word.len();
        if let Some((_, unit)) = UNITS.iter().find(|(name, _)| *name == word) {
            if after_number {
                return Ok(What::Unit(*unit));
            }
            return Err(LengthFault::new(
                start..self.at,
                format!("the unit `{word}` has no number before it"),
                format!("write a number first: `12 {word}`"),
            ));
        }
        if after_number {
            let near = jigless_model::diag::nearest(&word, UNITS.iter().map(|(name, _)| *name));
            return Err(LengthFault::new(
                start..self.at,
                format!("`{word}` is not a unit"),
                match near {
                    Some(near) if near.len() > 1 => {
                        format!("did you mean `{near}`? Units are mm, cm, m, in, ft and deg")
                    }
                    _ => "units are mm, cm, m, in, ft and deg; write * to multiply".to_owned(),
                },
            ));
        }
        Ok(What::Name(word))
    }
}
