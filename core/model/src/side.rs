//! The faces, edges and corners of a part. They are physical: they keep their names whichever way a part is drawn.

crate::words! {
    /// One of the two broad faces.
    #[derive(PartialOrd, Ord, Hash, serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Face {
        /// The face that the plan looks at.
        Front = "front",
        /// The face behind it.
        Back = "back",
    }
}

impl Face {
    /// The other one.
    #[must_use]
    pub const fn opposite(self) -> Face {
        match self {
            Face::Front => Face::Back,
            Face::Back => Face::Front,
        }
    }
}

crate::words! {
    /// One of the four edges, named as seen on the front face.
    #[derive(PartialOrd, Ord, Hash, serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Edge {
        /// x = 0.
        Left = "left",
        /// x = width.
        Right = "right",
        /// y = height.
        Top = "top",
        /// y = 0.
        Bottom = "bottom",
    }
}

impl Edge {
    /// Whether the edge runs upward (left and right) and not across (top and bottom).
    pub const fn is_upright(self) -> bool {
        matches!(self, Edge::Left | Edge::Right)
    }

    /// The edge on the other side.
    #[must_use]
    pub const fn opposite(self) -> Edge {
        match self {
            Edge::Left => Edge::Right,
            Edge::Right => Edge::Left,
            Edge::Top => Edge::Bottom,
            Edge::Bottom => Edge::Top,
        }
    }

    /// The edge that takes this one's place when left and right change places.
    #[must_use]
    pub const fn mirrored(self) -> Edge {
        match self {
            Edge::Left | Edge::Right => self.opposite(),
            Edge::Top | Edge::Bottom => self,
        }
    }
}

crate::words! {
    /// One of the four corners, named as seen on the front face; in the order of their list counter-clockwise from the
    /// lower left one.
    #[derive(PartialOrd, Ord, Hash, serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Corner {
        /// x = 0, y = 0.
        BottomLeft = "bottom-left",
        /// x = width, y = 0.
        BottomRight = "bottom-right",
        /// x = width, y = height.
        TopRight = "top-right",
        /// x = 0, y = height.
        TopLeft = "top-left",
    }
}
