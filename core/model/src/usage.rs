//! What the parts do together: doors on sides, drawers in openings, shelves under load. An author writes as much of it as
//! is to be checked; nothing is guessed from the parts' names or sizes.

use crate::check::Acceptance;
use crate::source::{Span, Spanned};

/// One entry of the plan's `usage:` list.
#[derive(Debug, Clone)]
pub struct UsageEntry {
    /// Its key in the plan (`door`).
    pub key: &'static str,
    /// What it says.
    pub what: Usage,
    /// Findings that the author accepts here.
    pub accepted: Vec<Acceptance>,
    /// Where the plan says it.
    pub span: Span,
}

/// What parts do together. Lengths in millimetres, loads in kilograms.
#[derive(Debug, Clone)]
pub enum Usage {
    /// A door hinged to a cabinet side.
    Door(Door),
    /// Doors side by side.
    Doors(Doors),
    /// A drawer box between its runners.
    Drawer(Drawer),
    /// A shelf that is held at its two ends.
    Shelf(Shelf),
    /// Casters below a unit.
    Casters(Casters),
    /// A solid panel with room to move in.
    Panel(Panel),
    /// A unit that stands on the floor by itself.
    Freestanding(Freestanding),
    /// Who lifts it.
    Lifting(Lifting),
}

/// A door hinged to a cabinet side.
#[derive(Debug, Clone)]
pub struct Door {
    /// The door, with `hinge_cups`.
    pub door: Spanned<String>,
    /// The side, with `hinge_plates`.
    pub side: Spanned<String>,
    /// How far the door's lower (or left) end lies above the side's, negative when below.
    pub rise: Spanned<f64>,
    /// How far the door lies over the side's front edge.
    pub overlay: Option<Spanned<f64>>,
    /// The hinge's constant from its data sheet: the overlay at an edge gap and plate height of 0.
    pub constant: Option<Spanned<f64>>,
    /// Height of the mounting plate from its data sheet.
    pub plate: Option<Spanned<f64>>,
}

/// Doors side by side.
#[derive(Debug, Clone)]
pub struct Doors {
    /// The doors from left to right.
    pub parts: Vec<Spanned<String>>,
    /// Room for all of them together.
    pub room: Spanned<f64>,
    /// Gap wanted between neighbours.
    pub gap: Spanned<f64>,
}

/// A drawer box between its runners.
#[derive(Debug, Clone)]
pub struct Drawer {
    /// Clear width of the opening.
    pub opening: Spanned<f64>,
    /// Outside width of the box.
    pub width: Spanned<f64>,
    /// Room that a runner needs on each side.
    pub each_side: Spanned<f64>,
}

/// A shelf that is held at its two ends.
#[derive(Debug, Clone)]
pub struct Shelf {
    /// The shelf.
    pub part: Spanned<String>,
    /// Clear distance between what holds it.
    pub span: Spanned<f64>,
    /// Which way it spans: along its width when true, along its height when false.
    pub along_width: bool,
    /// What stands on it, evenly spread.
    pub load: Spanned<f64>,
}

/// Casters below a unit.
#[derive(Debug, Clone)]
pub struct Casters {
    /// How many.
    pub count: Spanned<u32>,
    /// What one may carry, from its data sheet.
    pub rating: Spanned<f64>,
    /// The unit and all that is in it.
    pub load: Spanned<f64>,
}

/// A solid panel with room to move in.
#[derive(Debug, Clone)]
pub struct Panel {
    /// The panel.
    pub part: Spanned<String>,
    /// Room for it across its grain.
    pub room: Spanned<f64>,
}

/// A unit that stands on the floor by itself.
#[derive(Debug, Clone)]
pub struct Freestanding {
    /// Its height.
    pub height: Spanned<f64>,
    /// Whether the plan fixes it to the wall.
    pub anchored: bool,
    /// What is in each drawer, in kilograms, if the author says.
    pub drawer_load: Option<Spanned<f64>>,
    /// What presses outward at the top edge, in kilograms, if the author says.
    pub push: Option<Spanned<f64>>,
}

/// Who lifts the parts and the whole.
#[derive(Debug, Clone)]
pub struct Lifting {
    /// What one person lifts, in kilograms, as the author sets it.
    pub alone: Spanned<f64>,
}

impl Usage {
    /// Every part that is named, for checking that there is one.
    pub fn parts(&self) -> Vec<&Spanned<String>> {
        match self {
            Usage::Door(door) => vec![&door.door, &door.side],
            Usage::Doors(doors) => doors.parts.iter().collect(),
            Usage::Shelf(shelf) => vec![&shelf.part],
            Usage::Panel(panel) => vec![&panel.part],
            Usage::Drawer(_) | Usage::Casters(_) | Usage::Freestanding(_) | Usage::Lifting(_) => {
                Vec::new()
            }
        }
    }
}
