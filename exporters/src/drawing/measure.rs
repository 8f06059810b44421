//! Lengths as words on the paper.

use jigless_model::units::{MM_PER_INCH, Unit, decimal};
use jigless_words::{ENGLISH, Words, said};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// An error of a fraction that is shown beside it, in millimetres: more than a drill wanders.
const SHOWN_ERROR: f64 = 0.2;
/// A fraction that is wrong by less than this, in millimetres, passes for the length itself.
const NO_ERROR: f64 = 0.01;

/// Units of lengths on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PaperUnits {
    /// The plan's own unit: millimetres, or inches and fractions.
    #[default]
    Plan,
    /// Millimetres.
    Mm,
    /// Inches and fractions. `~` marks one that is not exact, and an error over 0.2 mm is shown.
    Inch,
    /// Millimetres, and inches in brackets.
    Both,
}

/// How a length is written.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Style {
    /// As numbers with decimals.
    Decimal(Unit),
    /// As inches and fractions with this denominator.
    Fraction(u32),
    /// As millimetres, and inches and fractions in brackets.
    Both(u32),
}

/// Writes lengths, in a language: what is drawn takes its words from here, too.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lengths {
    style: Style,
    /// The words of the language.
    pub(crate) words: &'static Words,
}

impl Lengths {
    /// As numbers with decimals, in English.
    pub(crate) fn decimal(unit: Unit) -> Self {
        Self {
            style: Style::Decimal(unit),
            words: &ENGLISH,
        }
    }

    /// As the user wants them on paper, in English.
    pub(crate) fn on_paper(plan: Unit, units: PaperUnits, denominator: u32) -> Self {
        let style = match (units, plan) {
            (PaperUnits::Mm, _) | (PaperUnits::Plan, Unit::Millimetre) => {
                Style::Decimal(Unit::Millimetre)
            }
            (PaperUnits::Inch, _) | (PaperUnits::Plan, Unit::Inch) => Style::Fraction(denominator),
            (PaperUnits::Both, _) => Style::Both(denominator),
        };
        Self {
            style,
            words: &ENGLISH,
        }
    }

    /// The same in a language.
    pub(crate) fn in_language(self, words: &'static Words) -> Self {
        Self { words, ..self }
    }

    /// The same without fractions alone: for what is measured with a caliper.
    pub(crate) fn for_calipers(self) -> Self {
        match self.style {
            Style::Fraction(_) => Self {
                style: Style::Decimal(Unit::Inch),
                ..self
            },
            Style::Decimal(_) | Style::Both(_) => self,
        }
    }

    /// The unit of the check bars: inches beside millimetres where inches are read.
    pub(crate) fn bar_unit(self) -> Unit {
        match self.style {
            Style::Decimal(unit) => unit,
            Style::Fraction(_) | Style::Both(_) => Unit::Inch,
        }
    }

    /// The bare number: the paper says once which unit holds. Millimetres to 0.01, inches to 0.0001.
    pub(crate) fn bare(self, mm: f64) -> String {
        self.words.number(&match self.style {
            Style::Decimal(unit) => {
                let decimals = match unit {
                    Unit::Millimetre => 2,
                    Unit::Inch => 4,
                };
                decimal(mm / unit.in_mm(), decimals)
            }
            Style::Fraction(denominator) => fraction(mm, denominator),
            Style::Both(denominator) => {
                format!("{} ({} in)", decimal(mm, 2), fraction(mm, denominator))
            }
        })
    }

    /// The number with its unit.
    pub(crate) fn full(self, mm: f64) -> String {
        match self.style {
            Style::Decimal(unit) => format!("{} {}", self.bare(mm), unit.symbol()),
            Style::Fraction(_) => format!("{} in", self.bare(mm)),
            Style::Both(denominator) => {
                let inches = fraction(mm, denominator);
                let words = format!("{} mm ({inches} in)", decimal(mm, 2));
                self.words.number(&words)
            }
        }
    }

    /// A depth as a bare number. Fractions go down and never up: a stop that is set a little short spoils nothing.
    pub(crate) fn depth(self, mm: f64) -> String {
        match self.style {
            Style::Decimal(_) => self.bare(mm),
            Style::Fraction(denominator) => {
                let inches = fraction(rounded_down(mm, denominator), denominator);
                self.words.number(&inches)
            }
            Style::Both(denominator) => {
                let inches = fraction(rounded_down(mm, denominator), denominator);
                let words = format!("{} ({inches} in)", decimal(mm, 2));
                self.words.number(&words)
            }
        }
    }

    /// A depth with its unit; see [`Lengths::depth`].
    pub(crate) fn full_depth(self, mm: f64) -> String {
        match self.style {
            Style::Decimal(unit) => format!("{} {}", self.depth(mm), unit.symbol()),
            Style::Fraction(_) => format!("{} in", self.depth(mm)),
            Style::Both(denominator) => {
                let inches = fraction(rounded_down(mm, denominator), denominator);
                let words = format!("{} mm ({inches} in)", decimal(mm, 2));
                self.words.number(&words)
            }
        }
    }

    /// An angle in degrees, from radians.
    pub(crate) fn degrees(self, radians: f64) -> String {
        self.words.number(&degrees(radians))
    }

    /// What the numbers are, in words.
    pub(crate) fn describe(self) -> String {
        let words = &self.words.drawing;
        match self.style {
            Style::Decimal(Unit::Millimetre) => words.millimetres.to_owned(),
            Style::Decimal(Unit::Inch) => words.inches.to_owned(),
            Style::Fraction(denominator) => said(words.inches_to, &[&denominator.to_string()]),
            Style::Both(denominator) => said(words.both_to, &[&denominator.to_string()]),
        }
    }
}

/// The next fraction of an inch that is not over a length, in millimetres.
fn rounded_down(mm: f64, denominator: u32) -> f64 {
    let parts = mm / MM_PER_INCH * f64::from(denominator);
    (parts + NO_ERROR / MM_PER_INCH * f64::from(denominator)).floor() / f64::from(denominator)
        * MM_PER_INCH
}

/// Inches and the nearest fraction: `3 1/2`, `~15/16`, `~1/4 (-0.35 mm)` where the fraction is 0.35 mm short.
fn fraction(mm: f64, denominator: u32) -> String {
    let parts = (mm.abs() / MM_PER_INCH * f64::from(denominator)).round();
    let error = parts / f64::from(denominator) * MM_PER_INCH - mm.abs();
    let (whole, mut over) = (
        (parts as u64) / u64::from(denominator),
        (parts as u64) % u64::from(denominator),
    );
    let mut under = u64::from(denominator);
    while over > 0 && over % 2 == 0 {
        (over, under) = (over / 2, under / 2);
    }
    let number = match (whole, over) {
        (whole, 0) => format!("{whole}"),
        (0, over) => format!("{over}/{under}"),
        (whole, over) => format!("{whole} {over}/{under}"),
    };
    let sign = if mm < 0.0 && parts > 0.0 { "-" } else { "" };
    let about = if error.abs() > NO_ERROR { "~" } else { "" };
    if error.abs() > SHOWN_ERROR {
        format!(
            "{about}{sign}{number} ({}{} mm)",
            if error > 0.0 { "+" } else { "" },
            decimal(error, 2)
        )
    } else {
        format!("{about}{sign}{number}")
    }
}

/// An angle in degrees, from radians.
pub(crate) fn degrees(radians: f64) -> String {
    format!("{}°", decimal(radians.to_degrees(), 2))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By arithmetic: 23.85 mm is 60.09 sixty-fourths of an inch, and 60/64 is 15/16 or 23.8125 mm, 0.04 short. In
    /// thirty-seconds 6.7 mm is 8.44, and 8/32 is 6.35 mm, 0.35 short.
    #[test]
    fn fractions_say_how_wrong_they_are() {
        assert_eq!(fraction(23.85, 64), "~15/16");
        assert_eq!(fraction(88.9, 64), "3 1/2");
        assert_eq!(fraction(50.8, 32), "2");
        assert_eq!(fraction(6.7, 32), "~1/4 (-0.35 mm)");
        assert_eq!(fraction(-12.7, 32), "-1/2");
        let both = Lengths::on_paper(Unit::Millimetre, PaperUnits::Both, 32);
        assert_eq!(both.full(19.05), "19.05 mm (3/4 in)");
        let plan = Lengths::on_paper(Unit::Inch, PaperUnits::Plan, 64);
        assert_eq!(plan.full(57.15), "2 1/4 in");
    }

    /// 12.5 mm is 31.496 sixty-fourths of an inch: 31/64, and not 1/2, which would be deeper. 12.7 mm is 1/2 exactly.
    #[test]
    fn depths_in_fractions_go_down() {
        let inches = Lengths::on_paper(Unit::Inch, PaperUnits::Plan, 64);
        assert_eq!(inches.depth(12.5), "31/64");
        assert_eq!(inches.depth(12.7), "1/2");
        assert_eq!(inches.full_depth(19.6), "49/64 in");
        assert_eq!(
            Lengths::on_paper(Unit::Inch, PaperUnits::Both, 32).full_depth(12.5),
            "12.5 mm (15/32 in)"
        );
        for tenth in 1..1000 {
            let mm = f64::from(tenth) / 10.0;
            assert!(rounded_down(mm, 32) <= mm + NO_ERROR, "{mm}");
            assert!(rounded_down(mm, 32) > mm - MM_PER_INCH / 32.0, "{mm}");
        }
    }

    /// Half of 1/64 in is 0.198 mm: its error is never over 0.2 mm.
    #[test]
    fn sixty_fourths_are_never_far_off() {
        for tenth in 0..5000 {
            let words = fraction(f64::from(tenth) / 10.0, 64);
            assert!(!words.contains("mm"), "{words}");
        }
    }
}
