//! Photographs that an author puts into a plan.

use std::sync::Arc;

use crate::source::Spanned;

crate::words! {
    /// A section of booklet and page in which photographs may stand, by what links call it.
    pub enum Chapter {
        /// What the author says before everything else.
        Introduction = "introduction",
        /// What is needed.
        Needs = "needs",
        /// Sheets, boards and their cuts.
        Cutting = "cutting",
        /// The parts, each by itself.
        Parts = "parts",
        /// The work, step by step.
        Steps = "steps",
        /// What is put on the wood.
        Finish = "finish",
        /// What is done once it is finished.
        FittingOut = "fitting-out",
    }
}

/// A photograph in its place.
#[derive(Debug, Clone)]
pub struct Photograph {
    /// Its file, below the plan's folder, with `/` between names.
    pub file: Spanned<String>,
    /// What it shows, for who does not see it.
    pub shows: String,
    /// What stands under it.
    pub caption: Option<String>,
    /// Where it stands.
    pub place: PhotographPlace,
    /// What is in the file; none until it is read.
    pub picture: Option<Arc<Picture>>,
}

/// Where a photograph stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PhotographPlace {
    /// At the end of a section.
    Chapter(Chapter),
    /// At the end of a step, by its name.
    Step(Spanned<String>),
}

/// A picture of dots, as its file has it, without what the camera noted of time and place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// How it is written.
    pub encoding: Encoding,
    /// The file.
    pub bytes: Vec<u8>,
    /// Dots from side to side.
    pub width: u32,
    /// Dots from top to bottom.
    pub height: u32,
}

/// How a picture is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Encoding {
    /// JPEG (ISO/IEC 10918-1) in greys.
    GreyJpeg,
    /// JPEG (ISO/IEC 10918-1) in colours.
    ColourJpeg,
    /// PNG (ISO/IEC 15948).
    Png,
}

impl Encoding {
    /// The media type of its files.
    pub fn media_type(self) -> &'static str {
        match self {
            Encoding::GreyJpeg | Encoding::ColourJpeg => "image/jpeg",
            Encoding::Png => "image/png",
        }
    }
}
