//! Two parts that touch.

use jigless_model::whole::Side;

use super::attach::Made;
use super::fields::{
    AT, CLEARANCE, COUNTERSINK, EDGE, FACE, FROM, GLUE, MARK, PART, PILOT, SCREW, START, TO, WORK,
};
use super::kind::JointKind;
use super::making::Making;
use super::nodes::outline;
use super::screws::{Hold, dowel, face_toward, on_face, opposite, pocket, screw};
use crate::resolve::{Field, Fields, Shape};

pub(super) static KIND: JointKind = JointKind {
    key: "butt",
    summary: "two parts that touch, held by screws, pocket screws, dowels or plain glue",
    fields: &[
        PART,
        TO,
        Field::with_default(
            "with",
            Shape::Word(&["screws", "pocket screws", "dowels", "glue", "nothing"]),
            "screws",
            "what holds them",
        ),
        AT,
        SCREW,
        CLEARANCE,
        COUNTERSINK,
        PILOT,
        Field::optional(
            "dowel",
            Shape::Map(&[
                Field::optional("diameter", Shape::Size, "8 mm where nothing is said"),
                Field::optional("length", Shape::Size, "35 mm where nothing is said"),
                Field::optional(
                    "face_depth",
                    Shape::Size,
                    "hole in the face; two thirds of the thickness where nothing is said",
                ),
                Field::optional(
                    "edge_depth",
                    Shape::Size,
                    "hole in the edge; the rest of the dowel and 1 mm where nothing is said",
                ),
            ]),
            "the dowels",
        ),
        Field::with_default(
            "pocket_face",
            Shape::Face,
            "front",
            "the face of `part` that pockets are drilled into",
        ),
        MARK,
        GLUE,
        WORK,
        EDGE,
        FACE,
        FROM,
        START,
    ],
    captures: false,
    make,
};

fn make(fields: &Fields, making: &mut Making) -> Option<()> {
    let meeting = making.meeting;
    let d = meeting.touching()?;
    let region = meeting.common();
    let with = fields.word("with")?.value;
    let marked = fields.word("mark")?.value == "yes";
    if let (true, Some(face)) = (marked, face_toward(&meeting.to, opposite(d))) {
        let bounds = on_face(&meeting.to, region);
        let (part, to) = (making.part.part, making.to);
        let keys = outline(making.span, bounds, face, &part.title);
        let label = format!("place of {}", part.id);
        let mark = Made::new(to.carrier(), to.only(), making.span, "mark", keys, &label);
        making.made.push(mark);
    }
    let mut sizes: Vec<f64> = (0..3).map(|axis| region.size(axis)).collect();
    sizes.sort_by(f64::total_cmp);
    making.glue = sizes[2];
    let mut hold = Hold {
        through: (making.to, meeting.to),
        into: (making.part, meeting.part),
        d: opposite(d),
        region,
    };
    // Screws go through the part that meets the other with its face: a back into the edge of a side.
    let edge_on = matches!(meeting.to.side(opposite(d)), Side::Edge(_));
    if edge_on && matches!(meeting.part.side(d), Side::Face(_)) && with == "screws" {
        hold = Hold {
            through: hold.into,
            into: hold.through,
            d,
            region,
        };
    }
    match with {
        "screws" => screw(fields, making, &hold),
        "pocket screws" => pocket(fields, making, &hold),
        "dowels" => dowel(fields, making, &hold),
        _ => Some(()),
    }
}
