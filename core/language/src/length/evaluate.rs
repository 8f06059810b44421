//! Working out an expression.

use jigless_model::units::Unit;

use super::expression::{Function, Operator, Term, TermKind};
use super::{Expression, Kind, LengthFault, Quantity};

/// What the names in an expression stand for.
pub trait Names {
    /// The quantity of a name.
    ///
    /// # Errors
    /// When there is no such name or it cannot be worked out.
    fn look_up(&self, name: &str) -> Result<Quantity, NameFault>;

    /// The unit of bare numbers.
    fn unit(&self) -> Unit;

    /// Keeps the size of something that a builder made, for what is read after it; other names know nothing of it.
    fn know(&self, _name: String, _mm: f64) {}

    /// Notes which of the plan's builders works; those after it have made nothing yet.
    fn building(&self, _number: usize) {}

    /// Notes that something was not made, whose fault is reported elsewhere: sizes that are not known may be its own.
    fn lack(&self) {}

    /// Whether something of this name is described as stock, however badly.
    fn describes_stock(&self, _: &str) -> bool {
        false
    }
}

/// Why a name stands for nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NameFault {
    /// What is wrong, and what to do.
    New {
        /// What is wrong.
        message: String,
        /// What to do.
        fix: String,
    },
    /// It has a fault of its own, which is reported where it stands.
    Reported,
}

impl Expression {
    /// Works it out.
    ///
    /// # Errors
    /// What cannot be worked out, and where.
    pub fn evaluate(&self, names: &dyn Names) -> Result<Quantity, LengthFault> {
        let quantity = evaluate(&self.root, names)?;
        if quantity.value.is_finite() {
            Ok(quantity)
        } else {
            Err(LengthFault::new(
                self.root.range.clone(),
                "this is too large to be a number",
                "write a length that fits in a workshop",
            ))
        }
    }
}

fn evaluate(term: &Term, names: &dyn Names) -> Result<Quantity, LengthFault> {
    match &term.what {
        TermKind::Bare(value) => Ok(Quantity::bare(*value)),
        TermKind::Length(mm) => Ok(Quantity::length(*mm)),
        TermKind::Angle(degrees) => Ok(Quantity {
            value: *degrees,
            kind: Kind::Angle,
        }),
        TermKind::Name(name) => names.look_up(name).map_err(|fault| match fault {
            NameFault::New { message, fix } => LengthFault::new(term.range.clone(), message, fix),
            NameFault::Reported => LengthFault {
                reported: true,
                ..LengthFault::new(term.range.clone(), String::new(), String::new())
            },
        }),
        TermKind::Minus(inner) => {
            let inner = evaluate(inner, names)?;
            Ok(Quantity {
                value: -inner.value,
                ..inner
            })
        }
        TermKind::Two(operator, left, right) => {
            let left = evaluate(left, names)?;
            let right = evaluate(right, names)?;
            let range = term.range.clone();
            match operator {
                Operator::Multiply => left.times(right, range),
                Operator::Divide => left.over(right, names.unit(), range),
                Operator::Add => {
                    let (a, b, kind) = left.matched(right, names.unit(), "added", range)?;
                    Ok(Quantity { value: a + b, kind })
                }
                Operator::Subtract => {
                    let (a, b, kind) = left.matched(right, names.unit(), "subtracted", range)?;
                    Ok(Quantity { value: a - b, kind })
                }
            }
        }
        TermKind::Call(function, arguments) => call(*function, arguments, term, names),
    }
}

fn call(
    function: Function,
    arguments: &[Term],
    term: &Term,
    names: &dyn Names,
) -> Result<Quantity, LengthFault> {
    let mut values = arguments.iter().map(|argument| evaluate(argument, names));
    let Some(first) = values.next() else {
        return Err(LengthFault::new(
            term.range.clone(),
            "there is nothing in the brackets",
            "write what it works on",
        ));
    };
    let first = first?;
    match function {
        Function::Floor | Function::Ceil => {
            let number = first.as_number(term.range.clone())?;
            // Noise in the last digits must not cost a whole unit: 96 mm / 32 mm is 3, not 2.
            let near = number.round();
            let value = if (number - near).abs() < 1e-9 {
                near
            } else if function == Function::Floor {
                number.floor()
            } else {
                number.ceil()
            };
            // A whole number counts something, so it may stand for so many of the plan's unit again.
            Ok(Quantity::bare(value))
        }
        Function::Min | Function::Max => values.try_fold(first, |best, next| {
            let (a, b, kind) = best.matched(next?, names.unit(), "compared", term.range.clone())?;
            let value = if function == Function::Min {
                a.min(b)
            } else {
                a.max(b)
            };
            Ok(Quantity { value, kind })
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    struct Shop(Unit);

    impl Names for Shop {
        fn look_up(&self, name: &str) -> Result<Quantity, NameFault> {
            match name {
                "width" => Ok(Quantity::length(600.0)),
                "gap" => Ok(Quantity::bare(2.0)),
                "birch18.thickness" => Ok(Quantity::length(17.7)),
                _ => Err(NameFault::New {
                    message: format!("there is no value `{name}`"),
                    fix: String::new(),
                }),
            }
        }

        fn unit(&self) -> Unit {
            self.0
        }
    }

    fn mm(text: &str, unit: Unit) -> Result<f64, LengthFault> {
        Expression::parse(text)?
            .evaluate(&Shop(unit))?
            .as_length(unit, 0..text.len())
    }

    fn close(text: &str, unit: Unit, expected: f64) {
        let got = mm(text, unit).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
        assert!(
            (got - expected).abs() < 1e-9,
            "{text}: {got} is not {expected}"
        );
    }

    #[test]
    fn lengths_as_people_write_them() {
        for (text, expected) in [
            ("18", 18.0),
            ("18 mm", 18.0),
            ("1.8cm", 18.0),
            ("3/4 in", 19.05),
            ("3/4in", 19.05),
            ("2 1/2 in", 63.5),
            ("2-1/2in", 63.5),
            ("2 - 1/2 in", 2.0 - 12.7),
            ("1 ft 6 in", 457.2),
            ("1 ft 6 1/2 in", 469.9),
            ("1'6\"", 457.2),
            ("-3 mm", -3.0),
            ("(width - 2*gap)/3", 596.0 / 3.0),
            ("width/2 - 3/8 in", 300.0 - 9.525),
            ("min(width, 5 in, 130)", 127.0),
            ("max(gap, 1)", 2.0),
            ("floor(width / 32 mm) * 32", 576.0),
            ("ceil(width/7mm)*7mm", 602.0),
            ("floor(100 / 32 mm) * 1 mm", 3.0),
            ("2 * birch18.thickness", 35.4),
            ("1e1", 10.0),
            (".5", 0.5),
            ("1 1/2", 1.5),
            ("3/4 in * 2 + 1", 39.1),
        ] {
            close(text, Unit::Millimetre, expected);
        }
        close("2 1/2", Unit::Inch, 63.5);
        close("width + 1", Unit::Inch, 625.4);
        close("3/16 + 18 mm", Unit::Inch, 4.7625 + 18.0);
    }

    #[test]
    fn what_is_no_length_says_why_and_where() {
        let fault = |text: &str| {
            let fault = mm(text, Unit::Millimetre).expect_err(text);
            format!("{}..{} {}", fault.start, fault.end, fault.message)
        };
        assert_eq!(
            fault("width * width"),
            "0..13 a length times a length is an area; a length belongs here"
        );
        assert_eq!(
            fault("45 deg"),
            "0..6 this is an angle; a length belongs here"
        );
        assert!(fault("width/2mm").contains("pure number"));
        assert_eq!(fault("12 mn"), "3..5 `mn` is not a unit");
        assert_eq!(fault("2-1/2"), "0..5 `2-1/2` can be read in two ways");
        assert_eq!(
            fault("1 +"),
            "3..3 the calculation ends where a value is expected"
        );
        assert_eq!(fault("(1 + 2"), "0..1 this bracket is never closed");
        assert_eq!(fault("12,5"), "2..3 `,` was not expected here");
        assert_eq!(fault("1 / 0"), "0..5 this divides by zero");
        assert_eq!(
            fault("1/0 in"),
            "1..3 a fraction cannot have 0 below the line"
        );
        assert_eq!(fault("heigth"), "0..6 there is no value `heigth`");
        assert_eq!(
            fault("floor(width)"),
            "0..12 this is a length; a plain number belongs here"
        );
        assert_eq!(
            fault("1e308*1e308"),
            "0..11 this is too large to be a number"
        );
        assert_eq!(fault("mm"), "0..2 the unit `mm` has no number before it");
        assert!(fault(&"(".repeat(400)).contains("nest more than"));
        assert!(fault(&"-".repeat(400)).contains("nest more than"));
        assert!(fault(&"1+".repeat(400)).contains("characters"));
        assert_eq!(fault(".nan"), "0..1 `.` is not a number");
        assert!(fault("€").contains("does not belong"));
    }

    proptest! {
        #[test]
        fn any_text_gives_a_length_or_a_placed_fault(text in "[-+*/(), .0-9a-z\"'°½]{0,40}") {
            if let Err(fault) = mm(&text, Unit::Inch) {
                prop_assert!(fault.start <= fault.end && fault.end <= text.len());
                prop_assert!(text.is_char_boundary(fault.start) && text.is_char_boundary(fault.end));
            }
        }

        #[test]
        fn fractions_of_an_inch_are_exact(whole in 0u32..100, numerator in 1u32..64, power in 1u32..7) {
            let denominator = 1u32 << power;
            let expected = (f64::from(whole) + f64::from(numerator) / f64::from(denominator)) * 25.4;
            for text in [
                format!("{whole} {numerator}/{denominator} in"),
                format!("{whole}-{numerator}/{denominator}in"),
                format!("{whole} in + {numerator}/{denominator}\""),
            ] {
                let got = mm(&text, Unit::Millimetre).unwrap();
                prop_assert!((got - expected).abs() < 1e-9, "{} is {}", text, got);
            }
        }

        #[test]
        fn a_length_reads_back_in_either_unit(mm_value in 0.001..9999.0f64) {
            let inches = mm_value / 25.4;
            let text = format!("{inches} in");
            prop_assert!((mm(&text, Unit::Millimetre).unwrap() - mm_value).abs() < 1e-9);
        }
    }
}
