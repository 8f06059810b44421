//! The findings that the program printed for people, read back.

/// A finding as printed.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Printed {
    /// The file as printed.
    pub file: String,
    /// Line, counted from 1.
    pub line: usize,
    /// Column, counted from 1.
    pub column: usize,
    /// `error` or `warning`.
    pub severity: String,
    /// Code of the finding.
    pub code: String,
    /// Its message.
    pub message: String,
}

/// All findings with a place in what the program wrote to standard error: a line `error[code]: message`, and below it
/// one with `--> file:line:column`.
pub fn printed(stderr: &str) -> Vec<Printed> {
    let mut found = Vec::new();
    let mut head: Option<(String, String, String)> = None;
    for line in stderr.lines() {
        if let Some(next) = heading(line) {
            head = Some(next);
        } else if let Some(place) = line.trim_start().strip_prefix("--> ")
            && let Some((severity, code, message)) = head.take()
            && let Some((file, line, column)) = place_of(place)
        {
            found.push(Printed {
                file,
                line,
                column,
                severity,
                code,
                message,
            });
        }
    }
    found
}

fn heading(line: &str) -> Option<(String, String, String)> {
    let (severity, rest) = line.split_once('[')?;
    let (code, message) = rest.split_once("]: ")?;
    matches!(severity, "error" | "warning" | "note")
        .then(|| (severity.to_owned(), code.to_owned(), message.to_owned()))
}

fn place_of(place: &str) -> Option<(String, usize, usize)> {
    let (rest, column) = place.trim_end().rsplit_once(':')?;
    let (file, line) = rest.rsplit_once(':')?;
    Some((file.to_owned(), line.parse().ok()?, column.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::printed;

    #[test]
    fn heading_and_place_are_joined() {
        let text = "error[a-b]: no `x`: y\n --> C:/p/plan.yaml:12:7\n  |\nerror: 1 error\n";
        let found = printed(text);
        assert_eq!(found.len(), 1);
        assert_eq!(
            (
                found[0].file.as_str(),
                found[0].line,
                found[0].column,
                found[0].message.as_str()
            ),
            ("C:/p/plan.yaml", 12, 7, "no `x`: y")
        );
    }
}
