//! Keys that the kinds of joints share.

use crate::resolve::{Distance, EdgeDistances, Size, Spread};
use jigless_model::joint::With;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

crate::fields! {
    /// The two parts.
    pub(super) struct Members {
        /// the part that comes to the other one
        part: Spanned<String>,
        /// the part that takes it
        to: Spanned<String>,
    }
}

crate::fields! {
    /// Screws and dowels.
    pub(super) struct Screwed {
        /// where along the joint the screws or dowels are, from the left or bottom end of the part's edge there; 50 mm
        /// from the ends and no more than 150 mm apart where nothing is said
        at: Option<Spread> [CommonPractice],
        /// the screw; 4 mm (#8) and the best of `lengths_sold` for both thicknesses where nothing is said
        screw: Option<crate::resolve::Map<ScrewKeys>>,
        /// hole for the screw's shank
        clearance: Size = "4.5 mm" [Note("ISO 273 medium for 4 mm: 4.5")],
        /// diameter of the cone for the head, of 90 degrees, and 82 in a plan in inches; 0 for none
        countersink: Distance = "9 mm" [CommonPractice],
        /// hole for the thread of a 4 mm screw, 1 mm deeper than the screw reaches; 0 for none
        pilot: Distance = "2.5 mm" [CommonPractice],
    }
}

crate::fields! {
    /// A screw.
    pub(super) struct ScrewKeys {
        /// length of the screw
        length: Option<Size>,
        /// its gauge or diameter
        gauge: Option<String>,
    }
}

crate::fields! {
    /// A dowel.
    #[derive(Default)]
    pub(super) struct DowelKeys {
        /// 8 mm where nothing is said
        diameter: Option<Size>,
        /// 35 mm where nothing is said
        length: Option<Size>,
        /// hole in the face; two thirds of the thickness where nothing is said
        face_depth: Option<Size>,
        /// hole in the edge; the rest of the dowel and 1 mm where nothing is said
        edge_depth: Option<Size>,
    }
}

crate::fields! {
    /// Glue, and where the work is.
    pub(super) struct Held {
        /// whether it is glued: as usual, dowels and plain glue are, screws are not
        glue: Glue = "as usual",
        /// `given` where the parts have the work among their features already
        work: Work = "made",
    }
}

jigless_model::words! {
    /// Whether a joint is glued.
    pub(super) enum Glue {
        Yes = "yes",
        No = "no",
        AsUsual = "as usual",
    }
}

jigless_model::words! {
    /// Who puts the work of a joint among the features of its parts.
    pub(super) enum Work {
        JointWork = "made",
        Given = "given",
    }
}

crate::key_words!(Glue, Work);

crate::fields! {
    /// Where parts without places meet.
    pub(super) struct Described {
        /// without places: the edge of `part` that meets the other
        edge: Option<Edge>,
        /// without places: the face of `to` that it meets
        face: Face = "front",
        /// without places: distance of the part's near side from an edge of `to`: `{bottom: 300}`
        from: Option<EdgeDistances>,
        /// without places: where the part begins, from the left or bottom end of `to`
        start: Distance = "0",
    }
}

crate::some_words! {
    /// What may hold parts that cut into each other.
    pub(super) LapWith of With: Glue, Nothing
}
