//! Tests on whole plans: what each machine gets of a part, and what is reported that it does not get.

use jigless_core::compile;
use jigless_core::load::NoIncludes;
use jigless_model::diag::{Findings, Severity};
use jigless_model::export::{Artifact, ExportInput, Exporter, Stamp};
use jigless_model::geom::Point;
use jigless_model::plan::Plan;
use jigless_model::side::Face;
use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;

use super::cnc::Router;
use super::contract::Machine;
use super::drawing::{LayerDrawing, LayerItem, LayerShape};
use super::laser::Laser;
use super::laser_options::LaserOptions;
use super::layers::{Layer, LayerNaming};
use super::layout_options::SheetLayout;
use super::pages::{PageStyle, pages};
use super::router_options::RouterOptions;
use super::tool::Tool;
use super::{DxfCnc, DxfLaser, notes};

const DOOR: &str = "\
jigless: 1
title: Glaze cabinet
units: mm
stock:
  board: {label: Birch plywood, thickness: 18, kind: plywood}
parts:
  door:
    stock: board
    width: 300
    height: 500
    edges: {left: hinge edge}
    features:
      - hole: {at: [20, 100], diameter: 5, depth: through, countersink: {diameter: 10}}
      - hole: {at: [20, 400], diameter: 35, depth: 12.5, face: back}
      - hole: {at: [30, 250], diameter: 8, depth: through, face: back, counterbore: {diameter: 12, depth: 4}}
      - groove: {along: height, from: {left: 50}, width: 6, depth: 6}
      - cutout: {centre: [200, 250], diameter: 80}
      - edge_hole: {edge: bottom, along: [60, 240], diameter: 8, depth: 30}
      - mark: {line: {from: [100, 0], to: [100, 500]}, text: shelf}
";

fn compiled(yaml: &str) -> (Plan, Vec<Workpiece>) {
    let compiled = compile("plan.yaml", yaml.as_bytes(), &NoIncludes);
    assert!(!compiled.findings.has_errors(), "{:?}", compiled.findings);
    compiled.result.unwrap()
}

fn drawn(machine: &impl Machine, face: Face) -> LayerDrawing {
    let (_, workpieces) = compiled(DOOR);
    let mut drawing = LayerDrawing::default();
    machine.draw(
        &workpieces[0].seen_from(face),
        Unit::Millimetre,
        &mut drawing,
    );
    drawing
}

/// Circles as layer, centre and diameter.
fn circles(drawing: &LayerDrawing) -> Vec<(String, f64, f64, f64)> {
    let circle = |item: &LayerItem| match &item.shape {
        LayerShape::Circle { centre, radius } => Some((
            item.layer.name(Unit::Millimetre),
            centre.x,
            centre.y,
            2.0 * radius,
        )),
        LayerShape::Path(_) | LayerShape::Text(_) => None,
    };
    drawing.items.iter().filter_map(circle).collect()
}

fn on(layer: &str, x: f64, y: f64, diameter: f64) -> (String, f64, f64, f64) {
    (layer.to_owned(), x, y, diameter)
}

fn vet<E: Exporter>(exporter: &E, yaml: &str) -> Findings {
    let (plan, workpieces) = compiled(yaml);
    let stamp = Stamp::new("jigless", None);
    let input = ExportInput::new(&plan, &workpieces, &stamp);
    exporter.vet(&input, &E::Options::default())
}

fn files<E: Exporter>(exporter: &E, yaml: &str) -> Vec<Artifact> {
    let (plan, workpieces) = compiled(yaml);
    let stamp = Stamp::new("jigless", None);
    let input = ExportInput::new(&plan, &workpieces, &stamp);
    exporter.export(&input, &E::Options::default()).unwrap()
}

#[test]
fn a_router_gets_every_depth_on_a_layer_of_its_own() {
    assert_eq!(
        circles(&drawn(&Router(&RouterOptions::default()), Face::Front)),
        [
            on("CUT_INSIDE", 200.0, 250.0, 80.0),
            on("REFERENCE", 30.0, 250.0, 8.0),
            on("COUNTERSINK_90DEG_5", 20.0, 100.0, 10.0),
            on("DRILL_THROUGH_D5", 20.0, 100.0, 5.0),
        ]
    );
    // Seen from the back, x is 300 less what it is on the front; what the front makes is for orientation only.
    assert_eq!(
        circles(&drawn(&Router(&RouterOptions::default()), Face::Back)),
        [
            on("REFERENCE", 100.0, 250.0, 80.0),
            on("REFERENCE", 280.0, 100.0, 5.0),
            on("DRILL_D35_12-5", 280.0, 400.0, 35.0),
            on("FLATBORE_D12_4", 270.0, 250.0, 12.0),
            on("DRILL_THROUGH_D8", 270.0, 250.0, 8.0),
        ]
    );
}

#[test]
fn a_laser_cuts_all_that_goes_through_from_the_front() {
    assert_eq!(
        circles(&drawn(
            &Laser(&LaserOptions::default(), "dxf-laser"),
            Face::Front
        )),
        [
            on("CUT_INSIDE", 200.0, 250.0, 80.0),
            on("CUT_INSIDE", 20.0, 100.0, 5.0),
            on("NOTES", 20.0, 100.0, 10.0),
            on("CUT_INSIDE", 30.0, 250.0, 8.0),
        ]
    );
    let back = drawn(&Laser(&LaserOptions::default(), "dxf-laser"), Face::Back);
    let cuts = |name: &str| name.starts_with("CUT") || name.starts_with("DRILL");
    assert!(circles(&back).iter().all(|(name, ..)| !cuts(name)));
}

#[test]
fn nothing_but_cuts_and_marks_is_on_the_layers_of_a_laser() {
    let drawing = drawn(&Laser(&LaserOptions::default(), "dxf-laser"), Face::Front);
    for (name, _) in drawing.layers(&LayerNaming::own(Unit::Millimetre)) {
        let known = ["CUT_OUTSIDE", "CUT_INSIDE", "MARK", "NOTES", "HAND_WORK"];
        assert!(known.contains(&name.as_str()), "{name}");
    }
    for item in &drawing.items {
        let name = item.layer.name(Unit::Millimetre);
        let is_text = matches!(item.shape, LayerShape::Text(_));
        assert!(!is_text || name == "NOTES" || name == "HAND_WORK", "{name}");
    }
}

#[test]
fn edge_holes_are_drawn_as_hand_work_and_reported() {
    for face in Face::ALL {
        let drawing = drawn(&Router(&RouterOptions::default()), face);
        let boxes: Vec<Point> = drawing
            .items
            .iter()
            .filter(|item| item.layer.name(Unit::Millimetre) == "HAND_WORK")
            .filter(|item| matches!(item.shape, LayerShape::Path(_)))
            .filter_map(|item| Some(item.shape.bounds()?.centre()))
            .collect();
        let xs = match face {
            Face::Front => [60.0, 240.0],
            Face::Back => [240.0, 60.0],
        };
        assert_eq!(boxes, xs.map(|x| Point::new(x, 15.0)));
    }
    let findings = vet(&DxfCnc, DOOR);
    let reported: Vec<&str> = findings
        .iter()
        .map(|finding| finding.code.as_str())
        .collect();
    assert_eq!(reported, ["router-has-no-tools", "work-not-machined"]);
    assert!(!findings.has_errors());
}

#[test]
fn all_that_a_laser_cannot_make_is_reported() {
    let findings = vet(&DxfLaser, DOOR);
    let blind: Vec<_> = findings
        .iter()
        .filter(|finding| finding.code.as_str() == "blind-work-for-laser")
        .collect();
    assert_eq!(blind.len(), 1);
    assert!(
        blind[0].message.contains("4 pieces"),
        "{}",
        blind[0].message
    );
    let labels: Vec<&str> = blind[0]
        .labels
        .iter()
        .map(|label| label.text.as_str())
        .collect();
    assert_eq!(
        labels,
        [
            "H1: wider mouth of 10 mm",
            "H2: hole of 35 mm, 12.5 mm deep",
            "H3: wider mouth of 12 mm",
            "G1: groove 6 mm deep",
        ]
    );
    assert_eq!(findings.count(Severity::Error), 0);
}

#[test]
fn a_laser_refuses_vinyl_and_doubts_what_it_does_not_know() {
    let plain = |kind: &str| {
        format!(
            "jigless: 1\ntitle: t\nunits: mm\nstock:\n  s: {{thickness: 3, kind: {kind}}}\n\
             parts:\n  p: {{stock: s, width: 50, height: 50}}\n"
        )
    };
    for (kind, code, severity) in [
        ("pvc", Some("laser-on-pvc"), Severity::Error),
        (
            "other",
            Some("laser-on-unknown-material"),
            Severity::Warning,
        ),
        ("mdf", Some("laser-on-glue-bound-board"), Severity::Note),
        ("acrylic", None, Severity::Note),
    ] {
        let findings = vet(&DxfLaser, &plain(kind));
        assert_eq!(
            findings.iter().next().map(|f| f.code.as_str()),
            code,
            "{kind}"
        );
        assert_eq!(findings.count(severity), findings.len(), "{kind}");
        let routed = vet(&DxfCnc, &plain(kind));
        assert!(
            routed
                .iter()
                .all(|f| f.code.as_str() == "router-has-no-tools")
        );
        // Where the plan says that a laser cuts it, the check has reported it, or the author accepts it.
        let planned = plain(kind).replace(
            "kind:",
            "cut_by: laser, accept: {laser-burns-vinyl: x}, kind:",
        );
        let found = vet(&DxfLaser, &planned);
        assert_eq!(found.len(), usize::from(kind == "pvc"), "{kind}");
    }
}

#[test]
fn the_back_has_a_file_only_where_it_has_work() {
    let names = |artifacts: Vec<Artifact>| -> Vec<String> {
        artifacts
            .into_iter()
            .map(|artifact| artifact.path)
            .collect()
    };
    assert_eq!(names(files(&DxfCnc, DOOR)), ["door.dxf", "door.back.dxf"]);
    assert_eq!(names(files(&DxfLaser, DOOR)), ["door.dxf", "door.back.dxf"]);
    let through_only = DOOR
        .replace(", counterbore: {diameter: 12, depth: 4}", "")
        .replace("depth: 12.5, face: back", "depth: 12.5");
    assert_eq!(
        names(files(&DxfCnc, &through_only)),
        ["door.dxf", "door.back.dxf"]
    );
    assert_eq!(names(files(&DxfLaser, &through_only)), ["door.dxf"]);
    let front_only = through_only.replace(", face: back", "");
    assert_eq!(names(files(&DxfCnc, &front_only)), ["door.dxf"]);
}

#[test]
fn edges_keep_their_own_names_on_the_back() {
    let (_, workpieces) = compiled(DOOR);
    let view = workpieces[0].seen_from(Face::Back);
    let mut drawing = LayerDrawing::default();
    notes::label_edges(&view, &mut drawing);
    let label = drawing.items.iter().find_map(|item| match &item.shape {
        LayerShape::Text(text) if text.content.starts_with("left edge") => Some(text),
        _ => None,
    });
    let label = label.unwrap();
    assert_eq!(label.content, "left edge (hinge edge)");
    assert!(label.at.x > 250.0 && label.upward);
}

#[test]
fn zero_is_the_corner_and_the_work_is_the_size_of_the_part() {
    let (plan, workpieces) = compiled(DOOR);
    let stamp = Stamp::new("jigless", None);
    let input = ExportInput::new(&plan, &workpieces, &stamp);
    let naming = LayerNaming::own(Unit::Millimetre);
    let style = PageStyle {
        layout: &SheetLayout::default(),
        naming: &naming,
        notes: true,
    };
    let options = RouterOptions::default();
    let pages = pages(&Router(&options), &input, &style).unwrap();
    assert_eq!(pages.len(), 2);
    for page in &pages {
        let all = page.drawing.bounds().unwrap();
        assert!(all.min.x >= 0.0 && all.min.y >= 0.0);
    }
    let last = pages[0].drawing.items.last().unwrap();
    let outline = last.shape.bounds().unwrap();
    assert_eq!(outline.min, Point::default());
    assert_eq!(outline.max, Point::new(300.0, 500.0));
}

/// The groove is open above and below: it runs out by the radius of its tool, 3, and 1 mm, and zero stays the part's corner.
#[test]
fn a_known_tool_runs_out_and_zero_stays() {
    let (plan, workpieces) = compiled(DOOR);
    let stamp = Stamp::new("jigless", None);
    let input = ExportInput::new(&plan, &workpieces, &stamp);
    let naming = LayerNaming::own(Unit::Millimetre);
    let style = PageStyle {
        layout: &SheetLayout::default(),
        naming: &naming,
        notes: false,
    };
    let options = RouterOptions {
        tools: vec![Tool::mill(6.0, 4.0)],
        register: 8.0,
        ..RouterOptions::default()
    };
    let pages = pages(&Router(&options), &input, &style).unwrap();
    let bounds = |page: usize, name: &str| {
        let items = pages[page].drawing.items.iter();
        let mut found = items.filter(|item| item.layer.name(Unit::Millimetre) == name);
        found.next().and_then(|item| item.shape.bounds()).unwrap()
    };
    let groove = bounds(0, "GROOVE_6");
    assert_eq!((groove.min.y, groove.height()), (-4.0, 508.0));
    assert!(
        pages[0]
            .remarks
            .iter()
            .any(|line| line == "G1: 6 mm tool, 2 passes to 3 mm and 6 mm")
    );
    // The pins: 6 + 8/2 + 3 beside the part. Those of the front stand where the back's holes were.
    assert_eq!(bounds(0, "PINS"), bounds(1, "REGISTER"));
    assert_eq!(bounds(0, "PINS").min, Point::new(-17.0, 121.0));
    assert_eq!(bounds(0, "CUT_OUTSIDE").min, Point::default());
    let nominal = bounds(0, "NOTES").height();
    assert!((nominal - 500.0).abs() < 1e-9, "the nominal groove");
}

#[test]
fn the_way_from_cut_to_cut_is_short() {
    let mut drawing = LayerDrawing::default();
    for n in 0..40 {
        let place = Point::new(f64::from(n * 7 % 40) * 10.0, f64::from(n * 3 % 5));
        drawing.circle(Layer::CutInside, place, 4.0);
    }
    let before = drawing.travel();
    drawing.sort();
    assert!(
        drawing.travel() < before / 4.0,
        "{} of {before}",
        drawing.travel()
    );
}
