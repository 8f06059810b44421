//! What the fuzzer throws bytes at: each reader of texts that others wrote, and the whole route from a plan to files.
//!
//! `core/fuzz` holds a program for each of [`TARGETS`], which looks for inputs by the hour, and a corpus of those that
//! led somewhere new. `tests/tests/fuzzed.rs` goes through that corpus, and through mutations of it by a fixed seed, on
//! every run of the tests.

mod grow;
mod mutate;
pub mod routes;
pub mod texts;

pub use grow::{Choices, grow};
pub use mutate::Mutator;

/// Something that must take any bytes: with findings or with an error, never with a panic.
#[derive(Debug, Clone, Copy)]
pub struct Target {
    /// Its name, and that of its program and its corpus.
    pub name: &'static str,
    /// Takes the bytes.
    ///
    /// # Panics
    /// When there is a fault in Jigless.
    pub run: fn(&[u8]),
    /// Where more inputs are than in its corpus: folders below `fixtures` and endings.
    pub seeds: &'static [(&'static str, &'static str)],
}

const fn target(
    name: &'static str,
    run: fn(&[u8]),
    seeds: &'static [(&'static str, &'static str)],
) -> Target {
    Target { name, run, seeds }
}

/// Every target.
pub const TARGETS: &[Target] = &[
    target("plan", routes::plan, &[("", "yaml")]),
    target("grown_plan", routes::grown_plan, &[]),
    target("grown_files", routes::grown_files, &[]),
    target("length", texts::length, &[]),
    target("profile", texts::profile, &[("profiles", "yaml")]),
    target("manifest", texts::manifest, &[]),
    target("dxf", texts::drawing, &[]),
    target("svg", texts::drawing, &[]),
    target("program", texts::program, &[]),
];
