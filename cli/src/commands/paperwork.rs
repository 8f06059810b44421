//! What comes with an installed program: completions for shells, and manual pages.

use std::fs;
use std::path::Path;

use clap::CommandFactory;

use crate::args::{Args, CompletionsArgs, ManArgs};
use crate::console::{self, Console};
use crate::disk::in_words;
use crate::styled::shown;
use crate::exit::{Exit, Problem};

/// Prints the completions for a shell.
pub fn completions(args: &CompletionsArgs, console: &mut Console) -> Exit {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Args::command(), "jigless", &mut text);
    console.document(&String::from_utf8_lossy(&text));
    Exit::Done
}

/// Writes a manual page for the program and for each of its commands.
pub fn man(args: &ManArgs, console: &mut Console) -> Exit {
    match write_pages(&args.dir) {
        Ok(()) => {
            console.out(&format!("the manual pages are in {}\n", shown(&args.dir)));
            Exit::Done
        }
        Err(problem) => {
            console::problem(&problem);
            problem.exit
        }
    }
}

fn write_pages(dir: &Path) -> Result<(), Problem> {
    fs::create_dir_all(dir)
        .and_then(|()| clap_mangen::generate_to(Args::command(), dir))
        .map_err(|error| {
            let reason = in_words(&error);
            Problem::disk(format!(
                "no pages can be written into {}: {reason}",
                shown(dir)
            ))
        })
}
