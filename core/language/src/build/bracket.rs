//! A bracket: two strips that meet in a mitre of 45 degrees, one against a wall and one below a shelf.
//!
//! | what | formula |
//! |---|---|
//! | lengths | along the outer faces, from the point of the mitre |
//! | inner faces | shorter by the thickness: `t tan 45 = t` |
//! | screws | up into the shelf: the longest that is sold and stays 3 mm short of its upper face; into the wall: the \
//! shortest that is sold and goes 30 mm into it |
//! | screw holes | in the middle of the width, 25 mm from the free end and one thickness and 25 mm from the mitre |

use super::kit::{held, placed, upright};
use super::{
    BuildContext, BuilderKind, Keys, PartDraft, hardware, length, map, number, point, text,
};
use crate::codes;
use crate::resolve::{Fields, Here, KeySet, Repeats, Size};
use crate::sold::{self, Wanted};
use jigless_model::diag::Finding;
use jigless_model::hardware::FittingKind;
use jigless_model::plan::Stock;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Span;
use jigless_model::whole::{Direction, Placement, Triple};
use std::sync::Arc;

crate::fields! {
    struct BracketKeys {
        here: Here,
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
        /// what the shelf is made of that the arms carry; the same as the brackets where nothing is said
        shelf_stock: Option<Arc<Stock>>,
        /// how much of the screws at the wall goes into it, at least; ask for what your wall needs
        into_wall: Size = "30 mm" [CommonPractice],
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
/// What a screw holds in, and wood over its tip: as a rule, and at least (common practice, no source).
const THREAD: f64 = 6.0;
const SKIN: f64 = 3.0;
const LEAST_SKIN: f64 = 1.0;

fn build(fields: &Fields, built: &mut BuildContext) -> Option<()> {
    let keys = BracketKeys::read(fields)?;
    let t = keys.stock.thickness;
    let [x, y, z] = keys.place.unwrap_or_default();
    let starts: Vec<f64> = (0..keys.count)
        .map(|i| x + f64::from(i) * keys.step)
        .collect();
    let span = built.span;
    // Both strips are drawn with their outer face to the front and the mitre at the top.
    let strip =
        |title: &str, run: f64, place: &dyn Fn(f64) -> Placement, outside, screw| PartDraft {
            title: title.to_owned(),
            width: keys.width,
            height: run,
            count: keys.count,
            places: starts.iter().map(|x| place(*x)).collect(),
            faces: vec![(Face::Front, outside)],
            edges: vec![(Edge::Top, "mitre")],
            features: vec![("hole_row", screws(&keys, span, run, screw))],
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
    let lengths = sold::screws(&built.context);
    let into_wall = Wanted {
        least: t + keys.into_wall,
        ..Wanted::ANY
    };
    let carried = keys.shelf_stock.as_ref().unwrap_or(&keys.stock).thickness;
    let into_shelf = Wanted {
        least: t + THREAD,
        most: t + carried - LEAST_SKIN,
        until: t + carried - SKIN,
        longest: true,
        ..Wanted::ANY
    };
    let chosen = [into_wall, into_shelf].map(|wanted| {
        let screw = wanted.choose(&lengths);
        if screw.is_none() {
            report_no_screw(built, keys.here, wanted);
        }
        screw
    });
    let [Some(at_wall_screw), Some(shelf_screw)] = chosen else {
        return None;
    };
    let wall = strip(
        "Bracket, at the wall",
        keys.upright,
        &at_wall,
        "toward the wall",
        at_wall_screw,
    );
    let title = "Bracket, below the shelf";
    let shelf = strip(
        title,
        keys.arm,
        &below_shelf,
        "toward the shelf",
        shelf_screw,
    );
    built.part("upright", wall);
    built.part("arm", shelf);
    let (arm, upright) = (built.id("arm"), built.id("upright"));
    built.joint("mitre", held(&arm, &upright, "glue"));
    Some(())
}

fn report_no_screw(built: &BuildContext, here: Span, wanted: Wanted) {
    let (least, most) = (built.show(wanted.least), wanted.most);
    let (range, fix) = if most.is_finite() {
        (
            format!("from {least} to {}", built.show(most)),
            "use a thicker shelf",
        )
    } else {
        (format!("from {least} on"), "ask for less in `into_wall`")
    };
    built.find(
        Finding::error(
            codes::NO_SCREW,
            here,
            format!("no screw that is sold fits the bracket: one {range} would"),
        )
        .fix(format!(
            "add such a length to `lengths_sold`, or {fix}: {range}"
        )),
    );
}

fn screws(keys: &BracketKeys, span: Span, run: f64, screw: f64) -> Keys {
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
            hardware(span, FittingKind::Screw, Some(screw), Some("4")),
        ),
        ("label", text("screws")),
    ]
}
