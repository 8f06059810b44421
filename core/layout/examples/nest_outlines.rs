//! Lays out problems of outlines in JSON and writes the answers as JSON, for measuring: `{name: {W, H, spacing, items:
//! [{rings: [[[x, y]]], turns: [quarters], count}]}}` in millimetres, the outline first, then openings. Arguments: file,
//! effort.

use std::time::Instant;

use jigless_layout::{Piece, arrange_pieces};
use jigless_model::geom::{Path, Point};
use jigless_model::plan::StockSheet;
use jigless_model::sheets::{Effort, Settings};
use serde_json::{Map, Value, json};

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [path, effort] = &arguments[..] else {
        panic!("file and effort");
    };
    let text = std::fs::read_to_string(path).expect("the file can be read");
    let problems: Map<String, Value> = serde_json::from_str(&text).expect("the file is JSON");
    let effort: Effort = serde_json::from_value(json!(effort)).expect("an effort");
    for (name, problem) in &problems {
        let number = |key: &str| problem[key].as_f64().unwrap_or(0.0);
        let sheet = StockSheet {
            width: number("W"),
            height: number("H"),
            count: 0,
            price: None,
        };
        let settings = Settings {
            bed: None,
            spacing: number("spacing"),
            margin: 0.0,
            boxes_only: false,
            effort,
            saw: None,
        };
        let items = problem["items"].as_array().expect("items");
        let paths: Vec<Vec<Path>> = items.iter().map(rings).collect();
        let mut pieces = Vec::new();
        for (kind, item) in items.iter().enumerate() {
            for _ in 0..item["count"].as_u64().unwrap_or(1) {
                pieces.push(Piece {
                    outline: &paths[kind][0],
                    openings: &paths[kind][1..],
                    area: paths[kind][0].area(),
                    turns: turns(&item["turns"]),
                    kind,
                    group: None,
                });
            }
        }
        let begin = Instant::now();
        let filled = arrange_pieces(&pieces, &[sheet], &settings).expect("some sheet");
        let seconds = begin.elapsed().as_secs_f64();
        let sheets: Vec<Value> = filled
            .sheets
            .iter()
            .map(|(_, _, places)| {
                let place = |place: &jigless_layout::Position| {
                    json!([
                        pieces[place.piece].kind,
                        place.quarters,
                        place.at.x,
                        place.at.y
                    ])
                };
                places.iter().map(place).collect()
            })
            .collect();
        println!(
            "{}",
            json!({"name": name, "sheets": sheets, "left": filled.left.len(), "seconds": seconds})
        );
    }
}

fn rings(item: &Value) -> Vec<Path> {
    let coordinate = |value: &Value| value.as_f64().expect("a number");
    let rings = item["rings"].as_array().expect("rings").iter();
    rings
        .map(|ring| {
            let points = ring.as_array().expect("points").iter();
            Path::of_points(
                points.map(|p| Point::new(coordinate(&p[0]), coordinate(&p[1]))),
                true,
            )
        })
        .collect()
}

fn turns(value: &Value) -> &'static [u8] {
    match value.as_array().map_or(0, Vec::len) {
        0 | 1 => &[0],
        2 => &[0, 2],
        _ => &[0, 1, 2, 3],
    }
}
