//! A rack for hand tools: a strip with a row of holes, with slots that are open at the front, or with both.
//!
//! With `L` the length of the strip, `e` the distance of the outermost rims from its ends and `n` holes of diameters `d`:
//!
//! | what | formula |
//! |---|---|
//! | wood between neighbours | `(L - 2 e - sum of d) / (n - 1)`, the same everywhere |
//! | middle of a hole | rim of the one before, and that wood, and half of its own diameter |
//! | slots | the same with their widths; each ends in a half circle, `depth` deep to its bottom |

use jigless_model::diag::Finding;
use jigless_model::plan::Grain;

use super::kit::Keys;
use super::{BuilderKind, Built, PartDraft, length, list, text};
use crate::codes;
use crate::resolve::{Field, Fields, Shape, read_placements};

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "rack",
    summary: "a strip with an even or fitted row of holes, open slots or both, for hand tools",
    fields: &[
        Field::required("stock", Shape::Text, "what it is made of"),
        Field::required("length", Shape::Size, "length of the strip"),
        Field::required(
            "width",
            Shape::Size,
            "width of the strip, from back to front",
        ),
        Field::optional(
            "holes",
            Shape::Sizes,
            "diameters, one for each tool from the left: a fitted row",
        ),
        Field::optional(
            "diameter",
            Shape::Size,
            "one diameter for an even row; with `count`",
        ),
        Field::optional("count", Shape::Count, "how many holes of one diameter"),
        Field::optional(
            "slots",
            Shape::Sizes,
            "widths of slots that are open at the front, one for each tool from the left",
        ),
        Field::optional(
            "slot_depth",
            Shape::Size,
            "how far the slots reach in; half the width where nothing is said",
        ),
        Field::optional(
            "holes_back",
            Shape::Size,
            "from the back edge to the middle of the holes; half the width, or a quarter where there are slots, where nothing is said",
        ),
        Field::with_default(
            "end",
            Shape::Distance,
            "15 mm",
            "from the ends of the strip to the outermost rims (common practice, no source)",
        ),
        Field::optional("place", Shape::Placements, "where it is in the assembly"),
    ],
    build,
};

/// Wood that stays between two holes, in millimetres (common practice, no source).
const LEAST: f64 = 5.0;

fn build(fields: &Fields, built: &mut Built) -> Option<()> {
    let stock = built.stock(fields, "stock");
    let (run, width) = (fields.length("length"), fields.length("width"));
    let end = fields.length("end");
    let holes = match (fields.has("holes"), fields.has("diameter")) {
        (true, _) => values(fields, "holes")?,
        (false, true) => {
            let diameter = fields.length("diameter")?.value;
            let count = if fields.has("count") {
                fields.count("count")?.value
            } else {
                1
            };
            vec![diameter; count as usize]
        }
        (false, false) => Vec::new(),
    };
    let slots = if fields.has("slots") {
        values(fields, "slots")?
    } else {
        Vec::new()
    };
    if holes.is_empty() && slots.is_empty() {
        fields.exactly_one(&["holes", "diameter", "slots"]);
        return None;
    }
    let (run, width, end) = (run?.value, width?.value, end?.value);
    let slot_depth = if fields.has("slot_depth") {
        fields.length("slot_depth")?.value
    } else {
        width / 2.0
    };
    let usual = if slots.is_empty() {
        width / 2.0
    } else {
        width / 4.0
    };
    let back = if fields.has("holes_back") {
        fields.length("holes_back")?.value
    } else {
        usual
    };
    let mut features: Vec<(&'static str, Keys)> = Vec::new();
    for (index, (middle, diameter)) in spread(fields, &holes, run, end)?.into_iter().enumerate() {
        let keys = vec![
            (
                "at",
                list(built.span, [length(middle), length(width - back)]),
            ),
            ("diameter", length(diameter)),
            ("label", text(&format!("tool {}", index + 1))),
        ];
        features.push(("hole", keys));
    }
    for (index, (middle, slot)) in spread(fields, &slots, run, end)?.into_iter().enumerate() {
        let keys = vec![
            ("edge", text("bottom")),
            ("start", length(middle - slot / 2.0)),
            ("width", length(slot)),
            ("depth", length(slot_depth)),
            // A little less than half, so that two corners never meet in one point.
            ("corner_radius", length((slot / 2.0 - 0.01).max(0.0))),
            ("label", text(&format!("slot {}", index + 1))),
        ];
        features.push(("notch", keys));
    }
    let places = match fields.node("place") {
        Some(node) => read_placements(fields.context(), node)?
            .into_iter()
            .map(|p| p.value)
            .collect(),
        None => Vec::new(),
    };
    let draft = PartDraft {
        title: "Rack".to_owned(),
        stock: stock?.id.clone(),
        width: run,
        height: width,
        grain: Grain::Width,
        places,
        edges: vec![
            ("bottom", "front edge".to_owned()),
            ("top", "back edge".to_owned()),
        ],
        features,
        ..PartDraft::new()
    };
    built.named_part(built.name.to_owned(), draft);
    Some(())
}

fn values(fields: &Fields, key: &'static str) -> Option<Vec<f64>> {
    Some(fields.lengths(key)?.iter().map(|size| size.value).collect())
}

/// The middles of openings with the same wood between all of them.
fn spread(fields: &Fields, sizes: &[f64], run: f64, end: f64) -> Option<Vec<(f64, f64)>> {
    let total: f64 = sizes.iter().sum();
    let free = run - 2.0 * end - total;
    if let [one] = sizes {
        return Some(vec![(run / 2.0, *one)]);
    }
    if sizes.is_empty() {
        return Some(Vec::new());
    }
    let between = free / (sizes.len() - 1) as f64;
    if between < LEAST {
        let unit = fields.context().names.unit();
        fields.context().find(
            Finding::error(
                codes::NO_ROOM,
                fields.span,
                format!(
                    "{} openings of {} together leave {} between neighbours",
                    sizes.len(),
                    unit.show(total),
                    unit.show(between)
                ),
            )
            .fix(format!(
                "make the strip {} longer, or use fewer",
                unit.show((LEAST - between) * (sizes.len() - 1) as f64)
            )),
        );
        return None;
    }
    let mut at = end;
    let middles = sizes.iter().map(|size| {
        let middle = at + size / 2.0;
        at += size + between;
        (middle, *size)
    });
    Some(middles.collect())
}
