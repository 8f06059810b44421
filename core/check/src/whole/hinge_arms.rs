//! Parts that stand between a hinge plate and the edge that its hinge comes round.

use jigless_model::fact::Fact;
use jigless_model::geom::Point;
use jigless_model::operation::{Drill, Work};
use jigless_model::plan::Part;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Span;

use crate::report::Owner;
use crate::solid::Solid;
use crate::{Report, Scene};

/// How far off the face another part is looked for, in millimetres.
pub(super) const OFF: f64 = 0.25;
/// How far apart the places are at which the way of a hinge is looked at, in millimetres: no batten is thinner.
const STEP: f64 = 2.0;

/// Reports each hinge of a piece that has one of `others`, which stand on it, in its way from the door to its plate.
pub(super) fn run(scene: &Scene, number: usize, others: &[usize], report: &mut Report) {
    let solid = &scene.assembled.solids[number];
    let part = &solid.workpiece.part;
    for (index, feature) in part.features.iter().enumerate() {
        // Features speak of the part that the plan describes.
        let edge = feature.work.facts.iter().find_map(|fact| match fact {
            Fact::HingePlates { edge, .. } if part.is_mirrored() => Some(edge.mirrored()),
            Fact::HingePlates { edge, .. } => Some(*edge),
            _ => None,
        });
        let Some(edge) = edge else {
            continue;
        };
        for drill in holes(solid, index) {
            let mut others = others.iter().map(|other| &scene.assembled.solids[*other]);
            let stands = others.find(|other| is_in_way(solid, other, drill, edge));
            if let Some(other) = stands {
                tell(
                    part,
                    (index, feature.span),
                    &other.workpiece.part,
                    edge,
                    report,
                );
            }
        }
    }
}

fn holes<'s>(solid: &'s Solid, feature: usize) -> impl Iterator<Item = &'s Drill> {
    let operations = solid.workpiece.operations.iter();
    let own = operations.filter(move |operation| operation.origin.feature == Some(feature));
    own.filter_map(|operation| match &operation.work {
        Work::Drill(drill) => Some(drill),
        _ => None,
    })
}

/// Whether another piece stands on the face between a hole and the edge. Where it stands on the hole itself, the hole is
/// covered, which is told elsewhere.
fn is_in_way(solid: &Solid, other: &Solid, drill: &Drill, edge: Edge) -> bool {
    let part = &solid.workpiece.part;
    let at = drill.centre;
    let foot = match edge {
        Edge::Left => Point::new(0.0, at.y),
        Edge::Right => Point::new(part.width, at.y),
        Edge::Bottom => Point::new(at.x, 0.0),
        Edge::Top => Point::new(at.x, part.height),
    };
    let depth = match drill.face {
        Face::Front => -OFF,
        Face::Back => part.thickness() + OFF,
    };
    let stands_at = |point: Point| other.contains(solid.whole(point, depth));
    let run = at.distance(foot);
    let beyond = drill.diameter / 2.0;
    let steps = ((run - beyond) / STEP).ceil().clamp(0.0, 200.0) as u32;
    let places = (0..steps).map(|step| {
        at.toward(
            foot,
            (beyond + f64::from(step) * STEP + STEP / 2.0).min(run - 0.1) / run,
        )
    });
    let mut places = places;
    !stands_at(at) && places.any(stands_at)
}

fn tell(part: &Part, (index, span): (usize, Span), other: &Part, edge: Edge, report: &mut Report) {
    let finding = report
        .finding(
            span,
            format!(
                "`{}`: a hinge comes round the {} edge to its plate where `{}` stands",
                part.id,
                edge.name(),
                other.id
            ),
        )
        .label(other.span, "the part that stands in its way")
        .fix("move the hinge along the edge beside it, or set that part back behind the plate");
    report.add(
        &[Owner::Feature(part, Some(index)), Owner::Part(other)],
        finding,
    );
}
