//! Units that tip over their front edge.

use std::collections::BTreeMap;

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::operation::Work;
use jigless_model::plan::StockKind;
use jigless_model::provenance::Source;
use jigless_model::units::decimal;
use jigless_model::usage::{Freestanding, Usage, UsageEntry};
use jigless_model::whole::{Box3, Motion};

use crate::report::Owner;
use crate::solid::Solid;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("tips-over"),
    name: "a unit that tips over when its drawers are out and its doors open",
    group: Group::Safety,
    severity: Severity::Warning,
    measures: "the moments about the front edge of what stands on the floor, or about the axis of its front casters, of \
        every unit that is higher than the limit, stands on casters or has drawers: the mass of every piece in its \
        place, doors open, drawers out by their length and loaded as `freestanding` says, and a push at the top edge",
    limit: Some(Limit::length(
        600.0,
        "height from which a unit without drawers or casters is looked at",
    )),
    formula: Some(
        "sum of m g (z - z front) before the edge + push x height > sum of m g (z front - z) behind it",
    ),
    source: &[
        Source::Note("statics (derived)"),
        Source::Note(
            "assumptions, each named in the finding: drawers filled with 136 kg/m3 (8.5 lb/ft3; ASTM F2057, from \
            memory), a push of 5 kg, and 650 kg/m3 for a stock without `density`. A published standard for clothing \
            storage begins at 27 in (686 mm) and has tests of its own (ASTM F2057-23, from memory); this is none of \
            them, and no compliance is claimed",
        ),
    ],
    explanation: "Children climb on open drawers, and a cabinet that tips kills. Fix it to the wall with hardware for your \
        kind of wall, or make it deeper. This is arithmetic on ideal parts: floors are uneven and carpets soft, so \
        a unit that passes by little may tip all the same. Rules of the place where it stands go before this.",
    example: "drawer: {in: cabinet, count: 3, ...}   # in a light cabinet 300 deep and 900 high",
    run,
};

/// kg/m3 of a stock that says nothing: of birch plywood (common practice, no source).
const USUAL_DENSITY: f64 = 650.0;
/// kg/m3 of what is in drawers where the plan says nothing: 8.5 lb/ft3 (ASTM F2057, from memory).
const DRAWER_FILL: f64 = 136.0;
/// Kilograms that press outward at the top edge where the plan says nothing. An assumption.
const PUSH: f64 = 5.0;
/// Standard gravity in m/s2 (exact by definition).
const GRAVITY: f64 = 9.806_65;
/// What is this near to the lowest wood stands on the floor, in millimetres.
const FLOOR: f64 = 1.0;

/// Moments about the front edge, in newton metres.
#[derive(Debug, Default, Clone, Copy)]
struct Moments {
    holding: f64,
    pieces: f64,
    contents: f64,
    push: f64,
    /// Kilograms in all.
    mass: f64,
}

impl Moments {
    /// Adds a mass in kilograms at so many millimetres before the edge; negative behind it.
    fn add(&mut self, mass: f64, before: f64, content: bool) {
        let moment = mass * GRAVITY * before / 1000.0;
        self.mass += mass;
        if moment < 0.0 {
            self.holding -= moment;
        } else if content {
            self.contents += moment;
        } else {
            self.pieces += moment;
        }
    }

    fn tipping(self) -> f64 {
        self.pieces + self.contents + self.push
    }
}

fn run(scene: &Scene, report: &mut Report) {
    let entry = scene.plan.usage.iter().find_map(|entry| match &entry.what {
        Usage::Freestanding(unit) => Some((entry, unit)),
        _ => None,
    });
    for pieces in units(scene) {
        unit(scene, &pieces, entry, report);
    }
}

/// The pieces of each unit that stands on the floor by itself.
fn units(scene: &Scene) -> Vec<Vec<usize>> {
    let solids = &scene.assembled.solids;
    let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for number in 0..solids.len() {
        groups
            .entry(scene.held.group(number))
            .or_default()
            .push(number);
    }
    let Some(all) = scene.assembled.bounds else {
        return Vec::new();
    };
    let (mut units, others): (Vec<Vec<usize>>, Vec<Vec<usize>>) =
        groups.into_values().partition(|pieces| {
            let low = |piece: &usize| solids[*piece].bounds.min[1];
            pieces.len() > 2
                && pieces.iter().map(low).fold(f64::INFINITY, f64::min) <= all.min[1] + FLOOR
        });
    // What moves and hangs on nothing that the plan names goes with the unit that it is before.
    for pieces in others {
        let own = around(scene, &pieces);
        let near = units
            .iter_mut()
            .find(|unit| crate::assembled::grown(around(scene, unit), 60.0).overlaps(own, 0.0));
        if let Some(unit) = near.filter(|_| {
            pieces
                .iter()
                .any(|p| solids[*p].workpiece.part.motion.is_some())
        }) {
            unit.extend(pieces);
        }
    }
    units
}

fn around(scene: &Scene, pieces: &[usize]) -> Box3 {
    let boxes = pieces
        .iter()
        .map(|piece| scene.assembled.solids[*piece].bounds);
    boxes
        .reduce(Box3::union)
        .unwrap_or(Box3::new([0.0; 3], [0.0; 3]))
}

fn unit(
    scene: &Scene,
    pieces: &[usize],
    entry: Option<(&UsageEntry, &Freestanding)>,
    report: &mut Report,
) {
    let solids = &scene.assembled.solids;
    let of = |piece: &usize| &solids[*piece];
    let casters: Vec<f64> = pieces
        .iter()
        .flat_map(|piece| caster_axes(of(piece)))
        .collect();
    let slides = |solid: &Solid| solid.workpiece.part.motion == Some(Motion::Slides);
    let drawers = pieces.iter().any(|piece| slides(of(piece)));
    let bounds = around(scene, pieces);
    // Casters stand on the floor of the whole, below the base.
    let floor = if casters.is_empty() {
        bounds.min[1]
    } else {
        bounds.min[1].min(0.0)
    };
    let height = bounds.max[1] - floor;
    let looked_at = height > report.limit() || !casters.is_empty() || drawers;
    let (anchored, reported) = entry.map_or((false, false), |(_, unit)| {
        (
            unit.anchored,
            !unit.anchored && unit.height.value >= report.limit(),
        )
    });
    if !looked_at || anchored || reported {
        return;
    }
    let edge = if casters.is_empty() {
        pieces
            .iter()
            .filter_map(|piece| front_on_floor(of(piece), floor))
            .fold(f64::NEG_INFINITY, f64::max)
    } else {
        casters.into_iter().fold(f64::NEG_INFINITY, f64::max)
    };
    if !edge.is_finite() {
        return;
    }
    let (moments, assumed) = moments(scene, pieces, edge, height, entry.map(|(_, unit)| unit));
    if moments.tipping() <= moments.holding {
        return;
    }
    tell(
        scene, pieces, &moments, height, edge, &assumed, entry, report,
    );
}

/// Where the casters of a piece stand, from the back.
fn caster_axes(solid: &Solid) -> Vec<f64> {
    let operations = solid.workpiece.operations.iter();
    operations
        .filter(|operation| operation.origin.key == "caster_plate")
        .filter_map(|operation| match &operation.work {
            Work::Mark(mark) => mark.text.as_ref().map(|(at, _)| solid.whole(*at, 0.0)[2]),
            _ => None,
        })
        .collect()
}

/// How far to the front a piece stands on the floor, if it does.
fn front_on_floor(solid: &Solid, floor: f64) -> Option<f64> {
    let part = &solid.workpiece.part;
    // What opens bears nothing.
    if part.motion.is_some() {
        return None;
    }
    let corners = solid
        .workpiece
        .outline()
        .vertices
        .iter()
        .flat_map(|vertex| [0.0, part.thickness()].map(|depth| solid.whole(vertex.point, depth)));
    let on_floor = corners.filter(|corner| corner[1] <= floor + FLOOR);
    on_floor.map(|corner| corner[2]).reduce(f64::max)
}

/// The moments of everything, and what was assumed.
fn moments(
    scene: &Scene,
    pieces: &[usize],
    edge: f64,
    height: f64,
    unit: Option<&Freestanding>,
) -> (Moments, Vec<String>) {
    let solids = &scene.assembled.solids;
    let mut moments = Moments::default();
    let mut assumed = Vec::new();
    let mut unknown: Vec<&str> = Vec::new();
    let drawers = drawers(scene, pieces);
    for piece in pieces {
        let solid = &solids[*piece];
        let part = &solid.workpiece.part;
        let density = part.stock.density.unwrap_or_else(|| {
            unknown.push(&part.stock.id);
            USUAL_DENSITY
        });
        let mass = solid.volume() * density * 1e-9;
        let middle = solid.bounds.centre()[2];
        let out = part.group.as_deref().and_then(|group| drawers.get(group));
        let z = match (part.motion, out) {
            (Some(Motion::SwingsLeft | Motion::SwingsRight), _) => {
                solid.bounds.min[2] + solid.bounds.size(0) / 2.0
            }
            (_, Some(drawer)) => middle + drawer.travel,
            (Some(Motion::Slides), None) => middle + solid.bounds.size(2),
            _ => middle,
        };
        moments.add(mass, z - edge, false);
    }
    let load = unit
        .and_then(|unit| unit.drawer_load)
        .map(|load| load.value);
    for drawer in drawers.values() {
        for inside in &drawer.boxes {
            let mass = load.unwrap_or(inside.volume() * DRAWER_FILL * 1e-9);
            moments.add(mass, inside.centre()[2] + drawer.travel - edge, true);
        }
    }
    if load.is_none() && !drawers.is_empty() {
        assumed.push(format!("drawers filled with {DRAWER_FILL} kg/m3"));
    }
    let push = unit
        .and_then(|unit| unit.push)
        .map_or(PUSH, |push| push.value);
    moments.push = push * GRAVITY * height / 1000.0;
    assumed.push(format!("a push of {} kg at the top edge", decimal(push, 1)));
    unknown.sort_unstable();
    unknown.dedup();
    if !unknown.is_empty() {
        assumed.push(format!(
            "{USUAL_DENSITY} kg/m3 for {}, whose density is unknown",
            unknown.join(", ")
        ));
    }
    (moments, assumed)
}

/// Drawers of a group: how far they come out, and the boxes of what is in them.
struct Drawers {
    travel: f64,
    boxes: Vec<Box3>,
}

fn drawers<'a>(scene: &Scene<'a>, pieces: &[usize]) -> BTreeMap<&'a str, Drawers> {
    let solids = &scene.assembled.solids;
    let mut groups: BTreeMap<&str, Drawers> = BTreeMap::new();
    let slides = |piece: &&usize| solids[**piece].workpiece.part.motion == Some(Motion::Slides);
    for piece in pieces.iter().filter(slides) {
        if let Some(group) = solids[*piece].workpiece.part.group.as_deref() {
            let none = Drawers {
                travel: 0.0,
                boxes: Vec::new(),
            };
            groups.entry(group).or_insert(none);
        }
    }
    for piece in pieces {
        let solid = &solids[*piece];
        let part = &solid.workpiece.part;
        let Some(drawer) = part
            .group
            .as_deref()
            .and_then(|group| groups.get_mut(group))
        else {
            continue;
        };
        drawer.travel = drawer.travel.max(solid.bounds.size(2));
        // What lies flat is the bottom, on which the contents stand as high as the sides beside it.
        let flat = solid.bounds.size(1) < solid.bounds.size(0).min(solid.bounds.size(2));
        if !flat || part.stock.kind == StockKind::Card {
            continue;
        }
        let beside = scene.assembled.neighbours(*piece, 1.0).into_iter();
        let top = beside
            .filter(|other| solids[*other].workpiece.part.group == part.group)
            .map(|other| solids[other].bounds.max[1])
            .fold(solid.bounds.max[1], f64::max);
        let mut inside = solid.bounds;
        (inside.min[1], inside.max[1]) = (solid.bounds.max[1], top);
        drawer.boxes.push(inside);
    }
    groups
}

#[expect(
    clippy::too_many_arguments,
    reason = "all of it stands in one sentence"
)]
fn tell(
    scene: &Scene,
    pieces: &[usize],
    moments: &Moments,
    height: f64,
    edge: f64,
    assumed: &[String],
    entry: Option<(&UsageEntry, &Freestanding)>,
    report: &mut Report,
) {
    let first = &scene.assembled.solids[pieces[0]].workpiece.part;
    let newton_metres = |moment: f64| format!("{} N m", decimal(moment, 1));
    let span = entry.map_or(first.span, |(entry, _)| entry.span);
    let missing = moments.tipping() - moments.holding;
    let lever = (edge - around(scene, pieces).min[2]) / 1000.0;
    let finding = report
        .finding(
            span,
            format!(
                "`{}` and what it is part of, {} high, tips over its front edge: {} forward (doors and drawers {}, what is \
                 in them {}, push {}) against {} that hold it",
                first.id,
                report.show(height),
                newton_metres(moments.tipping()),
                newton_metres(moments.pieces),
                newton_metres(moments.contents),
                newton_metres(moments.push),
                newton_metres(moments.holding)
            ),
        )
        .figures(newton_metres(moments.tipping()), format!("less than {}", newton_metres(moments.holding)))
        .label(first.span, format!("assumed: {}", assumed.join("; ")))
        .fix(format!(
            "fix it to the wall, list the hardware and write `freestanding: {{anchored: yes}}`, let what it stands on reach {} \
             or more further to the front, or put {} kg or more at its back; local rules on tip-over go before this",
            // All moments change alike when the edge moves: by the whole weight.
            report.show((1000.0 * missing / GRAVITY / moments.mass.max(0.01)).ceil()),
            decimal(missing / GRAVITY / lever.max(0.01), 1)
        ));
    match entry {
        Some((entry, _)) => report.add(
            &[Owner::Usage(&entry.accepted), Owner::Part(first)],
            finding,
        ),
        None => report.add(&[Owner::Part(first)], finding),
    }
}
