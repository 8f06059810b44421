//! The rooms of a bank of drawers and their fronts.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::plan::Stock;
use jigless_model::source::Spanned;
use jigless_model::whole::Box3;

use crate::build::door::front_box;
use crate::build::{Built, Room};
use crate::codes;
use crate::load::{Node, Value};
use crate::resolve::Fields;

/// Lengths that differ by less are the same, in millimetres.
const SAME: f64 = 1e-6;

/// One drawer of the bank, in every room.
#[derive(Debug, Clone)]
pub(super) struct Level {
    /// Lower and upper edge of the front.
    pub(super) front: (f64, f64),
    /// The free height for the box.
    pub(super) room: (f64, f64),
}

/// The rooms and what goes into them.
#[derive(Debug)]
pub(super) struct Bank {
    pub(super) stock: Arc<Stock>,
    pub(super) bottom_stock: Arc<Stock>,
    pub(super) front_stock: Arc<Stock>,
    pub(super) rooms: Vec<Room>,
    /// The box that all fronts of a room fill together, for each room.
    pub(super) fronts: Vec<Box3>,
    pub(super) levels: Vec<Level>,
    pub(super) inset: bool,
}

impl Bank {
    pub(super) fn read(fields: &Fields, built: &Built) -> Option<Bank> {
        let stock = built.stock(fields, "stock");
        let bottom_stock = built.stock(fields, "bottom_stock");
        let front_stock = built.stock(fields, "front_stock");
        let (fit, gap, count) = (
            fields.word("fit"),
            fields.length("gap"),
            fields.count("count"),
        );
        let rooms = read_rooms(fields, built);
        let (rooms, front_stock, gap, fit) = (rooms?, front_stock?, gap?.value, fit?.value);
        let fronts: Vec<Box3> = rooms
            .iter()
            .map(|room| front_box(room, fit, gap, front_stock.thickness))
            .collect();
        let levels = levels(fields, &rooms[0], fronts[0], gap, count?.value)?;
        Some(Bank {
            stock: stock?,
            bottom_stock: bottom_stock?,
            front_stock,
            rooms,
            fronts,
            levels,
            inset: fit == "inset",
        })
    }

    /// The levels with equal fronts together, from the lowest up.
    pub(super) fn kinds(&self) -> Vec<Vec<Level>> {
        let height = |level: &Level| level.front.1 - level.front.0;
        let mut kinds: Vec<Vec<Level>> = Vec::new();
        for level in &self.levels {
            match kinds
                .iter_mut()
                .find(|kind| (height(&kind[0]) - height(level)).abs() < SAME)
            {
                Some(kind) => kind.push(level.clone()),
                None => kinds.push(vec![level.clone()]),
            }
        }
        kinds
    }

    /// The boxes of fronts that are equally wide together: of equal rooms, one at the side of a cabinet has a wider front
    /// than one between two others, because it covers the whole side and not half a divider.
    pub(super) fn front_kinds(&self) -> Vec<Vec<Box3>> {
        let mut kinds: Vec<Vec<Box3>> = Vec::new();
        for front in &self.fronts {
            match kinds
                .iter_mut()
                .find(|kind| (kind[0].size(0) - front.size(0)).abs() < SAME)
            {
                Some(kind) => kind.push(*front),
                None => kinds.push(vec![*front]),
            }
        }
        kinds
    }

    /// Where the front of the boxes is.
    pub(super) fn box_front(&self) -> f64 {
        self.rooms[0].inside.max[2]
            - if self.inset {
                self.front_stock.thickness
            } else {
                0.0
            }
    }
}

fn read_rooms(fields: &Fields, built: &Built) -> Option<Vec<Room>> {
    let node = fields.required_node("in")?;
    let name = |node: &Node| {
        let scalar = node.scalar()?;
        Some(Spanned::new(scalar.text.clone(), node.span))
    };
    let names: Option<Vec<Spanned<String>>> = match &node.value {
        Value::List(items) if !items.is_empty() => items.iter().map(name).collect(),
        _ => name(node).map(|one| vec![one]),
    };
    let Some(names) = names else {
        fields.wrong(fields.field("in"), node);
        return None;
    };
    let rooms: Vec<Room> = names
        .iter()
        .map(|name| built.room_named(fields, name))
        .collect::<Option<_>>()?;
    let unit = fields.context().names.unit();
    for (room, name) in rooms.iter().zip(&names) {
        for axis in 0..3 {
            let (first, own) = (rooms[0].inside.size(axis), room.inside.size(axis));
            if (first - own).abs() > SAME {
                fields.context().find(
                    Finding::error(
                        codes::ROOMS_DIFFER,
                        name.span,
                        format!(
                            "`{}` is {} where the first room is {}",
                            name.value,
                            unit.show(own),
                            unit.show(first)
                        ),
                    )
                    .label(names[0].span, "the first room")
                    .fix("give each size of room a drawer builder of its own"),
                );
                return None;
            }
        }
    }
    Some(rooms)
}

fn levels(fields: &Fields, room: &Room, area: Box3, gap: f64, count: u32) -> Option<Vec<Level>> {
    let opening = area.size(1) - f64::from(count - 1) * gap;
    let mut heights: Vec<f64> = if fields.has("fronts") {
        fields
            .lengths("fronts")?
            .iter()
            .map(|height| height.value)
            .collect()
    } else {
        vec![opening / f64::from(count); count as usize]
    };
    let total: f64 = heights.iter().sum();
    let unit = fields.context().names.unit();
    if heights.len() + 1 == count as usize && total < opening {
        heights.push(opening - total);
    }
    let sum: f64 = heights.iter().sum();
    if heights.len() != count as usize || (sum - opening).abs() > 1e-3 {
        let many = heights.len();
        fields.context().find(
            Finding::error(
                codes::FRONTS_DO_NOT_FILL,
                fields.key_span("fronts"),
                format!(
                    "{many} fronts of {} together do not fill {count} of {}",
                    unit.show(sum),
                    unit.show(opening)
                ),
            )
            .fix("name one front less than `count`: the last one takes what is left"),
        );
        return None;
    }
    let mut levels = Vec::new();
    let mut low = area.min[1];
    for (index, height) in heights.iter().enumerate() {
        let high = low + height;
        // Between two fronts the room ends at the middle of the gap.
        let floor = if index == 0 {
            room.inside.min[1]
        } else {
            low - gap / 2.0
        };
        let ceiling = if index + 1 == heights.len() {
            room.inside.max[1]
        } else {
            high + gap / 2.0
        };
        levels.push(Level {
            front: (low, high),
            room: (floor, ceiling),
        });
        low = high + gap;
    }
    Some(levels)
}
