//! The command line of Jigless: reads plans, runs the pipeline on them and writes the files.
//!
//! Everything that touches the disk, the terminal, the environment or threads is here; the other crates do without.
//! [`run`] is the program. What is public beside it reads texts that others may have written, and is fuzzed.

mod args;
mod batch;
mod choice;
mod codes;
mod commands;
mod console;
mod date;
mod digest;
mod disk;
mod exit;
mod export;
mod find;
mod furniture;
mod inputs;
mod keep;
mod live;
mod lock;
mod make;
pub mod manifest;
mod markdown;
mod message;
mod output;
mod outside;
mod page;
mod paths;
mod plan_defaults;
mod plans;
mod printers;
pub mod profile;
mod progress;
mod publish;
mod report;
mod sarif;
mod shard;
mod since;
mod styled;
mod usage;
mod watching;
mod write;

use std::process::ExitCode;

use clap::Parser;

/// The program and its version, as files and manifests name it.
const TOOL: &str = concat!("jigless ", env!("CARGO_PKG_VERSION"));
/// A digest of the program's source: files that another build made are made again.
const BUILD: &str = env!("JIGLESS_BUILD");

/// Reads the command line, does what it says, and gives the exit code.
pub fn run() -> ExitCode {
    match args::Args::try_parse() {
        Ok(args) => commands::run(&args).into(),
        Err(error) => usage::report(&error).into(),
    }
}
