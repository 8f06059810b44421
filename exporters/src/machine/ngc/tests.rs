//! Job sheets: nothing lies on anything else, nothing is outside, no type is too small, and every operation of the
//! program is in the list and in the picture.

use jigless_core::arrange::arrange;
use jigless_core::load::NoIncludes;
use jigless_model::export::{AnyExporter, ExportInput, Setting, Stamp};
use serde_json::json;

use super::{NgcRouter, NgcRouterOptions, face_work, job_sheet, operation};
use crate::drawing::ItemShape;
use crate::drawing::probe::collisions;
use crate::pdf::Paper;

/// Work on both faces, rows of holes close together, small parts, an opening and a rebate.
const PLAN: &str = "
jigless: 1
title: A side and what goes with it
units: mm
stock:
  ply: {thickness: 18, kind: plywood, label: Birch plywood 18 mm, sheets: [{width: 1220, height: 2440}]}
parts:
  side:
    stock: ply
    width: 400
    height: 700
    grain: height
    count: 2
    features:
      - hole_row: {first: [37, 60], step: [0, 32], count: 18, diameter: 5, depth: 13}
      - groove: {along: height, from: {left: 200}, width: 18, depth: 6}
      - hole: {at: [350, 350], diameter: 35, depth: 12, face: back}
      - hole: {at: [300, 600], diameter: 8, depth: through}
  frame:
    stock: ply
    width: 300
    height: 200
    features:
      - cutout: {at: [50, 50], width: 200, height: 100, corner_radius: 10}
  peg: {stock: ply, width: 60, height: 30, count: 12}
";

fn options(paper: Paper, bed: [f64; 2]) -> NgcRouterOptions {
    let mut tools = vec![
        json!({"diameter": 6, "pass": 4, "reach": 30, "feed": 2000, "plunge": 500, "speed": 18000}),
    ];
    tools.extend([5, 8].map(|diameter| {
        json!({"kind": "drill", "diameter": diameter, "pass": 6, "plunge": 600, "speed": 4000})
    }));
    let setting = |key: &str, value| Setting {
        key: key.to_owned(),
        value,
    };
    let settings = [
        setting("tools", json!(tools)),
        setting("bed", json!(bed)),
        setting("arrange", json!("bed")),
        setting("register", json!(8)),
        setting("paper", json!(paper)),
    ];
    let configured = AnyExporter::configure(&NgcRouter, &settings).expect("the options are known");
    serde_json::from_value(configured.options()).expect("its own options")
}

#[test]
fn job_sheets_are_clean_and_say_every_operation() {
    let compiled = jigless_core::compile("plan.yaml", PLAN.as_bytes(), &NoIncludes);
    let found = format!("{:?}", compiled.findings);
    let (plan, workpieces) = compiled.result.expect(&found);
    let stamp = Stamp::new("test", None);
    for paper in [Paper::A4, Paper::Letter, Paper::A3] {
        for bed in [[1300.0, 2500.0], [2500.0, 1300.0], [600.0, 900.0]] {
            let options = options(paper, bed);
            let arrangement = arrange(&workpieces, &options.arranging().expect("sheets"));
            let input = ExportInput::new(&plan, &workpieces, &stamp).on_sheets(&arrangement);
            let faces = face_work::all(&input, &options).expect("all fit");
            assert!(faces.len() > 1, "{bed:?}");
            for work in &faces {
                let name = format!("{paper:?} {bed:?} {}", work.stem);
                let pages =
                    job_sheet::pages(&input, &options, &[work]).expect("a paper with pages");
                let mut words = String::new();
                for (index, page) in pages.iter().enumerate() {
                    let printable = page.format.printable();
                    assert_eq!(collisions(&page.items, printable), [], "{name} {index}");
                    for item in &page.items {
                        let bounds = item.bounds().expect("something");
                        let inside = printable.grown(0.5);
                        assert!(
                            inside.contains_box(bounds, 1e-6),
                            "{name} {index}: {item:?}"
                        );
                        if let ItemShape::Text(text) = &item.shape {
                            assert!(text.size >= 2.47, "{name} {index}: {text:?}");
                            words.push_str(&text.words);
                            words.push('\n');
                        }
                    }
                }
                for operation in operation::numbered(&work.jobs) {
                    let number = operation.number;
                    let shown = words.lines().any(|line| line == format!("({number})"));
                    assert!(shown, "{name}: ({number}) is not in the picture");
                    let listed = words.lines().any(|line| line == number.to_string());
                    assert!(listed, "{name}: {number} is not in the list");
                }
            }
        }
    }
}
