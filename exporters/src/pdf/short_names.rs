//! Short names of holes, many in a few words.

use jigless_model::operation::{Operation, Work};

/// The name of a piece of work; empty for work that has none.
pub(super) fn of(operation: Option<&Operation>) -> String {
    let name = operation.and_then(|operation| match &operation.work {
        Work::Drill(drill) => Some(drill.id.clone()),
        Work::AngledBore(bore) => Some(bore.id.clone()),
        Work::EdgeDrill(hole) => Some(hole.id.clone()),
        Work::MillArea(area) => Some(area.id.clone()),
        Work::CutContour(_) | Work::Mark(_) | Work::Bevel(_) => None,
    });
    name.unwrap_or_default()
}

/// Names as ranges: `H1-H4, H7`.
pub(super) fn joined(names: &[String]) -> String {
    let mut parts: Vec<(char, u32)> = names.iter().filter_map(|name| split(name)).collect();
    if parts.len() != names.len() {
        return names.join(", ");
    }
    parts.sort_unstable();
    parts.dedup();
    let mut runs: Vec<(char, u32, u32)> = Vec::new();
    for (letter, number) in parts {
        match runs.last_mut() {
            Some((last, _, to)) if *last == letter && *to + 1 == number => *to = number,
            _ => runs.push((letter, number, number)),
        }
    }
    let run = |(letter, from, to): (char, u32, u32)| match to - from {
        0 => format!("{letter}{from}"),
        1 => format!("{letter}{from}, {letter}{to}"),
        _ => format!("{letter}{from}-{letter}{to}"),
    };
    runs.into_iter().map(run).collect::<Vec<_>>().join(", ")
}

fn split(name: &str) -> Option<(char, u32)> {
    let letter = name.chars().next()?;
    Some((letter, name.get(letter.len_utf8()..)?.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::joined;

    #[test]
    fn names_in_a_row_are_a_range() {
        let names = |words: &str| words.split(' ').map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(joined(&names("H1 H2 H3 H4")), "H1-H4");
        assert_eq!(joined(&names("H25 H1 H2 H7")), "H1, H2, H7, H25");
        assert_eq!(joined(&names("H9 H10 P1 H11")), "H9-H11, P1");
        assert_eq!(joined(&[]), "");
    }
}
