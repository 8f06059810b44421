//! What was printed, sheet by sheet, for another run to compare with: which sheets of an earlier print are still good.

use serde::{Deserialize, Serialize};

use super::hole_list::HoleList;

/// Name of the file.
pub(super) const FILE: &str = "sheets.json";

/// The sheets of a print.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PrintRecord {
    /// Title of the plan.
    pub(super) plan: String,
    /// The sheets of templates.
    pub(super) sheets: Vec<SheetRecord>,
    /// The lists of holes and rows.
    pub(super) lists: Vec<ListRecord>,
}

/// A sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SheetRecord {
    /// Its number, from 1.
    pub(super) number: usize,
    /// Its fingerprint.
    pub(super) code: String,
    /// The parts that it is for, and what of them it shows.
    pub(super) shows: String,
}

/// The list of a part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ListRecord {
    /// Id of the part.
    pub(super) part: String,
    /// Its fingerprint.
    pub(super) code: String,
}

impl PrintRecord {
    /// Reads a record; `None` where the text is none.
    pub(super) fn read(text: &str) -> Option<Self> {
        serde_json::from_str(text).ok()
    }

    /// The sheet with a fingerprint.
    pub(super) fn sheet(&self, code: &str) -> Option<&SheetRecord> {
        self.sheets.iter().find(|sheet| sheet.code == code)
    }

    /// Whether it holds a list as it is now.
    pub(super) fn has_list(&self, list: &ListRecord) -> bool {
        self.lists.contains(list)
    }

    /// What is to be done with the sheets of this print, now that there is another.
    pub(super) fn compared(&self, now: &PrintRecord) -> HoleList {
        let mut list = HoleList::new(&format!("Sheets of {}", now.plan));
        let of_then = |sheet: &SheetRecord| {
            format!("sheet {} · {} · {}", sheet.number, sheet.code, sheet.shows)
        };
        let good = self
            .sheets
            .iter()
            .filter(|sheet| now.sheet(&sheet.code).is_some());
        let bad = self
            .sheets
            .iter()
            .filter(|sheet| now.sheet(&sheet.code).is_none());
        let new = now
            .sheets
            .iter()
            .filter(|sheet| self.sheet(&sheet.code).is_none());
        let words =
            |found: &mut dyn Iterator<Item = &SheetRecord>| found.map(of_then).collect::<Vec<_>>();
        let nothing = |words: Vec<String>| {
            if words.is_empty() {
                vec!["none".to_owned()]
            } else {
                words
            }
        };
        let sections = [
            (
                "throw away, of the earlier print",
                words(&mut bad.into_iter()),
            ),
            ("printed anew, with this page", words(&mut new.into_iter())),
            (
                "still good, of the earlier print: keep",
                words(&mut good.into_iter()),
            ),
        ];
        for (heading, words) in sections {
            list.section(heading, &nothing(words));
        }
        list.section(
            "and",
            &["Compare the code at the head of each sheet. Lists of holes are printed anew for parts whose list changed."
                .to_owned()],
        );
        list
    }
}
