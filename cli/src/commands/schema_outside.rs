//! `jigless schema outside`: what goes between Jigless and the program of an outside format, as JSON Schema (2020-12).

use schemars::generate::SchemaSettings;

use crate::console::Console;
use crate::exit::Exit;
use crate::outside::message::Message;

/// Prints the schema.
pub fn run(console: &mut Console) -> Exit {
    console.document(&text());
    Exit::Done
}

fn text() -> String {
    let generator = SchemaSettings::draft2020_12().into_generator();
    let schema = generator.into_root_schema_for::<Message>();
    // A value in memory has no way to fail.
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}

#[cfg(test)]
mod tests {
    #[test]
    fn every_message_is_in_the_schema() {
        let schema: serde_json::Value = serde_json::from_str(&super::text()).unwrap();
        let messages = schema["anyOf"].as_array().unwrap();
        assert_eq!(messages.len(), 4);
        for name in [
            "DescribeRequest",
            "DescribeAnswer",
            "ExportRequest",
            "ExportAnswer",
            "PathJson",
        ] {
            assert!(schema["$defs"][name].is_object(), "{name}");
        }
    }
}
