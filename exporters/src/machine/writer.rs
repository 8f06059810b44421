//! From shapes on layers to the bytes of a file, with the `dxf` crate.

use std::f64::consts::FRAC_PI_2;

use dxf::entities::{Circle, Entity, EntityType, LwPolyline, Polyline, Vertex};
use dxf::enums::{AcadVersion, DrawingUnits, HorizontalTextJustification, Units};
use dxf::tables::{AppId, BlockRecord, DimStyle, LineType, Style, ViewPort};
use dxf::{Color, LwPolylineVertex};
use jigless_core::geom::{Bounds, Path, Point};
use jigless_core::units::Unit;

use super::drawing::{Drawing, Shape, Text};
use super::finish;
use super::layers::{Layer, Naming};
use super::options::Version;

/// `ByLayer` as a line weight (DXF Reference, common group codes for entities, 370).
const WEIGHT_BY_LAYER: i16 = -1;

/// Bytes that a name or text may take in a record: 255 in every version, less some to spare.
const LONGEST_TEXT: usize = 240;

/// What a file says of itself besides its shapes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Identity {
    /// Unit of its coordinates, and how its layers are called.
    pub(super) naming: Naming,
    /// Version of the format.
    pub(super) version: Version,
    /// A name that no other file shares: its identifiers are made from it.
    pub(super) name: String,
    /// Seconds since 1970-01-01 UTC, if a date was given.
    pub(super) date: Option<i64>,
    /// Thickness of the board, where everything is to lie at its depth below the face instead of at 0.
    pub(super) depths: Option<f64>,
}

/// Why a file could not be written.
#[derive(Debug, thiserror::Error)]
pub(super) enum Fault {
    /// A coordinate is no number.
    #[error("a coordinate on layer {0} is not a finite number")]
    NotFinite(String),
    /// The crate failed.
    #[error(transparent)]
    Crate(#[from] dxf::DxfError),
    /// The crate wrote what the last pass does not understand.
    #[error("{0}")]
    Finish(&'static str),
}

/// Writes a file.
pub(super) fn write(drawing: &Drawing, identity: &Identity) -> Result<Vec<u8>, Fault> {
    let layers = drawing.layers(&identity.naming);
    let bounds = drawing
        .bounds()
        .unwrap_or_else(|| Bounds::of_size(0.0, 0.0));
    let mut file = empty_file(identity, bounds);
    for (name, layer) in &layers {
        file.add_layer(dxf::tables::Layer {
            name: name.clone(),
            color: Color::from_index(layer.coloured(&identity.naming)),
            ..Default::default()
        });
    }
    let mut pen = Pen {
        file,
        unit: identity.naming.unit,
        version: identity.version,
        z: 0.0,
    };
    let mut named: Option<(Layer, String)> = None;
    for item in &drawing.items {
        let name = match named.take() {
            Some((layer, name)) if layer == item.layer => name,
            _ => item.layer.named(&identity.naming),
        };
        let depth = identity.depths.map_or(0.0, |t| item.layer.depth(t));
        pen.z = 0.0 - length_in_file(depth, identity.naming.unit);
        pen.draw(&item.shape, &name)?;
        named = Some((item.layer, name));
    }
    let mut bytes = Vec::with_capacity(32 * 1024);
    pen.file.save(&mut bytes)?;
    finish::finish(&bytes, identity)
}

/// A file with its header and tables, and nothing drawn.
fn empty_file(identity: &Identity, bounds: Bounds) -> dxf::Drawing {
    let unit = identity.naming.unit;
    let mut file = dxf::Drawing::new();
    // The crate's own content holds styles of later versions that nothing here uses.
    file.clear();
    file.header.version = match identity.version {
        Version::R12 => AcadVersion::R12,
        Version::R2000 => AcadVersion::R2000,
    };
    file.header.handles_enabled = true;
    (file.header.default_drawing_units, file.header.drawing_units) = match unit {
        Unit::Millimetre => (Units::Millimeters, DrawingUnits::Metric),
        Unit::Inch => (Units::Inches, DrawingUnits::English),
    };
    let [min, max] = [bounds.min, bounds.max].map(|corner| in_file(corner, unit));
    file.header.minimum_drawing_extents = min.clone();
    file.header.maximum_drawing_extents = max.clone();
    file.header.minimum_drawing_limits = min;
    file.header.maximum_drawing_limits = max;

    file.add_app_id(AppId {
        name: "ACAD".to_owned(),
        ..Default::default()
    });
    for name in ["*Model_Space", "*Paper_Space"] {
        file.add_block_record(BlockRecord {
            name: name.to_owned(),
            ..Default::default()
        });
    }
    file.add_dim_style(DimStyle {
        name: "STANDARD".to_owned(),
        ..Default::default()
    });
    for (name, description) in [
        ("BYBLOCK", ""),
        ("BYLAYER", ""),
        ("CONTINUOUS", "Solid line"),
    ] {
        file.add_line_type(LineType {
            name: name.to_owned(),
            description: description.to_owned(),
            ..Default::default()
        });
    }
    file.add_style(Style {
        name: "STANDARD".to_owned(),
        ..Default::default()
    });
    file.add_layer(dxf::tables::Layer {
        name: "0".to_owned(),
        ..Default::default()
    });
    file.add_view_port(ViewPort {
        name: "*ACTIVE".to_owned(),
        view_center: in_file(bounds.centre(), unit),
        view_height: (bounds.height().max(bounds.width()) * 1.1).max(1.0) / unit.in_mm(),
        ..Default::default()
    });
    file
}

/// Puts shapes into a file.
struct Pen {
    file: dxf::Drawing,
    unit: Unit,
    version: Version,
    /// Height of what is drawn, in the unit of the file.
    z: f64,
}

impl Pen {
    fn draw(&mut self, shape: &Shape, layer: &str) -> Result<(), Fault> {
        let finite = match shape {
            Shape::Circle { centre, radius } => centre.is_finite() && radius.is_finite(),
            Shape::Path(path) => path
                .vertices
                .iter()
                .all(|v| v.point.is_finite() && v.bulge.is_finite()),
            Shape::Text(text) => text.at.is_finite() && text.height.is_finite(),
        };
        if !finite {
            return Err(Fault::NotFinite(layer.to_owned()));
        }
        match shape {
            Shape::Circle { centre, radius } => {
                let radius = length_in_file(*radius, self.unit);
                let mut circle = Circle::new(in_file(*centre, self.unit), radius);
                circle.center.z = self.z;
                self.add(EntityType::Circle(circle), layer);
            }
            Shape::Path(path) => self.draw_path(path, layer),
            Shape::Text(text) => self.draw_text(text, layer),
        }
        Ok(())
    }

    fn draw_path(&mut self, path: &Path, layer: &str) {
        let last = path.vertices.len().saturating_sub(1);
        // The last bulge of an open path leads nowhere.
        let bulge_at = |index: usize| {
            if path.closed || index < last {
                path.vertices[index].bulge
            } else {
                0.0
            }
        };
        let unit = self.unit;
        let corners = path
            .vertices
            .iter()
            .enumerate()
            .map(|(index, vertex)| (in_file(vertex.point, unit), bulge_at(index)));
        match self.version {
            Version::R2000 => {
                let mut polyline = LwPolyline::default();
                polyline.set_is_closed(path.closed);
                polyline.vertices = corners
                    .map(|(at, bulge)| LwPolylineVertex {
                        x: at.x,
                        y: at.y,
                        bulge,
                        ..Default::default()
                    })
                    .collect();
                self.add(EntityType::LwPolyline(polyline), layer);
            }
            Version::R12 => {
                let mut polyline = Polyline::default();
                polyline.set_is_closed(path.closed);
                for (mut location, bulge) in corners {
                    location.z = self.z;
                    let vertex = Vertex {
                        location,
                        bulge,
                        ..Default::default()
                    };
                    polyline.add_vertex(&mut self.file, vertex);
                }
                polyline.location.z = self.z;
                self.add(EntityType::Polyline(polyline), layer);
            }
        }
    }

    /// A text that is too long for one record goes on to the right of itself, in another one.
    fn draw_text(&mut self, text: &Text, layer: &str) {
        let characters = plain(&text.content);
        let parts = split(&characters);
        let one = parts.len() == 1;
        let mut at = text.start();
        for part in parts {
            let piece = Text {
                content: part.to_owned(),
                at: if one { text.at } else { at },
                centred: text.centred && one,
                ..text.clone()
            };
            let along = piece.length();
            at = at
                + if text.upward {
                    Point::new(0.0, along)
                } else {
                    Point::new(along, 0.0)
                };
            let start = piece.start();
            // How long a text is is an estimate: it must not bring a negative coordinate into a file that has none.
            let kept = |start: f64, at: f64| if at >= 0.0 { start.max(0.0) } else { start };
            let start = Point::new(kept(start.x, piece.at.x), kept(start.y, piece.at.y));
            let mut entity = dxf::entities::Text {
                location: in_file(start, self.unit),
                text_height: length_in_file(piece.height, self.unit),
                value: part.to_owned(),
                rotation: if text.upward {
                    FRAC_PI_2.to_degrees()
                } else {
                    0.0
                },
                ..Default::default()
            };
            if piece.centred {
                entity.horizontal_text_justification = HorizontalTextJustification::Center;
                entity.second_alignment_point = in_file(piece.at, self.unit);
            }
            self.add(EntityType::Text(entity), layer);
        }
    }

    fn add(&mut self, specific: EntityType, layer: &str) {
        let mut entity = Entity::new(specific);
        // Of all kinds of entity, only this one has its height here.
        if matches!(entity.specific, EntityType::LwPolyline(_)) {
            entity.common.elevation = self.z;
        }
        layer.clone_into(&mut entity.common.layer);
        entity.common.lineweight_enum_value = WEIGHT_BY_LAYER;
        self.file.add_entity(entity);
    }
}

fn in_file(point: Point, unit: Unit) -> dxf::Point {
    dxf::Point::new(
        length_in_file(point.x, unit),
        length_in_file(point.y, unit),
        0.0,
    )
}

/// A length in the unit of the file, to the nearest 1e-9 of it, which turns the last digit's noise about 0 into 0.
fn length_in_file(mm: f64, unit: Unit) -> f64 {
    (mm / unit.in_mm() * 1e9).round() / 1e9 + 0.0
}

/// The text without what a reader would take for a command: control characters, and `%%`, which starts one (DXF
/// Reference, TEXT). Characters beyond the first 65,536 cannot be written in these versions; U+FFFD stands for them.
fn plain(text: &str) -> String {
    let words: Vec<&str> = text
        .split(|c: char| c.is_whitespace() || c.is_control())
        .filter(|word| !word.is_empty())
        .collect();
    words
        .join(" ")
        .replace("%%", "% %")
        .chars()
        .map(|c| if u32::from(c) > 0xFFFF { '\u{FFFD}' } else { c })
        .collect()
}

/// The text in pieces that each fit into a record. Outside ASCII a character is written as `\U+0000`.
fn split(text: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let (mut start, mut size) = (0, 0);
    for (at, c) in text.char_indices() {
        let cost = match c {
            // `^` is written with a space after it.
            '^' => 2,
            c if c.is_ascii() => 1,
            _ => 7,
        };
        if size + cost > LONGEST_TEXT {
            pieces.push(&text[start..at]);
            (start, size) = (at, 0);
        }
        size += cost;
    }
    pieces.push(&text[start..]);
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_hold_no_commands_and_no_lines() {
        assert_eq!(plain("50 %% off\r\n  0\nEOF\t\u{7}x"), "50 % % off 0 EOF x");
        assert_eq!(plain("glaze \u{1F3FA} door"), "glaze \u{FFFD} door");
    }

    #[test]
    fn long_texts_lose_nothing() {
        let long = "Дверь ".repeat(60);
        let pieces = split(&long);
        assert!(pieces.len() > 1);
        assert_eq!(pieces.concat(), long);
        assert_eq!(split("short"), ["short"]);
        assert_eq!(split(""), [""]);
    }

    /// 25.4 mm exactly (international agreement of 1959).
    #[test]
    fn lengths_are_in_the_unit_of_the_file() {
        let is = |a: f64, b: f64| assert_eq!(a.to_bits(), b.to_bits());
        is(length_in_file(12.7, Unit::Inch), 0.5);
        is(length_in_file(0.1 + 0.2, Unit::Millimetre), 0.3);
        is(length_in_file(-1e-12, Unit::Millimetre), 0.0);
    }
}
