//! What to open after an export: which file or folder is for which job.

use std::collections::BTreeMap;
use std::sync::Mutex;

use crate::choice::Chosen;
use crate::styled::Styled;

/// The formats that were made, each with what to open below a plan's folder.
#[derive(Debug, Default)]
pub(super) struct Opening(Mutex<BTreeMap<String, String>>);

impl Opening {
    /// Adds the files of one plan: ids of formats with their paths.
    pub(super) fn add<'p>(&self, files: impl Iterator<Item = (&'p str, &'p str)>) {
        let Ok(mut opening) = self.0.lock() else {
            return;
        };
        for (format, path) in files {
            let known = opening
                .entry(format.to_owned())
                .or_insert_with(|| path.to_owned());
            // A format of several files, or of other files for each plan, is opened by its folder.
            if known != path {
                *known = format!("{format}/");
            }
        }
    }

    /// A line for each format, in the order of the formats; nothing where nothing was made. `place` is where the folders
    /// of the formats are; lines are broken at `columns`.
    pub(super) fn in_words(
        &self,
        formats: &[Chosen],
        place: &str,
        columns: Option<usize>,
    ) -> Styled {
        let opening = self.0.lock().map(|opening| opening.clone());
        let opening = opening.unwrap_or_default();
        let widest = opening.values().map(|path| path.chars().count()).max();
        let widest = widest.unwrap_or(0);
        let mut text = Styled::default();
        for format in formats {
            let Some(path) = opening.get(format.id()) else {
                continue;
            };
            if text == Styled::default() {
                text.add(&format!("Open in {place}:\n"));
            }
            let first = format!("  {path:widest$}  ");
            let further = " ".repeat(widest + 4);
            let job = Styled::from(job(format.summary));
            text.append(&job.wrapped(columns, &first, &further));
            text.add("\n");
        }
        text
    }
}

/// What a format is for: the first clause of its summary.
pub fn job(summary: &str) -> &str {
    let end = summary.find([',', ':', ';']).unwrap_or(summary.len());
    summary[..end].trim_end_matches('.')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_file_is_named_and_several_are_a_folder() {
        let opening = Opening::default();
        opening.add([("list", "list/a.csv"), ("dots", "dots/a.txt")].into_iter());
        opening.add([("list", "list/a.csv"), ("dots", "dots/b.txt")].into_iter());
        let opening = opening.0.into_inner().unwrap();
        assert_eq!(opening["list"], "list/a.csv");
        assert_eq!(opening["dots"], "dots/");
    }

    #[test]
    fn the_job_is_the_first_clause_of_a_summary() {
        assert_eq!(
            job("full-size templates to print, one for each part"),
            "full-size templates to print"
        );
        assert_eq!(job("a test."), "a test");
    }
}
