//! Plans through all stages of the core, with values worked by hand.

use jigless_core::geom::Point;
use jigless_core::load::NoIncludes;
use jigless_core::operation::{Depth, Drill, MillArea, Work};
use jigless_core::side::{Edge, Face};
use jigless_core::workpiece::Workpiece;
use jigless_core::{Compiled, compile};

fn plan(parts: &str) -> Compiled {
    let text = format!(
        "jigless: 1\ntitle: Test\nunits: mm\nvalues: {{gap: 2, run: '(300 - 2*gap)/2'}}\nstock:\n  ply18: {{thickness: [17.6, 17.8], kind: plywood}}\nparts:\n{parts}"
    );
    compile("plan.yaml", text.as_bytes(), &NoIncludes)
}

fn reported(compiled: &Compiled) -> Vec<String> {
    let findings = compiled.findings.clone().sorted();
    findings
        .iter()
        .map(|finding| {
            let place = finding.span.map_or((0, 0), |span| {
                compiled.sources.file(span.file).line_column(span.start)
            });
            format!(
                "{}:{} {} {}",
                place.0, place.1, finding.code, finding.message
            )
        })
        .collect()
}

fn part(features: &str) -> Workpiece {
    let compiled = plan(&format!(
        "  p:\n    stock: ply18\n    width: 300\n    height: 400\n    features:\n{features}"
    ));
    assert_eq!(reported(&compiled), Vec::<String>::new());
    compiled.result.unwrap().1.remove(0)
}

fn drills(workpiece: &Workpiece) -> Vec<&Drill> {
    workpiece
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::Drill(drill) => Some(drill),
            _ => None,
        })
        .collect()
}

fn areas(workpiece: &Workpiece) -> Vec<&MillArea> {
    workpiece
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::MillArea(area) => Some(area),
            _ => None,
        })
        .collect()
}

fn assert_at(point: Point, x: f64, y: f64) {
    assert!(
        point.distance(Point::new(x, y)) < 1e-9,
        "{point:?} is not at {x}, {y}"
    );
}

#[test]
fn lengths_values_and_readings_are_worked_out() {
    let compiled = plan(
        "  p: {stock: ply18, width: run, height: 'width + 2 * ply18.thickness', count: 3, grain: height}\n",
    );
    assert_eq!(reported(&compiled), Vec::<String>::new());
    let (plan, workpieces) = compiled.result.unwrap();
    let part = &workpieces[0].part;
    assert!((part.width - 148.0).abs() < 1e-12);
    assert!((part.height - (148.0 + 2.0 * 17.7)).abs() < 1e-12);
    assert!((part.stock.thickest() - 17.8).abs() < 1e-12);
    assert_eq!(part.count, 3);
    assert_eq!(plan.digest.len(), 64);
}

#[test]
fn holes_are_measured_from_the_edges_that_the_plan_names() {
    let part = part(
        "      - hole: {at: {right: 37, top: 80}, diameter: 5, depth: 12, face: back}
      - hole_row: {first: [20, 30], step: [0, 32], count: 2, rows: {step: [50, 0], count: 2}, diameter: 1/4 in}
",
    );
    let holes = drills(&part);
    assert_at(holes[0].centre, 263.0, 320.0);
    assert_eq!(holes[0].face, Face::Back);
    assert_eq!(holes[0].depth, Depth::Blind(12.0));
    assert_eq!(holes[1].depth, Depth::Through);
    assert!((holes[1].diameter - 6.35).abs() < 1e-12);
    for (hole, (x, y)) in
        holes[1..]
            .iter()
            .zip([(20.0, 30.0), (20.0, 62.0), (70.0, 30.0), (70.0, 62.0)])
    {
        assert_at(hole.centre, x, y);
    }
    assert_eq!(holes[4].id, "H5");
}

/// Common practice, no source (values.md 17): a cup set out from a line 6.35 mm in has its centre at
/// 6.35 + 17.5 = 23.85 mm; a small door's hinges are centred 63.5 mm from its ends.
#[test]
fn a_hinge_cup_is_centred_half_a_cup_behind_its_rim() {
    let part = part(
        "      - hinge_cups: {edge: left, at: [2 1/2 in, height - 2 1/2 in], edge_gap: 1/4 in, screws: {diameter: 2.5, depth: 10}}
",
    );
    let holes = drills(&part);
    assert_eq!(holes.len(), 6);
    assert_at(holes[0].centre, 23.85, 63.5);
    assert_at(holes[1].centre, 33.35, 41.0);
    assert_at(holes[2].centre, 33.35, 86.0);
    assert_at(holes[3].centre, 23.85, 336.5);
    assert_eq!(holes[0].face, Face::Back);
    assert_eq!(
        part.workings[0].lines[0].to_string(),
        "cup centre from the left edge: 6.35 mm + 35 mm / 2 = 23.85 mm"
    );
}

/// Common practice, no source (values.md 9): plate holes 37 mm behind the front edge, 32 mm apart.
#[test]
fn hinge_plates_pins_and_runners_sit_on_their_lines() {
    let part = part(
        "      - hinge_plates: {edge: right, at: [100]}
      - pin_rows: {setback: {left: 37, right: 50}, first: 64, count: 3, depth: 10}
      - runner_holes: {edge: right, height: 60, setback: 3, offsets: [37, 133], diameter: 3, depth: 10}
",
    );
    let centres: Vec<(f64, f64)> = drills(&part)
        .iter()
        .map(|d| (d.centre.x, d.centre.y))
        .collect();
    let expected = [
        (263.0, 84.0),
        (263.0, 116.0),
        (37.0, 64.0),
        (37.0, 96.0),
        (37.0, 128.0),
        (250.0, 64.0),
        (250.0, 96.0),
        (250.0, 128.0),
        (260.0, 60.0),
        (164.0, 60.0),
    ];
    assert_eq!(centres.len(), expected.len());
    for (got, want) in centres.iter().zip(expected) {
        assert!(
            (got.0 - want.0).abs() < 1e-9 && (got.1 - want.1).abs() < 1e-9,
            "{got:?} {want:?}"
        );
    }
}

/// values.md 10, derived: at 15 degrees through mid-thickness the axis runs t / (2 sin 15) and reaches in
/// t / (2 tan 15); the mouth of a 3/8 in bore is 36.80 mm long.
#[test]
fn a_pocket_leaves_the_edge_at_mid_thickness() {
    for (thickness, axis, inward) in [
        ("1/2 in", 24.53, 23.70),
        ("3/4 in", 36.80, 35.55),
        ("1 in", 49.07, 47.40),
        ("1 1/2 in", 73.60, 71.10),
    ] {
        let text = format!(
            "jigless: 1\ntitle: T\nunits: mm\nstock: {{s: {{thickness: {thickness}}}}}\nparts: {{p: {{stock: s, width: 300, height: 400, features: [{{pocket_holes: {{edge: top, at: [50], diameter: 3/8 in}}}}]}}}}\n"
        );
        let compiled = compile("plan.yaml", text.as_bytes(), &NoIncludes);
        assert_eq!(reported(&compiled), Vec::<String>::new());
        let part = compiled.result.unwrap().1.remove(0);
        let Work::AngledBore(bore) = &part.operations[0].work else {
            panic!("{:?}", part.operations[0]);
        };
        assert!(
            (400.0 - bore.entry.y - inward).abs() < 0.006,
            "{thickness} {bore:?}"
        );
        let along = (bore.entry.distance(bore.exit)).hypot(bore.exit_depth);
        assert!((along - axis).abs() < 0.006, "{thickness} {along}");
        assert!((2.0 * bore.mouth_half_length() - 36.80).abs() < 0.006);
        assert_at(bore.exit, 50.0, 400.0);
    }
}

#[test]
fn grooves_and_rebates_know_where_they_are_open() {
    let part = part(
        "      - groove: {along: width, from: {bottom: 8}, width: 6, depth: 6}
      - groove: {along: height, from: {right: 20}, width: 10, depth: 5, stop: {start: 30, end: 40}, face: back}
      - rebate: {edge: [left, top], width: 9, depth: 8}
      - recess: {at: {right: 0, bottom: 50}, width: 40, height: 60, depth: 4}
      - recess: {centre: [100, 200], diameter: 50, depth: 3}
",
    );
    let areas = areas(&part);
    let bounds: Vec<_> = areas.iter().map(|a| a.outline.bounds().unwrap()).collect();
    assert_at(bounds[0].min, 0.0, 8.0);
    assert_at(bounds[0].max, 300.0, 14.0);
    assert_eq!(areas[0].open, [Edge::Left, Edge::Right]);
    assert_at(bounds[1].min, 270.0, 30.0);
    assert_at(bounds[1].max, 280.0, 360.0);
    assert_eq!(areas[1].open, []);
    assert_at(bounds[2].max, 9.0, 400.0);
    assert_eq!(areas[2].open, [Edge::Left, Edge::Top, Edge::Bottom]);
    assert_at(bounds[3].min, 0.0, 391.0);
    assert_at(bounds[4].min, 260.0, 50.0);
    assert_eq!(areas[4].open, [Edge::Right]);
    assert!(areas[5].outline.as_circle().is_some());
    let ids: Vec<&str> = areas.iter().map(|a| a.id.as_str()).collect();
    assert_eq!(ids, ["G1", "G2", "R1", "R2", "C1", "C2"]);
}

#[test]
fn corners_notches_and_cutouts_become_one_contour() {
    let part = part(
        "      - corner: {which: top-left, radius: 40}
      - corner: {which: [top-right], chamfer: 20}
      - notch: {edge: bottom, start: 0, width: 60, depth: 50, corner_radius: 10}
      - notch: {edge: right, start: 100, width: 30, depth: 25}
      - cutout: {at: [100, 150], width: 80, height: 60, corner_radius: 15}
      - cutout: {centre: [200, 300], diameter: 30}
",
    );
    let pi = std::f64::consts::PI;
    let outline = part.outline();
    let corner = |r: f64| r * r * (1.0 - pi / 4.0);
    let expected = 120_000.0 - corner(40.0) - 200.0 - (60.0 * 50.0 - corner(10.0)) - 750.0;
    assert!(
        (outline.area() - expected).abs() < 1e-6,
        "{}",
        outline.area()
    );
    let arcs = outline.vertices.iter().filter(|v| v.bulge != 0.0).count();
    assert_eq!(arcs, 2, "{outline:?}");
    let region = part.region();
    let openings = 80.0 * 60.0 - 4.0 * corner(15.0) + pi * 225.0;
    assert!((region.area() - (expected - openings)).abs() < 1e-6);
}

#[test]
fn an_outline_replaces_the_rectangle() {
    let part = part(
        "      - outline:
          points:
            - [0, 0]
            - {at: [300, 0], radius: 30}
            - {at: [300, 250], arc: [150, 400]}
            - [0, 250]
",
    );
    let outline = part.outline();
    // The half circle of radius 150 above y = 250 touches the top at y = 400.
    let pi = std::f64::consts::PI;
    let expected = 300.0 * 250.0 + pi * 150.0 * 150.0 / 2.0 - 900.0 * (1.0 - pi / 4.0);
    assert!((outline.area() - expected).abs() < 1e-6, "{outline:?}");
}

#[test]
fn the_mirror_image_has_everything_on_the_other_side() {
    let compiled = plan(
        "  side-left:
    stock: ply18
    width: 300
    height: 400
    mirror_as: side-right
    edges: {left: front edge}
    features:
      - hole: {at: [37, 80], diameter: 5, depth: 12}
      - edge_hole: {edge: top, along: [50], diameter: 8, depth: 20}
      - hinge_cups: {edge: left, at: [100], edge_gap: 5, accept: {few-hinges: one is enough to look at}}
      - notch: {edge: left, start: 0, width: 60, depth: 50}
",
    );
    assert_eq!(reported(&compiled), Vec::<String>::new());
    let (_, workpieces) = compiled.result.unwrap();
    let [left, right] = workpieces.as_slice() else {
        panic!()
    };
    assert_at(drills(left)[0].centre, 37.0, 80.0);
    assert_at(drills(right)[0].centre, 263.0, 80.0);
    assert_eq!(right.part.edge_label(Edge::Right), Some("front edge"));
    assert!(right.part.is_mirrored());
    assert!((left.outline().area() - right.outline().area()).abs() < 1e-9);
    let of_cups = right.workings[0].lines[0].to_string();
    assert!(of_cups.contains("right edge"), "{of_cups}");
    let accepted = "meant to be so (few-hinges): one is enough to look at";
    assert!(
        left.workings[0]
            .lines
            .iter()
            .any(|line| line.to_string() == accepted)
    );
    let Work::EdgeDrill(hole) = &right.operations[1].work else {
        panic!()
    };
    assert!((hole.along - 250.0).abs() < 1e-9);
    // The back of the left one looks like the front of the right one.
    let view = left.seen_from(Face::Back);
    assert_eq!(view.physical(Edge::Right), Edge::Left);
    let Work::Drill(cup) = &view.operations[0].work else {
        panic!()
    };
    assert_at(cup.centre, 300.0 - 22.5, 100.0);
}

#[test]
fn all_faults_of_a_plan_are_reported_at_once_and_placed() {
    let compiled = plan(
        "  p:
    stock: ply81
    width: -3
    height: 400 mn
  q:
    stock: ply18
    widht: 300
    height: 400
  r:
    stock: ply18
    width: 300
    height: 400
    features:
      - hole: {at: [1, 2], diamter: 5}
      - hol: {at: [1, 2]}
      - groove: {along: width, from: {left: 3}, width: 6, depth: 5}
      - hole: {at: {left: 1, right: 2}, diameter: width*2 mm}
",
    );
    assert_eq!(
        reported(&compiled),
        [
            "9:12 unknown-stock there is no stock `ply81`",
            "10:12 out-of-range `width` cannot be -3 mm",
            "11:17 bad-length `mn` is not a unit",
            "14:5 unknown-key `widht` is not a key of part `q`",
            "21:28 unknown-key `diamter` is not a key of hole",
            "22:9 unknown-feature there is no feature `hol`",
            "23:39 wrong-end a groove along the width cannot be measured from the left edge",
            "24:20 two-parallel-edges left and right are parallel; they do not fix a point",
            "24:51 bad-length a length times a length is an area; a length belongs here",
        ]
    );
    assert!(compiled.result.is_none());
}

#[test]
fn what_cannot_be_made_is_reported() {
    let compiled = plan(
        "  p:
    stock: ply18
    width: 300
    height: 400
    features:
      - hole: {at: [20, 20], diameter: 5, depth: 18}
      - groove: {along: width, from: {bottom: 396}, width: 6, depth: 5}
      - edge_hole: {edge: left, along: 30, diameter: 20, depth: 20}
      - cutout: {at: [100, -1], width: 10, height: 402}
      - pin_rows: {setback: {left: 37}, first: 64, count: 10000000, depth: 10}
",
    );
    assert_eq!(
        reported(&compiled),
        [
            "13:50 depth-beyond-thickness `p`: a hole 18 mm deep does not fit into a part 17.7 mm thick",
            "14:60 area-outside-part `p`: the groove reaches 2 mm over the top edge",
            "15:54 hole-breaks-face `p`: a hole of 20 mm whose axis is 8.85 mm from a face breaks through that face",
            "16:22 bad-cut `p`: this cuts the part into 2 pieces",
            "17:59 too-many-repeats this asks for 10000000 repeats; one feature may have 10000",
        ]
    );
    let compiled = plan(
        "  q:
    stock: ply18
    width: 300
    height: 400
    features:
      - hole: {at: [20, 420], diameter: 5, depth: 1}
      - hole: {at: [2, 20], diameter: 5, depth: 1}
",
    );
    assert_eq!(
        reported(&compiled),
        [
            "13:20 hole-outside-part `q`: the centre of hole H1 at 20 mm, 420 mm is not on its material",
            "14:20 hole-breaks-edge `q`: hole H2 of 5 mm breaks out: its centre is only 2 mm from the nearest edge",
        ]
    );
}

#[test]
fn circles_of_values_name_the_circle() {
    let text = "jigless: 1\ntitle: T\nunits: mm\nvalues:\n  a: b + 1\n  b: c\n  c: 2 * a\n  d: a\nstock: {s: {thickness: 18}}\nparts: {p: {stock: s, width: height, height: width}}\n";
    let compiled = compile("plan.yaml", text.as_bytes(), &NoIncludes);
    assert_eq!(
        reported(&compiled),
        [
            "7:10 bad-length values use one another in a circle: a -> b -> c -> a",
            "10:30 bad-length values use one another in a circle: width -> height -> width",
        ]
    );
}

#[test]
fn the_expanded_plan_means_the_same() {
    let text = "# a comment\njigless: 1\ntitle: 'T: \"x\" # é'\nrevision: 1.10\nunits: in\nvalues: {a: 1 1/2, b: \"2-1/2in\"}\nstock: {s: {thickness: [0.7, 18 mm], label: '12'}}\nparts:\n  p: {stock: s, width: a * 10, height: b*4, features: [{hole: {at: [1, 2.50], diameter: 1/4, label: 'no'}}, {mark: {at: [1, 1], text: '- a: [b'}}]}\n";
    let first = compile("plan.yaml", text.as_bytes(), &NoIncludes);
    assert_eq!(reported(&first), Vec::<String>::new());
    let (plan, workpieces) = first.result.unwrap();
    let second = compile("expanded.yaml", plan.expanded.as_bytes(), &NoIncludes);
    assert_eq!(reported(&second), Vec::<String>::new(), "{}", plan.expanded);
    let (again, again_workpieces) = second.result.unwrap();
    assert_eq!(again.expanded, plan.expanded);
    assert_eq!(again.digest, plan.digest);
    assert_eq!(again.revision.as_deref(), Some("1.10"));
    assert_eq!(again.title, "T: \"x\" # é");
    let works = |w: &[Workpiece]| -> Vec<Work> {
        w.iter()
            .flat_map(|w| &w.operations)
            .map(|o| o.work.clone())
            .collect()
    };
    assert_eq!(works(&workpieces), works(&again_workpieces));
}

/// What stands at the top of a plan is in the text that it stands for, or the digest would not follow it.
#[test]
fn the_expanded_plan_keeps_the_keys_at_the_top() {
    let text = |sold: &str| {
        format!(
            "jigless: 1\ntitle: Top\nunits: mm\nlengths_sold: [{sold}]\nspace: {{width: 900, height: 900, depth: 900}}\nstock: {{board: {{thickness: 18}}}}\nparts: {{panel: {{stock: board, width: 200, height: 100}}}}\n"
        )
    };
    let plan = |text: &str| {
        let compiled = jigless_core::compile(
            "plan.yaml",
            text.as_bytes(),
            &jigless_core::load::NoIncludes,
        );
        compiled.result.expect("a sound plan").0
    };
    let one = plan(&text("25, 40"));
    assert_ne!(one.digest, plan(&text("25, 45")).digest);
    let again = plan(&one.expanded);
    assert_eq!(again.digest, one.digest);
    assert_eq!(again.space.map(|space| space.depth.value), Some(900.0));
}
