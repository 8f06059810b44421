//! What several builders need.

use super::{FeatureDraft, Keys, PartDraft, hardware, length, text};
use crate::load::Value;
use jigless_model::hardware::FittingKind;
use jigless_model::plan::{Grain, Stock};
use jigless_model::side::Face;
use jigless_model::source::Span;
use jigless_model::whole::{Direction, Placement, Triple};

/// What the faces of a part are called whose front looks into the room.
pub(super) const INSIDE_OUT: [(Face, &str); 2] = [(Face::Front, "inside"), (Face::Back, "outside")];
/// What the faces of a front are called.
pub(super) const OUTSIDE_IN: [(Face, &str); 2] = [(Face::Front, "outside"), (Face::Back, "inside")];

/// A part of a stock with its grain upward.
pub(super) fn upright(stock: &Stock) -> PartDraft {
    PartDraft {
        stock: stock.id.clone(),
        grain: Grain::Height,
        ..PartDraft::new()
    }
}

/// A place, and where width and height run.
pub(super) fn placed(at: Triple, width: Direction, height: Direction) -> Placement {
    Placement { at, width, height }
}

/// A place of something that is seen from the front as it is drawn.
pub(super) fn flat(at: Triple) -> Placement {
    placed(at, Direction::Right, Direction::Up)
}

/// The first keys of every joint.
pub(super) fn held(part: &str, to: &str, with: &str) -> Keys {
    vec![("part", text(part)), ("to", text(to)), ("with", text(with))]
}

/// Holes with nothing more to say.
pub(super) fn drilled(diameter: f64, depth: f64) -> Keys {
    vec![("diameter", length(diameter)), ("depth", length(depth))]
}

/// A hole for a knob.
pub(super) fn knob_hole(span: Span, at: Value, diameter: f64) -> FeatureDraft {
    let keys = vec![
        ("at", at),
        ("diameter", length(diameter)),
        ("hardware", hardware(span, FittingKind::Knob, None, None)),
        ("label", text("knob")),
    ];
    ("hole", keys)
}

/// Depth of a blind hole for hardware where nothing is said: as usual, and no deeper than leaves 2 mm of wood (common
/// practice, no source).
pub(super) fn blind_depth(given: Option<f64>, usual: f64, thickness: f64) -> f64 {
    given.unwrap_or_else(|| usual.min(thickness - 2.0))
}
