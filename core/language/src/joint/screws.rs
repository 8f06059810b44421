//! Screws, dowels and the holes for them, along the line where two parts meet.

use jigless_model::diag::Finding;
use jigless_model::geom::Point;
use jigless_model::joint::DrivenScrew;
use jigless_model::joint::TOUCH;
use jigless_model::side::{Edge, Face};
use jigless_model::units::{MM_PER_INCH, Unit};
use jigless_model::whole::{Body, Box3, Direction, Side, Triple};

use super::attach::Made;
use super::making::Making;
use super::meeting::Member;
use super::nodes::{Keys, edge_holes, face_key, holes};
use crate::build::{length, map, text};
use crate::codes;
use crate::load::Value;
use crate::resolve::{Fields, read_spread};

/// Distance of the outermost screws from the ends of a joint, and the greatest distance between neighbours, in
/// millimetres. Common practice, no source.
const INSET: f64 = 50.0;
const MOST: f64 = 150.0;
/// How deep the thread of a 4 mm screw goes into an edge where nothing is said: eight diameters, between the 6 and 10
/// that design rules name (NDS 12.1.5.6, from memory).
const THREAD: f64 = 32.0;
/// Wood that stays between the tip of a screw and the far face, in millimetres. Common practice, no source.
const SKIN: f64 = 3.0;
/// Lengths in which screws are sold. Common practice, no source.
const SOLD_MM: &[f64] = &[
    12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 120.0,
];
const SOLD_IN: &[f64] = &[
    0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 3.5, 4.0,
];

/// A screw as it is sold.
pub(super) struct Sold {
    pub(super) length: f64,
    pub(super) gauge: String,
}

/// Where two parts are held together: along `d`, from `through` into `into`, over a region of the plane between them.
pub(super) struct Hold<'a> {
    pub(super) through: (Member<'a>, Body),
    pub(super) into: (Member<'a>, Body),
    pub(super) d: Direction,
    pub(super) region: Box3,
}

impl Hold<'_> {
    /// How much of the first part a screw passes before it comes to the second one.
    fn passed(&self) -> f64 {
        let axis = self.d.axis();
        let bounds = self.through.1.bounds();
        if self.d.sign() > 0.0 {
            self.region.min[axis] - bounds.min[axis]
        } else {
            bounds.max[axis] - self.region.max[axis]
        }
    }

    /// How much of the second part lies ahead.
    fn ahead(&self) -> f64 {
        self.into.1.bounds().size(self.d.axis())
    }

    fn head(&self, at: Triple) -> Triple {
        moved(at, self.d, -self.passed())
    }
}

fn moved(mut point: Triple, d: Direction, by: f64) -> Triple {
    point[d.axis()] += d.sign() * by;
    point
}

/// The places along a joint as the plan says, on the middle line of the region; on two lines where it is wide.
pub(super) fn places(
    fields: &Fields,
    body: &Body,
    d: Direction,
    region: Box3,
) -> Option<Vec<Triple>> {
    let mut axes: Vec<usize> = (0..3).filter(|axis| *axis != d.axis()).collect();
    axes.sort_by(|a, b| region.size(*b).total_cmp(&region.size(*a)));
    let (run, cross) = (axes[0], axes[1]);
    let length = region.size(run);
    let edge = if run == body.x_axis() {
        Edge::Bottom
    } else {
        Edge::Left
    };
    let along: Vec<f64> = match fields.node("at") {
        Some(node) => read_spread(fields.context(), node, edge, length)?
            .iter()
            .map(|at| at.value)
            .collect(),
        None => usual(length),
    };
    // Positions count from the left or bottom end of the part, which may lie at either end of the axis.
    let (low, high) = (end(region, run, false), end(region, run, true));
    let ((a, a_depth), (b, b_depth)) = (body.to_part(low), body.to_part(high));
    let forward = (b.x - a.x) + (b.y - a.y) + (b_depth - a_depth) > 0.0;
    let middle = region.centre()[cross];
    let wide = region.size(cross);
    let lines = if wide > 2.0 * INSET {
        vec![
            middle - wide / 2.0 + INSET / 2.0,
            middle + wide / 2.0 - INSET / 2.0,
        ]
    } else {
        vec![middle]
    };
    let mut points = Vec::new();
    for line in lines {
        for at in &along {
            let mut point = region.centre();
            point[run] = if forward {
                region.min[run] + at
            } else {
                region.max[run] - at
            };
            point[cross] = line;
            points.push(point);
        }
    }
    Some(points)
}

fn end(region: Box3, axis: usize, high: bool) -> Triple {
    let mut point = region.centre();
    point[axis] = if high {
        region.max[axis]
    } else {
        region.min[axis]
    };
    point
}

fn usual(length: f64) -> Vec<f64> {
    if length < INSET {
        return vec![length / 2.0];
    }
    let inset = INSET.min(length / 4.0);
    let run = length - 2.0 * inset;
    let gaps = (run / MOST - 1e-9).ceil().max(1.0);
    (0..=gaps as u32)
        .map(|i| inset + run * f64::from(i) / gaps)
        .collect()
}

/// Adds a hole for each point, in the face or edge of a part that looks in a direction.
pub(super) fn bore(
    making: &mut Making,
    (member, body): (Member, Body),
    looks: Direction,
    points: &[Triple],
    hole: &Keys,
    label: &str,
) {
    let span = making.span;
    let (diameter, depth) = (size_of(hole, "diameter"), size_of(hole, "depth"));
    let hardware: Keys = hole
        .iter()
        .filter(|(key, _)| *key == "hardware")
        .cloned()
        .collect();
    let made = match body.side(looks) {
        Side::Face(face) => {
            let local: Vec<Point> = points.iter().map(|p| body.to_part(*p).0).collect();
            let mut keys = hole.clone();
            keys.push(face_key(face));
            holes(span, &local, &keys)
        }
        Side::Edge(edge) => {
            let local: Vec<(f64, f64)> = points
                .iter()
                .map(|p| {
                    let (at, depth) = body.to_part(*p);
                    (if edge.is_upright() { at.y } else { at.x }, depth)
                })
                .collect();
            let mut keys = Vec::new();
            let mut depths: Vec<f64> = local.iter().map(|(_, depth)| *depth).collect();
            depths.sort_by(f64::total_cmp);
            depths.dedup_by(|a, b| (*a - *b).abs() < TOUCH);
            for from_front in depths {
                let along: Vec<f64> = local
                    .iter()
                    .filter(|(_, own)| (own - from_front).abs() < TOUCH)
                    .map(|(along, _)| *along)
                    .collect();
                let mut own = edge_holes(span, edge, &along, from_front, diameter, depth);
                own.extend(hardware.iter().cloned());
                keys.push(("edge_hole", own));
            }
            keys
        }
    };
    for (key, keys) in made {
        let feature = Made::new(member.carrier(), member.only(), span, key, keys, label);
        making.made.push(feature);
    }
}

fn size_of(keys: &Keys, key: &str) -> f64 {
    let found = keys.iter().find(|(own, _)| *own == key);
    match found.map(|(_, value)| value) {
        Some(Value::Scalar(scalar)) => scalar
            .text
            .strip_suffix(" mm")
            .and_then(|text| text.parse().ok())
            .unwrap_or(0.0),
        _ => 0.0,
    }
}

/// Screws through one part into the other: clearance holes with a countersink, and pilots.
pub(super) fn screw(fields: &Fields, making: &mut Making, hold: &Hold) -> Option<()> {
    let (through, into) = (hold.through.0.part, hold.into.0.part);
    let (clearance, pilot) = (fields.length("clearance"), fields.length("pilot"));
    let countersink = fields.length("countersink");
    let points = places(fields, &making.meeting.part, hold.d, hold.region);
    let needed = if matches!(hold.into.1.side(opposite(hold.d)), Side::Face(_)) {
        // Into a face the far side is near: as long as may be, and never out again.
        Err(hold.passed() + hold.ahead() - SKIN)
    } else {
        Ok(hold.passed() + THREAD)
    };
    let sold = sold(fields, needed)?;
    let (clearance, pilot, countersink) = (clearance?.value, pilot?.value, countersink?.value);
    let points = points?;
    if matches!(hold.through.1.side(opposite(hold.d)), Side::Edge(_)) {
        fields.context().find(
            Finding::error(
                codes::SCREW_THROUGH_EDGE,
                fields.span,
                format!(
                    "a screw cannot go through `{}` from edge to edge",
                    through.id
                ),
            )
            .fix("use dowels or pocket screws here"),
        );
        return None;
    }
    let span = making.span;
    let mut keys = vec![("diameter", length(clearance)), ("depth", text("through"))];
    if countersink > clearance {
        let cone = [("diameter", length(countersink)), ("angle", text("90"))];
        keys.push(("countersink", map(span, cone)));
    }
    let hardware = [
        ("what", text("screw")),
        ("length", length(sold.length)),
        ("gauge", text(&sold.gauge)),
    ];
    keys.push(("hardware", map(span, hardware)));
    let heads: Vec<Triple> = points.iter().map(|at| hold.head(*at)).collect();
    bore(
        making,
        hold.through,
        opposite(hold.d),
        &heads,
        &keys,
        &format!("screws into {}", into.id),
    );
    if pilot > 0.0 {
        let depth = (sold.length - hold.passed() + 1.0).clamp(1.0, hold.ahead() - 1.0);
        let keys = vec![("diameter", length(pilot)), ("depth", length(depth))];
        bore(
            making,
            hold.into,
            opposite(hold.d),
            &points,
            &keys,
            &format!("pilots from {}", through.id),
        );
    }
    if making.placed {
        for head in heads {
            making.screws.push(DrivenScrew {
                through: through.id.clone(),
                into: into.id.clone(),
                head,
                tip: moved(head, hold.d, sold.length),
            });
        }
    }
    Some(())
}

/// Dowels: holes of the same diameter in both parts.
pub(super) fn dowel(fields: &Fields, making: &mut Making, hold: &Hold) -> Option<()> {
    let dowel = fields.has("dowel").then(|| fields.map("dowel")).flatten();
    let size = |key: &'static str, usual: f64| match &dowel {
        Some(dowel) if dowel.has(key) => dowel.length(key).map(|length| length.value),
        _ => Some(usual),
    };
    let (diameter, whole) = (size("diameter", 8.0)?, size("length", 35.0)?);
    // Two thirds of a face's thickness, and 1 mm more than the dowel over both holes for the glue (common practice, no
    // source).
    let usual = (hold.through.1.bounds().size(hold.d.axis()) * 2.0 / 3.0).floor();
    let shallow = size("face_depth", usual.min(whole / 2.0))?;
    let deep = size("edge_depth", whole - shallow + 1.0)?;
    let points = places(fields, &making.meeting.part, hold.d, hold.region)?;
    let span = making.span;
    let hardware = [
        ("what", text("dowel")),
        ("length", length(whole)),
        ("gauge", text(&jigless_model::units::decimal(diameter, 2))),
    ];
    let keys = |depth: f64| vec![("diameter", length(diameter)), ("depth", length(depth))];
    let (through, into) = (hold.through.0.part, hold.into.0.part);
    let label = format!("dowels of {}", into.id);
    bore(
        making,
        hold.through,
        hold.d,
        &points,
        &keys(shallow),
        &label,
    );
    let mut edge = keys(deep);
    edge.push(("hardware", map(span, hardware)));
    bore(
        making,
        hold.into,
        opposite(hold.d),
        &points,
        &edge,
        &format!("dowels of {}", through.id),
    );
    Some(())
}

/// Angled pockets in the part, toward the other one.
pub(super) fn pocket(fields: &Fields, making: &mut Making, hold: &Hold) -> Option<()> {
    let (member, body) = hold.into;
    let toward = opposite(hold.d);
    let Side::Edge(edge) = body.side(toward) else {
        fields.context().find(
            Finding::error(
                codes::POCKET_IN_FACE,
                fields.span,
                format!(
                    "pocket screws leave through an edge, and `{}` meets the other with a face",
                    member.part.id
                ),
            )
            .fix("use screws, or make it the other part of the joint"),
        );
        return None;
    };
    let face = fields.face("pocket_face")?.value;
    let thickness = member.part.thickness();
    let sold = pocket_screw(fields, thickness)?;
    let points = places(fields, &making.meeting.part, hold.d, hold.region)?;
    let span = making.span;
    let along = points.iter().map(|p| {
        let (at, _) = body.to_part(*p);
        length(if edge.is_upright() { at.y } else { at.x })
    });
    let screw = [
        ("length", length(sold.length)),
        ("gauge", text(&sold.gauge)),
    ];
    let keys = vec![
        ("edge", text(edge.name())),
        ("at", crate::build::list(span, along)),
        ("face", text(face.name())),
        ("screw", map(span, screw)),
    ];
    let label = format!("pockets toward {}", hold.through.0.part.id);
    let feature = Made::new(
        member.carrier(),
        member.only(),
        span,
        "pocket_holes",
        keys,
        &label,
    );
    making.made.push(feature);
    if making.placed {
        // The pocket's own defaults: 15 degrees, and as much wood before the edge as the part is thick.
        let beyond = (sold.length - thickness) * 15f64.to_radians().cos();
        for point in points {
            making.screws.push(DrivenScrew {
                through: member.part.id.clone(),
                into: hold.through.0.part.id.clone(),
                head: point,
                tip: moved(point, toward, beyond),
            });
        }
    }
    Some(())
}

/// Length of a pocket screw by the thickness of the part (a public planner's table; common practice, no source).
fn pocket_screw(fields: &Fields, thickness: f64) -> Option<Sold> {
    let usual = match thickness {
        t if t <= 16.0 => 25.0,
        t if t <= 20.0 => 32.0,
        t if t <= 26.0 => 38.0,
        t if t <= 32.0 => 51.0,
        _ => 64.0,
    };
    let (length, gauge) = given_screw(fields)?;
    Some(Sold {
        length: length.unwrap_or(usual),
        gauge: gauge.unwrap_or_else(|| "#8".to_owned()),
    })
}

#[allow(clippy::type_complexity, reason = "the two values of one map")]
fn given_screw(fields: &Fields) -> Option<(Option<f64>, Option<String>)> {
    if !fields.has("screw") {
        return Some((None, None));
    }
    let screw = fields.map("screw")?;
    let length = screw
        .has("length")
        .then(|| screw.length("length"))
        .flatten();
    let gauge = screw.has("gauge").then(|| screw.text("gauge")).flatten();
    Some((length.map(|l| l.value), gauge.map(|g| g.value)))
}

/// The screw of a joint: as the plan says, or the shortest that is sold and long enough (`Ok`), or the longest that is
/// short enough (`Err`).
fn sold(fields: &Fields, needed: Result<f64, f64>) -> Option<Sold> {
    let inch = fields.context().names.unit() == Unit::Inch;
    let (sizes, scale) = if inch {
        (SOLD_IN, MM_PER_INCH)
    } else {
        (SOLD_MM, 1.0)
    };
    let mut sizes = sizes.iter().map(|size| size * scale);
    // Sold lengths are rounded themselves, so a screw half a millimetre short is long enough.
    let usual = match needed {
        Ok(least) => sizes.find(|size| *size >= least - 0.5),
        Err(most) => sizes.rev().find(|size| *size <= most),
    };
    let (length, gauge) = given_screw(fields)?;
    let Some(length) = length.or(usual) else {
        fields.context().find(
            Finding::error(codes::NO_SCREW, fields.span, "no usual screw fits here")
                .fix("give `screw: {length: ...}`"),
        );
        return None;
    };
    Some(Sold {
        length,
        gauge: gauge.unwrap_or_else(|| if inch { "#8" } else { "4" }.to_owned()),
    })
}

/// The direction the other way.
pub(super) fn opposite(d: Direction) -> Direction {
    d.mirrored(d.axis())
}

/// The face of a body that looks in a direction, if it is one.
pub(super) fn face_toward(body: &Body, d: Direction) -> Option<Face> {
    match body.side(d) {
        Side::Face(face) => Some(face),
        Side::Edge(_) => None,
    }
}

/// A rectangle of the whole on the face of a body.
pub(super) fn on_face(body: &Body, region: Box3) -> jigless_model::geom::Bounds {
    let (a, _) = body.to_part(region.min);
    let (b, _) = body.to_part(region.max);
    jigless_model::geom::Bounds::new(a, b)
}
