//! What is wrong with the lines of a file.

use std::collections::BTreeMap;

use jigless_model::geom::{Path, Point, Segment};

use super::inspection::{Entity, Inspection, InspectionFault, LayerUse, NEAR};

/// The shortest segment that is right, in millimetres. Common practice, no source.
const SHORTEST: f64 = 0.05;
/// Of a kind of fault, so many are reported one by one.
const REPORTED: usize = 5;

pub(super) fn judge(inspection: &mut Inspection) {
    let mut faults = Vec::new();
    if inspection.can_name_unit
        && inspection.unit.is_none()
        && inspection.faults.iter().all(|f| f.code != "no-units")
    {
        faults.push(InspectionFault::new(
            "no-units",
            "the file names no unit, so its size is a guess",
        ));
    }
    if inspection.entities.is_empty() {
        faults.push(InspectionFault::new(
            "nothing-drawn",
            "there is no line in it",
        ));
    }
    for entity in &inspection.entities {
        judge_entity(entity, &mut faults);
    }
    drawn_twice(&inspection.entities, &mut faults);
    inspection.faults.append(&mut faults);
    shorten(&mut inspection.faults);
}

/// How far from the origin a file's work may lie, in its own units taken for millimetres: farther out the numbers have
/// no room for the tenths of a thousandth that crossings are judged by.
const FARTHEST: f64 = 1e6;

fn judge_entity(entity: &Entity, faults: &mut Vec<InspectionFault>) {
    let Entity {
        layer, kind, path, ..
    } = entity;
    let finite = path
        .vertices
        .iter()
        .all(|v| v.point.is_finite() && v.bulge.is_finite());
    if !finite {
        faults.push(InspectionFault::new(
            "not-a-number",
            format!("a {kind} on `{layer}` has a coordinate that is no number"),
        ));
        return;
    }
    let at = path
        .vertices
        .first()
        .map_or_else(String::new, |v| place(v.point));
    if path
        .vertices
        .iter()
        .any(|v| v.point.x.abs().max(v.point.y.abs()) > FARTHEST)
    {
        faults.push(InspectionFault::new(
            "too-far-away",
            format!("a {kind} on `{layer}`{at} reaches more than a kilometre from the origin"),
        ));
        return;
    }
    let used = LayerUse::of(layer);
    if used == LayerUse::Information {
        return;
    }
    if path.vertices.len() < 2 {
        faults.push(InspectionFault::new(
            "too-short",
            format!("a {kind} on `{layer}`{at} is a point"),
        ));
        return;
    }
    let ends_meet = path
        .vertices
        .first()
        .zip(path.vertices.last())
        .is_some_and(|(a, b)| a.point.distance(b.point) < NEAR);
    if path.closed && ends_meet {
        faults.push(InspectionFault::new(
            "repeated-end",
            format!("a closed {kind} on `{layer}`{at} repeats its first vertex"),
        ));
    }
    if entity.contour().is_none() && matches!(used, LayerUse::Cut | LayerUse::Area) {
        let message = if ends_meet {
            format!("a {kind} on `{layer}`{at} ends where it begins and is not marked as closed")
        } else {
            format!("a {kind} on `{layer}`{at} is open")
        };
        faults.push(InspectionFault::new("open-contour", message));
    }
    let repeated = usize::from(path.closed && ends_meet);
    let short = path
        .segments()
        .filter(|segment| segment.length() < SHORTEST)
        .count()
        .saturating_sub(repeated);
    if short > 0 {
        faults.push(InspectionFault::new(
            "too-short",
            format!("a {kind} on `{layer}`{at} has {short} segments shorter than {SHORTEST} mm"),
        ));
    }
    if path.closed && path.vertices.len() > 2 && path.crosses_itself() {
        faults.push(InspectionFault::new(
            "crosses-itself",
            format!("a {kind} on `{layer}`{at} crosses itself"),
        ));
    }
}

fn place(point: Point) -> String {
    let number = |value: f64| jigless_model::units::decimal(value, 2);
    format!(" at {}, {}", number(point.x), number(point.y))
}

/// A line as direction and distance from 0,0, or a circle as centre and radius, in steps; and on which layer.
type Track<'a> = (&'a str, [i64; 3]);

/// Where pieces lie along one line or circle: from, to, and which entity they are of.
type Pieces = Vec<(f64, f64, usize)>;

/// Reports lines that lie on one another on a layer that is cut or marked.
fn drawn_twice(entities: &[Entity], faults: &mut Vec<InspectionFault>) {
    let mut lines: BTreeMap<Track, Pieces> = BTreeMap::new();
    let mut arcs: BTreeMap<Track, Pieces> = BTreeMap::new();
    let step = |value: f64, of: f64| (value / of).round() as i64;
    let mut same: BTreeMap<(&str, String), usize> = BTreeMap::new();
    for (index, entity) in entities.iter().enumerate() {
        let used = LayerUse::of(&entity.layer);
        if used == LayerUse::Information
            || entity.path.vertices.iter().any(|v| !v.point.is_finite())
        {
            continue;
        }
        if used == LayerUse::Area {
            // Areas may share a border; they must not be the same.
            *same.entry((&entity.layer, key(&entity.path))).or_insert(0) += 1;
            continue;
        }
        for segment in entity.path.segments() {
            match segment {
                Segment::Line(a, b) if a.distance(b) > NEAR => {
                    let mut along = (b - a).unit();
                    if along.x < -1e-9 || (along.x.abs() <= 1e-9 && along.y < 0.0) {
                        along = -along;
                    }
                    let (from, to) = (along.dot(a), along.dot(b));
                    let track = [step(along.angle(), 1e-5), step(along.cross(a), NEAR), 0];
                    let pieces = lines.entry((&entity.layer, track)).or_default();
                    pieces.push((from.min(to), from.max(to), index));
                }
                Segment::Line(..) => {}
                Segment::Arc(arc) => {
                    let centre = arc.centre();
                    let track = [
                        step(centre.x, NEAR),
                        step(centre.y, NEAR),
                        step(arc.radius(), NEAR),
                    ];
                    let radius = arc.radius();
                    let sweep = arc.sweep();
                    let start = if sweep > 0.0 {
                        arc.start_angle()
                    } else {
                        arc.start_angle() + sweep
                    };
                    let start = start.rem_euclid(std::f64::consts::TAU) * radius;
                    let around = std::f64::consts::TAU * radius;
                    let end = start + sweep.abs() * radius;
                    let pieces = arcs.entry((&entity.layer, track)).or_default();
                    pieces.push((start, end.min(around), index));
                    if end > around + NEAR {
                        pieces.push((0.0, end - around, index));
                    }
                }
            }
        }
    }
    for ((layer, track), _) in same.iter().filter(|(_, count)| **count > 1) {
        faults.push(InspectionFault::new(
            "drawn-twice",
            format!("an area on `{layer}` is drawn twice: {track}"),
        ));
    }
    for (mut tracks, what) in [(lines, "lines"), (arcs, "arcs")] {
        for ((layer, _), pieces) in &mut tracks {
            pieces.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
            let mut reach = f64::NEG_INFINITY;
            let mut length = 0.0;
            for (from, to, _) in pieces.iter() {
                length += (reach.min(*to) - from).max(0.0);
                reach = reach.max(*to);
            }
            if length > NEAR {
                let first = pieces.first().map_or(0, |piece| piece.2);
                let at = entities[first]
                    .path
                    .vertices
                    .first()
                    .map_or_else(String::new, |v| place(v.point));
                let length = jigless_model::units::decimal(length, 2);
                faults.push(InspectionFault::new(
                    "drawn-twice",
                    format!(
                        "{what} on `{layer}` lie on one another over {length} mm, near the one{at}"
                    ),
                ));
            }
        }
    }
}

/// A closed path in a form that does not hang on where it begins.
fn key(path: &Path) -> String {
    let bounds = path.bounds().map_or_else(String::new, |b| {
        let (low, high) = (place(b.min), place(b.max));
        format!("from{low} to{high}")
    });
    format!(
        "{bounds}, area {}",
        jigless_model::units::decimal(path.area().abs(), 1)
    )
}

/// Keeps the first few faults of a kind and counts the others.
fn shorten(faults: &mut Vec<InspectionFault>) {
    let mut counts: BTreeMap<&'static str, usize> = BTreeMap::new();
    let mut kept = Vec::new();
    for fault in faults.drain(..) {
        let count = counts.entry(fault.code).or_insert(0);
        *count += 1;
        if *count <= REPORTED {
            kept.push(fault);
        }
    }
    for (code, count) in counts {
        if count > REPORTED {
            kept.push(InspectionFault::new(
                code,
                format!("and {} more", count - REPORTED),
            ));
        }
    }
    *faults = kept;
}
