//! The work on single parts, before anything is put together.

use jigless_model::caution::Caution;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::{
    AngledBore, ContourSide, Depth, Drill, EdgeDrill, MillArea, Mouth, Operation, Work,
};
use jigless_model::plan::Part;
use jigless_model::side::Face;
use jigless_model::workpiece::Workpiece;
use jigless_words::{StepWords, said};

use crate::pieces::Wording;
use crate::step::{Phase, WorkStep};

/// The deepest single pass that a hand-held router is asked for, in millimetres (common practice, no source).
const PASS: f64 = 4.0;

/// A step for each part that has work on it, in the order of the plan; the two of a handed pair share one.
pub(crate) fn steps(wording: &Wording) -> Vec<WorkStep> {
    let workpieces = wording.workpieces.iter();
    let described = workpieces.filter(|w| !w.part.is_mirrored());
    described
        .filter_map(|workpiece| shape(wording, workpiece))
        .collect()
}

fn shape(wording: &Wording, workpiece: &Workpiece) -> Option<WorkStep> {
    let (part, words) = (&workpiece.part, wording.steps());
    let mut all = wording.workpieces.iter();
    let other = part
        .pair
        .as_ref()
        .and_then(|pair| all.find(|w| w.part.id == pair.other));
    let titles: Vec<String> = std::iter::once(workpiece)
        .chain(other)
        .map(|w| w.part.title.clone())
        .collect();
    let mut step = WorkStep::new(
        Phase::Shape,
        format!("work-{}", part.id),
        said(words.work_on, &[&wording.words().listed(&titles)]),
    );
    let both = std::iter::once(workpiece).chain(other);
    step.pieces = both
        .map(|w| wording.pieces(&w.part, w.part.count))
        .collect();
    let mut shaping = Shaping {
        wording,
        part,
        step,
    };
    shaping.all(&workpiece.operations);
    if shaping.step.acts.is_empty() {
        return None;
    }
    if let Some(other) = other {
        shaping.act(said(words.mirror_image, &[&other.part.title, &part.title]));
    }
    let mut step = shaping.step;
    step.checks.push(words.all_ticked.to_owned());
    step.tools.dedup();
    Some(step)
}

struct Shaping<'a> {
    wording: &'a Wording<'a>,
    part: &'a Part,
    step: WorkStep,
}

impl<'a> Shaping<'a> {
    fn words(&self) -> &'a StepWords {
        &self.wording.words().steps
    }

    fn show(&self, mm: f64) -> String {
        self.wording.length(mm)
    }

    /// An angle in degrees, from radians.
    fn degrees(&self, radians: f64, decimals: usize) -> String {
        self.wording.words().decimal(radians.to_degrees(), decimals)
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

    /// `inside face`; the author's own word for it where there is one.
    fn face(&self, face: Face) -> String {
        let name = self.wording.words().drawing.face(face);
        match self.part.face_label(face) {
            Some(label) => format!("{name} ({label})"),
            None => name.to_owned(),
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
                let named = if labels.is_empty() {
                    String::new()
                } else {
                    format!(": {}", self.wording.words().listed(&labels))
                };
                let act = said(self.words().pencil_lines, &[&self.face(face), &named]);
                self.act(act);
            }
        }
    }

    fn area(&mut self, area: &MillArea, operation: &Operation) {
        let size = area.outline.bounds().map_or_else(String::new, |bounds| {
            let (width, height) = (bounds.width(), bounds.height());
            said(self.words().by, &[&self.show(width), &self.show(height)])
        });
        let passes = (area.depth / PASS - 1e-9).ceil().max(1.0);
        let passes = if passes > 1.0 {
            said(self.words().in_passes, &[&passes.to_string()])
        } else {
            String::new()
        };
        let label = label(operation);
        let kind = self.wording.words().things.area(area.kind);
        let (face, depth) = (self.face(area.face), self.show(area.depth));
        self.act(said(
            self.words().rout,
            &[kind, &area.id, &label, &face, &size, &depth, &passes],
        ));
        self.with(self.words().router_guide, Caution::Router);
        let feature = operation
            .origin
            .feature
            .and_then(|number| self.part.features.get(number));
        let facts = feature
            .map(|feature| feature.work.facts.as_slice())
            .unwrap_or_default();
        for fact in facts {
            if let Fact::Receives(received) = fact
                && let Some(other) = self.wording.plan.part(&received.part.value)
            {
                let check = said(self.words().edge_fits, &[&other.title, &area.id]);
                self.step.checks.push(check);
            }
        }
    }

    fn drills(&mut self, group: &[(&Drill, &Operation)]) {
        let Some((drill, operation)) = group.first() else {
            return;
        };
        let ids: Vec<&str> = group.iter().map(|(drill, _)| drill.id.as_str()).collect();
        let words = self.words();
        let how = match drill.depth {
            Depth::Through => words.right_through.to_owned(),
            Depth::Blind(depth) => said(words.deep_by_stop, &[&self.show(depth)]),
        };
        let mouth = match drill.mouth {
            None => String::new(),
            Some(Mouth::Countersink { diameter, angle }) => said(
                words.then_countersink,
                &[&self.show(diameter), &self.degrees(angle, 1)],
            ),
            Some(Mouth::Counterbore { diameter, depth }) => said(
                words.counterbore_before,
                &[&self.show(diameter), &self.show(depth)],
            ),
        };
        let (ids, label) = (ranges(&ids, words), label(operation));
        let (face, diameter) = (self.face(drill.face), self.show(drill.diameter));
        self.act(said(
            words.drill,
            &[&ids, &label, &face, &diameter, &how, &mouth],
        ));
        self.with(said(words.bit, &[&diameter]), Caution::Drill);
    }

    fn pockets(&mut self, group: &[(&AngledBore, &Operation)]) {
        let Some((bore, operation)) = group.first() else {
            return;
        };
        let ids: Vec<&str> = group.iter().map(|(bore, _)| bore.id.as_str()).collect();
        let words = self.words();
        let (ids, label, face) = (ranges(&ids, words), label(operation), self.face(bore.face));
        let [diameter, shoulder, pilot] =
            [bore.diameter, bore.shoulder, bore.pilot].map(|mm| self.show(mm));
        let angle = self.degrees(bore.angle, 1);
        self.act(said(
            words.drill_pockets,
            &[&ids, &label, &face, &diameter, &angle, &shoulder, &pilot],
        ));
        self.with(said(words.pocket_bit, &[&diameter]), Caution::Drill);
    }

    fn edge_holes(&mut self, group: &[(&EdgeDrill, &Operation)]) {
        let Some((hole, operation)) = group.first() else {
            return;
        };
        let ids: Vec<&str> = group.iter().map(|(hole, _)| hole.id.as_str()).collect();
        let words = self.words();
        let (ids, label) = (ranges(&ids, words), label(operation));
        let edge = self.wording.words().drawing.edge(hole.edge);
        let [diameter, depth, from_front] =
            [hole.diameter, hole.depth, hole.from_front].map(|mm| self.show(mm));
        self.act(said(
            words.drill_edge,
            &[&ids, &label, edge, &diameter, &depth, &from_front],
        ));
        self.with(said(words.bit, &[&diameter]), Caution::Drill);
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
                        self.act(self.words().cut_outline.to_owned());
                        self.with(self.words().jigsaw, Caution::Saw);
                    }
                }
            }
        }
        if openings > 0 {
            let words = self.words();
            let count = self
                .wording
                .words()
                .counted(openings, words.opening, words.openings);
            self.act(said(words.cut_out, &[&count]));
            self.with(words.jigsaw, Caution::Saw);
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
                let edge = self.wording.words().drawing.edge(bevel.edge);
                let angle = self.degrees(bevel.angle.abs(), 2);
                let face = self.face(shorter);
                self.act(said(self.words().saw_bevel, &[edge, &angle, &face]));
                self.with(self.words().tilting_saw, Caution::Saw);
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
fn ranges(ids: &[&str], words: &StepWords) -> String {
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
    let runs = runs.into_iter().map(|run| match run.as_slice() {
        [first, _, .., last] => said(words.range, &[first, last]),
        few => few.join(", "),
    });
    runs.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::ranges;
    use jigless_words::StepWords;

    #[test]
    fn runs_of_short_names_are_drawn_together() {
        assert_eq!(
            ranges(&["H1", "H2", "H3", "H7"], &StepWords::ENGLISH),
            "H1 to H3, H7"
        );
        assert_eq!(ranges(&["E4", "E5"], &StepWords::ENGLISH), "E4, E5");
    }
}
