//! The texts of a plan, changed in single places: everything else, comments and line ends too, stays byte for byte.

use std::cell::RefCell;
use std::collections::BTreeMap;

use jigless_model::diag::Findings;
use jigless_model::source::{Sources, Span};

use crate::load::{IncludeReader, Tree, load};

/// A file whose text changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rewritten {
    /// Its path as the user would write it.
    pub name: String,
    /// Its path below the plan's folder; `None` for the plan file itself.
    pub include: Option<String>,
    /// What it holds.
    pub before: Vec<u8>,
    /// What it is to hold.
    pub after: Vec<u8>,
    /// Numbers of the lines that change, from 1, in order. No line is added or taken away.
    pub lines: Vec<usize>,
    /// How many places are changed.
    pub places: usize,
}

/// The texts of a plan as far as they are changed; the others come from their reader.
pub(crate) struct Texts<'a> {
    name: &'a str,
    includes: &'a dyn IncludeReader,
    files: RefCell<BTreeMap<Option<String>, Text>>,
}

struct Text {
    name: String,
    before: Vec<u8>,
    after: Vec<u8>,
    places: usize,
}

impl<'a> Texts<'a> {
    pub(crate) fn new(name: &'a str, bytes: &[u8], includes: &'a dyn IncludeReader) -> Self {
        let texts = Self {
            name,
            includes,
            files: RefCell::default(),
        };
        texts.remember(None, bytes);
        texts
    }

    fn remember(&self, include: Option<String>, bytes: &[u8]) {
        let name = match &include {
            Some(path) => self.shown(path),
            None => self.name.to_owned(),
        };
        let text = Text {
            name,
            before: bytes.to_vec(),
            after: bytes.to_vec(),
            places: 0,
        };
        self.files.borrow_mut().insert(include, text);
    }

    /// The name of an included file in [`Sources`].
    fn shown(&self, path: &str) -> String {
        let folder = self.name.rfind('/').map_or("", |at| &self.name[..=at]);
        format!("{folder}{path}")
    }

    /// The texts as they are now, as trees.
    pub(crate) fn load(&self) -> (Sources, Option<Tree>, Findings) {
        let main = self
            .files
            .borrow()
            .get(&None)
            .map(|text| text.after.clone());
        load(self.name, &main.unwrap_or_default(), self)
    }

    /// Writes other words in some places, which are those of the texts as [`load`](Self::load) gave them.
    pub(crate) fn apply(&self, sources: &Sources, edits: &BTreeMap<Span, String>) {
        for (id, file) in sources.files() {
            let mut files = self.files.borrow_mut();
            let Some(text) = files.values_mut().find(|text| text.name == file.name) else {
                continue;
            };
            // A mark of the encoding is no part of the text that spans count in.
            let mark = text.after.len() - file.text.len();
            let own = edits.iter().filter(|(span, _)| span.file == id);
            for (span, words) in own.rev() {
                let range = mark + span.start as usize..mark + span.end as usize;
                text.after.splice(range, words.bytes());
                text.places += 1;
            }
        }
    }

    /// Every file that was read, as it is now: its path below the plan's folder, and its bytes.
    pub(crate) fn all(&self) -> Vec<(Option<String>, Vec<u8>)> {
        let files = self.files.borrow();
        let texts = files.iter();
        texts
            .map(|(include, text)| (include.clone(), text.after.clone()))
            .collect()
    }

    /// The files that changed.
    pub(crate) fn changed(self) -> Vec<Rewritten> {
        let files = self.files.into_inner().into_iter();
        files
            .filter(|(_, text)| text.before != text.after)
            .map(|(include, text)| Rewritten {
                lines: changed_lines(&text.before, &text.after),
                name: text.name,
                include,
                before: text.before,
                after: text.after,
                places: text.places,
            })
            .collect()
    }
}

impl IncludeReader for Texts<'_> {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        let include = Some(path.to_owned());
        if let Some(text) = self.files.borrow().get(&include) {
            return Ok(text.after.clone());
        }
        let bytes = self.includes.read(path)?;
        self.remember(include, &bytes);
        Ok(bytes)
    }
}

/// Numbers of the lines that differ. What is written holds no line breaks, so there are as many lines as before.
fn changed_lines(before: &[u8], after: &[u8]) -> Vec<usize> {
    let lines = |bytes: &'_ [u8]| {
        bytes
            .split(|byte| *byte == b'\n')
            .map(<[u8]>::to_vec)
            .collect::<Vec<_>>()
    };
    let pairs = lines(before).into_iter().zip(lines(after));
    pairs
        .enumerate()
        .filter(|(_, (before, after))| before != after)
        .map(|(index, _)| index + 1)
        .collect()
}
