//! Marks of hole centres.

use std::f64::consts::FRAC_PI_2;

use jigless_model::geom::Point;

use super::item::{Item, Role};
use super::style::Pen;

/// How far the arms of a hole mark reach beyond its circle, in millimetres, so that they are still there once the hole
/// is drilled.
pub(crate) const ARM: f64 = 5.0;
/// The open middle of a hole mark, across, in millimetres: room for the point of an awl.
pub(crate) const OPEN: f64 = 1.0;

/// The four arms of a cross with an open middle.
pub(crate) fn cross(role: Role, centre: Point, reach: f64) -> Vec<Item> {
    (0..4)
        .map(|quarter| {
            let way = Point::polar(1.0, f64::from(quarter) * FRAC_PI_2);
            // Quarter turns leave dust in the last digit, and an arm should be upright to the last digit.
            let way = Point::new(way.x.round(), way.y.round());
            let (from, to) = (centre + way * (OPEN / 2.0), centre + way * reach);
            Item::line(role, from, to, Pen::HAIR)
        })
        .collect()
}
