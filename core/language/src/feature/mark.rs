//! A pencil line or engraving.

use jigless_model::diag::Finding;
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Path, Point, rectangle};
use jigless_model::operation::{self, Work};
use jigless_model::source::Span;

use super::FeatureKind;
use super::common::{Label, OnFace};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Fields, Frame, Here, KeySet, Map, Place, Size};

crate::fields! {
    struct MarkKeys {
        /// a straight line
        line: Option<Map<LineKeys>>,
        /// a rectangle
        rectangle as "box": Option<Map<BoxKeys>>,
        /// a text, at the middle of the line or box
        text: Option<String>,
        /// where the middle of the text goes, without line or box
        at: Option<Place>,
        on: OnFace,
        _label: Label,
    }
    one of "line", "box", "at";
}

crate::fields! {
    struct LineKeys {
        here: Here,
        /// one end
        from: Place,
        /// the other end
        to: Place,
    }
}

crate::fields! {
    struct BoxKeys {
        here: Here,
        /// distance of its sides from two edges
        at: Place,
        /// size to the right
        width: Size,
        /// size upward
        height: Size,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "mark",
    summary: "a pencil line or engraving, never a cut",
    fields: MarkKeys::FIELDS,
    make,
};

/// What is drawn, the middle of it, and where the plan asks for it.
struct Drawn {
    lines: Vec<Path>,
    middle: Point,
    span: Span,
}

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = MarkKeys::read(fields)?;
    let frame = out.frame();
    let Drawn {
        lines,
        middle,
        span,
    } = keys.drawn(fields, &frame)?;
    let text = keys.text.map(|text| (middle, text));
    let part = Bounds::of_size(frame.width, frame.height);
    let mut points = lines
        .iter()
        .flat_map(|line| line.vertices.iter().map(|v| v.point))
        .chain(text.iter().map(|(at, _)| *at));
    if points.any(|p| !part.contains(p, LENGTH_TOLERANCE)) {
        let (width, height) = (out.show(frame.width), out.show(frame.height));
        out.find(
            Finding::error(
                codes::MARK_OUTSIDE_PART,
                span,
                "the mark lies beyond the part's edges",
            )
            .fix(format!("keep it within {width} by {height}")),
        );
        return Some(());
    }
    let face = keys.on.face;
    let mark = operation::Mark { face, lines, text };
    out.push(span, Work::Mark(mark));
    Some(())
}

impl MarkKeys {
    fn drawn(&self, fields: &Fields, frame: &Frame) -> Option<Drawn> {
        if let Some(line) = &self.line {
            let (from, to) = (line.from.point(frame), line.to.point(frame));
            if from.distance(to) < LENGTH_TOLERANCE {
                fields.context().find(
                    Finding::error(codes::OUT_OF_RANGE, line.here, "the line has no length")
                        .fix("give its two ends different places"),
                );
                return None;
            }
            return Some(Drawn {
                lines: vec![Path::line(from, to)],
                middle: from.toward(to, 0.5),
                span: line.here,
            });
        }
        if let Some(BoxKeys {
            here,
            at,
            width,
            height,
        }) = self.rectangle
        {
            let corner = at.corner_of(frame, width, height);
            let bounds = Bounds::new(corner, corner + Point::new(width, height));
            return Some(Drawn {
                lines: vec![rectangle(bounds)],
                middle: bounds.centre(),
                span: here,
            });
        }
        if self.text.is_none() {
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
        let at = self.at?;
        Some(Drawn {
            lines: Vec::new(),
            middle: at.point(frame),
            span: at.span,
        })
    }
}
