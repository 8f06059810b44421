//! Excerpts of plan files, found by their indentation alone: no code of Jigless is asked.

use crate::fixtures::workspace;

/// A plan in a code block: `PATH` for all of it, `PATH: KEY.KEY` for what is below a key, with the keys above it.
///
/// # Panics
/// When the file or the key is not there.
pub(super) fn quoted(wanted: &str) -> String {
    let (path, keys) = match wanted.split_once(": ") {
        Some((path, keys)) => (path, keys.split('.').collect()),
        None => (wanted, Vec::new()),
    };
    let text = read(path);
    let lines: Vec<&str> = text.lines().collect();
    let mut shown = Vec::new();
    let mut block = lines.as_slice();
    for (depth, key) in keys.iter().enumerate() {
        let below = below(block, key, depth * 2).unwrap_or_else(|| panic!("{path} has no `{key}`"));
        shown.push(below[0]);
        block = &below[1..];
    }
    shown.extend(trimmed(block));
    format!("```yaml\n{}\n```", shown.join("\n"))
}

/// Reads a file of the workspace.
pub(super) fn read(path: &str) -> String {
    std::fs::read_to_string(workspace().join(path))
        .unwrap_or_else(|error| panic!("{path} cannot be read: {error}"))
}

/// The line of a key at an indent, and all lines below it.
fn below<'a, 'b>(lines: &'b [&'a str], key: &str, indent: usize) -> Option<&'b [&'a str]> {
    let head = format!("{}{key}:", " ".repeat(indent));
    let start = lines.iter().position(|line| line.starts_with(&head))?;
    let length = lines[start + 1..]
        .iter()
        .position(|line| !line.trim().is_empty() && indent_of(line) <= indent)
        .map_or(lines.len() - start, |length| length + 1);
    Some(&lines[start..start + length])
}

/// Entries of a list with one key each, such as `- hole: {...}` below `features:`, without their indent.
pub(super) fn items(text: &str, section: &str, key: &str) -> Vec<String> {
    let lines: Vec<&str> = text.lines().collect();
    let mut items = Vec::new();
    let mut inside: Option<usize> = None;
    for (at, line) in lines.iter().enumerate() {
        let indent = indent_of(line);
        if line.trim() == format!("{section}:") {
            inside = Some(indent);
        } else if let Some(outer) = inside
            && !line.trim().is_empty()
        {
            let entry = line.trim_start().starts_with("- ");
            if indent < outer || (indent == outer && !entry) {
                inside = None;
            } else if line.trim_start().starts_with(&format!("- {key}:")) {
                items.push(block(&lines, at, indent));
            }
        }
    }
    items
}

/// Entries below `builds:` that a builder makes, with their names.
pub(super) fn builds(text: &str, builder: &str) -> Vec<String> {
    let lines: Vec<&str> = text.lines().collect();
    let Some(start) = lines.iter().position(|line| *line == "builds:") else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for at in start + 1..lines.len().saturating_sub(1) {
        if !lines[at].is_empty() && indent_of(lines[at]) == 0 {
            break;
        }
        let is_name = indent_of(lines[at]) == 2 && lines[at].trim_end().ends_with(':');
        if is_name && lines[at + 1].starts_with(&format!("    {builder}:")) {
            found.push(block(&lines, at, 2));
        }
    }
    found
}

/// A line and those that are indented below it, all without the line's indent.
fn block(lines: &[&str], at: usize, indent: usize) -> String {
    let more = lines[at + 1..]
        .iter()
        .take_while(|line| line.trim().is_empty() || indent_of(line) > indent)
        .count();
    let own: Vec<&str> = trimmed(&lines[at..=at + more])
        .iter()
        .map(|line| line.get(indent..).unwrap_or_default())
        .collect();
    own.join("\n")
}

/// Without empty lines, and remarks about what follows, at the end.
fn trimmed<'a, 'b>(lines: &'b [&'a str]) -> &'b [&'a str] {
    let kept = lines
        .iter()
        .rposition(|line| !line.trim().is_empty() && !line.trim_start().starts_with('#'));
    &lines[..kept.map_or(0, |last| last + 1)]
}

fn indent_of(line: &str) -> usize {
    line.len() - line.trim_start().len()
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLAN: &str = "builds:
  a:
    rack: {length: 1}
  b:
    door:
      in: a

parts:
  p:
    features:
      - hole: {at: [1, 2]}
      - groove:
          along: width
          depth: 6

  q:
    width: 3
joints:
- groove: {part: p, to: q}
";

    #[test]
    fn entries_are_found_in_their_section_alone() {
        assert_eq!(
            items(PLAN, "features", "groove"),
            ["- groove:\n    along: width\n    depth: 6"]
        );
        assert_eq!(
            items(PLAN, "joints", "groove"),
            ["- groove: {part: p, to: q}"]
        );
        assert!(items(PLAN, "features", "rebate").is_empty());
        assert_eq!(builds(PLAN, "door"), ["b:\n  door:\n    in: a"]);
    }

    #[test]
    fn what_is_below_a_key_ends_where_its_indent_does() {
        let lines: Vec<&str> = PLAN.lines().collect();
        let parts = below(&lines, "parts", 0).unwrap();
        assert_eq!(trimmed(below(parts, "p", 2).unwrap()).len(), 6);
        assert!(below(parts, "r", 2).is_none());
    }
}
