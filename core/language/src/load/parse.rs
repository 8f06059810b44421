//! YAML text to [`Node`]s.

use std::cell::RefCell;
use std::collections::BTreeMap;

use jigless_model::code::Code;
use jigless_model::diag::{Finding, Findings};
use jigless_model::source::{FileId, Sources, Span, Spanned};
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_yaml::budget::BudgetBreach;
use serde_yaml::options::{DuplicateKeyPolicy, NonFiniteFloatPolicy};
use serde_yaml::{Budget, Options, Spanned as Placed};

use super::node::{Entry, Node, Scalar, Value};
use crate::codes;

/// The largest file that is read, in bytes. A plan of ten thousand parts is about 7 MB.
pub const MAX_FILE_BYTES: usize = 8 * 1024 * 1024;

/// How many values a file may hold once its aliases are written out, and how deep they may nest.
const MAX_VALUES: usize = 8_000_000;
const MAX_ALIASED: usize = 200_000;
const MAX_DEPTH: usize = 48;

/// Reads a YAML text into a tree and adds it to the sources.
///
/// # Errors
/// One finding, when the text is no YAML, is not UTF-8, is too large or nests too deep; several when keys are given
/// twice.
pub fn parse(sources: &mut Sources, name: &str, bytes: &[u8]) -> Result<Node, Findings> {
    let text = match decode(bytes) {
        Ok(text) => text,
        Err(refused) => {
            let file = sources.add(name, refused.shown);
            let span = Span {
                file,
                start: 0,
                end: 0,
            };
            return Err(Finding::error(refused.code, span, refused.message)
                .fix(refused.fix)
                .into());
        }
    };
    let file = sources.add(name, text);
    let source = sources.file(file);
    let place = |start: u32, end: u32| Span { file, start, end };

    if source.text.trim().is_empty() {
        return Err(
            Finding::error(codes::EMPTY_FILE, place(0, 0), "the file is empty")
                .fix("begin a plan with `jigless: 1`, `title:` and `units:`")
                .into(),
        );
    }
    let raw: RawNode = match serde_yaml::from_str_with_options(&source.text, options()) {
        Ok(raw) => raw,
        Err(error) => return Err(syntax_finding(sources, file, &error).into()),
    };
    let mut findings = Findings::new();
    let node = {
        let builder = Builder {
            file,
            text: &source.text,
            findings: RefCell::new(&mut findings),
        };
        builder.node(raw)
    };
    if findings.is_empty() {
        Ok(node)
    } else {
        Err(findings)
    }
}

/// Why a file has no text.
struct Refused {
    code: Code,
    message: String,
    fix: &'static str,
    /// What of it can be shown.
    shown: String,
}

/// The text of a file, or why it has none.
fn decode(bytes: &[u8]) -> Result<String, Refused> {
    let refuse = |code, message, fix| {
        Err(Refused {
            code,
            message,
            fix,
            shown: String::new(),
        })
    };
    if bytes.len() > MAX_FILE_BYTES {
        return refuse(
            codes::TOO_MUCH_YAML,
            format!(
                "the file has more than {MAX_FILE_BYTES} bytes ({} MB), and no more than that is read",
                MAX_FILE_BYTES >> 20
            ),
            "divide it into several plans",
        );
    }
    let utf_16_mark = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    let zeros = bytes.iter().take(64).any(|&byte| byte == 0);
    if utf_16_mark || zeros {
        return refuse(
            codes::NOT_TEXT,
            "the file is not UTF-8 text; it looks like UTF-16 or like no text at all".to_owned(),
            "save it as UTF-8 in your editor",
        );
    }
    let without_mark = bytes.strip_prefix(&[0xef, 0xbb, 0xbf]).unwrap_or(bytes);
    match std::str::from_utf8(without_mark) {
        Ok(text) => Ok(text.to_owned()),
        Err(error) => Err(Refused {
            code: codes::NOT_TEXT,
            message: format!(
                "byte {} of the file is not UTF-8 text",
                error.valid_up_to() + 1
            ),
            fix: "save it as UTF-8 in your editor",
            shown: String::from_utf8_lossy(without_mark).into_owned(),
        }),
    }
}

fn options() -> Options {
    // Non-finite numbers, `yes` and the like are kept as they were written: what they mean is for the reader of the
    // value to say, who knows what belongs there and can point at it.
    let mut budget = Budget::default();
    budget.max_nodes = MAX_VALUES;
    budget.max_events = 3 * MAX_VALUES;
    budget.max_depth = MAX_DEPTH;
    budget.max_documents = 1;
    budget.max_recorded_anchor_events = MAX_ALIASED;
    let mut options = Options::default();
    options.alias_limits.max_total_replayed_events = MAX_ALIASED;
    options.budget = Some(budget);
    options.duplicate_keys = DuplicateKeyPolicy::PassThrough;
    options.non_finite_float_policy = NonFiniteFloatPolicy::PassThrough;
    options.strict_booleans = true;
    options
}

/// What the YAML library says, at its place and in our words where its own are about programs.
fn syntax_finding(sources: &Sources, file: FileId, error: &serde_yaml::Error) -> Finding {
    let source = sources.file(file);
    let start = error.location().map_or(0, |location| {
        source.byte_at(location.line() as usize, location.column() as usize)
    });
    let span = Span {
        file,
        start,
        end: start,
    };
    let line = source.text[..start as usize].matches('\n').count();
    let written = source.text.lines().nth(line).unwrap_or_default();
    if written.trim_start_matches(' ').starts_with('\t') {
        return Finding::error(codes::TAB_INDENT, span, "the line is indented with a tab")
            .fix("indent with spaces");
    }
    let mut cause = error;
    while let serde_yaml::Error::AliasError { error, .. }
    | serde_yaml::Error::WithSnippet { error, .. } = cause
    {
        cause = error;
    }
    match cause {
        serde_yaml::Error::Budget {
            breach: BudgetBreach::Depth { .. },
            ..
        } => Finding::error(
            codes::TOO_MUCH_YAML,
            span,
            format!("values are nested more than {MAX_DEPTH} deep here"),
        )
        .fix("write it flatter; a plan needs fewer than ten levels"),
        serde_yaml::Error::MultipleDocuments { .. }
        | serde_yaml::Error::Budget {
            breach: BudgetBreach::Documents { .. },
            ..
        } => Finding::error(codes::TWO_DOCUMENTS, span, "a second YAML document begins here")
            .fix("take the `---` away; a file holds one plan"),
        serde_yaml::Error::Budget { .. }
        | serde_yaml::Error::AliasReplayLimitExceeded { .. }
        | serde_yaml::Error::AliasExpansionLimitExceeded { .. } => Finding::error(
            codes::TOO_MUCH_YAML,
            span,
            "the file grows too large here, with its aliases written out",
        )
        .fix(format!(
            "a file may hold {MAX_VALUES} values, and {MAX_ALIASED} of them through aliases (`*name`): use fewer aliases or split it"
        )),
        _ => {
            let said = cause.to_string();
            // The place is reported by the span; the library repeats it in its text.
            let said = said.split(" at line ").next().unwrap_or(&said);
            Finding::error(codes::YAML_SYNTAX, span, format!("this is not YAML: {said}"))
                .fix("check indentation, colons, brackets and quotes from here upward")
        }
    }
}

/// A value as the YAML library hands it over.
struct RawNode(Placed<RawValue>);

enum RawValue {
    Null,
    /// A text, after quotes and escapes.
    Text(String),
    /// A number or truth value; its text is taken from the source.
    Plain,
    List(Vec<RawNode>),
    Map(Vec<(RawNode, RawNode)>),
}

impl<'de> Deserialize<'de> for RawNode {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Placed::deserialize(deserializer).map(RawNode)
    }
}

impl<'de> Deserialize<'de> for RawValue {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(RawVisitor)
    }
}

struct RawVisitor;

impl<'de> Visitor<'de> for RawVisitor {
    type Value = RawValue;

    fn expecting(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.write_str("a value")
    }

    fn visit_bool<E>(self, _: bool) -> Result<RawValue, E> {
        Ok(RawValue::Plain)
    }

    fn visit_i64<E>(self, _: i64) -> Result<RawValue, E> {
        Ok(RawValue::Plain)
    }

    fn visit_i128<E>(self, _: i128) -> Result<RawValue, E> {
        Ok(RawValue::Plain)
    }

    fn visit_u64<E>(self, _: u64) -> Result<RawValue, E> {
        Ok(RawValue::Plain)
    }

    fn visit_u128<E>(self, _: u128) -> Result<RawValue, E> {
        Ok(RawValue::Plain)
    }

    fn visit_f64<E>(self, _: f64) -> Result<RawValue, E> {
        Ok(RawValue::Plain)
    }

    fn visit_str<E>(self, text: &str) -> Result<RawValue, E> {
        Ok(RawValue::Text(text.to_owned()))
    }

    fn visit_string<E>(self, text: String) -> Result<RawValue, E> {
        Ok(RawValue::Text(text))
    }

    fn visit_unit<E>(self) -> Result<RawValue, E> {
        Ok(RawValue::Null)
    }

    fn visit_none<E>(self) -> Result<RawValue, E> {
        Ok(RawValue::Null)
    }

    fn visit_some<D: Deserializer<'de>>(self, deserializer: D) -> Result<RawValue, D::Error> {
        deserializer.deserialize_any(RawVisitor)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut access: A) -> Result<RawValue, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = access.next_element()? {
            items.push(item);
        }
        Ok(RawValue::List(items))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<RawValue, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = access.next_entry()? {
            entries.push(entry);
        }
        Ok(RawValue::Map(entries))
    }
}

/// Turns raw values into nodes with spans in bytes.
struct Builder<'a> {
    file: FileId,
    text: &'a str,
    findings: RefCell<&'a mut Findings>,
}

impl Builder<'_> {
    fn node(&self, raw: RawNode) -> Node {
        let RawNode(placed) = raw;
        let mut span = self.span(placed.referenced);
        let value = match placed.value {
            RawValue::Null => Value::Null,
            RawValue::Text(text) => Value::Scalar(Scalar {
                quoted: self.written(placed.defined) != text,
                ..Scalar::plain(text)
            }),
            RawValue::Plain => Value::Scalar(Scalar::plain(self.written(placed.defined))),
            RawValue::List(items) => {
                let items: Vec<Node> = items.into_iter().map(|item| self.node(item)).collect();
                if let Some(last) = items.last() {
                    span.end = span.end.max(last.span.end);
                }
                Value::List(items)
            }
            RawValue::Map(entries) => {
                let entries = self.entries(entries);
                if let Some(last) = entries.last() {
                    span.end = span.end.max(last.value.span.end).max(last.key.span.end);
                }
                Value::Map(entries)
            }
        };
        Node { span, value }
    }

    fn entries(&self, raw: Vec<(RawNode, RawNode)>) -> Vec<Entry> {
        let mut entries: Vec<Entry> = Vec::with_capacity(raw.len());
        let mut first_of: BTreeMap<String, Span> = BTreeMap::new();
        for (raw_key, raw_value) in raw {
            let key = self.node(raw_key);
            let value = self.node(raw_value);
            let Value::Scalar(scalar) = key.value else {
                self.find(
                    Finding::error(codes::BAD_KEY, key.span, "a key must be a single word")
                        .fix("write `key: value`"),
                );
                continue;
            };
            if let Some(first) = first_of.get(&scalar.text) {
                let message = format!("`{}` is given twice", scalar.text);
                self.find(
                    Finding::error(codes::DUPLICATE_KEY, key.span, message)
                        .label(*first, "first given here")
                        .fix("keep one of them"),
                );
                continue;
            }
            first_of.insert(scalar.text.clone(), key.span);
            entries.push(Entry {
                key: Spanned::new(scalar.text, key.span),
                value,
            });
        }
        entries
    }

    fn find(&self, finding: Finding) {
        self.findings.borrow_mut().push(finding);
    }

    fn span(&self, location: serde_yaml::Location) -> Span {
        let limit = self.text.len() as u64;
        let start = location.span().byte_offset().unwrap_or(0).min(limit);
        let length = location.span().byte_len().unwrap_or(0);
        Span {
            file: self.file,
            start: start as u32,
            end: (start + length).min(limit) as u32,
        }
    }

    fn written(&self, location: serde_yaml::Location) -> &str {
        let span = self.span(location);
        self.text
            .get(span.start as usize..span.end as usize)
            .unwrap_or_default()
            .trim_end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Sources, Result<Node, Findings>) {
        let mut sources = Sources::default();
        let node = parse(&mut sources, "plan.yaml", text.as_bytes());
        (sources, node)
    }

    fn complaint(text: &str) -> String {
        let (sources, node) = read(text);
        let findings = node.expect_err("should have been refused").sorted();
        let finding = &findings[0];
        let span = finding.span.unwrap();
        let (line, column) = sources.file(span.file).line_column(span.start);
        format!("{line}:{column} {}: {}", finding.code, finding.message)
    }

    #[test]
    fn every_value_knows_its_place_and_its_text() {
        let (sources, node) = read(
            "a: 1.50\nb: [x, \"y z\", 3/4 in]\nc:\n  - hole: {at: [1, 2]}\n  - é: ~\nd: 'it''s'\nf: .nan\ng: yes\n",
        );
        let node = node.unwrap();
        let text = |key: &str| node.get(key).and_then(Node::scalar).unwrap();
        assert_eq!(text("a").text, "1.50");
        assert_eq!(sources.slice(node.get("a").unwrap().span), "1.50");
        assert_eq!((text("d").text.as_str(), text("d").quoted), ("it's", true));
        assert_eq!(text("f").text, ".nan");
        assert_eq!(text("g").text, "yes");
        let Value::List(items) = &node.get("b").unwrap().value else {
            panic!()
        };
        assert_eq!(sources.slice(items[1].span), "\"y z\"");
        assert_eq!(sources.slice(items[2].span), "3/4 in");
        assert!(!items[2].scalar().unwrap().quoted);
        let Value::List(items) = &node.get("c").unwrap().value else {
            panic!()
        };
        let hole = items[0].get("hole").unwrap();
        assert_eq!(
            sources.file(hole.span.file).line_column(hole.span.start),
            (4, 11)
        );
        let Value::Map(entries) = &items[1].value else {
            panic!()
        };
        assert_eq!(sources.slice(entries[0].key.span), "é");
        assert_eq!(entries[0].value.value, Value::Null);
    }

    #[test]
    fn json_keeps_numbers_and_texts_apart() {
        let (_, node) = read("{a: 1, b: 2.5, c: '3', d: true, e: a4, f: [1, x], g: ~, h: 1e999}");
        assert_eq!(
            node.unwrap().to_json().to_string(),
            r#"{"a":1,"b":2.5,"c":"3","d":true,"e":"a4","f":[1,"x"],"g":null,"h":"1e999"}"#
        );
    }

    #[test]
    fn an_alias_points_to_where_it_is_used() {
        let (sources, node) = read("a: &x 12\nb: *x\nc: &m {k: 7}\nd: *m\ne: {<<: *m, z: 1}\n");
        let node = node.unwrap();
        let b = node.get("b").unwrap();
        assert_eq!(b.scalar().unwrap().text, "12");
        assert_eq!(sources.file(b.span.file).line_column(b.span.start).0, 2);
        assert_eq!(
            node.get("d")
                .unwrap()
                .get("k")
                .unwrap()
                .scalar()
                .unwrap()
                .text,
            "7"
        );
        assert_eq!(
            node.get("e")
                .unwrap()
                .get("k")
                .unwrap()
                .scalar()
                .unwrap()
                .text,
            "7"
        );
    }

    #[test]
    fn faults_of_the_text_are_placed() {
        assert_eq!(complaint(""), "1:1 empty-file: the file is empty");
        assert_eq!(
            complaint("a: 1\nb: 2\na: 3\n"),
            "3:1 duplicate-key: `a` is given twice"
        );
        assert!(
            complaint("a:\n\tb: 1\n").starts_with("2:"),
            "{}",
            complaint("a:\n\tb: 1\n")
        );
        assert!(complaint("a: [1, 2\nb: 3\n").contains("yaml-syntax"));
        let deep = "[".repeat(100) + &"]".repeat(100);
        assert!(
            complaint(&deep).contains("too-much-yaml"),
            "{}",
            complaint(&deep)
        );
        let bomb = (1..12).fold("a0: &a0 [1,1]\n".to_owned(), |text, i| {
            let before = i - 1;
            let refs = vec![format!("*a{before}"); 10].join(",");
            format!("{text}a{i}: &a{i} [{refs}]\n")
        });
        assert!(
            complaint(&bomb).contains("too-much-yaml"),
            "{}",
            complaint(&bomb)
        );
        let two = complaint("a: 1\n---\nb: 2\n");
        assert!(two.contains("two-documents"), "{two}");
    }

    #[test]
    fn other_encodings_are_named() {
        let mut sources = Sources::default();
        for bytes in [b"\xff\xfea\0:\0".as_slice(), b"\0a\0:", b"a: \xe9\n"] {
            let findings = parse(&mut sources, "x", bytes).unwrap_err().sorted();
            assert_eq!(findings[0].code, "not-text");
        }
        assert!(parse(&mut sources, "x", b"\xef\xbb\xbfa: 1\n").is_ok());
    }
}
