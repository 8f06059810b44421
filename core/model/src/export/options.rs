//! Options of exporters: what there is to set, and reading what the user set.

use schemars::{JsonSchema, generate::SchemaSettings};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

use crate::diag::nearest;

/// One option of an exporter, for help texts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OptionSpec {
    /// Its name.
    pub key: String,
    /// What may be given: `number`, `true | false`, `a4 | a3 | letter`.
    pub accepts: String,
    /// What holds when nothing is given, as a user would write it.
    pub default: String,
    /// What it does, with its unit.
    pub help: String,
}

/// One option that the user set.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// Name of the option.
    pub key: String,
    /// Its value. A string is also tried as a number or truth value where the option wants one.
    pub value: Value,
}

/// What is wrong with a setting.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OptionFault {
    /// Which of the settings, from 0.
    pub setting: usize,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub fix: String,
}

/// JSON Schema (2020-12) of an options struct.
pub(super) fn schema<O: JsonSchema>() -> Value {
    let settings = SchemaSettings::draft2020_12().with(|s| s.inline_subschemas = true);
    settings
        .into_generator()
        .into_root_schema_for::<O>()
        .to_value()
}

/// The options of a struct in alphabetical order.
pub(super) fn specs<O: JsonSchema + Serialize + Default>() -> Vec<OptionSpec> {
    specs_of(&schema::<O>(), &defaults::<O>())
}

fn defaults<O: Serialize + Default>() -> Map<String, Value> {
    match serde_json::to_value(O::default()) {
        Ok(Value::Object(map)) => map,
        _ => Map::new(),
    }
}

/// The options that a schema describes, in alphabetical order.
pub fn specs_of(schema: &Value, defaults: &Map<String, Value>) -> Vec<OptionSpec> {
    let Some(properties) = schema["properties"].as_object() else {
        return Vec::new();
    };
    let mut specs: Vec<OptionSpec> = properties
        .iter()
        .map(|(key, property)| OptionSpec {
            key: key.clone(),
            accepts: accepts(property),
            default: shown(defaults.get(key).unwrap_or(&Value::Null)),
            help: one_line(property["description"].as_str().unwrap_or_default()),
        })
        .collect();
    specs.sort_by(|a, b| a.key.cmp(&b.key));
    specs
}

/// Reads the settings on top of the defaults of a struct. `renamed` are former names of options, each with today's.
pub(super) fn settle<O>(
    settings: &[Setting],
    renamed: &[(&str, &str)],
) -> Result<O, Vec<OptionFault>>
where
    O: JsonSchema + Serialize + DeserializeOwned + Default,
{
    let read = |values: &Map<String, Value>| {
        let values = Value::Object(values.clone());
        serde_json::from_value::<O>(values).map_err(|error| error.to_string())
    };
    let fits = |values: &Map<String, Value>, _: &str| read(values).map(|_| ());
    let values = settle_values(&specs::<O>(), defaults::<O>(), settings, renamed, fits)?;
    read(&values).map_err(|message| {
        vec![OptionFault {
            setting: 0,
            message,
            fix: "check the options against `jigless formats`".to_owned(),
        }]
    })
}

/// Reads the settings on top of the defaults. A later setting of the same option wins. `fits` says why the value that
/// an option has among all of them cannot be.
///
/// # Errors
/// Every setting that is unknown or does not fit.
pub fn settle_values(
    specs: &[OptionSpec],
    defaults: Map<String, Value>,
    settings: &[Setting],
    renamed: &[(&str, &str)],
    fits: impl Fn(&Map<String, Value>, &str) -> Result<(), String>,
) -> Result<Map<String, Value>, Vec<OptionFault>> {
    let mut values = defaults;
    let mut faults = Vec::new();
    for (index, setting) in settings.iter().enumerate() {
        let Setting { key, value } = setting;
        let Some(spec) = specs.iter().find(|spec| spec.key == *key) else {
            faults.push(unknown_option(index, key, specs, renamed));
            continue;
        };
        let mut reason = String::new();
        let fitting = readings(value).into_iter().find_map(|reading| {
            let mut tried = values.clone();
            tried.insert(key.clone(), reading);
            match fits(&tried, key) {
                Ok(()) => Some(tried),
                Err(why) => {
                    reason = why;
                    None
                }
            }
        });
        match fitting {
            Some(fitting) => values = fitting,
            None => faults.push(OptionFault {
                setting: index,
                message: format!("`{key}` cannot be {}: {reason}", shown(value)),
                fix: format!("give {}; the default is {}", spec.accepts, spec.default),
            }),
        }
    }
    if faults.is_empty() {
        Ok(values)
    } else {
        Err(faults)
    }
}

/// What a value may be meant as: itself, or, for a text, a number or truth value, and the other way round.
fn readings(value: &Value) -> Vec<Value> {
    let other = match value {
        Value::String(text) => serde_json::from_str::<Value>(text)
            .ok()
            .filter(|read| !read.is_string()),
        Value::Number(_) | Value::Bool(_) => Some(shown(value).into()),
        _ => None,
    };
    std::iter::once(value.clone()).chain(other).collect()
}

fn unknown_option(
    setting: usize,
    key: &str,
    specs: &[OptionSpec],
    renamed: &[(&str, &str)],
) -> OptionFault {
    let (message, fix) = match renamed.iter().find(|(former, _)| *former == key) {
        Some((_, name)) => (
            format!("option `{key}` is called `{name}` now"),
            format!("write `{name}`"),
        ),
        None => (
            format!("there is no option `{key}`"),
            unknown_option_fix(key, specs),
        ),
    };
    OptionFault {
        setting,
        message,
        fix,
    }
}

fn unknown_option_fix(key: &str, specs: &[OptionSpec]) -> String {
    let keys = specs.iter().map(|spec| spec.key.as_str());
    if let Some(near) = nearest(key, keys.clone()) {
        return format!("did you mean `{near}`?");
    }
    let all: Vec<&str> = keys.collect();
    if all.is_empty() {
        "this format has no options".to_owned()
    } else {
        format!("its options are {}", all.join(", "))
    }
}

/// What a schema accepts, in a few words.
fn accepts(schema: &Value) -> String {
    if let Some(constant) = schema.get("const") {
        return shown(constant);
    }
    for list in ["oneOf", "anyOf"] {
        if let Some(choices) = schema[list].as_array() {
            let words: Vec<String> = choices.iter().map(accepts).collect();
            return words.join(" | ");
        }
    }
    if let Some(choices) = schema["enum"].as_array() {
        let words: Vec<String> = choices.iter().map(shown).collect();
        return words.join(" | ");
    }
    let word = |kind: &Value| match kind.as_str() {
        Some("boolean") => "true | false",
        Some("integer") => "whole number",
        Some("number") => "number",
        Some("array") => "list",
        Some("null") => "none",
        Some("object") => "map",
        _ => "text",
    };
    match schema["type"].as_array() {
        Some(kinds) => kinds.iter().map(word).collect::<Vec<_>>().join(" | "),
        None => word(&schema["type"]).to_owned(),
    }
}

/// A value as a user would write it.
fn shown(value: &Value) -> String {
    match value {
        Value::Null => "none".to_owned(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde::Deserialize;
    use serde_json::json;

    /// Which paper.
    #[derive(Debug, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
    #[serde(rename_all = "kebab-case")]
    enum Paper {
        /// 210 x 297 mm.
        #[default]
        A4,
        /// 8.5 x 11 in.
        Letter,
    }

    #[derive(Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
    #[serde(default, deny_unknown_fields)]
    struct Options {
        /// Paper to print on.
        paper: Paper,
        /// Overlap of tiles,
        /// in millimetres.
        overlap: f64,
        /// Whether to label.
        labels: bool,
        /// Only this one.
        only: Option<u32>,
    }

    impl Default for Options {
        fn default() -> Self {
            Self {
                paper: Paper::A4,
                overlap: 10.0,
                labels: true,
                only: None,
            }
        }
    }

    fn set(key: &str, value: Value) -> Setting {
        Setting {
            key: key.to_owned(),
            value,
        }
    }

    #[test]
    fn options_describe_themselves() {
        let specs = specs::<Options>();
        let line =
            |s: &OptionSpec| format!("{} [{}] = {}: {}", s.key, s.accepts, s.default, s.help);
        assert_eq!(
            specs.iter().map(line).collect::<Vec<_>>(),
            [
                "labels [true | false] = true: Whether to label.",
                "only [whole number | none] = none: Only this one.",
                "overlap [number] = 10.0: Overlap of tiles, in millimetres.",
                "paper [a4 | letter] = a4: Paper to print on.",
            ]
        );
    }

    #[test]
    fn texts_are_read_as_what_the_option_wants() {
        let options: Options = settle(
            &[
                set("overlap", json!("12.5")),
                set("paper", json!("letter")),
                set("labels", json!("false")),
                set("only", json!(3)),
            ],
            &[],
        )
        .unwrap();
        assert_eq!(
            options,
            Options {
                paper: Paper::Letter,
                overlap: 12.5,
                labels: false,
                only: Some(3)
            }
        );
    }

    #[test]
    fn every_faulty_setting_is_reported() {
        let faults = settle::<Options>(
            &[
                set("papr", json!("a4")),
                set("paper", json!("a5")),
                set("overlap", json!("wide")),
            ],
            &[],
        )
        .unwrap_err();
        assert_eq!(faults.len(), 3);
        assert_eq!(faults[0].fix, "did you mean `paper`?");
        assert!(faults[1].message.contains("a5"), "{faults:?}");
        assert_eq!(faults[1].fix, "give a4 | letter; the default is a4");
        assert_eq!(faults[2].setting, 2);
    }

    #[test]
    fn a_former_name_is_refused_and_todays_is_named() {
        let renamed = [("overhang", "overlap")];
        let faults = settle::<Options>(&[set("overhang", json!(3))], &renamed).unwrap_err();
        assert_eq!(
            faults[0].message,
            "option `overhang` is called `overlap` now"
        );
        assert_eq!(faults[0].fix, "write `overlap`");
    }
}
