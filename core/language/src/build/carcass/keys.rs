//! The keys of a carcass.

use std::sync::Arc;

use crate::resolve::{Distance, Here, Map, Maps, Repeats, Size, Spread, Written, YesNo};
use jigless_model::joint::With;
use jigless_model::plan::Stock;
use jigless_model::source::Spanned;
use jigless_model::whole::Triple;

crate::fields! {
    /// What a carcass stands on; read by itself, so that an unknown base is reported beside other faults.
    pub(super) struct On {
        /// the base that it stands on: the name of a build before this
        base as "stands_on": Option<Spanned<String>>,
    }
}

crate::fields! {
    /// The inserts that bolts from the bottom go into.
    pub(super) struct InsertKeys {
        /// hole that its maker asks for
        hole: Size,
        /// its length
        length: Size,
    }
}

crate::fields! {
    /// The keys of a carcass.
    pub(super) struct CarcassKeys {
        /// what it is made of
        stock: Arc<Stock>,
        /// outside, without doors
        width: Size,
        /// outside, from the floor or the base
        height: Size,
        /// outside, with the back and without doors
        depth: Size,
        /// the top: between the sides, over them, or in rebates of the sides
        top: Top = "between",
        /// the bottom: between the sides, under them, or in rebates of the sides
        bottom: Bottom = "between",
        /// depth of the rebates for top and bottom
        rebate_depth: Size = "8 mm" [Note("common practice, no source: near half the thickness")],
        /// what holds top, bottom and fixed shelves
        with: PanelWith = "screws",
        /// what holds the bottom, if not the same
        bottom_with: Option<PanelWith>,
        /// where along each joint the screws or dowels are
        at: Option<Written<Spread>>,
        /// pilots for the screws in the ends of panels; 0 for none
        pilot: Distance = "2.5 mm",
        /// what the back is made of; the same as the rest where nothing is said
        back_stock: Option<Arc<Stock>>,
        /// the back: in rebates of sides and top, or applied to their back edges
        back: Back = "rebated",
        /// what holds a back in its rebates; an applied one is screwed
        back_with: BackWith = "nails" [CommonPractice],
        /// how far the back reaches into the thickness of sides and top
        back_depth: Size = "8 mm" [CommonPractice],
        /// how much wider housings and rebates are than what goes in, at its thickest reading
        slip: Distance = "0.2 mm" [CommonPractice],
        /// how much smaller the back is than the space between the rebates
        back_play: Distance = "1 mm" [CommonPractice],
        /// a toe space: the sides are notched at the front and the bottom is raised
        toe: Option<Map<ToeKeys>>,
        /// threaded inserts in the base, from their data sheet: bolts through the bottom hold it, and it lifts off; it is
        /// screwed to its base where nothing is said
        lifts_off: Option<Map<InsertKeys>>,
        /// fixed shelves
        shelves: Maps<ShelfKeys>,
        /// upright dividers between bottom, fixed shelves and top
        dividers: Maps<DividerKeys>,
        /// strips between the sides, in front of the back or at the front
        stretchers: Maps<StretcherKeys>,
        /// loose shelves on pins
        loose: Maps<LooseKeys>,
        on: On,
        /// where its lower left back corner is; 0, 0, 0 where nothing is said
        place: Option<Triple>,
        /// whether its parts are called `side-left` and not `NAME-side-left`
        bare_names: YesNo = "no",
    }
}

crate::fields! {
    /// The keys of a toe space.
    pub(super) struct ToeKeys {
        /// its height
        height: Size,
        /// how far it reaches in from the front edges
        depth: Size,
        /// radius of the notch's inside corner
        corner_radius: Distance = "0",
        /// whether a kick board closes it
        board: YesNo = "yes",
    }
}

crate::fields! {
    /// The keys of a fixed shelf.
    pub(super) struct ShelfKeys {
        /// its name: `deck`
        name: String,
        /// from the carcass's lower edge to its underside
        up: Spanned<Size>,
        /// how its ends are held
        joint: Ends = "housing",
        /// depth of the housings
        depth: Size = "6 mm" [Note("common practice, no source: a third of the thickness")],
        /// how much shorter it is than the space between the bottoms of its housings
        play: Distance = "0.6 mm" [CommonPractice],
    }
}

crate::fields! {
    /// The keys of dividers.
    pub(super) struct DividerKeys {
        /// its name
        name: String,
        /// what it stands on: bottom, or the name of a fixed shelf
        stands_on: Spanned<String> = "bottom",
        /// how many, evenly spaced
        count: Repeats = "1",
        /// from the inside of the left side to the middle of its thickness, for one that is not in the middle
        middle: Option<Distance>,
        /// how far its back edge stays in front of the back
        short: Distance = "0",
        /// what holds its ends
        with: PanelWith = "dowels",
        /// where along its ends the screws or dowels are
        at: Option<Written<Spread>>,
    }
}

crate::fields! {
    /// The keys of a stretcher.
    pub(super) struct StretcherKeys {
        /// its name: `rail`
        name: String,
        /// its width
        size: Size,
        /// against which panels it lies
        place as "where": Against = "back-top",
        /// which way its broad face looks
        lies: Lies = "upright",
        /// what holds its ends
        with: PanelWith = "pocket screws",
    }
}

crate::fields! {
    /// The keys of loose shelves.
    pub(super) struct LooseKeys {
        here: Here,
        /// its name
        name: String = "shelf",
        /// how many
        count: Repeats = "1",
        /// above what: bottom, or the name of a fixed shelf
        above: Spanned<String> = "bottom",
        /// room at each end
        gap: Distance = "1 mm" [CommonPractice],
        /// from the front edges of the carcass
        setback: Distance = "15 mm" [CommonPractice],
        /// height of the first pins above what is below
        first: Size = "150 mm" [CommonPractice],
        /// how many pin holes, one above the other
        pins: Repeats = "12",
        /// distance of the pin holes
        step: Size = "32 mm" [Note("32 mm system, common practice, no source")],
        /// rows of pins from the front edge and from the back
        pin_setback: Size = "37 mm" [Note("32 mm system, common practice, no source")],
        /// depth of the pin holes; 10 mm, and 2 mm less than the sides are thick at most, where nothing is said
        pin_depth: Option<Size> [CommonPractice],
    }
}

jigless_model::words! {
    /// How the top lies on the sides.
    pub(super) enum Top {
        Between = "between",
        Over = "over",
        Rebated = "rebated",
        None = "none",
    }
}

jigless_model::words! {
    /// How the bottom lies to the sides.
    pub(super) enum Bottom {
        Between = "between",
        Under = "under",
        Rebated = "rebated",
    }
}

jigless_model::words! {
    /// How the back is set.
    pub(super) enum Back {
        Rebated = "rebated",
        Applied = "applied",
        None = "none",
    }
}

jigless_model::words! {
    /// What holds a back in its rebates.
    pub(super) enum BackWith {
        Nails = "nails",
        Staples = "staples",
        Screws = "screws",
        Glue = "glue",
    }
}

jigless_model::words! {
    /// How the ends of a shelf are held.
    pub(super) enum Ends {
        Housing = "housing",
        Butt = "butt",
    }
}

jigless_model::words! {
    /// Which panels a stretcher lies against.
    pub(super) enum Against {
        BackTop = "back-top",
        BackBottom = "back-bottom",
        FrontTop = "front-top",
        FrontBottom = "front-bottom",
    }
}

jigless_model::words! {
    /// Which way a stretcher lies.
    pub(super) enum Lies {
        Upright = "upright",
        Flat = "flat",
    }
}

crate::key_words!(Top, Bottom, Back, BackWith, Ends, Against, Lies);

crate::some_words! {
    /// What may hold the panels of a carcass.
    pub(super) PanelWith of With: Screws, PocketScrews, Dowels, Glue, Nothing
}
