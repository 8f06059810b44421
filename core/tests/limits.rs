//! Every check that holds something against a limit: 0.01 mm (or kg) within it says nothing, 0.01 beyond it tells.
//!
//! Each case is a plan that is beyond its limit by `by`, whatever sizes it is made of, and `by` is negative when it is
//! within. The sizes are worked out here and not by the code that is tested.

use jigless_core::check::CHECKS;
use jigless_core::load::NoIncludes;
use proptest::prelude::*;

/// Three shares from 0 to 1 that the sizes of a case are made of.
type Shares = (f64, f64, f64);

struct Case {
    code: &'static str,
    plan: fn(Shares, f64) -> String,
}

/// Checks that hold nothing against a number.
const WITHOUT_A_LIMIT: &[&str] = &[
    "contour-crosses-itself",
    "shelf-stiffness-unknown",
    "laser-burns-vinyl",
    "laser-material-unsure",
    "needless-acceptance",
    "anchor-missing",
    "label-off-place",
    "lift-blocked",
    "way-in-blocked",
    "finish-amount-unknown",
    "grits-get-coarser",
];

/// A number between two others.
fn between(low: f64, high: f64, share: f64) -> f64 {
    low + (high - low) * share
}

/// A plan of plywood `thickness` thick with a part of 200 by 100.
fn panel(thickness: f64, checks: &str, features: &str) -> String {
    parts(
        &format!("board: {{thickness: {thickness}, kind: plywood}}"),
        checks,
        &format!(
            "  panel:\n    stock: board\n    width: 200\n    height: 100\n    features:\n      - {features}\n"
        ),
    )
}

fn parts(stock: &str, checks: &str, parts: &str) -> String {
    format!(
        "jigless: 1\ntitle: A limit\nunits: mm\nchecks: {{{checks}}}\nstock:\n  {stock}\nparts:\n{parts}"
    )
}

fn limit(code: &str, number: f64) -> String {
    format!("{code}: {{limit: {number}}}")
}

const BOARD: &str = "board: {thickness: 18, kind: plywood}";
const SMALL: &str = "  panel: {stock: board, width: 200, height: 100}\n";
const RAIL: &str = "  rail: {stock: board, width: 200, height: 100}\n";

fn usage(stock: &str, checks: &str, others: &str, entry: &str) -> String {
    format!("{}usage:\n  - {entry}\n", parts(stock, checks, others))
}

fn doors(width: f64) -> String {
    format!(
        "  left: {{stock: board, width: {width}, height: 300}}\n  right: {{stock: board, width: 390, height: 300}}\n"
    )
}

fn hung(cup: f64, gap: f64) -> String {
    format!(
        "  side:\n    stock: board\n    width: 300\n    height: 700\n    features:\n      - hinge_plates: {{edge: left, at: [300, 400]}}\n  \
         door:\n    stock: board\n    width: 300\n    height: 600\n    features:\n      - hinge_cups: {{edge: left, at: [{cup}], edge_gap: {gap}}}\n"
    )
}

/// 5/384 of beam theory with a creep factor of 2, in millimetres.
fn sag(kilograms: f64, span: f64, gigapascals: f64, depth: f64, thickness: f64) -> f64 {
    2.0 * 5.0 / 384.0 * kilograms * 9.80665 * span.powi(3)
        / (gigapascals * 1000.0 * depth * thickness.powi(3) / 12.0)
}

/// A side 18 thick that looks right, a rail beside it at `x`, and a joint.
fn beside(checks: &str, x: f64, joints: &str) -> String {
    let both = format!(
        "  side: {{stock: board, width: 300, height: 500, place: {{at: [0, 0, 0], width: back, height: up}}}}\n  rail: {{stock: board, width: 60, height: 300, place: {{at: [{x}, 200, 0], height: back}}}}\n"
    );
    format!("{}{joints}", parts(BOARD, checks, &both))
}

/// A side as in [`beside`] with features, a rail that stands so beside it, and settings of a check or joints.
fn beside_with(features: &str, rail: &str, more: &str) -> String {
    let (checks, joints) = if more.starts_with("joints") {
        ("", more)
    } else {
        (more, "")
    };
    let (place, features_of_rail) = rail.split_once("}, ").unwrap_or((rail, ""));
    let features_of_rail = match features_of_rail {
        "" => String::new(),
        features => format!(", {features}"),
    };
    let both = format!(
        "  side:\n    stock: board\n    width: 300\n    height: 500\n    place: {{at: [0, 0, 0], width: back, height: up}}\n    features:\n      - {features}\n  rail: {{stock: board, width: 60, height: 300, place: {{at: [18, 200, 0], {place}}}{features_of_rail}}}\n"
    );
    format!("{}{joints}", parts(BOARD, checks, &both))
}

/// A hole from the outside of the side into the rail.
fn from_behind(hardware: &str) -> String {
    format!("hole: {{at: [291, 300], diameter: 4.5, face: back, hardware: {hardware}}}")
}

fn butt(checks: &str, length: f64) -> String {
    let joint =
        format!("joints:\n  - butt: {{part: rail, to: side, screw: {{length: {length}}}}}\n");
    beside(checks, 18.0, &joint)
}

const CASES: &[Case] = &[
    Case {
        code: "parts-collide",
        plan: |_, by| beside("", 18.0 - by, ""),
    },
    Case {
        code: "joint-screw-comes-out",
        plan: |_, by| butt("", 18.0 + 60.0 + by),
    },
    Case {
        code: "joint-screw-short",
        plan: |(a, ..), by| {
            let least = between(4.0, 20.0, a);
            butt(&limit("joint-screw-short", least), 18.0 + least - by)
        },
    },
    Case {
        code: "pocket-meets-work",
        plan: |(a, ..), by| {
            // The pocket is 9.5 wide, and the hole beside it.
            let hole = between(5.0, 20.0, a);
            let y = 70.0 - 4.75 - hole / 2.0 + by;
            panel(
                18.0,
                "",
                &format!(
                    "pocket_holes: {{edge: left, at: [70]}}\n      - hole: {{at: [40, {y}], diameter: {hole}}}"
                ),
            )
        },
    },
    Case {
        code: "work-covered",
        plan: |(a, ..), by| {
            let (radius, below) = (between(2.0, 10.0, a), 200.0);
            beside_with(
                &format!(
                    "hole: {{at: [100, {}], diameter: {}, depth: 10}}",
                    below - radius + by,
                    2.0 * radius
                ),
                "height: back",
                "joints: [butt: {part: rail, to: side, with: glue}]\n",
            )
        },
    },
    Case {
        code: "piece-not-held",
        plan: |_, by| {
            let tray = format!(
                "  tray: {{stock: board, width: 40, height: 40, loose: yes, place: {{at: [20, {}, 0], height: back}}}}\n",
                218.0 + 0.2 + by
            );
            let joints = "joints: [butt: {part: rail, to: side, with: glue}]\n";
            beside("", 18.0, &format!("{tray}{joints}"))
        },
    },
    Case {
        code: "joint-piece-short",
        plan: |(a, ..), by| {
            let height = between(100.0, 400.0, a);
            parts(
                BOARD,
                "",
                &format!(
                    "  top: {{stock: board, width: 400, height: 200, place: {{at: [0, {height}, 18], height: back}}}}\n  \
                     back: {{stock: board, width: 400, height: {}, place: {{at: [0, 0, 0]}}}}\n  \
                     post: {{stock: board, width: 200, height: {height}, count: 2, place: [{{at: [0, 0, 18], width: back}}, {{at: [300, {}, 18], width: back}}]}}\n\
                     joints: [butt: {{part: post, to: back, with: glue}}, butt: {{part: top, to: back, with: glue}}, butt: {{part: post, to: top, with: glue}}]\n",
                    height + 18.0,
                    -by
                ),
            )
        },
    },
    Case {
        code: "as-cut-off",
        plan: |(a, ..), by| {
            let most = between(0.2, 3.0, a);
            beside(&limit("as-cut-off", most), 18.0, "").replace(
                "rail: {stock: board, width: 60,",
                &format!(
                    "rail: {{stock: board, width: 60, as_cut: {{width: {}}},",
                    60.0 - most - by
                ),
            )
        },
    },
    Case {
        code: "joint-gap",
        plan: |(a, b, _), by| {
            let (deep, air) = (between(2.0, 6.0, a), between(0.5, 4.0, b));
            let joint = format!(
                "joints: [housing: {{part: rail, to: side, depth: {}}}]\n",
                deep + air + by
            );
            beside(&limit("joint-gap", air), 18.0 - deep, &joint)
        },
    },
    Case {
        code: "joint-narrow",
        plan: |(a, ..), by| {
            let wide = between(6.0, 17.0, a);
            format!(
                "{}joints: [butt: {{part: rail, to: side}}]\n",
                parts(
                    BOARD,
                    &limit("joint-narrow", wide),
                    &format!(
                        "  side: {{stock: board, width: 300, height: 500, place: {{at: [0, 0, 0], width: back, height: up}}}}\n  \
                         rail: {{stock: board, width: 60, height: 300, place: {{at: [18, {}, 0], height: back}}}}\n",
                        500.0 - wide + by
                    ),
                )
            )
        },
    },
    Case {
        code: "fastener-comes-out",
        plan: |(a, ..), by| {
            let left = between(0.5, 6.0, a);
            let length = 18.0 + 60.0 - left + by;
            beside_with(
                &from_behind(&format!("{{what: screw, length: {length}}}")),
                "height: up",
                &limit("fastener-comes-out", left),
            )
        },
    },
    Case {
        code: "fastener-short",
        plan: |(a, ..), by| {
            let least = between(3.0, 20.0, a);
            let length = 18.0 + least - by;
            beside_with(
                &from_behind(&format!("{{what: screw, length: {length}}}")),
                "height: up",
                &limit("fastener-short", least),
            )
        },
    },
    Case {
        code: "fastener-in-air",
        plan: |(a, ..), by| {
            let air = between(0.3, 3.0, a);
            let groove = format!(
                "\n      - groove: {{along: width, from: {{bottom: 270}}, width: 60, depth: {}}}",
                air + by
            );
            let holes = format!("{}{groove}", from_behind("{what: screw, length: 40}"));
            beside_with(&holes, "height: up", &limit("fastener-in-air", air))
        },
    },
    Case {
        code: "fastener-meets-work",
        plan: |(a, ..), by| {
            let hole = between(5.0, 20.0, a);
            // The screw's hole is 4.5 wide, 309 up; the other one is 10 from the end of the rail.
            let rail = format!(
                "height: up}}, features: [hole: {{at: [10, {}], diameter: {hole}}}]",
                109.0 - 2.25 - hole / 2.0 + by
            );
            let screw = "hole: {at: [291, 309], diameter: 4.5, face: back, hardware: {what: screw, length: 40}}";
            beside_with(screw, &rail, "")
        },
    },
    Case {
        code: "bolt-short",
        plan: |(a, b, _), by| {
            let (thickness, bolt) = (between(9.0, 30.0, a), between(4.0, 12.0, b));
            panel(
                thickness,
                "",
                &format!(
                    "hole: {{at: [50, 50], diameter: {}, hardware: {{what: bolt, length: {}, gauge: M{bolt}}}}}",
                    bolt + 0.5,
                    thickness + bolt - by
                ),
            )
        },
    },
    Case {
        code: "bolt-off-insert",
        plan: |(a, ..), by| {
            // A bolt has half the difference of its hole and itself for play.
            let hole = between(6.4, 7.8, a);
            parts(
                BOARD,
                "",
                &format!(
                    "  side: {{stock: board, width: 300, height: 300, place: {{at: [0, 0, 0], width: back}}, features: [hole: {{at: [100, 100], diameter: 9.5, depth: 14, insert: {{hole: 9.5, length: 13}}}}]}}\n  rail: {{stock: board, width: 300, height: 300, place: {{at: [18, {}, 0], width: back}}, features: [hole: {{at: [100, 100], diameter: {hole}, hardware: {{what: bolt, length: 30, gauge: M6}}}}]}}\n",
                    (hole - 6.0) / 2.0 + by
                ),
            )
        },
    },
    Case {
        code: "bolt-bottoms",
        plan: |(a, ..), by| {
            let deep = between(10.0, 16.0, a);
            panel(
                18.0,
                "",
                &format!(
                    "hole: {{at: [50, 50], diameter: 9.5, depth: {deep}, insert: {{hole: 9.5, length: 10}}, hardware: {{what: knob, length: {}}}}}",
                    deep + by
                ),
            )
        },
    },
    Case {
        code: "drawer-blocked",
        plan: |(a, ..), by| {
            let width = between(50.0, 200.0, a);
            let both = format!(
                "  front: {{stock: board, width: {width}, height: 100, moves: slides, place: {{at: [0, 0, 0]}}}}\n  post: {{stock: board, width: 40, height: 100, place: {{at: [{}, 0, 30]}}}}\n",
                width - by
            );
            parts(BOARD, "", &both)
        },
    },
    Case {
        code: "door-strikes",
        plan: |(a, ..), by| {
            let width = between(50.0, 600.0, a);
            // Pythagoras: the far corner of a door 18 thick is this much farther from its hinges than it is wide.
            let out = width.hypot(18.0) - width;
            let both = format!(
                "  door: {{stock: board, width: {width}, height: 100, moves: swings-left, place: {{at: [0, 0, 0]}}}}\n  wall: {{stock: board, width: 40, height: 100, place: {{at: [{}, 0, 0]}}}}\n",
                width + out - by
            );
            parts(BOARD, "", &both)
        },
    },
    Case {
        code: "screw-out-of-reach",
        plan: |(a, ..), by| {
            let driver = between(60.0, 300.0, a);
            let more = format!(
                "order: [wall, side, rail]\njoints:\n  - butt: {{part: rail, to: side, screw: {{length: 45}}}}\nchecks: {{{}}}\n",
                limit("screw-out-of-reach", driver)
            );
            // The screws come from x = 0, where the outside of the side is.
            let wall = format!(
                "  wall: {{stock: board, width: 300, height: 500, loose: yes, place: {{at: [{}, 0, 0], width: back, height: up}}}}\n",
                by - driver - 18.0
            );
            let plan = beside("", 18.0, &more);
            plan.replacen("checks: {}\n", "", 1)
                .replacen("parts:\n", &format!("parts:\n{wall}"), 1)
        },
    },
    Case {
        code: "space-too-small",
        plan: |(a, ..), by| {
            let width = between(50.0, 600.0, a);
            let panel = format!(
                "  panel: {{stock: board, width: {width}, height: 100, place: {{at: [0, 0, 0]}}}}\n"
            );
            let room = format!(
                "space: {{width: {}, height: 300, depth: 100}}\n",
                width - by
            );
            format!("{}{room}", parts(BOARD, "", &panel))
        },
    },
    Case {
        code: "space-stops-door",
        plan: |(a, ..), by| {
            let width = between(50.0, 600.0, a);
            let door = format!(
                "  door: {{stock: board, width: {width}, height: 100, moves: swings-left, place: {{at: [0, 0, 0]}}}}\n"
            );
            // Pythagoras: its far corner comes to stand this far from the wall behind it.
            let room = format!(
                "space: {{width: 2000, height: 300, depth: {}}}\n",
                width.hypot(18.0) - by
            );
            format!("{}{room}", parts(BOARD, "", &door))
        },
    },
    Case {
        code: "space-stops-drawer",
        plan: |(a, ..), by| {
            let width = between(50.0, 600.0, a);
            let front = format!(
                "  front: {{stock: board, width: {width}, height: 100, moves: slides, place: {{at: [0, 0, 0]}}}}\n"
            );
            // 18 deep, and out by as much.
            let room = format!(
                "space: {{width: 2000, height: 300, depth: {}}}\n",
                36.0 - by
            );
            format!("{}{room}", parts(BOARD, "", &front))
        },
    },
    Case {
        code: "hole-outside-part",
        plan: |(a, ..), by| {
            let y = between(10.0, 90.0, a);
            panel(
                18.0,
                "",
                &format!(
                    "hole: {{at: [{}, {y}], diameter: 5, depth: 10}}",
                    200.0 + by
                ),
            )
        },
    },
    Case {
        code: "hole-breaks-edge",
        plan: |(a, b, _), by| {
            let (radius, y) = (between(2.0, 20.0, a), between(30.0, 70.0, b));
            panel(
                18.0,
                "",
                &format!(
                    "hole: {{at: [{}, {y}], diameter: {}, depth: 10}}",
                    radius - by,
                    2.0 * radius
                ),
            )
        },
    },
    Case {
        code: "hole-near-edge",
        plan: |(a, b, c), by| {
            let (radius, wall, y) = (
                between(2.0, 20.0, a),
                between(0.5, 6.0, b),
                between(40.0, 60.0, c),
            );
            let hole = format!(
                "hole: {{at: [{}, {y}], diameter: {}, depth: 10}}",
                radius + wall - by,
                2.0 * radius
            );
            panel(18.0, &limit("hole-near-edge", wall), &hole)
        },
    },
    Case {
        code: "holes-too-close",
        plan: |(a, b, c), by| {
            let (diameter, wall, x) = (
                between(2.0, 20.0, a),
                between(0.5, 6.0, b),
                between(40.0, 150.0, c),
            );
            let row = format!(
                "hole_row: {{first: [{x}, 30], step: [0, {}], count: 2, diameter: {diameter}, depth: 10}}",
                diameter + wall - by
            );
            panel(18.0, &limit("holes-too-close", wall), &row)
        },
    },
    Case {
        code: "holes-run-together",
        plan: |(a, b, _), by| {
            let (diameter, x) = (between(2.0, 20.0, a), between(40.0, 150.0, b));
            let row = format!(
                "hole_row: {{first: [{x}, 30], step: [0, {}], count: 2, diameter: {diameter}, depth: 10}}",
                diameter - by
            );
            panel(18.0, "", &row)
        },
    },
    Case {
        code: "work-meets-inside",
        plan: |(a, b, _), by| {
            let (thickness, share) = (between(12.0, 30.0, a), between(0.2, 0.8, b));
            let front = thickness * share;
            panel(
                thickness,
                "",
                &format!(
                    "hole: {{at: [50, 50], diameter: 8, depth: {front}}}\n      - hole: {{at: [52, 51], diameter: 5, depth: {}, face: back}}",
                    thickness - front + by
                ),
            )
        },
    },
    Case {
        code: "edge-hole-meets-work",
        plan: |(a, b, _), by| {
            let (x, radius) = (between(20.0, 80.0, a), between(2.0, 10.0, b));
            panel(
                18.0,
                "",
                &format!(
                    "hole: {{at: [{x}, 50], diameter: {}, depth: through}}\n      - edge_hole: {{edge: left, along: 50, diameter: 8, depth: {}}}",
                    2.0 * radius,
                    x - radius + by
                ),
            )
        },
    },
    Case {
        code: "edge-work-off-edge",
        plan: |(a, ..), by| {
            let width = between(20.0, 100.0, a);
            panel(
                18.0,
                "",
                &format!(
                    "notch: {{edge: bottom, start: 0, width: {width}, depth: 30}}\n      - edge_hole: {{edge: bottom, along: {}, diameter: 8, depth: 20}}",
                    width - by
                ),
            )
        },
    },
    Case {
        code: "thin-floor",
        plan: |(a, b, _), by| {
            let (thickness, floor) = (between(12.0, 30.0, a), between(1.0, 6.0, b));
            let hole = format!(
                "hole: {{at: [50, 50], diameter: 8, depth: {}}}",
                thickness - floor + by
            );
            panel(thickness, &limit("thin-floor", floor), &hole)
        },
    },
    Case {
        code: "groove-too-deep",
        plan: |(a, b, _), by| {
            let (thickness, share) = (between(12.0, 30.0, a), between(0.2, 0.7, b));
            let groove = format!(
                "groove: {{along: width, from: {{bottom: 20}}, width: 6, depth: {}}}",
                thickness * share + by
            );
            panel(thickness, &limit("groove-too-deep", share), &groove)
        },
    },
    Case {
        code: "countersink-too-deep",
        plan: |(a, b, _), by| {
            let (thickness, floor) = (between(5.0, 12.0, a), between(1.0, 3.0, b));
            // A cone of 90 degrees is as deep as it is wider than the hole on one side.
            let mouth = 4.0 + 2.0 * (thickness - floor + by);
            let hole = format!(
                "hole: {{at: [50, 50], diameter: 4, depth: through, countersink: {{diameter: {mouth}}}}}"
            );
            panel(thickness, &limit("countersink-too-deep", floor), &hole)
        },
    },
    Case {
        code: "corner-too-tight",
        plan: |(a, ..), by| {
            let tool = between(2.0, 12.0, a);
            let recess = format!(
                "recess: {{at: [50, 20], width: 80, height: 50, corner_radius: {}, depth: 5}}",
                tool / 2.0 - by
            );
            format!("{}tools: [{tool}, 20]\n", panel(18.0, "", &recess))
        },
    },
    Case {
        code: "thin-web",
        plan: |(a, b, _), by| {
            let (web, radius) = (between(0.5, 6.0, a), between(5.0, 30.0, b));
            let cut = format!(
                "cutout: {{centre: [{}, 50], diameter: {}}}",
                radius + web - by,
                2.0 * radius
            );
            panel(18.0, &limit("thin-web", web), &cut)
        },
    },
    Case {
        code: "part-fits-no-sheet",
        plan: |(a, ..), by| {
            let sheet = between(300.0, 2000.0, a);
            parts(
                &format!("board: {{thickness: 18, sheets: [{{width: {sheet}, height: 2440}}]}}"),
                "",
                &format!(
                    "  panel: {{stock: board, width: {}, height: 2440, grain: height}}\n",
                    sheet + by
                ),
            )
        },
    },
    Case {
        code: "panel-too-thick",
        plan: |(a, ..), by| {
            let width = between(3.0, 20.0, a);
            groove(
                &format!("thin: {{thickness: [{}, {width}]}}", width + by),
                "",
                width,
                "groove",
            )
        },
    },
    Case {
        code: "panel-loose",
        plan: |(a, b, _), by| {
            let (width, play) = (between(6.0, 20.0, a), between(0.1, 2.0, b));
            groove(
                &format!("thin: {{thickness: {}}}", width - play - by),
                &limit("panel-loose", play),
                width,
                "groove",
            )
        },
    },
    Case {
        code: "panel-proud",
        plan: |(a, b, _), by| {
            let (width, proud) = (between(6.0, 20.0, a), between(0.1, 2.0, b));
            groove(
                &format!("thin: {{thickness: {}}}", width + proud + by),
                &limit("panel-proud", proud),
                width,
                "rebate",
            )
        },
    },
    Case {
        code: "laps-stay-open",
        plan: |(a, b, _), by| {
            let (height, share) = (between(20.0, 90.0, a), between(0.2, 0.8, b));
            let notched = |name: &str, edge: &str, depth: f64, received: &str| {
                format!(
                    "  {name}:\n    stock: board\n    width: 200\n    height: {height}\n    features:\n      - notch: {{edge: {edge}, start: 60, width: 18.1, depth: {depth}, receives: {received}}}\n"
                )
            };
            let first = height * share;
            let both = format!(
                "{}{}",
                notched("one", "top", first, "other"),
                notched("other", "bottom", height - first - by, "one")
            );
            parts(BOARD, "", &both)
        },
    },
    Case {
        code: "runner-tight",
        plan: |(a, b, _), by| {
            let (opening, room) = (between(200.0, 600.0, a), between(10.0, 20.0, b));
            let box_width = opening - 2.0 * (room - by);
            usage(
                BOARD,
                "",
                SMALL,
                &format!("drawer: {{opening: {opening}, width: {box_width}, each_side: {room}}}"),
            )
        },
    },
    Case {
        code: "runner-loose",
        plan: |(a, b, _), by| {
            let (opening, spare) = (between(200.0, 600.0, a), between(0.2, 2.0, b));
            let box_width = opening - 2.0 * (12.7 + spare + by);
            usage(
                BOARD,
                &limit("runner-loose", spare),
                SMALL,
                &format!("drawer: {{opening: {opening}, width: {box_width}}}"),
            )
        },
    },
    Case {
        code: "hinge-cups-misaligned",
        plan: |(a, b, _), by| {
            let (rise, off) = (between(-50.0, 90.0, a), between(0.2, 3.0, b));
            usage(
                BOARD,
                &limit("hinge-cups-misaligned", off),
                &hung(300.0 - rise + off + by, 5.0),
                &format!("door: {{part: door, side: side, rise: {rise}}}"),
            )
        },
    },
    Case {
        code: "overlay-off",
        plan: |(a, b, c), by| {
            let (gap, plate, off) = (
                between(3.0, 7.0, a),
                between(0.0, 6.0, b),
                between(0.2, 2.0, c),
            );
            let wanted = 16.0 + gap - plate - off - by;
            usage(
                BOARD,
                &limit("overlay-off", off),
                &hung(300.0, gap),
                &format!(
                    "door: {{part: door, side: side, overlay: {wanted}, constant: 16, plate: {plate}}}"
                ),
            )
        },
    },
    Case {
        code: "doors-collide",
        plan: |(a, ..), by| {
            let width = between(200.0, 600.0, a);
            let room = width + 390.0 - by;
            usage(
                BOARD,
                "",
                &doors(width),
                &format!("doors: {{parts: [left, right], room: {room}}}"),
            )
        },
    },
    Case {
        code: "door-gap-small",
        plan: |(a, b, _), by| {
            let (width, gap) = (between(200.0, 600.0, a), between(1.0, 5.0, b));
            let room = width + 390.0 + gap - by;
            usage(
                BOARD,
                "",
                &doors(width),
                &format!("doors: {{parts: [left, right], room: {room}, gap: {gap}}}"),
            )
        },
    },
    Case {
        code: "screw-through",
        plan: |(a, b, _), by| {
            let (thickness, left) = (between(10.0, 30.0, a), between(0.5, 4.0, b));
            let length = 2.0 * thickness - left + by;
            screwed(
                thickness,
                &limit("screw-through", left),
                [100.0, 50.0],
                5.0,
                &format!("length: {length}, size: 4 mm"),
            )
        },
    },
    Case {
        code: "screw-too-short",
        plan: |(a, b, _), by| {
            let (times, size) = (between(3.0, 8.0, a), between(3.0, 6.0, b));
            let length = 18.0 + times * size - by;
            screwed(
                18.0,
                &limit("screw-too-short", times),
                [100.0, 50.0],
                7.0,
                &format!("length: {length}, size: {size} mm, enters: edge"),
            )
        },
    },
    Case {
        code: "screw-near-edge",
        plan: |(a, b, _), by| {
            let (times, size) = (between(2.0, 6.0, a), between(3.0, 6.0, b));
            screwed(
                18.0,
                &limit("screw-near-edge", times),
                [100.0, times * size - by],
                7.0,
                &format!("length: 60, size: {size} mm, enters: edge"),
            )
        },
    },
    Case {
        code: "screw-near-end",
        plan: |(a, b, _), by| {
            let (times, size) = (between(3.0, 10.0, a), between(3.0, 6.0, b));
            screwed(
                18.0,
                &limit("screw-near-end", times),
                [times * size - by, 50.0],
                7.0,
                &format!("length: 60, size: {size} mm, enters: edge"),
            )
        },
    },
    Case {
        code: "edge-screw-near-corner",
        plan: |(a, ..), by| {
            let wanted = between(20.0, 90.0, a);
            parts(
                "board: {thickness: 18, kind: mdf}",
                &limit("edge-screw-near-corner", wanted),
                &format!(
                    "  panel:\n    stock: board\n    width: 200\n    height: 100\n    features:\n      - edge_hole: {{edge: top, along: {}, diameter: 2.5, depth: 40, screw: {{length: 38, size: 4 mm}}}}\n",
                    wanted - by
                ),
            )
        },
    },
    Case {
        code: "clearance-hole-tight",
        plan: |(a, ..), by| {
            let size = between(3.0, 8.0, a);
            // The thread and 0.004 in.
            let hole = size + 0.1016 - by;
            screwed(
                18.0,
                "",
                [100.0, 50.0],
                hole,
                &format!("length: 40, size: {size} mm, enters: edge"),
            )
        },
    },
    Case {
        code: "pilot-off",
        plan: |(a, b, _), by| {
            let size = between(3.0, 8.0, a);
            let root = size * 2.0 / 3.0;
            let pilot = if b < 0.5 {
                0.7 * root - by
            } else {
                0.9 * root + by
            };
            panel(
                18.0,
                "",
                &format!(
                    "hole: {{at: [50, 50], diameter: {pilot}, depth: 15, screw: {{length: 14, size: {size} mm}}}}"
                ),
            )
        },
    },
    Case {
        code: "pilot-too-short",
        plan: |(a, ..), by| {
            let length = between(8.0, 14.0, a);
            panel(
                18.0,
                "",
                &format!(
                    "hole: {{at: [50, 50], diameter: 2.2, depth: {}, screw: {{length: {length}, size: 4 mm}}}}",
                    length - by
                ),
            )
        },
    },
    Case {
        code: "pocket-screw-through",
        plan: |(a, b, _), by| {
            let (thickness, left) = (between(12.0, 30.0, a), between(0.5, 4.0, b));
            pocket(
                thickness,
                &limit("pocket-screw-through", left),
                thickness - left + by,
            )
        },
    },
    Case {
        code: "pocket-screw-short",
        plan: |(a, b, _), by| {
            let (thickness, reach) = (between(12.0, 30.0, a), between(4.0, 12.0, b));
            pocket(thickness, &limit("pocket-screw-short", reach), reach - by)
        },
    },
    Case {
        code: "insert-hole-off",
        plan: |(a, b, _), by| {
            let (wanted, off) = (between(6.0, 14.0, a), between(0.1, 1.0, b));
            let hole = if wanted > 10.0 {
                wanted + off + by
            } else {
                wanted - off - by
            };
            panel(
                18.0,
                &limit("insert-hole-off", off),
                &format!(
                    "hole: {{at: [50, 50], diameter: {hole}, depth: 14, insert: {{hole: {wanted}, length: 13}}}}"
                ),
            )
        },
    },
    Case {
        code: "insert-hole-shallow",
        plan: |(a, ..), by| {
            let length = between(6.0, 15.0, a);
            panel(
                18.0,
                "",
                &format!(
                    "hole: {{at: [50, 50], diameter: 9.5, depth: {}, insert: {{hole: 9.5, length: {length}}}}}",
                    length - by
                ),
            )
        },
    },
    Case {
        code: "hardware-screw-long",
        plan: |(a, b, _), by| {
            let (thickness, left) = (between(11.0, 30.0, a), between(0.5, 4.0, b));
            panel(
                thickness,
                &limit("hardware-screw-long", left),
                &format!(
                    "runner_holes: {{edge: left, height: 50, setback: 2, offsets: [37], diameter: 2.5, depth: 8, screw: {{length: {}}}}}",
                    thickness - left + by
                ),
            )
        },
    },
    Case {
        code: "shelf-sags",
        plan: |(a, b, c), by| {
            let (span, load, stiffness) = (
                between(400.0, 1200.0, a),
                between(10.0, 60.0, b),
                between(3.0, 12.0, c),
            );
            // A limit that the sag misses by so many millimetres.
            let ratio = span / (sag(load, span, stiffness, 300.0, 18.0) - by);
            usage(
                &format!("board: {{thickness: 18, kind: plywood, stiffness: {stiffness}}}"),
                &limit("shelf-sags", ratio),
                "  shelf: {stock: board, width: 1200, height: 300, grain: width}\n",
                &format!("shelf: {{part: shelf, span: {span}, load: {load}}}"),
            )
        },
    },
    Case {
        code: "caster-overloaded",
        plan: |(a, ..), by| {
            let rating = between(20.0, 100.0, a);
            let load = 3.0 * (rating + by);
            usage(
                BOARD,
                "",
                SMALL,
                &format!("casters: {{rating: {rating}, load: {load}}}"),
            )
        },
    },
    Case {
        code: "caster-overloaded-uneven",
        plan: |(a, ..), by| {
            let rating = between(20.0, 100.0, a);
            let load = 2.0 * (rating + by);
            usage(
                BOARD,
                "",
                SMALL,
                &format!("casters: {{rating: {rating}, load: {load}}}"),
            )
        },
    },
    Case {
        code: "finish-coverage-unlikely",
        plan: |_, by| {
            let coverage = 1.0 / (0.5 + by);
            format!(
                "{}finish: [{{kind: varnish, coats: 1, coverage: {coverage}}}]\n",
                parts(BOARD, "", SMALL)
            )
        },
    },
    Case {
        code: "piece-heavy",
        plan: |(a, b, _), by| {
            let (density, thickness) = (between(400.0, 900.0, a), between(9.0, 30.0, b));
            // A panel of 200 by 100, in kilograms.
            let alone = 0.2 * 0.1 * thickness * 1e-3 * density - by;
            usage(
                &format!("board: {{thickness: {thickness}, kind: plywood, density: {density}}}"),
                "",
                SMALL,
                &format!("lifting: {{alone: {alone}}}"),
            )
        },
    },
    Case {
        code: "few-hinges",
        plan: |(a, b, _), by| {
            // Up to 40 in, and 20 in more for each further hinge.
            let count = (3.0 * a).floor();
            let height = (40.0 + 20.0 * count) * 25.4 + by;
            let at: Vec<String> = (0..2 + count as u32)
                .map(|n| (80 + 100 * n).to_string())
                .collect();
            parts(
                BOARD,
                "",
                &format!(
                    "  door:\n    stock: board\n    width: {}\n    height: {height}\n    features:\n      - hinge_cups: {{edge: left, at: [{}], edge_gap: 5}}\n",
                    between(200.0, 600.0, b),
                    at.join(", ")
                ),
            )
        },
    },
    Case {
        code: "screw-pulls-out",
        plan: |(a, b, _), by| {
            let (size, density) = (between(3.0, 6.0, a), between(400.0, 800.0, b));
            // 2850 G^2 D pounds for each inch; 20 mm of thread are two thirds of 30.
            // Oven-dry mass by volume at 12 % moisture content.
            let gravity: f64 = density / 1120.0;
            let newtons = 2850.0 * gravity.powi(2) * (size / 25.4) * (20.0 / 25.4) * 4.448_221_615;
            let pull = newtons / 9.80665 + by;
            parts(
                &format!("board: {{thickness: 10, kind: solid, density: {density}}}"),
                "",
                &format!(
                    "  panel:\n    stock: board\n    width: 200\n    height: 100\n    features:\n      - hole: {{at: [100, 50], diameter: 7, depth: through, screw: {{length: 30, size: {size} mm, into: rail, pull: {pull}}}}}\n{RAIL}"
                ),
            )
        },
    },
    Case {
        code: "panel-movement-restricted",
        plan: |(a, b, _), by| {
            let (width, wetter) = (between(100.0, 900.0, a), between(1.0, 6.0, b));
            let room = width + width * 0.00431 * wetter - by;
            usage(
                &format!(
                    "board: {{thickness: 18, kind: solid, movement: {{species: beech, made: 8, driest: 6, wettest: {}}}}}",
                    8.0 + wetter
                ),
                "",
                &format!("  panel: {{stock: board, width: {width}, height: 500, grain: height}}\n"),
                &format!("panel: {{part: panel, room: {room}}}"),
            )
        },
    },
    Case {
        code: "tall-unit-not-anchored",
        plan: |(a, ..), by| {
            let height = between(300.0, 1500.0, a);
            // At the limit itself it already tells.
            let entry = format!("freestanding: {{height: {}}}", height + by);
            usage(
                BOARD,
                &limit("tall-unit-not-anchored", height),
                SMALL,
                &entry,
            )
        },
    },
    Case {
        code: "tips-over",
        plan: |(a, ..), by| {
            let least = between(500.0, 1500.0, a);
            let both = format!(
                "  side: {{stock: board, width: 100, height: {0}, place: {{at: [0, 0, 0], width: back, height: up}}}}\n  other: {{stock: board, width: 100, height: {0}, place: {{at: [318, 0, 0], width: back, height: up}}}}\n  shelf: {{stock: board, width: 300, height: 100, place: {{at: [18, 200, 0], height: back}}}}\njoints: [butt: {{part: shelf, to: side}}, butt: {{part: shelf, to: other}}]\n",
                least + by
            );
            parts(BOARD, &limit("tips-over", least), &both)
        },
    },
    Case {
        code: "strip-too-narrow",
        plan: |(a, ..), by| {
            let side = between(10.0, 100.0, a);
            sawn(&limit("strip-too-narrow", side), 600.0, side - by)
        },
    },
    Case {
        code: "part-too-small-for-saw",
        plan: |(a, ..), by| {
            let side = between(60.0, 400.0, a);
            sawn(&limit("part-too-small-for-saw", side), side - by, 50.0)
        },
    },
];

fn groove(stock: &str, checks: &str, width: f64, what: &str) -> String {
    let place = if what == "groove" {
        "along: width, from: {bottom: 20}"
    } else {
        "edge: bottom"
    };
    parts(
        &format!("board: {{thickness: 18}}\n  {stock}"),
        checks,
        &format!(
            "  panel:\n    stock: board\n    width: 200\n    height: 100\n    features:\n      - {what}: {{{place}, width: {width}, depth: 5, receives: back}}\n  back: {{stock: thin, width: 200, height: 100}}\n"
        ),
    )
}

fn screwed(thickness: f64, checks: &str, at: [f64; 2], hole: f64, screw: &str) -> String {
    parts(
        &format!("board: {{thickness: {thickness}, kind: plywood}}"),
        checks,
        &format!(
            "  panel:\n    stock: board\n    width: 200\n    height: 100\n    grain: width\n    features:\n      - hole: {{at: [{}, {}], diameter: {hole}, depth: through, screw: {{{screw}, into: rail}}}}\n{RAIL}",
            at[0], at[1]
        ),
    )
}

/// Pocket screws that reach so far into a part of the same thickness: with a shoulder of the thickness, at 15 degrees.
fn pocket(thickness: f64, checks: &str, reach: f64) -> String {
    let length = thickness + reach / 15_f64.to_radians().cos();
    parts(
        &format!("board: {{thickness: {thickness}}}"),
        checks,
        &format!(
            "  panel:\n    stock: board\n    width: 300\n    height: 100\n    features:\n      - pocket_holes: {{edge: left, at: [50], screw: {{length: {length}}}, into: rail}}\n{RAIL}"
        ),
    )
}

fn sawn(checks: &str, width: f64, height: f64) -> String {
    parts(
        "board: {thickness: 18, cut_by: saw}",
        checks,
        &format!("  panel: {{stock: board, width: {width}, height: {height}}}\n"),
    )
}

/// Whether the check tells; anything that keeps the plan from being read is a mistake of the case.
fn tells(code: &str, plan: &str) -> bool {
    let compiled = jigless_core::compile("plan.yaml", plan.as_bytes(), &NoIncludes);
    for finding in compiled.findings.iter() {
        assert!(
            CHECKS.iter().any(|kind| kind.code == finding.code),
            "{code}: {} {}\n{plan}",
            finding.code,
            finding.message
        );
    }
    compiled.findings.iter().any(|finding| finding.code == code)
}

#[test]
fn every_check_has_its_case() {
    for kind in CHECKS {
        let cases = CASES
            .iter()
            .filter(|case| case.code == kind.code.as_str())
            .count();
        let wanted = usize::from(!WITHOUT_A_LIMIT.contains(&kind.code.as_str()));
        assert_eq!(cases, wanted, "{}", kind.code);
    }
    assert_eq!(CASES.len() + WITHOUT_A_LIMIT.len(), CHECKS.len());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_hundredth_within_is_silent_and_a_hundredth_beyond_tells(
        shares in (0.0..1.0f64, 0.0..1.0f64, 0.0..1.0f64),
    ) {
        for case in CASES {
            let within = (case.plan)(shares, -0.01);
            prop_assert!(!tells(case.code, &within), "{} fires within its limit:\n{within}", case.code);
            let beyond = (case.plan)(shares, 0.01);
            prop_assert!(tells(case.code, &beyond), "{} is silent beyond its limit:\n{beyond}", case.code);
        }
    }
}
