//! How what is put together moves.

use crate::side::Edge;

crate::words! {
    /// How a part moves once it is in its place.
    #[derive(serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Motion {
        /// It slides out toward the viewer, together with its group: a drawer.
        Slides = "slides",
        /// It swings about its left edge: a door.
        SwingsLeft = "swings-left",
        /// It swings about its right edge.
        SwingsRight = "swings-right",
    }
}

impl Motion {
    /// The edge that it swings about, if it swings.
    pub const fn swings_about(self) -> Option<Edge> {
        match self {
            Motion::Slides => None,
            Motion::SwingsLeft => Some(Edge::Left),
            Motion::SwingsRight => Some(Edge::Right),
        }
    }

    /// The motion of the mirror image.
    #[must_use]
    pub const fn mirrored(self) -> Motion {
        match self {
            Motion::Slides => Motion::Slides,
            Motion::SwingsLeft => Motion::SwingsRight,
            Motion::SwingsRight => Motion::SwingsLeft,
        }
    }
}
