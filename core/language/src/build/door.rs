//! Doors: one, or a pair that meets in the middle, with cup hinges and their plates.
//!
//! Seen from the front, with `g` the gap:
//!
//! | what | formula |
//! |---|---|
//! | overlay | the room and its walls, less `g` at each outer side, and less `g / 2` where another front is next to it, so that fronts stand `g` apart; in front of the walls |
//! | half | as overlay, but up to the middle of the walls at the left and right |
//! | inset | the room less `g` at every side; flush with the front of the walls |
//! | pair | `(width - g) / 2` each |
//! | hinges | 2, and one more for each of 40, 60 and 80 in of height that the door exceeds, or for each of 15, 30 and 45 lb of weight, whichever gives more (common practice, no source) |
//! | their heights | the outer ones `hinge_end` from the ends of the door, the others evenly between |
//! | plates | on the wall beside, at the same heights; `setback` from its front edge, and for an inset door the door's thickness more (common practice, no source) |

use jigless_model::plan::Stock;
use jigless_model::units::MM_PER_INCH;
use jigless_model::whole::Box3;

use super::kit::{Keys, copied, drilled, flat, upright};
use super::{BuilderKind, Built, PartDraft, Room, Wall, length, list, map, text};
use crate::resolve::{Field, Fields, Shape};

const IN: Field = Field::required(
    "in",
    Shape::Text,
    "the room that it closes: the name of a carcass, or of one of its rooms",
);
const STOCK: Field = Field::required("stock", Shape::Text, "what it is made of");
const FIT: Field = Field::with_default(
    "fit",
    Shape::Word(&["overlay", "half", "inset"]),
    "overlay",
    "over the walls, over half of them, or between them",
);
const GAP: Field = Field::with_default(
    "gap",
    Shape::Distance,
    "2 mm",
    "gap around it (common practice, no source)",
);
const HINGES: Field = Field::optional(
    "hinges",
    Shape::Count,
    "how many hinges each door has; by its height and weight where nothing is said",
);
const HINGE_END: Field = Field::with_default(
    "hinge_end",
    Shape::Size,
    "2 1/2 in",
    "from the ends of the door to the middle of the outer hinges (common practice, no source)",
);
const EDGE_GAP: Field = Field::with_default(
    "edge_gap",
    Shape::Distance,
    "1/4 in",
    "from the door's edge to the rim of the cup; see the hinge's data sheet (common practice, no source)",
);
const CUP: Field = Field::with_default(
    "cup",
    Shape::Size,
    "35 mm",
    "diameter of the cup (common practice, no source)",
);
const CUP_DEPTH: Field = Field::with_default(
    "cup_depth",
    Shape::Size,
    "12.5 mm",
    "depth of the cup (common practice, no source)",
);
const CUP_SCREWS: Field = Field::with_default(
    "cup_screws",
    Shape::Word(&["yes", "no"]),
    "yes",
    "whether the cups' screw holes are drilled: 45 mm apart, 9.5 mm behind the cup's middle (common practice, no source)",
);
const SETBACK: Field = Field::with_default(
    "setback",
    Shape::Size,
    "37 mm",
    "line of the plates' holes from the front edge of the wall; an inset door's thickness is added (32 mm system, common practice, no source)",
);
const PLATE_DEPTH: Field = Field::with_default(
    "plate_depth",
    Shape::Size,
    "12 mm",
    "depth of the plates' holes (common practice, no source)",
);
const KNOB: Field = Field::optional(
    "knob",
    Shape::Place,
    "where a hole for a knob goes, seen on the front of a door with its hinges at the left",
);
const KNOB_HOLE: Field = Field::with_default(
    "knob_hole",
    Shape::Size,
    "5 mm",
    "diameter of that hole (common practice, no source)",
);

pub(super) static DOOR: BuilderKind = BuilderKind {
    key: "door",
    summary: "a door on cup hinges, with the plates' holes in the wall beside it",
    fields: &[
        IN,
        STOCK,
        Field::with_default(
            "hinge_side",
            Shape::Word(&["left", "right"]),
            "left",
            "where its hinges are",
        ),
        FIT,
        GAP,
        HINGES,
        HINGE_END,
        EDGE_GAP,
        CUP,
        CUP_DEPTH,
        CUP_SCREWS,
        SETBACK,
        PLATE_DEPTH,
        KNOB,
        KNOB_HOLE,
    ],
    build: single,
};

pub(super) static PAIR: BuilderKind = BuilderKind {
    key: "door_pair",
    summary: "two doors that meet in the middle, a handed pair, with the plates' holes in the walls beside them",
    fields: &[
        IN,
        STOCK,
        FIT,
        GAP,
        HINGES,
        HINGE_END,
        EDGE_GAP,
        CUP,
        CUP_DEPTH,
        CUP_SCREWS,
        SETBACK,
        PLATE_DEPTH,
        KNOB,
        KNOB_HOLE,
    ],
    build: pair,
};

/// The box that a front fills: a door, or the fronts of drawers. `z` runs from the back of the front to its face.
pub(super) fn front_box(room: &Room, fit: &str, gap: f64, thickness: f64) -> Box3 {
    let mut area = if fit == "inset" {
        room.inside
    } else {
        room.outside
    };
    if fit == "half" {
        area.min[0] = room.inside.min[0] - room.left.thickness / 2.0;
        area.max[0] = room.inside.max[0] + room.right.thickness / 2.0;
    }
    let part = |shared: bool| {
        if shared && fit != "inset" {
            gap / 2.0
        } else {
            gap
        }
    };
    let half = fit == "half";
    area.min[0] += part(room.left.shared || half);
    area.max[0] -= part(room.right.shared || half);
    area.min[1] += part(room.shared_low);
    area.max[1] -= part(room.shared_high);
    let plane = room.inside.max[2];
    (area.min[2], area.max[2]) = if fit == "inset" {
        (plane - thickness, plane)
    } else {
        (plane, plane + thickness)
    };
    area
}

/// How many hinges a door has.
fn hinge_count(width: f64, height: f64, stock: &Stock) -> u32 {
    /// Inches and pounds from which on a door has one hinge more (common practice, no source).
    const STEPS: [(f64, f64); 3] = [(40.0, 15.0), (60.0, 30.0), (80.0, 45.0)];
    /// kg/m3 where the plan says nothing: birch plywood (common practice, no source).
    const USUAL_DENSITY: f64 = 700.0;
    const KG_PER_POUND: f64 = 0.453_592_37;
    let volume = width * height * stock.thickness * 1e-9;
    let weight = volume * stock.density.unwrap_or(USUAL_DENSITY);
    let over =
        |exceeded: &dyn Fn(&(f64, f64)) -> bool| STEPS.iter().filter(|s| exceeded(s)).count();
    let by_height = over(&|(inches, _)| height > inches * MM_PER_INCH);
    let by_weight = over(&|(_, pounds)| weight > pounds * KG_PER_POUND);
    2 + by_height.max(by_weight) as u32
}

/// What both kinds of doors read.
struct Doors {
    area: Box3,
    /// Heights of the hinges above the lower edge of the door.
    hinges: Vec<f64>,
    width: f64,
    inset: bool,
    stock: std::sync::Arc<Stock>,
}

fn read(fields: &Fields, built: &Built, leaves: f64) -> Option<(Room, Doors)> {
    let room = built.room_of(fields, "in");
    let stock = built.stock(fields, "stock");
    let (fit, gap, end) = (
        fields.word("fit"),
        fields.length("gap"),
        fields.length("hinge_end"),
    );
    let count = if fields.has("hinges") {
        Some(fields.count("hinges")?.value)
    } else {
        None
    };
    let (room, stock, gap, fit) = (room?, stock?, gap?.value, fit?.value);
    let area = front_box(&room, fit, gap, stock.thickness);
    let width = (area.size(0) - (leaves - 1.0) * gap) / leaves;
    let height = area.size(1);
    let count = count
        .unwrap_or_else(|| hinge_count(width, height, &stock))
        .max(2);
    let end = end?.value;
    let run = height - 2.0 * end;
    let hinges = (0..count)
        .map(|i| end + run * f64::from(i) / f64::from(count - 1))
        .collect();
    Some((
        room,
        Doors {
            area,
            hinges,
            width,
            inset: fit == "inset",
            stock,
        },
    ))
}

fn leaf(fields: &Fields, built: &Built, doors: &Doors, x: f64) -> Option<PartDraft> {
    let span = built.span;
    let at = doors.hinges.iter().map(|at| length(*at));
    let mut cups: Keys = vec![("edge", text("left")), ("at", list(span, at))];
    for (own, feature) in [
        ("cup", "diameter"),
        ("cup_depth", "depth"),
        ("edge_gap", "edge_gap"),
    ] {
        cups.push((feature, length(fields.length(own)?.value)));
    }
    if fields.word("cup_screws")?.value == "yes" {
        cups.push(("screws", map(span, drilled(2.5, 10.0))));
    }
    cups.push(("label", text("hinges")));
    let mut features = vec![("hinge_cups", cups)];
    if let Some((_, at)) = copied(fields, "knob") {
        let keys = vec![
            ("at", at),
            ("diameter", length(fields.length("knob_hole")?.value)),
            ("hardware", map(span, [("what", text("knob"))])),
            ("label", text("knob")),
        ];
        features.push(("hole", keys));
    }
    let corner = [x, doors.area.min[1], doors.area.min[2]];
    Some(PartDraft {
        width: doors.width,
        height: doors.area.size(1),
        places: vec![flat(corner)],
        moves: Some("swings-left"),
        faces: vec![
            ("front", "outside".to_owned()),
            ("back", "inside".to_owned()),
        ],
        edges: vec![("left", "hinge edge".to_owned())],
        features,
        ..upright(&doors.stock)
    })
}

fn plates(fields: &Fields, built: &mut Built, doors: &Doors, wall: &Wall) -> Option<()> {
    let setback = fields.length("setback")?.value;
    let deeper = if doors.inset {
        doors.stock.thickness
    } else {
        0.0
    };
    let low = doors.area.min[1];
    let at = doors.hinges.iter().map(|at| {
        let point = [doors.area.min[0], low + at, doors.area.min[2]];
        length(wall.body.to_part(point).0.y)
    });
    let keys = vec![
        ("edge", text(wall.front.name())),
        ("at", list(built.span, at)),
        ("setback", length(setback + deeper)),
        ("depth", length(fields.length("plate_depth")?.value)),
        ("face", text(wall.face.name())),
        ("label", text(&format!("hinge plates of {}", built.name))),
    ];
    built.feature(&wall.carrier, wall.only.as_deref(), "hinge_plates", keys);
    Some(())
}

fn single(fields: &Fields, built: &mut Built) -> Option<()> {
    let (room, doors) = read(fields, built, 1.0)?;
    let right = fields.word("hinge_side")?.value == "right";
    let mut draft = leaf(fields, built, &doors, doors.area.min[0])?;
    "Door".clone_into(&mut draft.title);
    if right {
        turn_over(&mut draft, doors.width);
    }
    built.named_part(built.name.to_owned(), draft);
    plates(
        fields,
        built,
        &doors,
        if right { &room.right } else { &room.left },
    )
}

/// A door with its hinges at the right: the same with left and right changed over.
fn turn_over(draft: &mut PartDraft, width: f64) {
    draft.moves = Some("swings-right");
    draft.edges = vec![("right", "hinge edge".to_owned())];
    for (key, keys) in &mut draft.features {
        for (own, value) in keys.iter_mut() {
            match (*key, *own) {
                ("hinge_cups", "edge") => *value = text("right"),
                ("hole", "at") => mirror_place(value, width),
                _ => {}
            }
        }
    }
}

fn mirror_place(value: &mut crate::load::Value, width: f64) {
    use crate::load::{Scalar, Value};
    match value {
        Value::Map(entries) => {
            for entry in entries {
                let turned = match entry.key.value.as_str() {
                    "left" => "right",
                    "right" => "left",
                    _ => continue,
                };
                turned.clone_into(&mut entry.key.value);
            }
        }
        Value::List(items) => {
            if let Some(Value::Scalar(Scalar { text: own, .. })) =
                items.first().map(|item| &item.value)
            {
                // Read together with the width, so that any calculation may stand there.
                let turned = format!("{width} mm - ({own})");
                items[0].value = text(&turned);
            }
        }
        _ => {}
    }
}

fn pair(fields: &Fields, built: &mut Built) -> Option<()> {
    let (room, doors) = read(fields, built, 2.0)?;
    let mut draft = leaf(fields, built, &doors, doors.area.min[0])?;
    "Left door".clone_into(&mut draft.title);
    draft.mirror_as = Some(built.id("right"));
    draft.mirror_title = Some("Right door".to_owned());
    draft.mirror_places = vec![flat([
        doors.area.max[0] - doors.width,
        doors.area.min[1],
        doors.area.min[2],
    ])];
    built.part("left", draft);
    plates(fields, built, &doors, &room.left)?;
    plates(fields, built, &doors, &room.right)
}
