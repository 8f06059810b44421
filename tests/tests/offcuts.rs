//! What is left over of one plan is used by the next, and parts whose grain runs on come from one sheet.

use std::fs;
use std::path::Path;

use jigless_tests::fixtures::fixture;
use jigless_tests::program::{Run, jigless, run};
use serde_json::Value;

const PLAN: &str = "cutting/kiln-shelves";

fn export(to: &Path, more: &[&str]) -> Run {
    let mut command = jigless(to);
    command.arg("export").arg(fixture(PLAN));
    command.args(["--quiet", "--to", "cutting-json"]);
    command.args(["--set", "cutting-json.effort=quick"]);
    command.args(["--set", "cutting-json.shelf=true"]);
    run(command.arg("--out").arg(to).args(more))
}

fn cutting(to: &Path) -> Value {
    let file = to.join("kiln-shelves/cutting-json/cutting.json");
    serde_json::from_slice(&fs::read(file).expect("a file")).expect("JSON")
}

fn shelf(to: &Path) -> String {
    fs::read_to_string(to.join("kiln-shelves/cutting-json/offcuts.yaml")).expect("a shelf")
}

/// How many sheets of an origin there are.
fn sheets_of(data: &Value, origin: &str) -> usize {
    let stocks = data["stocks"].as_array().expect("stocks").iter();
    let sheets = stocks.flat_map(|stock| stock["sheets"].as_array().into_iter().flatten());
    sheets.filter(|sheet| sheet["origin"] == origin).count()
}

#[test]
fn what_is_left_over_is_used_first() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (first, second) = (folder.path().join("first"), folder.path().join("second"));
    fs::create_dir_all(&first).expect("a folder");
    fs::create_dir_all(&second).expect("a folder");
    export(&first, &[]).done();
    let left = shelf(&first);
    assert!(left.contains("of sheet 1"), "{left}");
    assert_eq!(sheets_of(&cutting(&first), "leftover"), 0);
    // Beside it a whole sheet's worth that holds two sides, one of a stock that the plan has not, one too thin.
    let more = "    - {stock: birch18, width: 1010 mm, height: 1900 mm, thickness: 17.7 mm, count: 1, from: \"a test\"}\n\
                \x20   - {stock: birch12, width: 300 mm, height: 400 mm, count: 2}\n    - {stock: birch18, width: 1010 mm, height: 1905 mm, thickness: 12 mm, count: 1}\n";
    let text = format!("{left}{more}");
    let on_shelf = folder.path().join("offcuts.yaml");
    fs::write(&on_shelf, &text).expect("a shelf");
    let name = on_shelf.to_str().expect("a path");
    export(&second, &["--offcuts", name]).done();
    assert!(sheets_of(&cutting(&second), "leftover") > 0);
    assert_eq!(fs::read_to_string(&on_shelf).expect("a shelf"), text);
    let now = shelf(&second);
    assert!(!now.contains("from: \"a test\""), "{now}");
    assert!(
        now.contains("{stock: \"birch12\", width: 300 mm, height: 400 mm, count: 2}"),
        "{now}"
    );
    assert!(now.contains("thickness: 12 mm"), "{now}");
    // The file that was written is no shelf while it lies where it is written anew.
    let written = second.join("kiln-shelves/cutting-json/offcuts.yaml");
    let refused = export(&second, &["--offcuts", written.to_str().expect("a path")]);
    assert_ne!(refused.code, Some(0));
    assert!(
        refused.stderr.contains("could be replaced"),
        "{}",
        refused.stderr
    );
    assert_eq!(shelf(&second), now);
    // What holds no offcuts is refused by name.
    let refused = export(
        &second,
        &[
            "--offcuts",
            fixture(PLAN).join("plan.yaml").to_str().expect("a path"),
        ],
    );
    assert_ne!(refused.code, Some(0));
    assert!(
        refused.stderr.contains("is no file of offcuts"),
        "{}",
        refused.stderr
    );
}

/// Four fronts fill most of a sheet; without the group the largest parts first would part them.
#[test]
fn parts_of_a_grain_group_come_from_one_sheet_which_is_cut_first() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let text = |group: &str| {
        format!(
            "jigless: 1\ntitle: Glaze drawers\nunits: mm\nstock:\n  board: {{thickness: 18, sheets: [{{width: 1220, height: 2440}}]}}\nparts:\n\
             \x20 side: {{stock: board, width: 600, height: 1200, grain: height, count: 7}}\n\
             \x20 front: {{stock: board, width: 400, height: 800, grain: height, count: 3{group}}}\n"
        )
    };
    let sheets = |group: &str, name: &str| {
        let own = folder.path().join(name);
        fs::create_dir_all(&own).expect("a folder");
        fs::write(own.join("plan.yaml"), text(group)).expect("a plan");
        let mut command = jigless(folder.path());
        command
            .arg("export")
            .arg(&own)
            .args(["--quiet", "--to", "cutting-json,dxf-laser"]);
        command.args([
            "--set",
            "dxf-laser.arrange=stock",
            "--set",
            "cutting-json.effort=quick",
        ]);
        run(command.arg("--out").arg(folder.path().join("out"))).done();
        let file = folder
            .path()
            .join("out")
            .join(name)
            .join("cutting-json/cutting.json");
        let data: Value = serde_json::from_slice(&fs::read(file).expect("a file")).expect("JSON");
        let on = |sheet: &Value| {
            let pieces = sheet["pieces"].as_array().expect("pieces").iter();
            pieces.filter(|piece| piece["part"] == "front").count()
        };
        let all = data["stocks"][0]["sheets"]
            .as_array()
            .expect("sheets")
            .iter();
        all.map(on).collect::<Vec<usize>>()
    };
    let grouped = sheets(", grain_group: fronts, priority: 1", "grouped");
    assert_eq!(
        grouped.iter().filter(|count| **count > 0).count(),
        1,
        "{grouped:?}"
    );
    assert_eq!(grouped[0], 3, "{grouped:?}");
}
