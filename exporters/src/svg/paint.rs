//! A drawing as SVG. Only here is y turned over.
//!
//! Numbers are written by our own hand, with four decimals of a millimetre: the `svg` crate's path data is f32, and its
//! numbers are as long as they come.

use jigless_core::geom::{Bounds, Path, Point, Segment};
use jigless_core::units::decimal;
use svg::node::element;

use crate::drawing::{Anchor, Ellipse, Ink, Item, Pen, Role, Shape, Text, Turn, Weight};

/// A whole file: a group with an id for each role that occurs.
pub(crate) fn document(canvas: Bounds, title: &str, items: &[Item]) -> String {
    let sheet = Sheet { canvas };
    let mut document = element::SVG::new()
        .set("xmlns", "http://www.w3.org/2000/svg")
        .set("width", format!("{}mm", number(canvas.width())))
        .set("height", format!("{}mm", number(canvas.height())))
        .set(
            "viewBox",
            format!("0 0 {} {}", number(canvas.width()), number(canvas.height())),
        )
        .add(element::Title::new(crate::drawing::font::showable(title)));
    for role in Role::ALL {
        let mut group = element::Group::new().set("id", role.name());
        let mut empty = true;
        for item in items.iter().filter(|item| item.role == role) {
            group = sheet.add(group, &item.shape);
            empty = false;
        }
        if !empty {
            document = document.add(group);
        }
    }
    let mut text = document.to_string();
    text.push('\n');
    text
}

/// The paper, which knows where a point of the drawing lies on it.
struct Sheet {
    canvas: Bounds,
}

impl Sheet {
    fn add(&self, group: element::Group, shape: &Shape) -> element::Group {
        match shape {
            Shape::Stroke(path, pen) => match path.as_circle() {
                Some((centre, radius)) => {
                    let (x, y) = self.place(centre);
                    let circle = element::Circle::new()
                        .set("cx", x)
                        .set("cy", y)
                        .set("r", number(radius));
                    group.add(stroked(circle, pen))
                }
                None => group.add(stroked(
                    element::Path::new().set("d", self.path_data(path)),
                    pen,
                )),
            },
            Shape::Fill(path, ink) => group.add(
                element::Path::new()
                    .set("d", self.path_data(path))
                    .set("fill", colour(*ink)),
            ),
            Shape::Ellipse(ellipse, pen) => group.add(stroked(
                element::Path::new().set("d", self.ellipse_data(ellipse)),
                pen,
            )),
            Shape::Text(text) => group.add(self.text(text)),
        }
    }

    fn place(&self, point: Point) -> (String, String) {
        (
            number(point.x - self.canvas.min.x),
            number(self.canvas.max.y - point.y),
        )
    }

    fn path_data(&self, path: &Path) -> String {
        let mut pieces = Vec::new();
        for segment in path.segments() {
            if pieces.is_empty() {
                let (x, y) = self.place(segment.from());
                pieces.push(format!("M{x} {y}"));
            }
            let (x, y) = self.place(segment.to());
            pieces.push(match segment {
                Segment::Line(..) => format!("L{x} {y}"),
                Segment::Arc(arc) => {
                    let radius = number(arc.radius());
                    let large = u8::from(arc.bulge.abs() > 1.0);
                    // Counter-clockwise with y up is counter-clockwise on the paper, which SVG calls sweep 0.
                    let sweep = u8::from(arc.bulge < 0.0);
                    format!("A{radius} {radius} 0 {large} {sweep} {x} {y}")
                }
            });
        }
        if path.closed {
            pieces.push("Z".to_owned());
        }
        pieces.concat()
    }

    fn ellipse_data(&self, ellipse: &Ellipse) -> String {
        let (x0, y0) = self.place(ellipse.point_at(0.0));
        let (x1, y1) = self.place(ellipse.point_at(std::f64::consts::PI));
        let (a, b) = (number(ellipse.half_length), number(ellipse.half_width));
        let turn = decimal(-ellipse.angle.to_degrees(), 4);
        format!("M{x0} {y0}A{a} {b} {turn} 0 0 {x1} {y1}A{a} {b} {turn} 0 0 {x0} {y0}Z")
    }

    fn text(&self, text: &Text) -> element::Text {
        let (x, y) = self.place(text.at);
        let anchor = match text.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        // The length is told, so that another machine's typeface does not make words wider than the room found.
        let mut node = element::Text::new(text.words.as_str())
            .set("x", x.as_str())
            .set("y", y.as_str())
            .set("font-family", "Helvetica, Arial, 'DejaVu Sans', sans-serif")
            .set("font-size", number(text.size))
            .set("text-anchor", anchor)
            .set("textLength", number(text.width()))
            .set("lengthAdjust", "spacingAndGlyphs")
            .set("fill", colour(text.ink));
        if text.weight == Weight::Bold {
            node = node.set("font-weight", "bold");
        }
        if text.turn == Turn::Up {
            node = node.set("transform", format!("rotate(-90 {x} {y})"));
        }
        node
    }
}

fn stroked<N: svg::Node>(mut node: N, pen: &Pen) -> N {
    node.assign("fill", "none");
    node.assign("stroke", colour(pen.ink));
    node.assign("stroke-width", number(pen.width));
    if !pen.dash.lengths().is_empty() {
        let lengths: Vec<String> = pen.dash.lengths().iter().map(|l| number(*l)).collect();
        node.assign("stroke-dasharray", lengths.join(" "));
    }
    node
}

fn number(mm: f64) -> String {
    decimal(mm, 4)
}

fn colour(ink: Ink) -> String {
    format!("#{:02x}{:02x}{:02x}", ink.0, ink.1, ink.2)
}
