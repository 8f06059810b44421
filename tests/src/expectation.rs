//! What a faulty plan says it must give: `# expect: error CODE "part of the message"` on the line of the finding.

/// One finding that a plan must give.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Expectation {
    /// Line, counted from 1.
    pub line: usize,
    /// `error` or `warning`.
    pub severity: String,
    /// Code of the finding.
    pub code: String,
    /// A part of its message.
    pub message: String,
}

const SIGN: &str = "# expect: ";

/// All expectations in a text, in order; a line may hold several.
///
/// # Panics
/// When one is not written as it should be, which is a fault of the fixture.
pub fn expectations(text: &str) -> Vec<Expectation> {
    let mut found = Vec::new();
    for (number, line) in text.lines().enumerate() {
        for part in line.split(SIGN).skip(1) {
            let part = part.trim();
            let words = part.splitn(3, ' ').collect::<Vec<_>>();
            let &[severity, code, quoted] = words.as_slice() else {
                panic!("line {}: three words wanted: {part}", number + 1);
            };
            let message = quoted
                .strip_prefix('"')
                .and_then(|rest| rest.strip_suffix('"'))
                .unwrap_or_else(|| panic!("line {}: quotes wanted: {part}", number + 1));
            assert!(!message.is_empty(), "line {}: empty: {part}", number + 1);
            found.push(Expectation {
                line: number + 1,
                severity: severity.to_owned(),
                code: code.to_owned(),
                message: message.to_owned(),
            });
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::{Expectation, expectations};

    #[test]
    fn two_on_one_line_are_two() {
        let text = "a: 1\nb: 2  # expect: error x-y \"a `b` c\"  # expect: warning z \"d\"\n";
        let make = |severity: &str, code: &str, message: &str| Expectation {
            line: 2,
            severity: severity.to_owned(),
            code: code.to_owned(),
            message: message.to_owned(),
        };
        assert_eq!(
            expectations(text),
            [make("error", "x-y", "a `b` c"), make("warning", "z", "d")]
        );
    }

    #[test]
    #[should_panic(expected = "quotes wanted")]
    fn a_forgotten_quote_is_not_overlooked() {
        expectations("a: 1  # expect: error x message\n");
    }
}
