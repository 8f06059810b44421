//! Whether what is put together is square: each rectangle with its sizes, its diagonals, and how far off they may be.
//!
//! A rectangle is two pieces that stand and two that lie, each joined to both of the others. What is out of square by an
//! angle (in radians) stays of use as long as what goes into it keeps free of the four: a thing that is `w` by `h` in an
//! opening of `W` by `H` has `W - w` left over its height and `H - h` over its width, so the angle is at most the smaller
//! of `(W - w) / h` and `(H - h) / w`. Then the diagonals differ by `2 W H / d` times the angle, where `d` is a diagonal
//! (law of cosines, first order).

use std::collections::BTreeMap;

use jigless_model::hardware::FittingKind;
use jigless_model::joint::{TOUCH, With};
use jigless_model::mark::Marks;
use jigless_model::plan::Plan;
use jigless_model::whole::{Box3, Motion};
use jigless_model::workpiece::Workpiece;
use jigless_words::{Words, said};
use serde::Serialize;

/// How much a pair of runners takes up, in millimetres over both sides (common practice, no source; the limit of the check
/// `runner-loose`).
const RUNNER_PLAY: f64 = 1.6;
/// How far diagonals may differ where nothing goes in, in millimetres for each metre of a diagonal (common practice, no
/// source).
const PER_METRE: f64 = 1.0;
/// What is smaller either way is not measured, in millimetres: no tape goes from corner to corner in it.
const SMALL: f64 = 50.0;

/// Where a rectangle is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Measured {
    /// From outside to outside.
    Outside,
    /// The opening, from inside to inside.
    Inside,
}

jigless_model::words! {
    /// From where a rectangle is seen.
    #[derive(PartialOrd, Ord, Serialize)]
    pub enum SeenFrom {
        /// From the front.
        #[serde(rename = "the front")]
        Front = "the front",
        /// From above.
        #[serde(rename = "above")]
        Above = "above",
        /// From the side.
        #[serde(rename = "the side")]
        Side = "the side",
    }
}

impl SeenFrom {
    /// The same in a language.
    pub fn in_words(self, words: &Words) -> &'static str {
        match self {
            SeenFrom::Front => words.steps.seen_from_front,
            SeenFrom::Above => words.steps.seen_from_above,
            SeenFrom::Side => words.steps.seen_from_side,
        }
    }
}

/// A rectangle that is put together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Rectangle {
    /// The pieces around it, those that stand before those that lie: mark and title.
    pub around: Vec<String>,
    /// The group that they belong to: a drawer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// Where it is measured.
    pub measured: Measured,
    /// From where it is seen.
    pub seen_from: SeenFrom,
    /// Its width, in millimetres.
    #[serde(rename = "width_mm")]
    pub width: f64,
    /// Its height, or depth where it is seen from above, in millimetres.
    #[serde(rename = "height_mm")]
    pub height: f64,
    /// Both its diagonals, in millimetres.
    #[serde(rename = "diagonal_mm")]
    pub diagonal: f64,
    /// The most by which the diagonals may differ, in millimetres.
    #[serde(rename = "most_mm")]
    pub most: f64,
    /// What that follows from.
    pub because: String,
    /// How many of them there are.
    pub count: u32,
}

/// Every rectangle of a plan, those of one group together, the outer one first.
pub fn rectangles(plan: &Plan, workpieces: &[Workpiece], words: &Words) -> Vec<Rectangle> {
    let assembly = Assembly::new(plan, workpieces, words);
    let mut found: Vec<Rectangle> = Vec::new();
    for plane in PLANES {
        let rings = assembly.rings(plane);
        for ring in &rings {
            merge(&mut found, assembly.inside(plane, ring));
        }
        let mut outer: BTreeMap<usize, Vec<&Ring>> = BTreeMap::new();
        for ring in &rings {
            outer.entry(assembly.unit[ring[0]]).or_default().push(ring);
        }
        for rings in outer.values() {
            let inner = rings.iter().map(|ring| assembly.inside(plane, ring));
            merge(&mut found, assembly.outside(plane, rings, inner));
        }
    }
    found.sort_by(|a, b| (&a.group, a.measured).cmp(&(&b.group, b.measured)));
    found
}

fn merge(found: &mut Vec<Rectangle>, one: Rectangle) {
    let same = |own: &&mut Rectangle| {
        let close = |a: f64, b: f64| (a - b).abs() <= TOUCH;
        (own.measured, own.seen_from, &own.around) == (one.measured, one.seen_from, &one.around)
            && close(own.width, one.width)
            && close(own.height, one.height)
    };
    match found.iter_mut().find(same) {
        Some(own) => {
            own.count += 1;
            if one.most < own.most {
                own.most = one.most;
                own.because = one.because;
            }
        }
        None => found.push(one),
    }
}

/// A way to look at the whole.
#[derive(Debug, Clone, Copy)]
struct Plane {
    /// The axis across, and the one upward.
    axes: [usize; 2],
    /// The axis along which it is looked.
    normal: usize,
    seen_from: SeenFrom,
}

const PLANES: [Plane; 3] = [
    Plane {
        axes: [0, 1],
        normal: 2,
        seen_from: SeenFrom::Front,
    },
    Plane {
        axes: [0, 2],
        normal: 1,
        seen_from: SeenFrom::Above,
    },
    Plane {
        axes: [2, 1],
        normal: 0,
        seen_from: SeenFrom::Side,
    },
];

/// Two pieces that stand, from the left, and two that lie, from below.
type Ring = [usize; 4];

struct Assembly<'a> {
    plan: &'a Plan,
    words: &'a Words,
    marks: Marks,
    /// The part and the box of each piece.
    pieces: Vec<(usize, Box3)>,
    /// The pieces that each is joined to.
    joined: Vec<Vec<usize>>,
    /// The unit of each piece: what is joined together, by its first piece.
    unit: Vec<usize>,
    /// The pieces of each unit.
    members: BTreeMap<usize, Vec<usize>>,
    /// Whether there are runners.
    has_runners: bool,
}

impl<'a> Assembly<'a> {
    fn new(plan: &'a Plan, workpieces: &[Workpiece], words: &'a Words) -> Self {
        let mut pieces = Vec::new();
        let mut first: BTreeMap<&str, usize> = BTreeMap::new();
        for (index, part) in plan.parts.iter().enumerate() {
            first.insert(&part.id, pieces.len());
            pieces.extend(part.bodies().iter().map(|body| (index, body.bounds())));
        }
        let mut joined = vec![Vec::new(); pieces.len()];
        let mut unit: Vec<usize> = (0..pieces.len()).collect();
        for joint in &plan.joints {
            let (Some(&part), Some(&to)) =
                (first.get(joint.part.as_str()), first.get(joint.to.as_str()))
            else {
                continue;
            };
            for meeting in &joint.meetings {
                let (a, b) = (part + meeting.part_piece, to + meeting.to_piece);
                joined[a].push(b);
                joined[b].push(a);
                if joint.with != With::Nothing || joint.housed {
                    let (a, b) = (root(&unit, a), root(&unit, b));
                    unit[a.max(b)] = a.min(b);
                }
            }
        }
        for neighbours in &mut joined {
            neighbours.sort_unstable();
            neighbours.dedup();
        }
        let unit: Vec<usize> = (0..pieces.len()).map(|piece| root(&unit, piece)).collect();
        let mut members: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (piece, unit) in unit.iter().enumerate() {
            members.entry(*unit).or_default().push(piece);
        }
        let of_work = workpieces.iter().flat_map(|w| &w.fittings);
        let of_parts = workpieces.iter().flat_map(|w| &w.part.fittings);
        let mut fittings = of_work.chain(of_parts);
        Self {
            has_runners: fittings.any(|fitting| fitting.kind == FittingKind::Runner),
            plan,
            words,
            marks: Marks::of(plan),
            pieces,
            joined,
            unit,
            members,
        }
    }

    fn bounds(&self, piece: usize) -> Box3 {
        self.pieces[piece].1
    }

    /// Pairs of pieces that stand side by side between the same two that lie, with nothing between that divides them.
    fn rings(&self, plane: Plane) -> Vec<Ring> {
        let [across, upward] = plane.axes;
        let stands = |piece: &usize| {
            let own = self.bounds(*piece);
            own.size(across) * 2.0 < own.size(upward)
        };
        let lies = |piece: &usize| {
            let own = self.bounds(*piece);
            own.size(upward) * 2.0 < own.size(across)
        };
        let mut rings = Vec::new();
        for low in (0..self.pieces.len()).filter(lies) {
            let ground = self.bounds(low).max[upward];
            for above in [true, false] {
                let edge = if above {
                    ground
                } else {
                    self.bounds(low).min[upward]
                };
                let reaches = |piece: &usize| {
                    let own = self.bounds(*piece);
                    if above {
                        own.max[upward] > edge + TOUCH
                    } else {
                        own.min[upward] < edge - TOUCH
                    }
                };
                let mut beside: Vec<usize> = self.joined[low].clone();
                beside.retain(|piece| stands(piece) && reaches(piece));
                beside.sort_by(|a, b| {
                    self.bounds(*a).min[across].total_cmp(&self.bounds(*b).min[across])
                });
                for pair in beside.windows(2) {
                    let other = self.facing(plane, low, pair, above, lies);
                    rings.extend(other.map(|other| {
                        let (low, high) = if above { (low, other) } else { (other, low) };
                        [pair[0], pair[1], low, high]
                    }));
                }
            }
        }
        rings.sort_unstable();
        rings.dedup();
        rings
    }

    /// The nearest piece that lies over (or under) another one, between the same two.
    fn facing(
        &self,
        plane: Plane,
        from: usize,
        pair: &[usize],
        above: bool,
        lies: impl Fn(&usize) -> bool,
    ) -> Option<usize> {
        let [across, upward] = plane.axes;
        let (left, right) = (self.bounds(pair[0]), self.bounds(pair[1]));
        let own = self.bounds(from);
        if right.min[across] - left.max[across] < SMALL {
            return None;
        }
        let gap = |other: &usize| {
            let other = self.bounds(*other);
            if above {
                other.min[upward] - own.max[upward]
            } else {
                own.min[upward] - other.max[upward]
            }
        };
        let shares_depth = |other: &usize| {
            let other = self.bounds(*other);
            [left, right, own]
                .iter()
                .all(|own| own.common(other).size(plane.normal) > -TOUCH)
        };
        let both = self.joined[pair[0]].iter().copied();
        both.filter(|other| self.joined[pair[1]].binary_search(other).is_ok())
            .filter(|other| lies(other) && gap(other) > -TOUCH && shares_depth(other))
            .min_by(|a, b| gap(a).total_cmp(&gap(b)))
            .filter(|other| gap(other) >= SMALL)
    }

    fn inside(&self, plane: Plane, ring: &Ring) -> Rectangle {
        let [across, upward] = plane.axes;
        let [left, right, low, high] = ring.map(|piece| self.bounds(piece));
        let free = [
            (left.max[across], right.min[across]),
            (low.max[upward], high.min[upward]),
        ];
        let size = free.map(|(from, to)| to - from);
        let diagonal = size[0].hypot(size[1]);
        let usual = PER_METRE * diagonal / 1000.0;
        let words = &self.words.steps;
        let mut most = (usual, words.no_limit.to_owned());
        let mut least = f64::INFINITY;
        for (unit, own) in self.contents(plane, ring) {
            let within = plane.axes.iter().zip(free).all(|(&axis, (from, to))| {
                own.min[axis] > from - TOUCH && own.max[axis] < to + TOUCH
            });
            if !within {
                continue;
            }
            let things = plane.axes.map(|axis| own.size(axis));
            let slides = self.runs(unit);
            let play = if slides {
                RUNNER_PLAY
            } else {
                size[0] - things[0]
            };
            let angle = (play / things[1]).min((size[1] - things[1]) / things[0]);
            if angle >= least {
                continue;
            }
            least = angle;
            let borne = 2.0 * size[0] * size[1] / diagonal * angle;
            let show = |mm| self.words.length(self.plan.units, mm);
            let template = if slides {
                words.goes_in_on_runners
            } else {
                words.goes_in
            };
            let what = said(template, &[&self.named(unit), &show(play)]);
            most = if borne < usual {
                (borne, what)
            } else {
                let put_in = [words.usual_limit, &what, &show(borne)];
                (usual, said(words.usual_and_bears, &put_in))
            };
        }
        self.rectangle(plane, ring, Measured::Inside, size, most)
    }

    /// The outer one of a unit: what the rings reach to, and as square as the openings in it ask for.
    fn outside(
        &self,
        plane: Plane,
        rings: &[&Ring],
        inner: impl Iterator<Item = Rectangle>,
    ) -> Rectangle {
        let [across, upward] = plane.axes;
        let every = |place: usize| rings.iter().map(move |ring| ring[place]);
        let by = |axis: usize| {
            move |a: &usize, b: &usize| {
                let middle = |piece: usize| self.bounds(piece).centre()[axis];
                middle(*a).total_cmp(&middle(*b))
            }
        };
        let ring: Ring = [
            every(0).min_by(by(across)).unwrap_or(0),
            every(1).max_by(by(across)).unwrap_or(0),
            every(2).min_by(by(upward)).unwrap_or(0),
            every(3).max_by(by(upward)).unwrap_or(0),
        ];
        let boxes = ring.map(|piece| self.bounds(piece));
        let all = boxes.into_iter().fold(boxes[0], Box3::union);
        let size = [all.size(across), all.size(upward)];
        let diagonal = size[0].hypot(size[1]);
        // All lean by one angle, and the opening that bears least of it decides.
        let least = inner
            .map(|own| {
                let angle = own.most * own.diagonal / (2.0 * own.width * own.height);
                (angle, own.because)
            })
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let (angle, because) = least.unwrap_or_else(|| (0.0, self.words.steps.no_limit.to_owned()));
        let most = (2.0 * size[0] * size[1] / diagonal * angle, because);
        self.rectangle(plane, &ring, Measured::Outside, size, most)
    }

    fn rectangle(
        &self,
        plane: Plane,
        ring: &Ring,
        measured: Measured,
        size: [f64; 2],
        (most, because): (f64, String),
    ) -> Rectangle {
        let part = |piece: usize| &self.plan.parts[self.pieces[piece].0];
        Rectangle {
            around: ring
                .iter()
                .map(|piece| {
                    format!(
                        "{} {}",
                        self.marks.mark(&part(*piece).id),
                        part(*piece).title
                    )
                })
                .collect(),
            group: part(ring[0]).group.clone(),
            measured,
            seen_from: plane.seen_from,
            width: size[0],
            height: size[1],
            diagonal: size[0].hypot(size[1]),
            most,
            because,
            count: 1,
        }
    }

    /// What is not joined to a ring and stands in its depth: each unit by its first piece, with the box of what of it
    /// stands there.
    fn contents(&self, plane: Plane, ring: &Ring) -> Vec<(usize, Box3)> {
        let own = self.unit[ring[0]];
        let [left, right, low, high] = ring.map(|piece| self.bounds(piece));
        let all = left.union(right).union(low.union(high));
        let depth = left.common(right);
        let stands = |bounds: &Box3| bounds.common(depth).size(plane.normal) > TOUCH;
        let others = self.members.iter().filter(|(unit, members)| {
            **unit != own
                && members
                    .iter()
                    .any(|piece| self.bounds(*piece).overlaps(all, TOUCH))
        });
        others
            .filter_map(|(unit, members)| {
                let boxes = members
                    .iter()
                    .map(|piece| self.bounds(*piece))
                    .filter(stands);
                Some((*unit, boxes.reduce(Box3::union)?))
            })
            .collect()
    }

    /// Whether a unit slides on runners.
    fn runs(&self, unit: usize) -> bool {
        let parts = || {
            self.members[&unit]
                .iter()
                .map(|piece| self.pieces[*piece].0)
        };
        parts().any(|part| self.plan.parts[part].motion == Some(Motion::Slides)) && self.has_runners
    }

    fn named(&self, unit: usize) -> String {
        let part = &self.plan.parts[self.pieces[unit].0];
        part.group
            .clone()
            .unwrap_or_else(|| format!("{} {}", self.marks.mark(&part.id), part.title))
    }
}

/// The first piece of the unit that a piece belongs to.
fn root(unit: &[usize], piece: usize) -> usize {
    let mut at = piece;
    while unit[at] != at {
        at = unit[at];
    }
    at
}
