//! Options that an outside format declares: the same words and rules as for those that are built in.

use jigless_core::diag::nearest;
use jigless_core::export::{OptionFault, OptionSpec, Setting};
use serde_json::{Map, Value, json};

use super::message::OptionJson;

/// Refuses declarations that nobody could set.
pub(super) fn check(options: &[OptionJson]) -> Result<(), String> {
    for (index, option) in options.iter().enumerate() {
        let key = &option.key;
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || "-_".contains(c);
        let wrong = if key.is_empty() || !key.chars().all(plain) {
            "its name is not made of lower-case letters, digits, `-` and `_`"
        } else if options[..index].iter().any(|other| other.key == *key) {
            "it is there twice"
        } else if option.help.trim().is_empty() {
            "its `help` is empty"
        } else if !(option.default.is_string()
            || option.default.is_number()
            || option.default.is_boolean())
        {
            "its default is no text, number or truth value"
        } else if !option.choices.is_empty() && !option.choices.contains(&option.default) {
            "its default is none of its choices"
        } else {
            continue;
        };
        return Err(format!("its option `{key}`: {wrong}"));
    }
    Ok(())
}

/// The options in alphabetical order.
pub(super) fn specs(options: &[OptionJson]) -> Vec<OptionSpec> {
    let spec = |option: &OptionJson| OptionSpec {
        key: option.key.clone(),
        accepts: accepts(option),
        default: shown(&option.default),
        help: option.help.split_whitespace().collect::<Vec<_>>().join(" "),
    };
    let mut specs: Vec<OptionSpec> = options.iter().map(spec).collect();
    specs.sort_by(|a, b| a.key.cmp(&b.key));
    specs
}

/// JSON Schema (2020-12) of the options.
pub(super) fn schema(options: &[OptionJson]) -> Value {
    let property = |option: &OptionJson| {
        let mut property = json!({"description": option.help, "default": option.default});
        if option.choices.is_empty() {
            property["type"] = json!(kind(&option.default));
        } else {
            property["enum"] = json!(option.choices);
        }
        (option.key.clone(), property)
    };
    let properties: Map<String, Value> = options.iter().map(property).collect();
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "type": "object",
        "properties": properties,
        "additionalProperties": false,
    })
}

/// The options in force: the defaults, then each setting in order.
pub(super) fn settle(
    options: &[OptionJson],
    settings: &[Setting],
) -> Result<Map<String, Value>, Vec<OptionFault>> {
    let defaults = options.iter();
    let mut values: Map<String, Value> = defaults
        .map(|option| (option.key.clone(), option.default.clone()))
        .collect();
    let mut faults = Vec::new();
    for (index, setting) in settings.iter().enumerate() {
        let Some(option) = options.iter().find(|option| option.key == setting.key) else {
            let keys = options.iter().map(|option| option.key.as_str());
            faults.push(OptionFault {
                setting: index,
                message: format!("there is no option `{}`", setting.key),
                fix: match nearest(&setting.key, keys) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => "`jigless formats` lists its options".to_owned(),
                },
            });
            continue;
        };
        if let Some(value) = fitting(option, &setting.value) {
            values.insert(option.key.clone(), value);
        } else {
            let (key, value) = (&option.key, shown(&setting.value));
            let (accepts, default) = (accepts(option), shown(&option.default));
            faults.push(OptionFault {
                setting: index,
                message: format!("`{key}` cannot be {value}"),
                fix: format!("give {accepts}; the default is {default}"),
            });
        }
    }
    if faults.is_empty() {
        Ok(values)
    } else {
        Err(faults)
    }
}

/// The reading of a value that an option takes: as it is, or, for a text, as a number or truth value.
fn fitting(option: &OptionJson, value: &Value) -> Option<Value> {
    let read = match value {
        Value::String(text) => serde_json::from_str::<Value>(text).ok(),
        _ => None,
    };
    // A number may be meant as a text: `--set pen.title=7`.
    let as_text = option.default.is_string().then(|| json!(shown(value)));
    let mut readings = [Some(value.clone()), read, as_text].into_iter().flatten();
    readings.find(|reading| {
        kind(reading) == kind(&option.default)
            && (option.choices.is_empty() || option.choices.contains(reading))
    })
}

fn kind(value: &Value) -> &'static str {
    match value {
        Value::String(_) => "string",
        Value::Number(_) => "number",
        Value::Bool(_) => "boolean",
        Value::Null => "null",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    }
}

fn accepts(option: &OptionJson) -> String {
    if !option.choices.is_empty() {
        let words: Vec<String> = option.choices.iter().map(shown).collect();
        return words.join(" | ");
    }
    let word = match option.default {
        Value::Bool(_) => "true | false",
        Value::Number(_) => "number",
        _ => "text",
    };
    word.to_owned()
}

fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn option(key: &str, default: Value, choices: &[Value]) -> OptionJson {
        OptionJson {
            key: key.to_owned(),
            help: "Something.".to_owned(),
            default,
            choices: choices.to_vec(),
        }
    }

    fn set(key: &str, value: Value) -> Setting {
        Setting {
            key: key.to_owned(),
            value,
        }
    }

    #[test]
    fn settings_are_read_as_what_the_option_wants() {
        let options = [
            option("pen", json!(1), &[]),
            option("title", json!(""), &[]),
            option("up", json!(false), &[]),
            option("size", json!("a3"), &[json!("a3"), json!("a4")]),
        ];
        let settings = [
            set("pen", json!("2")),
            set("title", json!(7)),
            set("up", json!("true")),
            set("size", json!("a4")),
        ];
        let values = settle(&options, &settings).unwrap();
        assert_eq!(
            Value::Object(values),
            json!({"pen": 2, "title": "7", "up": true, "size": "a4"})
        );
        let wrong = [
            set("pne", json!(1)),
            set("pen", json!("wide")),
            set("size", json!("a5")),
        ];
        let faults = settle(&options, &wrong).unwrap_err();
        assert_eq!(faults.len(), 3);
        assert_eq!(faults[0].fix, "did you mean `pen`?");
        assert_eq!(faults[2].fix, "give a3 | a4; the default is a3");
    }

    #[test]
    fn declarations_that_nobody_could_set_are_refused() {
        assert!(check(&[option("a", json!(1), &[]), option("b-2", json!("x"), &[])]).is_ok());
        for wrong in [
            vec![option("A", json!(1), &[])],
            vec![option("", json!(1), &[])],
            vec![option("a", json!(1), &[]), option("a", json!(1), &[])],
            vec![option("a", Value::Null, &[])],
            vec![option("a", json!(1), &[json!(2)])],
        ] {
            assert!(check(&wrong).is_err(), "{wrong:?}");
        }
    }
}
