//! The keys of a drawer.

use crate::resolve::{Field, Shape};

/// The keys of a drawer.
pub(super) const FIELDS: &[Field] = &[
    Field::required(
        "in",
        Shape::Texts,
        "the room, or a list of equal rooms that each get the same",
    ),
    Field::required("stock", Shape::Text, "what the box is made of"),
    Field::required("bottom_stock", Shape::Text, "what the bottom is made of"),
    Field::required(
        "front_stock",
        Shape::Text,
        "what the false front is made of",
    ),
    Field::with_default("count", Shape::Count, "1", "how many, one above the other"),
    Field::optional(
        "fronts",
        Shape::Sizes,
        "heights of the fronts from the lowest up; the last one that is not named takes what is left, and all are even where nothing is said",
    ),
    Field::with_default(
        "fit",
        Shape::Word(&["overlay", "inset"]),
        "overlay",
        "the fronts: over the walls or between them",
    ),
    Field::with_default(
        "gap",
        Shape::Distance,
        "2 mm",
        "gap around the fronts (common practice, no source)",
    ),
    Field::optional(
        "length",
        Shape::Size,
        "of the box and its runners; the longest of 50 mm steps that leaves 10 mm behind where nothing is said",
    ),
    Field::optional(
        "height",
        Shape::Size,
        "of the box; 20 mm less than its room, in steps of 10 mm, where nothing is said",
    ),
    Field::with_default(
        "lift",
        Shape::Distance,
        "12 mm",
        "from what is below to the lower edge of the box (common practice, no source)",
    ),
    Field::with_default(
        "clearance",
        Shape::Size,
        "12.7 mm",
        "room for the runner at each side (half an inch: ShopNotes 91, page 10)",
    ),
    Field::with_default(
        "rebate",
        Shape::Size,
        "6 mm",
        "depth of the rebates that take front and back of the box (common practice, no source: half the thickness)",
    ),
    Field::optional(
        "groove",
        Shape::Size,
        "depth of the groove for the bottom; half the thickness of the sides and 6 mm at most where nothing is said (common practice, no source)",
    ),
    Field::with_default(
        "groove_up",
        Shape::Size,
        "1/4 in",
        "from the lower edge of the box to the groove (common practice, no source)",
    ),
    Field::with_default(
        "slip",
        Shape::Distance,
        "0.2 mm",
        "how much wider the groove is than the bottom at its thickest reading (common practice, no source)",
    ),
    Field::with_default(
        "play",
        Shape::Distance,
        "1 mm",
        "how much smaller the bottom is than the space between the groove bottoms (common practice, no source)",
    ),
    Field::with_default(
        "runner_setback",
        Shape::Distance,
        "2 mm",
        "from the front of the box to the front end of the runner (common practice, no source)",
    ),
    Field::optional(
        "wall_offsets",
        Shape::Sizes,
        "screws of the runner in the wall, from its front end; 37 mm, 165 mm and 293 mm as far as the runner goes where nothing is said (32 mm system, common practice, no source); see its data sheet",
    ),
    Field::optional(
        "box_offsets",
        Shape::Sizes,
        "screws of the runner in the box, from its front end; 35 mm, 131 mm and 291 mm as far as the runner goes where nothing is said (common practice, no source); see its data sheet",
    ),
    Field::with_default(
        "wall_depth",
        Shape::Size,
        "10 mm",
        "depth of the screw holes in the walls; in a divider never more than lets those of the other side pass",
    ),
    Field::with_default(
        "box_depth",
        Shape::Size,
        "8 mm",
        "depth of the screw holes in the box",
    ),
    Field::with_default(
        "front_with",
        Shape::Word(&["screws", "nothing"]),
        "screws",
        "what holds the false front to the box",
    ),
    Field::optional(
        "knob",
        Shape::Place,
        "where a hole for a knob goes in the front",
    ),
    Field::with_default(
        "knob_hole",
        Shape::Size,
        "5 mm",
        "diameter of that hole (common practice, no source)",
    ),
];
