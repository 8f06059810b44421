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
//! | their heights | the outer ones `hinge_end` from the ends of the door, the others evenly between; up to 16 mm beside where the holes of the plates would meet those of shelf pins |
//! | plates | on the wall beside, at the same heights; `setback` from its front edge, and for an inset door the door's thickness more (common practice, no source) |

use super::front::{Fit, front_box};
use super::kit::{OUTSIDE_IN, blind_depth, drilled, flat, knob_hole, upright};
use super::{BuildContext, BuilderKind, Keys, PartDraft, Room, Wall, length, list, map, text};
use crate::codes;
use crate::length::{Expression, Quantity};
use crate::load::{Node, Scalar, Value};
use crate::resolve::{Distance, Fields, KeySet, Place, Repeats, Size, Written, YesNo};
use jigless_model::diag::Finding;
use jigless_model::plan::Stock;
use jigless_model::side::Edge;
use jigless_model::source::Spanned;
use jigless_model::units::MM_PER_INCH;
use jigless_model::whole::{Box3, Motion};
use jigless_model::words::Word as _;
use std::sync::Arc;

crate::fields! {
    /// What a door is in; read by itself, so that an unknown room is reported beside other faults.
    struct In {
        /// the room that it closes: the name of a carcass, or of one of its rooms
        room as "in": Spanned<String>,
    }
}

crate::fields! {
    struct SingleKeys {
        _room: In,
        /// what it is made of
        stock: Arc<Stock>,
        /// where its hinges are
        hinge_side: HingeSide = "left",
        door: DoorKeys,
    }
}

crate::fields! {
    struct PairKeys {
        _room: In,
        /// what it is made of
        stock: Arc<Stock>,
        door: DoorKeys,
    }
}

crate::fields! {
    struct DoorKeys {
        /// over the walls, over half of them, or between them
        fit: Fit = "overlay",
        /// gap around it
        gap: Distance = "2 mm" [CommonPractice],
        /// how many hinges each door has; by its height and weight where nothing is said
        hinges: Option<Repeats>,
        /// from the ends of the door to the middle of the outer hinges
        hinge_end: Size = "3 1/2 in" [Note("common practice, no source: 80 to 100 mm")],
        /// from the door's edge to the rim of the cup, as the hinge's data sheet says
        edge_gap: Distance,
        /// diameter of the cup
        cup: Size = "35 mm" [CommonPractice],
        /// depth of the cup
        cup_depth: Size = "12.5 mm" [CommonPractice],
        /// whether the cups' screw holes are drilled: 45 mm apart, 9.5 mm behind the cup's middle
        cup_screws: YesNo = "yes" [CommonPractice],
        /// line of the plates' holes from the front edge of the wall; an inset door's thickness is added
        setback: Size = "37 mm" [Note("32 mm system, common practice, no source")],
        /// depth of the plates' holes; 12 mm, and 2 mm less than the wall is thick at most, where nothing is said
        plate_depth: Option<Size> [CommonPractice],
        /// where a hole for a knob goes, seen on the front of a door with its hinges at the left
        knob: Option<Written<Place>>,
        /// diameter of that hole
        knob_hole: Size = "5 mm" [CommonPractice],
    }
}

crate::some_words! {
    /// The sides that a single door's hinges may be at.
    HingeSide of Edge: Left, Right
}

pub(super) static DOOR: BuilderKind = BuilderKind {
    key: "door",
    summary: "a door on cup hinges, with the plates' holes in the wall beside it",
    fields: SingleKeys::FIELDS,
    build: single,
};

pub(super) static PAIR: BuilderKind = BuilderKind {
    key: "door_pair",
    summary: "two doors that meet in the middle, a handed pair, with the plates' holes in the walls beside them",
    fields: PairKeys::FIELDS,
    build: pair,
};

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

/// From the middle of a plate's hole to that of a shelf pin's, in millimetres: both are 5 mm wide, with 3 mm of wood between
/// (common practice, no source).
const CLEAR_OF_PINS: f64 = 8.0;
/// What the screws of a cup take along the edge, and wood between two cups, in millimetres (common practice, no source).
const CUP_SCREWS: f64 = 50.0;
const BETWEEN_CUPS: f64 = 3.0;
/// Between the two holes of a plate, in millimetres (32 mm system, common practice, no source).
const PLATE: f64 = 32.0;

/// How far a hinge moves up or down so that the holes of its plate are clear of shelf pins; nothing where they are, or
/// where no place nearby is.
fn beside_pins(at: f64, pins: &[f64]) -> f64 {
    let clear = |by: f64| {
        let holes = [at + by - PLATE / 2.0, at + by + PLATE / 2.0];
        let mut pairs = pins
            .iter()
            .flat_map(|pin| holes.map(|hole| (pin - hole).abs()));
        pairs.all(|distance| distance >= CLEAR_OF_PINS - 1e-9)
    };
    let steps = (0..=32).flat_map(|step| [f64::from(step) / 2.0, -f64::from(step) / 2.0]);
    steps.into_iter().find(|by| clear(*by)).unwrap_or(0.0)
}

/// What both kinds of doors are made from.
struct Doors {
    keys: DoorKeys,
    stock: Arc<Stock>,
    area: Box3,
    width: f64,
    /// Heights of the hinges above the lower edge of the door.
    hinges: Vec<f64>,
}

impl Doors {
    /// Reports a door that is too low for its hinges.
    fn new(
        built: &BuildContext,
        keys: DoorKeys,
        stock: Arc<Stock>,
        room: &Room,
        leaves: f64,
    ) -> Option<Doors> {
        let area = front_box(room, keys.fit, keys.gap, stock.thickness);
        let width = (area.size(0) - (leaves - 1.0) * keys.gap) / leaves;
        let height = area.size(1);
        let usual = || hinge_count(width, height, &stock);
        let count = keys.hinges.unwrap_or_else(usual).max(2);
        let end = keys.hinge_end;
        let run = height - 2.0 * end;
        let least = f64::from(count - 1) * (keys.cup.max(CUP_SCREWS) + BETWEEN_CUPS);
        if run < least {
            let (own, end, least) = (
                built.show(height),
                built.show(end),
                built.show(2.0 * end + least),
            );
            let message = format!(
                "a door {own} high has no room for {count} hinges, the outer ones {end} from its ends"
            );
            let fix = format!("make its room {least} high or more, or `hinge_end` smaller");
            built.find(Finding::error(codes::NO_ROOM, built.span, message).fix(fix));
            return None;
        }
        let near_pins = (keys.setback - room.pin_setback).abs() < CLEAR_OF_PINS;
        let hinges = (0..count)
            .map(|i| end + run * f64::from(i) / f64::from(count - 1))
            .map(|at| {
                if near_pins {
                    at + beside_pins(area.min[1] + at, &room.pins)
                } else {
                    at
                }
            })
            .collect();
        Some(Doors {
            keys,
            stock,
            area,
            width,
            hinges,
        })
    }

    /// A door at the left of the room, with its hinges at one side.
    fn leaf(&self, built: &BuildContext, title: &str, side: Edge) -> PartDraft {
        let (keys, span) = (&self.keys, built.span);
        let at = self.hinges.iter().map(|at| length(*at));
        let mut cups: Keys = vec![
            ("edge", text(side.name())),
            ("at", list(span, at)),
            ("diameter", length(keys.cup)),
            ("depth", length(keys.cup_depth)),
            ("edge_gap", length(keys.edge_gap)),
        ];
        if keys.cup_screws {
            cups.push(("screws", map(span, drilled(2.5, 10.0))));
        }
        cups.push(("label", text("hinges")));
        let mut features = vec![("hinge_cups", cups)];
        if let Some(at) = &keys.knob {
            let mut at = at.clone();
            if side == Edge::Right {
                mirror_place(&mut at, self.width);
            }
            features.push(knob_hole(span, at, keys.knob_hole));
        }
        PartDraft {
            title: title.to_owned(),
            width: self.width,
            height: self.area.size(1),
            places: vec![flat(self.area.min)],
            moves: Some(match side {
                Edge::Right => Motion::SwingsRight,
                _ => Motion::SwingsLeft,
            }),
            faces: OUTSIDE_IN.to_vec(),
            edges: vec![(side, "hinge edge")],
            features,
            ..upright(&self.stock)
        }
    }

    /// The holes of the plates in a wall beside.
    fn plates(&self, built: &mut BuildContext, wall: &Wall) {
        let deeper = if self.keys.fit == Fit::Inset {
            self.stock.thickness
        } else {
            0.0
        };
        let [x, low, z] = self.area.min;
        let at = self.hinges.iter().map(|at| {
            let point = wall.body.to_part([x, low + at, z]).0;
            length(point.y)
        });
        let keys = vec![
            ("edge", text(wall.front.name())),
            ("at", list(built.span, at)),
            ("setback", length(self.keys.setback + deeper)),
            (
                "depth",
                length(blind_depth(self.keys.plate_depth, 12.0, wall.thickness)),
            ),
            ("face", text(wall.face.name())),
            ("label", text(&format!("hinge plates of {}", built.name))),
        ];
        built.feature(&wall.part_id, wall.only.as_deref(), "hinge_plates", keys);
    }
}

fn single(fields: &Fields, built: &mut BuildContext) -> Option<()> {
    let room = In::read(fields).and_then(|name| built.room_of(&name.room));
    let keys = SingleKeys::read(fields);
    let (room, keys) = (room?, keys?);
    let doors = Doors::new(built, keys.door, keys.stock, &room, 1.0)?;
    let leaf = doors.leaf(built, "Door", keys.hinge_side);
    built.named_part(built.name.to_owned(), leaf);
    let wall = match keys.hinge_side {
        Edge::Right => &room.right,
        _ => &room.left,
    };
    doors.plates(built, wall);
    Some(())
}

/// A place as it is written, with left and right changed over on a part of a width.
fn mirror_place(place: &mut Value, width: f64) {
    match place {
        Value::Map(entries) => {
            for Spanned { value: key, .. } in entries.iter_mut().map(|entry| &mut entry.key) {
                if let Some(edge) = Edge::of_word(key) {
                    edge.mirrored().name().clone_into(key);
                }
            }
        }
        Value::List(items) => {
            if let Some(Node {
                value: Value::Scalar(own),
                ..
            }) = items.first_mut()
                && let Ok(meant) = own.expression()
            {
                let whole = Expression::of(Quantity::length(width));
                let turned = whole.minus(meant.into_owned());
                *own = Scalar::meaning(format!("{width} mm - ({})", own.text), turned);
            }
        }
        Value::Scalar(_) | Value::Null => {}
    }
}

fn pair(fields: &Fields, built: &mut BuildContext) -> Option<()> {
    let room = In::read(fields).and_then(|name| built.room_of(&name.room));
    let keys = PairKeys::read(fields);
    let (room, keys) = (room?, keys?);
    let doors = Doors::new(built, keys.door, keys.stock, &room, 2.0)?;
    let [_, y, z] = doors.area.min;
    let leaf = PartDraft {
        mirror_as: Some(built.id("right")),
        mirror_title: Some("Right door".to_owned()),
        mirror_places: vec![flat([doors.area.max[0] - doors.width, y, z])],
        ..doors.leaf(built, "Left door", Edge::Left)
    };
    built.part("left", leaf);
    doors.plates(built, &room.left);
    doors.plates(built, &room.right);
    Some(())
}
