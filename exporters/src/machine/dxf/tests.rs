//! Tests on what is written, group by group.

use jigless_model::geom::{Arc, Bounds, Path, Point, Vertex, circle, rounded_rectangle};
use jigless_model::units::Unit;

use super::records::NotFinite;
use super::writer::{FileHeader, write};
use crate::machine::drawing::{LayerDrawing, LayerShape, NoteText};
use crate::machine::file_options::Version;
use crate::machine::layers::{Layer, LayerNaming};

/// One group.
#[derive(Debug, Clone, Copy, PartialEq)]
struct DxfGroup<'a> {
    code: u16,
    value: &'a str,
}

/// The groups of a file.
fn read_groups(text: &str) -> Vec<DxfGroup<'_>> {
    let lines: Vec<&str> = text.lines().collect();
    let pairs = lines.chunks(2);
    pairs
        .map(|pair| DxfGroup {
            code: pair[0].trim().parse().unwrap(),
            value: pair[1],
        })
        .collect()
}

fn header_of(version: Version, unit: Unit) -> FileHeader {
    FileHeader {
        naming: LayerNaming::own(unit),
        depths: None,
        version,
        name: "digest/dxf-cnc/door.dxf".to_owned(),
        date: None,
    }
}

fn written(drawing: &LayerDrawing, version: Version, unit: Unit) -> String {
    from_latin_1(&write(drawing, &header_of(version, unit)).unwrap())
}

/// Code page 1252 from 0xA0 on, and ASCII.
fn from_latin_1(bytes: &[u8]) -> String {
    bytes.iter().copied().map(char::from).collect()
}

/// A part with one of everything.
fn sample() -> LayerDrawing {
    let mut drawing = LayerDrawing::default();
    let note = NoteText {
        at: Point::new(0.0, 320.0),
        centred: false,
        height: 5.0,
        upward: false,
        content: "Fächer Ж 50 %% <door>".to_owned(),
    };
    drawing.add(Layer::Notes, LayerShape::Text(note));
    drawing.path(
        Layer::Mark,
        &Path::line(Point::new(10.0, 10.0), Point::new(90.0, 10.0)),
    );
    let cup = Layer::DrillBlind {
        diameter: 35.0,
        depth: 12.5,
    };
    drawing.circle(cup, Point::new(22.5, 100.0), 35.0);
    drawing.path(Layer::CutInside, &circle(Point::new(200.0, 150.0), 40.0));
    drawing.path(
        Layer::CutOutside,
        &rounded_rectangle(Bounds::of_size(400.0, 300.0), 25.4),
    );
    drawing
}

/// The records of a kind: each one's groups, without the leading one.
fn records<'a>(groups: &'a [DxfGroup<'a>], kind: &str) -> Vec<&'a [DxfGroup<'a>]> {
    groups
        .chunk_by(|_, next| next.code != 0)
        .filter(|record| record[0].value == kind)
        .map(|record| &record[1..])
        .collect()
}

fn values<'a>(record: &[DxfGroup<'a>], code: u16) -> Vec<&'a str> {
    record
        .iter()
        .filter(|group| group.code == code)
        .map(|group| group.value.trim())
        .collect()
}

fn numbers(record: &[DxfGroup], code: u16) -> Vec<f64> {
    values(record, code)
        .iter()
        .map(|value| value.parse().unwrap())
        .collect()
}

fn header<'a>(groups: &[DxfGroup<'a>], name: &str) -> Option<&'a str> {
    let at = groups.iter().position(|group| group.value == name)?;
    Some(groups[at + 1].value.trim())
}

/// DXF Reference, LWPOLYLINE: 90 is the number of vertices, 70 bit 1 says closed, 42 is the bulge, and $INSUNITS is 4
/// for millimetres and 1 for inches; VERTEX, code 42: a quarter circle has the bulge tan(22.5 degrees) = 0.414213562.
#[test]
fn an_outline_is_one_closed_polyline_with_bulges() {
    for (unit, insunits, measurement) in [(Unit::Millimetre, "4", "1"), (Unit::Inch, "1", "0")] {
        let text = written(&sample(), Version::R2000, unit);
        let groups = read_groups(&text);
        assert_eq!(header(&groups, "$INSUNITS"), Some(insunits));
        assert_eq!(header(&groups, "$MEASUREMENT"), Some(measurement));
        let outline = records(&groups, "LWPOLYLINE").pop().unwrap();
        assert_eq!(values(outline, 8), ["CUT_OUTSIDE"]);
        assert_eq!(values(outline, 90), ["8"]);
        assert_eq!(values(outline, 70), ["1"]);
        let (xs, ys) = (numbers(outline, 10), numbers(outline, 20));
        assert_eq!((xs.len(), ys.len()), (8, 8));
        let scale = unit.in_mm();
        let right = xs.iter().copied().fold(f64::MIN, f64::max);
        let low = ys.iter().copied().fold(f64::MAX, f64::min);
        assert!((right * scale - 400.0).abs() < 1e-6);
        assert!(low.abs() < 1e-12);
        assert!((xs[0] - xs[7]).hypot(ys[0] - ys[7]) * scale > 1.0);
        let bulges = numbers(outline, 42);
        assert_eq!(bulges.len(), 4);
        assert!(bulges.iter().all(|b| (b - 0.414_213_562_373).abs() < 1e-12));
    }
}

/// The fixture of values for closed polylines: the parallel at 1.0 of the 3-4-5 triangle, NIST IR 6556, Table 12, whose
/// arcs turn clockwise by 90, 90, 143.1301 and 36.8699 degrees, so that every bulge is negative.
#[test]
fn clockwise_arcs_keep_their_sign_in_both_versions() {
    let bulge = |degrees: f64| Arc::bulge_of_sweep(-degrees.to_radians());
    let vertices = [
        (4.0, 5.0, bulge(90.0)),
        (5.0, 4.0, 0.0),
        (5.0, 1.0, bulge(90.0)),
        (4.0, 0.0, 0.0),
        (0.0, 0.0, bulge(143.130_102_354_155_98)),
        (-0.6, 1.8, 0.0),
        (3.4, 4.8, bulge(36.869_897_645_844_02)),
    ];
    let path = Path {
        vertices: vertices
            .iter()
            .map(|&(x, y, bulge)| Vertex {
                point: Point::new(x + 1.0, y),
                bulge,
            })
            .collect(),
        closed: true,
    };
    let mut drawing = LayerDrawing::default();
    drawing.path(Layer::CutInside, &path);
    for (version, kind) in [(Version::R2000, "LWPOLYLINE"), (Version::R12, "VERTEX")] {
        let text = written(&drawing, version, Unit::Millimetre);
        let groups = read_groups(&text);
        let bulges: Vec<f64> = records(&groups, kind)
            .into_iter()
            .flat_map(|record| numbers(record, 42))
            .collect();
        let expected = [
            -0.414_213_562,
            -0.414_213_562,
            -0.720_759_220,
            -0.162_277_660,
        ];
        assert_eq!(bulges.len(), expected.len());
        for (bulge, expected) in bulges.iter().zip(expected) {
            assert!((bulge - expected).abs() < 1e-8, "{bulge}");
        }
    }
}

/// R12 has POLYLINE, VERTEX and SEQEND, no subclass markers and no $INSUNITS (DXF Reference; LWPOLYLINE came later).
#[test]
fn r12_is_its_own_dialect() {
    let text = written(&sample(), Version::R12, Unit::Inch);
    let groups = read_groups(&text);
    assert_eq!(header(&groups, "$ACADVER"), Some("AC1009"));
    assert_eq!(header(&groups, "$INSUNITS"), None);
    assert!(groups.iter().all(|group| group.code != 100));
    assert!(records(&groups, "LWPOLYLINE").is_empty());
    assert_eq!(records(&groups, "SEQEND").len(), 2);
    let outline = records(&groups, "POLYLINE").pop().unwrap();
    assert_eq!(values(outline, 70), ["1"]);
    let vertices = records(&groups, "VERTEX");
    assert_eq!(vertices.len(), 10);
    for vertex in &vertices[2..] {
        assert_eq!(values(vertex, 8), ["CUT_OUTSIDE"]);
        assert_eq!(values(vertex, 30), ["0.0"]);
    }
}

#[test]
fn holes_and_round_openings_are_circles_of_true_diameter() {
    let text = written(&sample(), Version::R2000, Unit::Inch);
    let groups = read_groups(&text);
    let circles = records(&groups, "CIRCLE");
    assert_eq!(circles.len(), 2);
    assert_eq!(values(circles[0], 8), ["DRILL_D1-378_0-4921IN"]);
    assert!((numbers(circles[0], 40)[0] * 25.4 - 17.5).abs() < 1e-6);
    assert!((numbers(circles[0], 10)[0] * 25.4 - 22.5).abs() < 1e-6);
    assert_eq!(values(circles[1], 8), ["CUT_INSIDE"]);
}

#[test]
fn every_layer_is_declared_and_every_handle_is_given_once() {
    for version in [Version::R12, Version::R2000] {
        let text = written(&sample(), version, Unit::Millimetre);
        let groups = read_groups(&text);
        let declared: Vec<&str> = records(&groups, "LAYER")
            .iter()
            .map(|record| values(record, 2)[0])
            .collect();
        let entities = groups
            .iter()
            .position(|group| group.value == "ENTITIES")
            .unwrap();
        for group in groups[entities..].iter().filter(|group| group.code == 8) {
            assert!(declared.contains(&group.value), "{}", group.value);
        }
        let seed = u64::from_str_radix(header(&groups, "$HANDSEED").unwrap(), 16).unwrap();
        let mut handles: Vec<u64> = groups
            .chunk_by(|_, next| next.code != 0)
            .skip(1)
            .flat_map(|record| record.iter().filter(|g| matches!(g.code, 5 | 105)))
            .map(|group| u64::from_str_radix(group.value, 16).unwrap())
            .collect();
        let count = handles.len();
        handles.sort_unstable();
        handles.dedup();
        assert_eq!(handles.len(), count);
        assert!(count > 5);
        assert!(handles.iter().all(|handle| *handle > 0 && *handle < seed));
    }
}

#[test]
fn the_same_drawing_gives_the_same_bytes() {
    for version in [Version::R12, Version::R2000] {
        let own_header = header_of(version, Unit::Millimetre);
        assert_eq!(
            write(&sample(), &own_header).unwrap(),
            write(&sample(), &own_header).unwrap()
        );
        let other = FileHeader {
            name: "digest/dxf-cnc/shelf.dxf".to_owned(),
            ..own_header
        };
        let text = from_latin_1(&write(&sample(), &other).unwrap());
        let same = text == written(&sample(), version, Unit::Millimetre);
        assert_eq!(same, version == Version::R12, "only R2000 has identifiers");
    }
}

/// DXF Reference, header variables: 2451544.91568287 is 31 December 1999, 9:58:35 PM, which is 946,677,515 s after
/// 1970-01-01.
#[test]
fn the_date_is_the_one_that_was_given() {
    let dated = FileHeader {
        date: Some(946_677_515),
        ..header_of(Version::R2000, Unit::Millimetre)
    };
    let text = from_latin_1(&write(&sample(), &dated).unwrap());
    let groups = read_groups(&text);
    for name in ["$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"] {
        let day: f64 = header(&groups, name).unwrap().parse().unwrap();
        assert!((day - 2_451_544.915_682_87).abs() < 1e-8, "{name} {day}");
    }
}

#[test]
fn a_coordinate_that_is_no_number_is_refused() {
    for number in [f64::NAN, f64::INFINITY] {
        let mut drawing = LayerDrawing::default();
        let line = Path::line(Point::default(), Point::new(number, 1.0));
        drawing.path(Layer::CutOutside, &line);
        let written = write(&drawing, &header_of(Version::R2000, Unit::Millimetre));
        assert_eq!(written, Err(NotFinite("CUT_OUTSIDE".to_owned())));
    }
}

#[test]
fn lines_end_as_the_format_asks_and_letters_are_what_each_version_can_hold() {
    for version in [Version::R12, Version::R2000] {
        let text = written(&sample(), version, Unit::Millimetre);
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
        assert!(text.ends_with("  0\r\nEOF\r\n"));
        let note = match version {
            Version::R12 => "\r\nF\\U+00E4cher \\U+0416 50 % % <door>\r\n",
            Version::R2000 => "\r\nFächer \\U+0416 50 % % <door>\r\n",
        };
        assert!(text.contains(note));
        assert_eq!(text.is_ascii(), version == Version::R12);
    }
}
