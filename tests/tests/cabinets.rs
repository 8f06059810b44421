//! A thousand random cabinets: what must hold for any of them.

use jigless_core::check::whole::solids;
use jigless_core::diag::Severity;
use jigless_core::export::{ExportInput, Setting, Stamp};
use jigless_core::load::NoIncludes;
use jigless_core::operation::{Drill, Work};
use jigless_core::plan::Plan;
use jigless_core::side::Face;
use jigless_core::whole::{Body, Triple};
use jigless_core::workpiece::Workpiece;
use proptest::prelude::*;

/// Sums that must be equal are, within this many millimetres.
const EXACT: f64 = 1e-6;

#[derive(Debug, Clone)]
struct Cabinet {
    width: f64,
    height: f64,
    depth: f64,
    thickness: f64,
    back: f64,
    box_side: f64,
    gap: f64,
    top: &'static str,
    bottom: &'static str,
    back_kind: &'static str,
    with: &'static str,
    toe: bool,
    shelf: Option<(f64, &'static str)>,
    dividers: u32,
    fit: &'static str,
    drawers: u32,
    loose: u32,
}

/// A tenth of a millimetre is what a caliper gives.
fn tenths(low: f64, high: f64) -> impl Strategy<Value = f64> {
    ((low * 10.0) as i64..=(high * 10.0) as i64).prop_map(|tenths| tenths as f64 / 10.0)
}

fn cabinets() -> impl Strategy<Value = Cabinet> {
    let sizes = (
        tenths(400.0, 1200.0),
        tenths(600.0, 2000.0),
        tenths(300.0, 650.0),
        tenths(14.0, 24.0),
        tenths(3.0, 9.0),
        tenths(9.0, 15.0),
        tenths(1.5, 4.0),
    );
    let kinds = (
        prop::sample::select(vec!["between", "over", "rebated", "none"]),
        prop::sample::select(vec!["between", "under", "rebated"]),
        prop::sample::select(vec!["rebated", "applied", "none"]),
        prop::sample::select(vec!["screws", "pocket screws", "dowels", "glue"]),
        any::<bool>(),
        prop::option::of((0.3..0.6f64, prop::sample::select(vec!["housing", "butt"]))),
        0u32..3,
        prop::sample::select(vec!["overlay", "half", "inset"]),
        1u32..4,
        0u32..3,
    );
    (sizes, kinds).prop_map(|(sizes, kinds)| {
        let (width, height, depth, thickness, back, box_side, gap) = sizes;
        let (top, bottom, back_kind, with, toe, shelf, dividers, fit, drawers, loose) = kinds;
        // A toe space is cut into sides that reach the floor.
        let toe = toe && bottom == "between";
        Cabinet {
            width,
            height,
            depth,
            thickness,
            back,
            box_side,
            gap,
            top,
            bottom,
            back_kind,
            with,
            toe,
            shelf: shelf.map(|(share, joint)| ((height * share * 10.0).round() / 10.0, joint)),
            dividers,
            fit,
            drawers,
            loose,
        }
    })
}

impl Cabinet {
    /// Doors close the lowest room where nothing divides it; drawers fill the bays above the shelf.
    fn plan(&self) -> String {
        let head = format!(
            "jigless: 1\ntitle: Any\nunits: mm\nstock:\n  ply: {{thickness: {}}}\n  thin: {{thickness: {}}}\n  side: {{thickness: {}}}\nbuilds:\n  c:\n    carcass:\n      stock: ply\n      back_stock: thin\n      width: {}\n      height: {}\n      depth: {}\n      top: {}\n      bottom: {}\n      rebate_depth: thin.thickness / 2\n      back: {}\n      back_depth: 6\n      with: {}\n",
            self.thickness,
            self.back,
            self.box_side,
            self.width,
            self.height,
            self.depth,
            self.top,
            self.bottom,
            self.back_kind,
            self.with
        );
        let rebate = format!("rebate_depth: {}", self.thickness / 2.0);
        let mut text = vec![head.replace("rebate_depth: thin.thickness / 2", &rebate)];
        if self.toe {
            text.push("      toe: {height: 80, depth: 60}\n".to_owned());
        }
        if let Some((up, joint)) = self.shelf {
            text.push(format!(
                "      shelves: [{{name: deck, up: {up}, joint: {joint}, depth: 5}}]\n"
            ));
        }
        if self.dividers > 0 && self.top != "none" {
            let on = if self.shelf.is_some() {
                "deck"
            } else {
                "bottom"
            };
            text.push(format!(
                "      dividers: [{{name: post, stands_on: {on}, count: {}}}]\n",
                self.dividers
            ));
        }
        if self.loose > 0 && self.shelf.is_some() {
            text.push(format!(
                "      loose: [{{count: {}, first: 40, pins: 4, setback: 30}}]\n",
                self.loose
            ));
        }
        let rooms = self.rooms();
        text.push(format!(
            "  drawer:\n    drawer: {{in: [{}], count: {}, stock: side, bottom_stock: thin, front_stock: ply, fit: {}, gap: {}, rebate: {}, groove: {}}}\n",
            rooms.join(", "),
            self.drawers,
            if self.fit == "half" { "overlay" } else { self.fit },
            self.gap,
            self.box_side / 2.0,
            self.box_side / 2.0,
        ));
        if self.shelf.is_some() {
            text.push(format!("  door:\n    door_pair: {{in: c-bottom, stock: ply, fit: {}, gap: {}, plate_depth: 8, cup_depth: 11, cup_screws: no}}\n", self.fit, self.gap));
        }
        text.concat()
    }

    fn rooms(&self) -> Vec<String> {
        let floor = if self.shelf.is_some() {
            "c-deck"
        } else {
            "c-bottom"
        };
        if self.dividers > 0 && self.top != "none" {
            (1..=self.dividers + 1)
                .map(|bay| format!("{floor}-{bay}"))
                .collect()
        } else {
            vec![floor.to_owned()]
        }
    }
}

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
    prop_assert_eq!(left, Some(0.0));
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
    for workpiece in workpieces {
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
        .filter(|part| part.is_mirrored() && part.count == 1)
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
#[derive(Debug, Clone, Copy, PartialEq)]
enum Outcome {
    /// It was refused, with one finding for each cause.
    Refused,
    /// It passed, and holds.
    Sound,
}

fn outcome(cabinet: &Cabinet) -> Result<Outcome, TestCaseError> {
    let text = cabinet.plan();
    let compiled = jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes);
    // Thin stock with deep work draws advice; what is asked for here is that it goes together, moves and holds.
    let matters = |code: &str| {
        [
            "parts-collide",
            "drawer-blocked",
            "door-strikes",
            "piece-not-held",
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
    let mut once = reported.clone();
    once.sort();
    once.dedup();
    prop_assert_eq!(
        once.len(),
        reported.len(),
        "more findings than causes: {:?}\n{}",
        reported,
        text
    );
    // A room may be too low for its drawers, a stock too thin for any screw, and work may meet where all is small: that is
    // told. What does not go together or does not hold would be a fault of the builders.
    let own_fault =
        |code: &String| !["no-room", "no-screw", "pocket-meets-work"].contains(&code.as_str());
    let faults: Vec<String> = compiled
        .findings
        .iter()
        .filter(|finding| reported.contains(&finding.code.to_string()))
        .map(|finding| format!("{} {}", finding.code, finding.message))
        .collect();
    prop_assert!(!reported.iter().any(own_fault), "{:#?}\n{}", faults, text);
    if !reported.is_empty() {
        return Ok(Outcome::Refused);
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
    Ok(Outcome::Sound)
}

/// How many cabinets are put together; `JIGLESS_CABINETS` in the environment asks for another number.
fn number() -> u32 {
    let asked = std::env::var("JIGLESS_CABINETS").ok();
    asked.and_then(|number| number.parse().ok()).unwrap_or(1000)
}

#[test]
fn any_cabinet_fits_together_or_is_refused() {
    let config = ProptestConfig::with_cases(number());
    let mut runner = proptest::test_runner::TestRunner::new(config);
    let counts = std::cell::Cell::new((0_u32, 0_u32));
    let result = runner.run(&cabinets(), |cabinet| {
        let (sound, refused) = counts.get();
        counts.set(match outcome(&cabinet)? {
            Outcome::Sound => (sound + 1, refused),
            Outcome::Refused => (sound, refused + 1),
        });
        Ok(())
    });
    let (sound, refused) = counts.get();
    println!("{sound} cabinets are sound, {refused} are refused");
    if let Err(error) = result {
        panic!("{error}");
    }
    assert!(sound > refused, "most cabinets should be sound");
}
