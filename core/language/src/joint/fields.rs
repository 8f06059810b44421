//! Keys that the kinds of joints share.

use crate::resolve::{Field, Shape};

pub(super) const PART: Field =
    Field::required("part", Shape::Text, "the part that comes to the other one");
pub(super) const TO: Field = Field::required("to", Shape::Text, "the part that takes it");
pub(super) const AT: Field = Field::optional(
    "at",
    Shape::Spread,
    "where along the joint the screws or dowels are, from the left or bottom end of the part's edge there; 50 mm from the ends and no more than 150 mm apart where nothing is said (common practice, no source)",
);
pub(super) const SCREW: Field = Field::optional(
    "screw",
    Shape::Map(SCREW_FIELDS),
    "the screw; 4 mm (#8) and as long as the parts ask where nothing is said",
);
pub(super) const SCREW_FIELDS: &[Field] = &[
    Field::optional("length", Shape::Size, "length of the screw"),
    Field::optional("gauge", Shape::Text, "its gauge or diameter"),
];
pub(super) const CLEARANCE: Field = Field::with_default(
    "clearance",
    Shape::Size,
    "4.5 mm",
    "hole for the screw's shank (ISO 273 medium for 4 mm: 4.5)",
);
pub(super) const COUNTERSINK: Field = Field::with_default(
    "countersink",
    Shape::Distance,
    "9 mm",
    "diameter of the 90 degree cone for the head; 0 for none (common practice, no source)",
);
pub(super) const PILOT: Field = Field::with_default(
    "pilot",
    Shape::Distance,
    "2.5 mm",
    "hole for the thread of a 4 mm screw, 1 mm deeper than the screw reaches; 0 for none (common practice, no source)",
);
pub(super) const MARK: Field = Field::with_default(
    "mark",
    Shape::Word(&["yes", "no"]),
    "yes",
    "whether the outline of the part is drawn in pencil where it meets the other",
);
pub(super) const GLUE: Field = Field::with_default(
    "glue",
    Shape::Word(&["yes", "no", "as usual"]),
    "as usual",
    "whether it is glued: as usual, dowels and plain glue are, screws are not",
);
pub(super) const WORK: Field = Field::with_default(
    "work",
    Shape::Word(&["made", "given"]),
    "made",
    "`given` where the parts have the work among their features already",
);
pub(super) const EDGE: Field = Field::optional(
    "edge",
    Shape::Edge,
    "without places: the edge of `part` that meets the other",
);
pub(super) const FACE: Field = Field::with_default(
    "face",
    Shape::Face,
    "front",
    "without places: the face of `to` that it meets",
);
pub(super) const FROM: Field = Field::optional(
    "from",
    Shape::EdgeDistances,
    "without places: distance of the part's near side from an edge of `to`: `{bottom: 300}`",
);
pub(super) const START: Field = Field::with_default(
    "start",
    Shape::Distance,
    "0",
    "without places: where the part begins, from the left or bottom end of `to`",
);
