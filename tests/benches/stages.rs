//! How long each stage takes for the glaze cabinet, which has 20 parts: `cargo bench -p jigless-tests`.

use std::path::Path;

use divan::Bencher;
use jigless_core::export::{ExportInput, Stamp};
use jigless_core::feature::Registry;
use jigless_core::load::{IncludeReader, load};
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;
use jigless_core::{check, lower, resolve};
use jigless_exporters::{EXPORTERS, exporter};
use jigless_tests::fixtures::fixture;

fn main() {
    divan::main();
}

struct Folder;

impl IncludeReader for Folder {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        read(&fixture("glaze-cabinet").join(path))
    }
}

fn read(path: &Path) -> Result<Vec<u8>, String> {
    std::fs::read(path).map_err(|error| error.to_string())
}

fn text() -> Vec<u8> {
    read(&fixture("glaze-cabinet/plan.yaml")).expect("the fixture can be read")
}

fn compiled() -> (Plan, Vec<Workpiece>) {
    let compiled = jigless_core::compile("plan.yaml", &text(), &Folder);
    compiled.result.expect("the fixture has no errors")
}

#[divan::bench]
fn loading(bencher: Bencher) {
    let text = text();
    bencher.bench(|| load("plan.yaml", &text, &Folder));
}

#[divan::bench]
fn resolving(bencher: Bencher) {
    let (sources, tree, _) = load("plan.yaml", &text(), &Folder);
    let tree = tree.expect("the fixture is YAML");
    let registry = Registry::new();
    let checks = check::catalogue();
    bencher.bench(|| resolve::resolve(&sources, &tree, &registry, &checks));
}

#[divan::bench]
fn lowering(bencher: Bencher) {
    let (plan, _) = compiled();
    bencher.bench(|| lower::lower(&plan));
}

#[divan::bench]
fn checking(bencher: Bencher) {
    let (plan, workpieces) = compiled();
    bencher.bench(|| check::check(&plan, &workpieces));
}

/// A format by its id.
#[divan::bench(args = EXPORTERS.iter().map(|exporter| exporter.id()))]
fn exporting(bencher: Bencher, id: &str) {
    let (plan, workpieces) = compiled();
    let stamp = Stamp::new("bench", None);
    let input = ExportInput::new(&plan, &workpieces, &stamp);
    let exporter = exporter(id).expect("a listed format");
    let Ok(exporter) = exporter.configure(&[]) else {
        panic!("{id} has no defaults");
    };
    bencher.bench(|| exporter.export(&input));
}
