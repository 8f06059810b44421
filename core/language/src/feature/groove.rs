//! A groove along the width or height; a housing where it crosses the grain.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::fact::{Fact, Received, Slot};
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Point};
use jigless_model::operation::AreaKind;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

use super::common::{FACE, LABEL, RECEIVES, read_receives};
use super::{Feature, FeatureKind};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape, read_edge_distances};

pub(super) const STOP: Field = Field::optional(
    "stop",
    Shape::Map(&[
        Field::with_default(
            "start",
            Shape::Distance,
            "0",
            "distance from the left or bottom end where it begins",
        ),
        Field::with_default(
            "end",
            Shape::Distance,
            "0",
            "distance from the right or top end where it ends",
        ),
    ]),
    "keeps it away from the ends",
);

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "groove",
    summary: "a groove along the part; a housing where it crosses the grain",
    fields: &[
        Field::required(
            "along",
            Shape::Word(&["width", "height"]),
            "which way it runs",
        ),
        Field::required(
            "from",
            Shape::EdgeDistances,
            "the edge that it is measured from, and the distance to its near side: `{bottom: 8}`",
        ),
        Field::required("width", Shape::Size, "width of the groove"),
        Field::required("depth", Shape::Size, "depth from the face"),
        FACE,
        STOP,
        RECEIVES,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Groove {
    from: Spanned<Edge>,
    distance: f64,
    width: Spanned<f64>,
    depth: Spanned<f64>,
    face: Face,
    stop: Stop,
    receives: Option<Spanned<String>>,
}

/// How far something keeps away from the two ends of its run, in millimetres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stop {
    pub(super) start: f64,
    pub(super) end: f64,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let along = fields.word("along");
    let from = fields
        .required_node("from")
        .and_then(|node| read_edge_distances(fields.context(), node));
    let width = fields.length("width");
    let depth = fields.length("depth");
    let face = fields.face("face");
    let stop = read_stop(fields);
    let receives = read_receives(fields);
    let (along, from) = (along?, from?);
    let [(edge, distance)] = from.as_slice() else {
        fields.context().find(
            Finding::error(
                codes::TOO_MANY_KEYS,
                from[1].0.span,
                "a groove is measured from one edge",
            )
            .label(from[0].0.span, "already measured from here")
            .fix("keep one of them"),
        );
        return None;
    };
    // A groove along the width is so far from the top or the bottom; from left or right says nothing.
    if edge.value.is_upright() != (along.value == "height") {
        let (one, other) = if along.value == "width" {
            ("bottom", "top")
        } else {
            ("left", "right")
        };
        fields.context().find(
            Finding::error(
                codes::WRONG_END,
                edge.span,
                format!(
                    "a groove along the {} cannot be measured from the {} edge",
                    along.value,
                    edge.value.name()
                ),
            )
            .label(along.span, "which way it runs")
            .fix(format!("measure from {one} or {other}")),
        );
        return None;
    }
    Some(Arc::new(Groove {
        from: *edge,
        distance: *distance,
        width: width?,
        depth: depth?,
        face: face?.value,
        stop: stop?,
        receives: receives.ok()?,
    }))
}

/// Reads `stop`.
pub(super) fn read_stop(fields: &Fields) -> Option<Stop> {
    if !fields.has("stop") {
        return Some(Stop {
            start: 0.0,
            end: 0.0,
        });
    }
    let stop = fields.map("stop")?;
    let (start, end) = (stop.length("start"), stop.length("end"));
    Some(Stop {
        start: start?.value,
        end: end?.value,
    })
}

/// The strip of a part along an edge, from `near` to `near + width` away from it, kept away from the ends by `stop`.
pub(super) fn strip(frame: &Frame, edge: Edge, near: f64, width: f64, stop: Stop) -> Bounds {
    let run = frame.edge_length(edge);
    Bounds::new(
        frame.from_edge(edge, stop.start, near),
        frame.from_edge(edge, run - stop.end, near + width),
    )
}

/// The edges of the part that an upright box reaches.
pub(super) fn open_edges(frame: &Frame, area: Bounds) -> Vec<Edge> {
    let reaches = |edge: Edge| match edge {
        Edge::Left => area.min.x <= LENGTH_TOLERANCE,
        Edge::Right => area.max.x >= frame.width - LENGTH_TOLERANCE,
        Edge::Bottom => area.min.y <= LENGTH_TOLERANCE,
        Edge::Top => area.max.y >= frame.height - LENGTH_TOLERANCE,
    };
    Edge::ALL
        .into_iter()
        .filter(|edge| reaches(*edge))
        .collect()
}

/// Tells where stops leave nothing; gives whether something is left.
pub(super) fn stops_fit(out: &mut Lowering, edge: Spanned<Edge>, stop: Stop) -> bool {
    let run = out.frame().edge_length(edge.value);
    if stop.start + stop.end < run {
        return true;
    }
    let unit = out.unit();
    out.find(
        Finding::error(
            codes::NOTHING_LEFT,
            edge.span,
            format!(
                "stops of {} and {} leave nothing of a run of {}",
                unit.show(stop.start),
                unit.show(stop.end),
                unit.show(run)
            ),
        )
        .fix("shorten the stops"),
    );
    false
}

impl Feature for Groove {
    fn lower(&self, out: &mut Lowering) {
        let frame = out.frame();
        if !out.depth_fits(self.depth, "groove") || !stops_fit(out, self.from, self.stop) {
            return;
        }
        let area = strip(
            &frame,
            self.from.value,
            self.distance,
            self.width.value,
            self.stop,
        );
        if !area_is_inside(out, self.width.span, area, "groove") {
            return;
        }
        let open = open_edges(&frame, area);
        out.mill(
            self.width.span,
            AreaKind::Groove,
            self.face,
            jigless_model::geom::rectangle(area),
            self.depth.value,
            open,
        );
    }

    fn facts(&self) -> Vec<Fact> {
        let received = self.receives.clone().map(|part| {
            Fact::Receives(Received {
                part,
                slot: Slot::Groove,
                width: self.width,
                depth: self.depth,
                edge: None,
            })
        });
        received.into_iter().collect()
    }
}

/// Tells where an area reaches over the part; gives whether it is inside.
pub(super) fn area_is_inside(
    out: &mut Lowering,
    span: jigless_model::source::Span,
    area: Bounds,
    what: &str,
) -> bool {
    let frame = out.frame();
    let part = Bounds::of_size(frame.width, frame.height);
    if part.contains_box(area, LENGTH_TOLERANCE) {
        return true;
    }
    let unit = out.unit();
    let Point { x, y } = part.min - area.min;
    let beyond = area.max - part.max;
    let over = [
        ("left", x),
        ("bottom", y),
        ("right", beyond.x),
        ("top", beyond.y),
    ];
    let worst = over
        .into_iter()
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or(("left", 0.0));
    out.find(
        Finding::error(
            codes::AREA_OUTSIDE_PART,
            span,
            format!(
                "the {what} reaches {} over the {} edge",
                unit.show(worst.1),
                worst.0
            ),
        )
        .fix(format!(
            "move it {} away from the {} edge or make it smaller",
            unit.show(worst.1),
            worst.0
        )),
    );
    false
}
