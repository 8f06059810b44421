//! Machine files cannot spoil a sheet: one zero, distances from the tools, sheets as they lie on the bed, depths and
//! layers that say all, corners that take a part, tabs that stay.

use std::path::{Path, PathBuf};

use jigless_exporters::inspect::{Inspection, inspect};
use jigless_tests::fixtures::{files_of, fixture, machining_plans, workspace};
use jigless_tests::program::{Run, jigless, run};
use tempfile::TempDir;

fn folder() -> TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

/// Exports a plan of the fixtures or one that is written here.
fn export(at: &Path, plan: &Path, more: &[&str]) -> (PathBuf, Run) {
    let out = at.join("out");
    let mut command = jigless(&workspace());
    command
        .arg("export")
        .arg(plan)
        .arg("--out")
        .arg(&out)
        .args(more);
    (out, run(&mut command))
}

fn profile(name: &str) -> String {
    let file = fixture(&format!("profiles/{name}.yaml"));
    file.to_str().expect("a plain path").to_owned()
}

fn written(at: &Path, name: &str, text: &str) -> PathBuf {
    let path = at.join(name);
    std::fs::write(&path, text).expect("a file");
    path
}

/// Drawings by their names without folders.
fn drawings(out: &Path) -> Vec<(String, Inspection)> {
    let files = files_of(out, "dxf").into_iter();
    files
        .map(|(name, bytes)| {
            let name = name.rsplit('/').next().unwrap_or(&name).to_owned();
            (name, inspect(&bytes, None).expect("a drawing"))
        })
        .collect()
}

/// Zero is the corner of the part in the file of each face, though rebates run out over its edges on one of them.
#[test]
fn zero_is_the_corner_whatever_runs_out() {
    let at = folder();
    let router = profile("shop-router");
    let more = ["--quiet", "--to", "dxf-cnc", "--profile", &router];
    let (out, _) = export(at.path(), &fixture("glaze-cabinet"), &more);
    let mut seen = 0;
    for (name, drawing) in drawings(&out) {
        // The outline is cut in one file and a reference in the other.
        let outline = if name.ends_with(".back.dxf") {
            "REFERENCE"
        } else {
            "CUT_OUTSIDE"
        };
        let entities = drawing
            .entities
            .iter()
            .filter(|entity| entity.layer == outline);
        let bounds = entities
            .filter_map(|entity| entity.path.bounds())
            .reduce(jigless_model::geom::Bounds::union);
        let bounds = bounds.unwrap_or_else(|| panic!("{name} has no outline"));
        assert!(
            bounds.min.x.abs() < 1e-6 && bounds.min.y.abs() < 1e-6,
            "{name}: {bounds:?}"
        );
        seen += 1;
    }
    assert!(seen >= 15, "{seen}");
}

#[test]
fn distances_come_from_the_tools() {
    let at = folder();
    let router = profile("shop-router");
    let plan = fixture("machining/lapped-frame");
    let base = [
        "--to",
        "dxf-cnc",
        "--profile",
        &router,
        "--set",
        "dxf-cnc.arrange=bed",
        "--set",
    ];
    for (set, code, number) in [
        // The notches are 12 wide, so the largest tool, 12, follows them: it sweeps 12, and 1 is kept clear.
        ("dxf-cnc.spacing=8", "spacing-too-small", "at least 13"),
        ("dxf-cnc.margin=20", "margin-too-small", "at least 28"),
    ] {
        let more: Vec<&str> = base.iter().copied().chain([set]).collect();
        let (_, said) = export(at.path(), &plan, &more);
        assert_eq!(said.code, Some(1), "{}", said.stderr);
        assert!(
            said.stderr.contains(code) && said.stderr.contains(number),
            "{}",
            said.stderr
        );
    }
    let without = ["--to", "dxf-cnc", "--set", "dxf-cnc.arrange=stock"];
    let (_, said) = export(at.path(), &plan, &without);
    assert_eq!(said.code, Some(1));
    assert!(
        said.stderr.contains("sheets-without-tools"),
        "{}",
        said.stderr
    );
    let (_, said) = export(at.path(), &plan, &["--to", "dxf-cnc"]);
    assert_eq!(said.code, Some(0), "{}", said.stderr);
    assert!(
        said.stderr.contains("router-has-no-tools"),
        "{}",
        said.stderr
    );
}

/// The bed of 1300 by 2500 holds sheets of 24 by 48 in as they are; the bed of 600 by 400 holds a blank of that size.
#[test]
fn a_sheet_is_what_lies_on_the_bed() {
    let at = folder();
    for (router, plan, size) in [
        ("shop-router", "machining/thread-rack", "24 in by 48 in"),
        (
            "small-router",
            "machining/stopped-housings",
            "600 mm by 400 mm",
        ),
        (
            "shop-router",
            "machining/stopped-housings",
            "1220 mm by 2440 mm",
        ),
    ] {
        let router = profile(router);
        let more = [
            "--quiet",
            "--force",
            "--to",
            "dxf-cnc",
            "--profile",
            &router,
            "--set",
            "dxf-cnc.arrange=bed",
        ];
        let (out, said) = export(at.path(), &fixture(plan), &more);
        assert_eq!(said.code, Some(0), "{}", said.stderr);
        let name = plan.rsplit('/').next().expect("a name");
        let list =
            std::fs::read_to_string(out.join(name).join("dxf-cnc/sheets.txt")).expect("a list");
        assert!(list.contains(size), "{list}");
    }
    // A bed too small for a single part is reported, also where nothing is arranged.
    let more = ["--to", "dxf-cnc", "--set", "dxf-cnc.bed=[200, 200]"];
    let (_, said) = export(at.path(), &fixture("machining/stopped-housings"), &more);
    assert!(
        said.code == Some(1) && said.stderr.contains("bed-too-small"),
        "{}",
        said.stderr
    );
}

/// The rebate for the back ends 80 above the floor: its corner takes that of the back.
#[test]
fn the_back_of_the_glaze_cabinet_seats() {
    let at = folder();
    let router = profile("shop-router");
    let plan = fixture("glaze-cabinet");
    for (relief, words) in [
        ("dog-bone", "blind corners relieved as dog-bones"),
        ("none", "square the corner"),
    ] {
        let set = format!("dxf-cnc.relief={relief}");
        let more = [
            "--quiet",
            "--force",
            "--to",
            "dxf-cnc",
            "--profile",
            &router,
            "--set",
            &set,
        ];
        let (out, _) = export(at.path(), &plan, &more);
        let side = out.join("glaze-cabinet/dxf-cnc/side-left.dxf");
        let back = out.join("glaze-cabinet/dxf-cnc/side-left.back.dxf");
        let texts = [side, back].map(|file| std::fs::read_to_string(file).unwrap_or_default());
        assert!(texts.iter().any(|text| text.contains(words)), "{relief}");
        assert_eq!(
            texts.iter().any(|text| text.contains("Q1")),
            relief == "none",
            "{relief}"
        );
    }
}

const DRILLED: &str = "
jigless: 1
title: Drilled
units: mm
stock: {ply: {thickness: [17.6, 17.9], kind: plywood}}
parts:
  panel:
    stock: ply
    width: 200
    height: 100
    features:
      - hole: {at: [40, 50], diameter: 5, depth: 10}
      - hole: {at: [80, 50], diameter: 8, depth: 10}
      - hole: {at: [120, 50], diameter: 5, depth: through, countersink: {diameter: 10}}
";

#[test]
fn each_diameter_and_depth_has_a_layer() {
    let at = folder();
    let plan = written(at.path(), "drilled.yaml", DRILLED);
    let router = profile("shop-router");
    let more = [
        "--quiet",
        "--to",
        "dxf-cnc",
        "--profile",
        &router,
        "--set",
        "dxf-cnc.z=true",
    ];
    let (out, said) = export(at.path(), &plan, &more);
    assert_eq!(said.code, Some(0), "{}", said.stderr);
    let (_, drawing) = drawings(&out).remove(0);
    let height = |layer: &str| {
        let found = drawing.entities.iter().find(|entity| entity.layer == layer);
        found.unwrap_or_else(|| panic!("no {layer}")).z
    };
    for (layer, z) in [
        ("DRILL_D5_10", -10.0),
        ("DRILL_D8_10", -10.0),
        ("COUNTERSINK_90DEG_5", -5.0),
        // The thickest reading and 0.4 of overcut.
        ("DRILL_THROUGH_D5", -18.3),
        ("CUT_OUTSIDE", -18.3),
    ] {
        assert!(
            (height(layer) - z).abs() < 1e-6,
            "{layer}: {}",
            height(layer)
        );
    }
    let merging = written(
        at.path(),
        "merging.yaml",
        "export: {dxf-cnc: {layers: {drill: {name: \"DRILL-{depth}\"}}}}\n",
    );
    let merging = merging.to_str().expect("a plain path");
    let (_, said) = export(at.path(), &plan, &["--to", "dxf-cnc", "--profile", merging]);
    assert!(
        said.code == Some(1) && said.stderr.contains("layers-merged"),
        "{}",
        said.stderr
    );
    let apart = written(
        at.path(),
        "apart.yaml",
        "export: {dxf-cnc: {layers: {drill: {name: \"D{diameter}-{depth}\"}}}}\n",
    );
    let apart = apart.to_str().expect("a plain path");
    let (_, said) = export(
        at.path(),
        &plan,
        &["--force", "--to", "dxf-cnc", "--profile", apart],
    );
    assert_eq!(said.code, Some(0), "{}", said.stderr);
}

/// Tabs of 0.5 stay 0.5 wide after a kerf of 0.2: the gaps are 0.7.
#[test]
fn tabs_keep_their_width() {
    let at = folder();
    let plan = written(
        at.path(),
        "tag.yaml",
        "jigless: 1\ntitle: Tag\nunits: mm\nstock: {ply: {thickness: 3, kind: plywood}}\nparts:\n  tag: {stock: ply, width: 40, height: 8}\n",
    );
    let set =
        ["kerf=0.2", "tab=0.5", "cell=10", "part_ids=none"].map(|set| format!("dxf-laser.{set}"));
    let mut more = vec!["--quiet", "--to", "dxf-laser"];
    more.extend(set.iter().flat_map(|set| ["--set", set.as_str()]));
    let (out, said) = export(at.path(), &plan, &more);
    assert_eq!(said.code, Some(0), "{}", said.stderr);
    let (_, drawing) = drawings(&out).remove(0);
    let left: f64 = drawing
        .entities
        .iter()
        .filter(|e| e.layer == "CUT_OPEN")
        .map(|e| e.path.length())
        .sum();
    assert!(
        (2.0 * (40.0 + 8.0) + 0.2 * std::f64::consts::PI - left - 2.0 * 0.7).abs() < 1e-6,
        "{left}"
    );
    let wide = more
        .iter()
        .map(|set| set.replace("tab=0.5", "tab=15"))
        .collect::<Vec<_>>();
    let wide: Vec<&str> = wide.iter().map(String::as_str).collect();
    let (_, said) = export(at.path(), &plan, &wide);
    assert!(
        said.code == Some(1) && said.stderr.contains("tab-does-not-fit"),
        "{}",
        said.stderr
    );
}

#[test]
fn a_format_that_cannot_work_does_not_stop_the_others() {
    let at = folder();
    let plan = written(at.path(), "drilled.yaml", DRILLED);
    let more = ["--to", "ngc-router,dxf-cnc,cutting-list-csv"];
    let (out, said) = export(at.path(), &plan, &more);
    assert_eq!(said.code, Some(1));
    assert!(said.stderr.contains("ngc-router"), "{}", said.stderr);
    assert_eq!(files_of(&out, "csv").len(), 1);
    assert_eq!(files_of(&out, "dxf").len(), 1);
    assert!(files_of(&out, "ngc").is_empty());
}

/// Every layer of a sheet is worked in one go, so a tool is changed no more often than there are layers; only a part that
/// lies in an opening of another one brings a layer back.
#[test]
fn layers_of_sheets_are_worked_in_one_go() {
    let at = folder();
    let router = profile("shop-router");
    let more = [
        "--quiet",
        "--force",
        "--to",
        "dxf-cnc",
        "--profile",
        &router,
    ];
    let more = [&more[..], &["--set", "dxf-cnc.arrange=bed"]].concat();
    let shipped = ["glaze-cabinet", "glazing-trolley", "thread-organiser"];
    let mut plans: Vec<String> = shipped.map(str::to_owned).to_vec();
    plans.extend(machining_plans());
    let (mut sheets, mut layers, mut runs) = (0, 0, 0);
    for plan in plans {
        let (out, _) = export(at.path(), &fixture(&plan), &more);
        // What this router has no tool for is made by another one.
        if !out.exists() {
            continue;
        }
        for (name, drawing) in drawings(&out) {
            let mut worked: Vec<&str> = drawing
                .entities
                .iter()
                .map(|entity| entity.layer.as_str())
                .filter(|layer| {
                    let idle = ["NOTES", "REFERENCE", "HAND_WORK", "PINS"];
                    !idle.contains(layer)
                })
                .collect();
            worked.dedup();
            let changes = worked.len();
            worked.sort_unstable();
            worked.dedup();
            assert_eq!(changes, worked.len(), "{plan} {name}");
            sheets += 1;
            layers += worked.len();
            runs += changes;
        }
        std::fs::remove_dir_all(&out).expect("removed");
    }
    println!("{sheets} sheets, {layers} layers, {runs} runs of one layer");
    assert!(sheets > 10, "{sheets}");
}
