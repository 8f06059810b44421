//! Where a figure comes from, and how sure that is.

use std::fmt;

/// How a figure came to be known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Confidence {
    /// Read in the source itself.
    Seen,
    /// Read in another text that names the source.
    SecondHand,
    /// Not looked up again.
    Memory,
}

impl Confidence {
    /// As it stands in brackets after a source.
    pub const fn note(self) -> &'static str {
        match self {
            Confidence::Seen => "seen",
            Confidence::SecondHand => "seen second-hand",
            Confidence::Memory => "memory",
        }
    }
}

/// Where a figure or formula comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Source {
    /// It follows from the sizes.
    Elementary,
    /// What the trade does, without anyone who fixes it.
    CommonPractice,
    /// A standard or code, by its number and place: `EN 1995-1-1, 8.7.2(3)`.
    Standard(&'static str, Confidence),
    /// A handbook, catalogue, data sheet or paper, by its name and place: `Wood Handbook (GTR-190) ch. 5`.
    Handbook(&'static str, Confidence),
    /// What has to be said of it in words, with its own sources named.
    Note(&'static str),
}

impl Source {
    /// The sentence that says so: `common practice, no source`; `ISO 273 (seen)`.
    pub fn sentence(self) -> String {
        self.to_string()
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Source::Elementary => f.write_str("elementary geometry"),
            Source::CommonPractice => f.write_str("common practice, no source"),
            Source::Standard(name, confidence) | Source::Handbook(name, confidence) => {
                write!(f, "{name} ({})", confidence.note())
            }
            Source::Note(text) => f.write_str(text),
        }
    }
}

/// The sentences of several sources as one: `elementary geometry; the limit is common practice, no source`.
pub fn sentences(sources: &[Source]) -> String {
    let all: Vec<String> = sources.iter().map(|source| source.sentence()).collect();
    all.join("; ")
}

#[cfg(test)]
mod tests {
    use super::{Confidence, Source, sentences};

    #[test]
    fn a_source_says_where_a_figure_comes_from_and_how_sure_that_is() {
        let standard = Source::Standard("ISO 273", Confidence::SecondHand);
        assert_eq!(standard.sentence(), "ISO 273 (seen second-hand)");
        let memory = Source::Handbook("a handbook, ch. 8", Confidence::Memory);
        assert_eq!(memory.sentence(), "a handbook, ch. 8 (memory)");
        assert_eq!(
            sentences(&[
                Source::Elementary,
                Source::CommonPractice,
                Source::Note("hinges adjust")
            ]),
            "elementary geometry; common practice, no source; hinges adjust"
        );
    }
}
