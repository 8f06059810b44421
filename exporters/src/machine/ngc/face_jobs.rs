//! The jobs of a face in their order, and on which layers of a drawing their operations are.

use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::Stock;
use jigless_model::side::Face;

use super::jobs::{Job, Maker, Phase};
use super::operation;
use super::order;
use super::part_on_face::PartOnFace;
use crate::machine::layers::Layer;
use crate::machine::router_options::RouterOptions;
use crate::machine::{register, through};

/// A face of a part or sheet, and what lies on it.
#[derive(Debug, Clone, Copy)]
pub(in crate::machine) struct OnFace<'a> {
    pub(in crate::machine) parts: &'a [PartOnFace<'a>],
    pub(in crate::machine) face: Face,
    /// How many faces are worked.
    pub(in crate::machine) faces: usize,
    pub(in crate::machine) stock: &'a Stock,
    /// The box of the part or sheet.
    pub(in crate::machine) own: Bounds,
    pub(in crate::machine) on_sheet: bool,
}

/// An operation of a program at one piece of its work on one part.
#[derive(Debug, Clone)]
pub(in crate::machine) struct LayerOperation {
    /// Its number in the program and on the job sheet.
    pub(in crate::machine) number: usize,
    /// The layer of the work.
    pub(in crate::machine) layer: Layer,
    /// The box around that piece of work.
    pub(in crate::machine) around: Bounds,
}

/// Diameter and places of the holes for pins that are made on a face.
pub(super) fn pins(router: &RouterOptions, on: &OnFace) -> (f64, Vec<Point>) {
    if on.faces > 1 && on.face == Face::Back {
        register::of_router(router, on.own, on.on_sheet)
    } else {
        (0.0, Vec::new())
    }
}

/// The jobs of a face in their order, in the coordinates of the program.
pub(super) fn of(router: &RouterOptions, on: &OnFace) -> Vec<Job> {
    let maker = Maker { router };
    let mut jobs = Vec::new();
    for part in on.parts {
        let view = part.workpiece.seen_from(on.face);
        jobs.extend(maker.of_view(&view).into_iter().map(|job| part.job(job)));
    }
    let (diameter, holes) = pins(router, on);
    for (number, hole) in holes.iter().enumerate() {
        let name = format!("pin {}", number + 1);
        let size = (diameter, through::depth(router, on.stock));
        jobs.extend(maker.round(name, Phase::Register, Layer::Register, *hole, size));
    }
    order::sort(&mut jobs);
    jobs
}

/// The operations of a face, once for each part and each layer that they are on. Without tools there are none.
pub(in crate::machine) fn operations_by_layer(
    router: &RouterOptions,
    on: &OnFace,
) -> Vec<LayerOperation> {
    let jobs = of(router, on);
    let mut found = Vec::new();
    for operation in operation::numbered(&jobs) {
        let mut seen: Vec<(&str, Layer)> = Vec::new();
        for job in operation.jobs {
            let own = (job.owner(), job.layer);
            if !seen.contains(&own) {
                seen.push(own);
                found.push(LayerOperation {
                    number: operation.number,
                    layer: job.layer,
                    around: job.bounds(),
                });
            }
        }
    }
    found
}
