//! The keys of a carcass.

use crate::resolve::{Field, Shape};

const WITH: Shape = Shape::Word(&["screws", "pocket screws", "dowels", "glue", "nothing"]);

/// The keys of a carcass.
pub(super) const FIELDS: &[Field] = &[
    Field::required("stock", Shape::Text, "what it is made of"),
    Field::required("width", Shape::Size, "outside, without doors"),
    Field::required("height", Shape::Size, "outside, from the floor or the base"),
    Field::required(
        "depth",
        Shape::Size,
        "outside, with the back and without doors",
    ),
    Field::with_default(
        "top",
        Shape::Word(&["between", "over", "rebated", "none"]),
        "between",
        "the top: between the sides, over them, or in rebates of the sides",
    ),
    Field::with_default(
        "bottom",
        Shape::Word(&["between", "under", "rebated"]),
        "between",
        "the bottom: between the sides, under them, or in rebates of the sides",
    ),
    Field::with_default(
        "rebate_depth",
        Shape::Size,
        "8 mm",
        "depth of the rebates for top and bottom (common practice, no source: near half the thickness)",
    ),
    Field::with_default(
        "with",
        WITH,
        "screws",
        "what holds top, bottom and fixed shelves",
    ),
    Field::optional(
        "bottom_with",
        WITH,
        "what holds the bottom, if not the same",
    ),
    Field::optional(
        "at",
        Shape::Spread,
        "where along each joint the screws or dowels are",
    ),
    Field::with_default(
        "pilot",
        Shape::Distance,
        "2.5 mm",
        "pilots for the screws in the ends of panels; 0 for none",
    ),
    Field::optional(
        "back_stock",
        Shape::Text,
        "what the back is made of; the same as the rest where nothing is said",
    ),
    Field::with_default(
        "back",
        Shape::Word(&["rebated", "applied", "none"]),
        "rebated",
        "the back: in rebates of sides and top, or applied to their back edges",
    ),
    Field::with_default(
        "back_depth",
        Shape::Size,
        "8 mm",
        "how far the back reaches into the thickness of sides and top (common practice, no source)",
    ),
    Field::with_default(
        "slip",
        Shape::Distance,
        "0.2 mm",
        "how much wider housings and rebates are than what goes in, at its thickest reading (common practice, no source)",
    ),
    Field::with_default(
        "back_play",
        Shape::Distance,
        "1 mm",
        "how much smaller the back is than the space between the rebates (common practice, no source)",
    ),
    Field::optional(
        "toe",
        Shape::Map(TOE_FIELDS),
        "a toe space: the sides are notched at the front and the bottom is raised",
    ),
    Field::optional("shelves", Shape::Maps(SHELF_FIELDS), "fixed shelves"),
    Field::optional(
        "dividers",
        Shape::Maps(DIVIDER_FIELDS),
        "upright dividers between bottom, fixed shelves and top",
    ),
    Field::optional(
        "stretchers",
        Shape::Maps(STRETCHER_FIELDS),
        "strips between the sides, in front of the back or at the front",
    ),
    Field::optional("loose", Shape::Maps(LOOSE_FIELDS), "loose shelves on pins"),
    Field::optional(
        "stands_on",
        Shape::Text,
        "the base that it stands on: the name of a build before this",
    ),
    Field::optional(
        "place",
        Shape::Triple,
        "where its lower left back corner is; 0, 0, 0 where nothing is said",
    ),
    Field::with_default(
        "bare_names",
        Shape::Word(&["yes", "no"]),
        "no",
        "whether its parts are called `side-left` and not `NAME-side-left`",
    ),
];

const TOE_FIELDS: &[Field] = &[
    Field::required("height", Shape::Size, "its height"),
    Field::required(
        "depth",
        Shape::Size,
        "how far it reaches in from the front edges",
    ),
    Field::with_default(
        "corner_radius",
        Shape::Distance,
        "0",
        "radius of the notch's inside corner",
    ),
    Field::with_default(
        "board",
        Shape::Word(&["yes", "no"]),
        "yes",
        "whether a kick board closes it",
    ),
];

const SHELF_FIELDS: &[Field] = &[
    Field::required("name", Shape::Text, "its name: `deck`"),
    Field::required(
        "up",
        Shape::Size,
        "from the carcass's lower edge to its underside",
    ),
    Field::with_default(
        "joint",
        Shape::Word(&["housing", "butt"]),
        "housing",
        "how its ends are held",
    ),
    Field::with_default(
        "depth",
        Shape::Size,
        "6 mm",
        "depth of the housings (common practice, no source: a third of the thickness)",
    ),
    Field::with_default(
        "play",
        Shape::Distance,
        "0.6 mm",
        "how much shorter it is than the space between the bottoms of its housings (common practice, no source)",
    ),
];

const DIVIDER_FIELDS: &[Field] = &[
    Field::required("name", Shape::Text, "its name"),
    Field::with_default(
        "stands_on",
        Shape::Text,
        "bottom",
        "what it stands on: bottom, or the name of a fixed shelf",
    ),
    Field::with_default("count", Shape::Count, "1", "how many, evenly spaced"),
    Field::optional(
        "middle",
        Shape::Distance,
        "from the inside of the left side to the middle of its thickness, for one that is not in the middle",
    ),
    Field::with_default(
        "short",
        Shape::Distance,
        "0",
        "how far its back edge stays in front of the back",
    ),
    Field::with_default("with", WITH, "dowels", "what holds its ends"),
    Field::optional(
        "at",
        Shape::Spread,
        "where along its ends the screws or dowels are",
    ),
];

const STRETCHER_FIELDS: &[Field] = &[
    Field::required("name", Shape::Text, "its name: `rail`"),
    Field::required("size", Shape::Size, "its width"),
    Field::with_default(
        "where",
        Shape::Word(&["back-top", "back-bottom", "front-top", "front-bottom"]),
        "back-top",
        "against which panels it lies",
    ),
    Field::with_default(
        "lies",
        Shape::Word(&["upright", "flat"]),
        "upright",
        "which way its broad face looks",
    ),
    Field::with_default("with", WITH, "pocket screws", "what holds its ends"),
];

const LOOSE_FIELDS: &[Field] = &[
    Field::with_default("name", Shape::Text, "shelf", "its name"),
    Field::with_default("count", Shape::Count, "1", "how many"),
    Field::with_default(
        "above",
        Shape::Text,
        "bottom",
        "above what: bottom, or the name of a fixed shelf",
    ),
    Field::with_default(
        "gap",
        Shape::Distance,
        "1 mm",
        "room at each end (common practice, no source)",
    ),
    Field::with_default(
        "setback",
        Shape::Distance,
        "15 mm",
        "from the front edges of the carcass (common practice, no source)",
    ),
    Field::with_default(
        "first",
        Shape::Size,
        "150 mm",
        "height of the first pins above what is below (common practice, no source)",
    ),
    Field::with_default(
        "pins",
        Shape::Count,
        "12",
        "how many pin holes, one above the other",
    ),
    Field::with_default(
        "step",
        Shape::Size,
        "32 mm",
        "distance of the pin holes (32 mm system, common practice, no source)",
    ),
    Field::with_default(
        "pin_setback",
        Shape::Size,
        "37 mm",
        "rows of pins from the front edge and from the back (32 mm system, common practice, no source)",
    ),
    Field::with_default(
        "pin_depth",
        Shape::Size,
        "10 mm",
        "depth of the pin holes (common practice, no source)",
    ),
];
