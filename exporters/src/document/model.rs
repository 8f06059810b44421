//! A document as plain data. It knows no paper and no page.

use std::sync::Arc;

use jigless_model::geom::Bounds;
use jigless_model::photograph::Picture;
use jigless_words::Words;

use crate::drawing::Item;

/// What a reader gets of a plan.
#[derive(Debug)]
pub(crate) struct Document {
    /// What the plan is called.
    pub(crate) title: String,
    /// The author's revision.
    pub(crate) revision: Option<String>,
    /// The plan's digest.
    pub(crate) digest: String,
    /// The words of its language.
    pub(crate) words: &'static Words,
    /// What stands on the first page under the title.
    pub(crate) cover: Vec<Block>,
    /// Everything else, in the order in which it is read.
    pub(crate) sections: Vec<Section>,
}

/// A section.
#[derive(Debug)]
pub(crate) struct Section {
    /// What links point at: letters, digits and `-`.
    pub(crate) id: &'static str,
    /// What it is called.
    pub(crate) title: &'static str,
    /// Whether it begins a page on paper.
    pub(crate) on_new_page: bool,
    /// What it holds.
    pub(crate) blocks: Vec<Block>,
}

/// A piece of a section.
#[derive(Debug)]
pub(crate) enum Block {
    /// A heading within a section, and what links point at.
    Heading(String, String),
    /// Running words.
    Paragraph(Vec<Inline>),
    /// An entry each, with a dot.
    List(Vec<Vec<Inline>>),
    /// Rows and columns.
    Table(Table),
    /// A picture with words under it.
    Figure(Figure),
    /// One step of the work.
    Step(Box<StepBlock>),
    /// A name and what is known of it, a pair each.
    Facts(Vec<(String, String)>),
    /// Boxes to tick.
    Checks(Vec<Check>),
    /// What can hurt someone.
    Caution(Vec<String>),
    /// A sheet or some boards, and every cut in words.
    Cuts(Cuts),
}

/// A run of words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Inline {
    /// Plain.
    Text(String),
    /// Heavy.
    Strong(String),
    /// Leaning.
    Emphasis(String),
    /// Words that lead to an anchor of the document.
    Anchor(String, String),
    /// The page of an anchor; on a screen, words that lead to it.
    Page(String),
    /// Words that lead to a page of the web; the address is `http` or `https`.
    Link(String, String),
}

impl Inline {
    /// Its words.
    pub(crate) fn words(&self) -> &str {
        match self {
            Inline::Text(words)
            | Inline::Strong(words)
            | Inline::Emphasis(words)
            | Inline::Anchor(words, _)
            | Inline::Link(words, _) => words,
            Inline::Page(_) => "",
        }
    }
}

/// Words as they are.
pub(crate) fn plain(words: impl Into<String>) -> Vec<Inline> {
    vec![Inline::Text(words.into())]
}

/// Rows under heads.
#[derive(Debug)]
pub(crate) struct Table {
    /// What it shows, for who does not see it.
    pub(crate) name: String,
    /// The columns.
    pub(crate) columns: Vec<Column>,
    /// The rows.
    pub(crate) rows: Vec<Row>,
}

/// A column of a table.
#[derive(Debug)]
pub(crate) struct Column {
    /// Its head.
    pub(crate) head: String,
    /// On which side its words stand.
    pub(crate) align: Align,
}

impl Column {
    /// A column of words.
    pub(crate) fn words(head: &str) -> Self {
        Self {
            head: head.to_owned(),
            align: Align::Left,
        }
    }

    /// A column of numbers.
    pub(crate) fn numbers(head: &str) -> Self {
        Self {
            head: head.to_owned(),
            align: Align::Right,
        }
    }
}

/// On which side words stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Align {
    /// At the left.
    Left,
    /// At the right.
    Right,
}

/// A row of a table.
#[derive(Debug)]
pub(crate) struct Row {
    /// Its cells, one for each column.
    pub(crate) cells: Vec<Vec<Inline>>,
    /// The part that it is about, by its id.
    pub(crate) part: Option<String>,
    /// Whether a box to tick stands before it.
    pub(crate) tick: bool,
}

impl Row {
    /// A row of plain words.
    pub(crate) fn of<const N: usize>(cells: [String; N]) -> Self {
        Self {
            cells: cells.map(plain).into(),
            part: None,
            tick: false,
        }
    }

    /// The same for a part.
    pub(crate) fn about(mut self, part: &str) -> Self {
        self.part = Some(part.to_owned());
        self
    }

    /// The same with a box to tick.
    pub(crate) fn ticked(mut self) -> Self {
        self.tick = true;
        self
    }
}

/// A picture.
#[derive(Debug)]
pub(crate) struct Figure {
    /// What is seen.
    pub(crate) image: Image,
    /// What it shows, for who does not see it.
    pub(crate) alternative: String,
    /// What stands under it; empty where the text says it.
    pub(crate) caption: String,
    /// The part that it is of, by its id.
    pub(crate) part: Option<String>,
}

/// What is seen of a picture.
#[derive(Debug)]
pub(crate) enum Image {
    /// Strokes, areas and words on paper, in millimetres, and the box that they fill.
    Drawn(Vec<Item>, Bounds),
    /// A photograph of the author's.
    Photograph(Arc<Picture>),
}

/// One step of the work.
#[derive(Debug)]
pub(crate) struct StepBlock {
    /// Its number, from 1.
    pub(crate) number: usize,
    /// What it is called.
    pub(crate) title: String,
    /// What is done so many times alike; empty for once.
    pub(crate) times: String,
    /// Why it comes here; empty where that is plain.
    pub(crate) reason: String,
    /// The pieces, with the ids of their parts.
    pub(crate) pieces: Vec<(String, String)>,
    /// Screws and the like.
    pub(crate) fixings: Vec<String>,
    /// What is needed to do it.
    pub(crate) tools: Vec<String>,
    /// What this very work can do to people.
    pub(crate) cautions: Vec<String>,
    /// What is done, a box to tick each.
    pub(crate) acts: Vec<String>,
    /// What is looked at at its end.
    pub(crate) checks: Vec<String>,
    /// What it looks like.
    pub(crate) figure: Option<Figure>,
    /// The author's photographs of it.
    pub(crate) photographs: Vec<Figure>,
}

impl StepBlock {
    /// What links point at.
    pub(crate) fn anchor(&self) -> String {
        format!("step-{}", self.number)
    }
}

/// A box to tick.
#[derive(Debug)]
pub(crate) struct Check {
    /// What is to be done or measured.
    pub(crate) words: String,
    /// Lines below it, and whether there is room at their ends for what is measured.
    pub(crate) below: Vec<(String, bool)>,
}

/// A sheet or some boards with its cuts.
#[derive(Debug)]
pub(crate) struct Cuts {
    /// What it is.
    pub(crate) title: String,
    /// What links point at.
    pub(crate) anchor: String,
    /// The layout.
    pub(crate) figure: Figure,
    /// What marks in the layout stand for: the mark, and the words.
    pub(crate) key: Vec<(String, String)>,
    /// The cuts.
    pub(crate) lines: Vec<CutLine>,
}

/// A line of a list of cuts.
#[derive(Debug)]
pub(crate) enum CutLine {
    /// Words.
    Note(String),
    /// What is set for the cuts that follow.
    Setting(String),
    /// A cut: its number, and what it makes.
    Cut(String, String),
}
