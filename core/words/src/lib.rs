//! The words of what Jigless writes for people to read from front to end, a table for each language.
//!
//! What is said is data elsewhere; how it is said stands here and nowhere else. Each table declares its entries with their
//! words in every language beside each other ([`table`]), so a word that a language lacks does not compile. What an author
//! writes is in no table and stays as it is.
//!
//! | table | words of |
//! |---|---|
//! | [`DocumentWords`] | sections, heads of tables, sentences of booklet and page |
//! | [`StepWords`] | the order of work |
//! | [`CautionWords`] | what work can do to people |
//! | [`CutWords`] | cuts, and what sheets and boards they are made on |
//! | [`DrawingWords`] | drawings of parts |
//! | [`ThingWords`] | hardware, finishes, sides, kinds of work |
//! | [`BuiltWords`] | titles and labels that builders and joints give where the author gives none |
//! | [`ViewerWords`] | the 3-D view |

mod built;
mod built_titles;
mod cautions;
mod cutting;
mod document;
mod drawing;
mod numbers;
mod steps;
mod table;
mod things;
mod viewer;

pub use built::BuiltWords;
pub use cautions::CautionWords;
pub use cutting::CutWords;
pub use document::DocumentWords;
pub use drawing::DrawingWords;
pub use steps::StepWords;
pub use table::{put_in, said};
pub use things::ThingWords;
pub use viewer::ViewerWords;

/// All words of a language.
#[derive(Debug, PartialEq, Eq)]
pub struct Words {
    /// The language by its tag (BCP 47).
    pub tag: &'static str,
    /// What stands between whole numbers and decimals.
    pub decimal_mark: char,
    /// Sections, heads of tables, sentences.
    pub document: DocumentWords,
    /// The order of work.
    pub steps: StepWords,
    /// What work can do to people.
    pub cautions: CautionWords,
    /// Cuts.
    pub cutting: CutWords,
    /// Drawings of parts.
    pub drawing: DrawingWords,
    /// Hardware, finishes, sides, kinds of work.
    pub things: ThingWords,
    /// What builders and joints call their parts and work.
    pub built: BuiltWords,
    /// The 3-D view.
    pub viewer: ViewerWords,
}

/// English.
pub static ENGLISH: Words = Words {
    tag: "en",
    decimal_mark: '.',
    document: DocumentWords::ENGLISH,
    steps: StepWords::ENGLISH,
    cautions: CautionWords::ENGLISH,
    cutting: CutWords::ENGLISH,
    drawing: DrawingWords::ENGLISH,
    things: ThingWords::ENGLISH,
    built: BuiltWords::ENGLISH,
    viewer: ViewerWords::ENGLISH,
};

/// German.
pub static GERMAN: Words = Words {
    tag: "de",
    decimal_mark: ',',
    document: DocumentWords::GERMAN,
    steps: StepWords::GERMAN,
    cautions: CautionWords::GERMAN,
    cutting: CutWords::GERMAN,
    drawing: DrawingWords::GERMAN,
    things: ThingWords::GERMAN,
    built: BuiltWords::GERMAN,
    viewer: ViewerWords::GERMAN,
};

impl Words {
    /// Every entry of every table by its name, in their order.
    pub fn entries(&self) -> Vec<(&'static str, &'static str)> {
        [
            self.document.entries(),
            self.steps.entries(),
            self.cautions.entries(),
            self.cutting.entries(),
            self.drawing.entries(),
            self.things.entries(),
            self.built.entries(),
            self.viewer.entries(),
        ]
        .concat()
    }
}

#[cfg(test)]
mod tests {
    use super::{ENGLISH, GERMAN};

    /// What is put into a sentence in one language is put into it in the other, as often.
    #[test]
    fn both_languages_have_the_same_gaps() {
        for ((name, english), (_, german)) in ENGLISH.entries().into_iter().zip(GERMAN.entries()) {
            let gaps = |words: &str| words.matches('{').count();
            assert_eq!(gaps(english), gaps(german), "{name}: {english} / {german}");
            assert!(!german.is_empty() || english.is_empty(), "{name}");
        }
    }
}
