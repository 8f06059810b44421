//! A profile: how a machine or printer wants its files. It stands apart from plans, since each reader has another one.

use std::path::Path;

use jigless_core::diag::{Finding, Findings, nearest};
use jigless_core::export::Setting;
use jigless_core::load::{Node, Value, parse};
use jigless_core::source::{Sources, Span};

use crate::disk::read_text;
use crate::exit::Problem;

/// Options of single formats.
const EXPORT: &str = "export";
/// Options for every format that has them: what is true of a machine, said once.
const MACHINE: &str = "machine";

/// A profile that was read.
#[derive(Debug, Default)]
pub struct Profile {
    /// Its text.
    pub sources: Sources,
    /// The formats that it sets, in the order of the text.
    pub exporters: Vec<ExporterSection>,
    /// What it sets of every format that has the option. A format's own section goes before it.
    pub machine: Vec<PlacedSetting>,
}

/// What a profile sets of one format.
#[derive(Debug)]
pub struct ExporterSection {
    /// Id of the format.
    pub id: String,
    /// The options, in the order of the text.
    pub settings: Vec<PlacedSetting>,
}

/// An option and where it is set.
#[derive(Debug, Clone)]
pub struct PlacedSetting {
    /// The option.
    pub setting: Setting,
    /// The place of its name.
    pub key: Span,
    /// The place of its value.
    pub value: Span,
}

/// Reads the bytes of a profile.
///
/// # Errors
/// When the disk refuses, or the file is none that can be read.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, Problem> {
    read_text(path).map_err(|reason| {
        Problem::disk(format!(
            "the profile {} cannot be read: {reason}",
            path.display()
        ))
    })
}

/// Reads a profile. `ids` are the formats that there are.
///
/// # Errors
/// The texts and what is wrong with them: no YAML, an unknown key or format, something that is no map.
pub fn read(name: &str, bytes: &[u8], ids: &[&str]) -> Result<Profile, (Sources, Findings)> {
    let mut sources = Sources::default();
    let root = match parse(&mut sources, name, bytes) {
        Ok(root) => root,
        Err(findings) => return Err((sources, findings)),
    };
    let mut findings = Findings::new();
    let mut exporters = Vec::new();
    let mut machine = Vec::new();
    for (key, span, sections) in entries(&root, "the profile", "export:", &mut findings) {
        if key == MACHINE {
            machine = settings(sections, "`machine`", &mut findings);
            continue;
        }
        if key != EXPORT {
            findings.push(unknown("unknown-key", "key", key, span, &[EXPORT, MACHINE]));
            continue;
        }
        let hint = "the id of a format, and below it its options";
        for (id, span, options) in entries(sections, "`export`", hint, &mut findings) {
            if !ids.contains(&id) {
                findings.push(unknown("unknown-exporter", "format", id, span, ids));
                continue;
            }
            let settings = settings(options, "a format", &mut findings);
            exporters.push(ExporterSection {
                id: id.to_owned(),
                settings,
            });
        }
    }
    if findings.has_errors() {
        Err((sources, findings))
    } else {
        Ok(Profile {
            sources,
            exporters,
            machine,
        })
    }
}

/// The options of a section.
fn settings(node: &Node, what: &str, findings: &mut Findings) -> Vec<PlacedSetting> {
    let placed = |(option, key, value): (&str, Span, &Node)| PlacedSetting {
        setting: Setting {
            key: option.to_owned(),
            value: value.to_json(),
        },
        key,
        value: value.span,
    };
    let entries = entries(node, what, "option: value", findings);
    entries.into_iter().map(placed).collect()
}

/// The entries of a map, or a finding that it is none.
fn entries<'a>(
    node: &'a Node,
    what: &str,
    hint: &str,
    findings: &mut Findings,
) -> Vec<(&'a str, Span, &'a Node)> {
    if let Value::Map(entries) = &node.value {
        let parts = entries.iter();
        return parts
            .map(|entry| (entry.key.value.as_str(), entry.key.span, &entry.value))
            .collect();
    }
    let message = format!("{what} must be a map, and this is {}", node.kind());
    findings.push(Finding::error("not-a-map", node.span, message).fix(format!("write {hint}")));
    Vec::new()
}

fn unknown(code: &'static str, what: &str, word: &str, span: Span, allowed: &[&str]) -> Finding {
    let fix = match nearest(word, allowed.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("there is {}", allowed.join(", ")),
    };
    Finding::error(code, span, format!("there is no {what} `{word}`")).fix(fix)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    const IDS: [&str; 2] = ["cut-list", "drawing"];

    #[test]
    fn settings_come_in_the_order_of_the_text_with_their_places() {
        let text =
            "export:\n  drawing:\n    scale: 2\n    layers: [a, b]\n  cut-list: {title: \"7\"}\n";
        let profile = read("p.yaml", text.as_bytes(), &IDS).unwrap();
        let all: Vec<_> = profile
            .exporters
            .iter()
            .flat_map(|section| section.settings.iter().map(|s| (section.id.as_str(), s)))
            .map(|(id, s)| (id, s.setting.key.as_str(), s.setting.value.clone()))
            .collect();
        assert_eq!(
            all,
            [
                ("drawing", "scale", json!(2)),
                ("drawing", "layers", json!(["a", "b"])),
                ("cut-list", "title", json!("7")),
            ]
        );
        let scale = &profile.exporters[0].settings[0];
        assert_eq!(profile.sources.slice(scale.key), "scale");
        assert_eq!(profile.sources.slice(scale.value), "2");
    }

    #[test]
    fn faults_are_told_with_place_and_nearest_word() {
        for (text, place, message, fix) in [
            ("exprot: {}\n", (1, 1), "no key `exprot`", "`export`"),
            (
                "export:\n  cutlist: {}\n",
                (2, 3),
                "no format `cutlist`",
                "`cut-list`",
            ),
            (
                "export:\n  drawing: 5\n",
                (2, 12),
                "must be a map",
                "option: value",
            ),
            (
                "export: [a]\n",
                (1, 9),
                "must be a map",
                "the id of a format",
            ),
            ("- a\n", (1, 1), "must be a map", "export:"),
        ] {
            let (sources, findings) = read("p.yaml", text.as_bytes(), &IDS).unwrap_err();
            let list = findings.sorted();
            let span = list[0].span.unwrap();
            assert_eq!(
                sources.file(span.file).line_column(span.start),
                place,
                "{text}"
            );
            assert!(list[0].message.contains(message), "{:?}", list[0]);
            assert!(list[0].fix.as_ref().unwrap().contains(fix), "{:?}", list[0]);
        }
        assert!(read("p.yaml", b"", &IDS).is_err());
        assert!(read("p.yaml", b"export: {a: 1", &IDS).is_err());
    }
}
