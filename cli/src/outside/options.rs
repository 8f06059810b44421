//! Options that an outside format declares: the same words and rules as for those that are built in.

use jigless_core::export::{OptionFault, OptionSpec, Setting, settle_values, specs_of};
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
    specs_of(&schema(options), &defaults(options))
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

fn defaults(options: &[OptionJson]) -> Map<String, Value> {
    let one = |option: &OptionJson| (option.key.clone(), option.default.clone());
    options.iter().map(one).collect()
}

/// The options in force: the defaults, then each setting in order.
pub(super) fn settle(
    options: &[OptionJson],
    settings: &[Setting],
) -> Result<Map<String, Value>, Vec<OptionFault>> {
    let fits = |values: &Map<String, Value>, key: &str| {
        let option = options.iter().find(|option| option.key == key);
        match (option, values.get(key)) {
            (Some(option), Some(value)) => fit(option, value),
            _ => Ok(()),
        }
    };
    settle_values(&specs(options), defaults(options), settings, &[], fits)
}

/// Why an option cannot have a value.
fn fit(option: &OptionJson, value: &Value) -> Result<(), String> {
    if kind(value) != kind(&option.default) {
        Err(format!(
            "it is a {}, not a {}",
            kind(value),
            kind(&option.default)
        ))
    } else if option.choices.is_empty() || option.choices.contains(value) {
        Ok(())
    } else {
        Err("it is none of the choices".to_owned())
    }
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
