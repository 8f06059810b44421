//! What comes with an installed program: completions for shells, and manual pages.

use std::path::{Path, PathBuf};

use clap::CommandFactory;

use crate::args::{Args, CompletionsArgs, ManArgs};
use crate::console::{self, Console};
use crate::disk::in_words;
use crate::exit::{Exit, Problem};
use crate::keep::write_all;
use crate::styled::shown;

/// Prints the completions for a shell.
pub fn completions(args: &CompletionsArgs, console: &mut Console) -> Exit {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Args::command(), "jigless", &mut text);
    console.document(&String::from_utf8_lossy(&text));
    Exit::Done
}

/// Writes a manual page for the program and for each of its commands.
pub fn man(args: &ManArgs, console: &mut Console) -> Exit {
    let pages = pages(&args.dir);
    match pages.and_then(|pages| write_all(&pages, args.force)) {
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

/// The pages of the program and of each of its commands, below a folder.
fn pages(dir: &Path) -> Result<Vec<(PathBuf, Vec<u8>)>, Problem> {
    let mut program = Args::command().disable_help_subcommand(true);
    program.build();
    let commands = program
        .get_subcommands()
        .filter(|command| !command.is_hide_set());
    let commands: Vec<clap::Command> = commands.cloned().chain([program.clone()]).collect();
    let mut pages = Vec::new();
    for command in commands {
        let page = clap_mangen::Man::new(command);
        let mut bytes = Vec::new();
        page.render(&mut bytes).map_err(|error| {
            Problem::disk(format!("the pages cannot be made: {}", in_words(&error)))
        })?;
        pages.push((dir.join(page.get_filename()), bytes));
    }
    Ok(pages)
}
