//! Reading DXF, group by group: a code on one line, its value on the next.

use std::collections::BTreeSet;

use jigless_model::geom::{Arc, Path, Point, Vertex, circle};
use jigless_model::units::Unit;

use super::inspection::{Entity, Inspection};

/// A record: its groups, the first of which has code 0 and names it.
type DxfRecord<'a> = [(i32, &'a str)];

/// Units by $INSUNITS: number, word, millimetres (DXF Reference, header variables).
const UNITS: [(i64, &str, f64); 5] = [
    (1, "in", 25.4),
    (2, "ft", 304.8),
    (4, "mm", 1.0),
    (5, "cm", 10.0),
    (6, "m", 1000.0),
];

pub(super) fn read(bytes: &[u8], assumed: Option<Unit>) -> Result<Inspection, String> {
    // A binary file begins with a name of 18 bytes and these (DXF Reference, binary DXF files).
    if bytes.get(18..22) == Some(b"\r\n\x1a\0") {
        return Err("it is a binary DXF file; save it as text".to_owned());
    }
    // What is beyond ASCII stands in texts only.
    let text = String::from_utf8_lossy(bytes);
    let mut lines = text.lines();
    let mut groups = Vec::new();
    while let Some(code) = lines.next() {
        if code.trim().is_empty() && groups.is_empty() {
            continue;
        }
        let Ok(code) = code.trim().parse::<i32>() else {
            return Err("it is neither DXF nor SVG".to_owned());
        };
        let Some(value) = lines.next() else { break };
        groups.push((code, value.trim()));
    }
    if !groups.contains(&(0, "SECTION")) {
        return Err("it is neither DXF nor SVG".to_owned());
    }
    let mut found = Inspection {
        scale: 1.0,
        ..Inspection::default()
    };
    read_header(&groups, assumed, &mut found);
    let mut reader = DxfReader {
        found,
        declared: BTreeSet::from(["0".to_owned()]),
        undeclared: BTreeSet::new(),
        section: String::new(),
        polyline: None,
        ended: false,
    };
    for record in groups.chunk_by(|_, next| next.0 != 0) {
        reader.record(record);
    }
    if !reader.ended {
        reader.fault("not-ended", "the file breaks off: it has no EOF");
    }
    let undeclared = std::mem::take(&mut reader.undeclared);
    for layer in undeclared {
        reader.fault(
            "undeclared-layer",
            format!("layer `{layer}` is used and not declared"),
        );
    }
    Ok(reader.found)
}

fn read_header(groups: &DxfRecord, assumed: Option<Unit>, found: &mut Inspection) {
    let variable = |name: &str| {
        let at = groups.iter().position(|group| *group == (9, name))?;
        groups.get(at + 1).map(|group| group.1)
    };
    let version = variable("$ACADVER").unwrap_or("of no version");
    found.format = format!("DXF {version}");
    found.can_name_unit = !matches!(version, "AC1009" | "AC1006" | "of no version");
    let number = variable("$INSUNITS").and_then(|value| value.parse::<i64>().ok());
    if let Some((_, word, scale)) = UNITS.iter().find(|(code, ..)| Some(*code) == number) {
        found.unit = Some(word);
        found.scale = *scale;
        return;
    }
    // Old versions have no such variable: a note in words must do, or what the user says.
    let noted = [
        ("Units: inches", Unit::Inch),
        ("Units: millimetres", Unit::Millimetre),
    ]
    .into_iter()
    .find(|(words, _)| groups.contains(&(1, words)))
    .map(|(_, unit)| unit);
    if let Some(unit) = assumed.or(noted) {
        found.unit = Some(unit.symbol());
        found.scale = unit.in_mm();
    }
}

struct DxfReader {
    found: Inspection,
    declared: BTreeSet<String>,
    undeclared: BTreeSet<String>,
    section: String,
    /// A POLYLINE whose vertices follow.
    polyline: Option<(String, f64, Path)>,
    ended: bool,
}

impl DxfReader {
    fn fault(&mut self, code: &'static str, message: impl Into<String>) {
        self.found.add_fault(code, message);
    }

    fn record(&mut self, record: &DxfRecord) {
        let name = record.first().map_or("", |group| group.1);
        match (self.section.as_str(), name) {
            (_, "SECTION") => text(record, 2)
                .unwrap_or_default()
                .clone_into(&mut self.section),
            (_, "ENDSEC") => self.section.clear(),
            (_, "EOF") => self.ended = true,
            ("TABLES", "LAYER") => {
                self.declared.extend(text(record, 2).map(str::to_owned));
            }
            ("ENTITIES", _) => self.entity(name, record),
            _ => {}
        }
    }

    fn entity(&mut self, name: &str, record: &DxfRecord) {
        let scale = self.found.scale;
        let number = |code: i32| number(record, code).unwrap_or(0.0) * scale;
        let point = |x: i32, y: i32| Point::new(number(x), number(y));
        let layer = text(record, 8).unwrap_or("0").to_owned();
        if !self.declared.contains(&layer) {
            self.undeclared.insert(layer.clone());
        }
        if self::number(record, 230).is_some_and(|z| z < 0.5) {
            self.fault(
                "mirrored-extrusion",
                format!("a {name} on `{layer}` is drawn from below: its extrusion is not +Z"),
            );
        }
        let flags = whole(record, 70);
        match name {
            "LINE" => {
                if (number(30) - number(31)).abs() > 1e-9 {
                    self.fault(
                        "not-flat",
                        format!("a LINE on `{layer}` changes its height"),
                    );
                }
                let path = Path::line(point(10, 20), point(11, 21));
                self.add(layer, "LINE", path, number(30));
            }
            "CIRCLE" => {
                let path = circle(point(10, 20), number(40));
                self.add(layer, "CIRCLE", path, number(30));
            }
            "ARC" => {
                // Degrees, counter-clockwise (DXF Reference, ARC).
                let angle = |code| self::number(record, code).unwrap_or(0.0).to_radians();
                let (start, end) = (angle(50), angle(51));
                let sweep = (end - start).rem_euclid(std::f64::consts::TAU);
                let centre = point(10, 20);
                let at = |angle| centre + Point::polar(number(40), angle);
                let vertex = |point, bulge| Vertex { point, bulge };
                let path = Path {
                    vertices: vec![
                        vertex(at(start), Arc::bulge_of_sweep(sweep)),
                        vertex(at(end), 0.0),
                    ],
                    closed: false,
                };
                self.add(layer, "ARC", path, number(30));
            }
            "LWPOLYLINE" => {
                let mut vertices: Vec<Vertex> = Vec::new();
                for (code, value) in record {
                    let value = value.parse().unwrap_or(f64::NAN);
                    match (code, vertices.last_mut()) {
                        (10, _) => vertices.push(Vertex {
                            point: Point::new(value * scale, f64::NAN),
                            bulge: 0.0,
                        }),
                        (20, Some(last)) => last.point.y = value * scale,
                        (42, Some(last)) => last.bulge = value,
                        _ => {}
                    }
                }
                if whole(record, 90) as usize != vertices.len() {
                    self.fault(
                        "wrong-count",
                        format!("an LWPOLYLINE on `{layer}` names another number of vertices than it has"),
                    );
                }
                let closed = flags & 1 == 1;
                self.add(layer, "LWPOLYLINE", Path { vertices, closed }, number(38));
            }
            "POLYLINE" => {
                let path = Path {
                    vertices: Vec::new(),
                    closed: flags & 1 == 1,
                };
                self.polyline = Some((layer, number(30), path));
            }
            "VERTEX" => {
                let vertex = Vertex {
                    point: point(10, 20),
                    bulge: self::number(record, 42).unwrap_or(0.0),
                };
                if let Some((_, _, path)) = &mut self.polyline {
                    path.vertices.push(vertex);
                }
            }
            "SEQEND" => {
                if let Some((layer, z, path)) = self.polyline.take() {
                    self.add(layer, "POLYLINE", path, z);
                }
            }
            "TEXT" | "MTEXT" => *self.found.texts.entry(layer).or_insert(0) += 1,
            _ => self.fault(
                "not-a-line",
                format!("a {name} on `{layer}`: programs for machines may leave it out"),
            ),
        }
    }

    fn add(&mut self, layer: String, kind: &'static str, path: Path, z: f64) {
        self.found.entities.push(Entity {
            layer,
            kind,
            path,
            z,
        });
    }
}

fn text<'a>(record: &DxfRecord<'a>, code: i32) -> Option<&'a str> {
    record
        .iter()
        .find(|group| group.0 == code)
        .map(|group| group.1)
}

fn number(record: &DxfRecord, code: i32) -> Option<f64> {
    text(record, code).map(|value| value.parse().unwrap_or(f64::NAN))
}

fn whole(record: &DxfRecord, code: i32) -> i64 {
    text(record, code)
        .and_then(|value| value.parse().ok())
        .unwrap_or(0)
}
