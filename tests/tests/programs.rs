//! Programs for a router: proved by simulation when they are made, read by others, and found out where they are spoiled.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use jigless_core::arrange::arrange;
use jigless_core::export::{AnyExporter, ExportInput, Setting, Stamp};
use jigless_core::load::NoIncludes;
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;
use jigless_exporters::inspect::inspect;
use jigless_exporters::{NgcRouter, NgcRouterOptions, prove_for_plan};
use jigless_model::sheets::Arrangement;
use jigless_tests::fixtures::{files_of, fixture, machining_plans, workspace};
use jigless_tests::program::{jigless, run};
use jigless_tests::readers::read_with;
use serde_json::{Value, json};
use tempfile::TempDir;

const ROUTERS: [&str; 3] = ["small-router", "shop-router", "inch-shop-router"];

fn folder() -> TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

/// A machine for tests: three mills, drills for each half millimetre, a countersink.
fn machine(bed: [f64; 2]) -> Vec<Setting> {
    let mut tools = vec![
        json!({"diameter": 3, "pass": 2, "reach": 25, "feed": 1200, "plunge": 300, "speed": 18000}),
        json!({"diameter": 6, "pass": 4, "reach": 30, "feed": 2000, "plunge": 500, "speed": 18000}),
        json!({"kind": "countersink", "diameter": 20, "angle": 90, "pass": 12, "plunge": 400, "speed": 6000}),
    ];
    for halves in 4..=20 {
        let diameter = f64::from(halves) / 2.0;
        tools.push(
            json!({"kind": "drill", "diameter": diameter, "pass": 6, "plunge": 600, "speed": 4000}),
        );
    }
    let setting = |key: &str, value: Value| Setting {
        key: key.to_owned(),
        value,
    };
    vec![
        setting("tools", Value::Array(tools)),
        setting("bed", json!(bed)),
        setting("arrange", json!("bed")),
        setting("register", json!(8)),
    ]
}

/// A plan with its parts on sheets, and the options of its programs.
struct Made {
    plan: Plan,
    workpieces: Vec<Workpiece>,
    sheets: Arrangement,
    options: NgcRouterOptions,
    /// Names without extension, and texts.
    programs: Vec<(String, String)>,
}

impl Made {
    /// Makes the programs of a plan; what stops them, if something does.
    fn of(yaml: &str, settings: &[Setting]) -> Result<Made, String> {
        let compiled = jigless_core::compile("plan.yaml", yaml.as_bytes(), &NoIncludes);
        let (plan, workpieces) = compiled
            .result
            .ok_or_else(|| format!("{:?}\n{yaml}", compiled.findings))?;
        let exporter: &dyn AnyExporter = &NgcRouter;
        let configured = exporter
            .configure(settings)
            .map_err(|_| "options".to_owned())?;
        let options = serde_json::from_value(configured.options()).expect("its own options");
        let sheets = arrange(&workpieces, &configured.arranging().expect("sheets"));
        let stamp = Stamp::new("jigless", None);
        let input = ExportInput::new(&plan, &workpieces, &stamp).on_sheets(&sheets);
        let findings = configured.vet(&input);
        if findings.has_errors() {
            return Err(format!("{findings:?}"));
        }
        let artifacts = configured.export(&input).map_err(|error| error.message)?;
        let programs = artifacts
            .into_iter()
            .filter_map(|artifact| {
                let stem = artifact.path.strip_suffix(".ngc")?.to_owned();
                Some((stem, String::from_utf8(artifact.bytes).expect("a text")))
            })
            .collect();
        Ok(Made {
            plan,
            workpieces,
            sheets,
            options,
            programs,
        })
    }

    /// The faults that the simulation finds in a text that stands for one of the programs: lines and messages.
    fn faults(&self, name: &str, text: &str) -> Vec<(usize, String)> {
        let stamp = Stamp::new("jigless", None);
        let input = ExportInput::new(&self.plan, &self.workpieces, &stamp).on_sheets(&self.sheets);
        let proof =
            prove_for_plan(text, name, &input, &self.options).expect("a program of the plan");
        let faults = proof.faults.into_iter();
        faults
            .map(|fault| (fault.line, fault.to_string()))
            .collect()
    }
}

/// A plan of random parts with holes, areas, openings and notches, by a rule of its own.
fn random_plan(seed: u64) -> String {
    let mut random = fastrand::Rng::with_seed(seed);
    let thickness = [12.0, 15.0, 18.0][random.usize(0..3)];
    let mut plan = format!(
        "jigless: 1\ntitle: Random {seed}\nunits: mm\nstock: {{board: {{thickness: {thickness}, kind: plywood, cut_by: router}}}}\nparts:\n"
    );
    for part in 0..random.usize(2..6) {
        let (width, height) = (random.u32(12..30) * 10, random.u32(10..26) * 10);
        let _ = write!(
            plan,
            "  p{part}:\n    stock: board\n    width: {width}\n    height: {height}\n    count: {}\n    features:\n",
            random.u32(1..4)
        );
        let depth = random.u32(2..9);
        // Cells of the part, each with one piece of work, so that none meets another.
        for (column, x) in (0..width / 60).map(|column| (column, column * 60)) {
            let y = 40 + random.u32(0..height.saturating_sub(90).max(1));
            match random.u32(0..7) {
                0 => {
                    let _ = writeln!(
                        plan,
                        "      - hole: {{at: [{}, {y}], diameter: {}, depth: {depth}}}",
                        x + 30,
                        f64::from(random.u32(4..20)) / 2.0
                    );
                }
                1 => {
                    let _ = writeln!(
                        plan,
                        "      - hole: {{at: [{}, {y}], diameter: {}, depth: through}}",
                        x + 30,
                        f64::from(random.u32(4..20)) / 2.0
                    );
                }
                2 => {
                    let _ = writeln!(
                        plan,
                        "      - recess: {{at: [{}, {}], width: 36, height: 28, corner_radius: {}, depth: {depth}}}",
                        x + 12,
                        y - 14,
                        random.u32(2..9)
                    );
                }
                3 => {
                    let _ = writeln!(
                        plan,
                        "      - cutout: {{centre: [{}, {y}], diameter: {}}}",
                        x + 30,
                        random.u32(16..40)
                    );
                }
                4 if column > 0 => {
                    let _ = writeln!(
                        plan,
                        "      - notch: {{edge: bottom, start: {}, width: {}, depth: 20}}",
                        x + 10,
                        random.u32(13..40)
                    );
                }
                5 => {
                    let _ = writeln!(
                        plan,
                        "      - hole: {{at: [{}, {y}], diameter: 35, depth: {depth}, face: back}}",
                        x + 30
                    );
                }
                _ => {
                    let _ = writeln!(
                        plan,
                        "      - recess: {{centre: [{}, {y}], diameter: {}, depth: {depth}}}",
                        x + 30,
                        random.u32(10..40)
                    );
                }
            }
        }
        if random.bool() {
            let _ = writeln!(
                plan,
                "      - rebate: {{edge: top, width: 8, depth: {depth}, stop: {{start: {}}}, mating: yes}}",
                random.u32(0..30)
            );
        } else {
            let _ = writeln!(
                plan,
                "      - hole: {{at: [20, 20], diameter: 5, depth: through}}"
            );
        }
    }
    plan
}

/// Programs of random sheets agree with the simulation, or the plan itself is refused with a reason. `JIGLESS_SHEETS`
/// asks for another number than 12.
#[test]
fn programs_of_random_sheets_are_proved() {
    let asked = std::env::var("JIGLESS_SHEETS").ok();
    let count: u64 = asked.and_then(|count| count.parse().ok()).unwrap_or(12);
    let (mut sheets, mut refused, mut seed) = (0, 0, 0);
    while sheets < count {
        seed += 1;
        let yaml = random_plan(seed);
        match Made::of(&yaml, &machine([600.0, 900.0])) {
            Ok(made) => sheets += made.programs.len() as u64,
            Err(reason) if reason.contains("simulation") => panic!("{seed}: {reason}\n{yaml}"),
            Err(_) => refused += 1,
        }
        assert!(
            refused < 10 + 3 * seed / 4,
            "{refused} of {seed} plans are refused"
        );
    }
    println!("{sheets} sheets of {seed} plans, {refused} plans refused by checks");
}

/// What is done to a program, and whether a fault that is reported at a line, with its words, names what was done.
struct Spoiled {
    what: &'static str,
    text: String,
    /// The lines of which one must be reported.
    lines: Vec<usize>,
}

/// The number after a letter in a line, and the line with another one in its place.
fn word(line: &str, letter: char) -> Option<f64> {
    let words = line.split_whitespace();
    let mut found = words.filter(|word| word.starts_with(letter));
    found.next()?[1..].parse().ok()
}

fn with_word(line: &str, letter: char, value: f64) -> String {
    let words = line.split_whitespace().map(|word| {
        if word.starts_with(letter) {
            format!("{letter}{value:.4}")
        } else {
            word.to_owned()
        }
    });
    words.collect::<Vec<_>>().join(" ")
}

fn is_code(line: &&str) -> bool {
    !line.starts_with('(')
}

/// Everything that much to the right, in the program's unit.
fn shifted_by(lines: &[&str], by: f64) -> String {
    lines
        .iter()
        .map(|line| match word(line, 'X').filter(|_| is_code(line)) {
            Some(x) => with_word(line, 'X', x + by) + "\n",
            None => format!("{line}\n"),
        })
        .collect()
}

/// The first lift out of wood before a way to a place that is farther off than any tool is wide. One between two passes round
/// the same line does no harm when it lacks, nor does one of a tool that is high already.
fn lift_that_is_needed(lines: &[&str]) -> Option<usize> {
    const BEFORE: usize = 20;
    const FAR: f64 = 30.0;
    let code: Vec<usize> = (0..lines.len()).filter(|i| is_code(&lines[*i])).collect();
    let mut pairs = code.windows(2).enumerate();
    let found = pairs.find(|(at, pair)| {
        let [lift, next] = [lines[pair[0]], lines[pair[1]]];
        let before = |letter: char| {
            let mut earlier = code[..*at].iter().rev().map(|i| lines[*i]);
            earlier.find_map(|line| word(line, letter))
        };
        let moved = ['X', 'Y'].map(|letter| {
            let ends = word(next, letter).zip(before(letter));
            ends.map_or(0.0, |(to, from)| (to - from).abs())
        });
        pair[0] > BEFORE
            && before('Z').is_some_and(|z| z < 0.0)
            && lift.starts_with("G0 Z")
            && next.starts_with(['X', 'Y'])
            && moved[0].max(moved[1]) > FAR
    });
    found.map(|(_, pair)| pair[0])
}

fn spoil(text: &str) -> Vec<Spoiled> {
    let lines: Vec<&str> = text.lines().collect();
    let changed = |index: usize, line: Option<String>| -> String {
        let all = lines
            .iter()
            .enumerate()
            .filter_map(|(own, text)| match &line {
                Some(line) if own == index => Some(line.clone()),
                None if own == index => None,
                _ => Some((*text).to_owned()),
            });
        all.map(|line| line + "\n").collect()
    };
    let find = |wanted: &dyn Fn(usize, &str) -> bool| {
        lines
            .iter()
            .enumerate()
            .filter(|(_, line)| is_code(line))
            .find(|(i, line)| wanted(*i, line))
            .map(|(i, _)| i)
    };
    let mut all = Vec::new();
    // A depth doubled: the first that goes into wood.
    if let Some(i) = find(&|_, line| word(line, 'Z').is_some_and(|z| z < -1.9)) {
        let z = word(lines[i], 'Z').expect("it has one");
        all.push(Spoiled {
            what: "a depth doubled",
            text: changed(i, Some(with_word(lines[i], 'Z', 2.0 * z - 4.0))),
            lines: vec![i + 1, i + 2],
        });
    }
    // An arc turned: one whose next line says its own motion.
    if let Some(i) = find(&|i, line| {
        line.starts_with("G2 ")
            && word(line, 'Z').is_none()
            && lines.get(i + 1).is_some_and(|next| next.starts_with('G'))
    }) {
        all.push(Spoiled {
            what: "an arc turned",
            text: changed(i, Some(lines[i].replace("G2 ", "G3 "))),
            lines: vec![i + 1],
        });
    }
    if let Some(i) = lift_that_is_needed(&lines) {
        let next = (i + 1..lines.len())
            .find(|n| is_code(&lines[*n]))
            .expect("a line after");
        all.push(Spoiled {
            what: "a missing lift",
            text: changed(i, None),
            lines: vec![next],
        });
    }
    all.push(Spoiled {
        what: "a wrong zero",
        text: shifted_by(&lines, 7.0),
        lines: Vec::new(),
    });
    if let Some(i) = find(&|_, line| line.starts_with("G21")) {
        all.push(Spoiled {
            what: "wrong units",
            text: changed(i, Some(lines[i].replace("G21", "G20"))),
            lines: vec![i + 1],
        });
    }
    // A tool swapped: that of the outlines, which is last, for the smallest mill.
    let mut calls = lines.iter().enumerate();
    if let Some((i, line)) = calls.rfind(|(_, line)| line.ends_with("M6")) {
        let other = if line.starts_with("T1 ") {
            "T2 M6"
        } else {
            "T1 M6"
        };
        all.push(Spoiled {
            what: "a tool swapped",
            text: changed(i, Some(other.to_owned())),
            lines: vec![i + 1],
        });
    }
    if let Some(i) = find(&|_, line| word(line, 'F').is_some()) {
        let without: Vec<&str> = lines[i]
            .split_whitespace()
            .filter(|word| !word.starts_with('F'))
            .collect();
        all.push(Spoiled {
            what: "a feed missing",
            text: changed(i, Some(without.join(" "))),
            lines: vec![i + 1],
        });
    }
    all
}

/// Spoiled programs, each refused, and the line that was spoiled is named: by its own number, or as the line in force of
/// the cut that shows it. `JIGLESS_SPOILED` asks for another number than 12: with 63 it takes minutes.
#[test]
fn spoiled_programs_are_found_out() {
    let asked = std::env::var("JIGLESS_SPOILED").ok();
    let wanted: usize = asked.and_then(|count| count.parse().ok()).unwrap_or(12);
    let mut seen = std::collections::BTreeMap::new();
    let mut count: usize = 0;
    let mut missed = Vec::new();
    'all: for seed in 1..200 {
        let Ok(made) = Made::of(&random_plan(seed), &machine([600.0, 900.0])) else {
            continue;
        };
        for (name, text) in &made.programs {
            if name.strip_suffix(".back").is_some() {
                continue;
            }
            assert_eq!(made.faults(name, text), [], "{seed} {name}");
            for spoiled in spoil(text) {
                let faults = made.faults(name, &spoiled.text);
                let named = |line: &usize| {
                    let words = format!("line {line}");
                    faults.iter().any(|(own, message)| {
                        own == line
                            || message
                                .split([':', ',', ')', ' '])
                                .collect::<Vec<_>>()
                                .windows(2)
                                .any(|pair| pair.join(" ") == words)
                    })
                };
                let found = !faults.is_empty()
                    && (spoiled.lines.is_empty() || spoiled.lines.iter().any(named));
                if !found {
                    missed.push(format!(
                        "{seed} {name}: {}, lines {:?}: {faults:?}",
                        spoiled.what, spoiled.lines
                    ));
                }
                *seen.entry(spoiled.what).or_insert(0) += 1;
                count += 1;
                if count >= wanted {
                    break 'all;
                }
            }
        }
    }
    println!("{seen:?}");
    assert!(count >= wanted.min(60), "{count}");
    assert!(
        missed.is_empty(),
        "{} of {count}:\n{}",
        missed.len(),
        missed.join("\n")
    );
}

/// Exports plans with a router; gives the folder.
fn export(
    at: &Path,
    router: &str,
    plans: &[String],
    to: &str,
    more: &[&str],
) -> (PathBuf, Option<i32>, String) {
    let out = at.join(router);
    let mut command = jigless(&workspace());
    command.args(["export", "--quiet", "--to", to]);
    command.args(plans.iter().map(|plan| fixture(plan)));
    command
        .arg("--profile")
        .arg(fixture(&format!("profiles/{router}.yaml")));
    command.arg("--out").arg(&out).args(more);
    let said = run(&mut command);
    (out, said.code, said.stderr)
}

/// Every program of the six plans through three routers is read by another reader: extents and length of cuts are ours. With
/// `JIGLESS_SWEEPS=all` those of the shipped plans for routers, too.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn another_reader_measures_the_same() {
    let at = folder();
    let mut plans = machining_plans();
    if std::env::var("JIGLESS_SWEEPS").is_ok_and(|asked| asked == "all") {
        plans.extend(["glaze-cabinet", "glazing-trolley"].map(str::to_owned));
    }
    let mut programs = 0;
    for router in ROUTERS {
        let set = ["--set", "ngc-router.arrange=bed"];
        let (out, ..) = export(at.path(), router, &plans, "ngc-router", &set);
        let files: Vec<PathBuf> = files_of(&out, "ngc")
            .into_iter()
            .map(|(name, _)| out.join(name))
            .collect();
        assert!(!files.is_empty(), "{router}");
        let mut arguments = vec![PathBuf::from("measure")];
        arguments.extend(files.iter().cloned());
        let profile = fixture(&format!("profiles/{router}.yaml"));
        for (file, seen) in files.iter().zip(read_with("check_ngc.py", &arguments)) {
            let said = run(jigless(at.path())
                .args(["simulate", "--sheet", "3000,3000,18", "--profile"])
                .arg(&profile)
                .arg(file))
            .stdout;
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-6 * a.abs().max(100.0);
            let line = said.lines().next().expect("a line");
            let length: f64 = line
                .trim_end_matches(" mm of cuts")
                .rsplit(' ')
                .next()
                .and_then(|n| n.parse().ok())
                .expect("a length");
            assert!(
                near(length, number(&seen["length"])),
                "{}: {length} {seen}",
                file.display()
            );
            let cuts = said
                .lines()
                .find(|line| line.contains("cuts from"))
                .expect("extents");
            let numbers: Vec<f64> = cuts
                .split([' ', ','])
                .filter_map(|word| word.parse().ok())
                .collect();
            let theirs = [&seen["low"], &seen["high"]]
                .map(|of| of.as_array().expect("a list").clone())
                .concat();
            for (ours, theirs) in numbers.iter().zip(&theirs) {
                assert!(
                    near(*ours, number(theirs)),
                    "{}: {cuts} {seen}",
                    file.display()
                );
            }
            programs += 1;
        }
    }
    println!("{programs} programs");
    assert!(programs >= 18, "{programs}");
}

/// A plan, its thickest reading, widths, heights and counts of its parts, and depths of what is milled, in millimetres.
type Wanted<'a> = (&'a str, f64, &'a [(f64, f64, usize)], &'a [f64]);

/// Pieces that shapely leaves of the sheets of a plan are its parts: their boxes by the plan's own numbers, and none of
/// them touched.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn what_is_left_of_the_sheets_are_the_parts() {
    let at = folder();
    // Widths, heights and counts as the plans write them, and depths of what is milled.
    let wanted: [Wanted; 4] = [
        (
            "machining/lapped-frame",
            11.8,
            &[(480.0, 80.0, 2), (260.0, 80.0, 3)],
            &[],
        ),
        (
            "machining/tile-tags",
            6.0,
            &[(90.0, 50.0, 40), (120.0, 70.0, 20)],
            &[2.0],
        ),
        ("machining/vented-door", 16.1, &[(360.0, 340.0, 1)], &[5.0]),
        (
            "machining/two-faced-shelf",
            17.8,
            &[(420.0, 300.0, 2)],
            &[3.0, 6.0, 8.0],
        ),
    ];
    for (plan, thickness, parts, floors) in wanted {
        let set = ["--set", "ngc-router.arrange=bed"];
        let (out, code, said) = export(
            at.path(),
            "shop-router",
            &[plan.to_owned()],
            "ngc-router",
            &set,
        );
        assert_eq!(code, Some(0), "{said}");
        let name = plan.rsplit('/').next().expect("a name");
        let mut left: Vec<(f64, f64)> = Vec::new();
        let mut seen_floors: Vec<f64> = Vec::new();
        for (file, _) in files_of(&out, "ngc") {
            if !file.starts_with(name) || file.ends_with(".back.ngc") {
                continue;
            }
            let arguments = [
                "pieces",
                text(&out.join(&file)),
                "1220",
                "2440",
                &thickness.to_string(),
            ]
            .map(PathBuf::from);
            let seen = read_with("check_ngc.py", &arguments).remove(0);
            for piece in seen["pieces"].as_array().expect("a list") {
                let size = [&piece["box"][0], &piece["box"][1]].map(number);
                // The sheet's own rest is larger than any part, slugs of openings and slivers between tools are smaller.
                if size[0] < 1000.0
                    && number(&piece["area"])
                        > 0.5
                            * parts
                                .iter()
                                .map(|p| p.0 * p.1)
                                .fold(f64::INFINITY, f64::min)
                {
                    left.push((size[0].max(size[1]), size[0].min(size[1])));
                }
            }
            seen_floors.extend(
                seen["floors"]
                    .as_array()
                    .expect("a list")
                    .iter()
                    .map(number),
            );
        }
        for (width, height, count) in parts {
            let own = left
                .iter()
                .filter(|(w, h)| (w - width).abs() < 0.02 && (h - height).abs() < 0.02)
                .count();
            assert_eq!(own, *count, "{plan}: {width} by {height} among {left:?}");
        }
        for floor in floors {
            assert!(
                seen_floors.iter().any(|seen| (seen - floor).abs() < 1e-3),
                "{plan}: {floor} among {seen_floors:?}"
            );
        }
    }
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

/// Pins of the front stand where the holes of the back were made: within 0.001 mm, on sheets and single parts.
#[test]
fn front_and_back_are_in_register() {
    let at = folder();
    let plan = ["machining/two-faced-shelf".to_owned()];
    for (name, more) in [("no", "dxf-cnc.arrange=no"), ("bed", "dxf-cnc.arrange=bed")] {
        let out = at.path().join(name);
        let (out, code, said) = export(&out, "shop-router", &plan, "dxf-cnc", &["--set", more]);
        assert_eq!(code, Some(0), "{said}");
        let files = files_of(&out, "dxf");
        let circles = |back: bool, layer: &str| -> Vec<(f64, f64)> {
            let (_, bytes) = files
                .iter()
                .find(|(name, _)| name.ends_with(".back.dxf") == back)
                .expect("a file");
            let seen = inspect(bytes, None).expect("a drawing");
            let on = seen.entities.iter().filter(|entity| entity.layer == layer);
            on.map(|entity| entity.path.bounds().expect("a circle").centre())
                .map(|p| (p.x, p.y))
                .collect()
        };
        let (holes, pins) = (circles(true, "REGISTER"), circles(false, "PINS"));
        assert_eq!((holes.len(), pins.len()), (3, 3), "{name}");
        for pin in &pins {
            let near = |hole: &(f64, f64)| {
                (hole.0 - pin.0).abs() < 0.001 && (hole.1 - pin.1).abs() < 0.001
            };
            assert!(holes.iter().any(near), "{name}: {holes:?} {pins:?}");
        }
        // Cups of the back lie where the front sees them from behind: mirrored in the whole file.
        assert!(circles(false, "REGISTER").is_empty() && circles(true, "CUT_OUTSIDE").is_empty());
        assert_eq!(
            circles(true, "DRILL_D35_12-5").len(),
            if name == "no" { 2 } else { 4 }
        );
    }
}
