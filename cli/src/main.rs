//! The command line of Jigless: reads plans, runs the pipeline on them and writes the files.
//!
//! Everything that touches the disk, the terminal, the environment or threads is here; the other crates do without.

mod args;
mod batch;
mod choice;
mod codes;
mod commands;
mod console;
mod date;
mod disk;
mod exit;
mod find;
mod inputs;
mod lock;
mod make;
mod manifest;
mod markdown;
mod message;
mod output;
mod outside;
mod paths;
mod printers;
mod profile;
mod progress;
mod report;
mod sarif;
mod shard;
mod write;

use std::process::ExitCode;

use clap::Parser;

/// The program and its version, as files and manifests name it.
const TOOL: &str = concat!("jigless ", env!("CARGO_PKG_VERSION"));
/// A digest of the program's source: files that another build made are made again.
const BUILD: &str = env!("JIGLESS_BUILD");

#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    commands::run(&args::Args::parse()).into()
}
