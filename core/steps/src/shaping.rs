//! The work on single parts, before anything is put together.

use jigless_model::caution::Caution;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::mark::Marks;
use jigless_model::operation::{
    AngledBore, ContourSide, Depth, Drill, EdgeDrill, MillArea, Mouth, Operation, Work,
};
use jigless_model::plan::{Part, Plan};
use jigless_model::side::Face;
use jigless_model::units::{Unit, decimal};
use jigless_model::workpiece::Workpiece;

use crate::pieces::{counted, listed, pieces};
use crate::step::{Phase, WorkStep};

/// The deepest single pass that a hand-held router is asked for, in millimetres (common practice, no source).
const PASS: f64 = 4.0;

/// A step for each part that has work on it, in the order of the plan; the two of a handed pair share one.
pub(crate) fn steps(plan: &Plan, workpieces: &[Workpiece], marks: &Marks) -> Vec<WorkStep> {
    let described = workpieces.iter().filter(|w| !w.part.is_mirrored());
    described
        .filter_map(|workpiece| shape(plan, workpiece, workpieces, marks))
        .collect()
}

fn shape(plan: &Plan, workpiece: &Workpiece, all: &[Workpiece], marks: &Marks) -> Option<WorkStep> {
    let part = &workpiece.part;
    let other = part
        .pair
        .as_ref()
        .and_then(|pair| all.iter().find(|w| w.part.id == pair.other));
    let titles: Vec<String> = std::iter::once(workpiece)
        .chain(other)
        .map(|w| w.part.title.clone())
        .collect();
    let mut step = WorkStep::new(
        Phase::Shape,
        format!("work-{}", part.id),
        format!("Work on {}", listed(&titles)),
    );
    let both = std::iter::once(workpiece).chain(other);
    step.pieces = both.map(|w| pieces(&w.part, marks, w.part.count)).collect();
    let mut shaping = Shaping { plan, part, step };
    shaping.all(&workpiece.operations);
    if shaping.step.acts.is_empty() {
        return None;
    }
    if let Some(other) = other {
        shaping.act(format!(
            "{} is the mirror image: work it from its own template, never from that of {}.",
            other.part.title, part.title
        ));
    }
    let mut step = shaping.step;
    step.checks.push(
        "Every hole and groove of the template is ticked, and none is on the wrong face."
            .to_owned(),
    );
    step.tools.dedup();
    Some(step)
}

struct Shaping<'a> {
    plan: &'a Plan,
    part: &'a Part,
    step: WorkStep,
}

impl Shaping<'_> {
    fn unit(&self) -> Unit {
        self.plan.units
    }

    fn show(&self, mm: f64) -> String {
        self.unit().show(mm)
    }

    fn act(&mut self, act: String) {
        self.step.acts.push(act);
    }

    /// Notes a tool and what it can do to people, once each.
    fn with(&mut self, tool: impl Into<String>, caution: Caution) {
        let tool = tool.into();
        if !self.step.tools.contains(&tool) {
            self.step.tools.push(tool);
        }
        if !self.step.cautions.contains(&caution) {
            self.step.cautions.push(caution);
        }
    }

    /// `the inside face`; the author's own word for it where there is one.
    fn face(&self, face: Face) -> String {
        match self.part.face_label(face) {
            Some(label) => format!("the {} face ({label})", face.name()),
            None => format!("the {} face", face.name()),
        }
    }

    /// All work, milled areas while the part is still whole, its shape last.
    fn all(&mut self, operations: &[Operation]) {
        self.marks(operations);
        for face in [Face::Front, Face::Back] {
            for operation in operations {
                if let Work::MillArea(area) = &operation.work
                    && area.face == face
                {
                    self.area(area, operation);
                }
            }
            let drills = alike(
                operations,
                |work| match work {
                    Work::Drill(drill) if drill.face == face => Some(drill),
                    _ => None,
                },
                |a, b| {
                    same(a.diameter, b.diameter)
                        && same_depth(a.depth, b.depth)
                        && a.mouth == b.mouth
                },
            );
            for group in drills {
                self.drills(&group);
            }
            let bores = alike(
                operations,
                |work| match work {
                    Work::AngledBore(bore) if bore.face == face => Some(bore),
                    _ => None,
                },
                |a, b| {
                    same(a.diameter, b.diameter)
                        && same(a.angle, b.angle)
                        && same(a.shoulder, b.shoulder)
                },
            );
            for group in bores {
                self.pockets(&group);
            }
        }
        let edges = alike(
            operations,
            |work| match work {
                Work::EdgeDrill(hole) => Some(hole),
                _ => None,
            },
            |a, b| {
                a.edge == b.edge
                    && same(a.diameter, b.diameter)
                    && same(a.depth, b.depth)
                    && same(a.from_front, b.from_front)
            },
        );
        for group in edges {
            self.edge_holes(&group);
        }
        self.contours(operations);
        self.bevels(operations);
    }

    fn marks(&mut self, operations: &[Operation]) {
        for face in [Face::Front, Face::Back] {
            let marks = operations
                .iter()
                .filter(|o| matches!(&o.work, Work::Mark(mark) if mark.face == face));
            let mut labels: Vec<String> = marks
                .clone()
                .filter_map(|o| o.origin.label.clone())
                .collect();
            labels.dedup();
            if marks.count() > 0 {
                let said = if labels.is_empty() {
                    String::new()
                } else {
                    format!(": {}", listed(&labels))
                };
                let act = format!("Draw the pencil lines on {}{said}.", self.face(face));
                self.act(act);
            }
        }
    }

    fn area(&mut self, area: &MillArea, operation: &Operation) {
        let size = area.outline.bounds().map_or_else(String::new, |bounds| {
            let (width, height) = (bounds.width(), bounds.height());
            format!("{} by {}", self.show(width), self.show(height))
        });
        let passes = (area.depth / PASS - 1e-9).ceil().max(1.0);
        let passes = if passes > 1.0 {
            format!(" in {passes} passes or more")
        } else {
            String::new()
        };
        let label = label(operation);
        let act = format!(
            "Rout {} {}{label} into {}: {size}, {} deep{passes}. Set the depth on a scrap of the same sheet.",
            area.kind.name(),
            area.id,
            self.face(area.face),
            self.show(area.depth)
        );
        self.act(act);
        self.with("router with a guide", Caution::Router);
        let feature = operation
            .origin
            .feature
            .and_then(|number| self.part.features.get(number));
        let facts = feature
            .map(|feature| feature.work.facts.as_slice())
            .unwrap_or_default();
        for fact in facts {
            if let Fact::Receives(received) = fact
                && let Some(other) = self.plan.part(&received.part.value)
            {
                let check = format!(
                    "The edge of {} goes into {} by hand, in the scrap first.",
                    other.title, area.id
                );
                self.step.checks.push(check);
            }
        }
    }

    fn drills(&mut self, group: &[(&Drill, &Operation)]) {
        let Some((drill, operation)) = group.first() else {
            return;
        };
        let ids: Vec<&str> = group.iter().map(|(drill, _)| drill.id.as_str()).collect();
        let how = match drill.depth {
            Depth::Through => "right through".to_owned(),
            Depth::Blind(depth) => format!("{} deep, by a stop", self.show(depth)),
        };
        let mouth = match drill.mouth {
            None => String::new(),
            Some(Mouth::Countersink { diameter, angle }) => format!(
                "; then countersink to {} at {} degrees",
                self.show(diameter),
                decimal(angle.to_degrees(), 1)
            ),
            Some(Mouth::Counterbore { diameter, depth }) => {
                format!(
                    "; the counterbore of {}, {} deep, before it",
                    self.show(diameter),
                    self.show(depth)
                )
            }
        };
        let act = format!(
            "Drill {}{} into {}: {}, {how}{mouth}.",
            ranges(&ids),
            label(operation),
            self.face(drill.face),
            self.show(drill.diameter)
        );
        self.act(act);
        let bit = format!("drill bit {}", self.show(drill.diameter));
        self.with(bit, Caution::Drill);
    }

    fn pockets(&mut self, group: &[(&AngledBore, &Operation)]) {
        let Some((bore, operation)) = group.first() else {
            return;
        };
        let ids: Vec<&str> = group.iter().map(|(bore, _)| bore.id.as_str()).collect();
        let act = format!(
            "Drill pockets {}{} into {}: {} at {} degrees to the face, down to the shoulder {} along the bit, then the \
             pilot of {} on to the edge. Try it in a scrap of the same sheet.",
            ranges(&ids),
            label(operation),
            self.face(bore.face),
            self.show(bore.diameter),
            decimal(bore.angle.to_degrees(), 1),
            self.show(bore.shoulder),
            self.show(bore.pilot)
        );
        self.act(act);
        let bit = format!(
            "stepped or plain bit {} with a guide block",
            self.show(bore.diameter)
        );
        self.with(bit, Caution::Drill);
    }

    fn edge_holes(&mut self, group: &[(&EdgeDrill, &Operation)]) {
        let Some((hole, operation)) = group.first() else {
            return;
        };
        let ids: Vec<&str> = group.iter().map(|(hole, _)| hole.id.as_str()).collect();
        let act = format!(
            "Drill {}{} into the {} edge: {}, {} deep, {} from the front face, square to the edge.",
            ranges(&ids),
            label(operation),
            hole.edge.name(),
            self.show(hole.diameter),
            self.show(hole.depth),
            self.show(hole.from_front)
        );
        self.act(act);
        let bit = format!("drill bit {}", self.show(hole.diameter));
        self.with(bit, Caution::Drill);
    }

    fn contours(&mut self, operations: &[Operation]) {
        let mut openings = 0;
        for operation in operations {
            let Work::CutContour(cut) = &operation.work else {
                continue;
            };
            match cut.side {
                ContourSide::Inner => openings += 1,
                ContourSide::Outer => {
                    let whole = self.part.width * self.part.height;
                    if (cut.path.area().abs() - whole).abs()
                        > LENGTH_TOLERANCE * (self.part.width + self.part.height)
                    {
                        self.act(
                            "Cut the outline to its shape: saw near the line, then trim to it."
                                .to_owned(),
                        );
                        self.with("jigsaw or router with a guide", Caution::Saw);
                    }
                }
            }
        }
        if openings > 0 {
            self.act(format!(
                "Cut out {}: drill a corner to begin, saw near the line, trim to it.",
                counted(openings, "opening")
            ));
            self.with("jigsaw or router with a guide", Caution::Saw);
        }
    }

    fn bevels(&mut self, operations: &[Operation]) {
        for operation in operations {
            if let Work::Bevel(bevel) = &operation.work {
                let shorter = if bevel.angle > 0.0 {
                    Face::Back
                } else {
                    Face::Front
                };
                let act = format!(
                    "Saw the {} edge off at {} degrees from square, so that {} is the shorter one.",
                    bevel.edge.name(),
                    decimal(bevel.angle.to_degrees().abs(), 2),
                    self.face(shorter)
                );
                self.act(act);
                self.with("saw with a tilting blade", Caution::Saw);
            }
        }
    }
}

fn label(operation: &Operation) -> String {
    operation
        .origin
        .label
        .as_ref()
        .map_or_else(String::new, |label| format!(" ({label})"))
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < LENGTH_TOLERANCE
}

fn same_depth(a: Depth, b: Depth) -> bool {
    match (a, b) {
        (Depth::Through, Depth::Through) => true,
        (Depth::Blind(a), Depth::Blind(b)) => same(a, b),
        _ => false,
    }
}

/// Work of one kind, that of one feature which is made with one setting together.
fn alike<'a, T>(
    operations: &'a [Operation],
    of_kind: impl Fn(&'a Work) -> Option<&'a T>,
    same: impl Fn(&T, &T) -> bool,
) -> Vec<Vec<(&'a T, &'a Operation)>> {
    let mut groups: Vec<Vec<(&T, &Operation)>> = Vec::new();
    for operation in operations {
        let Some(work) = of_kind(&operation.work) else {
            continue;
        };
        let fits = |group: &&mut Vec<(&T, &Operation)>| {
            let (first, by) = group[0];
            same(first, work) && by.origin.label == operation.origin.label
        };
        match groups.iter_mut().find(fits) {
            Some(group) => group.push((work, operation)),
            None => groups.push(vec![(work, operation)]),
        }
    }
    groups
}

/// Short names with runs of three or more drawn together: `H1 to H4, H7`.
fn ranges(ids: &[&str]) -> String {
    let number = |id: &str| id[1..].parse::<u32>().ok();
    let mut runs: Vec<Vec<&str>> = Vec::new();
    for id in ids {
        let last = runs.last().and_then(|run| run.last());
        let next = last.and_then(|last| Some(number(last)? + 1 == number(id)?));
        match runs.last_mut() {
            Some(run) if next == Some(true) => run.push(id),
            _ => runs.push(vec![id]),
        }
    }
    let said = runs.into_iter().map(|run| match run.as_slice() {
        [first, _, .., last] => format!("{first} to {last}"),
        few => few.join(", "),
    });
    said.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::ranges;

    #[test]
    fn runs_of_short_names_are_drawn_together() {
        assert_eq!(ranges(&["H1", "H2", "H3", "H7"]), "H1 to H3, H7");
        assert_eq!(ranges(&["E4", "E5"]), "E4, E5");
    }
}
