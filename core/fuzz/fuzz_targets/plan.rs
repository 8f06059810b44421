//! Any bytes through load, resolve, lower and check: findings, never a panic.
//!
//! What stands after a NUL byte is what an included file holds.
#![no_main]

use jigless_core::load::IncludeReader;
use libfuzzer_sys::fuzz_target;

struct Rest<'a>(&'a [u8]);

impl IncludeReader for Rest<'_> {
    fn read(&self, _: &str) -> Result<Vec<u8>, String> {
        Ok(self.0.to_vec())
    }
}

fuzz_target!(|bytes: &[u8]| {
    let (plan, rest) = match bytes.iter().position(|byte| *byte == 0) {
        Some(at) => (&bytes[..at], &bytes[at + 1..]),
        None => (bytes, &bytes[..0]),
    };
    let compiled = jigless_core::compile("plan.yaml", plan, &Rest(rest));
    // Every place must be one that can be shown.
    for finding in compiled.findings.iter() {
        for span in finding.span.iter().chain(finding.labels.iter().map(|label| &label.span)) {
            let _ = compiled.sources.file(span.file).line_column(span.start);
            let _ = compiled.sources.slice(*span);
        }
    }
});
