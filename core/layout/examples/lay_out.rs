//! Lays out problems in JSON and writes the answers as JSON, for measuring: `{name: {W, H, kerf, items: [[w, h, count,
//! may turn]]}}` with sizes in whole millimetres. Arguments: file, `O` (nothing turns), `R` (all may) or `own`, effort,
//! stages (0: any number).

use std::time::Instant;

use jigless_layout::cut_sheets;
use jigless_model::sheets::{
    CutContent, CutDirection, CutNode, Effort, PieceKind, Saw, SheetOrigin, SheetProblem,
    SheetSize, Trims,
};
use serde_json::{Map, Value, json};

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [path, turning, effort, stages] = &arguments[..] else {
        panic!("file, turning, effort and stages");
    };
    let text = std::fs::read_to_string(path).expect("the file can be read");
    let problems: Map<String, Value> = serde_json::from_str(&text).expect("the file is JSON");
    let effort: Effort = serde_json::from_value(json!(effort)).expect("an effort");
    let stages: u32 = stages.parse().expect("a number of stages");
    for (name, problem) in &problems {
        let problem = read(problem, turning, effort, stages);
        let begin = Instant::now();
        let answer = cut_sheets(&problem);
        let seconds = begin.elapsed().as_secs_f64();
        let sheets: Vec<Value> = answer
            .sheets
            .iter()
            .map(|sheet| tree(&sheet.root))
            .collect();
        let line = json!({
            "name": name, "sheets": sheets, "bound": answer.bound, "proved": answer.proved,
            "left": answer.left.len(), "seconds": seconds,
        });
        println!("{line}");
    }
}

fn read(problem: &Value, turning: &str, effort: Effort, stages: u32) -> SheetProblem {
    let length = |value: &Value| (value.as_f64().unwrap_or(0.0) * 1000.0).round() as i64;
    let items = problem["items"].as_array().expect("items");
    let piece = |item: &Value| PieceKind {
        width: length(&item[0]),
        height: length(&item[1]),
        may_turn: turning == "R" || (turning == "own" && item[3].as_bool() == Some(true)),
        count: item[2].as_u64().unwrap_or(1) as u32,
        oversize: 0,
        priority: 0,
        group: None,
    };
    SheetProblem {
        sizes: vec![SheetSize {
            width: length(&problem["W"]),
            height: length(&problem["H"]),
            count: None,
            price: None,
            origin: SheetOrigin::ToBuy,
            trims: Trims::default(),
        }],
        pieces: items.iter().map(piece).collect(),
        saw: Saw {
            kerf: length(&problem["kerf"]),
            stages: (stages > 0).then_some(stages),
            effort,
            ..Saw::default()
        },
    }
}

/// A cut tree: `[width, height, what]`, where what is a number of a kind and whether it is turned, a text, or a split.
fn tree(node: &CutNode) -> Value {
    let what = match &node.content {
        CutContent::Piece(piece) => json!([piece.kind, piece.turned]),
        CutContent::Offcut(_) => json!("offcut"),
        CutContent::Waste => json!("waste"),
        CutContent::Split(split) => {
            let parts: Vec<Value> = split.parts.iter().map(tree).collect();
            let direction = match split.direction {
                CutDirection::Along => "along",
                CutDirection::Across => "across",
            };
            json!({"cut": direction, "parts": parts})
        }
    };
    json!([node.width, node.height, what])
}
