//! The JSON Schema (draft 2020-12) of a plan file, made from the same tables of keys that plans are read by.
//!
//! An editor that knows it completes keys, shows what they mean and marks what cannot be. It says less than
//! `jigless check`: names, lengths that use one another, and everything about the wood are beyond it.

use jigless_check::{CHECKS, LimitUnit};
use jigless_language::build::BUILDERS;
use jigless_language::feature::Registry;
use jigless_language::joint::JOINTS;
use jigless_language::resolve::{
    ACCEPT, Field, IncludeKeys, KeySet, Need, PairKeys, PartKeys, PlacementKeys, PlanKeys, Shape,
    SpreadKeys, StockKeys, check_fields,
};
use jigless_language::usage::USAGE;
use serde_json::{Map, Value, json};

/// Names the draft that the schema is written in.
pub const DRAFT: &str = "https://json-schema.org/draft/2020-12/schema";

/// The schema of plan files and of the files that they include.
pub fn schema(registry: &Registry) -> Value {
    let plan = object(PlanKeys::FIELDS, &[]);
    let mut included = object(IncludeKeys::FIELDS, &[]);
    // What marks a plan is what an included file does not have.
    included["not"] = json!({"required": ["jigless"]});
    let mut plan = plan;
    plan["required"] = json!(["jigless", "title", "units", "stock"]);
    plan["anyOf"] = json!([{"required": ["parts"]}, {"required": ["builds"]}]);
    json!({
        "$schema": DRAFT,
        "title": "A plan of Jigless",
        "description": "From one description of the parts of shop furniture to templates, machine files and lists.",
        "if": {"type": "object", "required": ["jigless"]},
        "then": {"$ref": "#/$defs/plan"},
        "else": {"$ref": "#/$defs/included"},
        "$defs": definitions(registry, &plan, &included),
    })
}

fn definitions(registry: &Registry, plan: &Value, included: &Value) -> Value {
    let edge = json!({"enum": ["left", "right", "top", "bottom"]});
    let corner = json!({"enum": ["bottom-left", "bottom-right", "top-right", "top-left"]});
    let length = json!({"$ref": "#/$defs/length"});
    let distance_map = |least: u32, most: u32| {
        json!({
            "type": "object",
            "propertyNames": edge,
            "additionalProperties": length,
            "minProperties": least,
            "maxProperties": most,
        })
    };
    json!({
        "plan": plan,
        "included": included,
        "text": {
            "description": "a text on one line; a bare number or truth value counts as its text",
            "type": ["string", "number", "boolean"],
        },
        "length": {
            "description": "a number in the plan's unit, or a text such as `3/4 in`, `1 ft 6 in`, `18 mm` or \
                `(width - 2*gap)/3`",
            "type": ["number", "string"],
            "not": {"const": ""},
        },
        "size": above_zero("a length above 0", true),
        "distance": at_least_zero("a length of 0 or more"),
        "edge": edge,
        "edges": one_or_list(&json!({"$ref": "#/$defs/edge"})),
        "corners": one_or_list(&corner),
        "point": {"type": "array", "items": length, "minItems": 2, "maxItems": 2},
        "place": {
            "description": "`[x, y]` from left and bottom, or a distance from each of two edges",
            "anyOf": [{"$ref": "#/$defs/point"}, distance_map(2, 2)],
        },
        "edge_distances": distance_map(1, 4),
        "spread": {
            "description": "positions along an edge, from its bottom or left end",
            "anyOf": [
                length,
                {"type": "array", "items": length, "minItems": 1},
                object(SpreadKeys::FIELDS, &[]),
            ],
        },
        "outline": {
            "type": "array",
            "minItems": 3,
            "items": {
                "anyOf": [
                    {"$ref": "#/$defs/point"},
                    {
                        "type": "object",
                        "properties": {
                            "at": {"$ref": "#/$defs/place"},
                            "radius": {"$ref": "#/$defs/distance"},
                            "arc": {"$ref": "#/$defs/place"},
                        },
                        "required": ["at"],
                        "additionalProperties": false,
                    },
                    distance_map(2, 2),
                ],
            },
        },
        "reasons": {
            "type": ["object", "null"],
            "propertyNames": {"enum": CHECKS.iter().map(|kind| kind.code.as_str()).collect::<Vec<_>>()},
            "additionalProperties": {"type": "string", "minLength": 1},
        },
        "stock": object(StockKeys::FIELDS, &[ACCEPT]),
        "triple": {"type": "array", "items": length, "minItems": 3, "maxItems": 3},
        "part": part(),
        "features": {
            "type": ["array", "null"],
            "items": features(registry),
        },
        "usage": {
            "type": ["array", "null"],
            "items": one_key(USAGE.iter().map(|kind| (kind.key, kind.summary, kind.fields)), &[ACCEPT]),
        },
        "joints": {
            "type": ["array", "null"],
            "items": one_key(JOINTS.iter().map(|kind| (kind.key, kind.summary, kind.fields)), &[]),
        },
        "build": one_key(BUILDERS.iter().map(|kind| (kind.key, kind.summary, kind.fields)), &[]),
        "checks": checks(),
    })
}

/// A part. What it must have, a builder may have given it already.
fn part() -> Value {
    let mut part = object(PartKeys::FIELDS, &[ACCEPT]);
    if let Some(keys) = part.as_object_mut() {
        keys.remove("required");
    }
    part
}

/// An entry of `features:`; `leave_out` takes away what a builder or joint makes.
fn features(registry: &Registry) -> Value {
    let kinds = registry
        .kinds()
        .map(|kind| (kind.key, kind.summary, kind.fields));
    let common: Vec<Field> = std::iter::once(ACCEPT)
        .chain(PairKeys::FIELDS.iter().copied())
        .collect();
    let mut features = one_key(kinds, &common);
    features["properties"]["leave_out"] = json!({
        "description": "label of a feature that a builder or joint makes, and that this part is not to have",
        "$ref": "#/$defs/text",
    });
    features
}

/// A map with exactly one of some keys.
fn one_key(
    kinds: impl Iterator<Item = (&'static str, &'static str, &'static [Field])>,
    common: &[Field],
) -> Value {
    let mut properties = Map::new();
    for (key, summary, fields) in kinds {
        let mut schema = object(fields, common);
        schema["description"] = summary.into();
        properties.insert(key.to_owned(), schema);
    }
    json!({
        "type": "object",
        "properties": properties,
        "additionalProperties": false,
        "minProperties": 1,
        "maxProperties": 1,
    })
}

fn checks() -> Value {
    let mut properties = Map::new();
    for kind in CHECKS {
        let mut schema = object(
            check_fields(kind.limit.as_ref().map(|limit| limit.unit)),
            &[],
        );
        schema["description"] = format!("{}: {}", kind.name, kind.measures).into();
        if let Some(limit) = &kind.limit {
            let number = jigless_model::units::decimal(limit.default, 3);
            let default = match limit.unit {
                LimitUnit::Millimetres => json!(format!("{number} mm")),
                LimitUnit::Number => json!(limit.default),
            };
            schema["properties"]["limit"]["default"] = default;
            schema["properties"]["limit"]["description"] = limit.help.into();
        }
        schema["properties"]["severity"]["default"] = json!(kind.severity);
        properties.insert(kind.code.to_string(), schema);
    }
    json!({
        "type": ["object", "null"],
        "properties": properties,
        "additionalProperties": false,
    })
}

/// A map with declared keys and no others.
fn object(fields: &[Field], common: &[Field]) -> Value {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for field in fields.iter().chain(common) {
        properties.insert(field.key.to_owned(), property(field));
        if field.need == Need::Required {
            required.push(field.key);
        }
    }
    // A map in which nothing must stand may be left empty.
    let kind = if required.is_empty() {
        json!(["object", "null"])
    } else {
        json!("object")
    };
    let mut schema = json!({
        "type": kind,
        "properties": properties,
        "additionalProperties": false,
    });
    if !required.is_empty() {
        schema["required"] = json!(required);
    }
    schema
}

fn property(field: &Field) -> Value {
    let mut schema = of_shape(&field.shape);
    let help = match unit_of(&field.shape) {
        Some(unit) => format!("{} ({unit})", field.meaning()),
        None => field.meaning(),
    };
    schema["description"] = help.into();
    if let Need::Default(default) = field.need {
        schema["default"] = default_of(&field.shape, default);
    }
    schema
}

/// What a bare number means where the key does not say.
fn unit_of(shape: &Shape) -> Option<&'static str> {
    match shape {
        Shape::Size
        | Shape::Distance
        | Shape::Length
        | Shape::Depth
        | Shape::Sizes
        | Shape::Place
        | Shape::Step
        | Shape::Triple
        | Shape::Spread
        | Shape::EdgeDistances
        | Shape::Points => Some("bare numbers in the plan's unit"),
        Shape::Degrees(..) => Some("degrees"),
        _ => None,
    }
}

/// Defaults are texts that the same reader reads; a plain number is shown as one.
fn default_of(shape: &Shape, text: &str) -> Value {
    match shape {
        Shape::Count
        | Shape::AtHand
        | Shape::Number
        | Shape::Degrees(..)
        | Shape::Distance
        | Shape::Length => serde_json::from_str(text).unwrap_or_else(|_| text.into()),
        _ => text.into(),
    }
}

fn of_shape(shape: &Shape) -> Value {
    let reference = |name: &str| json!({"$ref": format!("#/$defs/{name}")});
    match shape {
        Shape::Text => reference("text"),
        Shape::Word(words) => json!({"enum": words_of(words)}),
        Shape::Size => reference("size"),
        Shape::Distance => reference("distance"),
        Shape::Length => reference("length"),
        Shape::Depth => above_zero("a depth, or `through`", true),
        Shape::Degrees(low, high) => json!({
            "type": ["number", "string"],
            "minimum": low,
            "maximum": high,
        }),
        Shape::Number => above_zero("a number above 0", true),
        // A count may be worked out: `pegs`.
        Shape::Count => json!({
            "type": ["integer", "string"],
            "minimum": 1,
            "not": {"const": ""},
        }),
        Shape::AtHand => json!({
            "type": ["integer", "string"],
            "minimum": 0,
            "not": {"const": ""},
        }),
        Shape::Counts => one_or_list(&of_shape(&Shape::Count)),
        Shape::Words(words) => one_or_list(&of_shape(&Shape::Word(words))),
        Shape::Place => reference("place"),
        Shape::Step => reference("point"),
        Shape::Triple => reference("triple"),
        Shape::Joints => reference("joints"),
        Shape::Placements => one_or_list(&object(PlacementKeys::FIELDS, &[])),
        Shape::Spread => reference("spread"),
        Shape::Edge => reference("edge"),
        Shape::Edges => reference("edges"),
        Shape::Corners => reference("corners"),
        Shape::Face => json!({"enum": ["front", "back"]}),
        Shape::Sizes => one_or_list(&reference("size")),
        Shape::EdgeDistances => reference("edge_distances"),
        Shape::Points => reference("outline"),
        Shape::Map(fields) => object(fields, &[]),
        Shape::Maps(fields) => json!({"type": ["array", "null"], "items": object(fields, &[])}),
        Shape::Labels(words) => json!({
            "type": "object",
            "propertyNames": {"enum": words},
            "additionalProperties": reference("text"),
        }),
        Shape::Values => json!({
            "type": ["object", "null"],
            "additionalProperties": {"type": ["number", "string"]},
        }),
        Shape::Stocks => named("stock"),
        Shape::Parts => named("part"),
        Shape::Builds => named("build"),
        Shape::Texts => one_or_list(&reference("text")),
        Shape::Reasons => reference("reasons"),
        Shape::Features => reference("features"),
        Shape::Checks => reference("checks"),
        Shape::Usage => reference("usage"),
    }
}

/// Some editors read `yes`, `no`, `true` and `false` as truth values and some as texts.
fn words_of(words: &[&str]) -> Vec<Value> {
    let mut all: Vec<Value> = words.iter().map(|word| json!(word)).collect();
    if words.contains(&"yes") || words.contains(&"true") {
        for word in ["yes", "no", "true", "false"] {
            if !words.contains(&word) {
                all.push(json!(word));
            }
        }
        all.extend([json!(true), json!(false)]);
    }
    all
}

fn named(definition: &str) -> Value {
    json!({
        "type": ["object", "null"],
        "additionalProperties": {"$ref": format!("#/$defs/{definition}")},
    })
}

fn above_zero(description: &str, exclusive: bool) -> Value {
    let bound = if exclusive {
        "exclusiveMinimum"
    } else {
        "minimum"
    };
    json!({
        "description": description,
        "type": ["number", "string"],
        bound: 0,
        "not": {"const": ""},
    })
}

fn at_least_zero(description: &str) -> Value {
    above_zero(description, false)
}

fn one_or_list(item: &Value) -> Value {
    json!({"anyOf": [item, {"type": "array", "items": item, "minItems": 1}]})
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_language::feature::FEATURES;

    /// Every definition that is referred to is there, and nothing that is there is left out.
    #[test]
    fn every_reference_leads_somewhere() {
        let schema = schema(&Registry::new());
        let mut names = std::collections::BTreeSet::new();
        collect(&schema, &mut names);
        for name in &names {
            let key = name.trim_start_matches("#/$defs/");
            assert!(schema["$defs"].get(key).is_some(), "{name}");
        }
        let defined: Vec<String> = schema["$defs"]
            .as_object()
            .unwrap()
            .keys()
            .map(|key| format!("#/$defs/{key}"))
            .collect();
        for name in defined {
            assert!(names.contains(&name), "{name} is never referred to");
        }
    }

    fn collect(value: &Value, names: &mut std::collections::BTreeSet<String>) {
        match value {
            Value::Object(map) => {
                for (key, value) in map {
                    if let ("$ref", Value::String(name)) = (key.as_str(), value) {
                        names.insert(name.clone());
                    }
                    collect(value, names);
                }
            }
            Value::Array(items) => items.iter().for_each(|item| collect(item, names)),
            _ => {}
        }
    }

    #[test]
    fn every_feature_and_key_is_described_with_its_default() {
        let schema = schema(&Registry::new());
        let features = &schema["$defs"]["features"]["items"]["properties"];
        for kind in FEATURES {
            for field in kind.fields {
                let property = &features[kind.key]["properties"][field.key];
                assert!(
                    property["description"].is_string(),
                    "{}.{}",
                    kind.key,
                    field.key
                );
                let has_default = matches!(field.need, Need::Default(_));
                assert_eq!(
                    property.get("default").is_some(),
                    has_default,
                    "{}.{}",
                    kind.key,
                    field.key
                );
            }
        }
        assert_eq!(
            features["hinge_cups"]["properties"]["diameter"]["default"],
            "35 mm"
        );
    }
}
