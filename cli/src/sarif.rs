//! The messages of a run as one SARIF 2.1.0 document, for tools that review changes.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use jigless_core::diag::Severity;
use serde_json::Value;
use serde_sarif::sarif::{
    ArtifactLocation, Invocation, Location, LogicalLocation, Message as Text,
    MultiformatMessageString, Notification, PhysicalLocation, PropertyBag, Region,
    ReportingDescriptor, Result as Found, ResultLevel, Run, Sarif, Tool, ToolComponent,
};

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
    let driver = ToolComponent::builder()
        .name("Jigless")
        .semantic_version(env!("CARGO_PKG_VERSION"))
        .rules(rules.iter().map(|code| rule(code)).collect::<Vec<_>>())
        .build();
    let invocation = Invocation::builder()
        .execution_successful(successful)
        .tool_execution_notifications(messages.iter().filter_map(notification).collect::<Vec<_>>())
        .build();
    let results: Vec<Found> = messages
        .iter()
        .filter_map(|message| result(message, &rules))
        .collect();
    let run = Run::builder()
        .tool(Tool::builder().driver(driver).build())
        .invocations(vec![invocation])
        .results(results)
        .column_kind("unicodeCodePoints")
        .build();
    let sarif = Sarif::builder()
        .version("2.1.0")
        .schema(SCHEMA)
        .runs(vec![run])
        .build();
    // Texts and numbers can always be written.
    let text = serde_json::to_string_pretty(&sarif).unwrap_or_default();
    format!("{text}\n")
}

fn rule(code: &'static str) -> ReportingDescriptor {
    let string = |text: &str| MultiformatMessageString::builder().text(text).build();
    let (name, why) = match codes::meaning(code) {
        Some(Meaning::Check(kind)) => (kind.name, kind.explanation),
        Some(Meaning::Fault(kind)) => (kind.name, kind.explanation),
        None => (code, code),
    };
    ReportingDescriptor::builder()
        .id(code)
        .short_description(string(name))
        .full_description(string(why))
        .build()
}

fn result(message: &Message, rules: &[&'static str]) -> Option<Found> {
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
    let mut locations: Vec<Location> = place.iter().map(|place| location(place, None)).collect();
    if let (Some(first), false) = (locations.first_mut(), path.is_empty()) {
        let name = LogicalLocation::builder()
            .fully_qualified_name(path.join(" > "))
            .build();
        first.logical_locations = Some(vec![name]);
    }
    let figures = [("measured", measured), ("wanted", wanted)];
    let figures = figures
        .into_iter()
        .chain([("part", part), ("feature", feature)])
        .filter_map(|(name, figure)| Some((name.to_owned(), Value::String(figure.clone()?))))
        .chain((!work.is_empty()).then(|| ("work".to_owned(), Value::from(work.clone()))));
    let related: Vec<Location> = labels
        .iter()
        .map(|label| location(&label.place, Some(&label.text)))
        .collect();
    Some(
        Found::builder()
            .rule_id(*code)
            .rule_index(i64::try_from(index).unwrap_or(0))
            .level(level(*severity))
            .message(text(message, fix.as_deref()))
            .locations(locations)
            .related_locations(related)
            .properties(
                PropertyBag::builder()
                    .additional_properties(figures.collect::<BTreeMap<String, Value>>())
                    .build(),
            )
            .build(),
    )
}

fn notification(message: &Message) -> Option<Notification> {
    let Message::Problem {
        severity,
        message,
        fix,
    } = message
    else {
        return None;
    };
    let notification = Notification::builder()
        .level(serde_json::json!(level(*severity)))
        .message(text(message, fix.as_deref()))
        .build();
    Some(notification)
}

fn level(severity: Severity) -> ResultLevel {
    match severity {
        Severity::Error => ResultLevel::Error,
        Severity::Warning => ResultLevel::Warning,
        Severity::Note => ResultLevel::Note,
    }
}

/// The fix goes into the message, because a SARIF fix is a replacement of text and ours is advice.
fn text(message: &str, fix: Option<&str>) -> Text {
    let whole = match fix {
        Some(fix) => format!("{message}. What to do: {fix}"),
        None => message.to_owned(),
    };
    Text::builder().text(whole).build()
}

fn location(place: &PlaceJson, label: Option<&str>) -> Location {
    let number = |value: usize| i64::try_from(value).unwrap_or(i64::MAX);
    let region = Region::builder()
        .start_line(number(place.line))
        .start_column(number(place.column))
        .end_line(number(place.end_line))
        .end_column(number(place.end_column))
        .build();
    let file = ArtifactLocation::builder().uri(uri(&place.file)).build();
    let physical = PhysicalLocation::builder()
        .artifact_location(file)
        .region(region)
        .build();
    match label {
        Some(label) => Location::builder()
            .physical_location(physical)
            .message(text(label, None))
            .build(),
        None => Location::builder().physical_location(physical).build(),
    }
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
