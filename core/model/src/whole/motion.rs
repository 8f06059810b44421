//! How what is put together moves.

use crate::side::Edge;

/// How a part moves once it is in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Motion {
    /// It slides out toward the viewer, together with its group: a drawer.
    Slides,
    /// It swings about one of its edges: a door.
    Swings(Edge),
}

impl Motion {
    /// The words in a plan.
    pub const WORDS: &[&str] = &["slides", "swings-left", "swings-right"];

    /// The motion of a word.
    pub fn of_word(word: &str) -> Option<Motion> {
        match word {
            "slides" => Some(Motion::Slides),
            "swings-left" => Some(Motion::Swings(Edge::Left)),
            "swings-right" => Some(Motion::Swings(Edge::Right)),
            _ => None,
        }
    }

    /// The motion of the mirror image.
    #[must_use]
    pub fn mirrored(self) -> Motion {
        match self {
            Motion::Slides => self,
            Motion::Swings(edge) => Motion::Swings(edge.mirrored()),
        }
    }
}
