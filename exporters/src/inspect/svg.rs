//! Reading SVG: shapes with straight lines and circular arcs, in millimetres by the size that the file gives itself.

use jigless_model::geom::{Arc, Path, Point, Vertex, circle};
use roxmltree::{Document, Node};
use svgtypes::{PathParser, PathSegment};

use super::inspection::{Entity, Inspection};

/// Millimetres in the units of length of CSS (CSS Values and Units 3, 6.2); a bare number is a pixel of 1/96 in.
const UNITS: [(&str, f64); 7] = [
    ("mm", 1.0),
    ("cm", 10.0),
    ("in", 25.4),
    ("pt", 25.4 / 72.0),
    ("pc", 25.4 / 6.0),
    ("px", 25.4 / 96.0),
    ("", 25.4 / 96.0),
];

/// What programs for machines are known to read in different ways, or not at all.
const AVOIDED: [&str; 8] = [
    "use",
    "style",
    "clipPath",
    "mask",
    "image",
    "symbol",
    "marker",
    "foreignObject",
];

/// How deep groups may lie in one another.
const DEEPEST: usize = 100;

pub(super) fn read(bytes: &[u8]) -> Result<Inspection, String> {
    let text = std::str::from_utf8(bytes).map_err(|_| "it is not UTF-8".to_owned())?;
    let document = Document::parse(text).map_err(|error| format!("it is no XML: {error}"))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(format!(
            "it is XML, and its root is `{}`",
            root.tag_name().name()
        ));
    }
    let mut reader = SvgReader {
        found: Inspection {
            format: "SVG".to_owned(),
            scale: 1.0,
            can_name_unit: true,
            ..Inspection::default()
        },
        height: 0.0,
    };
    reader.read_size(root);
    for child in root.children().filter(Node::is_element) {
        reader.element(child, None, 0)?;
    }
    Ok(reader.found)
}

struct SvgReader {
    found: Inspection,
    /// Lower edge of the view box, in its own units, so that y can be turned upward.
    height: f64,
}

impl SvgReader {
    fn fault(&mut self, code: &'static str, message: impl Into<String>) {
        self.found.add_fault(code, message);
    }

    fn read_size(&mut self, root: Node) {
        let size = |name: &str| {
            let text = root.attribute(name)?.trim();
            let split = text
                .find(|c: char| c.is_ascii_alphabetic() || c == '%')
                .unwrap_or(text.len());
            let number: f64 = text[..split].trim().parse().ok()?;
            let (unit, mm) = UNITS.iter().find(|(unit, _)| *unit == &text[split..])?;
            Some((number, *unit, *mm))
        };
        let box_of = root.attribute("viewBox").map(|text| {
            text.split(|c: char| c.is_whitespace() || c == ',')
                .filter_map(|number| number.parse().ok())
                .collect::<Vec<f64>>()
        });
        let (width, height) = (size("width"), size("height"));
        let view = box_of.filter(|numbers| numbers.len() == 4);
        self.height = match (&view, height) {
            (Some(numbers), _) => numbers[1] + numbers[3],
            (None, Some((height, ..))) => height,
            _ => 0.0,
        };
        let (Some(width), Some(height)) = (width, height) else {
            self.fault("no-units", "the file does not say how wide and high it is");
            self.found.scale = 25.4 / 96.0;
            return;
        };
        self.found.scale = width.2;
        if let Some(numbers) = view {
            let (across, up) = (
                width.0 * width.2 / numbers[2],
                height.0 * height.2 / numbers[3],
            );
            self.found.scale = across;
            if (across - up).abs() > 1e-6 * across.abs() {
                self.fault(
                    "stretched",
                    "width and height do not have the proportions of the view box",
                );
            }
        }
        if matches!(width.1, "" | "px") {
            self.fault(
                "no-units",
                "the size is in pixels, which programs take for 1/72, 1/90 or 1/96 in",
            );
        } else {
            self.found.unit = Some(width.1);
        }
    }

    fn element(&mut self, node: Node, group: Option<&str>, level: usize) -> Result<(), String> {
        if level > DEEPEST {
            return Err(format!(
                "its groups lie more than {DEEPEST} deep in one another"
            ));
        }
        let name = node.tag_name().name();
        for attribute in ["transform", "style", "class", "clip-path", "mask"] {
            if node.has_attribute(attribute) {
                self.fault(
                    "not-plain",
                    format!("<{name}> has `{attribute}`, which some programs pass over"),
                );
            }
        }
        let own = node
            .attribute("id")
            .filter(|_| name == "g")
            .or(node.attribute("stroke"));
        let layer = group.or(own).unwrap_or("none");
        match name {
            "g" => {
                if level > 0 {
                    self.fault("nested-group", "a group lies in a group");
                }
                for child in node.children().filter(Node::is_element) {
                    self.element(child, Some(layer), level + 1)?;
                }
            }
            "path" => self.path(node.attribute("d").unwrap_or_default(), layer),
            "circle" | "ellipse" | "rect" | "line" | "polyline" | "polygon" => {
                self.shape(name, node, layer);
            }
            "text" | "tspan" => {
                *self.found.texts.entry(layer.to_owned()).or_insert(0) += 1;
                self.fault(
                    "text-in-cut-file",
                    "a text: programs for machines put another font in its place",
                );
            }
            "title" | "desc" | "metadata" | "defs" => {}
            "svg" => self.fault("not-plain", "an <svg> lies in the <svg>"),
            _ if AVOIDED.contains(&name) => {
                self.fault(
                    "not-plain",
                    format!("<{name}>, which some programs pass over"),
                );
            }
            _ => self.fault("not-a-line", format!("<{name}> is no line")),
        }
        let filled = |node: Node| node.attribute("fill").is_some_and(|fill| fill != "none");
        if filled(node) {
            self.fault(
                "filled",
                format!("<{name}> is filled, and may be engraved as an area"),
            );
        }
        Ok(())
    }

    fn at(&self, x: f64, y: f64) -> Point {
        Point::new(x, self.height - y) * self.found.scale
    }

    fn add(&mut self, layer: &str, kind: &'static str, path: Path) {
        self.found.entities.push(Entity {
            layer: layer.to_owned(),
            kind,
            path,
            z: 0.0,
        });
    }

    fn shape(&mut self, name: &str, node: Node, layer: &str) {
        let number = |name: &str| {
            let text = node.attribute(name).unwrap_or("0").trim();
            text.trim_end_matches("px").parse().unwrap_or(f64::NAN)
        };
        let scale = self.found.scale;
        match name {
            "circle" => {
                let path = circle(self.at(number("cx"), number("cy")), number("r") * scale);
                self.add(layer, "circle", path);
            }
            "ellipse" => self.fault("curve", format!("an ellipse on `{layer}` is no arc")),
            "line" => {
                let (a, b) = (
                    self.at(number("x1"), number("y1")),
                    self.at(number("x2"), number("y2")),
                );
                self.add(layer, "line", Path::line(a, b));
            }
            "rect" => {
                let (x, y, w, h) = (number("x"), number("y"), number("width"), number("height"));
                let (a, b) = (self.at(x, y), self.at(x + w, y + h));
                let bounds = jigless_model::geom::Bounds::new(a, b);
                let radius = number("rx").max(number("ry")) * scale;
                let path = jigless_model::geom::rounded_rectangle(bounds, radius);
                self.add(layer, "rect", path);
            }
            _ => {
                let numbers: Vec<f64> = node
                    .attribute("points")
                    .unwrap_or_default()
                    .split(|c: char| c.is_whitespace() || c == ',')
                    .filter_map(|number| number.parse().ok())
                    .collect();
                let points = numbers
                    .chunks_exact(2)
                    .map(|pair| self.at(pair[0], pair[1]));
                let path = Path::of_points(points, name == "polygon");
                let kind = if path.closed { "polygon" } else { "polyline" };
                self.add(layer, kind, path);
            }
        }
    }

    fn path(&mut self, data: &str, layer: &str) {
        let mut pen = PathFollower::default();
        for segment in PathParser::from(data) {
            let Ok(segment) = segment else {
                self.fault("not-a-line", format!("a path on `{layer}` breaks off"));
                break;
            };
            if let Some(fault) = pen.follow(&segment) {
                self.fault("curve", format!("{fault} on `{layer}`"));
            }
        }
        pen.lift();
        for mut path in pen.done {
            for vertex in &mut path.vertices {
                vertex.point = self.at(vertex.point.x, vertex.point.y);
                // Upside down, arcs turn the other way.
                vertex.bulge = 0.0 - vertex.bulge;
            }
            self.add(layer, "path", path);
        }
    }
}

/// Follows path data, in the units of the view box.
#[derive(Default)]
struct PathFollower {
    at: Point,
    vertices: Vec<Vertex>,
    done: Vec<Path>,
}

impl PathFollower {
    /// Goes along one segment; says what in it is no line and no circular arc.
    fn follow(&mut self, segment: &PathSegment) -> Option<&'static str> {
        let from = self.at;
        let point = |abs: bool, x: f64, y: f64| {
            if abs {
                Point::new(x, y)
            } else {
                from + Point::new(x, y)
            }
        };
        let (to, bulge, fault) = match *segment {
            PathSegment::MoveTo { abs, x, y } => {
                self.lift();
                self.at = point(abs, x, y);
                self.vertices.push(Vertex {
                    point: self.at,
                    bulge: 0.0,
                });
                return None;
            }
            PathSegment::ClosePath { .. } => {
                self.close();
                return None;
            }
            PathSegment::LineTo { abs, x, y } => (point(abs, x, y), 0.0, None),
            PathSegment::HorizontalLineTo { abs, x } => (
                Point::new(if abs { x } else { from.x + x }, from.y),
                0.0,
                None,
            ),
            PathSegment::VerticalLineTo { abs, y } => (
                Point::new(from.x, if abs { y } else { from.y + y }),
                0.0,
                None,
            ),
            PathSegment::EllipticalArc {
                abs,
                rx,
                ry,
                large_arc,
                sweep,
                x,
                y,
                ..
            } => {
                let to = point(abs, x, y);
                let fault = ((rx - ry).abs() > 1e-9).then_some("an elliptical arc");
                (to, bulge_of(from.distance(to), rx, large_arc, sweep), fault)
            }
            PathSegment::CurveTo { abs, x, y, .. }
            | PathSegment::SmoothCurveTo { abs, x, y, .. }
            | PathSegment::Quadratic { abs, x, y, .. }
            | PathSegment::SmoothQuadratic { abs, x, y } => (
                point(abs, x, y),
                0.0,
                Some("a Bezier curve, which is no arc"),
            ),
        };
        if let Some(last) = self.vertices.last_mut() {
            last.bulge = bulge;
        }
        self.vertices.push(Vertex {
            point: to,
            bulge: 0.0,
        });
        self.at = to;
        fault
    }

    fn close(&mut self) {
        let Some(first) = self.vertices.first().copied() else {
            return;
        };
        // A last segment that leads back to the start is the closing one.
        if self.vertices.len() > 2
            && let Some(last) = self.vertices.last()
            && last.point.distance(first.point) < 1e-9
        {
            self.vertices.pop();
        }
        self.at = first.point;
        let vertices = std::mem::take(&mut self.vertices);
        self.done.push(Path {
            vertices,
            closed: true,
        });
    }

    fn lift(&mut self) {
        let vertices = std::mem::take(&mut self.vertices);
        if vertices.len() > 1 {
            self.done.push(Path {
                vertices,
                closed: false,
            });
        }
    }
}

/// The bulge of an arc as SVG describes it: chord, radius, whether it is the larger of two, and whether angles grow along
/// it (SVG 1.1, F.6).
fn bulge_of(chord: f64, radius: f64, large: bool, grows: bool) -> f64 {
    let half = (chord / 2.0 / radius).clamp(-1.0, 1.0).asin();
    let sweep = if large {
        std::f64::consts::TAU - 2.0 * half
    } else {
        2.0 * half
    };
    Arc::bulge_of_sweep(if grows { sweep } else { -sweep })
}
