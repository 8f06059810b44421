//! A base on casters: a panel with four caster plates on its underside.
//!
//! | what | formula |
//! |---|---|
//! | middle of each caster | `inset` from both edges of its corner (3 in, common practice, no source) |
//! | screws | the longest that is sold and stays 3 mm short of the panel's thickness |
//! | surface that others stand on | caster height and the panel's thickness above the floor |
//!
//! A base standing on one caster less carries half of everything on two that lie across from each other (statics of a
//! rigid rectangle), so each caster's own limit is held against half the whole, not a quarter.

use jigless_model::diag::Finding;
use jigless_model::plan::Grain;
use jigless_model::units::{MM_PER_INCH, Unit};
use jigless_model::whole::{Direction, Placement};

use super::kit::Keys;
use super::{BuilderKind, Built, PartDraft, length, list, map, text};
use crate::codes;
use crate::resolve::{Field, Fields, Shape, read_triple};

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "base_with_casters",
    summary: "a panel on four casters, with the plates' outlines and screw holes",
    fields: &[
        Field::required("stock", Shape::Text, "what it is made of"),
        Field::required("width", Shape::Size, "size to the right"),
        Field::required("depth", Shape::Size, "size from back to front"),
        Field::required(
            "caster_height",
            Shape::Size,
            "from the floor to the upper face of the caster's plate",
        ),
        Field::required(
            "plate",
            Shape::Map(TWO),
            "size of a plate, from the caster at hand",
        ),
        Field::required(
            "holes",
            Shape::Map(TWO),
            "distances of a plate's holes, from the caster at hand",
        ),
        Field::with_default(
            "inset",
            Shape::Size,
            "3 in",
            "from the edges to the middle of each caster (common practice, no source)",
        ),
        Field::optional(
            "bolts",
            Shape::Size,
            "diameter of through holes for bolts, in place of screws",
        ),
        Field::with_default(
            "pilot",
            Shape::Size,
            "3.5 mm",
            "pilot holes for 5 mm screws (common practice, no source)",
        ),
        Field::optional(
            "place",
            Shape::Triple,
            "where its lower left back corner is, at the floor; 0, 0, 0 where nothing is said",
        ),
    ],
    build,
};

const TWO: &[Field] = &[
    Field::required("along_width", Shape::Size, "along the base's width"),
    Field::required("along_depth", Shape::Size, "from back to front"),
];

/// Wood over the tip of a screw, in millimetres (common practice, no source).
const SKIN: f64 = 3.0;
/// Screw lengths that are sold, in millimetres and inches (common practice, no source).
const SOLD_MM: [f64; 7] = [12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0];
const SOLD_IN: [f64; 6] = [0.5, 0.625, 0.75, 1.0, 1.25, 1.5];

fn build(fields: &Fields, built: &mut Built) -> Option<()> {
    let stock = built.stock(fields, "stock");
    let (width, depth) = (fields.length("width"), fields.length("depth"));
    let (up, inset) = (fields.length("caster_height"), fields.length("inset"));
    let pilot = fields.length("pilot");
    let plate = two(fields, "plate");
    let holes = two(fields, "holes");
    let corner = match fields.node("place") {
        Some(node) => read_triple(fields.context(), node)?,
        None => [0.0; 3],
    };
    let (stock, width, depth) = (stock?, width?.value, depth?.value);
    let (plate, holes) = (plate?, holes?);
    let inset = inset?;
    let unit = fields.context().names.unit();
    if inset.value < plate.0.max(plate.1) / 2.0 {
        fields.context().find(
            Finding::error(
                codes::NO_ROOM,
                inset.span,
                format!(
                    "a plate of {} by {} reaches over the edge",
                    unit.show(plate.0),
                    unit.show(plate.1)
                ),
            )
            .fix(format!(
                "keep `inset` at {} or more",
                unit.show(plate.0.max(plate.1) / 2.0)
            )),
        );
        return None;
    }
    let fixing: Keys = if fields.has("bolts") {
        let bolt = fields.length("bolts")?.value;
        vec![
            ("diameter", length(bolt)),
            ("depth", text("through")),
            (
                "hardware",
                map(
                    built.span,
                    [
                        ("what", text("bolt")),
                        ("gauge", text(&jigless_model::units::decimal(bolt, 2))),
                    ],
                ),
            ),
        ]
    } else {
        screws(fields, built, stock.thickness, pilot?.value)?
    };
    let mut features = Vec::new();
    let (right, front) = (width - inset.value, depth - inset.value);
    for (index, (x, y)) in [
        (inset.value, inset.value),
        (right, inset.value),
        (right, front),
        (inset.value, front),
    ]
    .into_iter()
    .enumerate()
    {
        let mut keys = vec![
            ("at", list(built.span, [length(x), length(y)])),
            ("width", length(plate.0)),
            ("height", length(plate.1)),
            ("across", length(holes.0)),
            ("up", length(holes.1)),
        ];
        keys.extend(fixing.iter().cloned());
        keys.push(("label", text(&format!("caster {}", index + 1))));
        features.push(("caster_plate", keys));
    }
    let up = up?.value;
    let draft = PartDraft {
        title: "Base".to_owned(),
        stock: stock.id.clone(),
        width,
        height: depth,
        grain: Grain::Width,
        places: vec![Placement {
            at: [corner[0], corner[1] + up, corner[2]],
            width: Direction::Left,
            height: Direction::Back,
        }],
        faces: vec![
            ("front", "underside".to_owned()),
            ("back", "upper face".to_owned()),
        ],
        edges: vec![("bottom", "front edge".to_owned())],
        features,
        ..PartDraft::new()
    };
    built.named_part(built.name.to_owned(), draft);
    built.surface([corner[0], corner[1] + up + stock.thickness, corner[2]]);
    Some(())
}

fn two(fields: &Fields, key: &'static str) -> Option<(f64, f64)> {
    let map = fields.map(key)?;
    let (a, b) = (map.length("along_width"), map.length("along_depth"));
    Some((a?.value, b?.value))
}

fn screws(fields: &Fields, built: &Built, thickness: f64, pilot: f64) -> Option<Keys> {
    let unit = fields.context().names.unit();
    let (sold, gauge): (Vec<f64>, &str) = match unit {
        Unit::Inch => (
            SOLD_IN.iter().map(|inches| inches * MM_PER_INCH).collect(),
            "#10",
        ),
        Unit::Millimetre => (SOLD_MM.to_vec(), "5"),
    };
    let Some(screw) = sold
        .into_iter()
        .rev()
        .find(|screw| *screw <= thickness - SKIN)
    else {
        fields.context().find(
            Finding::error(
                codes::NO_SCREW,
                fields.span,
                format!(
                    "no usual screw holds a caster in {} of wood",
                    unit.show(thickness)
                ),
            )
            .fix("write `bolts:` with their diameter, or use thicker stock"),
        );
        return None;
    };
    let hardware = [
        ("what", text("screw")),
        ("length", length(screw)),
        ("gauge", text(gauge)),
    ];
    Some(vec![
        ("diameter", length(pilot)),
        ("depth", length((screw + 1.0).min(thickness - 1.0))),
        ("hardware", map(built.span, hardware)),
    ])
}
