//! A bracket: two strips that meet in a mitre of 45 degrees, one against a wall and one below a shelf.
//!
//! | what | formula |
//! |---|---|
//! | lengths | along the outer faces, from the point of the mitre |
//! | inner faces | shorter by the thickness: `t tan 45 = t` |
//! | screw holes | in the middle of the width, 25 mm from the free end and one thickness and 25 mm from the mitre |

use jigless_model::source::Span;
use jigless_model::whole::{Direction, Placement};

use super::kit::{held, upright};
use super::{BuilderKind, Built, PartDraft, length, list, map, text};
use crate::load::Value;
use crate::resolve::{Field, Fields, Shape, read_triple};

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "bracket",
    summary: "two strips that meet in a mitre of 45 degrees, for a shelf on a wall",
    fields: &[
        Field::required("stock", Shape::Text, "what it is made of"),
        Field::required("width", Shape::Size, "width of both strips"),
        Field::required(
            "upright",
            Shape::Size,
            "length of the strip at the wall, outside",
        ),
        Field::required(
            "arm",
            Shape::Size,
            "length of the strip below the shelf, outside",
        ),
        Field::with_default(
            "clearance",
            Shape::Size,
            "4.5 mm",
            "screw holes (ISO 273 medium for 4 mm: 4.5)",
        ),
        Field::with_default("count", Shape::Count, "1", "how many brackets"),
        Field::optional(
            "place",
            Shape::Triple,
            "where the lower left back corner of the first one is; 0, 0, 0 where nothing is said",
        ),
        Field::with_default(
            "step",
            Shape::Size,
            "400 mm",
            "from each bracket to the next, to the right",
        ),
    ],
    build,
};

/// From an end to the nearest screw, in millimetres (common practice, no source).
const END: f64 = 25.0;

fn build(fields: &Fields, built: &mut Built) -> Option<()> {
    let stock = built.stock(fields, "stock");
    let (width, rise) = (fields.length("width"), fields.length("upright"));
    let (reach, clearance) = (fields.length("arm"), fields.length("clearance"));
    let (count, step) = (fields.count("count"), fields.length("step"));
    let corner = match fields.node("place") {
        Some(node) => read_triple(fields.context(), node)?,
        None => [0.0; 3],
    };
    let (stock, width, rise, reach) = (stock?, width?.value, rise?.value, reach?.value);
    let (clearance, count, step) = (clearance?.value, count?.value, step?.value);
    let t = stock.thickness;
    let span = built.span;
    let starts: Vec<f64> = (0..count)
        .map(|i| corner[0] + f64::from(i) * step)
        .collect();
    // Both strips are drawn with their outer face to the front and the mitre at the top.
    let strip =
        |title: &str, run: f64, place: &dyn Fn(f64) -> Placement, outside: &str| PartDraft {
            title: title.to_owned(),
            width,
            height: run,
            count,
            places: starts.iter().map(|x| place(*x)).collect(),
            faces: vec![("front", outside.to_owned())],
            edges: vec![("top", "mitre".to_owned())],
            features: vec![("hole_row", screws(span, width, run, t, clearance))],
            ..upright(&stock)
        };
    let at_wall = |x: f64| Placement {
        at: [x, corner[1], corner[2]],
        width: Direction::Left,
        height: Direction::Up,
    };
    let below_shelf = |x: f64| Placement {
        at: [x, corner[1] + rise - t, corner[2]],
        width: Direction::Right,
        height: Direction::Back,
    };
    built.part(
        "upright",
        strip("Bracket, at the wall", rise, &at_wall, "toward the wall"),
    );
    built.part(
        "arm",
        strip(
            "Bracket, below the shelf",
            reach,
            &below_shelf,
            "toward the shelf",
        ),
    );
    let (arm, upright) = (built.id("arm"), built.id("upright"));
    built.joint("mitre", held(&arm, &upright, "glue"));
    Some(())
}

fn screws(span: Span, width: f64, run: f64, t: f64, clearance: f64) -> Vec<(&'static str, Value)> {
    let step = (run - t - 2.0 * END).max(1.0);
    let hardware = [
        ("what", text("screw")),
        ("length", length(50.0)),
        ("gauge", text("4")),
    ];
    vec![
        ("first", list(span, [length(width / 2.0), length(END)])),
        ("step", list(span, [length(0.0), length(step)])),
        ("count", text("2")),
        ("diameter", length(clearance)),
        ("face", text("back")),
        (
            "countersink",
            map(span, [("diameter", length(2.0 * clearance))]),
        ),
        ("hardware", map(span, hardware)),
        ("label", text("screws")),
    ]
}
