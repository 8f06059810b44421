//! What changed from one plan to another, part by part, in words with numbers.

use std::collections::BTreeMap;

use jigless_model::geom::{Path, Point};
use jigless_model::operation::{
    AngledBore, ContourSide, Drill, EdgeDrill, MillArea, Operation, Work,
};
use jigless_model::plan::Plan;
use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;

/// Lengths that differ by less are the same, in millimetres: what shows with two decimals.
const SAME: f64 = 0.005;

/// What became of one part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartChange {
    /// The part.
    pub part: String,
    /// What became of it.
    pub kind: ChangeKind,
    /// What changed, a line each: `width 564.0 to 564.8 mm`.
    pub lines: Vec<String>,
}

/// What became of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChangeKind {
    /// It was not there before.
    Added,
    /// It is no longer there.
    Removed,
    /// It is there and other than before.
    Changed,
}

/// Compares two plans with their parts, in the unit of the second. Parts come in the order of the second plan, those
/// that it lacks at the end. Parts that have not changed are left out.
pub fn compare(before: (&Plan, &[Workpiece]), after: (&Plan, &[Workpiece])) -> Vec<PartChange> {
    let unit = after.0.units;
    let by_id = |all: &'_ [Workpiece]| -> BTreeMap<String, usize> {
        let ids = all.iter().enumerate();
        ids.map(|(index, w)| (w.part.id.clone(), index)).collect()
    };
    let (olds, news) = (by_id(before.1), by_id(after.1));
    let mut changes = Vec::new();
    for new in after.1 {
        let id = new.part.id.clone();
        let Some(old) = olds.get(&id).map(|index| &before.1[*index]) else {
            let lines = vec![size(new, unit)];
            changes.push(PartChange {
                part: id,
                kind: ChangeKind::Added,
                lines,
            });
            continue;
        };
        let lines = lines(old, new, unit);
        if !lines.is_empty() {
            changes.push(PartChange {
                part: id,
                kind: ChangeKind::Changed,
                lines,
            });
        }
    }
    for old in before.1 {
        let id = old.part.id.clone();
        if !news.contains_key(&id) {
            let lines = vec![size(old, unit)];
            changes.push(PartChange {
                part: id,
                kind: ChangeKind::Removed,
                lines,
            });
        }
    }
    changes
}

fn size(workpiece: &Workpiece, unit: Unit) -> String {
    let part = &workpiece.part;
    format!("{} by {}", unit.show(part.width), unit.show(part.height))
}

fn lines(old: &Workpiece, new: &Workpiece, unit: Unit) -> Vec<String> {
    let (a, b) = (&old.part, &new.part);
    let mut lines = Vec::new();
    for (what, from, to) in [
        ("width", a.width, b.width),
        ("height", a.height, b.height),
        ("thickness", a.thickness(), b.thickness()),
    ] {
        if (from - to).abs() >= SAME {
            lines.push(format!("{what} {} to {}", unit.show(from), unit.show(to)));
        }
    }
    for (what, from, to) in [
        ("stock", &a.stock.id, &b.stock.id),
        ("title", &a.title, &b.title),
    ] {
        if from != to {
            lines.push(format!("{what} {from} to {to}"));
        }
    }
    if a.count != b.count {
        lines.push(format!("count {} to {}", a.count, b.count));
    }
    lines.extend(work_lines(&old.operations, &new.operations, unit));
    lines
}

/// Whether work is of one kind.
type IsKind = fn(&Work) -> bool;

/// The work that changed: by its short name where it keeps one, and counted where it does not.
fn work_lines(old: &[Operation], new: &[Operation], unit: Unit) -> Vec<String> {
    let mut lines = Vec::new();
    let named = |all: &[Operation]| -> Vec<(String, Operation)> {
        all.iter()
            .filter_map(|operation| Some((name_of(&operation.work)?, operation.clone())))
            .collect()
    };
    let (before, after) = (named(old), named(new));
    for (name, operation) in &after {
        match before.iter().find(|(other, _)| other == name) {
            None => lines.push(format!(
                "{name} added: {}",
                described(&operation.work, unit)
            )),
            Some((_, was)) => lines.extend(moved(name, &was.work, &operation.work, unit)),
        }
    }
    for (name, operation) in &before {
        if !after.iter().any(|(other, _)| other == name) {
            lines.push(format!(
                "{name} taken away: {}",
                described(&operation.work, unit)
            ));
        }
    }
    let unnamed = |all: &[Operation], kind: fn(&Work) -> bool| -> Vec<String> {
        all.iter()
            .filter(|o| kind(&o.work))
            .map(|o| described(&o.work, unit))
            .collect()
    };
    let kinds: [(&str, IsKind); 3] = [
        ("the contour", |work| matches!(work, Work::CutContour(_))),
        ("pencil marks", |work| matches!(work, Work::Mark(_))),
        ("bevels", |work| matches!(work, Work::Bevel(_))),
    ];
    for (what, kind) in kinds {
        let (from, to) = (unnamed(old, kind), unnamed(new, kind));
        if from != to {
            lines.push(format!("{what} changed"));
        }
    }
    lines
}

fn name_of(work: &Work) -> Option<String> {
    Some(match work {
        Work::Drill(Drill { id, .. }) => format!("hole {id}"),
        Work::AngledBore(AngledBore { id, .. }) => format!("pocket {id}"),
        Work::MillArea(MillArea { id, kind, .. }) => format!("{} {id}", kind.name()),
        Work::EdgeDrill(EdgeDrill { id, .. }) => format!("edge hole {id}"),
        Work::CutContour(_) | Work::Mark(_) | Work::Bevel(_) => return None,
    })
}

/// How far something moved, and what else became of it.
fn moved(name: &str, was: &Work, is: &Work, unit: Unit) -> Option<String> {
    let (from, to) = (form(was, unit), form(is, unit));
    let mut said = Vec::new();
    if let (Some(a), Some(b)) = (place(was), place(is)) {
        let step = b - a;
        for (distance, ahead, behind) in [(step.x, "right", "left"), (step.y, "up", "down")] {
            if distance.abs() >= SAME {
                let way = if distance > 0.0 { ahead } else { behind };
                said.push(format!("{} {way}", unit.show(distance.abs())));
            }
        }
    }
    match (said.is_empty(), from == to) {
        (true, true) => None,
        (false, true) => Some(format!("{name} moved {}", said.join(" and "))),
        (true, false) => Some(format!("{name}: {from} to {to}")),
        (false, false) => Some(format!(
            "{name} moved {}; {from} to {to}",
            said.join(" and ")
        )),
    }
}

/// Where work on a face is, if it is at one place: the centre of a hole, the lower left corner of an area.
fn place(work: &Work) -> Option<Point> {
    match work {
        Work::Drill(drill) => Some(drill.centre),
        Work::AngledBore(bore) => Some(bore.entry),
        Work::MillArea(area) => area.outline.bounds().map(|bounds| bounds.min),
        Work::EdgeDrill(_) | Work::CutContour(_) | Work::Mark(_) | Work::Bevel(_) => None,
    }
}

/// Work with its sizes and its place.
fn described(work: &Work, unit: Unit) -> String {
    let form = form(work, unit);
    match place(work) {
        Some(at) => format!("{form} at {}, {}", unit.show(at.x), unit.show(at.y)),
        None => form,
    }
}

/// Work with its sizes; its place only where [`place`] knows none.
fn form(work: &Work, unit: Unit) -> String {
    let show = |mm: f64| unit.show(mm);
    let sizes = |path: &Path| {
        let bounds = path.bounds();
        bounds.map_or_else(String::new, |b| {
            format!("{} by {}", show(b.width()), show(b.height()))
        })
    };
    match work {
        Work::Drill(drill) => {
            let depth = match drill.depth {
                jigless_model::operation::Depth::Through => "through".to_owned(),
                jigless_model::operation::Depth::Blind(depth) => format!("{} deep", show(depth)),
            };
            let mouth = drill.mouth.map_or_else(String::new, |mouth| {
                format!(", mouth {}", show(mouth.diameter()))
            });
            format!(
                "{} {depth}{mouth}, {}",
                show(drill.diameter),
                drill.face.name()
            )
        }
        Work::AngledBore(bore) => format!(
            "{} pocket through the {} edge, {}",
            show(bore.diameter),
            bore.edge.name(),
            bore.face.name()
        ),
        Work::MillArea(area) => format!(
            "{}, {} deep, {}",
            sizes(&area.outline),
            show(area.depth),
            area.face.name()
        ),
        Work::EdgeDrill(hole) => format!(
            "{} {} deep in the {} edge, {} along, {} from the front",
            show(hole.diameter),
            show(hole.depth),
            hole.edge.name(),
            show(hole.along),
            show(hole.from_front)
        ),
        Work::CutContour(cut) => {
            let side = if cut.side == ContourSide::Outer {
                "outline"
            } else {
                "opening"
            };
            let at = cut.path.bounds().map(|b| b.min).unwrap_or_default();
            format!(
                "{side} {}, around {}, at {}, {}",
                sizes(&cut.path),
                show(cut.path.length()),
                show(at.x),
                show(at.y)
            )
        }
        Work::Mark(mark) => {
            let lines: Vec<String> = mark
                .lines
                .iter()
                .map(|line| {
                    let at = line.bounds().map(|b| b.min).unwrap_or_default();
                    format!("{} at {}, {}", sizes(line), show(at.x), show(at.y))
                })
                .collect();
            let text = mark.text.as_ref().map_or("", |(_, text)| text.as_str());
            format!("{} {} {text}", mark.face.name(), lines.join(", "))
        }
        Work::Bevel(bevel) => format!(
            "{} {}",
            bevel.edge.name(),
            jigless_model::units::decimal(bevel.angle.to_degrees(), 2)
        ),
    }
}
