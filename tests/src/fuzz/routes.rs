//! From a plan to findings, to an expanded plan, and to files.

use std::sync::LazyLock;

use jigless_core::compile::Compiled;
use jigless_core::export::{ExportInput, Setting, Stamp};
use jigless_core::feature::Registry;
use jigless_core::load::{IncludeReader, NoIncludes};
use jigless_exporters::EXPORTERS;
use serde_json::{Value, json};

use super::grow::{Choices, grow};

/// The bytes that stand for every included file.
struct Rest<'a>(&'a [u8]);

impl IncludeReader for Rest<'_> {
    fn read(&self, _: &str) -> Result<Vec<u8>, String> {
        Ok(self.0.to_vec())
    }
}

/// Bytes as a plan. What stands after a NUL byte is what an included file holds.
pub fn plan(bytes: &[u8]) {
    let (plan, rest) = match bytes.iter().position(|byte| *byte == 0) {
        Some(at) => (&bytes[..at], &bytes[at + 1..]),
        None => (bytes, &bytes[..0]),
    };
    can_be_shown(&jigless_core::compile("plan.yaml", plan, &Rest(rest)));
}

/// Every place of every finding is one that can be shown.
fn can_be_shown(compiled: &Compiled) {
    for finding in compiled.findings.iter() {
        let labels = finding.labels.iter().map(|label| &label.span);
        for span in finding.span.iter().chain(labels) {
            let (line, column) = compiled.sources.file(span.file).line_column(span.start);
            assert!(line >= 1 && column >= 1);
            let _ = compiled.sources.slice(*span);
        }
    }
}

/// The schema of plans. Parts have what a part must have, which a builder could have given them.
static SCHEMA: LazyLock<Value> = LazyLock::new(|| {
    let mut schema = jigless_core::schema::schema(&Registry::new());
    schema["$defs"]["part"]["required"] = json!(["stock", "width", "height"]);
    schema
});

fn grown(choices: &mut Choices) -> Compiled {
    let mut plan = grow(&SCHEMA, &json!({"$ref": "#/$defs/plan"}), choices);
    plan["jigless"] = json!(1);
    let text = plan.to_string();
    let compiled = jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes);
    can_be_shown(&compiled);
    compiled
}

/// Bytes as choices of a plan whose keys are all known.
pub fn grown_plan(bytes: &[u8]) {
    grown(&mut Choices::new(bytes));
}

/// Bytes as choices of a format, its options and a plan, of which files are made.
pub fn grown_files(bytes: &[u8]) {
    let mut choices = Choices::new(bytes);
    let exporter = EXPORTERS[choices.below(EXPORTERS.len())];
    let schema = exporter.options_schema();
    let options = grow(&schema, &schema, &mut choices);
    let settings = options.as_object().into_iter().flatten();
    let settings: Vec<Setting> = settings
        .map(|(key, value)| Setting {
            key: key.clone(),
            value: value.clone(),
        })
        .collect();
    let Ok(configured) = exporter.configure(&settings) else {
        return;
    };
    let Some((plan, workpieces)) = grown(&mut choices).result else {
        return;
    };
    let stamp = Stamp::new("fuzz", None);
    let input = ExportInput::new(&plan, &workpieces, &stamp);
    if !configured.vet(&input).has_errors() {
        // An error is an answer.
        let _ = configured.export(&input);
    }
}
