//! Plans of the fixtures as data.

use std::path::PathBuf;

use jigless_core::load::IncludeReader;
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;

use crate::fixtures::fixture;

struct Beside(PathBuf);

impl IncludeReader for Beside {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        std::fs::read(self.0.join(path)).map_err(|error| error.to_string())
    }
}

/// A plan below `fixtures/` and the work on its parts.
///
/// # Panics
/// When it cannot be read or has errors.
pub fn compiled(plan: &str) -> (Plan, Vec<Workpiece>) {
    let folder = fixture(plan);
    let bytes = std::fs::read(folder.join("plan.yaml")).expect("a readable plan");
    let compiled = jigless_core::compile("plan.yaml", &bytes, &Beside(folder));
    let reported: Vec<String> = compiled
        .findings
        .iter()
        .map(|finding| finding.message.clone())
        .collect();
    compiled
        .result
        .unwrap_or_else(|| panic!("{plan}: {reported:#?}"))
}
