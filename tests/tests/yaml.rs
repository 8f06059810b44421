//! Other programs read our plans, too: an older and a newer reader of YAML find the values that we find, in every shipped
//! plan and in every plan that is written out. No word becomes a truth value that it does not mean, no length a number of
//! another base, no key anything but a text.

use std::fs;

use jigless_core::compile;
use jigless_core::load::{NoIncludes, Node, Value, parse};
use jigless_model::source::Sources;
use jigless_tests::fixtures::{files_of, fixture, sound_plans};
use jigless_tests::readers::read_with;
use serde_json::Value as Json;

/// Texts that both kinds of readers may take for a truth value, and that mean it.
const TRUTH: [(&str, &str); 4] = [
    ("yes", "True"),
    ("true", "True"),
    ("no", "False"),
    ("false", "False"),
];

/// Every difference between what we read and what another reader has, by the way to it.
fn compare(own: &Node, other: &Json, way: &str, found: &mut Vec<String>) {
    let mut tell = |what: String| found.push(format!("{way}: {what}"));
    match &own.value {
        Value::Map(entries) => {
            let Some(others) = other["map"].as_array().filter(|o| o.len() == entries.len()) else {
                tell(format!("a map of {} is {other}", entries.len()));
                return;
            };
            for (entry, pair) in entries.iter().zip(others) {
                let key = &entry.key.value;
                if pair[0]["kind"] != "str" || pair[0]["text"] != key.as_str() {
                    found.push(format!("{way}: the key `{key}` is {}", pair[0]));
                }
                compare(&entry.value, &pair[1], &format!("{way} > {key}"), found);
            }
        }
        Value::List(items) => {
            let Some(others) = other["list"].as_array().filter(|o| o.len() == items.len()) else {
                tell(format!("a list of {} is {other}", items.len()));
                return;
            };
            for (number, (item, other)) in items.iter().zip(others).enumerate() {
                compare(item, other, &format!("{way} > {number}"), found);
            }
        }
        Value::Null if other["kind"] == "NoneType" => {}
        Value::Null => tell(format!("nothing is {other}")),
        Value::Scalar(scalar) => {
            let (text, read) = (
                scalar.text.as_str(),
                other["text"].as_str().unwrap_or_default(),
            );
            let number = |text: &str| text.parse::<f64>().ok();
            let same = match other["kind"].as_str() {
                Some("str") => text == read,
                Some("int" | "float") => number(text).is_some() && number(text) == number(read),
                Some("bool") => !scalar.quoted && TRUTH.contains(&(text, read)),
                _ => false,
            };
            if !same {
                tell(format!("`{text}` is {other}"));
            }
        }
    }
}

/// What the other readers have otherwise than we in some texts, by name.
fn differences(texts: &[(String, String)]) -> Vec<String> {
    let place = tempfile::tempdir().expect("a temporary folder");
    for (number, (_, text)) in texts.iter().enumerate() {
        fs::write(place.path().join(format!("{number:04}.yaml")), text).expect("a written file");
    }
    let read = read_with("read_yaml.py", &[place.path().to_owned()]);
    assert_eq!(read.len(), texts.len());
    let mut found = Vec::new();
    for ((name, text), read) in texts.iter().zip(&read) {
        let own = parse(&mut Sources::default(), name, text.as_bytes()).expect("YAML");
        for version in ["1.1", "1.2"] {
            let way = format!("{name} in YAML {version}");
            compare(&own, &read["trees"][version], &way, &mut found);
        }
    }
    found
}

fn text(bytes: Vec<u8>) -> String {
    String::from_utf8(bytes).expect("UTF-8")
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn other_readers_find_the_same_values_in_every_shipped_plan() {
    let mut texts = Vec::new();
    let mut folders = sound_plans();
    folders.extend(["by-hand", "profiles"].map(str::to_owned));
    for folder in folders {
        for (name, bytes) in files_of(&fixture(&folder), "yaml") {
            texts.push((format!("{folder}/{name}"), text(bytes)));
        }
    }
    assert!(texts.len() > 40, "{} files", texts.len());
    assert_eq!(differences(&texts), [""; 0]);
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn other_readers_find_the_same_values_in_what_is_written_out() {
    let written = |plan: String| {
        let bytes = fs::read(fixture(&plan).join("plan.yaml")).expect("a plan");
        // A plan with includes is one text as soon as it is written out by the program; here those without serve.
        let compiled = compile("plan.yaml", &bytes, &NoIncludes);
        compiled
            .result
            .map(|(resolved, _)| (plan, resolved.expanded))
    };
    let texts: Vec<(String, String)> = sound_plans().into_iter().filter_map(written).collect();
    assert!(texts.len() > 20, "{} plans", texts.len());
    assert_eq!(differences(&texts), [""; 0]);
}

/// What would surprise is found: the comparison itself can fail.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn values_that_readers_take_for_something_else_are_found() {
    let surprises = [
        "size: 1:30",
        "count: 010",
        "depth: 0x10",
        "cut: on",
        "day: 2026-11-27",
        "on: here",
        "width: 1_000",
        "name: ~",
    ];
    for surprise in surprises {
        let text = [("it".to_owned(), format!("{surprise}\n"))];
        let quiet = surprise == "name: ~";
        assert_eq!(differences(&text).is_empty(), quiet, "{surprise}");
    }
}
