//! The faces, edges and corners of a part. They are physical: they keep their names whichever way a part is drawn.

/// One of the two broad faces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Face {
    /// The face that the plan looks at.
    Front,
    /// The face behind it.
    Back,
}

impl Face {
    /// Both faces.
    pub const ALL: [Face; 2] = [Face::Front, Face::Back];

    /// The word in a plan.
    pub const fn name(self) -> &'static str {
        match self {
            Face::Front => "front",
            Face::Back => "back",
        }
    }
}

/// One of the four edges, named as seen on the front face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Edge {
    /// x = 0.
    Left,
    /// x = width.
    Right,
    /// y = height.
    Top,
    /// y = 0.
    Bottom,
}

impl Edge {
    /// All four edges.
    pub const ALL: [Edge; 4] = [Edge::Left, Edge::Right, Edge::Top, Edge::Bottom];

    /// The word in a plan.
    pub const fn name(self) -> &'static str {
        match self {
            Edge::Left => "left",
            Edge::Right => "right",
            Edge::Top => "top",
            Edge::Bottom => "bottom",
        }
    }

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

/// One of the four corners, named as seen on the front face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Corner {
    /// x = 0, y = 0.
    BottomLeft,
    /// x = width, y = 0.
    BottomRight,
    /// x = width, y = height.
    TopRight,
    /// x = 0, y = height.
    TopLeft,
}

impl Corner {
    /// All four corners, counter-clockwise from the lower left one.
    pub const ALL: [Corner; 4] = [
        Corner::BottomLeft,
        Corner::BottomRight,
        Corner::TopRight,
        Corner::TopLeft,
    ];

    /// The word in a plan.
    pub const fn name(self) -> &'static str {
        match self {
            Corner::BottomLeft => "bottom-left",
            Corner::BottomRight => "bottom-right",
            Corner::TopRight => "top-right",
            Corner::TopLeft => "top-left",
        }
    }
}
