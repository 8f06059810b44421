//! A pencil line or engraving.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Path, Point, rectangle};
use jigless_model::operation::{self, Work};
use jigless_model::side::Face;
use jigless_model::source::Span;

use super::common::{FACE, LABEL};
use super::{Feature, FeatureKind};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Place, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "mark",
    summary: "a pencil line or engraving, never a cut",
    fields: &[
        Field::optional(
            "line",
            Shape::Map(&[
                Field::required("from", Shape::Place, "one end"),
                Field::required("to", Shape::Place, "the other end"),
            ]),
            "a straight line",
        ),
        Field::optional(
            "box",
            Shape::Map(&[
                Field::required("at", Shape::Place, "distance of its sides from two edges"),
                Field::required("width", Shape::Size, "size to the right"),
                Field::required("height", Shape::Size, "size upward"),
            ]),
            "a rectangle",
        ),
        Field::optional(
            "text",
            Shape::Text,
            "a text, at the middle of the line or box",
        ),
        Field::optional(
            "at",
            Shape::Place,
            "where the middle of the text goes, without line or box",
        ),
        FACE,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Mark {
    lines: Vec<Path>,
    text: Option<(Point, String)>,
    face: Face,
    span: Span,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let face = fields.face("face");
    let text = if fields.has("text") {
        Some(fields.text("text")?.value)
    } else {
        None
    };
    let (lines, middle, span) = match fields.exactly_one(&["line", "box", "at"])? {
        "line" => {
            let line = fields.map("line")?;
            let place = |key: &'static str| {
                line.required_node(key)
                    .and_then(|node| Place::read(fields.context(), node))
            };
            let (from, to) = (place("from"), place("to"));
            let (from, to) = (from?.point(frame), to?.point(frame));
            if from.distance(to) < LENGTH_TOLERANCE {
                fields.context().find(
                    Finding::error(codes::OUT_OF_RANGE, line.span, "the line has no length")
                        .fix("give its two ends different places"),
                );
                return None;
            }
            (vec![Path::line(from, to)], from.toward(to, 0.5), line.span)
        }
        "box" => {
            let fields = fields.map("box")?;
            let at = fields
                .required_node("at")
                .and_then(|node| Place::read(fields.context(), node));
            let (width, height) = (fields.length("width"), fields.length("height"));
            let (width, height) = (width?.value, height?.value);
            let corner = at?.corner_of(frame, width, height);
            let bounds = Bounds::new(corner, corner + Point::new(width, height));
            (vec![rectangle(bounds)], bounds.centre(), fields.span)
        }
        _ => {
            let at = Place::read(fields.context(), fields.node("at")?)?;
            if text.is_none() {
                fields.context().find(
                    Finding::error(
                        codes::MISSING_KEY,
                        fields.span,
                        "a mark at a point needs `text`",
                    )
                    .fix("add `text:`, or draw a `line` or a `box`"),
                );
                return None;
            }
            (Vec::new(), at.point(frame), at.span)
        }
    };
    Some(Arc::new(Mark {
        lines,
        text: text.map(|text| (middle, text)),
        face: face?.value,
        span,
    }))
}

impl Feature for Mark {
    fn lower(&self, out: &mut Lowering) {
        let frame = out.frame();
        let part = Bounds::of_size(frame.width, frame.height);
        let points = self
            .lines
            .iter()
            .flat_map(|line| line.vertices.iter().map(|v| v.point))
            .chain(self.text.iter().map(|(at, _)| *at));
        if points
            .into_iter()
            .any(|p| !part.contains(p, LENGTH_TOLERANCE))
        {
            out.find(
                Finding::error(
                    codes::MARK_OUTSIDE_PART,
                    self.span,
                    "the mark lies beyond the part's edges",
                )
                .fix(format!(
                    "keep it within {} by {}",
                    out.unit().show(frame.width),
                    out.unit().show(frame.height)
                )),
            );
            return;
        }
        let mark = operation::Mark {
            face: self.face,
            lines: self.lines.clone(),
            text: self.text.clone(),
        };
        out.push(self.span, Work::Mark(mark));
    }
}
