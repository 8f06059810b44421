//! The rooms that a carcass leaves for doors and drawers.

use super::frame::CarcassFrame;
use super::inner::{Divider, Floor, Floors, taken};
use crate::build::{BuildContext, Room, Wall};
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Body, Box3};

pub(super) fn publish(built: &mut BuildContext, frame: &CarcassFrame, floors: &Floors) {
    let last = floors.floors.len() - 1;
    for (index, floor) in floors.floors.iter().enumerate() {
        // Fronts meet at the middle of a shelf between them, and reach the outside of the carcass elsewhere.
        let low = if index == 0 {
            frame.bottom_low()
        } else {
            floor.low - frame.t() / 2.0
        };
        let high = if index == last {
            frame.keys.height
        } else {
            floor.high + frame.t() / 2.0
        };
        let shared = (index > 0, index < last);
        let bays = floor.dividers.len() + 1;
        for bay in 0..bays {
            let left = (bay > 0).then(|| &floor.dividers[bay - 1]);
            let right = floor.dividers.get(bay);
            let mut room = bay_room(built.name, frame, floor, left, right, (low, high), shared);
            let taken = taken(frame, floors, index);
            room.inside.min[1] += taken.below;
            room.inside.max[1] -= taken.above;
            room.behind = taken.behind;
            let loose = frame
                .keys
                .loose
                .iter()
                .filter(|loose| loose.above.value == floor.name);
            for loose in loose {
                room.pin_setback = loose.pin_setback;
                let first = frame.origin[1] + floor.low + loose.first;
                room.pins
                    .extend((0..loose.pins).map(|pin| first + f64::from(pin) * loose.step));
            }
            if bays == 1 {
                built.room(&floor.name, room);
            } else {
                built.room(&format!("{}-{}", floor.name, bay + 1), room);
            }
        }
    }
}

fn bay_room(
    of: &str,
    frame: &CarcassFrame,
    floor: &Floor,
    left: Option<&Divider>,
    right: Option<&Divider>,
    (low, high): (f64, f64),
    (shared_low, shared_high): (bool, bool),
) -> Room {
    let t = frame.t();
    let (x0, x1) = (
        left.map_or(t, |divider| divider.left + t),
        right.map_or(frame.keys.width - t, |divider| divider.left),
    );
    let (out0, out1) = (
        left.map_or(0.0, |divider| divider.left + t / 2.0),
        right.map_or(frame.keys.width, |divider| divider.left + t / 2.0),
    );
    let (z0, z1) = (frame.back_plane(), frame.keys.depth);
    Room {
        of: of.to_owned(),
        inside: Box3::new(frame.at(x0, floor.low, z0), frame.at(x1, floor.high, z1)),
        outside: Box3::new(frame.at(out0, low, z0), frame.at(out1, high, z1)),
        left: left.map_or_else(
            || side(frame, false),
            |d| divider(frame, floor, d, Face::Front),
        ),
        right: right.map_or_else(
            || side(frame, true),
            |d| divider(frame, floor, d, Face::Back),
        ),
        shared_low,
        shared_high,
        behind: Vec::new(),
        pins: Vec::new(),
        pin_setback: 0.0,
    }
}

fn side(frame: &CarcassFrame, right: bool) -> Wall {
    let (left_place, right_place) = frame.side_places();
    let (role, place) = if right {
        ("side-right", right_place)
    } else {
        ("side-left", left_place)
    };
    Wall {
        part_id: frame.id("side-left"),
        only: Some(frame.id(role)),
        body: Body::new(place, frame.side_size(), right),
        face: Face::Front,
        front: Edge::Left,
        thickness: frame.t(),
        shared: false,
    }
}

fn divider(frame: &CarcassFrame, floor: &Floor, own: &Divider, face: Face) -> Wall {
    let (place, size) = own.placed(frame, floor);
    Wall {
        part_id: frame.id(&own.name),
        only: None,
        body: Body::new(place, size, false),
        face,
        front: Edge::Left,
        thickness: frame.t(),
        shared: true,
    }
}
