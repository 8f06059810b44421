//! A drawing as SVG. Only here is y turned over.
//!
//! The `svg` crate makes the document: its root, title and groups, of which a file has about ten. The shapes in a group
//! number hundreds, and each of them as a node costs a hash map of attributes and an own string for every name, value
//! and escape; so they are written straight into one text, which the crate takes as it is ([`svg::node::Blob`]). They
//! stand as the crate would have written them: attributes by name, one element to a line, words on a line of their own.
//!
//! Numbers are written by our own hand, with four decimals of a millimetre: the `svg` crate's path data is f32, and its
//! numbers are as long as they come.

use std::f64::consts::PI;
use std::fmt::Write;

use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::units::{Decimal, push_decimal};
use svg::node::{Blob, element};

use super::path_data::PathData;
use crate::drawing::{Anchor, Ellipse, Ink, Item, ItemShape, Pen, Role, TextLine, Turn, Weight};

/// Decimals of a number in millimetres or degrees.
const DECIMALS: usize = 4;

/// A whole file: a group with an id for each role that occurs. What the description says goes with the file and is not
/// seen in the picture; an empty one is left out.
pub(crate) fn document(canvas: Bounds, title: &str, description: &str, items: &[Item]) -> String {
    let width = Decimal::new(canvas.width(), DECIMALS);
    let height = Decimal::new(canvas.height(), DECIMALS);
    let mut document = element::SVG::new()
        .set("xmlns", "http://www.w3.org/2000/svg")
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(element::Title::new(crate::drawing::font::showable(title)));
    if !description.is_empty() {
        document = document.add(element::Description::new().add(svg::node::Text::new(description)));
    }
    let mut length = 1000;
    for role in Role::ALL {
        let mut sheet = SvgElements {
            canvas,
            text: String::new(),
        };
        for item in items.iter().filter(|item| item.role == role) {
            sheet.add(&item.shape);
        }
        if !sheet.text.is_empty() {
            length += sheet.text.len() + 100;
            let mut group = element::Group::new().set("id", role.name());
            if role.is_round() {
                group = group
                    .set("stroke-linecap", "round")
                    .set("stroke-linejoin", "round");
            }
            document = document.add(group.add(Blob::new(sheet.text)));
        }
    }
    let mut text = String::with_capacity(length);
    // Writing to a text cannot fail.
    let _ = writeln!(text, "{document}");
    text
}

/// A picture within a page of HTML, where several stand: groups have classes in place of ids, and its words for who does
/// not see it are its label.
pub(crate) fn inline(canvas: Bounds, alternative: &str, items: &[Item]) -> String {
    let width = Decimal::new(canvas.width(), DECIMALS);
    let height = Decimal::new(canvas.height(), DECIMALS);
    let label = escaped(&crate::drawing::font::showable(alternative)).replace('"', "&quot;");
    let mut text =
        format!("<svg viewBox=\"0 0 {width} {height}\" role=\"img\" aria-label=\"{label}\">\n");
    for role in Role::ALL {
        let mut sheet = SvgElements {
            canvas,
            text: String::new(),
        };
        for item in items.iter().filter(|item| item.role == role) {
            sheet.add(&item.shape);
        }
        if sheet.text.is_empty() {
            continue;
        }
        let round = if role.is_round() {
            " stroke-linecap=\"round\" stroke-linejoin=\"round\""
        } else {
            ""
        };
        // Writing to a text cannot fail.
        let _ = writeln!(
            text,
            "<g class=\"{}\"{round}>\n{}\n</g>",
            role.name(),
            sheet.text
        );
    }
    text.push_str("</svg>");
    text
}

/// Words in which nothing is taken for markup.
fn escaped(words: &str) -> String {
    words
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

/// The elements of a group, and the paper, by which it is known where a point of the drawing lies.
struct SvgElements {
    canvas: Bounds,
    text: String,
}

impl SvgElements {
    fn add(&mut self, shape: &ItemShape) {
        // The lines before the first element and after the last are the group's.
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        match shape {
            ItemShape::Stroke(path, pen) => {
                if let Some((centre, radius)) = path.as_circle() {
                    self.text.push_str("<circle");
                    self.place(["cx", "cy"], centre);
                    self.word("fill", "none");
                    self.number("r", radius);
                } else {
                    self.text.push_str("<path");
                    self.path_data(path);
                    self.word("fill", "none");
                }
                self.pen(pen);
            }
            ItemShape::Fill(path, ink) => {
                self.text.push_str("<path");
                self.path_data(path);
                self.colour("fill", *ink);
            }
            ItemShape::Ellipse(ellipse, pen) => {
                self.text.push_str("<path");
                self.ellipse_data(ellipse);
                self.word("fill", "none");
                self.pen(pen);
            }
            ItemShape::Text(text) => {
                self.text.push_str("<text");
                return self.words(text);
            }
        }
        self.text.push_str("/>");
    }

    /// A path as attribute `d`.
    fn path_data(&mut self, path: &Path) {
        self.open("d");
        self.data().path(path, true);
        self.text.push('"');
    }

    fn ellipse_data(&mut self, ellipse: &Ellipse) {
        let ends = [0.0, PI].map(|parameter| ellipse.point_at(parameter));
        let radii = [ellipse.half_length, ellipse.half_width];
        let turn = -ellipse.angle.to_degrees();
        self.open("d");
        let mut data = self.data();
        data.command('M', ends[0]);
        data.arc(radii, turn, [false, false], ends[1]);
        data.arc(radii, turn, [false, false], ends[0]);
        data.text.push_str("Z\"");
    }

    fn data(&mut self) -> PathData<'_, impl Fn(Point) -> Point> {
        let corner = Point::new(self.canvas.min.x, self.canvas.max.y);
        PathData {
            text: &mut self.text,
            decimals: DECIMALS,
            place: move |point: Point| Point::new(point.x - corner.x, corner.y - point.y),
        }
    }

    fn words(&mut self, text: &TextLine) {
        self.colour("fill", text.ink);
        self.word("font-family", "sans-serif");
        self.number("font-size", text.size);
        if text.weight == Weight::Bold {
            self.word("font-weight", "bold");
        }
        // The length is stated, so that another machine's typeface does not make words wider than the room found.
        self.word("lengthAdjust", "spacingAndGlyphs");
        let anchor = match text.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        self.word("text-anchor", anchor);
        self.number("textLength", text.width());
        if text.turn == Turn::Up {
            self.open("transform");
            self.text.push_str("rotate(-90 ");
            self.data().point(text.at);
            self.text.push_str(")\"");
        }
        self.place(["x", "y"], text.at);
        self.text.push_str(">\n");
        for piece in text.words.split_inclusive(['&', '<', '>']) {
            let (plain, special) = match piece.as_bytes().last() {
                Some(b'&') => (&piece[..piece.len() - 1], "&amp;"),
                Some(b'<') => (&piece[..piece.len() - 1], "&lt;"),
                Some(b'>') => (&piece[..piece.len() - 1], "&gt;"),
                _ => (piece, ""),
            };
            self.text.push_str(plain);
            self.text.push_str(special);
        }
        self.text.push_str("\n</text>");
    }

    fn pen(&mut self, pen: &Pen) {
        self.colour("stroke", pen.ink);
        if let [first, rest @ ..] = pen.dash.lengths() {
            self.open("stroke-dasharray");
            push_decimal(&mut self.text, *first, DECIMALS);
            for length in rest {
                self.text.push(' ');
                push_decimal(&mut self.text, *length, DECIMALS);
            }
            self.text.push('"');
        }
        self.number("stroke-width", pen.width);
    }

    /// Where a point of the drawing lies on the paper, as two attributes.
    fn place(&mut self, names: [&str; 2], point: Point) {
        self.number(names[0], point.x - self.canvas.min.x);
        self.number(names[1], self.canvas.max.y - point.y);
    }

    fn number(&mut self, name: &str, value: f64) {
        self.open(name);
        push_decimal(&mut self.text, value, DECIMALS);
        self.text.push('"');
    }

    fn colour(&mut self, name: &str, ink: Ink) {
        self.open(name);
        self.text.push('#');
        for part in [ink.0, ink.1, ink.2] {
            for digit in [part >> 4, part & 15] {
                self.text.extend(char::from_digit(u32::from(digit), 16));
            }
        }
        self.text.push('"');
    }

    /// An attribute of which nothing needs to be escaped.
    fn word(&mut self, name: &str, value: &str) {
        self.open(name);
        self.text.push_str(value);
        self.text.push('"');
    }

    fn open(&mut self, name: &str) {
        self.text.push(' ');
        self.text.push_str(name);
        self.text.push_str("=\"");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::TextLine;

    /// The elements stand as the crate writes its own nodes, so that a text may hold what an element does not.
    #[test]
    fn words_are_escaped_as_the_crate_escapes_them() {
        let words = "<Böden & \"Türen\">, it's &lt; 5 > 3 &";
        let mut text = TextLine::new(Point::new(10.0, 20.0), 3.0, "x");
        words.clone_into(&mut text.words);
        text.turn = Turn::Up;
        text.weight = Weight::Bold;
        let written = element::Text::new(words)
            .set("x", 10)
            .set("y", 80)
            .set("font-family", "sans-serif")
            .set("font-size", 3)
            .set("font-weight", "bold")
            .set("text-anchor", "start")
            .set(
                "textLength",
                jigless_model::units::decimal(text.width(), DECIMALS),
            )
            .set("lengthAdjust", "spacingAndGlyphs")
            .set("transform", "rotate(-90 10 80)")
            .set("fill", "#000000");
        let group = element::Group::new().set("id", "labels").add(written);
        let canvas = Bounds::of_size(100.0, 100.0);
        let items = [Item::text(Role::Label, text)];
        let document = document(canvas, "Door", "", &items);
        assert!(
            document.contains(&format!("{group}\n</svg>\n")),
            "{document}\n{group}"
        );
    }
}
