//! What joints and builders choose by themselves passes the program's own checks, for every pair of thicknesses.

use jigless_core::load::NoIncludes;
use proptest::prelude::*;

fn codes(plan: &str) -> Vec<String> {
    let compiled = jigless_core::compile("plan.yaml", plan.as_bytes(), &NoIncludes);
    let codes = compiled.findings.iter();
    codes.map(|finding| finding.code.to_string()).collect()
}

/// A panel that stands on the face of a side, or whose end meets the edge of one.
fn joined(
    own: f64,
    other: f64,
    with: &str,
    units: &str,
    shoulder: &str,
    into_edge: bool,
) -> String {
    let scale = if units == "in" { 25.4 } else { 1.0 };
    let mm = |length: f64| length / scale;
    let (width, at) = if into_edge {
        // The end of a rail on the edge of a stile, flush with its face.
        (60.0, format!("[{}, {}, 0]", mm(60.0), mm(100.0)))
    } else {
        (300.0, format!("[{}, {}, 0]", mm(other), mm(100.0)))
    };
    let side = if into_edge {
        format!(
            "{{stock: other, width: {}, height: {}, place: {{at: [0, 0, 0]}}}}",
            mm(width),
            mm(500.0)
        )
    } else {
        format!(
            "{{stock: other, width: {}, height: {}, place: {{at: [0, 0, 0], width: back, height: up}}}}",
            mm(width),
            mm(500.0)
        )
    };
    let (height, lies) = if into_edge {
        (80.0, "")
    } else {
        (300.0, ", height: back")
    };
    format!(
        "jigless: 1\ntitle: Two\nunits: {units}\nstock:\n  own: {{thickness: {}, kind: plywood}}\n  other: {{thickness: {}, kind: plywood}}\nparts:\n  side: {side}\n  rail: {{stock: own, width: {}, height: {}, place: {{at: {at}{lies}}}}}\njoints:\n  - butt: {{part: rail, to: side, with: {with}{shoulder}}}\n",
        mm(own),
        mm(other),
        mm(400.0),
        mm(height),
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    /// Every screw and pocket screw that a butt joint chooses, from 9 to 38 mm and in both units, gives no finding, or
    /// there is none that could be chosen, which is the only finding.
    #[test]
    fn a_joint_chooses_what_passes_or_says_that_nothing_does(
        own in 9.0..38.0_f64,
        other in 9.0..38.0_f64,
        inches in any::<bool>(),
        pockets in any::<bool>(),
        into_edge in any::<bool>(),
        shoulder in prop::option::of(0.8..1.2_f64),
    ) {
        let (own, other) = ((own * 10.0).round() / 10.0, (other * 10.0).round() / 10.0);
        // Parts that meet edge to edge are of one stock, and are held by pockets.
        let into_edge = into_edge && pockets;
        let other = if into_edge { own } else { other };
        let units = if inches { "in" } else { "mm" };
        let with = if pockets { "pocket screws" } else { "screws" };
        let scale = if inches { 25.4 } else { 1.0 };
        let shoulder = shoulder
            .filter(|_| pockets)
            .map_or_else(String::new, |share| format!(", shoulder: {}", own * share / scale));
        let plan = joined(own, other, with, units, &shoulder, into_edge);
        let found = codes(&plan);
        prop_assert!(found.is_empty() || found == ["no-screw"], "{found:?}\n{plan}");
    }
}

/// Usual stocks have a screw: 18 on 18 by both kinds, in both units.
#[test]
fn usual_stocks_have_a_screw() {
    for (thickness, units) in [
        (18.0, "mm"),
        (17.7, "mm"),
        (19.05, "in"),
        (25.0, "mm"),
        (38.0, "mm"),
    ] {
        for with in ["screws", "pocket screws"] {
            let plan = joined(thickness, thickness, with, units, "", false);
            assert_eq!(codes(&plan), [""; 0], "{thickness} {units} {with}");
        }
    }
}

/// The lengths that the plan gives are the only ones.
#[test]
fn lengths_sold_are_those_of_the_plan() {
    let plan = joined(18.0, 18.0, "pocket screws", "mm", "", false);
    let only =
        |lengths: &str| plan.replace("\nstock:", &format!("\nlengths_sold: {lengths}\nstock:"));
    assert_eq!(codes(&only("[25, 60]")), ["no-screw"]);
    assert_eq!(codes(&only("[31.5]")), [""; 0]);
}

/// False fronts of one part have the pilots of one box each, whatever lies behind them: for all counts and fits.
#[test]
fn fronts_have_one_set_of_pilots() {
    for fit in ["overlay", "inset"] {
        for count in 1..=6 {
            for gap in ["1.5", "2", "3.2"] {
                for rooms in [
                    "c-bottom",
                    "c-bottom-1, c-bottom-2",
                    "c-bottom-1, c-bottom-2, c-bottom-3",
                ] {
                    let dividers = rooms.matches(',').count();
                    let dividers = match dividers {
                        0 => String::new(),
                        count => format!(", dividers: [{{name: post, count: {count}}}]"),
                    };
                    let plan = format!(
                        "jigless: 1\ntitle: A bank\nunits: mm\nstock:\n  ply: {{thickness: 17.7, kind: plywood}}\n  side: {{thickness: 11.8, kind: plywood}}\n  thin: {{thickness: 5.9, kind: plywood}}\nbuilds:\n  c:\n    carcass: {{stock: ply, back_stock: thin, width: 1200, height: 1000, depth: 500{dividers}}}\n  d:\n    drawer: {{in: [{rooms}], count: {count}, fit: {fit}, gap: {gap}, stock: side, bottom_stock: thin, front_stock: ply}}\n"
                    );
                    let compiled = jigless_core::compile("plan.yaml", plan.as_bytes(), &NoIncludes);
                    let found: Vec<&str> = compiled
                        .findings
                        .iter()
                        .filter(|f| f.code != "tips-over" && f.code != "runner-rows-assumed")
                        .map(|f| f.message.as_str())
                        .collect();
                    assert!(found.is_empty(), "{fit} {count} {gap} {rooms}: {found:#?}");
                    let (plan, workpieces) = compiled.result.expect("a plan");
                    for front in workpieces
                        .iter()
                        .filter(|w| w.part.id.contains("-front") && !w.part.id.contains("box"))
                    {
                        let pilots = front
                            .operations
                            .iter()
                            .filter(|o| o.origin.key.starts_with("hole"))
                            .count();
                        let screws = plan
                            .joints
                            .iter()
                            .find(|j| j.part == front.part.id || j.to == front.part.id)
                            .expect("a joint");
                        assert_eq!(
                            pilots * screws.meetings.len(),
                            screws.screws.len(),
                            "{}",
                            front.part.id
                        );
                    }
                }
            }
        }
    }
}
