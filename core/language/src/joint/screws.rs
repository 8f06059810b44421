//! Screws, dowels and the holes for them, along the line where two parts meet.

use jigless_model::diag::Finding;
use jigless_model::fact::cone_angle;
use jigless_model::geom::Point;
use jigless_model::hardware::FittingKind;
use jigless_model::joint::{DrivenScrew, TOUCH};
use jigless_model::operation::Depth;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Span;
use jigless_model::units::Unit;
use jigless_model::whole::{Body, Box3, Direction, Side, Triple};

use super::joint_context::JointContext;
use super::keys::{DowelKeys, Screwed};
use super::member::Member;
use super::nodes::{edge_holes, face_key, holes};
use crate::build::{Keys, degrees, hardware, length, list, map, text};
use crate::codes;
use crate::load::Value;
use crate::resolve::Spread;
use crate::sold::{self, Wanted};

/// Distance of the outermost screws from the ends of a joint, and the greatest distance between neighbours, in
/// millimetres. Common practice, no source.
const INSET: f64 = 50.0;
const MOST: f64 = 150.0;
/// How deep the thread of a 4 mm screw goes into an edge where nothing is said: eight diameters, between the 6 and 10
/// that design rules name (NDS 12.1.5.6, from memory).
const THREAD: f64 = 32.0;
/// Wood that stays between the tip of a screw and the far face, in millimetres: as a rule, and at least. Common practice,
/// no source.
const SKIN: f64 = 3.0;
const LEAST_SKIN: f64 = 1.0;
/// The least that the thread of a screw and that of a pocket screw hold in, in millimetres: what the checks
/// `joint-screw-short` and `pocket-screw-short` ask for. Common practice, no source.
const LEAST_THREAD: f64 = 6.0;
const LEAST_POCKET_THREAD: f64 = 10.0;
/// A pocket screw best goes as far into the other part as so much of the thickness of its own, or as 12 mm. Common
/// practice, no source: 12 to 16 mm of a part of 3/4 in.
const POCKET_SHARE: f64 = 0.85;
const POCKET_REACH: f64 = 12.0;
/// Angle between a pocket screw and the face, in degrees; the default of `pocket_holes`.
const POCKET_ANGLE: f64 = 15.0;

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
    pub(super) fn passed(&self) -> f64 {
        let axis = self.d.axis();
        let bounds = self.through.1.bounds();
        if self.d.sign() > 0.0 {
            self.region.min[axis] - bounds.min[axis]
        } else {
            bounds.max[axis] - self.region.max[axis]
        }
    }

    /// How much of the second part lies ahead.
    pub(super) fn ahead(&self) -> f64 {
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
fn places(at: Option<&Spread>, joint_context: &JointContext, hold: &Hold) -> Option<Vec<Triple>> {
    let (body, d, region) = (&joint_context.meeting.part, hold.d, hold.region);
    let mut axes: Vec<usize> = (0..3).filter(|axis| *axis != d.axis()).collect();
    axes.sort_by(|a, b| region.size(*b).total_cmp(&region.size(*a)));
    let (run, cross) = (axes[0], axes[1]);
    let length = region.size(run);
    let edge = if run == body.x_axis() {
        Edge::Bottom
    } else {
        Edge::Left
    };
    let along: Vec<f64> = match at {
        Some(at) => {
            let at = at.on_edge(joint_context.context, edge, length)?;
            at.iter().map(|at| at.value).collect()
        }
        None => usual(length),
    };
    // Positions count from the left or bottom end of the part, which may lie at either end of the axis.
    let (low, high) = (end(region, run, false), end(region, run, true));
    let ((a, a_depth), (b, b_depth)) = (body.to_part(low), body.to_part(high));
    let forward = (b.x - a.x) + (b.y - a.y) + (b_depth - a_depth) > 0.0;
    let middle = region.centre()[cross];
    let wide = region.size(cross);
    let lines = if wide > 2.0 * INSET {
        // Away from the edges, in which other parts are screwed.
        vec![middle - wide / 4.0, middle + wide / 4.0]
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

/// A hole of a joint.
struct Hole {
    diameter: f64,
    depth: Depth,
    /// Diameter of the cone at the face and its angle in degrees, if there is one.
    countersink: Option<(f64, f64)>,
    /// What is bought for it.
    hardware: Option<Value>,
    /// The insert that stands in it, as a feature says it.
    insert: Option<Value>,
}

impl Hole {
    /// As deep as this and nothing more.
    fn blind(diameter: f64, depth: f64) -> Self {
        Self {
            diameter,
            depth: Depth::Blind(depth),
            countersink: None,
            hardware: None,
            insert: None,
        }
    }

    fn hardware(&self) -> Option<(&'static str, Value)> {
        self.hardware.clone().map(|hardware| ("hardware", hardware))
    }

    /// Its keys in a face.
    fn in_face(&self, span: Span, face: Face) -> Keys {
        let depth = match self.depth {
            Depth::Through => text("through"),
            Depth::Blind(depth) => length(depth),
        };
        let mut keys = vec![("diameter", length(self.diameter)), ("depth", depth)];
        if let Some((diameter, angle)) = self.countersink {
            let cone = [("diameter", length(diameter)), ("angle", degrees(angle))];
            keys.push(("countersink", map(span, cone)));
        }
        keys.extend(self.hardware());
        keys.extend(self.insert.clone().map(|insert| ("insert", insert)));
        keys.push(face_key(face));
        keys
    }
}

/// Adds a hole for each point, in the face or edge of a part that looks in a direction.
fn bore(
    joint_context: &mut JointContext,
    (member, body): (Member, Body),
    looks: Direction,
    points: &[Triple],
    hole: &Hole,
    label: &str,
) {
    let span = joint_context.span;
    let made = match (body.side(looks), hole.depth) {
        (Side::Face(face), _) => {
            let local: Vec<Point> = points.iter().map(|p| body.to_part(*p).0).collect();
            holes(span, &local, &hole.in_face(span, face))
        }
        // No joint drills from edge to edge.
        (Side::Edge(_), Depth::Through) => Vec::new(),
        (Side::Edge(edge), Depth::Blind(hole_depth)) => {
            let local: Vec<(f64, f64)> = points
                .iter()
                .map(|p| {
                    let (at, depth) = body.to_part(*p);
                    (if edge.is_upright() { at.y } else { at.x }, depth)
                })
                .collect();
            let mut depths: Vec<f64> = local.iter().map(|(_, depth)| *depth).collect();
            depths.sort_by(f64::total_cmp);
            depths.dedup_by(|a, b| (*a - *b).abs() < TOUCH);
            let rows = depths.into_iter().map(|from_front| {
                let along: Vec<f64> = local
                    .iter()
                    .filter(|(_, own)| (own - from_front).abs() < TOUCH)
                    .map(|(along, _)| *along)
                    .collect();
                let mut keys =
                    edge_holes(span, edge, &along, from_front, hole.diameter, hole_depth);
                keys.extend(hole.hardware());
                ("edge_hole", keys)
            });
            rows.collect()
        }
    };
    for (key, keys) in made {
        joint_context.add(member, key, keys, label);
    }
}

/// Screws through one part into the other: clearance holes with a countersink, and pilots.
pub(super) fn screw(keys: &Screwed, joint_context: &mut JointContext, hold: &Hold) -> Option<()> {
    let (through, into) = (hold.through.0.part, hold.into.0.part);
    let points = places(keys.at.as_ref(), joint_context, hold);
    let (passed, ahead) = (hold.passed(), hold.ahead());
    let most = passed + ahead - LEAST_SKIN;
    let wanted = Wanted {
        least: passed + LEAST_THREAD,
        most,
        until: passed + ahead - SKIN,
        ..if matches!(hold.into.1.side(opposite(hold.d)), Side::Face(_)) {
            // Into a face the far side is near: as long as may be, and never out again.
            Wanted {
                from: 0.0,
                longest: true,
                ..Wanted::ANY
            }
        } else {
            // Sold lengths are rounded themselves, so a screw half a millimetre short is long enough.
            Wanted {
                from: passed + THREAD - 0.5,
                longest: false,
                ..Wanted::ANY
            }
        }
    };
    let sold = sold(keys, joint_context, wanted)?;
    let points = points?;
    if matches!(hold.through.1.side(opposite(hold.d)), Side::Edge(_)) {
        joint_context.find(
            Finding::error(
                codes::SCREW_THROUGH_EDGE,
                joint_context.span,
                format!(
                    "`{}`: a screw cannot go through it from edge to edge",
                    through.id
                ),
            )
            .fix("use dowels or pocket screws here"),
        );
        return None;
    }
    let bought = hardware(
        joint_context.span,
        FittingKind::Screw,
        Some(sold.length),
        Some(&sold.gauge),
    );
    let hole = Hole {
        diameter: keys.clearance,
        depth: Depth::Through,
        countersink: (keys.countersink > keys.clearance)
            .then(|| (keys.countersink, cone_angle(joint_context.context.unit()))),
        hardware: Some(bought),
        insert: None,
    };
    let heads: Vec<Triple> = points.iter().map(|at| hold.head(*at)).collect();
    let back = opposite(hold.d);
    let label = format!("screws into {}", into.id);
    bore(joint_context, hold.through, back, &heads, &hole, &label);
    if keys.pilot > 0.0 {
        let depth = (sold.length - hold.passed() + 1.0).clamp(1.0, hold.ahead() - 1.0);
        let pilot = Hole::blind(keys.pilot, depth);
        let label = format!("pilots from {}", through.id);
        bore(joint_context, hold.into, back, &points, &pilot, &label);
    }
    if joint_context.placed {
        for head in heads {
            joint_context.screws.push(DrivenScrew {
                through: through.id.clone(),
                into: into.id.clone(),
                mouth: head,
                head,
                tip: moved(head, hold.d, sold.length),
            });
        }
    }
    Some(())
}

/// Bolts through one part and inserts in the other.
pub(super) struct Bolting {
    /// Diameter of the holes for the bolts.
    pub(super) clearance: f64,
    pub(super) bolt: Value,
    /// Diameter and depth of the holes for the inserts.
    pub(super) hole: f64,
    pub(super) depth: f64,
    pub(super) insert_length: f64,
    pub(super) insert: Value,
}

/// Holes for bolts and for their inserts.
pub(super) fn bolts(
    at: Option<&Spread>,
    bolting: &Bolting,
    joint_context: &mut JointContext,
    hold: &Hold,
) -> Option<()> {
    let points = places(at, joint_context, hold)?;
    let (through, into) = (hold.through.0.part, hold.into.0.part);
    let back = opposite(hold.d);
    let heads: Vec<Triple> = points.iter().map(|at| hold.head(*at)).collect();
    let hole = Hole {
        diameter: bolting.clearance,
        depth: Depth::Through,
        countersink: None,
        hardware: Some(bolting.bolt.clone()),
        insert: None,
    };
    let label = format!("bolts into {}", into.id);
    bore(joint_context, hold.through, back, &heads, &hole, &label);
    let span = joint_context.span;
    let keys = [
        ("hole", length(bolting.hole)),
        ("length", length(bolting.insert_length)),
    ];
    let hole = Hole {
        hardware: Some(bolting.insert.clone()),
        insert: Some(map(span, keys)),
        ..Hole::blind(bolting.hole, bolting.depth)
    };
    let label = format!("inserts for {}", through.id);
    bore(joint_context, hold.into, back, &points, &hole, &label);
    Some(())
}

/// Dowels: holes of the same diameter in both parts.
pub(super) fn dowel(
    keys: &Screwed,
    given: Option<&DowelKeys>,
    joint_context: &mut JointContext,
    hold: &Hold,
) -> Option<()> {
    let size = |key: fn(&DowelKeys) -> Option<f64>, usual| given.and_then(key).unwrap_or(usual);
    let diameter = size(|dowel| dowel.diameter, 8.0);
    let whole = size(|dowel| dowel.length, 35.0);
    // Two thirds of a face's thickness, and 1 mm more than the dowel over both holes for the glue (common practice, no
    // source).
    let usual = (hold.through.1.bounds().size(hold.d.axis()) * 2.0 / 3.0).floor();
    let shallow = size(|dowel| dowel.face_depth, usual.min(whole / 2.0));
    let deep = size(|dowel| dowel.edge_depth, whole - shallow + 1.0);
    let points = places(keys.at.as_ref(), joint_context, hold)?;
    let (through, into) = (hold.through.0.part, hold.into.0.part);
    let hole = Hole::blind(diameter, shallow);
    let label = format!("dowels of {}", into.id);
    bore(joint_context, hold.through, hold.d, &points, &hole, &label);
    let gauge = jigless_model::units::decimal(diameter, 2);
    let bought = hardware(
        joint_context.span,
        FittingKind::Dowel,
        Some(whole),
        Some(&gauge),
    );
    let hole = Hole {
        hardware: Some(bought),
        ..Hole::blind(diameter, deep)
    };
    let label = format!("dowels of {}", through.id);
    bore(
        joint_context,
        hold.into,
        opposite(hold.d),
        &points,
        &hole,
        &label,
    );
    Some(())
}

/// Angled pockets in the part, toward the other one.
pub(super) fn pocket(
    keys: &Screwed,
    face: Face,
    shoulder: Option<f64>,
    joint_context: &mut JointContext,
    hold: &Hold,
) -> Option<()> {
    let (member, body) = hold.into;
    let toward = opposite(hold.d);
    let Side::Edge(edge) = body.side(toward) else {
        let id = &member.part.id;
        let message =
            format!("`{id}` meets the other with a face, and pocket screws leave through an edge");
        joint_context.find(
            Finding::error(codes::POCKET_IN_FACE, joint_context.span, message)
                .fix("use screws, or make it the other part of the joint"),
        );
        return None;
    };
    let thickness = member.part.thickness();
    let shoulder = shoulder.unwrap_or(thickness);
    let sold = pocket_screw(keys, joint_context, hold, thickness, shoulder)?;
    let points = places(keys.at.as_ref(), joint_context, hold)?;
    let span = joint_context.span;
    let along = points.iter().map(|p| {
        let (at, _) = body.to_part(*p);
        length(if edge.is_upright() { at.y } else { at.x })
    });
    let screw = [
        ("length", length(sold.length)),
        ("gauge", text(&sold.gauge)),
    ];
    let mut own = vec![
        ("edge", text(edge.name())),
        ("at", list(span, along)),
        face_key(face),
        ("screw", map(span, screw)),
    ];
    if (shoulder - thickness).abs() > TOUCH {
        own.push(("shoulder", length(shoulder)));
    }
    let other = &hold.through.0.part.id;
    joint_context.add(
        member,
        "pocket_holes",
        own,
        &format!("pockets toward {other}"),
    );
    if joint_context.placed {
        // The pocket's own defaults: the axis leaves through the middle of the edge.
        let exit = thickness / 2.0;
        let (sine, cosine) = POCKET_ANGLE.to_radians().sin_cos();
        for point in points {
            let (at, _) = body.to_part(point);
            let frame = member.part.frame();
            let along = if edge.is_upright() { at.y } else { at.x };
            // A place along the axis, by how far before the edge it is.
            let before = |distance: f64| {
                let inward = frame.from_edge(edge, along, distance * cosine);
                let below = exit - distance * sine;
                let depth = match face {
                    Face::Front => below,
                    Face::Back => thickness - below,
                };
                body.to_whole(inward.x, inward.y, depth)
            };
            joint_context.screws.push(DrivenScrew {
                through: member.part.id.clone(),
                into: other.clone(),
                mouth: before(exit / sine),
                head: before(shoulder),
                tip: before(shoulder - sold.length),
            });
        }
    }
    Some(())
}

/// The pocket screw of a joint: as the plan says, or the one that is sold and reaches best into the other part, between
/// the least that holds and what would come out.
fn pocket_screw(
    keys: &Screwed,
    joint_context: &JointContext,
    hold: &Hold,
    thickness: f64,
    shoulder: f64,
) -> Option<Sold> {
    let through = hold.through.1.bounds().size(hold.d.axis());
    let longest = |reach: f64| shoulder + reach / POCKET_ANGLE.to_radians().cos();
    let best = (POCKET_SHARE * thickness).max(POCKET_REACH);
    let wanted = Wanted {
        least: longest(LEAST_POCKET_THREAD),
        most: longest(through - LEAST_SKIN),
        from: longest(LEAST_POCKET_THREAD),
        until: longest(best.min(through - SKIN)),
        longest: true,
    };
    let lengths = sold::pocket_screws(&joint_context.context);
    let given = keys.screw.as_ref().and_then(|screw| screw.length);
    let Some(length) = given.or_else(|| wanted.choose(&lengths)) else {
        report_no_screw(
            joint_context,
            wanted,
            "take a thicker part, another `shoulder` or another joint",
        );
        return None;
    };
    Some(Sold {
        length,
        gauge: gauge(keys, "#8"),
    })
}

/// The gauge of a screw: as the plan says, or the usual one.
fn gauge(keys: &Screwed, usual: &str) -> String {
    let given = keys.screw.as_ref().and_then(|screw| screw.gauge.clone());
    given.unwrap_or_else(|| usual.to_owned())
}

/// The screw of a joint: as the plan says, or the one that is sold and fits best.
fn sold(keys: &Screwed, joint_context: &JointContext, wanted: Wanted) -> Option<Sold> {
    let usual_gauge = match joint_context.context.unit() {
        Unit::Inch => "#8",
        Unit::Millimetre => "4",
    };
    let lengths = sold::screws(&joint_context.context);
    let given = keys.screw.as_ref().and_then(|screw| screw.length);
    let Some(length) = given.or_else(|| wanted.choose(&lengths)) else {
        report_no_screw(
            joint_context,
            wanted,
            "take a thicker part or another joint",
        );
        return None;
    };
    Some(Sold {
        length,
        gauge: gauge(keys, usual_gauge),
    })
}

/// Reports that no screw that is sold fits, and which one would.
fn report_no_screw(joint_context: &JointContext, wanted: Wanted, otherwise: &str) {
    let (part, to) = (&joint_context.part.part.id, &joint_context.to.part.id);
    let (span, context) = (joint_context.span, joint_context.context);
    // A builder makes the same joint at both sides.
    let reported = context
        .findings
        .borrow()
        .iter()
        .any(|finding| finding.code == codes::NO_SCREW && finding.span == Some(span));
    if reported {
        return;
    }
    let unit = context.unit();
    let (least, most) = (unit.show(wanted.least), unit.show(wanted.most));
    let (message, fix) = if wanted.least <= wanted.most {
        (
            format!(
                "`{part}`: no screw of a length that is sold holds it to `{to}`: from {least} to {most} would"
            ),
            format!(
                "give `screw: {{length: ...}}` from {least} to {most}, add such a length to `lengths_sold`, or {otherwise}"
            ),
        )
    } else {
        (
            format!(
                "`{part}`: no screw holds it to `{to}`: one of {least} would, and from {most} on it comes out"
            ),
            otherwise.to_owned(),
        )
    };
    joint_context.find(Finding::error(codes::NO_SCREW, span, message).fix(fix));
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
