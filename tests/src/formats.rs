//! Formats that can be asked for as they are.

use jigless_exporters::EXPORTERS;
use jigless_model::export::AnyExporter;

/// Every format but the one that needs a profile: a program asks for tools with feeds and speeds, and has tests of its own
/// that give them.
pub fn without_a_profile() -> impl Iterator<Item = &'static dyn AnyExporter> {
    EXPORTERS
        .iter()
        .copied()
        .filter(|exporter| exporter.id() != "ngc-router")
}
