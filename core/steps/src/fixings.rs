//! Which hardware is used where: that of joints while they are made, the rest when the piece is fitted out.

use std::collections::BTreeMap;

use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::joint::{Joint, Meeting, TOUCH, With};
use jigless_model::operation::Work;
use jigless_model::side::Edge;
use jigless_model::whole::Triple;
use jigless_model::workpiece::Workpiece;

use crate::step::{Fixing, merged};

/// A screw as the plan lists it may be this much longer or shorter than the path that was found for it, in millimetres.
const SAME_SCREW: f64 = 1.0;

/// The hardware of all parts that no step has taken yet.
pub(crate) struct Fixings {
    left: BTreeMap<String, Vec<Fitting>>,
}

impl Fixings {
    /// Everything that the parts take, over all their pieces.
    pub(crate) fn of(workpieces: &[Workpiece]) -> Self {
        let of_part = |workpiece: &Workpiece| {
            let part = &workpiece.part;
            let own = workpiece.fittings.iter().chain(&part.fittings);
            let all = own.map(|fitting| fitting.times(part.count as usize));
            (part.id.clone(), all.collect())
        };
        Self {
            left: workpieces.iter().map(of_part).collect(),
        }
    }

    /// What is left of a part.
    pub(crate) fn rest(&mut self, part: &str) -> Vec<Fixing> {
        let left = self.left.remove(part).unwrap_or_default();
        let left = left.iter().filter(|fitting| fitting.count > 0);
        merged(
            left.map(|fitting| Fixing::of(fitting, fitting.count))
                .collect(),
        )
    }

    /// Takes what a joint needs, over all pieces: of what is listed with its two parts, as many as it has screws or dowels.
    pub(crate) fn of_joint(&mut self, joint: &Joint, workpieces: &[Workpiece]) -> Vec<Fixing> {
        merged(match joint.with {
            With::Screws => self.screws(joint, FittingKind::Screw),
            With::PocketScrews => self.screws(joint, FittingKind::PocketScrew),
            With::Dowels => {
                let wanted = dowels(joint, workpieces);
                self.take(&[&joint.part, &joint.to], FittingKind::Dowel, None, wanted)
            }
            With::Bolts => {
                let mut taken = self.screws(joint, FittingKind::Bolt);
                let bolts = taken.iter().map(|fixing| fixing.count).sum();
                let ends = [&joint.part, &joint.to];
                taken.extend(self.take(&ends, FittingKind::Insert, None, bolts));
                taken
            }
            With::Glue | With::Nothing => Vec::new(),
        })
    }

    fn screws(&mut self, joint: &Joint, kind: FittingKind) -> Vec<Fixing> {
        if joint.screws.is_empty() {
            return self.take(&[&joint.part, &joint.to], kind, None, u32::MAX);
        }
        let mut taken = Vec::new();
        for screw in &joint.screws {
            // The path of a pocket screw is drawn from where it leaves its part.
            let length =
                (kind != FittingKind::PocketScrew).then(|| distance(screw.head, screw.tip));
            taken.extend(self.take(&[&screw.through], kind, length, 1));
        }
        taken
    }

    fn take(
        &mut self,
        parts: &[&String],
        kind: FittingKind,
        length: Option<f64>,
        mut wanted: u32,
    ) -> Vec<Fixing> {
        let mut taken = Vec::new();
        for part in parts {
            for fitting in self.left.get_mut(*part).into_iter().flatten() {
                let fits = length.is_none_or(|length| {
                    fitting
                        .length
                        .is_some_and(|own| (own - length).abs() <= SAME_SCREW)
                });
                let count = fitting.count.min(wanted);
                if fitting.kind == kind && fits && count > 0 {
                    taken.push(Fixing::of(fitting, count));
                    fitting.count -= count;
                    wanted -= count;
                }
            }
        }
        taken
    }
}

fn distance(a: Triple, b: Triple) -> f64 {
    (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt()
}

/// How many dowels lie in a joint: the holes into the edges of its parts that are where the two meet.
fn dowels(joint: &Joint, workpieces: &[Workpiece]) -> u32 {
    let work_of = |id: &str| workpieces.iter().find(|w| w.part.id == id);
    let in_meeting = |meeting: &Meeting| {
        let common = meeting.common();
        let ends = [(&joint.part, &meeting.part), (&joint.to, &meeting.to)];
        let holes = ends
            .into_iter()
            .filter_map(|(id, body)| Some((work_of(id)?, body)));
        holes
            .flat_map(|(workpiece, body)| {
                let [width, height, _] = body.size();
                workpiece
                    .operations
                    .iter()
                    .filter_map(move |operation| match &operation.work {
                        Work::EdgeDrill(hole) => {
                            let (x, y) = match hole.edge {
                                Edge::Left => (0.0, hole.along),
                                Edge::Right => (width, hole.along),
                                Edge::Bottom => (hole.along, 0.0),
                                Edge::Top => (hole.along, height),
                            };
                            Some(body.to_whole(x, y, hole.from_front))
                        }
                        _ => None,
                    })
            })
            .filter(|point| common.holds(*point, -TOUCH))
            .count()
    };
    joint.meetings.iter().map(in_meeting).sum::<usize>() as u32
}
