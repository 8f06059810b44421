//! The rooms of a bank of drawers and their fronts.

use super::keys::{DrawerKeys, In};
use crate::build::build_context::SAME;
use crate::build::front::{Fit, front_box};
use crate::build::{BuildContext, Room};
use crate::codes;
use crate::resolve::{Fields, KeySet};
use jigless_model::diag::Finding;
use jigless_model::source::Spanned;
use jigless_model::whole::Box3;

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
    pub(super) keys: DrawerKeys,
    pub(super) rooms: Vec<Room>,
    /// The box that all fronts of a room fill together, for each room.
    pub(super) fronts: Vec<Box3>,
    pub(super) levels: Vec<Level>,
}

impl Bank {
    pub(super) fn read(fields: &Fields, built: &BuildContext) -> Option<Bank> {
        let rooms = In::read(fields).and_then(|keys| equal_rooms(built, &keys.rooms));
        let keys = DrawerKeys::read(fields);
        let (rooms, keys) = (rooms?, keys?);
        let thickness = keys.front_stock.thickness;
        let fronts: Vec<Box3> = rooms
            .iter()
            .map(|room| front_box(room, keys.fit, keys.gap, thickness))
            .collect();
        let levels = levels(fields, built, &keys, &rooms[0], fronts[0])?;
        Some(Bank {
            keys,
            rooms,
            fronts,
            levels,
        })
    }

    /// How far the fronts stand in the rooms.
    pub(super) fn inset(&self) -> f64 {
        match self.keys.fit {
            Fit::Inset => self.keys.front_stock.thickness,
            Fit::Overlay | Fit::Half => 0.0,
        }
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

    /// Where the fronts of equal levels go, those of one part together: equally wide, and with the box at the same place
    /// behind them where they are screwed to it. Of equal rooms, one at the side of a cabinet has a wider front than one
    /// between two others, because it covers the whole side and not half a divider; the lowest front covers the bottom,
    /// too.
    pub(super) fn front_kinds(&self, levels: &[Level], screwed: bool) -> Vec<Vec<Box3>> {
        let mut kinds: Vec<([f64; 3], Vec<Box3>)> = Vec::new();
        for (front, room) in self.fronts.iter().zip(&self.rooms) {
            for level in levels {
                let mut own = *front;
                (own.min[1], own.max[1]) = level.front;
                let key = if screwed {
                    let behind = room.inside.min[0] - own.min[0];
                    [own.size(0), behind, level.room.0 - own.min[1]]
                } else {
                    [own.size(0), 0.0, 0.0]
                };
                let same = |(other, _): &&mut ([f64; 3], Vec<Box3>)| {
                    other.iter().zip(key).all(|(a, b)| (a - b).abs() < SAME)
                };
                match kinds.iter_mut().find(same) {
                    Some((_, kind)) => kind.push(own),
                    None => kinds.push((key, vec![own])),
                }
            }
        }
        kinds.into_iter().map(|(_, kind)| kind).collect()
    }

    /// Where the room for the boxes ends at the back: at `back`, or at a stretcher that stands in the way of one of them.
    pub(super) fn back(&self, back: f64) -> f64 {
        let meets = |behind: &&Box3| {
            self.levels.iter().any(|level| {
                level.room.0 + self.keys.lift < behind.max[1] && level.room.1 > behind.min[1]
            })
        };
        let behind = self.rooms.iter().flat_map(|room| &room.behind);
        let ends = behind.filter(meets).map(|behind| behind.max[2]);
        ends.fold(back, f64::max)
    }

    /// Where the front of the boxes is.
    pub(super) fn box_front(&self) -> f64 {
        self.rooms[0].inside.max[2] - self.inset()
    }
}

/// The rooms of some names; reports where one of them is not there, or another one than the first.
fn equal_rooms(built: &BuildContext, names: &[Spanned<String>]) -> Option<Vec<Room>> {
    let found: Vec<Option<Room>> = names.iter().map(|name| built.room_of(name)).collect();
    let rooms: Vec<Room> = found.into_iter().collect::<Option<_>>()?;
    let named = names
        .iter()
        .zip(&rooms)
        .map(|(name, room)| (name, room.inside));
    built.are_alike(&named.collect::<Vec<_>>())?;
    Some(rooms)
}

fn levels(
    fields: &Fields,
    built: &BuildContext,
    keys: &DrawerKeys,
    room: &Room,
    area: Box3,
) -> Option<Vec<Level>> {
    let (gap, count) = (keys.gap, keys.count);
    let opening = area.size(1) - f64::from(count - 1) * gap;
    let mut heights: Vec<f64> = match &keys.fronts {
        Some(fronts) => fronts.iter().map(|height| height.value).collect(),
        None => vec![opening / f64::from(count); count as usize],
    };
    let total: f64 = heights.iter().sum();
    if heights.len() + 1 == count as usize && total < opening {
        heights.push(opening - total);
    }
    let sum: f64 = heights.iter().sum();
    if heights.len() != count as usize || (sum - opening).abs() > 1e-3 {
        let many = heights.len();
        built.find(
            Finding::error(
                codes::FRONTS_DO_NOT_FILL,
                fields.key_span("fronts"),
                format!(
                    "{many} fronts of {} together do not fill {count} of {}",
                    built.show(sum),
                    built.show(opening)
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
        // Between two fronts the room ends at the middle of the gap,
        // and so it does below the lowest and above the highest one between the walls, so that all boxes stand alike.
        let floor = if index == 0 && keys.fit != Fit::Inset {
            room.inside.min[1]
        } else {
            low - gap / 2.0
        };
        let ceiling = if index + 1 == heights.len() && keys.fit != Fit::Inset {
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
