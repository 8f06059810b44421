//! What machines make of the files: cuts, sweeps and sheets measured by ezdxf and shapely, and faults that others made and
//! `jigless inspect` must find.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use jigless_tests::fixtures::{files_of, fixture, sound_plans, workspace};
use jigless_tests::program::{export_all, jigless, run};
use jigless_tests::readers::{read_halves, read_with};
use serde_json::Value;
use tempfile::TempDir;

fn folder() -> TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

/// Exports a plan that is written here, and gives the folder with the files of one format.
fn export(at: &Path, plan: &str, name: &str, profile: &str, format: &str) -> PathBuf {
    let source = at.join(name);
    std::fs::create_dir_all(&source).expect("a folder");
    std::fs::write(source.join("plan.yaml"), plan).expect("a plan");
    let profile_file = at.join(format!("{name}.profile.yaml"));
    std::fs::write(&profile_file, profile).expect("a profile");
    let out = at.join(format!("{name}-out"));
    let mut command = jigless(at);
    command
        .args(["export", "--quiet", "--to", format])
        .arg(&source);
    command
        .arg("--profile")
        .arg(&profile_file)
        .arg("--out")
        .arg(&out);
    run(&mut command).done();
    out.join(name).join(format)
}

/// What `check_machine.py` measures.
fn measure(arguments: &[&str]) -> Value {
    let arguments: Vec<PathBuf> = arguments.iter().map(PathBuf::from).collect();
    let mut seen = read_with("check_machine.py", &arguments);
    assert_eq!(seen.len(), 1, "{arguments:?}");
    seen.remove(0)
}

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

fn list(value: &Value) -> &Vec<Value> {
    value
        .as_array()
        .unwrap_or_else(|| panic!("{value} is no list"))
}

const NO_KERF: &str = "machine: {part_ids: none}\n";
const KERF: &str = "machine: {kerf: 0.15, part_ids: none}\n";

/// Steiner's formula: the parallel of a convex outline holds A + P d + pi d^2 and is P + 2 pi d long; the fixture is the
/// triangle with sides 3, 4 and 5 of NIST IR 6556 (2000), Tables 12 and 13, which are its parallels at 1.0 and 1.5:
/// 18 + pi and 12 + 2 pi; 24 + 2.25 pi and 12 + 3 pi.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn kerf_of_the_published_triangle() {
    let plan = "
jigless: 1
title: Triangle
units: mm
stock: {ply: {thickness: 3, kind: plywood}}
parts:
  triangle: {stock: ply, width: 4, height: 3, features: [{outline: {points: [[4, 3], [0, 0], [4, 0]]}}]}
";
    let at = folder();
    for (kerf, area, length) in [
        (2.0, 21.141_592_653_59, 18.283_185_307_18),
        (3.0, 31.068_583_470_58, 21.424_777_960_77),
    ] {
        let profile = format!("machine: {{kerf: {kerf}}}\n");
        let name = format!("k{kerf}");
        let nominal = export(at.path(), plan, "nominal", NO_KERF, "dxf-laser");
        let drawn = export(at.path(), plan, &name, &profile, "dxf-laser");
        let file = |folder: &Path| folder.join("triangle.dxf");
        let kerf = kerf.to_string();
        let seen = measure(&["offsets", text(&file(&nominal)), text(&file(&drawn)), &kerf]);
        let cut = &seen["cuts"][0];
        assert!((number(&cut["area"]) - area).abs() < 1e-6, "{cut}");
        assert!((number(&cut["length"]) - length).abs() < 1e-6, "{cut}");
    }
}

/// Every cut of the fixtures grows or shrinks as shapely's buffer of the nominal cut does, within what its straight pieces
/// leave out: less than the length of the cut times the chord error of 1e-4 mm, and the rounding of 1,024 pieces to a
/// circle.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn kerf_of_every_fixture_by_shapely() {
    let at = folder();
    let plans = [
        "thread-organiser",
        "features/letters",
        "features/outline",
        "features/notch",
        "features/cutout",
    ];
    let (nominal, drawn) = (at.path().join("nominal"), at.path().join("drawn"));
    let profile = at.path().join("kerf.yaml");
    std::fs::write(&profile, KERF).expect("a profile");
    export_all(
        &plans,
        &nominal,
        &[
            "--quiet",
            "--to",
            "dxf-laser",
            "--set",
            "dxf-laser.part_ids=none",
        ],
    );
    export_all(
        &plans,
        &drawn,
        &["--quiet", "--to", "dxf-laser", "--profile", text(&profile)],
    );
    let mut cuts = 0;
    for (name, _) in files_of(&drawn, "dxf") {
        if name.ends_with(".back.dxf") {
            continue;
        }
        let (nominal, drawn) = (nominal.join(&name), drawn.join(&name));
        let seen = measure(&["offsets", text(&nominal), text(&drawn), "0.15"]);
        for cut in list(&seen["cuts"]) {
            cuts += 1;
            let length = number(&cut["length"]);
            let area = (number(&cut["area"]) - number(&cut["buffer_area"])).abs();
            assert!(area < 2e-4 * length + 1e-3, "{name}: {cut}");
            let difference = (length - number(&cut["buffer_length"])).abs();
            assert!(difference < 1e-3 * length.max(1.0), "{name}: {cut}");
        }
    }
    assert!(cuts > 50, "{cuts}");
}

/// The tray of the thread organiser, cut with a kerf of 0.15 in simulation. By its plan: 12 by 6 in outside, slots of 0.118
/// (thickest reading) + 0.004, half of 2 in deep, walls and dividers 0.117 (mean).
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn the_tray_of_the_thread_organiser_fits_together() {
    const INCH: f64 = 25.4;
    const NEAR: f64 = 0.001;
    let at = folder();
    let profile = at.path().join("kerf.yaml");
    std::fs::write(&profile, KERF).expect("a profile");
    let to = ["--quiet", "--to", "dxf-laser", "--profile", text(&profile)];
    export_all(&["thread-organiser"], at.path(), &to);
    let parts = at.path().join("thread-organiser/dxf-laser");
    let cut = |part: &str| measure(&["cut", text(&parts.join(format!("tray-{part}.dxf"))), "0.15"]);
    let front = cut("front-back");
    let (side, rows, columns) = (cut("sides"), cut("divider-rows"), cut("divider-columns"));
    let size = |part: &Value| (number(&part["box"][0]), number(&part["box"][1]));
    let is = |a: f64, b: f64, what: &str| assert!((a - b).abs() < NEAR, "{what}: {a} is not {b}");
    // Outer size: front and back run through, the sides' fingers reach to their outer faces.
    for (part, width, what) in [
        (&front, 12.0, "front"),
        (&side, 6.0, "side"),
        (&rows, 12.0, "rows"),
        (&columns, 6.0, "columns"),
    ] {
        is(size(part).0, width * INCH, what);
        is(size(part).1, 2.0 * INCH, what);
    }
    // Slots 4 mm below the edge; finger cuts and the ends of dividers are wider than any slot.
    let slots = |part: &Value, edge: &str| -> Vec<(f64, f64, f64)> {
        let width = number(&part["box"][0]);
        list(&part[edge])
            .iter()
            .filter(|gap| number(&gap["width"]) < 5.0)
            .filter(|gap| number(&gap["start"]) > NEAR && number(&gap["end"]) < width - NEAR)
            .map(|gap| {
                (
                    number(&gap["width"]),
                    number(&gap["middle"]),
                    number(&gap["depth"]),
                )
            })
            .collect()
    };
    let walls_of_columns = slots(&front, "top");
    let walls_of_rows = slots(&side, "top");
    let (upper, lower) = (slots(&rows, "top"), slots(&columns, "bottom"));
    assert_eq!((walls_of_columns.len(), walls_of_rows.len()), (3, 2));
    assert_eq!((upper.len(), lower.len()), (3, 2));
    for (width, _, depth) in walls_of_columns
        .iter()
        .chain(&walls_of_rows)
        .chain(&upper)
        .chain(&lower)
    {
        is(*width, 0.122 * INCH, "slot");
        assert!(*width > 0.118 * INCH, "the thickest divider goes in");
        is(*depth, 1.0 * INCH, "depth of a slot");
    }
    // Opposite half-laps meet: together they are as deep as the dividers are high.
    is(upper[0].2 + lower[0].2, 2.0 * INCH, "laps");
    // Dividers stand straight: what they have in their walls and in one another is in line. All begin at an outer face.
    let clear = |outer: f64, bays: f64| (outer - (bays + 1.0) * 0.117) / bays;
    for (n, ((_, wall, _), (_, crossing, _))) in walls_of_columns.iter().zip(&upper).enumerate() {
        is(*wall, *crossing, "column");
        let pitch = clear(12.0, 4.0) + 0.117;
        is(
            *wall,
            ((n + 1) as f64 * pitch + 0.117 / 2.0) * INCH,
            "column",
        );
    }
    for (n, ((_, wall, _), (_, crossing, _))) in walls_of_rows.iter().zip(&lower).enumerate() {
        is(*wall, *crossing, "row");
        let pitch = clear(6.0, 3.0) + 0.117;
        is(*wall, ((n + 1) as f64 * pitch + 0.117 / 2.0) * INCH, "row");
    }
    // The ends of a divider hang in the walls with their upper half: below, they are a slot shorter on each side.
    let ends: Vec<&Value> = list(&rows["bottom"]).iter().collect();
    assert_eq!(ends.len(), 2);
    for end in ends {
        is(number(&end["width"]), 0.122 * INCH, "end of a divider");
    }
}

/// A tray follows the thickness that was measured, and says so.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn a_tray_reflows() {
    let plan = |thickness: &str| {
        format!(
            "
jigless: 1
title: Tray
units: mm
stock: {{ply: {{nominal: 3, thickness: {thickness}, kind: plywood}}}}
builds:
  tray: {{divider_tray: {{stock: ply, width: 200, depth: 120, height: 40, columns: 3, corner: butt}}}}
"
        )
    };
    let at = folder();
    let mut widths = Vec::new();
    for (name, thickness) in [("sold", "3"), ("thin", "[2.8, 2.9]")] {
        let folder = at.path().join(name);
        std::fs::create_dir(&folder).expect("a folder");
        std::fs::write(folder.join("plan.yaml"), plan(thickness)).expect("a plan");
        let checked = run(jigless(at.path()).args(["check", name])).done();
        assert!(!checked.stderr.contains("note"), "{}", checked.stderr);
        let said = run(jigless(at.path()).args(["expand", name])).done().stdout;
        for words in [
            "# tray: the stock measures 2.85 mm (thickest 2.9 mm) and is sold as 3 mm, so the tray has",
            "# tray:   slots 3 mm instead of 3.1 mm",
            "# tray:   sides width 114.3 mm instead of 114 mm",
        ] {
            let reported = said.lines().any(|line| line == words);
            assert_eq!(reported, name == "thin", "{said}");
        }
        let files = export(at.path(), &plan(thickness), name, KERF, "dxf-laser");
        let sides = files.join("tray-sides.dxf");
        let seen = measure(&["cut", text(&sides), "0.15"]);
        widths.push(number(&seen["box"][0]));
    }
    // 120 less two thicknesses.
    for (width, expected) in widths.iter().zip([114.0, 114.3]) {
        assert!((width - expected).abs() < 0.001, "{width}");
    }
}

const ROUTED: &str = "
jigless: 1
title: Routed
units: mm
stock: {ply: {thickness: 18, kind: plywood}}
parts:
  panel:
    stock: ply
    width: 300
    height: 200
    features:
      - rebate: {edge: [left, top], width: 9, depth: 6}
      - groove: {along: width, from: {bottom: 40}, width: 8, depth: 5}
  lapped:
    stock: ply
    width: 300
    height: 120
    features:
      - notch: {edge: top, start: 60, width: 30, depth: 60}
      - notch: {edge: top, start: 200, width: 30, depth: 60}
";

const TOOL: &str = "machine: {tools: [{diameter: 6.35, pass: 6}], part_ids: none}\n";

/// No sliver is left of a rebate or groove that is open at an edge; and one is where the tool stays inside it.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn open_edges_are_swept_clean() {
    let at = folder();
    let files = export(
        at.path(),
        ROUTED,
        "routed",
        &TOOL.replace(", part_ids: none", ""),
        "dxf-cnc",
    );
    let panel = files.join("panel.dxf");
    for layer in ["REBATE_6", "GROOVE_5"] {
        let seen = measure(&["sweep", text(&panel), "6.35", layer]);
        // NOTES holds the nominal borders of both; each is missed wholly by the other's layer.
        let missed: Vec<f64> = list(&seen["missed"]).iter().map(number).collect();
        let clean = missed.iter().filter(|area| **area < 1e-3).count();
        assert_eq!(
            clean,
            if layer == "GROOVE_5" { 1 } else { 2 },
            "{layer}: {missed:?}"
        );
        let stopped = list(&seen["missed_without_run_out"]);
        // Four corners of r^2 (1 - pi/4) each (elementary): 8.65 for r = 3.175.
        assert!(
            stopped.iter().all(|area| (number(area) - 8.65).abs() < 0.1),
            "{stopped:?}"
        );
    }
}

/// A dog-bone for a tool of 1/4 in clears the corner and takes no more than half its circle less the triangle of the
/// corner, r^2 (pi/2 - 1) = 5.7541; a T-bone half its circle, r^2 pi/2 = 15.8345 (derived, elementary). Without relief
/// the tool stays r (sqrt 2 - 1) = 1.3151 from the corner.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn relief_clears_the_corner_and_takes_no_more() {
    let at = folder();
    let nominal = export(at.path(), ROUTED, "nominal", "machine: {}\n", "dxf-cnc");
    for (style, area) in [("dog-bone", 5.754_1), ("t-bone", 15.834_5)] {
        let profile =
            format!("machine: {{tools: [{{diameter: 6.35, pass: 6}}], relief: {style}}}\n");
        let relieved = export(at.path(), ROUTED, style, &profile, "dxf-cnc");
        let file = |folder: &Path| folder.join("lapped.dxf");
        let seen = measure(&[
            "relief",
            text(&file(&nominal)),
            text(&file(&relieved)),
            "6.35",
        ]);
        let corners = list(&seen["corners"]);
        assert_eq!(corners.len(), 4, "{seen}");
        for corner in corners {
            assert!(number(&corner["distance"]) < 2e-3, "{style}: {corner}");
            assert!(
                (number(&corner["distance_unrelieved"]) - 1.315_1).abs() < 1e-3,
                "{corner}"
            );
        }
        // Each dog-bone takes a piece of either wall, which meet in the corner only.
        let taken: f64 = list(&seen["taken"]).iter().map(number).sum();
        assert!((taken - 4.0 * area).abs() < 0.02, "{style}: {taken}");
    }
}

#[test]
fn a_tool_that_fits_nowhere_stops_the_plan() {
    let at = folder();
    std::fs::write(
        at.path().join("plan.yaml"),
        ROUTED.replace("width: 8, depth: 5", "width: 5, depth: 5"),
    )
    .expect("a plan");
    std::fs::write(
        at.path().join("p.yaml"),
        TOOL.replace(", part_ids: none", ""),
    )
    .expect("a profile");
    let said = run(jigless(at.path()).args([
        "export",
        "plan.yaml",
        "--to",
        "dxf-cnc",
        "--profile",
        "p.yaml",
    ]));
    assert_eq!(said.code, Some(1));
    assert!(
        said.stderr.contains("no-tool-fits") && said.stderr.contains("groove G1"),
        "{}",
        said.stderr
    );
}

/// 1,000 parts, a third of them no rectangles, from a fixed rule: no two overlap, all are in bounds and apart as asked.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn a_thousand_parts_on_sheets() {
    let mut plan = "
jigless: 1
title: A thousand
units: mm
stock: {ply: {thickness: 6, kind: plywood, sheets: [{width: 1220, height: 2440, count: 60}]}}
parts:
"
    .to_owned();
    for n in 0..1000_u32 {
        let (width, height) = (60 + n * 37 % 240, 50 + n * 53 % 190);
        let grain = ["width", "height", "none"][(n % 3) as usize];
        let _ = write!(
            plan,
            "  p{n}: {{stock: ply, width: {width}, height: {height}, grain: {grain}"
        );
        if n % 3 == 0 {
            let outline = if n % 2 == 0 {
                "[[0, 0], [width, 0], [0, height]]"
            } else {
                "[[0, 0], [width, 0], [width, height/3], [width/3, height/3], [width/3, height], [0, height]]"
            };
            let _ = write!(plan, ", features: [{{outline: {{points: {outline}}}}}]");
        }
        plan.push_str("}\n");
    }
    let at = folder();
    std::fs::write(at.path().join("plan.yaml"), &plan).expect("a plan");
    let said = run(jigless(at.path()).args([
        "export",
        "plan.yaml",
        "--quiet",
        "--to",
        "dxf-laser",
        "--out",
        "out",
        "--set",
        "dxf-laser.arrange=stock",
        "--set",
        "dxf-laser.spacing=3",
        "--set",
        "dxf-laser.part_ids=none",
    ]))
    .done();
    // Parsing, drawing and writing included. The limit is for a release build; without optimisation it takes 20 to 40 times as long.
    let limit = if cfg!(debug_assertions) { 240 } else { 10 };
    assert!(said.took.as_secs() < limit, "{:?}", said.took);
    let files = files_of(&at.path().join("out"), "dxf");
    let mut count = 0;
    for (name, _) in &files {
        let file = at.path().join("out").join(name);
        let seen = measure(&["sheet", text(&file), "1220", "2440", "3"]);
        count += seen["count"].as_u64().expect("a count");
        assert_eq!(seen["overlaps"], 0, "{name}");
        assert_eq!(seen["in_bounds"], true, "{name}");
        assert!(
            seen["least_distance"].is_null() || number(&seen["least_distance"]) > 3.0 - 1e-6,
            "{name}: {seen}"
        );
    }
    assert_eq!(count, 1000);
    let list = files_of(&at.path().join("out"), "txt").remove(0).1;
    let list = String::from_utf8(list).expect("a text");
    let total = list.lines().last().expect("a line");
    println!("{total}, {} sheets, {:?}", files.len(), said.took);
    let waste: f64 = total
        .trim_end_matches(" %")
        .rsplit(' ')
        .next()
        .and_then(|n| n.parse().ok())
        .expect("a share");
    assert!(waste < 25.0, "{total}");
}

#[test]
fn shared_edges_are_cut_once() {
    let plan = "
jigless: 1
title: Squares
units: mm
stock: {ply: {thickness: 3, kind: plywood, sheets: [{width: 100, height: 100}]}}
parts:
  square: {stock: ply, width: 40, height: 40, count: 4}
";
    let at = folder();
    let profile = "machine: {kerf: 0.2, arrange: stock, shared_edges: true, part_ids: none}\n";
    let files = export(at.path(), plan, "shared", profile, "dxf-laser");
    let sheet = files.join("sheet-ply-1.dxf");
    let said = run(jigless(at.path()).arg("inspect").arg(&sheet)).done();
    // Four squares have 16 sides; four of them are shared, and the corners' arcs remain.
    assert!(said.stdout.contains("CUT_OPEN"), "{}", said.stdout);
    let text = std::fs::read_to_string(&sheet).expect("a text");
    assert!(text.contains("Shared edges cut once: 160 mm"), "{text}");
}

/// DXF and SVG files of formats of machines of every sound plan, by default and with the profiles, in both versions.
static OURS: LazyLock<(TempDir, BTreeMap<&str, Vec<PathBuf>>)> = LazyLock::new(|| {
    let at = folder();
    let mut made = BTreeMap::new();
    let plans = sound_plans();
    let plans: Vec<&str> = plans.iter().map(String::as_str).collect();
    let laser = fixture("profiles/small-laser.yaml");
    let router = fixture("profiles/shop-router.yaml");
    let to = "--to";
    let all: [(&str, Vec<&str>); 4] = [
        ("plain", vec![to, "dxf-cnc,dxf-laser,svg-laser"]),
        (
            "laser",
            vec![
                to,
                "dxf-laser,svg-laser",
                "--profile",
                text(&laser),
                "--set",
                "dxf-laser.version=r12",
            ],
        ),
        ("router", vec![to, "dxf-cnc", "--profile", text(&router)]),
        (
            "sheets",
            vec![
                to,
                "dxf-cnc",
                "--profile",
                text(&router),
                "--set",
                "dxf-cnc.arrange=bed",
                "--set",
                "dxf-cnc.version=r12",
            ],
        ),
    ];
    for (name, more) in all {
        let out = at.path().join(name);
        // A plan that a tool of the profile does not fit is another test's.
        let mut command = jigless(&workspace());
        command
            .args(["export", "--quiet"])
            .args(plans.iter().map(|plan| fixture(plan)));
        command.arg("--out").arg(&out).args(&more);
        let said = run(&mut command);
        if name == "plain" {
            assert_eq!(said.code, Some(0), "{}", said.stderr);
        }
        let mut files: Vec<PathBuf> = Vec::new();
        for extension in ["dxf", "svg"] {
            let found = files_of(&out, extension)
                .into_iter()
                .map(|(name, _)| out.join(name));
            files.extend(found.filter(|file| !file.ends_with("sheet-map.svg")));
        }
        assert!(files.len() > 20, "{name}: {}", files.len());
        made.insert(name, files);
    }
    (at, made)
});

#[test]
fn nothing_of_ours_has_a_fault() {
    let (at, made) = &*OURS;
    for (name, files) in made {
        let said = run(jigless(at.path()).arg("inspect").args(files));
        assert_eq!(said.code, Some(0), "{name}: {}", said.stdout);
        assert_eq!(said.stdout.matches("no faults").count(), files.len());
    }
}

#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn strict_readers_find_no_fault_of_ours() {
    for files in OURS.1.values() {
        let mut drawings = files.clone();
        drawings.retain(|file| file.extension().is_some_and(|extension| extension == "dxf"));
        for seen in read_halves("check_dxf.py", &drawings) {
            assert_eq!(seen["strict_ok"], true, "{seen}");
            let faults = [&seen["audit_errors"], &seen["audit_fixes"]];
            for faults in faults {
                assert!(list(faults).is_empty(), "{}: {faults}", seen["file"]);
            }
            let count = list(&seen["entities"]).len();
            assert_eq!(seen["ogr_count"], count, "{}", seen["file"]);
        }
    }
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn faults_that_others_made_are_found() {
    let at = folder();
    let made = read_with("make_faulty.py", &[at.path().to_owned()]);
    assert!(made.len() > 20, "{} files", made.len());
    for file in made {
        let name = file["file"].as_str().expect("a name");
        let said = run(jigless(at.path()).args(["inspect", name]));
        match file["code"].as_str() {
            None => assert_eq!(said.code, Some(0), "{name}: {}", said.stdout),
            Some(code) => {
                assert_eq!(said.code, Some(1), "{name}: {}", said.stdout);
                let reported = said
                    .stdout
                    .lines()
                    .any(|line| line.trim_start().starts_with(&format!("{code}:")));
                assert!(reported, "{name}: {code} is not among\n{}", said.stdout);
            }
        }
    }
}

/// The SVG holds the lines of the DXF, and nothing that programs for machines read in different ways.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn svg_has_the_lines_of_dxf() {
    let at = folder();
    let profile = fixture("profiles/small-laser.yaml");
    let to = [
        "--quiet",
        "--to",
        "dxf-laser,svg-laser",
        "--profile",
        text(&profile),
        "--set",
        "dxf-laser.units=mm",
    ];
    export_all(&["thread-organiser", "features/letters"], at.path(), &to);
    let mut seen_files = 0;
    for (name, _) in files_of(at.path(), "svg") {
        let drawing = name
            .replace("svg-laser", "dxf-laser")
            .replace(".svg", ".dxf");
        let (svg, dxf) = (at.path().join(&name), at.path().join(drawing));
        let seen = measure(&["svg", text(&svg), text(&dxf)]);
        assert!(number(&seen["worst"]) < 1e-4, "{name}: {seen}");
        assert!(list(&seen["forbidden"]).is_empty(), "{name}: {seen}");
        seen_files += 1;
    }
    assert!(seen_files >= 7, "{seen_files}");
}

/// Coupon, measure, profile, export: the kerf that was reported is the one that is applied.
#[test]
fn a_coupon_teaches_a_profile() {
    let at = folder();
    run(jigless(at.path()).args(["coupon", "--thickness", "3"])).done();
    run(jigless(at.path()).args(["inspect", "coupon/coupon.dxf", "coupon/coupon.svg"])).done();
    let said =
        run(jigless(at.path()).args(["coupon", "--best", "3.10", "--block", "39.82"])).done();
    assert!(
        said.stdout.contains("kerf: 0.18, fit: 0.28"),
        "{}",
        said.stdout
    );
    let profile = std::fs::read_to_string(at.path().join("machine.yaml")).expect("a profile");
    assert_eq!(profile, "machine:\n  fit: 0.28\n  kerf: 0.18\n");
    let to = [
        "--quiet",
        "--to",
        "dxf-laser",
        "--profile",
        text(&at.path().join("machine.yaml")).to_owned().leak(),
    ];
    export_all(&["features/plain"], &at.path().join("out"), &to);
    let files = files_of(&at.path().join("out"), "dxf");
    let text = String::from_utf8_lossy(&files[0].1).into_owned();
    assert!(text.contains("Kerf: 0.18 mm applied"), "{text}");
    let wrong = run(jigless(at.path()).args(["coupon", "--best", "3.10", "--block", "45"]));
    assert_eq!(wrong.code, Some(1));
}
