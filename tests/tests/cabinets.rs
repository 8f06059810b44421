//! Random cabinets: what must hold for any of them. Those that pass are proved once more by a simulation in plain
//! Python, which shares no code with us.

use jigless_core::check::whole::solids;
use jigless_core::diag::Severity;
use jigless_core::export::{ExportInput, Setting, Stamp};
use jigless_core::fact::Fact;
use jigless_core::hardware::FittingKind;
use jigless_core::load::NoIncludes;
use jigless_core::operation::{Depth, Drill, Work};
use jigless_core::plan::Plan;
use jigless_core::side::Face;
use jigless_core::whole::{Body, Triple};
use jigless_core::workpiece::Workpiece;
use jigless_tests::any_cabinet::{Cabinet, cabinets};
use proptest::prelude::*;
use serde_json::json;
use std::collections::BTreeMap;
use std::io::Write as _;

/// Sums that must be equal are, within this many millimetres.
const EXACT: f64 = 1e-6;

/// Joined parts share a surface, or the one lies in the cut of the other with no more than the play that is meant.
fn meet_exactly(plan: &Plan) -> Result<(), TestCaseError> {
    for joint in &plan.joints {
        prop_assert!(!joint.meetings.is_empty(), "{} to {}", joint.part, joint.to);
        for meeting in &joint.meetings {
            let common = meeting.common();
            let mut sizes: Vec<f64> = (0..3).map(|axis| common.size(axis)).collect();
            sizes.sort_by(f64::total_cmp);
            let name = format!("{} {} to {}: {sizes:?}", joint.kind, joint.part, joint.to);
            if joint.housed {
                prop_assert!(sizes[0] > 1.0, "{}", name);
            } else {
                prop_assert!(sizes[0].abs() < EXACT && sizes[1] > 1.0, "{}", name);
            }
        }
    }
    Ok(())
}

/// No piece has wood where another one has: looked at point by point, apart from the check of the program.
fn none_interpenetrates(workpieces: &[Workpiece]) -> Result<(), TestCaseError> {
    let solids = solids(workpieces);
    for (index, one) in solids.iter().enumerate() {
        for other in &solids[index + 1..] {
            if !one.bounds.overlaps(other.bounds, 0.01) {
                continue;
            }
            let common = one.bounds.common(other.bounds);
            // 7 and 11 and 13 share no divisor, so that no plane of points lies in a surface.
            for x in 0..7 {
                for y in 0..11 {
                    for z in 0..13 {
                        let at =
                            |axis: usize, share: f64| common.min[axis] + common.size(axis) * share;
                        let point = [
                            at(0, (f64::from(x) + 0.43) / 7.0),
                            at(1, (f64::from(y) + 0.57) / 11.0),
                            at(2, (f64::from(z) + 0.39) / 13.0),
                        ];
                        prop_assert!(
                            !(one.contains(point) && other.contains(point)),
                            "{} and {} at {:?}",
                            one.workpiece.part.id,
                            other.workpiece.part.id,
                            point
                        );
                    }
                }
            }
        }
    }
    Ok(())
}

fn sums_fill_openings(cabinet: &Cabinet, plan: &Plan) -> Result<(), TestCaseError> {
    let part = |id: &str| plan.part(id);
    let t = cabinet.thickness;
    let clear = cabinet.width - 2.0 * t;
    // Side, room and side make the whole.
    let left = part("c-side-left").map(|side| side.places[0].at[0]);
    let right = part("c-side-right").map(|side| side.places[0].at[0]);
    prop_assert!(left.is_some_and(|left| left.abs() < EXACT));
    prop_assert!((right.unwrap_or(0.0) + t - cabinet.width).abs() < EXACT);
    // Fronts and the gaps between and around them make the opening.
    let share = |shared: bool| {
        if shared && cabinet.fit != "inset" {
            cabinet.gap / 2.0
        } else {
            cabinet.gap
        }
    };
    if let (Some(one), Some(other)) = (part("door-left"), part("door-right")) {
        let outer = share(cabinet.fit == "half");
        let opening = match cabinet.fit {
            "overlay" => cabinet.width,
            "half" => cabinet.width - t,
            _ => clear,
        };
        let sum = one.width + other.width + cabinet.gap + 2.0 * outer;
        prop_assert!(
            (sum - opening).abs() < EXACT,
            "doors {} of {}",
            sum,
            opening
        );
    }
    let bays = f64::from(u32::try_from(cabinet.rooms().len()).unwrap_or(1));
    let fronts: Vec<_> = plan
        .parts
        .iter()
        .filter(|part| part.id.starts_with("drawer-front"))
        .collect();
    let mut places: Vec<(f64, f64, f64, f64)> = fronts
        .iter()
        .flat_map(|front| {
            front
                .places
                .iter()
                .map(|place| (place.at[0], place.at[1], front.width, front.height))
        })
        .collect();
    places.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    prop_assert_eq!(
        places.len(),
        cabinet.rooms().len() * cabinet.drawers as usize
    );
    // One row of fronts from left to right: gaps between them, and gaps to the ends of the opening.
    let row: Vec<_> = places
        .iter()
        .filter(|place| (place.1 - places[0].1).abs() < EXACT)
        .collect();
    if cabinet.fit == "inset" {
        let inside = (clear - (bays - 1.0) * t) / bays;
        prop_assert!(
            row.iter()
                .all(|place| (place.2 + 2.0 * cabinet.gap - inside).abs() < EXACT)
        );
    } else {
        let sum = row.iter().map(|place| place.2).sum::<f64>() + (bays + 1.0) * cabinet.gap;
        prop_assert!(
            (sum - cabinet.width).abs() < EXACT,
            "fronts {} of {}",
            sum,
            cabinet.width
        );
        for pair in row.windows(2) {
            let step = pair[1].0 - pair[0].0 - pair[0].2;
            prop_assert!(
                (step - cabinet.gap).abs() < EXACT,
                "{} between fronts",
                step
            );
        }
    }
    // One column from below.
    let column: Vec<_> = places
        .iter()
        .filter(|place| (place.0 - places[0].0).abs() < EXACT)
        .collect();
    prop_assert_eq!(column.len(), cabinet.drawers as usize);
    for pair in column.windows(2) {
        prop_assert!((pair[1].1 - pair[0].1 - pair[0].3 - cabinet.gap).abs() < EXACT);
    }
    // Box, and a runner's room at each side.
    if let (Some(left), Some(right)) = (part("drawer-side-left"), part("drawer-side-right")) {
        let width = right.places[0].at[0] + cabinet.box_side - left.places[0].at[0];
        let inside = (clear - (bays - 1.0) * t) / bays;
        prop_assert!(
            (width + 2.0 * 12.7 - inside).abs() < EXACT,
            "{} in {}",
            width,
            inside
        );
    }
    Ok(())
}

/// The cut list's sizes are those of the boxes that fill the whole.
fn volumes_agree(plan: &Plan, workpieces: &[Workpiece]) -> Result<(), TestCaseError> {
    let exporter = jigless_exporters::exporter("cutting-list-json").expect("the cut list");
    let settings: [Setting; 0] = [];
    let configured = exporter
        .configure(&settings)
        .map_err(|faults| TestCaseError::fail(format!("{faults:?}")))?;
    let stamp = Stamp::new("test", None);
    let input = ExportInput::new(plan, workpieces, &stamp);
    let artifacts = configured
        .export(&input)
        .map_err(|error| TestCaseError::fail(error.to_string()))?;
    let list: serde_json::Value = serde_json::from_slice(&artifacts[0].bytes)
        .map_err(|e| TestCaseError::fail(e.to_string()))?;
    let parts = list["parts"].as_array().cloned().unwrap_or_default();
    prop_assert_eq!(parts.len(), workpieces.len());
    // A tray is made by itself and has no place.
    for workpiece in workpieces.iter().filter(|w| !w.part.places.is_empty()) {
        let part = &workpiece.part;
        let line = parts
            .iter()
            .find(|line| line["part"] == part.id.as_str())
            .expect("a line for each part");
        let mm = |key: &str| line[key].as_f64().unwrap_or(0.0);
        let (length, width, thick) = (mm("length_mm"), mm("width_mm"), mm("thickness_mm"));
        let count = line["count"].as_u64().unwrap_or(0) as f64;
        let listed = length * width * thick * count;
        let boxes: f64 = part
            .bodies()
            .iter()
            .map(|body| body.bounds().volume())
            .sum();
        // The list rounds each size to a hundredth of a millimetre.
        let rounding = 0.005 * (length * width + width * thick + length * thick) * count * 1.001;
        prop_assert!(
            (listed - boxes).abs() <= rounding,
            "{}: {} and {}",
            part.id,
            listed,
            boxes
        );
    }
    // Nothing is milled away twice or more than there is.
    for solid in solids(workpieces) {
        let volume = solid.volume();
        prop_assert!(volume > 0.0 && volume <= solid.bounds.volume() * (1.0 + 1e-12));
    }
    Ok(())
}

/// What is drilled into one side of a handed pair is drilled into the other, seen in a mirror in the middle.
fn mirrored_in_the_whole(
    cabinet: &Cabinet,
    plan: &Plan,
    workpieces: &[Workpiece],
) -> Result<(), TestCaseError> {
    let holes = |id: &str| -> Vec<(Triple, f64)> {
        let Some(workpiece) = workpieces.iter().find(|w| w.part.id == id) else {
            return Vec::new();
        };
        let part = &workpiece.part;
        let place = part.places[0];
        // A mirror image is drawn in its own coordinates, so it stands in its place as any other part does.
        let body = Body::new(place, [part.width, part.height, part.thickness()], false);
        let drills = workpiece
            .operations
            .iter()
            .filter_map(|operation| match &operation.work {
                Work::Drill(drill) => Some(drill),
                _ => None,
            });
        drills
            .map(|drill: &Drill| {
                let depth = if drill.face == Face::Front {
                    0.0
                } else {
                    part.thickness()
                };
                (
                    body.to_whole(drill.centre.x, drill.centre.y, depth),
                    drill.diameter,
                )
            })
            .collect()
    };
    for part in plan
        .parts
        .iter()
        .filter(|part| part.is_mirrored() && part.count == 1 && !part.places.is_empty())
    {
        let Some(pair) = &part.pair else { continue };
        let (own, other) = (holes(&part.id), holes(&pair.other));
        prop_assert_eq!(own.len(), other.len(), "{}", &part.id);
        // Drawers of one bay stand in the middle of it, everything else in the middle of the cabinet.
        let boxes = part.bodies()[0]
            .bounds()
            .union(plan.part(&pair.other).expect("the other").bodies()[0].bounds());
        let middle = boxes.centre()[0];
        if !part.id.starts_with("drawer") {
            prop_assert!((middle - cabinet.width / 2.0).abs() < EXACT);
        }
        for (at, diameter) in own {
            let seen = [2.0 * middle - at[0], at[1], at[2]];
            let twin = other.iter().any(|(place, d)| {
                (d - diameter).abs() < EXACT
                    && (0..3).all(|axis| (place[axis] - seen[axis]).abs() < EXACT)
            });
            prop_assert!(twin, "{} has no twin of the hole at {:?}", part.id, at);
        }
    }
    Ok(())
}

/// What a random cabinet came to.
#[derive(Debug, Clone, PartialEq)]
enum Outcome {
    /// It was refused, with findings of these codes.
    Refused(Vec<String>),
    /// It passed, and holds.
    Sound,
}

fn outcome(cabinet: &Cabinet, sound: &mut Vec<String>) -> Result<Outcome, TestCaseError> {
    let text = cabinet.plan();
    let compiled = jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes);
    // Thin stock with deep work draws advice; what is asked for here is that it goes together, moves and holds.
    let matters = |code: &str| {
        [
            "parts-collide",
            "drawer-blocked",
            "door-strikes",
            "piece-not-held",
            "holes-run-together",
            "screw-out-of-reach",
        ]
        .contains(&code)
            || code.starts_with("joint-")
            || code.starts_with("fastener-")
    };
    let reported: Vec<String> = compiled
        .findings
        .iter()
        .filter(|finding| finding.severity == Severity::Error || matters(finding.code.as_str()))
        .map(|finding| finding.code.to_string())
        .collect();
    // A room may be too low for its drawers, a drawer too narrow for its tray, a stock too thin for any screw, and work
    // may meet where all is small, such as a runner's screws and the groove of a low box: that is reported. What does not go together or does not hold would be a fault of the builders.
    let allowed = [
        "no-room",
        "no-screw",
        "bad-tray",
        "pocket-meets-work",
        "work-covered",
        "fastener-meets-work",
        "holes-run-together",
        "screw-out-of-reach",
        "hardware-screw-long",
    ];
    let own_fault = |code: &String| !allowed.contains(&code.as_str());
    let faults: Vec<String> = compiled
        .findings
        .iter()
        .filter(|finding| reported.contains(&finding.code.to_string()))
        .map(|finding| format!("{} {}", finding.code, finding.message))
        .collect();
    prop_assert!(!reported.iter().any(own_fault), "{:#?}\n{}", faults, text);
    if !reported.is_empty() {
        return Ok(Outcome::Refused(reported));
    }
    let Some((plan, workpieces)) = compiled.result else {
        return Err(TestCaseError::fail("no plan"));
    };
    meet_exactly(&plan)?;
    none_interpenetrates(&workpieces)?;
    sums_fill_openings(cabinet, &plan)?;
    volumes_agree(&plan, &workpieces)?;
    mirrored_in_the_whole(cabinet, &plan, &workpieces)?;
    prop_assert_eq!(plan.order.len(), plan.parts.len());
    sound.push(for_simulation(&plan, &workpieces));
    Ok(Outcome::Sound)
}

/// How many cabinets are put together; `JIGLESS_CABINETS` in the environment asks for another number.
fn number() -> u32 {
    let asked = std::env::var("JIGLESS_CABINETS").ok();
    asked.and_then(|number| number.parse().ok()).unwrap_or(200)
}

/// So many cabinets are handed to the simulation together.
const AT_ONCE: usize = 500;

/// A cabinet as the simulation reads it: sizes, places and holes as they are drawn, and what is joined.
fn for_simulation(plan: &Plan, workpieces: &[Workpiece]) -> String {
    let joints: Vec<[&str; 2]> = plan
        .joints
        .iter()
        .map(|joint| [joint.part.as_str(), joint.to.as_str()])
        .collect();
    let parts: Vec<_> = workpieces.iter().map(simulated).collect();
    let order: Vec<&str> = plan.order.iter().map(|step| step.part.as_str()).collect();
    json!({"parts": parts, "joints": joints, "order": order}).to_string()
}

fn simulated(workpiece: &Workpiece) -> serde_json::Value {
    let part = &workpiece.part;
    let has = |key: &str| workpiece.operations.iter().any(|o| o.origin.key == key);
    // How long what goes into the holes of a feature is.
    let screw = |feature: Option<usize>, diameter: f64| {
        let feature = part.features.get(feature?)?;
        feature.work.facts.iter().find_map(|fact| match fact {
            Fact::Fastener(f)
                if (f.diameter - diameter).abs() < EXACT && f.kind == FittingKind::Screw =>
            {
                Some(f.length.value)
            }
            _ => None,
        })
    };
    let driven = |feature: Option<usize>| {
        let feature = part.features.get(feature?)?;
        feature.work.facts.iter().find_map(|fact| match fact {
            Fact::Fastener(f) if matches!(f.kind, FittingKind::Nail | FittingKind::Staple) => {
                Some((f.diameter, f.length.value))
            }
            _ => None,
        })
    };
    let (mut drills, mut edges, mut pockets) = (Vec::new(), Vec::new(), Vec::new());
    for operation in &workpiece.operations {
        let feature = operation.origin.feature;
        match &operation.work {
            Work::Drill(drill) => drills.push(json!({
                "face": drill.face, "x": drill.centre.x, "y": drill.centre.y, "d": drill.diameter,
                "depth": match drill.depth { Depth::Through => None, Depth::Blind(depth) => Some(depth) },
                "screw": screw(feature, drill.diameter),
            })),
            Work::EdgeDrill(hole) => edges.push(json!({
                "edge": hole.edge, "along": hole.along, "front": hole.from_front, "d": hole.diameter,
                "depth": hole.depth, "screw": screw(feature, hole.diameter),
            })),
            Work::AngledBore(bore) => pockets.push(json!({
                "face": bore.face, "entry": [bore.entry.x, bore.entry.y], "exit": [bore.exit.x, bore.exit.y],
                "exit_depth": bore.exit_depth, "shoulder": bore.shoulder, "d": bore.diameter, "pilot": bore.pilot,
                "screw": bore.screw.as_ref().map(|screw| screw.length),
            })),
            // A nail or staple at its cross goes right through its part without a hole.
            Work::Mark(mark) => {
                if let (Some((d, length)), Some(cross)) = (driven(feature), mark.lines.first()) {
                    let at = cross.bounds().expect("a line").centre();
                    drills.push(json!({
                        "face": mark.face, "x": at.x, "y": at.y, "d": d, "depth": None::<f64>, "screw": length,
                    }));
                }
            }
            Work::MillArea(_) | Work::CutContour(_) | Work::Bevel(_) => {}
        }
    }
    json!({
        "id": part.id, "w": part.width, "h": part.height, "t": part.thickness(), "places": part.places,
        "group": part.group, "moves": part.motion.is_some(), "loose": part.loose,
        "drills": drills, "edges": edges, "pockets": pockets,
        "runner": has("runner_holes"), "hinged": has("hinge_cups"), "plates": has("hinge_plates"),
        "pins": has("pin_rows"), "pinned": part.fittings.iter().any(|f| f.kind == FittingKind::ShelfPin),
    })
}

/// Hands the sound cabinets to the simulation, which finds no fault in any.
fn proved(cabinets: &[String]) -> usize {
    let script = jigless_tests::fixtures::workspace().join("tests/readers/simulate.py");
    let mut child = std::process::Command::new(env!("JIGLESS_READERS_PYTHON"))
        .arg(script)
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .expect("python3 runs");
    let mut input = child.stdin.take().expect("a pipe");
    let text = cabinets.join("\n");
    let writer = std::thread::spawn(move || input.write_all(text.as_bytes()));
    let output = child.wait_with_output().expect("python3 ends");
    writer
        .join()
        .expect("the writer ends")
        .expect("the cabinets are written");
    let lines = String::from_utf8(output.stdout).expect("UTF-8");
    let mut proved = 0;
    for line in lines.lines() {
        let answer: serde_json::Value = serde_json::from_str(line).expect("JSON");
        let faults = answer["faults"].as_array().expect("a list");
        assert!(faults.is_empty(), "{answer}\n{}", cabinets[proved]);
        proved += 1;
    }
    assert_eq!(proved, cabinets.len(), "the simulation ended early");
    proved
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn any_cabinet_fits_together_or_is_refused() {
    use proptest::strategy::ValueTree;

    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig::default());
    let any = cabinets();
    // What each was refused for, and how often; an example of each.
    let mut refused: BTreeMap<Vec<String>, (usize, String)> = BTreeMap::new();
    let mut styles: BTreeMap<&str, usize> = BTreeMap::new();
    let (mut waiting, mut sound, mut faults) = (Vec::new(), 0, Vec::new());
    for _ in 0..number() {
        let cabinet = any.new_tree(&mut runner).expect("a cabinet").current();
        match outcome(&cabinet, &mut waiting) {
            Ok(Outcome::Sound) => {
                for style in cabinet.styles() {
                    *styles.entry(style).or_default() += 1;
                }
            }
            Ok(Outcome::Refused(codes)) => {
                let found = refused.entry(codes).or_insert_with(|| (0, cabinet.plan()));
                found.0 += 1;
            }
            Err(fault) => faults.push(fault.to_string()),
        }
        if waiting.len() == AT_ONCE {
            sound += proved(&waiting);
            waiting.clear();
        }
    }
    sound += proved(&waiting);
    let all: usize = refused.values().map(|(count, _)| count).sum();
    let once = refused.iter().filter(|(codes, _)| codes.len() == 1);
    let once: usize = once.map(|(_, (count, _))| count).sum();
    println!(
        "{sound} cabinets are sound, and all of them proved; {all} are refused, {once} of them with one finding"
    );
    for (codes, (count, plan)) in &refused {
        println!("{count:6} refused: {}", codes.join(", "));
        if codes.len() > 1 {
            println!("{plan}");
        }
    }
    let styles: Vec<String> = styles
        .iter()
        .map(|(style, count)| format!("{style} {count}"))
        .collect();
    println!("among the sound ones: {}", styles.join(", "));
    let first = faults
        .iter()
        .take(10)
        .map(String::as_str)
        .collect::<Vec<_>>();
    assert!(
        faults.is_empty(),
        "{} faults, the first:\n{}",
        faults.len(),
        first.join("\n")
    );
    assert!(4 * sound > all, "too many are refused");
}
