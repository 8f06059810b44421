//! What a laser is asked for beyond plain lines: where it begins, in which order it goes, how long it takes, and pins for
//! two-sided work.

use jigless_exporters::inspect::inspect;
use jigless_tests::fixtures::{files_of, fixture};
use jigless_tests::program::{jigless, run};

fn made(plan: &std::path::Path, out: &std::path::Path, more: &[&str]) -> Vec<(String, String)> {
    let mut command = jigless(out);
    command
        .arg("export")
        .arg(plan)
        .args(["--to", "svg-laser", "--quiet"]);
    for option in more {
        command.args(["--set", &format!("svg-laser.{option}")]);
    }
    run(command.args(["--force", "--out", "made"])).done();
    let files = files_of(&out.join("made"), "svg").into_iter();
    files
        .map(|(name, bytes)| (name, String::from_utf8(bytes).expect("a text")))
        .collect()
}

#[test]
fn lines_begin_in_the_waste_and_say_how_long_they_take() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let plan = fixture("thread-organiser");
    let plain = ["arrange=stock", "kerf=0.15"];
    let led = [
        "arrange=stock",
        "kerf=0.15",
        "lead=1",
        "order=spread",
        "speed=900",
    ];
    let before = made(&plan, out.path(), &plain);
    let after = made(&plan, out.path(), &led);
    let mut cut = 0;
    for ((name, before), (_, after)) in before.iter().zip(&after) {
        if name.contains("map") {
            continue;
        }
        let (plain, led) = (
            inspect(before.as_bytes(), None),
            inspect(after.as_bytes(), None),
        );
        let (plain, led) = (plain.expect("readable"), led.expect("readable"));
        assert!(led.faults.is_empty(), "{name}: {:?}", led.faults);
        assert!(
            after.contains("Lines begin 1 mm off in the waste"),
            "{name}"
        );
        assert!(after.contains("minutes at 900 mm a minute"), "{name}");
        let contours = |entities: &[jigless_exporters::inspect::Entity]| {
            let mut lengths: Vec<i64> = entities
                .iter()
                .filter(|entity| entity.layer.starts_with("CUT"))
                .filter_map(|entity| Some((entity.contour()?.length() * 1000.0).round() as i64))
                .collect();
            lengths.sort_unstable();
            lengths
        };
        assert_eq!(contours(&plain.entities), contours(&led.entities), "{name}");
        let begin = led
            .entities
            .iter()
            .filter(|entity| entity.layer.starts_with("CUT") && !entity.path.closed);
        cut += begin.count();
    }
    assert!(cut > 10, "{cut}");
}

#[test]
fn pins_keep_two_engraved_faces_in_register() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let plan = out.path().join("sign.yaml");
    let text = "
jigless: 1
title: A sign for both sides
units: mm
stock:
  ply: {thickness: 4, kind: plywood, cut_by: laser, sheets: [{width: 300, height: 200}]}
parts:
  sign:
    stock: ply
    width: 120
    height: 60
    features:
      - mark: {line: {from: [10, 30], to: [110, 30]}}
      - mark: {line: {from: [10, 20], to: [60, 20]}, face: back}
";
    std::fs::write(&plan, text).expect("written");
    let files = made(
        &plan,
        out.path(),
        &["arrange=stock", "register=4", "kerf=0.2"],
    );
    let back = files
        .iter()
        .find(|(name, _)| name.ends_with("back.svg"))
        .expect("a back");
    let found = inspect(back.1.as_bytes(), None).expect("readable");
    let mut pins: Vec<(i64, i64, i64)> = Vec::new();
    for entity in found
        .entities
        .iter()
        .filter(|entity| entity.layer == "REGISTER")
    {
        let (centre, radius) = entity.path.as_circle().expect("a round hole");
        let tenths = |mm: f64| (mm * 10.0).round() as i64;
        pins.push((tenths(centre.x), tenths(centre.y), tenths(2.0 * radius)));
    }
    pins.sort_unstable();
    // 4 mm from each edge, a quarter up, and in the middle above; 4 mm less the kerf.
    assert_eq!(pins, [(40, 500, 38), (1500, 1960, 38), (2960, 500, 38)]);
}
