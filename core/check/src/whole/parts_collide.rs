//! Parts that run into each other.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;

use super::TOLERANCE;
use crate::report::Owner;
use crate::solid::{joined, shared};
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("parts-collide"),
    name: "two parts that are in one space",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "the wood of every two pieces that have places, without what is cut, milled or bevelled away; holes are \
        left out",
    limit: None,
    formula: Some(
        "the overlap of two boxes is cut wherever wood may begin or end, and each cell is looked at",
    ),
    source: &[Source::Note(
        "elementary; overlaps below 0.005 mm only touch",
    )],
    explanation: "Two panels cannot be in one place: one of them is too long, stands wrong, or misses its groove.",
    example: "shelf: {place: {at: [15, 200, 0], height: back}}   # beside a side 18 thick",
    run,
};

/// So many are reported; who has more has them for one reason, and all pairs of thousands of parts take minutes.
const MOST_REPORTED: usize = 1000;

fn run(scene: &Scene, report: &mut Report) {
    let solids = &scene.assembled.solids;
    let unit = report.unit();
    let mut reported = 0;
    for (index, one) in solids.iter().enumerate() {
        let near = scene.assembled.near(one.bounds).into_iter();
        for other in near
            .filter(|other| *other > index)
            .map(|other| &solids[other])
        {
            if !one.bounds.overlaps(other.bounds, TOLERANCE) {
                continue;
            }
            let both = |point| one.contains(point) && other.contains(point);
            let breaks = joined(one.breaks(), &other.breaks());
            let Some(cell) = shared(one.bounds.common(other.bounds), &breaks, both, TOLERANCE)
            else {
                continue;
            };
            let (part, with) = (&one.workpiece.part, &other.workpiece.part);
            let sizes = [0, 1, 2].map(|axis| unit.show(cell.size(axis)));
            let least = [0, 1, 2].map(|axis| cell.size(axis));
            let least = least.into_iter().fold(f64::INFINITY, f64::min);
            let finding = report
                .finding(
                    part.span,
                    format!(
                        "`{}` and `{}` are both in a space {} wide, {} high and {} deep at {}, {}, {} of the assembly",
                        part.id,
                        with.id,
                        sizes[0],
                        sizes[1],
                        sizes[2],
                        unit.show(cell.min[0]),
                        unit.show(cell.min[1]),
                        unit.show(cell.min[2])
                    ),
                )
                .label(with.span, "the other part")
                .fix(format!(
                    "move or shorten one of them by {}, or join them with a housing, groove, rebate or half lap",
                    unit.show(least)
                ));
            report.add(&[Owner::Part(part), Owner::Part(with)], finding);
            reported += 1;
            if reported == MOST_REPORTED {
                return;
            }
        }
    }
}
