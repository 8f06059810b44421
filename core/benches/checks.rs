//! How long the checks of a large plan take: 10,000 parts of 20 features each, all in one plan.
//!
//! Run with `cargo bench -p jigless-core`.

use std::fmt::Write as _;
use std::sync::OnceLock;

use jigless_core::check::{catalogue, check};
use jigless_core::feature::Registry;
use jigless_core::load::{NoIncludes, load};
use jigless_core::lower::lower;
use jigless_core::plan::Plan;
use jigless_core::resolve::resolve;
use jigless_core::workpiece::Workpiece;

fn main() {
    divan::main();
}

/// A plan of so many parts: holes, a row, a groove, a recess, openings and a notch on each, 20 features in all.
fn text(parts: usize) -> String {
    let mut text = String::from(
        "jigless: 1\ntitle: Large\nunits: mm\nstock: {board: {thickness: 18, kind: plywood, density: 680, sheets: [{width: 1220, height: 2440}]}}\nparts:\n",
    );
    for part in 0..parts {
        let _ = write!(
            text,
            "  p{part}:\n    stock: board\n    width: {}\n    height: 700\n    grain: height\n    features:\n",
            400 + part % 50
        );
        for hole in 0..12 {
            let _ = writeln!(
                text,
                "      - hole: {{at: [{}, {}], diameter: 5, depth: 12}}",
                40 + 25 * (hole % 4),
                100 + 40 * (hole / 4)
            );
        }
        text.push_str("      - hole_row: {first: [200, 100], step: [0, 32], count: 16, diameter: 5, depth: 10}\n");
        text.push_str("      - hole_row: {first: [240, 100], step: [0, 32], count: 16, diameter: 5, depth: 10, face: back}\n");
        text.push_str("      - groove: {along: width, from: {bottom: 20}, width: 6.2, depth: 6}\n");
        text.push_str("      - rebate: {edge: top, width: 6.2, depth: 8}\n");
        text.push_str(
            "      - cutout: {at: [300, 300], width: 60, height: 90, corner_radius: 8}\n",
        );
        text.push_str("      - cutout: {centre: [330, 500], diameter: 60}\n");
        text.push_str(
            "      - notch: {edge: right, start: 0, width: 80, depth: 60, corner_radius: 10}\n",
        );
        text.push_str(
            "      - edge_hole: {edge: left, along: [150, 350, 550], diameter: 8, depth: 20}\n",
        );
    }
    text
}

/// A plan of so many parts in their places: stools of two sides and a shelf, screwed, with work on all of them, and room
/// for a driver between each two.
fn placed_text(parts: usize) -> String {
    let mut text = String::from(
        "jigless: 1\ntitle: Large\nunits: mm\nstock: {board: {thickness: 18, kind: plywood, density: 680}}\nparts:\n",
    );
    let mut joints = String::from("joints:\n");
    for unit in 0..parts / 3 {
        // All of 10,000 parts within the 10 m that a length may have.
        let (x, z) = (300 * (unit % 32), 90 * (unit / 32));
        let _ = write!(
            text,
            "  l{unit}:\n    stock: board\n    width: 80\n    height: 120\n    place: {{at: [{x}, 0, {z}], width: back, height: up}}\n    features:\n      - hole_row: {{first: [40, 20], step: [0, 15], count: 4, diameter: 5, depth: 10}}\n"
        );
        let _ = writeln!(
            text,
            "  r{unit}: {{stock: board, width: 80, height: 120, place: {{at: [{}, 0, {z}], width: front, height: up}}}}",
            x + 118
        );
        let _ = writeln!(
            text,
            "  s{unit}: {{stock: board, width: 100, height: 80, place: {{at: [{}, 90, {z}], height: back}}}}",
            x + 18
        );
        let _ = write!(
            joints,
            "  - butt: {{part: s{unit}, to: l{unit}}}\n  - butt: {{part: s{unit}, to: r{unit}}}\n"
        );
    }
    text + &joints
}

/// The checks of parts in their places, which are to take time in proportion to their number.
#[divan::bench(args = [1_000, 3_000, 10_000], sample_count = 5, sample_size = 1)]
fn checks_of_placed_parts(bencher: divan::Bencher, parts: usize) {
    let text = placed_text(parts);
    let compiled = jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes);
    let found: Vec<&str> = compiled
        .findings
        .iter()
        .map(|f| f.message.as_str())
        .collect();
    assert!(found.is_empty(), "the plan is meant to be sound: {found:?}");
    let (plan, workpieces) = compiled.result.expect("no errors");
    bencher.bench(|| divan::black_box(check(&plan, &workpieces)));
}

fn compiled() -> &'static (Plan, Vec<Workpiece>) {
    static COMPILED: OnceLock<(Plan, Vec<Workpiece>)> = OnceLock::new();
    COMPILED.get_or_init(|| {
        let compiled = jigless_core::compile("plan.yaml", text(10_000).as_bytes(), &NoIncludes);
        let found: Vec<&str> = compiled
            .findings
            .iter()
            .map(|f| f.message.as_str())
            .collect();
        assert!(found.is_empty(), "the plan is meant to be sound: {found:?}");
        compiled.result.expect("no errors")
    })
}

/// The checks alone, on parts that are read and lowered.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn checks_of_10_000_parts_of_20_features() {
    let (plan, workpieces) = compiled();
    divan::black_box(check(plan, workpieces));
}

/// Everything that `jigless check` does before it prints: load, resolve, lower and check.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn all_stages_of_10_000_parts_of_20_features(bencher: divan::Bencher) {
    bencher
        .with_inputs(|| text(10_000))
        .bench_values(|text| jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes));
}

/// The stages before the checks, to see what the checks add.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn load_resolve_and_lower(bencher: divan::Bencher) {
    bencher.with_inputs(|| text(10_000)).bench_values(|text| {
        let (sources, tree, _) = load("plan.yaml", text.as_bytes(), &NoIncludes);
        let tree = tree.expect("the text is YAML");
        let (plan, _) = resolve(&sources, &tree, &Registry::new(), &catalogue());
        plan.map(|plan| lower(&plan))
    });
}
