//! A bracket: two strips that meet in a mitre of 45 degrees, one against a wall and one below a shelf.
//!
//! | what | formula |
//! |---|---|
//! | lengths | along the outer faces, from the point of the mitre |
//! | inner faces | shorter by the thickness: `t tan 45 = t` |
//! | screw holes | in the middle of the width, 25 mm from the free end and one thickness and 25 mm from the mitre |

use super::kit::{held, placed, upright};
use super::{
    BuildContext, BuilderKind, Keys, PartDraft, hardware, length, map, number, point, text,
};
use crate::resolve::{Fields, KeySet, Repeats, Size};
use jigless_model::hardware::FittingKind;
use jigless_model::plan::Stock;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Span;
use jigless_model::whole::{Direction, Placement, Triple};
use std::sync::Arc;

crate::fields! {
    struct BracketKeys {
        /// what it is made of
        stock: Arc<Stock>,
        /// width of both strips
        width: Size,
        /// length of the strip at the wall, outside
        upright: Size,
        /// length of the strip below the shelf, outside
        arm: Size,
        /// screw holes
        clearance: Size = "4.5 mm" [Note("ISO 273 medium for 4 mm: 4.5")],
        /// how many brackets
        count: Repeats = "1",
        /// where the lower left back corner of the first one is; 0, 0, 0 where nothing is said
        place: Option<Triple>,
        /// from each bracket to the next, to the right
        step: Size = "400 mm",
    }
}

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "bracket",
    summary: "two strips that meet in a mitre of 45 degrees, for a shelf on a wall",
    fields: BracketKeys::FIELDS,
    build,
};

/// From an end to the nearest screw, in millimetres (common practice, no source).
const END: f64 = 25.0;

fn build(fields: &Fields, built: &mut BuildContext) -> Option<()> {
    let keys = BracketKeys::read(fields)?;
    let t = keys.stock.thickness;
    let [x, y, z] = keys.place.unwrap_or_default();
    let starts: Vec<f64> = (0..keys.count)
        .map(|i| x + f64::from(i) * keys.step)
        .collect();
    let span = built.span;
    // Both strips are drawn with their outer face to the front and the mitre at the top.
    let strip = |title: &str, run: f64, place: &dyn Fn(f64) -> Placement, outside| PartDraft {
        title: title.to_owned(),
        width: keys.width,
        height: run,
        count: keys.count,
        places: starts.iter().map(|x| place(*x)).collect(),
        faces: vec![(Face::Front, outside)],
        edges: vec![(Edge::Top, "mitre")],
        features: vec![("hole_row", screws(&keys, span, run))],
        ..upright(&keys.stock)
    };
    let at_wall = |x| placed([x, y, z], Direction::Left, Direction::Up);
    let below_shelf = |x| {
        placed(
            [x, y + keys.upright - t, z],
            Direction::Right,
            Direction::Back,
        )
    };
    let wall = strip(
        "Bracket, at the wall",
        keys.upright,
        &at_wall,
        "toward the wall",
    );
    let title = "Bracket, below the shelf";
    let shelf = strip(title, keys.arm, &below_shelf, "toward the shelf");
    built.part("upright", wall);
    built.part("arm", shelf);
    let (arm, upright) = (built.id("arm"), built.id("upright"));
    built.joint("mitre", held(&arm, &upright, "glue"));
    Some(())
}

fn screws(keys: &BracketKeys, span: Span, run: f64) -> Keys {
    let step = (run - keys.stock.thickness - 2.0 * END).max(1.0);
    let cone = [("diameter", length(2.0 * keys.clearance))];
    vec![
        ("first", point(span, keys.width / 2.0, END)),
        ("step", point(span, 0.0, step)),
        ("count", number(2)),
        ("diameter", length(keys.clearance)),
        ("face", text("back")),
        ("countersink", map(span, cone)),
        (
            "hardware",
            hardware(span, FittingKind::Screw, Some(50.0), Some("4")),
        ),
        ("label", text("screws")),
    ]
}
