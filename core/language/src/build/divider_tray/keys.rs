//! The keys of a tray.

use std::sync::Arc;

use crate::resolve::{Count, Distance, Map, Size, Sizes, Texts};
use jigless_model::plan::Stock;
use jigless_model::source::Spanned;
use jigless_model::whole::Triple;

crate::fields! {
    /// The keys of a tray.
    pub(super) struct TrayKeys {
        /// stock of walls and dividers
        stock: Arc<Stock>,
        /// stock of the base, if another one
        base_stock: Option<Arc<Stock>>,
        /// where it stands by itself: its outer corner at the left, below and in front; without `at` and `in` it has no place
        at: Option<Triple>,
        /// the room or drawer that it stands in, at its front, or a list of equal ones; of drawers with one name each gets a
        /// tray
        rooms as "in": Option<Texts>,
        /// size from left to right; with `in` as wide as the room less the gaps where left out
        width: Option<Spanned<Size>>,
        /// size from front to back; with `in` as deep as the room less the gaps where left out
        depth: Option<Spanned<Size>>,
        /// height of the walls
        height: Spanned<Size>,
        /// whether width and depth are the tray's own, or those of the opening that it fills
        measure: Measure = "outer",
        /// room left on each side of the tray in an opening
        gap: Distance = "1 mm",
        /// from the front of the room to the tray; the gap where nothing is said
        setback: Option<Distance>,
        /// strips at both walls that it slides on, where it does not stand on the floor
        strips: Option<Map<StripKeys>>,
        /// compartments from left to right
        columns: Spanned<Count> = "1",
        /// clear sizes of the first columns from the left; the last one takes the rest
        column_sizes: Option<Sizes>,
        /// compartments from front to back
        rows: Spanned<Count> = "1",
        /// clear sizes of the first rows from the front; the last one takes the rest
        row_sizes: Option<Sizes>,
        /// how the walls meet
        corner: Corners = "butt",
        /// how dividers sit in their slots: press 0, slide 0.1 mm, loose 0.2 mm wider than the thickest reading
        fit: SlotFit = "slide",
        /// clearance of the slots in place of that of the fit, as a coupon tells it
        clearance: Option<Distance>,
        /// a base glued below, one in a groove of the walls, or none
        base: BaseFit = "glued",
        /// distance of a groove for the base from the lower edge of the walls
        base_up: Distance = "6 mm",
        /// doubled walls have a lining that takes the dividers, so that no slot shows outside
        walls: Walls = "single",
        /// a hollow in the upper edge for the fingers, in the middle of every compartment
        finger_cut: Option<Map<CutKeys>>,
    }
}

crate::fields! {
    /// The keys of the strips that a tray slides on. They stand on the floor, as deep as the room, and are
    /// glued to its walls.
    pub(super) struct StripKeys {
        /// what they are made of; the tray bears on their thickness
        stock: Arc<Stock>,
        /// how high they are; in a drawer where nothing is said, so high that the tray ends flush with its upper edge
        height: Option<Spanned<Size>>,
    }
}

crate::fields! {
    /// The keys of hollows for the fingers.
    pub(super) struct CutKeys {
        /// size along the edge
        width: Spanned<Size>,
        /// how far it reaches down
        depth: Spanned<Size>,
        /// what is cut
        cut as "in": CutIn = "dividers",
    }
}

jigless_model::words! {
    /// What width and depth measure.
    pub(super) enum Measure {
        Outer = "outer",
        Opening = "opening",
    }
}

jigless_model::words! {
    /// How the walls meet.
    pub(super) enum Corners {
        Butt = "butt",
        Rebate = "rebate",
        Finger = "finger",
    }
}

jigless_model::words! {
    /// How dividers sit in their slots.
    pub(super) enum SlotFit {
        Press = "press",
        Slide = "slide",
        Loose = "loose",
    }
}

impl SlotFit {
    /// The clearance in millimetres. Common practice, no source: 0 to 0.1 for a press fit from a laser, 0.1 to 0.2 for
    /// parts that slide. A coupon reports what a machine needs.
    pub(super) const fn clearance(self) -> f64 {
        match self {
            SlotFit::Press => 0.0,
            SlotFit::Slide => 0.1,
            SlotFit::Loose => 0.2,
        }
    }
}

jigless_model::words! {
    /// How the base is held.
    pub(super) enum BaseFit {
        None = "none",
        Glued = "glued",
        Groove = "groove",
    }
}

jigless_model::words! {
    /// Of how many layers walls are made.
    pub(super) enum Walls {
        Single = "single",
        Doubled = "doubled",
    }
}

jigless_model::words! {
    /// What has hollows for the fingers.
    pub(super) enum CutIn {
        Dividers = "dividers",
        Walls = "walls",
        Both = "both",
    }
}

crate::key_words!(Measure, Corners, SlotFit, BaseFit, Walls, CutIn);
