//! Sheets as a PDF. Nothing here knows of parts: it paints strokes, areas and words, in millimetres, as they come.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, TAU};

use jigless_core::export::Stamp;
use jigless_core::geom::{Arc, Path, Point, Segment};
use jigless_core::units::mm_to_points;
use printpdf::{
    BuiltinFont, Color, FontId, Greyscale, Line, LineDashPattern, LinePoint, Op, PaintMode,
    PdfDocument, PdfFontHandle, PdfPage, PdfSaveOptions, Polygon, PolygonRing, Pt, Rect, Rgb,
    TextItem, TextMatrix, WindingOrder,
};

use super::embed;
use super::finish;
use super::sheet::{Leaf, Sheet};
use crate::drawing::font::{self, Typeface};
use crate::drawing::{Ellipse, Ink, Item, Pen, Shape, Text, Turn, Weight};

/// Resource name of the embedded typeface.
const EMBEDDED: &str = "Wide";
/// Arcs up to this radius, in millimetres, are drawn in quarter circles; larger ones in eighths. A quarter circle as a
/// cubic strays 0.00027 of its radius, an eighth 0.000004.
const SMALL: f64 = 4.0;

/// A whole document.
pub(super) fn document(sheets: &[Sheet], title: &str, stamp: &Stamp) -> Result<Vec<u8>, String> {
    let mut document = PdfDocument::new(title);
    let items = || sheets.iter().flat_map(|sheet| &sheet.items);
    let wide: Vec<&str> = items()
        .filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(text.words.as_str()),
            _ => None,
        })
        .filter(|words| font::typeface(words) == Typeface::Embedded)
        .collect();
    if !wide.is_empty() {
        let subset = embed::subset(&wide)?;
        let fonts = &mut document.resources.fonts.map;
        fonts.insert(FontId(EMBEDDED.to_owned()), subset);
    }
    document.pages = sheets.iter().map(page).collect();
    let mut warnings = Vec::new();
    let raw = document.to_lopdf_document(&PdfSaveOptions::default(), &mut warnings);
    finish::finish(raw, sheets, title, stamp)
}

fn page(sheet: &Sheet) -> PdfPage {
    let full = Rect::from_wh(points(sheet.leaf.size.0), points(sheet.leaf.size.1));
    let mut brush = Brush::on(sheet.leaf);
    for item in &sheet.items {
        brush.paint(item);
    }
    PdfPage {
        media_box: full.clone(),
        trim_box: full.clone(),
        crop_box: full,
        ops: brush.ops,
    }
}

/// Paints one item after the other, and says what has changed only when it has.
struct Brush {
    leaf: Leaf,
    ops: Vec<Op>,
    pen: Option<Pen>,
    fill: Option<Ink>,
}

impl Brush {
    fn on(leaf: Leaf) -> Self {
        Self {
            leaf,
            ops: Vec::new(),
            pen: None,
            fill: None,
        }
    }

    fn paint(&mut self, item: &Item) {
        match &item.shape {
            Shape::Stroke(path, pen) => {
                self.take_up(*pen);
                let line = Line {
                    points: path_points(path, self.leaf),
                    is_closed: path.closed,
                };
                self.ops.push(Op::DrawLine { line });
            }
            Shape::Ellipse(ellipse, pen) => {
                self.take_up(*pen);
                let line = Line {
                    points: ellipse_points(ellipse, self.leaf),
                    is_closed: true,
                };
                self.ops.push(Op::DrawLine { line });
            }
            Shape::Fill(path, ink) => {
                self.dip(*ink);
                let polygon = Polygon {
                    rings: vec![PolygonRing {
                        points: path_points(path, self.leaf),
                    }],
                    mode: PaintMode::Fill,
                    winding_order: WindingOrder::NonZero,
                };
                self.ops.push(Op::DrawPolygon { polygon });
            }
            Shape::Text(text) => self.write(text),
        }
    }

    fn take_up(&mut self, pen: Pen) {
        let before = self.pen.replace(pen);
        if before.map(|p| p.ink) != Some(pen.ink) {
            self.ops.push(Op::SetOutlineColor {
                col: colour(pen.ink),
            });
        }
        if before.map(|p| p.width.to_bits()) != Some(pen.width.to_bits()) {
            self.ops.push(Op::SetOutlineThickness {
                pt: points(pen.width),
            });
        }
        if before.map(|p| p.dash) != Some(pen.dash) {
            let lengths = pen.dash.lengths().iter();
            let pattern: Vec<f32> = lengths.map(|mm| points(*mm).0).collect();
            self.ops.push(Op::SetLineDashPattern {
                dash: LineDashPattern::new(0.0, &pattern),
            });
        }
    }

    fn dip(&mut self, ink: Ink) {
        if self.fill.replace(ink) != Some(ink) {
            self.ops.push(Op::SetFillColor { col: colour(ink) });
        }
    }

    fn write(&mut self, text: &Text) {
        if text.words.is_empty() {
            return;
        }
        self.dip(text.ink);
        let font = match (font::typeface(&text.words), text.weight) {
            (Typeface::Embedded, _) => PdfFontHandle::External(FontId(EMBEDDED.to_owned())),
            (Typeface::BuiltIn, Weight::Regular) => PdfFontHandle::Builtin(BuiltinFont::Helvetica),
            (Typeface::BuiltIn, Weight::Bold) => PdfFontHandle::Builtin(BuiltinFont::HelveticaBold),
        };
        let start = self.leaf.drawn(text.start());
        let (x, y) = (points(start.x), points(start.y));
        self.ops.extend([
            Op::StartTextSection,
            Op::SetFont {
                font,
                size: points(text.size),
            },
            match text.turn {
                Turn::Level => Op::SetTextCursor {
                    pos: printpdf::Point { x, y },
                },
                Turn::Up => Op::SetTextMatrix {
                    matrix: TextMatrix::Raw([0.0, 1.0, -1.0, 0.0, x.0, y.0]),
                },
            },
            Op::ShowText {
                items: vec![TextItem::Text(text.words.clone())],
            },
            Op::EndTextSection,
        ]);
    }
}

/// Millimetres as points, to a ten-thousandth: 0.00004 mm, and short in the file. Rounded before it becomes an f32.
fn points(mm: f64) -> Pt {
    Pt(((mm_to_points(mm) * 10_000.0).round() / 10_000.0) as f32)
}

fn at(leaf: Leaf, point: Point, bezier: bool) -> LinePoint {
    let point = leaf.drawn(point);
    LinePoint {
        p: printpdf::Point {
            x: points(point.x),
            y: points(point.y),
        },
        bezier,
    }
}

fn path_points(path: &Path, leaf: Leaf) -> Vec<LinePoint> {
    let corner = |point: Point| at(leaf, point, false);
    let mut list: Vec<LinePoint> = path
        .vertices
        .first()
        .map(|vertex| corner(vertex.point))
        .into_iter()
        .collect();
    let segments = path.segments().count();
    for (index, segment) in path.segments().enumerate() {
        match segment {
            // Closing the path draws the last straight side.
            Segment::Line(..) if path.closed && index + 1 == segments => {}
            Segment::Line(_, to) => list.push(corner(to)),
            Segment::Arc(arc) => push_arc(&mut list, &arc, leaf),
        }
    }
    list
}

/// An arc as cubics: the two handles of a piece of sweep `s` lie `4/3 tan(s/4)` radii along its tangents.
fn push_arc(list: &mut Vec<LinePoint>, arc: &Arc, leaf: Leaf) {
    let (centre, radius, sweep) = (arc.centre(), arc.radius(), arc.sweep());
    let largest = if radius <= SMALL {
        FRAC_PI_2
    } else {
        FRAC_PI_4
    };
    let pieces = (sweep.abs() / largest - 1e-9).ceil().max(1.0);
    let step = sweep / pieces;
    let reach = 4.0 / 3.0 * (step / 4.0).tan();
    for index in 0..pieces as usize {
        let angle = arc.start_angle() + step * index as f64;
        let (from, to) = (
            Point::polar(radius, angle),
            Point::polar(radius, angle + step),
        );
        list.push(at(leaf, centre + from + from.left() * reach, true));
        list.push(at(leaf, centre + to - to.left() * reach, true));
        list.push(at(leaf, centre + to, false));
    }
}

fn ellipse_points(ellipse: &Ellipse, leaf: Leaf) -> Vec<LinePoint> {
    let pieces = 8;
    let step = TAU / f64::from(pieces);
    let reach = 4.0 / 3.0 * (step / 4.0).tan();
    let mut list = vec![at(leaf, ellipse.point_at(0.0), false)];
    for index in 0..pieces {
        let (a, b) = (step * f64::from(index), step * f64::from(index + 1));
        list.push(at(
            leaf,
            ellipse.point_at(a) + ellipse.direction_at(a) * reach,
            true,
        ));
        list.push(at(
            leaf,
            ellipse.point_at(b) - ellipse.direction_at(b) * reach,
            true,
        ));
        list.push(at(leaf, ellipse.point_at(b), false));
    }
    list
}

fn colour(ink: Ink) -> Color {
    let share = |value: u8| (f64::from(value) / 255.0 * 1000.0).round() as f32 / 1000.0;
    if ink.is_grey() {
        Color::Greyscale(Greyscale {
            percent: share(ink.0),
            icc_profile: None,
        })
    } else {
        Color::Rgb(Rgb {
            r: share(ink.0),
            g: share(ink.1),
            b: share(ink.2),
            icc_profile: None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_core::geom::circle;

    const PLAIN: Leaf = Leaf {
        size: (210.0, 297.0),
        scale: (1.0, 1.0),
        blank: (0.0, 0.0),
    };

    fn to_mm(point: &LinePoint) -> Point {
        Point::new(f64::from(point.p.x.0), f64::from(point.p.y.0)) * (25.4 / 72.0)
    }

    fn bezier(p: &[Point], t: f64) -> Point {
        let s = 1.0 - t;
        p[0] * (s * s * s)
            + p[1] * (3.0 * s * s * t)
            + p[2] * (3.0 * s * t * t)
            + p[3] * (t * t * t)
    }

    /// Cubics stay within 0.0012 mm of every circle that is drilled or sawn in furniture.
    #[test]
    fn circles_keep_their_radius() {
        for radius in [0.5, 2.5, 4.0, 17.5, 60.0, 250.0] {
            let centre = Point::new(300.0, 300.0);
            let points: Vec<Point> = path_points(&circle(centre, radius), PLAIN)
                .iter()
                .map(to_mm)
                .collect();
            for piece in points.windows(4).step_by(3) {
                for i in 0..=20 {
                    let off = bezier(piece, f64::from(i) / 20.0).distance(centre) - radius;
                    assert!(off.abs() < 0.0012, "radius {radius}: {off}");
                }
            }
        }
    }

    #[test]
    fn an_ellipse_keeps_its_axes() {
        let ellipse = Ellipse {
            centre: Point::new(100.0, 100.0),
            half_length: 18.4,
            half_width: 4.7625,
            angle: 0.0,
        };
        let points: Vec<Point> = ellipse_points(&ellipse, PLAIN).iter().map(to_mm).collect();
        for piece in points.windows(4).step_by(3) {
            for i in 0..=20 {
                let p = bezier(piece, f64::from(i) / 20.0) - ellipse.centre;
                let on = (p.x / 18.4).hypot(p.y / 4.7625);
                assert!((on - 1.0).abs() < 1e-4, "{p:?}");
            }
        }
    }
}
