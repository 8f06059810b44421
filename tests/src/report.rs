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

/// All findings with a place in what the program wrote to standard error: lines
/// `file:line:column: severity: message (code)`.
pub fn printed(stderr: &str) -> Vec<Printed> {
    stderr.lines().filter_map(finding).collect()
}

fn finding(text: &str) -> Option<Printed> {
    let severities = ["error", "warning", "note"].into_iter();
    let (severity, (place, rest)) = severities
        .filter_map(|severity| Some((severity, text.split_once(&format!(": {severity}: "))?)))
        .min_by_key(|(_, (place, _))| place.len())?;
    let (place, column) = place.rsplit_once(':')?;
    let (file, line) = place.rsplit_once(':')?;
    let (message, code) = rest.strip_suffix(')')?.rsplit_once(" (")?;
    Some(Printed {
        file: file.to_owned(),
        line: line.parse().ok()?,
        column: column.parse().ok()?,
        severity: severity.to_owned(),
        code: code.to_owned(),
        message: message.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::printed;

    #[test]
    fn the_first_line_of_a_finding_holds_all_of_it() {
        let text = "C:/p/plan.yaml:12:7: error: no `x`: y (z) (a-b)\n  door > x\njigless: error: none\n\n1 error\n";
        let found = printed(text);
        assert_eq!(found.len(), 1);
        assert_eq!(
            (
                found[0].file.as_str(),
                found[0].line,
                found[0].column,
                found[0].message.as_str(),
                found[0].code.as_str()
            ),
            ("C:/p/plan.yaml", 12, 7, "no `x`: y (z)", "a-b")
        );
    }
}
