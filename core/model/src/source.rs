//! Source texts and the places in them that values and findings point at.

use std::num::NonZeroU32;
use std::sync::Arc;

/// Which text of a [`Sources`] set a span belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(NonZeroU32);

impl FileId {
    /// Counted from 1, so that a place that is none takes no more room than one.
    fn of(index: usize) -> Self {
        Self(NonZeroU32::MIN.saturating_add(index as u32))
    }

    fn index(self) -> usize {
        self.0.get() as usize - 1
    }
}

/// A range of bytes in one source text. `start == end` points between two characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The text that the range belongs to.
    pub file: FileId,
    /// First byte of the range.
    pub start: u32,
    /// The byte after the last one of the range.
    pub end: u32,
}

impl Span {
    /// The smallest span that covers `self` and `other`; `self` alone if they are in different texts.
    #[must_use]
    pub fn to(self, other: Span) -> Span {
        if self.file == other.file {
            Span {
                file: self.file,
                start: self.start.min(other.start),
                end: self.end.max(other.end),
            }
        } else {
            self
        }
    }
}

/// A value and the place where the user wrote it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it was written.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// Joins a value to its place.
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }

    /// The same place with another value.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned::new(f(self.value), self.span)
    }
}

/// One text: a name to show to the user, and its content.
#[derive(Debug, Clone)]
pub struct SourceFile {
    /// The path as the user would write it.
    pub name: String,
    /// The whole content.
    pub text: Arc<str>,
    line_starts: Vec<u32>,
}

impl SourceFile {
    fn new(name: String, text: Arc<str>) -> Self {
        let line_starts = std::iter::once(0)
            .chain(text.match_indices('\n').map(|(at, _)| at as u32 + 1))
            .collect();
        Self {
            name,
            text,
            line_starts,
        }
    }

    /// Line and column of a byte, both counted from 1; columns count characters.
    pub fn line_column(&self, byte: u32) -> (usize, usize) {
        let byte = floor_char_boundary(&self.text, byte as usize);
        let line = self
            .line_starts
            .partition_point(|&start| start as usize <= byte);
        let start = self.line_starts[line - 1] as usize;
        (line, self.text[start..byte].chars().count() + 1)
    }

    /// The first byte of a line and column, both counted from 1; the end of the text if it has no such place.
    pub fn byte_at(&self, line: usize, column: usize) -> u32 {
        let Some(&start) = self.line_starts.get(line.saturating_sub(1)) else {
            return self.text.len() as u32;
        };
        let rest = &self.text[start as usize..];
        let offset = rest
            .char_indices()
            .nth(column.saturating_sub(1))
            .map_or(rest.len(), |(at, _)| at);
        start + offset as u32
    }
}

/// The largest char boundary of `text` that is not after `byte`.
fn floor_char_boundary(text: &str, byte: usize) -> usize {
    let mut at = byte.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// All texts that one plan was read from: the plan file first, then what it includes, in order.
#[derive(Debug, Clone, Default)]
pub struct Sources {
    files: Vec<SourceFile>,
}

impl Sources {
    /// Adds a text and gives its id. Texts longer than `u32::MAX` bytes must have been refused before.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<Arc<str>>) -> FileId {
        let id = FileId::of(self.files.len());
        self.files.push(SourceFile::new(name.into(), text.into()));
        id
    }

    /// The text that an id names.
    pub fn file(&self, id: FileId) -> &SourceFile {
        &self.files[id.index()]
    }

    /// All texts, in the order in which they were added.
    pub fn files(&self) -> impl Iterator<Item = (FileId, &SourceFile)> {
        self.files
            .iter()
            .enumerate()
            .map(|(index, file)| (FileId::of(index), file))
    }

    /// The text that a span covers.
    pub fn slice(&self, span: Span) -> &str {
        let text = &self.file(span.file).text;
        let start = floor_char_boundary(text, span.start as usize);
        let end = floor_char_boundary(text, span.end as usize).max(start);
        &text[start..end]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_not_bytes() {
        let mut sources = Sources::default();
        let id = sources.add("a.yaml", "één: 1\nb: 2\n");
        let file = sources.file(id);
        assert_eq!(file.line_column(0), (1, 1));
        assert_eq!(
            file.line_column(file.text.find(':').unwrap() as u32),
            (1, 4)
        );
        assert_eq!(
            file.line_column(file.text.find('b').unwrap() as u32),
            (2, 1)
        );
        assert_eq!(file.byte_at(2, 1), file.text.find('b').unwrap() as u32);
        assert_eq!(file.byte_at(99, 1), file.text.len() as u32);
    }
}
