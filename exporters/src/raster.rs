//! A drawing as PNG (ISO/IEC 15948). Only here is a drawing made of dots.

use jigless_model::geom::{Bounds, Point};
use tiny_skia::{
    Color, FillRule, LineCap, LineJoin, Paint, PathBuilder, Pixmap, Stroke, StrokeDash, Transform,
};
use ttf_parser::OutlineBuilder;

use crate::drawing::book_face::BookFace;
use crate::drawing::{Ink, Item, ItemShape, Pen, Role, TextLine, Turn, Weight};

/// How far straight pieces lie from an arc, in dots.
const CHORD_ERROR: f64 = 0.1;
/// Straight pieces of an ellipse.
const ELLIPSE: u32 = 72;
/// Millimetres in an inch.
const INCH: f64 = 25.4;

/// A whole file, white where nothing is drawn, with so many dots to an inch.
///
/// # Errors
/// When the picture has no size, or more dots than a file can have.
pub(crate) fn document(canvas: Bounds, items: &[Item], dpi: u32) -> Result<Vec<u8>, String> {
    let mut sheet = Sheet::new(canvas, dpi)?;
    sheet.pixmap.fill(Color::WHITE);
    for role in Role::ALL {
        for item in items.iter().filter(|item| item.role == role) {
            sheet.add(item);
        }
    }
    sheet.encoded(dpi)
}

/// A whole file of areas on a ground, each over those before it, with so many dots to an inch. What lies in an odd number
/// of an area's outlines belongs to it.
///
/// # Errors
/// When the picture has no size.
pub(crate) fn areas(
    canvas: Bounds,
    ground: Ink,
    areas: &[(Ink, &[Vec<Point>])],
    dpi: u32,
) -> Result<Vec<u8>, String> {
    let mut sheet = Sheet::new(canvas, dpi)?;
    let Ink(red, green, blue) = ground;
    sheet
        .pixmap
        .fill(Color::from_rgba8(red, green, blue, u8::MAX));
    for (ink, outlines) in areas {
        let mut builder = PathBuilder::new();
        for outline in *outlines {
            sheet.trace(outline, true, &mut builder);
        }
        if let Some(path) = builder.finish() {
            sheet.fill(&path, *ink);
        }
    }
    sheet.encoded(dpi)
}

/// The paper, as dots.
struct Sheet {
    canvas: Bounds,
    /// To a millimetre.
    dots: f64,
    pixmap: Pixmap,
}

impl Sheet {
    fn new(canvas: Bounds, dpi: u32) -> Result<Self, String> {
        let dots = f64::from(dpi) / INCH;
        let size = |mm: f64| (mm * dots).ceil().clamp(0.0, f64::from(u16::MAX)) as u32;
        let (width, height) = (size(canvas.width()), size(canvas.height()));
        let pixmap = Pixmap::new(width, height).ok_or("a picture of no size")?;
        Ok(Self {
            canvas,
            dots,
            pixmap,
        })
    }

    /// Where a point of the drawing lies among the dots. Only here is y turned over.
    fn place(&self, point: Point) -> (f32, f32) {
        let x = (point.x - self.canvas.min.x) * self.dots;
        let y = (self.canvas.max.y - point.y) * self.dots;
        (x as f32, y as f32)
    }

    fn add(&mut self, item: &Item) {
        match &item.shape {
            ItemShape::Stroke(path, pen) => {
                let points = path.flattened(CHORD_ERROR / self.dots);
                self.stroke(&points, path.closed, pen, item.role.is_round());
            }
            ItemShape::Ellipse(ellipse, pen) => {
                let share = std::f64::consts::TAU / f64::from(ELLIPSE);
                let points: Vec<Point> = (0..ELLIPSE)
                    .map(|turn| ellipse.point_at(f64::from(turn) * share))
                    .collect();
                self.stroke(&points, true, pen, false);
            }
            ItemShape::Fill(path, ink) => {
                let points = path.flattened(CHORD_ERROR / self.dots);
                if let Some(path) = self.outline(&points, true) {
                    self.fill(&path, *ink);
                }
            }
            ItemShape::Text(text) => self.words(text),
        }
    }

    fn trace(&self, points: &[Point], closed: bool, builder: &mut PathBuilder) {
        for (index, point) in points.iter().enumerate() {
            let (x, y) = self.place(*point);
            if index == 0 {
                builder.move_to(x, y);
            } else {
                builder.line_to(x, y);
            }
        }
        if closed {
            builder.close();
        }
    }

    fn outline(&self, points: &[Point], closed: bool) -> Option<tiny_skia::Path> {
        let mut builder = PathBuilder::new();
        self.trace(points, closed, &mut builder);
        builder.finish()
    }

    fn stroke(&mut self, points: &[Point], closed: bool, pen: &Pen, round: bool) {
        let Some(path) = self.outline(points, closed) else {
            return;
        };
        let lengths = pen.dash.lengths().iter();
        let lengths: Vec<f32> = lengths.map(|mm| (mm * self.dots) as f32).collect();
        let stroke = Stroke {
            width: (pen.width * self.dots) as f32,
            line_cap: if round { LineCap::Round } else { LineCap::Butt },
            line_join: if round {
                LineJoin::Round
            } else {
                LineJoin::Miter
            },
            dash: StrokeDash::new(lengths, 0.0),
            ..Stroke::default()
        };
        let paint = paint(pen.ink);
        self.pixmap
            .stroke_path(&path, &paint, &stroke, Transform::identity(), None);
    }

    fn fill(&mut self, path: &tiny_skia::Path, ink: Ink) {
        let (paint, place) = (paint(ink), Transform::identity());
        self.pixmap
            .fill_path(path, &paint, FillRule::EvenOdd, place, None);
    }

    /// Words in the typeface of running text, as wide as the drawing has room for them.
    fn words(&mut self, text: &TextLine) {
        let cut = match text.weight {
            Weight::Regular => BookFace::Regular,
            Weight::Bold => BookFace::Bold,
            Weight::Book(face) => face,
        };
        let Some(face) = cut.face() else {
            return;
        };
        let em = f64::from(face.units_per_em().max(1));
        let size = text.size * self.dots / em;
        let own = cut.width(&text.words) * text.size;
        let stretch = if own > 0.0 { text.width() / own } else { 1.0 };
        let mut builder = PathBuilder::new();
        let mut along = 0.0;
        for glyph in text.words.chars().filter_map(|letter| cut.glyph(letter)) {
            let mut letter = Letter {
                builder: &mut builder,
                along: along as f32,
            };
            // A blank has no outline.
            let _ = face.outline_glyph(ttf_parser::GlyphId(glyph), &mut letter);
            along += cut.advance(glyph) / 1000.0 * em;
        }
        let Some(path) = builder.finish() else {
            return;
        };
        let (x, y) = self.place(text.start());
        let (across, up) = ((size * stretch) as f32, -size as f32);
        let place = match text.turn {
            Turn::Level => Transform::from_row(across, 0.0, 0.0, up, x, y),
            Turn::Up => Transform::from_row(0.0, -across, up, 0.0, x, y),
        };
        let paint = paint(text.ink);
        self.pixmap
            .fill_path(&path, &paint, FillRule::Winding, place, None);
    }

    fn encoded(&self, dpi: u32) -> Result<Vec<u8>, String> {
        // Everything lies on white, so nothing shines through.
        let colours = self.pixmap.pixels().iter();
        let bytes: Vec<u8> = colours
            .flat_map(|dot| [dot.red(), dot.green(), dot.blue()])
            .collect();
        let mut file = Vec::new();
        let mut encoder = png::Encoder::new(&mut file, self.pixmap.width(), self.pixmap.height());
        encoder.set_color(png::ColorType::Rgb);
        encoder.set_depth(png::BitDepth::Eight);
        let to_a_metre = (f64::from(dpi) / INCH * 1000.0).round() as u32;
        encoder.set_pixel_dims(Some(png::PixelDimensions {
            xppu: to_a_metre,
            yppu: to_a_metre,
            unit: png::Unit::Meter,
        }));
        let written = encoder
            .write_header()
            .and_then(|mut writer| writer.write_image_data(&bytes));
        written.map_err(|error| error.to_string())?;
        Ok(file)
    }
}

fn paint(ink: Ink) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color_rgba8(ink.0, ink.1, ink.2, 255);
    paint
}

/// A glyph that is added to a line of words, in the units of its font.
struct Letter<'a> {
    builder: &'a mut PathBuilder,
    along: f32,
}

impl OutlineBuilder for Letter<'_> {
    fn move_to(&mut self, x: f32, y: f32) {
        self.builder.move_to(x + self.along, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.builder.line_to(x + self.along, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.builder.quad_to(x1 + self.along, y1, x + self.along, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let along = self.along;
        self.builder
            .cubic_to(x1 + along, y1, x2 + along, y2, x + along, y);
    }

    fn close(&mut self) {
        self.builder.close();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Anchor;
    use jigless_model::geom::rectangle;

    /// A file read back: width, dots, and dots to a metre.
    fn read(file: &[u8]) -> (usize, Vec<[u8; 3]>, u32) {
        let decoder = png::Decoder::new(std::io::Cursor::new(file));
        let mut reader = decoder.read_info().expect("a PNG");
        let mut bytes = vec![0; reader.output_buffer_size().expect("a size")];
        reader.next_frame(&mut bytes).expect("dots");
        let info = reader.info();
        let dots = bytes.chunks(3).map(|dot| [dot[0], dot[1], dot[2]]);
        let to_a_metre = info.pixel_dims.map_or(0, |dims| dims.xppu);
        (info.width as usize, dots.collect(), to_a_metre)
    }

    /// 254 dots to an inch are ten to a millimetre.
    #[test]
    fn a_millimetre_is_as_many_dots_as_asked_for() {
        let canvas = Bounds::of_size(30.0, 20.0);
        let square = Bounds::new(Point::new(2.0, 12.0), Point::new(8.0, 18.0));
        let items = [
            Item::fill(Role::Side, rectangle(square), Ink(10, 20, 30)),
            Item::line(
                Role::Outline,
                Point::new(10.0, 5.0),
                Point::new(20.0, 5.0),
                Pen::new(1.0, Ink::BLACK),
            ),
        ];
        let (width, dots, to_a_metre) = read(&document(canvas, &items, 254).expect("a file"));
        assert_eq!((width, dots.len(), to_a_metre), (300, 300 * 200, 10_000));
        let at = |x: usize, y: usize| dots[y * width + x];
        assert_eq!(
            at(50, 50),
            [10, 20, 30],
            "above the middle of the paper is above"
        );
        let filled = dots.iter().filter(|dot| **dot == [10, 20, 30]).count();
        assert_eq!(filled, 60 * 60);
        assert_eq!(at(150, 150), [0, 0, 0]);
        assert_eq!(at(150, 140), [255, 255, 255]);
        let black = dots
            .iter()
            .filter(|dot| dot[0] < 128 && dot[2] < 25)
            .count() as f64;
        let round = std::f64::consts::PI * 25.0;
        assert!(
            (black - 1000.0 - round).abs() < 20.0,
            "with its round ends: {black}"
        );
    }

    /// Words keep to their box, level and upright, and both hold as much ink.
    #[test]
    fn words_stand_in_their_box() {
        let ink = |turn: Turn| {
            let canvas = Bounds::of_size(40.0, 40.0);
            let words = TextLine::new(Point::new(20.0, 20.0), 4.0, "Shelf H1");
            let words = words.bold().anchored(Anchor::Middle).turned(turn);
            let inside = words.bounds().grown(0.3);
            let file = document(canvas, &[Item::text(Role::Note, words)], 254);
            let (width, dots, _) = read(&file.expect("a file"));
            let dark = dots.iter().enumerate().filter(|(_, dot)| dot[0] < 128);
            let mut count = 0_i64;
            for (index, _) in dark {
                let at = Point::new(
                    (index % width) as f64 / 10.0,
                    40.0 - (index / width) as f64 / 10.0,
                );
                assert!(
                    inside.contains(at, 0.0),
                    "{turn:?}: {at:?} outside {inside:?}"
                );
                count += 1;
            }
            count
        };
        let (level, upright) = (ink(Turn::Level), ink(Turn::Up));
        assert!(level > 800, "{level}");
        assert!(
            (level - upright).abs() < level / 20,
            "{level} and {upright}"
        );
    }

    #[test]
    fn a_picture_without_size_is_refused() {
        assert!(document(Bounds::of_size(0.0, 5.0), &[], 150).is_err());
    }
}
