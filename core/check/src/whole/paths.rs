//! The way of angled bores and screws through the wood, against other work.

use std::collections::BTreeSet;

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Point};
use jigless_model::hardware::FittingKind;
use jigless_model::operation::{AngledBore, Operation, Work};
use jigless_model::provenance::Source;
use jigless_model::whole::Triple;

use crate::assembled::grown;
use crate::driven::{Deep, Driven, axis_of, bore_length, bored};
use crate::report::Owner;
use crate::scene::{Footprint, Void, name_of};
use crate::solid::distance;
use crate::{CheckKind, CheckedPart, Group, Report, Scene};

/// Between the places along an axis that are looked at, in millimetres.
const STEP: f64 = 0.5;
/// Axes that are no farther apart are one, in millimetres.
const ONE_AXIS: f64 = 0.75;

pub(crate) static POCKET: CheckKind = CheckKind {
    code: Code::declare("pocket-meets-work"),
    name: "a screw pocket that runs into other work",
    group: Group::Geometry,
    severity: Severity::Error,
    measures: "the whole way of an angled bore, its wide part and its pilot, against every hole, groove, rebate, recess, \
        edge hole, other pocket, opening and notch of its part",
    limit: None,
    formula: Some(
        "places every half millimetre along the axis, each with the radius of the bore there",
    ),
    source: &[Source::Elementary],
    explanation: "The bit comes out in the other work, the screw has nothing to pull on, and what the hole or slot was \
        for is in the way of the screw.",
    example: "- pocket_holes: {edge: left, at: [40]}   # and a hole of 16 at [30, 40]",
    run: pockets,
};

pub(crate) static SCREW: CheckKind = CheckKind {
    code: Code::declare("fastener-meets-work"),
    name: "a screw that runs into other work or another screw",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "the way of every screw, nail and bolt of a stated length to its tip, through all parts that have places, \
        against every hole in them that is not its own and every other screw",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
    explanation: "A screw that meets another one breaks the bit or stops short; one that comes out in a hole holds \
        nothing and blocks the hole.",
    example: "- hole: {at: [50, 50], diameter: 4.5, depth: through, screw: {length: 40, size: 4 mm, into: side}} # and a hole across in the side",
    run: screws,
};

/// A straight bore in a part: places along it, and how wide it is there.
struct Bore<'a> {
    operation: &'a Operation,
    places: Vec<(Deep, f64)>,
}

impl<'a> Bore<'a> {
    fn of_pocket(operation: &'a Operation, bore: &AngledBore, thickness: f64) -> Self {
        let radius = bore.diameter / 2.0;
        let start = -radius / bore.angle.tan();
        let length = bore_length(bore);
        let steps = ((length - start) / STEP).ceil().max(1.0);
        let places = (0..=steps as u32).map(|step| {
            let along = start + (length - start) * f64::from(step) / steps;
            let own = if along <= bore.shoulder {
                radius
            } else {
                bore.pilot / 2.0
            };
            (bored(bore, thickness, along), own)
        });
        Self {
            operation,
            places: places.collect(),
        }
    }

    fn bounds(&self) -> Option<Bounds> {
        let around = |((at, _), radius): &(Deep, f64)| Bounds::around(*at, *radius);
        self.places.iter().map(around).reduce(Bounds::union)
    }

    /// Whether it takes wood that a void has taken already.
    fn meets(&self, void: &Void, thickness: f64) -> bool {
        self.places.iter().any(|((at, depth), radius)| {
            let (low, high) = (void.low.max(0.0), void.high.min(thickness));
            low.max(depth - radius) + LENGTH_TOLERANCE < high.min(depth + radius)
                && (0.0 - radius..=thickness + radius).contains(depth)
                && off(&void.footprint, *at) + LENGTH_TOLERANCE < *radius
        })
    }
}

/// How far a point is from a footprint; 0 inside.
fn off(footprint: &Footprint, at: Point) -> f64 {
    match footprint {
        Footprint::Circle(centre, radius) => (at.distance(*centre) - radius).max(0.0),
        Footprint::Area(path) if path.contains(at) => 0.0,
        Footprint::Area(path) => path.distance_to(at),
    }
}

/// So many places are counted; pockets that lie on one another by the thousand meet by the million.
const MOST_COUNTED: usize = 1000;

fn pockets(scene: &Scene, report: &mut Report) {
    for piece in scene.pieces() {
        let mut met = Vec::new();
        for operation in &piece.workpiece.operations {
            if met.len() >= MOST_COUNTED {
                break;
            }
            if let Work::AngledBore(bore) = &operation.work {
                pocket(piece, operation, bore, &mut met);
            }
        }
        tell_pockets(piece, &met, report);
    }
}

/// A pocket and what it runs into; an opening or notch where that is nothing with a name.
type Met<'a> = (&'a Operation, Option<&'a Operation>);

fn pocket<'a>(
    piece: &CheckedPart<'a>,
    operation: &'a Operation,
    bore: &AngledBore,
    all: &mut Vec<Met<'a>>,
) {
    let part = piece.part();
    let thickness = part.thickness();
    let path = Bore::of_pocket(operation, bore, thickness);
    let Some(bounds) = path.bounds() else { return };
    for void in piece.voids_in(bounds) {
        let met = match &void.operation.work {
            Work::AngledBore(other) => {
                // Each pair once, at the later one.
                void.operation.origin.span <= operation.origin.span
                    && !std::ptr::eq(void.operation, operation)
                    && bore.id > other.id
                    && pockets_meet(bore, other, thickness)
            }
            _ => path.meets(void, thickness),
        };
        if met {
            all.push((operation, Some(void.operation)));
        }
    }
    if leaves_contour(piece, bore, &path) {
        all.push((operation, None));
    }
}

fn pockets_meet(one: &AngledBore, other: &AngledBore, thickness: f64) -> bool {
    let ends = |bore: &AngledBore| {
        let wide = [0.0, bore.shoulder].map(|along| bored(bore, thickness, along));
        let narrow = [bore.shoulder, bore_length(bore)].map(|along| bored(bore, thickness, along));
        [(wide, bore.diameter / 2.0), (narrow, bore.pilot / 2.0)]
    };
    ends(one).iter().any(|(a, r)| {
        ends(other)
            .iter()
            .any(|(b, s)| between_lines(a.map(triple), b.map(triple)) + LENGTH_TOLERANCE < r + s)
    })
}

fn triple((at, depth): Deep) -> Triple {
    [at.x, at.y, depth]
}

/// Whether a pocket comes out in an opening or notch before it comes to its edge.
fn leaves_contour(piece: &CheckedPart, bore: &AngledBore, path: &Bore) -> bool {
    let across = (bore.exit - bore.entry).left().unit();
    let thickness = piece.part().thickness();
    path.places.iter().any(|((at, depth), radius)| {
        let before_edge = at.distance(bore.exit) > 1.0;
        let in_wood = (0.0..=thickness).contains(depth);
        before_edge
            && in_wood
            && [-1.0, 0.0, 1.0].iter().any(|side| {
                let point = *at + across * (side * (radius - 0.05));
                !piece.region.contains(point)
            })
    })
}

/// One finding for each part: pockets that run into a row of holes are one mistake.
fn tell_pockets(piece: &CheckedPart, met: &[Met], report: &mut Report) {
    let Some((operation, with)) = met.first().copied() else {
        return;
    };
    let part = piece.part();
    let what = with.map_or_else(|| "an opening or notch".to_owned(), name_of);
    let more = match met.len() {
        1 => String::new(),
        MOST_COUNTED.. => format!(" (the first of {MOST_COUNTED} such places or more)"),
        many => format!(" (the first of {many} such places)"),
    };
    let mut finding = report.finding(
        operation.origin.span,
        format!(
            "`{}`: {} runs into {what}{more}",
            part.id,
            name_of(operation)
        ),
    );
    let mut owners = vec![Owner::Feature(part, operation.origin.feature)];
    if let Some(with) = with {
        finding = finding.label(with.origin.span, name_of(with));
        owners.push(Owner::Feature(part, with.origin.feature));
    }
    let around = match &operation.work {
        Work::AngledBore(bore) => bore.entry.distance(bore.exit) + bore.mouth_half_length(),
        _ => 0.0,
    };
    let finding = finding.fix(format!(
        "keep {} from the edge free of other work there, move the pockets along it, or hold the parts in another way",
        report.show(around)
    ));
    report.add(&owners, finding);
}

fn screws(scene: &Scene, report: &mut Report) {
    let mut reported = BTreeSet::new();
    for (number, (solid, driven)) in scene.driven.iter().enumerate() {
        against_holes(scene, *solid, driven, &mut reported, report);
        against_screws(scene, number, &mut reported, report);
    }
}

/// Two features that meet, each by its place in the plan and its name, in either order.
type Pair = [(jigless_model::source::Span, String); 2];

fn pair(one: &Operation, other: &Operation) -> Pair {
    let name = |operation: &Operation| {
        let label = operation.origin.label.clone().unwrap_or_default();
        (operation.origin.span, label)
    };
    let mut pair = [name(one), name(other)];
    pair.sort();
    pair
}

fn against_holes(
    scene: &Scene,
    solid: usize,
    driven: &Driven,
    reported: &mut BTreeSet<Pair>,
    report: &mut Report,
) {
    let length = driven.length.value;
    for stretch in scene.assembled.stretches(driven.head, driven.tip()) {
        let own = &scene.assembled.solids[stretch.solid];
        let piece = scene.part_of(stretch.solid);
        let frame = piece.part().frame();
        let (start, end) = (stretch.from, stretch.to.min(length));
        let steps = ((end - start) / STEP).ceil().max(1.0);
        let places = (0..=steps as u32).map(|step| {
            let along = start + (end - start) * f64::from(step) / steps;
            (own.own(driven.at(along)), driven.radius)
        });
        let bore = Bore {
            operation: driven.operation,
            places: places.collect(),
        };
        let Some(bounds) = bore.bounds() else {
            continue;
        };
        let voids = piece.voids_in(bounds);
        let is_own = |void: &Void| {
            std::ptr::eq(void.operation, bore.operation) && stretch.solid == solid
                || axis_of(void.operation, &frame).is_some_and(|(mouth, bottom, ..)| {
                    [mouth, bottom]
                        .iter()
                        .all(|(at, depth)| off_axis(driven, own.whole(*at, *depth)) <= ONE_AXIS)
                })
        };
        let own_holes: Vec<&&Void> = voids.iter().filter(|void| is_own(void)).collect();
        for void in &voids {
            let hole = matches!(void.operation.work, Work::Drill(_) | Work::EdgeDrill(_));
            if !hole || is_own(void) || !bore.meets(void, frame.thickness) {
                continue;
            }
            // Holes that run into each other have been reported as such.
            let known = own_holes.iter().any(|own| {
                own.overlap_in_depth(void) > LENGTH_TOLERANCE
                    && own.gap_to(void) < -LENGTH_TOLERANCE
            });
            if known || !reported.insert(pair(driven.operation, void.operation)) {
                continue;
            }
            let (part, other) = (scene.part_of(solid).part(), piece.part());
            let finding = report
                .finding(
                    driven.span(),
                    format!(
                        "`{}`: a {} {} long at {} runs into {} of `{}`",
                        part.id,
                        driven.what,
                        report.show(length),
                        name_of(driven.operation),
                        name_of(void.operation),
                        other.id
                    ),
                )
                .label(void.operation.origin.span, name_of(void.operation))
                .fix(format!(
                    "move one of them by {} or more, or take a shorter one",
                    report.show(driven.radius)
                ));
            report.add(
                &[
                    Owner::Feature(part, Some(driven.feature)),
                    Owner::Feature(other, void.operation.origin.feature),
                ],
                finding,
            );
        }
    }
}

fn against_screws(
    scene: &Scene,
    number: usize,
    reported: &mut BTreeSet<Pair>,
    report: &mut Report,
) {
    let (solid, driven) = &scene.driven[number];
    let own = [driven.head, driven.tip()];
    let around = grown(
        jigless_model::whole::Box3::new(own[0], own[1]),
        driven.radius,
    );
    for other in scene.driven_in(around) {
        if other <= number {
            continue;
        }
        let (other_solid, met) = &scene.driven[other];
        let line = [met.head, met.tip()];
        if between_lines(own, line) + LENGTH_TOLERANCE >= driven.radius + met.radius {
            continue;
        }
        // Both ends of a hole that is described from both sides are one.
        let same = line.iter().all(|end| off_axis(driven, *end) <= ONE_AXIS);
        // and a bolt goes into its insert.
        let inserted = [driven.kind, met.kind].contains(&FittingKind::Insert);
        if same && (solid == other_solid || inserted)
            || !reported.insert(pair(driven.operation, met.operation))
        {
            continue;
        }
        let (part, with) = (
            scene.part_of(*solid).part(),
            scene.part_of(*other_solid).part(),
        );
        let finding = report
            .finding(
                met.span(),
                format!(
                    "`{}`: a {} at {} runs into a {} at {} of `{}`",
                    with.id,
                    met.what,
                    name_of(met.operation),
                    driven.what,
                    name_of(driven.operation),
                    part.id
                ),
            )
            .label(driven.span(), "the other one")
            .fix(format!(
                "move one of them by {} or more, or take shorter ones",
                report.show(driven.radius + met.radius)
            ));
        report.add(
            &[
                Owner::Feature(with, Some(met.feature)),
                Owner::Feature(part, Some(driven.feature)),
            ],
            finding,
        );
    }
}

/// How far a point is from an endless axis.
fn off_axis(driven: &Driven, point: Triple) -> f64 {
    let from = [0, 1, 2].map(|i| point[i] - driven.head[i]);
    let along: f64 = (0..3).map(|i| from[i] * driven.toward[i]).sum();
    distance(point, driven.at(along))
}

/// The shortest distance between two straight pieces of line.
///
/// The place on each is a share from 0 to 1; the square of the distance is a convex function of the two, so its least is
/// found by going from one to the other by turns.
fn between_lines(one: [Triple; 2], other: [Triple; 2]) -> f64 {
    let at = |line: [Triple; 2], share: f64| {
        [0, 1, 2].map(|i| line[0][i] + (line[1][i] - line[0][i]) * share)
    };
    let nearest = |line: [Triple; 2], point: Triple| {
        let run = [0, 1, 2].map(|i| line[1][i] - line[0][i]);
        let square: f64 = run.iter().map(|x| x * x).sum();
        if square <= 0.0 {
            return 0.0;
        }
        let dot: f64 = (0..3).map(|i| (point[i] - line[0][i]) * run[i]).sum();
        (dot / square).clamp(0.0, 1.0)
    };
    let mut least = f64::INFINITY;
    for start in [0.0, 0.5, 1.0] {
        let mut share = start;
        for _ in 0..24 {
            let point = at(one, share);
            let on_other = at(other, nearest(other, point));
            share = nearest(one, on_other);
            least = least.min(distance(at(one, share), on_other));
        }
    }
    least
}

#[cfg(test)]
mod tests {
    use super::between_lines;

    /// Worked by hand: crossing 3 apart; side by side 4 apart; one beyond the end of the other, 3-4-5.
    #[test]
    fn lines_are_as_far_apart_as_they_are() {
        let along = [[0.0, 0.0, 0.0], [10.0, 0.0, 0.0]];
        let cases = [
            ([[5.0, -5.0, 3.0], [5.0, 5.0, 3.0]], 3.0),
            ([[2.0, 4.0, 0.0], [8.0, 4.0, 0.0]], 4.0),
            ([[13.0, 4.0, 0.0], [20.0, 4.0, 0.0]], 5.0),
        ];
        for (other, wanted) in cases {
            assert!((between_lines(along, other) - wanted).abs() < 1e-6);
            assert!((between_lines(other, along) - wanted).abs() < 1e-6);
        }
    }
}
