//! What programs and drawings leave of their sheets, swept by a script that reads nothing but those files, is the plan's
//! parts: the shipped plans and those for machines, through three routers and two lasers.

use std::f64::consts::PI;
use std::path::PathBuf;

use jigless_core::workpiece::Workpiece;
use jigless_model::operation::{ContourSide, Depth, Work};
use jigless_model::side::Face;
use jigless_tests::fixtures::{files_of, fixture, machining_plans, workspace};
use jigless_tests::plans::compiled;
use jigless_tests::program::{jigless, run};
use jigless_tests::readers::read_with;
use serde_json::Value;
use tempfile::TempDir;

const ROUTERS: [&str; 3] = ["small-router", "shop-router", "inch-shop-router"];
const LASERS: [&str; 2] = ["small-laser", "large-laser"];

/// How far a piece may be off the part, in millimetres.
const TOLERANCE: f64 = 0.02;

fn plans() -> Vec<String> {
    let shipped = ["glaze-cabinet", "glazing-trolley", "thread-organiser"];
    let mut plans = shipped.map(str::to_owned).to_vec();
    plans.extend(machining_plans());
    plans
}

/// A part by the plan's own numbers.
struct Wanted {
    /// The lengths of its box, the shorter first.
    size: [f64; 2],
    /// What is left of its face, in square millimetres.
    area: f64,
    /// How far that may be off: along all its edges, and in corners that a round tool leaves or that are relieved for it.
    off: f64,
    count: u32,
}

/// The largest tool of the profiles, in millimetres.
const LARGEST_TOOL: f64 = 12.7;

/// The parts of a plan.
fn parts(plan: &str) -> Vec<Wanted> {
    let (_, workpieces) = compiled(plan);
    workpieces.iter().map(wanted).collect()
}

fn wanted(workpiece: &Workpiece) -> Wanted {
    let part = &workpiece.part;
    let view = workpiece.seen_from(Face::Front);
    let (mut area, mut edges, mut corners) = (0.0, 0.0, 0);
    for cut in &view.contours {
        area += match cut.side {
            ContourSide::Outer => cut.path.area().abs(),
            ContourSide::Inner => -cut.path.area().abs(),
        };
        edges += cut.path.length();
        corners += match cut.side {
            ContourSide::Outer => cut.path.vertices.len().saturating_sub(4),
            ContourSide::Inner => cut.path.vertices.len(),
        };
    }
    // Holes from the back are in the files of the back, which leave no pieces.
    for operation in &view.operations {
        if let Work::Drill(hole) = &operation.work
            && hole.depth == Depth::Through
        {
            area -= PI * hole.diameter * hole.diameter / 4.0;
            edges += PI * hole.diameter;
        }
    }
    // A dog-bone takes r^2 (pi/2 - 1), a T-bone r^2 pi/2 (elementary).
    let corner = LARGEST_TOOL * LARGEST_TOOL / 4.0 * PI / 2.0;
    Wanted {
        size: [part.width.min(part.height), part.width.max(part.height)],
        area,
        off: TOLERANCE * edges + corner * corners as f64,
        count: part.count,
    }
}

/// What a machine makes of a plan on sheets that lie on its bed: files of the ending, none where it cannot make it.
fn made(plan: &str, machine: &str, format: &str, ending: &str) -> (TempDir, Vec<PathBuf>) {
    let at = tempfile::tempdir().expect("a temporary folder");
    let mut command = jigless(&workspace());
    command
        .args(["export", "--quiet", "--to", format])
        .arg(fixture(plan));
    let profile = fixture(&format!("profiles/{machine}.yaml"));
    command
        .arg("--profile")
        .arg(profile)
        .arg("--out")
        .arg(at.path());
    let mut settings = vec!["arrange=bed"];
    if format == "dxf-laser" {
        // Pieces come free: without tabs, and whole without a grid that leaves bridges.
        settings.extend(["tab=0", "cell=0"]);
    }
    for setting in settings {
        command.args(["--set", &format!("{format}.{setting}")]);
    }
    let said = run(&mut command);
    let files = files_of(at.path(), ending).into_iter();
    let files: Vec<PathBuf> = files.map(|(name, _)| at.path().join(name)).collect();
    assert_eq!(said.code == Some(0), !files.is_empty(), "{}", said.stderr);
    (at, files)
}

/// Each part of a plan is among the pieces that are left, as often as there are such parts, and nothing was taken of it;
/// gives how many files there were, and what is not so.
fn sweep(plan: &str, machine: &str, format: &str, ending: &str) -> (usize, Vec<String>) {
    let (_at, files) = made(plan, machine, format, ending);
    if files.is_empty() {
        return (0, Vec::new());
    }
    let seen = read_with("check_sweeps.py", &files);
    assert_eq!(seen.len(), files.len(), "{plan} {machine} {format}");
    let number = |value: &Value| value.as_f64().expect("a number");
    let mut left: Vec<([f64; 2], f64)> = seen
        .iter()
        .flat_map(|file| file["pieces"].as_array().expect("a list"))
        .map(|piece| {
            let size = [number(&piece["size"][0]), number(&piece["size"][1])];
            (size, number(&piece["area"]))
        })
        .collect();
    let mut missed = Vec::new();
    for part in parts(plan) {
        for _ in 0..part.count {
            let same = |(size, area): &([f64; 2], f64)| {
                let near = |n: usize| (size[n] - part.size[n]).abs() < TOLERANCE;
                near(0) && near(1) && (area - part.area).abs() < part.off
            };
            if let Some(found) = left.iter().position(same) {
                left.swap_remove(found);
            } else {
                missed.push(format!(
                    "{plan} by {machine} as {format}: no {:?} of {} (+- {}) among {left:?}",
                    part.size, part.area, part.off
                ));
            }
        }
    }
    (files.len(), missed)
}

/// The last three plans, each by one router and one laser in turn; all plans by all machines with `JIGLESS_SWEEPS=all`,
/// and one of them with its name in place of `all`.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn what_is_left_is_the_plan() {
    let asked = std::env::var("JIGLESS_SWEEPS").ok();
    let all = asked.is_some();
    let mut counts = std::collections::BTreeMap::new();
    let mut missed = Vec::new();
    let plans = plans();
    let few = if all { 0 } else { plans.len() - 3 };
    for (index, plan) in plans.iter().enumerate().skip(few) {
        let is_other = |name: &String| name != "all" && !plan.ends_with(name.as_str());
        if asked.as_ref().is_some_and(is_other) {
            continue;
        }
        for (machines, formats) in [
            (
                &ROUTERS[..],
                &[("ngc-router", "ngc"), ("dxf-cnc", "dxf")][..],
            ),
            (&LASERS[..], &[("dxf-laser", "dxf")][..]),
        ] {
            for (turn, machine) in machines.iter().enumerate() {
                if !all && index % machines.len() != turn {
                    continue;
                }
                for (format, ending) in formats {
                    let (files, wrong) = sweep(plan, machine, format, ending);
                    missed.extend(wrong);
                    *counts.entry(*format).or_insert(0) += files;
                    println!("{plan} by {machine} as {format}: {files} files");
                }
            }
        }
    }
    println!("{counts:?}");
    assert!(missed.is_empty(), "{}", missed.join("\n"));
    if asked.is_some_and(|name| name != "all") {
        return;
    }
    for format in ["ngc-router", "dxf-cnc", "dxf-laser"] {
        assert!(counts[format] > 4, "{counts:?}");
    }
}
