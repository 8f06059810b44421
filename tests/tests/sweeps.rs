//! What programs and drawings leave of their sheets, swept by a script that reads nothing but those files, is the plan's
//! parts: the shipped plans and those for machines, through three routers and two lasers.

use std::path::PathBuf;

use jigless_core::load::NoIncludes;
use jigless_tests::fixtures::{files_of, fixture, machining_plans, workspace};
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

/// Sizes of a plan's parts by its own numbers, the shorter side first, and how many there are of each.
fn parts(plan: &str) -> Vec<([f64; 2], usize)> {
    let text = std::fs::read(fixture(plan).join("plan.yaml")).expect("a plan");
    let compiled = jigless_core::compile("plan.yaml", &text, &NoIncludes);
    let (plan, _) = compiled.result.expect("a sound plan");
    let parts = plan.parts.iter();
    parts
        .map(|part| {
            let (width, height) = (part.width, part.height);
            ([width.min(height), width.max(height)], part.count as usize)
        })
        .collect()
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

/// Each part of a plan is among the pieces that are left, as often as there are such parts; gives how many files there were.
fn sweep(plan: &str, machine: &str, format: &str, ending: &str) -> usize {
    let (_at, files) = made(plan, machine, format, ending);
    if files.is_empty() {
        return 0;
    }
    let seen = read_with("check_sweeps.py", &files);
    assert_eq!(seen.len(), files.len(), "{plan} {machine} {format}");
    let number = |value: &Value| value.as_f64().expect("a number");
    let mut left: Vec<[f64; 2]> = seen
        .iter()
        .flat_map(|file| file["pieces"].as_array().expect("a list"))
        .map(|piece| [number(&piece["size"][0]), number(&piece["size"][1])])
        .collect();
    for (size, count) in parts(plan) {
        for _ in 0..count {
            let same = |other: &[f64; 2]| {
                (other[0] - size[0]).abs() < TOLERANCE && (other[1] - size[1]).abs() < TOLERANCE
            };
            let found = left.iter().position(same);
            let found = found.unwrap_or_else(|| {
                panic!("{plan} by {machine} as {format}: no {size:?} among {left:?}")
            });
            left.swap_remove(found);
        }
    }
    files.len()
}

/// The last three plans, each by one router and one laser in turn; all plans by all machines with `JIGLESS_SWEEPS=all`.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn what_is_left_is_the_plan() {
    let all = std::env::var("JIGLESS_SWEEPS").is_ok_and(|asked| asked == "all");
    let mut counts = std::collections::BTreeMap::new();
    let plans = plans();
    let few = if all { 0 } else { plans.len() - 3 };
    for (index, plan) in plans.iter().enumerate().skip(few) {
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
                    let files = sweep(plan, machine, format, ending);
                    *counts.entry(*format).or_insert(0) += files;
                    println!("{plan} by {machine} as {format}: {files} files");
                }
            }
        }
    }
    println!("{counts:?}");
    for format in ["ngc-router", "dxf-cnc", "dxf-laser"] {
        assert!(counts[format] > 4, "{counts:?}");
    }
}
