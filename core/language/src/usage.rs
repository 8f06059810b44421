//! What the `usage:` list of a plan may hold, and how each entry is read.

use jigless_model::diag::Finding;
use jigless_model::source::Spanned;
use jigless_model::usage::{Casters, Door, Doors, Drawer, Freestanding, Panel, Shelf, Usage};

use crate::codes;
use crate::resolve::{Field, Fields, Shape};

/// A kind of entry: what the plan calls it and how it is read.
#[derive(Debug)]
pub struct UsageKind {
    /// Its key in a plan.
    pub key: &'static str,
    /// One line on what it is.
    pub summary: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
    pub(crate) read: fn(&Fields) -> Option<Usage>,
}

/// Every kind of entry, in the order in which the manual shows them.
pub static USAGE: &[&UsageKind] = &[
    &DOOR,
    &DOORS,
    &DRAWER,
    &SHELF,
    &CASTERS,
    &PANEL,
    &FREESTANDING,
];

static DOOR: UsageKind = UsageKind {
    key: "door",
    summary: "a door hinged to a cabinet side",
    fields: &[
        Field::required(
            "part",
            Shape::Text,
            "name of the door, which has `hinge_cups`",
        ),
        Field::required(
            "side",
            Shape::Text,
            "name of the side, which has `hinge_plates`",
        ),
        Field::with_default(
            "rise",
            Shape::Length,
            "0",
            "how far the door's lower (or left) end lies above the side's; negative when it lies below",
        ),
        Field::optional(
            "overlay",
            Shape::Distance,
            "how far the door lies over the side's front edge",
        ),
        Field::optional(
            "constant",
            Shape::Distance,
            "the hinge's own constant from its data sheet: its overlay at an edge gap and a plate height of 0",
        ),
        Field::optional(
            "plate",
            Shape::Distance,
            "height of the mounting plate from its data sheet",
        ),
    ],
    read: |fields| {
        let optional = |key| {
            if fields.has(key) {
                fields.length(key).map(Some)
            } else {
                Some(None)
            }
        };
        let (door, side, rise) = (
            fields.text("part"),
            fields.text("side"),
            fields.length("rise"),
        );
        let (overlay, constant, plate) =
            (optional("overlay"), optional("constant"), optional("plate"));
        Some(Usage::Door(Door {
            door: door?,
            side: side?,
            rise: rise?,
            overlay: overlay?,
            constant: constant?,
            plate: plate?,
        }))
    },
};

static DOORS: UsageKind = UsageKind {
    key: "doors",
    summary: "doors side by side",
    fields: &[
        Field::required(
            "parts",
            Shape::Texts,
            "names of the doors from left to right",
        ),
        Field::required("room", Shape::Size, "room for all of them together"),
        Field::with_default(
            "gap",
            Shape::Distance,
            "2 mm",
            "gap wanted between neighbours",
        ),
    ],
    read: |fields| {
        let parts = fields.texts("parts");
        let (room, gap) = (fields.length("room"), fields.length("gap"));
        Some(Usage::Doors(Doors {
            parts: parts?,
            room: room?,
            gap: gap?,
        }))
    },
};

static DRAWER: UsageKind = UsageKind {
    key: "drawer",
    summary: "a drawer box between side runners",
    fields: &[
        Field::required("opening", Shape::Size, "clear width of the opening"),
        Field::required("width", Shape::Size, "outside width of the box"),
        Field::with_default(
            "each_side",
            Shape::Size,
            "12.7 mm",
            "room that a runner needs on each side, from its data sheet",
        ),
    ],
    read: |fields| {
        let (opening, width, each_side) = (
            fields.length("opening"),
            fields.length("width"),
            fields.length("each_side"),
        );
        Some(Usage::Drawer(Drawer {
            opening: opening?,
            width: width?,
            each_side: each_side?,
        }))
    },
};

static SHELF: UsageKind = UsageKind {
    key: "shelf",
    summary: "a shelf held at its two ends",
    fields: &[
        Field::required("part", Shape::Text, "name of the shelf"),
        Field::required("span", Shape::Size, "clear distance between what holds it"),
        Field::with_default(
            "along",
            Shape::Word(&["width", "height"]),
            "width",
            "which side of the part spans it",
        ),
        Field::required(
            "load",
            Shape::Number,
            "what stands on it, evenly spread, in kilograms",
        ),
    ],
    read: |fields| {
        let (part, span) = (fields.text("part"), fields.length("span"));
        let (along, load) = (fields.word("along"), fields.number("load"));
        Some(Usage::Shelf(Shelf {
            part: part?,
            span: span?,
            along_width: along?.value == "width",
            load: load?,
        }))
    },
};

static CASTERS: UsageKind = UsageKind {
    key: "casters",
    summary: "casters below a unit",
    fields: &[
        Field::with_default("count", Shape::Count, "4", "how many"),
        Field::required(
            "rating",
            Shape::Number,
            "kilograms that one may carry, from its data sheet",
        ),
        Field::required(
            "load",
            Shape::Number,
            "the unit and all that is in it, in kilograms",
        ),
    ],
    read: |fields| {
        let (count, rating, load) = (
            fields.count("count"),
            fields.number("rating"),
            fields.number("load"),
        );
        Some(Usage::Casters(Casters {
            count: count?,
            rating: rating?,
            load: load?,
        }))
    },
};

static PANEL: UsageKind = UsageKind {
    key: "panel",
    summary: "a solid panel with room to move in",
    fields: &[
        Field::required(
            "part",
            Shape::Text,
            "name of the panel, of a solid stock with `movement`",
        ),
        Field::required("room", Shape::Size, "room for it across its grain"),
    ],
    read: |fields| {
        let (part, room) = (fields.text("part"), fields.length("room"));
        Some(Usage::Panel(Panel {
            part: part?,
            room: room?,
        }))
    },
};

static FREESTANDING: UsageKind = UsageKind {
    key: "freestanding",
    summary: "a unit that stands on the floor by itself",
    fields: &[
        Field::required("height", Shape::Size, "its height"),
        Field::with_default(
            "anchored",
            Shape::Word(&["no", "yes"]),
            "no",
            "whether the plan fixes it to the wall",
        ),
    ],
    read: |fields| {
        let (height, anchored) = (fields.length("height"), fields.word("anchored"));
        Some(Usage::Freestanding(Freestanding {
            height: height?,
            anchored: anchored?.value == "yes",
        }))
    },
};

/// Tells that a name is no part of the plan.
pub(crate) fn unknown_part<'a>(
    name: &Spanned<String>,
    parts: impl IntoIterator<Item = &'a str> + Clone,
) -> Finding {
    let fix = match jigless_model::diag::nearest(&name.value, parts.clone()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "the parts of this plan are {}",
            parts.into_iter().collect::<Vec<_>>().join(", ")
        ),
    };
    Finding::error(
        codes::UNKNOWN_PART,
        name.span,
        format!("there is no part `{}`", name.value),
    )
    .fix(fix)
}
