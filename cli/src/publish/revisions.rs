//! Earlier revisions of a plan: plan files in the folder `revisions` beside it.

use std::cmp::Ordering;
use std::fs;

use crate::disk::{folder_of, leads_out};
use crate::find::{PLAN_FILE, PlanAt};
use crate::paths::check_relative;

/// The folder of earlier revisions beside a plan.
const FOLDER: &str = "revisions";

/// The earlier revisions of a plan that stands in a folder of its own: `revisions/NAME.yaml`, or
/// `revisions/NAME/plan.yaml` with what it includes beside it. In the order of their names, in which numbers count.
pub fn revisions_of(plan: &PlanAt) -> Vec<PlanAt> {
    if plan.file.file_name().is_none_or(|name| name != PLAN_FILE) {
        return Vec::new();
    }
    let folder = folder_of(&plan.file);
    let entries = fs::read_dir(folder.join(FOLDER));
    let mut found: Vec<(String, PlanAt)> = Vec::new();
    for entry in entries.into_iter().flatten().flatten() {
        let path = entry.path();
        let file = if path.is_dir() {
            path.join(PLAN_FILE)
        } else {
            path.clone()
        };
        let is_yaml = file
            .extension()
            .is_some_and(|it| it == "yaml" || it == "yml");
        let named = if path.is_dir() {
            path.file_name()
        } else {
            path.file_stem()
        };
        let Some(name) = named.and_then(|name| name.to_str()) else {
            continue;
        };
        let stays = !leads_out(&file, folder).unwrap_or(true);
        if is_yaml && stays && file.is_file() && check_relative(name).is_ok() {
            let plan = PlanAt {
                name: format!("{}/{FOLDER}/{name}", plan.name),
                file,
            };
            found.push((name.to_owned(), plan));
        }
    }
    found.sort_by(|(a, _), (b, _)| by_number(a, b));
    found.into_iter().map(|(_, plan)| plan).collect()
}

/// The name of a revision, from the name of its plan.
pub(super) fn name_of(plan: &PlanAt) -> &str {
    plan.name.rsplit('/').next().unwrap_or_default()
}

/// Names in which numbers count as numbers: `2` before `10`.
fn by_number(one: &str, other: &str) -> Ordering {
    let pieces = |text: &str| -> Vec<(String, u64)> {
        let mut pieces: Vec<(String, u64)> = Vec::new();
        let mut rest = text;
        while !rest.is_empty() {
            let words = rest
                .find(|c: char| c.is_ascii_digit())
                .unwrap_or(rest.len());
            let digits = rest[words..].find(|c: char| !c.is_ascii_digit());
            let end = digits.map_or(rest.len(), |digits| words + digits);
            pieces.push((
                rest[..words].to_owned(),
                rest[words..end].parse().unwrap_or(0),
            ));
            rest = &rest[end..];
        }
        pieces
    };
    pieces(one).cmp(&pieces(other)).then_with(|| one.cmp(other))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_names_count() {
        let mut names = ["b", "10", "2", "2026-03-31", "a10", "a9", "2a"];
        names.sort_by(|a, b| by_number(a, b));
        assert_eq!(names, ["2", "2a", "10", "2026-03-31", "a9", "a10", "b"]);
    }
}
