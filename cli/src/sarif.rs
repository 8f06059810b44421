//! The messages of a run as one SARIF 2.1.0 document, for tools that review changes.
//!
//! The standard is OASIS SARIF 2.1.0; a test holds a document against its published schema.

use std::collections::BTreeSet;
use std::fmt::Write;

use jigless_core::diag::Severity;
use serde_json::{Map, Value, json};

use crate::codes::{self, Meaning};
use crate::message::{FoundJson, Message, PlaceJson};

/// The schema of the format, as its standard publishes it.
const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// The document. Everything that it holds is in the order in which it was reported.
pub fn document(messages: &[Message], successful: bool) -> String {
    let used: BTreeSet<&'static str> = messages
        .iter()
        .filter_map(|message| match message {
            Message::Finding(found) => Some(found.code),
            Message::Problem { .. } | Message::Summary { .. } => None,
        })
        .collect();
    let rules: Vec<&'static str> = used.into_iter().collect();
    let results: Vec<Value> = messages.iter().filter_map(|m| result(m, &rules)).collect();
    let notifications: Vec<Value> = messages.iter().filter_map(notification).collect();
    let sarif = json!({
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [{
            "tool": {"driver": {
                "name": "Jigless",
                "semanticVersion": env!("CARGO_PKG_VERSION"),
                "rules": rules.iter().map(|code| rule(code)).collect::<Vec<_>>(),
            }},
            "invocations": [{
                "executionSuccessful": successful,
                "toolExecutionNotifications": notifications,
            }],
            "results": results,
            "columnKind": "unicodeCodePoints",
        }],
    });
    format!("{sarif:#}\n")
}

fn rule(code: &'static str) -> Value {
    let (name, why) = match codes::meaning(code) {
        Some(Meaning::Check(kind)) => (kind.name, kind.explanation),
        Some(Meaning::Fault(kind)) => (kind.name, kind.explanation),
        None => (code, code),
    };
    json!({"id": code, "shortDescription": {"text": name}, "fullDescription": {"text": why}})
}

fn result(message: &Message, rules: &[&'static str]) -> Option<Value> {
    let Message::Finding(found) = message else {
        return None;
    };
    let FoundJson {
        code,
        severity,
        message,
        part,
        feature,
        work,
        path,
        measured,
        wanted,
        fix,
        place,
        labels,
    } = &**found;
    let index = rules.iter().position(|rule| rule == code)?;
    let place = place.as_ref().map(|place| {
        let mut location = location(place);
        if !path.is_empty() {
            location["logicalLocations"] = json!([{"fullyQualifiedName": path.join(" > ")}]);
        }
        location
    });
    let related = labels.iter().map(|label| {
        let mut location = location(&label.place);
        location["message"] = text(&label.text, None);
        location
    });
    let figures = [("measured", measured), ("wanted", wanted)];
    let figures: Map<String, Value> = figures
        .into_iter()
        .chain([("part", part), ("feature", feature)])
        .filter_map(|(name, figure)| Some((name.to_owned(), json!(figure.as_ref()?))))
        .chain((!work.is_empty()).then(|| ("work".to_owned(), json!(work))))
        .collect();
    Some(json!({
        "ruleId": code,
        "ruleIndex": index,
        "level": level(*severity),
        "message": text(message, fix.as_deref()),
        "locations": place.into_iter().collect::<Vec<_>>(),
        "relatedLocations": related.collect::<Vec<_>>(),
        "properties": figures,
    }))
}

fn notification(message: &Message) -> Option<Value> {
    let Message::Problem {
        severity,
        message,
        fix,
    } = message
    else {
        return None;
    };
    Some(json!({"level": level(*severity), "message": text(message, fix.as_deref())}))
}

fn level(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}

/// The fix goes into the message, because a SARIF fix is a replacement of text and ours is advice.
fn text(message: &str, fix: Option<&str>) -> Value {
    let whole = match fix {
        Some(fix) => format!("{message}. What to do: {fix}"),
        None => message.to_owned(),
    };
    json!({"text": whole})
}

fn location(place: &PlaceJson) -> Value {
    json!({"physicalLocation": {
        "artifactLocation": {"uri": uri(&place.file)},
        "region": {
            "startLine": place.line,
            "startColumn": place.column,
            "endLine": place.end_line,
            "endColumn": place.end_column,
        },
    }})
}

/// A path as a relative reference: everything but letters, digits, `-._~/` and a drive's colon is written in percent
/// (RFC 3986).
fn uri(path: &str) -> String {
    let mut uri = String::with_capacity(path.len());
    for byte in path.replace('\\', "/").bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            uri.push(char::from(byte));
        } else {
            // Writing to a String cannot fail.
            let _ = write!(uri, "%{byte:02X}");
        }
    }
    uri
}

#[cfg(test)]
mod tests {
    use super::uri;

    #[test]
    fn paths_become_references() {
        assert_eq!(uri("glaze cabinet/plan.yaml"), "glaze%20cabinet/plan.yaml");
        assert_eq!(uri("a\\é.yaml"), "a/%C3%A9.yaml");
    }
}
