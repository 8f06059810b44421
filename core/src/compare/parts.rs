//! What changed in the parts of a plan: their sizes, their stock and how many there are.

use std::collections::BTreeMap;

use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;

use super::same::SAME;
use super::work::work_lines;

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

/// Parts in the order of the second plan, those that it lacks at the end. Parts that have not changed are left out.
pub(super) fn part_changes(
    before: &[Workpiece],
    after: &[Workpiece],
    unit: Unit,
) -> Vec<PartChange> {
    let by_id = |all: &'_ [Workpiece]| -> BTreeMap<String, usize> {
        let ids = all.iter().enumerate();
        ids.map(|(index, w)| (w.part.id.clone(), index)).collect()
    };
    let (olds, news) = (by_id(before), by_id(after));
    let mut changes = Vec::new();
    for new in after {
        let id = new.part.id.clone();
        let Some(old) = olds.get(&id).map(|index| &before[*index]) else {
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
    for old in before {
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
