//! Values that hold against a JSON Schema, grown from bytes: every byte is a choice, and where they end growth ends. So
//! the fuzzer changes a key, a number or the length of a list by changing a byte, and hardly ever leaves the format.

use serde_json::{Map, Number, Value, json};

/// Bytes that are used up as choices.
#[derive(Debug)]
pub struct Choices<'a> {
    bytes: &'a [u8],
}

impl<'a> Choices<'a> {
    /// From the first byte on.
    pub fn new(bytes: &'a [u8]) -> Self {
        Self { bytes }
    }

    /// A number below an end that is not 0; 0 where no bytes are left.
    pub fn below(&mut self, end: usize) -> usize {
        let Some((first, rest)) = self.bytes.split_first() else {
            return 0;
        };
        self.bytes = rest;
        usize::from(*first) % end
    }

    fn one_of<'b, T>(&mut self, items: &'b [T]) -> Option<&'b T> {
        (!items.is_empty()).then(|| &items[self.below(items.len())])
    }
}

/// Names of everything that a plan names; few, so that what is named is often there.
const NAMES: [&str; 6] = ["a", "b", "c", "d", "a-left", "a.shelf"];

/// Numbers that are sizes of furniture, and some that are none.
const NUMBERS: [f64; 28] = [
    18.0, 300.0, 600.0, 100.0, 37.0, 5.0, 10.0, 3.0, 2.0, 1.0, 8.0, 400.0, 900.0, 35.0, 12.5, 60.0,
    6.0, 2000.0, 45.0, 90.0, 0.5, 0.0, -1.0, -40.0, 0.001, 10_000.0, 1e9, 1e300,
];

/// Texts where a length or number may be a text.
const CALCULATIONS: [&str; 14] = [
    "width",
    "height / 2",
    "thickness",
    "width - 37",
    "(width - 2*thickness) / 3",
    "3/4 in",
    "18 mm",
    "45 deg",
    "a",
    "b + 1",
    "min(width, height)",
    "through",
    "1/0",
    "floor(width / 32)",
];

/// Texts of any kind: names are the most useful.
const TEXTS: [&str; 12] = [
    "a",
    "b",
    "c",
    "d",
    "a-left",
    "a.shelf",
    "left",
    "bottom",
    "plywood",
    "Ø 5 × é",
    "x\ny",
    "",
];

/// A list or map seldom has more entries than this.
const FEW: usize = 4;
/// How deep values lie in one another.
const DEEPEST: usize = 14;

/// Grows a value that holds against the schema at `at`, which is a part of `whole`.
pub fn grow(whole: &Value, at: &Value, choices: &mut Choices) -> Value {
    Growth { whole, choices }.value(at, 0)
}

struct Growth<'a, 'b, 'c> {
    whole: &'a Value,
    choices: &'b mut Choices<'c>,
}

impl Growth<'_, '_, '_> {
    fn value(&mut self, at: &Value, depth: usize) -> Value {
        if depth > DEEPEST {
            return Value::Null;
        }
        if let Some(name) = at["$ref"].as_str() {
            let pointer = name.trim_start_matches('#');
            let whole = self.whole;
            return whole
                .pointer(pointer)
                .map_or(Value::Null, |there| self.value(there, depth + 1));
        }
        if let Some(value) = at.get("const") {
            return value.clone();
        }
        if let Some(values) = at["enum"].as_array() {
            return self.choices.one_of(values).cloned().unwrap_or_default();
        }
        let kind = self.kind(at);
        if kind.is_none() {
            let ways = at["anyOf"].as_array().or(at["oneOf"].as_array());
            let way = ways.and_then(|ways| self.choices.one_of(ways).cloned());
            return way.map_or(Value::Null, |way| self.value(&way, depth + 1));
        }
        match kind.as_deref() {
            Some("object") => self.object(at, depth),
            Some("array") => self.array(at, depth),
            Some("boolean") => json!(self.choices.below(2) == 1),
            Some("integer") => json!(self.count()),
            Some("number") => self.number(at),
            Some("string") => self.text(at),
            _ => Value::Null,
        }
    }

    /// One of the kinds that a schema allows; `null` only where there is no other.
    fn kind(&mut self, at: &Value) -> Option<String> {
        match &at["type"] {
            Value::String(kind) => Some(kind.clone()),
            Value::Array(kinds) => {
                let kinds: Vec<&Value> = kinds.iter().filter(|kind| *kind != "null").collect();
                let kind = self.choices.one_of(&kinds).and_then(|kind| kind.as_str());
                Some(kind.unwrap_or("null").to_owned())
            }
            _ if at["properties"].is_object() => Some("object".to_owned()),
            _ => None,
        }
    }

    fn object(&mut self, at: &Value, depth: usize) -> Value {
        let mut made = Map::new();
        let empty = Map::new();
        let properties = at["properties"].as_object().unwrap_or(&empty);
        let keys: Vec<&String> = properties.keys().collect();
        let required = at["required"].as_array().into_iter().flatten();
        for key in required.filter_map(Value::as_str) {
            let value = self.value(&at["properties"][key], depth + 1);
            made.insert(key.to_owned(), value);
        }
        let most = at["maxProperties"]
            .as_u64()
            .map_or(FEW, |most| most as usize);
        let least = at["minProperties"]
            .as_u64()
            .map_or(0, |least| least as usize);
        let wanted = made.len() + least + self.choices.below(most.max(least) - least + 1);
        let named = at["additionalProperties"].is_object();
        let names: Vec<String> = match at["propertyNames"]["enum"].as_array() {
            Some(words) => words
                .iter()
                .filter_map(Value::as_str)
                .map(str::to_owned)
                .collect(),
            None => NAMES.map(str::to_owned).to_vec(),
        };
        for _ in made.len()..wanted {
            if let Some(key) = self.choices.one_of(&keys) {
                let value = self.value(&properties[key.as_str()], depth + 1);
                made.insert((*key).clone(), value);
            } else if named && let Some(name) = self.choices.one_of(&names).cloned() {
                let value = self.value(&at["additionalProperties"], depth + 1);
                made.insert(name, value);
            }
        }
        Value::Object(made)
    }

    fn array(&mut self, at: &Value, depth: usize) -> Value {
        let least = at["minItems"].as_u64().unwrap_or(0) as usize;
        let most = at["maxItems"]
            .as_u64()
            .map_or(least + FEW, |most| most as usize);
        let count = least + self.choices.below(most - least + 1);
        (0..count)
            .map(|_| self.value(&at["items"], depth + 1))
            .collect()
    }

    /// Mostly few, sometimes a great many.
    fn count(&mut self) -> u64 {
        match self.choices.below(64) {
            63 => 1_000_000_000,
            62 => 5_000,
            few => few as u64 % 12,
        }
    }

    fn number(&mut self, at: &Value) -> Value {
        let number = self.choices.one_of(&NUMBERS).copied().unwrap_or(0.0);
        let least = at["minimum"].as_f64().unwrap_or(f64::MIN);
        let most = at["maximum"].as_f64().unwrap_or(f64::MAX);
        Number::from_f64(number.clamp(least, most)).map_or(Value::Null, Value::Number)
    }

    fn text(&mut self, at: &Value) -> Value {
        let kinds = at["type"].as_array();
        // Whether a number could stand here, too; a word that is a truth value is a text of any kind.
        let has = |kind: &str| kinds.is_some_and(|kinds| kinds.iter().any(|it| it == kind));
        let number = (has("number") || has("integer")) && !has("boolean");
        let texts: &[&str] = if number { &CALCULATIONS } else { &TEXTS };
        json!(self.choices.one_of(texts))
    }
}
