//! Trays in their places: sizes and corners against arithmetic by hand, and that the checks of the whole see them.

use jigless_core::compile;
use jigless_core::load::NoIncludes;
use jigless_core::plan::{Part, Plan};
use jigless_core::whole::Box3;
use jigless_tests::fixtures::fixture;
use jigless_tests::plans::compiled;

const PLAN: &str = "features/tray-in-a-drawer";

fn part<'a>(plan: &'a Plan, id: &str) -> &'a Part {
    plan.part(id).unwrap_or_else(|| panic!("{id}"))
}

/// The box around all pieces of all parts of a build.
fn around(plan: &Plan, name: &str) -> Box3 {
    let own = plan.parts.iter().filter(|part| part.id.starts_with(name));
    let bodies = own.flat_map(|part| part.bodies());
    bodies
        .map(|body| body.bounds())
        .reduce(Box3::union)
        .expect("placed parts")
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

#[test]
fn a_tray_fills_its_drawer_with_a_gap_on_each_side() {
    let (plan, _) = compiled(PLAN);
    // 600 - 2 x 17.7 - 25.4 - 2 x 11.8 - 2 x 1.
    assert!(near(part(&plan, "glazes-front").width, 513.6));
    let tray = around(&plan, "glazes-");
    let drawer = part(&plan, "drawer-bottom").bodies()[0].bounds();
    // On the bottom of the drawer, in the middle of its width.
    assert!(near(tray.min[1], drawer.max[1]), "{tray:?} {drawer:?}");
    assert!(near(
        tray.min[0] + tray.max[0],
        drawer.min[0] + drawer.max[0]
    ));
    assert!(near(tray.size(0), 513.6) && near(tray.size(1), 60.0));
    for part in plan
        .parts
        .iter()
        .filter(|part| part.id.starts_with("glazes-"))
    {
        assert_eq!(part.places.len(), part.count as usize, "{}", part.id);
        assert_eq!(part.group.as_deref(), Some("drawer"), "{}", part.id);
    }
    // The first column from the left is 120 clear: its divider begins 5.9 + 120 from the left.
    let divider = part(&plan, "glazes-divider-columns").bodies()[0].bounds();
    assert!(near(divider.min[0] - tray.min[0], 125.9), "{divider:?}");
}

fn findings(change: (&str, &str)) -> Vec<String> {
    let text = std::fs::read_to_string(fixture(PLAN).join("plan.yaml")).expect("the plan");
    assert!(text.contains(change.0), "{}", change.0);
    let text = text.replace(change.0, change.1);
    let compiled = compile("plan.yaml", text.as_bytes(), &NoIncludes);
    compiled
        .findings
        .iter()
        .map(|finding| finding.code.to_string())
        .collect()
}

#[test]
fn the_checks_of_the_whole_see_a_tray() {
    assert_eq!(
        findings(("height: 60,", "height: 61,")),
        Vec::<String>::new()
    );
    // Its walls reach into the rail that hangs behind the deck.
    let high = findings((
        "width: 300, depth: 200, height: 80",
        "width: 300, depth: 413, height: 200",
    ));
    assert_eq!(high, ["parts-collide"]);
    // Higher than the room, with its base, or wider: told at the name of the room, with the size that would do.
    let full = 560.0 - 17.7 - 317.7;
    for (height, codes) in [
        (full - 5.9 - 0.1, vec![]),
        (full - 5.9 + 0.1, vec!["bad-tray"]),
    ] {
        let own = format!("height: {height}");
        assert_eq!(findings(("height: 80", &own)), codes, "{height}");
    }
    assert_eq!(
        findings(("width: 300, depth: 200", "width: 570, depth: 200")),
        ["bad-tray"]
    );
    assert_eq!(findings(("in: case-deck, ", "")), Vec::<String>::new());
    // Width and depth.
    assert_eq!(
        findings(("in: drawer, ", "")),
        ["missing-key", "missing-key"]
    );
    assert_eq!(
        findings(("in: case-deck", "in: case-dekk")),
        ["unknown-room"]
    );
}

const ON_STRIPS: &str = "features/tray-on-strips";

/// The boxes of all pieces of a part, as they stand in the plan.
fn boxes(plan: &Plan, id: &str) -> Vec<Box3> {
    let bodies = part(plan, id).bodies();
    bodies
        .iter()
        .map(jigless_core::whole::Body::bounds)
        .collect()
}

#[test]
fn a_tray_on_strips_ends_flush_in_each_drawer() {
    let (plan, _) = compiled(ON_STRIPS);
    let strip = part(&plan, "till-strip-left");
    // 100 - 12.35 - 40 - 5.9, and 400 - 2 x 11.8.
    assert!(near(strip.height, 41.75) && near(strip.width, 376.4));
    // One at each side of both drawers.
    assert_eq!((strip.count, part(&plan, "till-strip-right").count), (2, 2));
    assert!(near(part(&plan, "till-front-back").width, 513.6));
    let drawers = boxes(&plan, "drawer-side-left");
    let right_walls = boxes(&plan, "drawer-side-right");
    let (left, right) = (
        boxes(&plan, "till-strip-left"),
        boxes(&plan, "till-strip-right"),
    );
    let bases = boxes(&plan, "till-base");
    let walls = boxes(&plan, "till-sides");
    assert_eq!((drawers.len(), bases.len(), walls.len()), (2, 2, 4));
    for (number, drawer) in drawers.iter().enumerate() {
        // On the strips, 1 mm from each wall, and level with the upper edge of the drawer.
        assert!(near(bases[number].min[1], left[number].max[1]));
        assert!(near(left[number].min[0], drawer.max[0]));
        assert!(near(right[number].max[0], right_walls[number].min[0]));
        assert!(near(bases[number].min[0] - drawer.max[0], 1.0));
        assert!(near(right_walls[number].min[0] - bases[number].max[0], 1.0));
        let top = walls.iter().map(|wall| wall.max[1]);
        assert!(
            top.clone().any(|top| near(top, drawer.max[1])),
            "{top:?} {drawer:?}"
        );
    }
    // In the open room: on strips as high as asked for, and as far behind the front.
    let strip = boxes(&plan, "brushes-strip-left")[0];
    let tray = boxes(&plan, "brushes-base")[0];
    assert!(near(strip.size(1), 60.0) && near(tray.min[1], strip.max[1]));
    assert!(near(tray.max[2], 420.0 - 30.0));
}

#[test]
fn what_a_tray_needs_to_slide_is_held_to_a_hundredth() {
    let text = std::fs::read_to_string(fixture(ON_STRIPS).join("plan.yaml")).expect("the plan");
    let codes = |own: &str| -> Vec<String> {
        let own = format!("depth: drawer.inside_depth/2, {own}");
        let text = text.replace("depth: drawer.inside_depth/2", &own);
        let compiled = compile("plan.yaml", text.as_bytes(), &NoIncludes);
        compiled
            .findings
            .iter()
            .map(|finding| finding.code.to_string())
            .collect()
    };
    // 0.2 of play at each side of 515.6; 3 of the strip's 11.8 when it is pushed to the other side: 515.6 - 8.8.
    for (width, sound) in [
        (515.19, true),
        (515.21, false),
        (506.81, true),
        (506.79, false),
    ] {
        let own = format!("width: {width}");
        let expected = if sound { vec![] } else { vec!["bad-tray"] };
        assert_eq!(codes(&own), expected, "{width}");
    }
}

/// A tray that stands by itself is seen and glued together: 12 by 6 in on a base of 0.117, its sides between front and back.
#[test]
fn a_tray_that_stands_by_itself_has_places_and_a_glued_base() {
    let (plan, _) = compiled("thread-organiser");
    let tray = around(&plan, "tray-");
    let inches = |size: f64| size * 25.4;
    assert!(
        (0..3).all(|axis| near(tray.min[axis], [0.0, 0.0, -inches(6.0)][axis])),
        "{tray:?}"
    );
    assert!(near(tray.size(0), inches(12.0)) && near(tray.size(2), inches(6.0)));
    assert!(near(tray.size(1), inches(2.0 + 0.117)), "{tray:?}");
    for part in plan
        .parts
        .iter()
        .filter(|part| part.id.starts_with("tray-"))
    {
        assert_eq!(part.places.len(), part.count as usize, "{}", part.id);
    }
    // Each wall stands on the base with its lower edge, as thick as it is: front and back are 12 long, the sides 6 with
    // fingers at both ends, which meet the base only where they are.
    let glued = plan.joints.iter().filter(|joint| joint.to == "tray-base");
    let mut walls: Vec<&str> = glued.map(|joint| joint.part.as_str()).collect();
    walls.sort_unstable();
    assert_eq!(walls, ["tray-front-back", "tray-sides"]);
}

#[test]
fn a_tray_stands_by_itself_or_in_a_room() {
    let both = ("in: case-deck, ", "in: case-deck, at: [0, 0, 0], ");
    assert_eq!(findings(both), ["too-many-keys"]);
}

/// Its dividers are laid in; the wall board and the peg rack beside it, which have no place, are not.
#[test]
fn only_what_has_a_place_is_laid_in() {
    let (plan, workpieces) = compiled("thread-organiser");
    let steps = jigless_core::steps::steps(&plan, &workpieces, &jigless_words::ENGLISH);
    let lay_in = steps.iter().find(|step| step.name == "lay-in");
    let pieces = lay_in.expect("a step").pieces.iter();
    let parts: Vec<&str> = pieces.map(|pieces| pieces.part.as_str()).collect();
    assert_eq!(parts, ["tray-divider-rows", "tray-divider-columns"]);
}
