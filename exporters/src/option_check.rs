//! Whether the value of an option can be, decided in one way for all formats.

use jigless_model::code::Code;
use jigless_model::diag::{Finding, Findings, Severity};

use crate::codes;

/// The smallest fractions of an inch that are on a rule, as one over these.
const FRACTIONS: [u32; 4] = [8, 16, 32, 64];

/// Reports a number outside what an option takes. `unit` follows the numbers: `mm`, or nothing for a bare number.
pub(crate) fn in_range(
    option: &str,
    value: f64,
    (low, high): (f64, f64),
    unit: &str,
    findings: &mut Findings,
) {
    if !(low..=high).contains(&value) {
        let message = format!("`{option}` cannot be {value}");
        let fix = format!("give {low} to {high} {unit}");
        findings.push(refused(codes::OPTION_OUT_OF_RANGE, message, fix.trim_end()));
    }
}

/// Reports a length in millimetres outside what an option takes.
pub(crate) fn length_in_range(
    option: &str,
    value: f64,
    range: (f64, f64),
    findings: &mut Findings,
) {
    in_range(option, value, range, "mm", findings);
}

/// Reports a fraction of an inch that is on no rule.
pub(crate) fn fractions(option: &str, denominator: u32, findings: &mut Findings) {
    if !FRACTIONS.contains(&denominator) {
        let message = format!("`{option}` cannot be {denominator}");
        findings.push(refused(
            codes::OPTION_OUT_OF_RANGE,
            message,
            "give 8, 16, 32 or 64",
        ));
    }
}

/// The value of an option that cannot be.
pub(crate) fn refused(code: Code, message: impl Into<String>, fix: &str) -> Finding {
    Finding::new(code, Severity::Error, None, message).fix(fix)
}
