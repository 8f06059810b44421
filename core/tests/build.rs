//! Builders and joints with values worked by hand, every step written.
//!
//! Gaps, setbacks, overlaps and hinge places are common practice, no source; the runner's half inch is from
//! `ShopNotes` 91, page 10. What is computed from them is plain arithmetic.

#![allow(
    clippy::float_cmp,
    reason = "what is compared so comes from sums that are exact"
)]

use jigless_core::arrange::{Effort, Settings};
use jigless_core::compare::compare;
use jigless_core::load::NoIncludes;
use jigless_core::operation::{Depth, Work};
use jigless_core::plan::{Part, Plan};
use jigless_core::side::{Edge, Face};
use jigless_core::whole::{Body, Triple};
use jigless_core::workpiece::Workpiece;
use jigless_core::{Compiled, compile};

fn compiled(thickness: &str, rest: &str) -> Compiled {
    let text = format!(
        "jigless: 1\ntitle: Test\nunits: mm\nstock:\n  ply: {{thickness: {thickness}, density: 680}}\n  thin: {{thickness: 6}}\n  side: {{thickness: 12}}\n{rest}"
    );
    compile("plan.yaml", text.as_bytes(), &NoIncludes)
}

fn codes(compiled: &Compiled) -> Vec<&'static str> {
    compiled
        .findings
        .iter()
        .map(|finding| finding.code.as_str())
        .collect()
}

#[track_caller]
fn sound(thickness: &str, rest: &str) -> (Plan, Vec<Workpiece>) {
    let compiled = compiled(thickness, rest);
    // Whether a unit that stands alone tips over is another question than whether it goes together, and so is whose runner
    // a row of holes fits.
    let other = ["tips-over", "runner-rows-assumed"];
    let own = compiled
        .findings
        .iter()
        .filter(|f| !other.contains(&f.code.as_str()));
    let reported: Vec<&String> = own.map(|f| &f.message).collect();
    assert!(reported.is_empty(), "{reported:#?}");
    compiled.result.unwrap()
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

#[track_caller]
fn size(plan: &Plan, id: &str, width: f64, height: f64) {
    let part = plan.part(id).unwrap_or_else(|| panic!("no part {id}"));
    assert!(
        near(part.width, width) && near(part.height, height),
        "{id} is {} by {}, not {width} by {height}",
        part.width,
        part.height
    );
}

/// The centres of drilled holes of a diameter in the whole, by the part's own place.
fn drilled(workpieces: &[Workpiece], id: &str, diameter: f64) -> Vec<Triple> {
    let workpiece = workpieces.iter().find(|w| w.part.id == id).unwrap();
    let part: &Part = &workpiece.part;
    let size = [part.width, part.height, part.thickness()];
    // The work of a mirror image is in its own coordinates, so its body is taken as that of any other part.
    let body = Body::new(part.places[0], size, false);
    workpiece
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::Drill(drill) if near(drill.diameter, diameter) => {
                let depth = if drill.face == Face::Front {
                    0.0
                } else {
                    part.thickness()
                };
                Some(body.to_whole(drill.centre.x, drill.centre.y, depth))
            }
            _ => None,
        })
        .collect()
}

const CARCASS: &str = "builds:\n  cabinet:\n    carcass:\n      stock: ply\n      back_stock: thin\n      width: 600\n      height: 720\n      depth: 560\n";

#[test]
fn a_carcass_600_by_720_by_560_of_17_7_mm_sheet() {
    let (plan, workpieces) = sound(
        "17.7",
        &format!(
            "{CARCASS}      shelves: [{{name: shelf, up: 350}}, {{name: upper, up: 500, joint: butt}}]\n"
        ),
    );
    // Sides: the whole depth by the whole height.
    size(&plan, "cabinet-side-left", 560.0, 720.0);
    // Between them: 600 - 2 x 17.7 = 564.6. The back lies in a rebate of 6 + 0.2 = 6.2, and the bottom ends there:
    // 560 - 6.2 = 553.8. The top has the rebate itself and keeps the whole depth.
    size(&plan, "cabinet-bottom", 564.6, 553.8);
    size(&plan, "cabinet-top", 564.6, 560.0);
    // A shelf in housings 6 deep, 0.6 short of their bottoms: 564.6 + 2 x 6 - 0.6 = 576.
    size(&plan, "cabinet-shelf", 576.0, 553.8);
    size(&plan, "cabinet-upper", 564.6, 553.8);
    // The back reaches 8 into sides and top, 1 smaller than the space: 600 - 2 x (17.7 - 8) - 1 = 579.6 wide, and from
    // the lower end to 720 - (17.7 - 8) - 0.5 = 709.8.
    size(&plan, "cabinet-back", 579.6, 709.8);
    // The housing is the shelf's thickness and a slip of 0.2 wide and lies 0.1 below it: 350 - 0.1.
    let side = workpieces
        .iter()
        .find(|w| w.part.id == "cabinet-side-left")
        .unwrap();
    let housing = side
        .operations
        .iter()
        .find_map(|operation| match &operation.work {
            Work::MillArea(area) if operation.origin.key == "groove" => Some(area),
            _ => None,
        })
        .unwrap();
    let bounds = housing.outline.bounds().unwrap();
    assert!(
        near(bounds.min.y, 349.9) && near(bounds.height(), 17.9),
        "{bounds:?}"
    );
    assert!(near(housing.depth, 6.0));
}

#[test]
fn overlay_doors_with_gaps_of_2_mm() {
    let (plan, workpieces) = sound(
        "17.7",
        &format!(
            "{CARCASS}  door:\n    door_pair: {{in: cabinet-bottom, stock: ply, edge_gap: 6.35}}\n"
        ),
    );
    // Gaps at the left, in the middle and at the right: (600 - 3 x 2) / 2 = 297; above and below: 720 - 2 x 2 = 716.
    size(&plan, "door-left", 297.0, 716.0);
    size(&plan, "door-right", 297.0, 716.0);
    let left = plan.part("door-left").unwrap().places[0];
    let right = plan.part("door-right").unwrap().places[0];
    // 2 from the left; 2 + 297 + 2 = 301 for the other. In front of the carcass, which is 560 deep.
    assert_eq!(
        (left.at, right.at),
        ([2.0, 2.0, 560.0], [301.0, 2.0, 560.0])
    );
    // 716 is below 40 in and 0.297 x 0.716 x 0.0177 m3 x 680 = 2.56 kg below 15 lb: two hinges each, 88.9 from the ends
    // (3 1/2 in), so at 2 + 88.9 = 90.9 and 2 + 716 - 88.9 = 629.1 above the floor.
    for (door, side) in [
        ("door-left", "cabinet-side-left"),
        ("door-right", "cabinet-side-right"),
    ] {
        let cups: Vec<f64> = drilled(&workpieces, door, 35.0)
            .iter()
            .map(|p| p[1])
            .collect();
        assert!(
            cups.len() == 2 && near(cups[0], 90.9) && near(cups[1], 629.1),
            "{cups:?}"
        );
        // Each plate has its holes 16 above and below the hinge, 37 behind the front edge of the side.
        let plates = drilled(&workpieces, side, 5.0);
        let expected = [90.9 - 16.0, 90.9 + 16.0, 629.1 - 16.0, 629.1 + 16.0];
        assert_eq!(plates.len(), 4, "{side}");
        for (hole, height) in plates.iter().zip(expected) {
            assert!(
                near(hole[1], height) && near(hole[2], 560.0 - 37.0),
                "{side} {hole:?}"
            );
        }
    }
    // On the inner faces: 17.7 and 600 - 17.7.
    assert!(near(
        drilled(&workpieces, "cabinet-side-left", 5.0)[0][0],
        17.7
    ));
    assert!(near(
        drilled(&workpieces, "cabinet-side-right", 5.0)[0][0],
        582.3
    ));
}

#[test]
fn hinges_are_counted_by_height_and_by_weight() {
    // 1100 high is over 40 in (1016): three. 900 by 900 of 30 mm is 0.0243 m3 x 680 = 16.5 kg, over 30 lb (13.6): four.
    for (width, height, thickness, hinges) in [(300, 1104, "17.7", 3), (904, 904, "30", 4)] {
        let rest = format!(
            "builds:\n  cabinet:\n    carcass: {{stock: ply, back: none, width: {width}, height: {height}, depth: 400}}\n  door:\n    door: {{in: cabinet, stock: ply, edge_gap: 6.35}}\n"
        );
        let (_, workpieces) = sound(thickness, &rest);
        assert_eq!(drilled(&workpieces, "door", 35.0).len(), hinges);
    }
}

#[test]
fn a_door_hung_at_the_right_has_plates_at_the_right_only() {
    let (plan, workpieces) = sound(
        "17.7",
        &format!(
            "{CARCASS}  door:\n    door: {{in: cabinet, stock: ply, edge_gap: 6.35, fit: inset, hinge_side: right}}\n"
        ),
    );
    // Inset: 564.6 - 2 x 2 = 560.6 by 720 - 2 x 17.7 - 2 x 2 = 680.6, flush with the front: 560 - 17.7.
    size(&plan, "door", 560.6, 680.6);
    assert_eq!(
        plan.part("door").unwrap().places[0].at,
        [19.7, 19.7, 560.0 - 17.7]
    );
    assert!(drilled(&workpieces, "cabinet-side-left", 5.0).is_empty());
    let plates = drilled(&workpieces, "cabinet-side-right", 5.0);
    // 19.7 + 88.9 - 16 up, and 37 and the door's thickness behind the front edge.
    assert_eq!(plates.len(), 4);
    assert!(
        near(plates[0][1], 92.6) && near(plates[0][2], 560.0 - 37.0 - 17.7),
        "{plates:?}"
    );
}

#[test]
fn a_drawer_for_an_opening_of_463_2_mm() {
    // The opening: 498.6 - 2 x 17.7 = 463.2.
    let (plan, _) = sound(
        "17.7",
        "builds:\n  cabinet:\n    carcass: {stock: ply, back_stock: thin, width: 498.6, height: 200, depth: 500}\n  drawer:\n    drawer: {in: cabinet, stock: side, bottom_stock: thin, front_stock: ply, length: 450}\n",
    );
    // 463.2 - 2 x 12.7 = 437.8 wide; inside 437.8 - 2 x 12 = 413.8.
    // Front and back in rebates 6 deep: 413.8 + 2 x 6 = 425.8.
    // Height: 200 - 2 x 17.7 = 164.6 of room; less 20 is 144.6, so 140.
    size(&plan, "drawer-box-front", 425.8, 140.0);
    size(&plan, "drawer-side-left", 450.0, 140.0);
    // Bottom in grooves 6 deep with 1 of play: 413.8 + 12 - 1 = 424.8 by 450 - 24 + 12 - 1 = 437.
    size(&plan, "drawer-bottom", 424.8, 437.0);
    // The front lies over the carcass: 498.6 - 2 x 2 by 200 - 2 x 2.
    size(&plan, "drawer-front", 494.6, 196.0);
    // The box stands 12.7 from the sides and 12 above the bottom: 17.7 + 12.7 and 17.7 + 12; its front is flush.
    let left = plan.part("drawer-side-left").unwrap().places[0].at;
    assert!(
        near(left[0], 30.4) && near(left[1], 29.7) && near(left[2], 50.0),
        "{left:?}"
    );
    let right = plan.part("drawer-side-right").unwrap().places[0].at;
    assert!(near(right[0], 498.6 - 17.7 - 12.7 - 12.0), "{right:?}");
}

#[test]
fn the_screw_lines_of_a_runner_agree_in_wall_and_box() {
    let (_, workpieces) = sound(
        "17.7",
        "builds:\n  cabinet:\n    carcass: {stock: ply, back_stock: thin, width: 498.6, height: 200, depth: 500}\n  drawer:\n    drawer: {in: cabinet, stock: side, bottom_stock: thin, front_stock: ply, front_with: nothing}\n",
    );
    // Half the height of the box above its lower edge: 17.7 + 12 + 140 / 2 = 99.7.
    for id in [
        "cabinet-side-left",
        "cabinet-side-right",
        "drawer-side-left",
        "drawer-side-right",
    ] {
        let holes = drilled(&workpieces, id, 2.5);
        assert_eq!(holes.len(), 3, "{id}");
        assert!(
            holes.iter().all(|hole| near(hole[1], 99.7)),
            "{id} {holes:?}"
        );
    }
}

#[test]
fn drawers_in_two_bays_do_not_screw_into_each_other() {
    let (_, workpieces) = sound(
        "17.7",
        &format!(
            "{CARCASS}      shelves: [{{name: deck, up: 500}}]\n      dividers: [{{name: middle, stands_on: deck}}]\n  drawer:\n    drawer: {{in: [cabinet-deck-1, cabinet-deck-2], stock: side, bottom_stock: thin, front_stock: ply}}\n"
        ),
    );
    let middle = workpieces
        .iter()
        .find(|w| w.part.id == "cabinet-middle")
        .unwrap();
    let holes: Vec<(Face, f64, f64)> = middle
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::Drill(drill) => match drill.depth {
                Depth::Blind(depth) => Some((drill.face, drill.centre.x, depth)),
                Depth::Through => None,
            },
            _ => None,
        })
        .collect();
    // 2 + 37, 2 + 165 and 2 + 293 on one face, 32 further on the other; (17.7 - 1) / 2 = 8.35, so 8 deep at most.
    let xs =
        |face: Face| -> Vec<f64> { holes.iter().filter(|h| h.0 == face).map(|h| h.1).collect() };
    assert_eq!(xs(Face::Front), [39.0, 167.0, 295.0]);
    assert_eq!(xs(Face::Back), [71.0, 199.0, 327.0]);
    assert!(holes.iter().all(|(.., depth)| near(*depth, 8.0)));
}

#[test]
fn the_measured_thickness_moves_what_depends_on_it_and_nothing_else() {
    let rest = format!(
        "{CARCASS}      with: nothing\n      shelves: [{{name: shelf, up: 350, joint: butt}}]\nparts:\n  sign: {{stock: ply, width: 200, height: 100, features: [{{hole: {{at: [20, 20], diameter: 5}}}}]}}\n  rail: {{stock: side, width: 200 + side.thickness, height: 40}}\n  card: {{stock: thin, width: 600 - 2*ply.thickness, height: 40}}\n"
    );
    let (before, old) = sound("18.0", &rest);
    let (after, new) = sound("17.6", &rest);
    let boxes = Settings {
        bed: None,
        spacing: 0.0,
        margin: 0.0,
        boxes_only: true,
        effort: Effort::Quick,
        saw: None,
    };
    let changes = compare((&before, &old), (&after, &new), &boxes).parts;
    let lines = |id: &str| {
        let change = changes.iter().find(|change| change.part == id);
        change
            .map(|change| change.lines.clone())
            .unwrap_or_default()
    };
    // 600 - 2 x 18.0 = 564.0; 600 - 2 x 17.6 = 564.8.
    assert_eq!(lines("cabinet-shelf")[0], "width 564 mm to 564.8 mm");
    assert_eq!(lines("cabinet-bottom")[0], "width 564 mm to 564.8 mm");
    // The back reaches 8 in from the inside: 600 - 2 x (18 - 8) - 1 = 579 to 579.8; its height grows by 0.4.
    assert_eq!(
        lines("cabinet-back")[..2],
        ["width 579 mm to 579.8 mm", "height 709.5 mm to 709.9 mm"]
    );
    // A part of another stock whose width says so.
    assert_eq!(lines("card")[0], "width 564 mm to 564.8 mm");
    // A part of the stock that uses the thickness for nothing changes in thickness alone; one of another not at all.
    assert_eq!(lines("sign"), ["thickness 18 mm to 17.6 mm"]);
    assert_eq!(lines("rail"), Vec::<String>::new());
    let mut changed: Vec<&str> = changes.iter().map(|change| change.part.as_str()).collect();
    changed.sort_unstable();
    assert_eq!(
        changed,
        [
            "cabinet-back",
            "cabinet-bottom",
            "cabinet-shelf",
            "cabinet-side-left",
            "cabinet-side-right",
            "cabinet-top",
            "card",
            "sign",
        ]
    );
    // The height of the sides does not hang on it.
    assert!(
        lines("cabinet-side-left")
            .iter()
            .all(|line| !line.starts_with("height") && !line.starts_with("width"))
    );
}

#[test]
fn an_author_changes_what_builders_and_joints_make_by_its_label() {
    let plain = format!(
        "{CARCASS}  door:\n    door_pair: {{in: cabinet-bottom, stock: ply, edge_gap: 6.35}}\n"
    );
    let changed = format!(
        "{plain}parts:\n  door-left:\n    height: 700\n    features:\n      - leave_out: hinges\n  cabinet-side-left:\n    features:\n      - leave_out: screws into cabinet-top\n      - hole_row: {{first: [100, 10], step: [100, 0], count: 2, diameter: 4, label: screws into cabinet-bottom}}\n"
    );
    let (_, before) = sound("17.7", &plain);
    let (plan, after) = sound("17.7", &changed);
    size(&plan, "door-left", 297.0, 700.0);
    assert_eq!(drilled(&before, "door-left", 35.0).len(), 2);
    assert!(drilled(&after, "door-left", 35.0).is_empty());
    // Along 560, 50 from the ends: 460 / 150 = 3.07, so four gaps and five screws; 453.8 for the bottom asks for as many.
    assert_eq!(drilled(&before, "cabinet-side-right", 4.5).len(), 10);
    assert_eq!(drilled(&after, "cabinet-side-right", 4.5).len(), 0);
    assert_eq!(drilled(&after, "cabinet-side-right", 4.0).len(), 2);
    let wrong = format!("{plain}parts:\n  door-left:\n    features: [{{leave_out: hinge}}]\n");
    assert_eq!(codes(&compiled("17.7", &wrong)), ["unknown-label"]);
}

#[test]
fn what_is_expanded_is_the_same_plan() {
    let rest = format!(
        "{CARCASS}      dividers: [{{name: middle}}]\n  door:\n    door: {{in: cabinet-bottom-1, stock: ply, edge_gap: 6.35}}\n  drawer:\n    drawer: {{in: cabinet-bottom-2, count: 3, stock: side, bottom_stock: thin, front_stock: ply}}\n"
    );
    let (plan, workpieces) = sound("[17.6, 17.8]", &rest);
    let again = compile("expanded.yaml", plan.expanded.as_bytes(), &NoIncludes);
    let (second, seconds) = again.result.expect("the expanded plan is sound");
    assert_eq!(plan.expanded, second.expanded);
    assert_eq!(plan.digest, second.digest);
    let works = |all: &[Workpiece]| -> Vec<Work> {
        all.iter()
            .flat_map(|w| &w.operations)
            .map(|o| o.work.clone())
            .collect()
    };
    assert_eq!(works(&workpieces), works(&seconds));
    let bought = |all: &[Workpiece]| {
        let lines = jigless_core::hardware::count(all);
        lines
            .iter()
            .map(|l| (l.fitting.kind, l.fitting.count))
            .collect::<Vec<_>>()
    };
    assert_eq!(bought(&workpieces), bought(&seconds));
    let order = |plan: &Plan| {
        plan.order
            .iter()
            .map(|s| s.part.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(order(&plan), order(&second));
    assert!(
        plan.joints
            .iter()
            .zip(&second.joints)
            .all(|(a, b)| a.glue == b.glue && a.screws == b.screws)
    );
}

#[test]
fn one_line_joins_two_parts_that_have_places() {
    let (plan, workpieces) = sound(
        "18",
        "parts:\n  side: {stock: ply, width: 300, height: 500, place: {at: [0, 0, 0], width: back, height: up}}\n  shelf: {stock: ply, width: 400, height: 280, place: {at: [18, 200, 10], height: back}}\njoints:\n  - butt: {part: shelf, to: side, screw: {length: 50}, at: [40, 240]}\n",
    );
    // The side looks right, its left edge is in front at z = 300. The shelf reaches from z = 10 to 290, so on the side
    // from x = 10 to x = 290, and from y = 200 to 218.
    let side = &workpieces[0];
    let mark = side
        .operations
        .iter()
        .find_map(|operation| match &operation.work {
            Work::Mark(mark) => mark.lines[0].bounds(),
            _ => None,
        })
        .unwrap();
    assert!(
        near(mark.min.x, 10.0)
            && near(mark.max.x, 290.0)
            && near(mark.min.y, 200.0)
            && near(mark.max.y, 218.0)
    );
    // Screws in the middle of its thickness, 40 and 240 from the front end of the shelf (its bottom edge): z = 250, 50.
    let heads = drilled(&workpieces, "side", 4.5);
    assert_eq!(heads, [[0.0, 209.0, 250.0], [0.0, 209.0, 50.0]]);
    // 50 - 18 = 32 in the shelf; the pilot is 1 deeper.
    let pilots: Vec<(Edge, f64, f64, f64)> = workpieces[1]
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::EdgeDrill(hole) => Some((hole.edge, hole.along, hole.from_front, hole.depth)),
            _ => None,
        })
        .collect();
    assert_eq!(
        pilots,
        [
            (Edge::Left, 40.0, 9.0, 33.0),
            (Edge::Left, 240.0, 9.0, 33.0)
        ]
    );
    assert_eq!(plan.joints[0].screws[0].tip, [50.0, 209.0, 250.0]);
    let bought = jigless_core::hardware::count(&workpieces);
    assert_eq!(
        (
            bought.len(),
            bought[0].fitting.count,
            bought[0].fitting.length
        ),
        (1, 2, Some(50.0))
    );
}

#[test]
fn a_joint_without_places_says_where() {
    let (_, workpieces) = sound(
        "18",
        "parts:\n  side: {stock: ply, width: 300, height: 500}\n  shelf: {stock: ply, width: 406, height: 280}\njoints:\n  - housing: {part: shelf, edge: left, to: side, from: {bottom: 200}, start: 10, depth: 6, stopped: yes}\n",
    );
    let area = workpieces[0]
        .operations
        .iter()
        .find_map(|operation| match &operation.work {
            Work::MillArea(area) => Some(area),
            _ => None,
        })
        .unwrap();
    // 18 + 0.2 wide about 209, from 10 to 10 + 280.
    let bounds = area.outline.bounds().unwrap();
    assert!(
        near(bounds.min.y, 199.9) && near(bounds.max.y, 218.1),
        "{bounds:?}"
    );
    assert!(
        near(bounds.min.x, 10.0) && near(bounds.max.x, 290.0) && near(area.depth, 6.0),
        "{bounds:?}"
    );
}

#[test]
fn parts_lapped_by_half_fill_each_others_slots() {
    let (_, workpieces) = sound(
        "18",
        "parts:\n  long: {stock: thin, width: 300, height: 80, place: {at: [0, 0, 50]}}\n  cross: {stock: thin, width: 200, height: 80, place: {at: [100, 0, 0], width: back}}\n  rail: {stock: ply, width: 300, height: 60, place: {at: [0, 200, 0], height: back}}\n  stile: {stock: ply, width: 60, height: 300, place: {at: [240, 200, 0], height: back}}\njoints:\n  - half_lap: {part: long, to: cross}\n  - half_lap: {part: rail, to: stile, play: 0}\n",
    );
    // Slots 6 + 0.2 wide and 80 / 2 + 0.25 deep; areas 300 x 80 and 200 x 80 less 6.2 x 40.25 = 249.55.
    assert!(near(workpieces[0].region().area(), 24_000.0 - 249.55));
    assert!(near(workpieces[1].region().area(), 16_000.0 - 249.55));
    // Where they lie flat, each loses half the thickness over the width of the other.
    for workpiece in &workpieces[2..] {
        let depth = workpiece
            .operations
            .iter()
            .find_map(|operation| match &operation.work {
                Work::MillArea(area) => Some(area.depth),
                _ => None,
            });
        assert_eq!(depth, Some(9.0));
    }
}

#[test]
fn a_bracket_meets_in_a_mitre() {
    let (plan, workpieces) = sound(
        "18",
        "builds:\n  holder:\n    bracket: {stock: ply, width: 60, upright: 200, arm: 150, count: 2}\n",
    );
    size(&plan, "holder-upright", 60.0, 200.0);
    size(&plan, "holder-arm", 60.0, 150.0);
    for workpiece in &workpieces {
        let bevel = workpiece
            .operations
            .iter()
            .find_map(|operation| match &operation.work {
                Work::Bevel(bevel) => Some(*bevel),
                _ => None,
            });
        let bevel = bevel.unwrap();
        assert_eq!(bevel.edge, Edge::Top);
        // t tan 45 = t.
        assert!(near(bevel.setback(18.0), 18.0));
    }
}

#[test]
fn a_fitted_rack_has_the_same_wood_between_all_tools() {
    let (_, workpieces) = sound(
        "18",
        "builds:\n  tools:\n    rack: {stock: ply, length: 300, width: 80, holes: [12, 20, 16], slots: [8, 10]}\n",
    );
    // 300 - 2 x 15 - 48 = 222 over two: 111. Middles 15 + 6 = 21, 27 + 111 + 10 = 148, 158 + 111 + 8 = 277; a quarter
    // of the width from the back edge: 80 - 20 = 60.
    let holes: Vec<(f64, f64, f64)> = workpieces[0]
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::Drill(drill) => Some((drill.centre.x, drill.centre.y, drill.diameter)),
            _ => None,
        })
        .collect();
    assert_eq!(
        holes,
        [(21.0, 60.0, 12.0), (148.0, 60.0, 20.0), (277.0, 60.0, 16.0)]
    );
}

#[test]
fn casters_sit_at_their_inset_with_screws_that_stay_inside() {
    let base = "builds:\n  base:\n    base_with_casters: {stock: ply, width: 600, depth: 450, caster_height: 100, plate: {along_width: 95, along_depth: 67}, holes: {along_width: 75, along_depth: 45}}\n";
    let (_, workpieces) = sound("17.7", base);
    let bought = jigless_core::hardware::count(&workpieces);
    // 17.7 - 3 = 14.7: the longest screw that is sold and shorter is 12.
    assert_eq!(bought[0].fitting.length, Some(12.0));
    assert_eq!((bought[0].fitting.count, bought[1].fitting.count), (16, 4));
    // 3 in = 76.2 from both edges; holes 37.5 and 22.5 beside.
    let Work::Drill(first) = &workpieces[0].operations[1].work else {
        panic!("a hole")
    };
    assert!(near(first.centre.x, 76.2 - 37.5) && near(first.centre.y, 76.2 - 22.5));
    assert_eq!(codes(&compiled("12", base)), ["no-screw"]);
}

#[test]
fn what_cannot_be_put_together_is_reported() {
    let side = "  side: {stock: ply, width: 300, height: 500, place: {at: [0, 0, 0], width: back, height: up}}\n";
    let reported = |shelf: &str, joint: &str| {
        let rest = format!("parts:\n{side}  shelf: {{stock: ply, {shelf}}}\n{joint}");
        codes(&compiled("18", &rest))
    };
    let at =
        |x: f64| format!("width: 400, height: 280, place: {{at: [{x}, 200, 10], height: back}}");
    let butt = "joints: [{butt: {part: shelf, to: side}}]\n";
    assert_eq!(reported(&at(18.0), butt), Vec::<&str>::new());
    assert_eq!(reported(&at(20.0), butt), ["joint-apart"]);
    assert_eq!(reported(&at(15.0), butt), ["joint-overlaps"]);
    assert_eq!(
        reported(&at(18.0), "joints: [{housing: {part: shelf, to: side}}]\n"),
        ["joint-not-sunk"]
    );
    assert_eq!(
        reported(
            &at(10.0),
            "joints: [{housing: {part: shelf, to: side, depth: 6}}]\n"
        ),
        ["joint-overlaps"]
    );
    assert_eq!(
        reported(
            &at(12.0),
            "joints: [{housing: {part: shelf, to: side, depth: 6}}]\n"
        ),
        Vec::<&str>::new()
    );
    assert_eq!(reported(&at(15.0), ""), ["parts-collide"]);
    assert_eq!(
        reported("width: 400, height: 280", butt),
        ["joint-without-place"]
    );
    let long = "joints: [{butt: {part: shelf, to: side, screw: {length: 500}}}]\n";
    assert_eq!(reported(&at(18.0), long), ["joint-screw-comes-out"]);
    let short = "joints: [{butt: {part: shelf, to: side, screw: {length: 20}}}]\n";
    assert_eq!(reported(&at(18.0), short), ["joint-screw-short"]);
    assert_eq!(
        reported(&at(18.0), "joints: [{but: {part: shelf, to: side}}]\n"),
        ["unknown-joint"]
    );
    assert_eq!(
        reported(&at(18.0), "joints: [{butt: {part: shelf, to: sid}}]\n"),
        ["unknown-part"]
    );
    assert_eq!(
        reported(&at(18.0), "joints: [{butt: {part: shelf, to: shelf}}]\n"),
        ["joint-to-itself"]
    );
    assert_eq!(
        reported(
            "width: 400, height: 280, place: {at: [18, 200, 10], width: up, height: down}",
            ""
        ),
        ["parallel-directions"]
    );
}

/// The screws of the front hold in 6 mm, which sums of the places give as a little less.
#[test]
fn the_least_thread_is_enough_however_its_sum_is_rounded() {
    let text = "jigless: 1\ntitle: Any\nunits: mm\nstock:\n  ply: {thickness: 10.6, kind: plywood}\n  thin: {thickness: 3, kind: plywood}\n  side: {thickness: 10, kind: plywood}\nbuilds:\n  c: {carcass: {stock: ply, back_stock: thin, width: 400, height: 600, depth: 300}}\n  drawer: {drawer: {in: c, stock: side, bottom_stock: thin, front_stock: ply, fit: overlay, gap: 1.5, rebate: 5, groove: 5, wall_depth: 7.6, box_depth: 7}}\n";
    let compiled = compile("plan.yaml", text.as_bytes(), &NoIncludes);
    assert!(!codes(&compiled).contains(&"joint-screw-short"));
}

#[test]
fn what_cannot_move_is_reported() {
    let blocked = "builds:\n  cabinet:\n    carcass: {stock: ply, back_stock: thin, width: 498.6, height: 200, depth: 500}\n  drawer:\n    drawer: {in: cabinet, stock: side, bottom_stock: thin, front_stock: ply}\nparts:\n  post: {stock: ply, width: 40, height: 200, place: {at: [20, 0, 530]}}\n";
    assert!(codes(&compiled("17.7", blocked)).contains(&"drawer-blocked"));
    // The diagonal of 560.6 and 17.7 is 0.28 longer than the door is wide: 0.2 is too little, 0.3 enough.
    for (gap, expected) in [("0.2", vec!["door-strikes"]), ("0.3", vec![])] {
        let rest = format!(
            "{CARCASS}  door:\n    door: {{in: cabinet, stock: ply, edge_gap: 6.35, fit: inset, gap: {gap}}}\n"
        );
        assert_eq!(codes(&compiled("17.7", &rest)), expected, "{gap}");
    }
}

#[test]
fn what_would_become_unreachable_goes_first() {
    let rest = format!(
        "{CARCASS}      shelves: [{{name: shelf, up: 350}}]\n  door:\n    door_pair: {{in: cabinet-bottom, stock: ply, edge_gap: 6.35}}\n"
    );
    let (plan, _) = sound("17.7", &rest);
    let order: Vec<&str> = plan.order.iter().map(|step| step.part.as_str()).collect();
    let at = |id: &str| order.iter().position(|own| *own == id).unwrap();
    assert_eq!(order.len(), plan.parts.len());
    // The shelf is held between the sides, and the back between sides: both are there before the second side.
    assert!(at("cabinet-shelf") < at("cabinet-side-right"));
    assert!(at("cabinet-back") < at("cabinet-side-right"));
    // Doors last.
    assert!(at("door-left") > at("cabinet-side-right") && at("door-right") > at("cabinet-top"));
    // An author may begin elsewhere.
    let (given, _) = sound(
        "17.7",
        &format!("{rest}order: [cabinet-bottom, cabinet-side-right]\n"),
    );
    assert_eq!(given.order[0].part, "cabinet-bottom");
    assert_eq!(given.order[1].part, "cabinet-side-right");
    assert_eq!(given.order[1].joints.len(), 1);
    // Every joint is made in one step.
    let mut made: Vec<usize> = plan
        .order
        .iter()
        .flat_map(|step| step.joints.clone())
        .collect();
    made.sort_unstable();
    assert_eq!(made, (0..plan.joints.len()).collect::<Vec<_>>());
}
