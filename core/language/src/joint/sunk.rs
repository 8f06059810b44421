//! A part that goes into a cut of the other: rebate, housing and groove.

use jigless_model::diag::Finding;
use jigless_model::geom::Bounds;
use jigless_model::joint::TOUCH;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Span;
use jigless_model::whole::{Body, Box3, Direction};

use super::attach::Made;
use super::fields::{
    AT, CLEARANCE, COUNTERSINK, EDGE, FACE, FROM, GLUE, PART, PILOT, SCREW, START, TO, WORK,
};
use super::kind::JointKind;
use super::making::Making;
use super::meeting::Member;
use super::nodes::Keys;
use super::screws::{Hold, on_face, screw};
use crate::build::{length, map, text};
use crate::codes;
use crate::resolve::{Field, Fields, Shape};

const WITH: Field = Field::with_default(
    "with",
    Shape::Word(&["glue", "screws", "nothing"]),
    "glue",
    "what holds them",
);
const DEPTH: Field = Field::optional(
    "depth",
    Shape::Size,
    "depth of the cut; as deep as the part goes in where nothing is said",
);
const SLIP: Field = Field::with_default(
    "slip",
    Shape::Distance,
    "0.2 mm",
    "how much wider the cut is than the part is thick at its thickest reading (common practice, no source)",
);
const STOP: Field = Field::optional(
    "stop",
    Shape::Map(&[
        Field::with_default(
            "start",
            Shape::Distance,
            "0",
            "from the left or bottom end of the other part",
        ),
        Field::with_default(
            "end",
            Shape::Distance,
            "0",
            "from the right or top end of the other part",
        ),
    ]),
    "keeps the cut away from the ends of the other part",
);
const STOPPED: Field = Field::with_default(
    "stopped",
    Shape::Word(&["yes", "no"]),
    "no",
    "whether the cut ends where the part does; otherwise it runs from end to end",
);

pub(super) static REBATE: JointKind = JointKind {
    key: "rebate",
    summary: "a part in a step along the edge of the other",
    fields: &[
        PART,
        TO,
        WITH,
        DEPTH,
        Field::optional(
            "width",
            Shape::Size,
            "how far the rebate reaches in; as far as the part does where nothing is said",
        ),
        STOP,
        STOPPED,
        AT,
        SCREW,
        CLEARANCE,
        COUNTERSINK,
        PILOT,
        GLUE,
        WORK,
        EDGE,
        FACE,
        FROM,
        START,
    ],
    captures: true,
    make: rebate,
};

pub(super) static HOUSING: JointKind = JointKind {
    key: "housing",
    summary: "the end of a part in a groove across the other",
    fields: CUT_FIELDS,
    captures: true,
    make: groove,
};

pub(super) static GROOVE: JointKind = JointKind {
    key: "groove",
    summary: "a panel in a groove of the other part",
    fields: CUT_FIELDS,
    captures: true,
    make: groove,
};

const CUT_FIELDS: &[Field] = &[
    PART,
    TO,
    WITH,
    DEPTH,
    SLIP,
    STOP,
    STOPPED,
    AT,
    SCREW,
    CLEARANCE,
    COUNTERSINK,
    PILOT,
    GLUE,
    WORK,
    EDGE,
    FACE,
    FROM,
    START,
];

/// What the part takes of the other one.
struct Sunk {
    /// The rectangle on the face of the other part.
    area: Bounds,
    face: Face,
    depth: f64,
    /// Out of that face, toward the part.
    out: Direction,
}

fn sunk(fields: &Fields, making: &Making) -> Option<Sunk> {
    let meeting = making.meeting;
    let to = meeting.to;
    let common = meeting.common();
    let (_, a) = to.to_part(common.min);
    let (_, b) = to.to_part(common.max);
    let (low, high) = (a.min(b), a.max(b));
    let thickness = to.size()[2];
    let unit = fields.context().names.unit();
    let (face, reach) = if low <= TOUCH {
        (Face::Front, high)
    } else if high >= thickness - TOUCH {
        (Face::Back, thickness - low)
    } else {
        let finding = Finding::error(
            codes::JOINT_NOT_SUNK,
            fields.span,
            format!(
                "`{}` is inside `{}` and comes out of neither face",
                making.part.part.id, making.to.part.id
            ),
        );
        fields
            .context()
            .find(finding.fix("check the places of the two"));
        return None;
    };
    let depth = if fields.has("depth") {
        fields.length("depth")?.value
    } else {
        reach
    };
    if reach > depth + TOUCH {
        fields.context().find(
            Finding::error(
                codes::JOINT_OVERLAPS,
                fields.key_span("depth"),
                format!(
                    "`{}` goes in {}, and the cut is {} deep",
                    making.part.part.id,
                    unit.show(reach),
                    unit.show(depth)
                ),
            )
            .fix("shorten the part or deepen the cut"),
        );
        return None;
    }
    let out = to.looks(jigless_model::whole::Side::Face(face));
    Some(Sunk {
        area: on_face(&to, common),
        face,
        depth,
        out,
    })
}

fn rebate(fields: &Fields, making: &mut Making) -> Option<()> {
    let cut = sunk(fields, making)?;
    let size = making.meeting.to.size();
    let given = if fields.has("width") {
        Some(fields.length("width")?.value)
    } else {
        None
    };
    // A rebate that is wider than the part is thick may leave a step at the edge.
    let step = given.map_or(0.0, |width| {
        (width - cut.area.width().min(cut.area.height())).max(0.0)
    });
    let near = TOUCH + step;
    let reaches = |edge: Edge| match edge {
        Edge::Left => cut.area.min.x <= near,
        Edge::Right => cut.area.max.x >= size[0] - near,
        Edge::Bottom => cut.area.min.y <= near,
        Edge::Top => cut.area.max.y >= size[1] - near,
    };
    // Along the edge that the part lies along: the longer way of what it takes.
    let upright = cut.area.height() >= cut.area.width();
    let edge = Edge::ALL
        .into_iter()
        .filter(|edge| reaches(*edge))
        .max_by_key(|edge| edge.is_upright() == upright);
    let Some(edge) = edge else {
        fields.context().find(
            Finding::error(
                codes::JOINT_NOT_SUNK,
                fields.span,
                format!(
                    "`{}` does not lie at an edge of `{}`",
                    making.part.part.id, making.to.part.id
                ),
            )
            .fix("use a housing or a groove"),
        );
        return None;
    };
    let across = if edge.is_upright() {
        cut.area.width()
    } else {
        cut.area.height()
    };
    let width = given.unwrap_or(across);
    let mut keys: Keys = vec![
        ("edge", text(edge.name())),
        ("width", length(width)),
        ("depth", length(cut.depth)),
        ("face", text(cut.face.name())),
    ];
    keys.extend(stop(
        fields,
        making.span,
        edge.is_upright(),
        cut.area,
        size,
    )?);
    let label = format!("rebate for {}", making.part.part.id);
    push(making, "rebate", keys, &label);
    finish(fields, making, &cut)
}

fn groove(fields: &Fields, making: &mut Making) -> Option<()> {
    let cut = sunk(fields, making)?;
    let size = making.meeting.to.size();
    let slip = fields.length("slip")?.value;
    let upright = cut.area.height() >= cut.area.width();
    let (near, across) = if upright {
        (cut.area.min.x, cut.area.width())
    } else {
        (cut.area.min.y, cut.area.height())
    };
    let thick = making.meeting.part.thick_axis();
    let flat = making.meeting.common();
    // The part's own thickness lies across the groove, and a slot must take its thickest reading.
    let most = if (flat.size(thick) - across).abs() < TOUCH {
        making.part.part.stock.thickest()
    } else {
        across
    };
    let width = most + slip;
    let from = near + across / 2.0 - width / 2.0;
    let edge = if upright { "left" } else { "bottom" };
    let span = making.span;
    let mut keys: Keys = vec![
        ("along", text(if upright { "height" } else { "width" })),
        ("from", map(span, [(edge, length(from))])),
        ("width", length(width)),
        ("depth", length(cut.depth)),
        ("face", text(cut.face.name())),
    ];
    keys.extend(stop(fields, span, upright, cut.area, size)?);
    let label = format!("groove for {}", making.part.part.id);
    push(making, "groove", keys, &label);
    finish(fields, making, &cut)
}

fn push(making: &mut Making, key: &'static str, keys: Keys, label: &str) {
    let to = making.to;
    let made = Made::new(to.carrier(), to.only(), making.span, key, keys, label);
    making.made.push(made);
}

fn stop(fields: &Fields, span: Span, upright: bool, area: Bounds, size: [f64; 3]) -> Option<Keys> {
    let (start, end) = if fields.has("stop") {
        let stop = fields.map("stop")?;
        let (start, end) = (stop.length("start"), stop.length("end"));
        (start?.value, end?.value)
    } else if fields.word("stopped")?.value == "yes" {
        if upright {
            (area.min.y, size[1] - area.max.y)
        } else {
            (area.min.x, size[0] - area.max.x)
        }
    } else {
        (0.0, 0.0)
    };
    if start <= TOUCH && end <= TOUCH {
        return Some(Vec::new());
    }
    let ends = [
        ("start", length(start.max(0.0))),
        ("end", length(end.max(0.0))),
    ];
    Some(vec![("stop", map(span, ends))])
}

/// Glue and screws.
fn finish(fields: &Fields, making: &mut Making, cut: &Sunk) -> Option<()> {
    making.glue = cut.area.width().max(cut.area.height());
    if fields.word("with")?.value != "screws" {
        return Some(());
    }
    let meeting = making.meeting;
    let through: (Member, Body) = (making.to, meeting.to);
    let hold = Hold {
        through,
        into: (making.part, meeting.part),
        d: cut.out,
        region: flattened(meeting.common(), cut.out),
    };
    screw(fields, making, &hold)
}

/// The side of a box that looks against a direction: where the end of the part meets the bottom of the cut.
fn flattened(mut region: Box3, d: Direction) -> Box3 {
    let axis = d.axis();
    if d.sign() > 0.0 {
        region.max[axis] = region.min[axis];
    } else {
        region.min[axis] = region.max[axis];
    }
    region
}
