//! Evenly repeated holes, in a row or a grid.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::fact::Fact;
use jigless_model::geom::Point;
use jigless_model::source::Spanned;

use super::common::{
    COUNTERBORE, COUNTERSINK, DEPTH_OR_THROUGH, DIAMETER, FACE, INSERT, LABEL, SCREW,
};
use super::hole::Bore;
use super::{Feature, FeatureKind};
use crate::codes;
use crate::fitting::HARDWARE;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, MAX_REPEATS, Place, Shape, read_step, repeats};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "hole_row",
    summary: "evenly repeated holes, in a row or a grid",
    fields: &[
        Field::required("first", Shape::Place, "centre of the first hole"),
        Field::required("step", Shape::Step, "from each hole to the next"),
        Field::required("count", Shape::Count, "how many holes in a row"),
        Field::optional(
            "rows",
            Shape::Map(&[
                Field::required("step", Shape::Step, "from each row to the next"),
                Field::required("count", Shape::Count, "how many rows"),
            ]),
            "repeats the row, which makes a grid",
        ),
        DIAMETER,
        DEPTH_OR_THROUGH,
        FACE,
        COUNTERSINK,
        COUNTERBORE,
        HARDWARE,
        SCREW,
        INSERT,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct HoleRow {
    first: Place,
    row: Repeat,
    rows: Repeat,
    bore: Bore,
}

#[derive(Debug, Clone, Copy)]
struct Repeat {
    step: Point,
    count: u32,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let first = fields
        .required_node("first")
        .and_then(|node| Place::read(fields.context(), node));
    let row = read_repeat(fields);
    let rows = if fields.has("rows") {
        fields.map("rows").and_then(|rows| read_repeat(&rows))
    } else {
        Some(Repeat {
            step: Point::default(),
            count: 1,
        })
    };
    let bore = Bore::read(fields);
    let (row, rows) = (row?, rows?);
    let total = u64::from(row.count) * u64::from(rows.count);
    if total > u64::from(MAX_REPEATS) {
        fields.context().find(
            Finding::error(
                codes::TOO_MANY_REPEATS,
                fields.key_span("rows"),
                format!("this grid has {total} holes; one feature may have {MAX_REPEATS}"),
            )
            .fix("check the counts"),
        );
        return None;
    }
    Some(Arc::new(HoleRow {
        first: first?,
        row,
        rows,
        bore: bore?,
    }))
}

fn read_repeat(fields: &Fields) -> Option<Repeat> {
    let step = fields
        .required_node("step")
        .and_then(|node| read_step(fields.context(), node));
    let count = repeats(fields);
    let (step, count) = (step?, count?);
    if count > 1 && step.value.length() < jigless_model::geom::LENGTH_TOLERANCE {
        fields.context().find(
            Finding::error(
                codes::OUT_OF_RANGE,
                step.span,
                "the step leads nowhere: all holes would be one",
            )
            .fix("write how far the next one is: `[0, 32]`"),
        );
        return None;
    }
    Some(Repeat {
        step: step.value,
        count,
    })
}

impl Feature for HoleRow {
    fn lower(&self, out: &mut Lowering) {
        if !self.bore.fits(out) {
            return;
        }
        let first = self.first.point(&out.frame());
        for row in 0..self.rows.count {
            for hole in 0..self.row.count {
                let centre =
                    first + self.row.step * f64::from(hole) + self.rows.step * f64::from(row);
                self.bore.drill(out, Spanned::new(centre, self.first.span));
            }
        }
    }

    fn facts(&self) -> Vec<Fact> {
        self.bore.facts()
    }
}
