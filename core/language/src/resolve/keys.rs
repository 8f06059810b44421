//! The keys at the top of a plan and of what it includes.

use super::field::{Field, Shape};

/// The keys of a plan file.
pub const PLAN_FIELDS: &[Field] = &[
    Field::required(
        "jigless",
        Shape::Count,
        "version of the plan language; marks the file as a plan",
    ),
    Field::required("title", Shape::Text, "what the plan is called"),
    Field::optional("revision", Shape::Text, "printed on every page and file"),
    Field::optional("licence", Shape::Text, "printed on the cover"),
    Field::required("units", Shape::Word(&["mm", "in"]), "unit of bare numbers"),
    Field::optional(
        "include",
        Shape::Texts,
        "files below the plan's folder that add values, stock and parts",
    ),
    Field::optional("values", Shape::Values, "named values for lengths"),
    Field::required("stock", Shape::Stocks, "sheet goods and boards"),
    Field::optional(
        "builds",
        Shape::Builds,
        "what builders make: a name, and under it one builder with its keys",
    ),
    Field::required(
        "parts",
        Shape::Parts,
        "the parts, unless `builds` makes them all",
    ),
    Field::optional(
        "tools",
        Shape::Sizes,
        "diameters of the router bits at hand; inside corners are held against the smallest",
    ),
    Field::optional(
        "usage",
        Shape::Usage,
        "what the parts do together, for the checks: doors on sides, drawers in openings, shelves under load",
    ),
    Field::optional(
        "checks",
        Shape::Checks,
        "severities and limits of checks in this plan",
    ),
    Field::optional(
        "joints",
        Shape::Joints,
        "what holds the parts together, a line for each: `- butt: {part: shelf, to: side}`",
    ),
    Field::optional(
        "order",
        Shape::Texts,
        "the parts that are put together first, in order; the others follow as their joints ask",
    ),
];

/// The keys of an included file.
pub const INCLUDE_FIELDS: &[Field] = &[
    Field::optional(
        "units",
        Shape::Word(&["mm", "in"]),
        "must be the plan's own, if given",
    ),
    Field::optional("joints", Shape::Joints, "joints"),
    Field::optional("values", Shape::Values, "named values for lengths"),
    Field::optional("stock", Shape::Stocks, "sheet goods and boards"),
    Field::optional("builds", Shape::Builds, "what builders make"),
    Field::optional("parts", Shape::Parts, "parts"),
    Field::optional("usage", Shape::Usage, "what the parts do together"),
];
