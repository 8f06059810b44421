//! What changed in the work on a part. Numbers of holes follow their places, so work that is where it was is the same
//! whatever its number: a hole more at the beginning is one line and not a line for every hole after it.

use jigless_model::geom::{Path, Point};
use jigless_model::operation::{
    AngledBore, ContourSide, Drill, EdgeDrill, MillArea, Operation, Work,
};
use jigless_model::units::Unit;

use super::same::SAME;

/// Whether work is of one kind.
type IsKind = fn(&Work) -> bool;

/// Work with a name, and how it is described.
struct Named {
    name: String,
    work: Work,
    /// Its sizes.
    form: String,
    /// Its sizes and its place.
    described: String,
}

impl Named {
    fn all(operations: &[Operation], unit: Unit) -> Vec<Self> {
        let named = operations.iter().filter_map(|operation| {
            let work = &operation.work;
            Some(Self {
                name: name_of(work)?,
                work: work.clone(),
                form: form(work, unit),
                described: described(work, unit),
            })
        });
        named.collect()
    }

    fn is_kind_of(&self, other: &Self) -> bool {
        std::mem::discriminant(&self.work) == std::mem::discriminant(&other.work)
    }
}

/// The work that changed: what stays where it was is left out, then what keeps its name is compared, then what has the
/// same sizes, the nearest first; the rest is new or taken away.
pub(super) fn work_lines(old: &[Operation], new: &[Operation], unit: Unit) -> Vec<String> {
    let (mut before, mut after) = (Named::all(old, unit), Named::all(new, unit));
    pair_off(&mut before, &mut after, |was, is| {
        was.is_kind_of(is) && was.described == is.described
    });
    // Names by what became of them, so that a row that moved as one is told as one.
    let mut became: Vec<(String, Vec<String>)> = Vec::new();
    let mut add = |name: String, change: Option<String>| {
        let Some(change) = change else { return };
        match became.iter_mut().find(|(other, _)| *other == change) {
            Some((_, names)) => names.push(name),
            None => became.push((change, vec![name])),
        }
    };
    for (was, is) in pair_off(&mut before, &mut after, |was, is| was.name == is.name) {
        let change = moved(&was, &is, unit);
        add(is.name, change);
    }
    for (was, is) in nearest_alike(&mut before, &mut after) {
        let change = moved(&was, &is, unit);
        add(format!("{} (was {})", is.name, was.name), change);
    }
    let mut lines: Vec<String> = became
        .into_iter()
        .map(|(change, names)| format!("{} {change}", names.join(", ")))
        .collect();
    for is in &after {
        lines.push(format!("{} added: {}", is.name, is.described));
    }
    for was in &before {
        lines.push(format!("{} taken away: {}", was.name, was.described));
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

/// So many pairs are looked at; where more changed at once, a place for each says more than who went where.
const MOST_PAIRS: usize = 100_000;

/// Takes out pairs of work of the same sizes, those that are nearest to each other first.
fn nearest_alike(before: &mut Vec<Named>, after: &mut Vec<Named>) -> Vec<(Named, Named)> {
    if before.len() * after.len() > MOST_PAIRS {
        return Vec::new();
    }
    let mut near: Vec<(f64, usize, usize)> = Vec::new();
    for (i, was) in before.iter().enumerate() {
        for (j, is) in after.iter().enumerate() {
            if let (Some(from), Some(to)) = (place(&was.work), place(&is.work))
                && was.is_kind_of(is)
                && was.form == is.form
            {
                near.push((from.distance(to), i, j));
            }
        }
    }
    near.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let mut olds: Vec<Option<Named>> = before.drain(..).map(Some).collect();
    let mut news: Vec<Option<Named>> = after.drain(..).map(Some).collect();
    let mut pairs = Vec::new();
    for (_, i, j) in near {
        if olds[i].is_some() && news[j].is_some() {
            pairs.extend(olds[i].take().zip(news[j].take()));
        }
    }
    before.extend(olds.into_iter().flatten());
    after.extend(news.into_iter().flatten());
    pairs
}

/// Takes out pairs that belong together: for each of the second list, the first match of the first list that is left.
fn pair_off<T>(
    before: &mut Vec<T>,
    after: &mut Vec<T>,
    belong: impl Fn(&T, &T) -> bool,
) -> Vec<(T, T)> {
    let (mut pairs, mut rest) = (Vec::new(), Vec::new());
    for is in after.drain(..) {
        match before.iter().position(|was| belong(was, &is)) {
            Some(index) => pairs.push((before.remove(index), is)),
            None => rest.push(is),
        }
    }
    *after = rest;
    pairs
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
fn moved(was: &Named, is: &Named, unit: Unit) -> Option<String> {
    let (from, to) = (&was.form, &is.form);
    let mut said = Vec::new();
    if let (Some(a), Some(b)) = (place(&was.work), place(&is.work)) {
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
        (false, true) => Some(format!("moved {}", said.join(" and "))),
        (true, false) => Some(format!("was {from} and is {to}")),
        (false, false) => Some(format!(
            "moved {}; was {from} and is {to}",
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
