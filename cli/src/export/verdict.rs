//! What a format says of a plan before anything is made.

use std::fmt::Write;

use jigless_core::diag::{Finding, Findings, Severity};

/// The verdict.
#[derive(Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It can be made.
    Takes,
    /// The format cannot work as it is set, whatever the plan. It is an error, and what it wrote before stays.
    OptionsRefused,
    /// It cannot be made of this plan, and was asked for. It is an error, and what it wrote before stays.
    PlanRefused,
    /// It cannot be made of this plan, and nobody asked for it. The reason in a line.
    LeftOut(String),
}

impl Verdict {
    /// What the findings of a format mean.
    pub fn of(found: &Findings, is_asked_for: bool) -> Self {
        let errors: Vec<&Finding> = found
            .iter()
            .filter(|finding| finding.severity == Severity::Error)
            .collect();
        let Some(first) = errors.first() else {
            return Self::Takes;
        };
        // What a format has against a plan is at a place of the plan; what has none is about its options.
        if errors.iter().any(|finding| finding.span.is_none()) {
            return Self::OptionsRefused;
        }
        if is_asked_for {
            return Self::PlanRefused;
        }
        let mut reason = first.message.clone();
        if errors.len() > 1 {
            // Writing to a String cannot fail.
            let _ = write!(reason, ", and {} more", errors.len() - 1);
        }
        Self::LeftOut(reason)
    }
}

/// The findings of a format with its name before those that have no place, which would not say whose they are.
pub fn named(id: &str, found: &Findings) -> Findings {
    found.each(|finding| {
        let mut finding = finding.clone();
        if finding.span.is_none() {
            finding.message = format!("{id}: {}", finding.message);
        }
        finding
    })
}

#[cfg(test)]
mod tests {
    use jigless_core::source::{Sources, Span};

    use super::*;
    use crate::codes;

    #[test]
    fn options_are_to_blame_where_no_place_of_the_plan_is() {
        let mut sources = Sources::default();
        let file = sources.add("plan.yaml", "a: 1\n");
        let span = Span {
            file,
            start: 0,
            end: 1,
        };
        let of = |spans: &[Option<Span>], asked| {
            let mut found = Findings::new();
            found.push(Finding::warning(codes::BAD_LIMIT, span, "mind this"));
            for span in spans {
                found.push(Finding::new(
                    codes::OPTION_VALUE,
                    Severity::Error,
                    *span,
                    "it is too wide",
                ));
            }
            Verdict::of(&found, asked)
        };
        assert_eq!(of(&[], true), Verdict::Takes);
        assert_eq!(of(&[Some(span)], true), Verdict::PlanRefused);
        assert_eq!(
            of(&[Some(span)], false),
            Verdict::LeftOut("it is too wide".to_owned())
        );
        assert_eq!(of(&[Some(span), None], false), Verdict::OptionsRefused);
    }
}
