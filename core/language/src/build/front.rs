//! Fronts: how doors and the fronts of drawers lie before a room.

use super::Room;
use jigless_model::whole::Box3;

jigless_model::words! {
    /// How a front lies before its room.
    pub(super) enum Fit {
        /// Over the walls.
        Overlay = "overlay",
        /// Over half of the walls at its sides.
        Half = "half",
        /// Between the walls.
        Inset = "inset",
    }
}

crate::key_words!(Fit);

/// The box that a front fills: a door, or the fronts of drawers. `z` runs from the back of the front to its face.
pub(super) fn front_box(room: &Room, fit: Fit, gap: f64, thickness: f64) -> Box3 {
    let (half, inset) = (fit == Fit::Half, fit == Fit::Inset);
    let mut area = if inset { room.inside } else { room.outside };
    if half {
        area.min[0] = room.inside.min[0] - room.left.thickness / 2.0;
        area.max[0] = room.inside.max[0] + room.right.thickness / 2.0;
    }
    let part = |shared: bool| {
        if shared && !inset { gap / 2.0 } else { gap }
    };
    area.min[0] += part(room.left.shared || half);
    area.max[0] -= part(room.right.shared || half);
    area.min[1] += part(room.shared_low);
    area.max[1] -= part(room.shared_high);
    let plane = room.inside.max[2];
    (area.min[2], area.max[2]) = if inset {
        (plane - thickness, plane)
    } else {
        (plane, plane + thickness)
    };
    area
}
