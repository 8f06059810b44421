//! Cuts boards by problems in JSON and writes the answers as JSON, for measuring: `{name: {length, items: [length]}}`, or
//! `{name: {lengths: [[length, count or null, price or null]], kerf, items: [[length, count]]}}`, in whole millimetres.

use std::time::Instant;

use jigless_layout::cut_boards;
use jigless_model::sheets::{BoardLength, BoardPiece, BoardProblem, SheetOrigin};
use serde_json::{Map, Value, json};

fn main() {
    let path = std::env::args().nth(1).expect("a file");
    let text = std::fs::read_to_string(path).expect("the file can be read");
    let problems: Map<String, Value> = serde_json::from_str(&text).expect("the file is JSON");
    for (name, problem) in &problems {
        let problem = read(problem);
        let begin = Instant::now();
        let answer = cut_boards(&problem);
        let boards: Vec<Value> = answer
            .boards
            .iter()
            .map(|board| {
                let kinds: Vec<usize> = board.pieces.iter().map(|(kind, _)| *kind).collect();
                json!({"length": board.length, "pieces": kinds, "rest": board.rest})
            })
            .collect();
        let line = json!({
            "name": name, "boards": boards, "bound": answer.bound, "proved": answer.proved,
            "left": answer.left.len(), "seconds": begin.elapsed().as_secs_f64(),
        });
        println!("{line}");
    }
}

fn read(problem: &Value) -> BoardProblem {
    let length = |value: &Value| (value.as_f64().unwrap_or(0.0) * 1000.0).round() as i64;
    let of = |length, count: &Value, price: &Value| BoardLength {
        length,
        count: count.as_u64().map(|count| count as u32),
        price: price.as_f64(),
        origin: if count.is_null() {
            SheetOrigin::ToBuy
        } else {
            SheetOrigin::AtHand
        },
    };
    let lengths = match problem["lengths"].as_array() {
        Some(lengths) => lengths
            .iter()
            .map(|l| of(length(&l[0]), &l[1], &l[2]))
            .collect(),
        None => vec![of(length(&problem["length"]), &Value::Null, &Value::Null)],
    };
    let piece = |item: &Value| BoardPiece {
        length: length(if item.is_array() { &item[0] } else { item }),
        count: item[1].as_u64().unwrap_or(1) as u32,
    };
    let items = problem["items"].as_array().expect("items");
    BoardProblem {
        width: 0,
        lengths,
        pieces: items.iter().map(piece).collect(),
        kerf: length(&problem["kerf"]),
        end_trim: 0,
    }
}
