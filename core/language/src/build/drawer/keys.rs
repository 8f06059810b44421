//! The keys of a drawer.

use std::sync::Arc;

use crate::build::front::Fit;
use crate::resolve::{Distance, Here, Place, Repeats, Size, Sizes, Texts, Written};
use jigless_model::joint::With;
use jigless_model::plan::Stock;
use jigless_model::source::Spanned;

crate::fields! {
    /// What drawers are in; read by itself, so that an unknown room is reported beside other faults.
    pub(super) struct In {
        /// the room, or a list of equal rooms that each get the same
        rooms as "in": Texts,
    }
}

crate::fields! {
    /// The keys of a drawer.
    pub(super) struct DrawerKeys {
        here: Here,
        _rooms: In,
        /// what the box is made of
        stock: Arc<Stock>,
        /// what the bottom is made of
        bottom_stock: Arc<Stock>,
        /// what the false front is made of
        front_stock: Arc<Stock>,
        /// how many, one above the other
        count: Repeats = "1",
        /// heights of the fronts from the lowest up; the last one that is not named takes what is left, and all are
        /// even where nothing is said
        fronts: Option<Sizes>,
        /// the fronts: over the walls or between them
        fit: DrawerFit = "overlay",
        /// gap around the fronts
        gap: Distance = "2 mm" [CommonPractice],
        /// of the box and its runners; the longest of 50 mm steps that leaves 10 mm behind where nothing is said
        length: Option<Spanned<Size>>,
        /// of the box; 20 mm less than its room, in steps of 10 mm, where nothing is said
        height: Option<Spanned<Size>>,
        /// from what is below to the lower edge of the box
        lift: Distance = "12 mm" [CommonPractice],
        /// room for the runner at each side
        clearance: Size = "12.7 mm" [Note("half an inch: ShopNotes 91, page 10")],
        /// depth of the rebates that take front and back of the box
        rebate: Size = "6 mm" [Note("common practice, no source: half the thickness")],
        /// depth of the groove for the bottom; half the thickness of the sides and 6 mm at most where nothing is said
        groove: Option<Size> [CommonPractice],
        /// from the lower edge of the box to the groove
        groove_up: Size = "1/4 in" [CommonPractice],
        /// how much wider the groove is than the bottom at its thickest reading
        slip: Distance = "0.2 mm" [CommonPractice],
        /// how much smaller the bottom is than the space between the groove bottoms
        play: Distance = "1 mm" [CommonPractice],
        /// from the front of the box to the front end of the runner
        runner_setback: Distance = "2 mm" [CommonPractice],
        /// screws of the runner in the wall, from its front end; as its data sheet says; 37 mm, 165 mm and 293 mm
        /// as far as the runner goes, and a warning, where nothing is said
        wall_offsets: Option<Sizes> [Note("one runner's row, no source")],
        /// screws of the runner in the box, from its front end; as its data sheet says; 35 mm, 131 mm and 291 mm
        /// as far as the runner goes, and a warning, where nothing is said
        box_offsets: Option<Sizes> [Note("one runner's row, no source")],
        /// depth of the screw holes in the walls; 10 mm, and 2 mm less than the wall is thick at most, where nothing is
        /// said; in a divider never more than lets those of the other side pass
        wall_depth: Option<Size> [CommonPractice],
        /// depth of the screw holes in the box; 8 mm, and 2 mm less than its sides are thick at most, where nothing is said
        box_depth: Option<Size> [CommonPractice],
        /// what holds the false front to the box
        front_with: FrontWith = "screws",
        /// where a hole for a knob goes in the front
        knob: Option<Written<Place>>,
        /// diameter of that hole
        knob_hole: Size = "5 mm" [CommonPractice],
    }
}

crate::some_words! {
    /// How the fronts of drawers may lie.
    pub(super) DrawerFit of Fit: Overlay, Inset
}

crate::some_words! {
    /// What may hold a false front.
    pub(super) FrontWith of With: Screws, Nothing
}
