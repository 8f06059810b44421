//! An outside format for Jigless in Rust: a drilling list as tab-separated text.
//!
//! It reads one JSON request from standard input and writes one JSON answer to standard output, as
//! `jigless schema outside` describes them, and shares no code with Jigless. It takes of a request only what it needs:
//! fields that a later version adds do it no harm.

use std::fmt::Write;
use std::io;
use std::process::ExitCode;

use serde::Deserialize;
use serde_json::{Value, json};

const PROTOCOL: u32 = 1;

#[derive(Deserialize)]
#[serde(tag = "request", rename_all = "kebab-case")]
enum Request {
    Describe { protocols: Vec<u32> },
    Export { options: Options, parts: Vec<Part> },
}

#[derive(Deserialize)]
struct Options {
    unit: Unit,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Unit {
    Mm,
    In,
}

#[derive(Deserialize)]
struct Part {
    id: String,
    operations: Vec<Value>,
}

fn main() -> ExitCode {
    let request = match serde_json::from_reader(io::stdin().lock()) {
        Ok(request) => request,
        Err(error) => {
            eprintln!("the request cannot be read: {error}");
            return ExitCode::FAILURE;
        }
    };
    let answer = match request {
        Request::Describe { protocols } if protocols.contains(&PROTOCOL) => describe(),
        Request::Describe { .. } => {
            eprintln!("this program speaks protocol {PROTOCOL}");
            return ExitCode::FAILURE;
        }
        Request::Export { options, parts } => export(&options, &parts),
    };
    println!("{answer}");
    ExitCode::SUCCESS
}

fn describe() -> Value {
    json!({
        "protocol": PROTOCOL,
        "summary": "a list of all holes square to a face, tab-separated, for the operator of a boring machine",
        "version": env!("CARGO_PKG_VERSION"),
        "media_type": "text/tab-separated-values",
        "options": [{
            "key": "unit",
            "help": "Unit of the coordinates and diameters.",
            "default": "mm",
            "choices": ["mm", "in"],
        }],
    })
}

fn export(options: &Options, parts: &[Part]) -> Value {
    let mut list = String::from("part\thole\tface\tx\ty\tdiameter\tdepth\n");
    for part in parts {
        let drills = part.operations.iter().filter(|o| o["work"] == "drill");
        for drill in drills {
            let (id, face) = (text(&drill["id"]), text(&drill["face"]));
            let x = length(&drill["centre"][0], options);
            let y = length(&drill["centre"][1], options);
            let diameter = length(&drill["diameter"], options);
            let depth = if drill["depth"].is_null() {
                "through".to_owned()
            } else {
                length(&drill["depth"], options)
            };
            // Writing to a String cannot fail.
            let _ = writeln!(
                list,
                "{}\t{id}\t{face}\t{x}\t{y}\t{diameter}\t{depth}",
                part.id
            );
        }
    }
    json!({"protocol": PROTOCOL, "files": [{"path": "holes.tsv", "text": list}]})
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

fn length(value: &Value, options: &Options) -> String {
    let mm = value.as_f64().unwrap_or_default();
    match options.unit {
        Unit::Mm => format!("{mm:.3}"),
        // Exactly 25.4 mm: international yard and pound agreement, 1959.
        Unit::In => format!("{:.4}", mm / 25.4),
    }
}
