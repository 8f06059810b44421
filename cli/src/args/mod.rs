//! The command line.

mod about;
mod machine;
mod make;
mod reader;
mod run;

pub use about::{
    CheckArgs, CompletionsArgs, ExpandArgs, FormatsArgs, ManArgs, ManualArgs, SchemaArgs, SchemaOf,
    StartArgs, StepsArgs, WhyArgs,
};
pub use machine::{CouponArgs, InspectArgs, PrintCheckArgs, SimulateArgs, UnitArg};
pub use make::{ExportArgs, LiveArgs, PublishArgs, WatchArgs};
pub use reader::{AdaptArgs, CostArgs, DiffArgs, MigrateArgs, StockSwap};
pub use run::{ChoiceArgs, FindingsForm, MakeArgs, RunArgs, SetArg};

use clap::{Parser, Subcommand};

const EXIT_CODES: &str = "\
Exit status:
  0  done; there may be warnings
  1  a plan, a profile, an inspected file or the value of an option has
     errors, or a format cannot be made
  2  the command line is wrong: no such path, format, part or option
  3  a file cannot be read or written, or a file that Jigless did not make
     is in the way

Environment:
  NO_COLOR           no colours
  XDG_CONFIG_HOME    where jigless/config.yaml is looked for, a profile that
                     always holds; ~/.config when not set
  SOURCE_DATE_EPOCH  the date to print, in seconds since 1970-01-01 UTC;
                     `--date` overrides it";

/// Full-size templates, machine files and lists from one description of the parts of shop furniture.
#[derive(Debug, Parser)]
#[command(name = "jigless", version = env!("JIGLESS_VERSION"), propagate_version = true)]
#[command(arg_required_else_help = true, max_term_width = 100, after_help = EXIT_CODES)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Make the files of one or more plans.
    #[command(after_help = EXIT_CODES)]
    Export(ExportArgs),
    /// Make the files of plans, and again whenever a plan is saved, until Ctrl-C.
    #[command(after_help = EXIT_CODES)]
    Watch(WatchArgs),
    /// Show a plan in a browser while it is written: picture, findings and lists follow every save, until Ctrl-C.
    #[command(after_help = EXIT_CODES)]
    Live(LiveArgs),
    /// Make a website of a library of plans: an index, a page and downloads for each plan, and its earlier revisions.
    #[command(after_help = EXIT_CODES)]
    Publish(PublishArgs),
    /// Check plans for errors, and write nothing.
    #[command(after_help = EXIT_CODES)]
    Check(CheckArgs),
    /// List the formats and their options.
    Formats(FormatsArgs),
    /// Print a plan with all that its builders and joints add written out.
    #[command(after_help = EXIT_CODES)]
    Expand(ExpandArgs),
    /// Print the order of work: what is cut, drilled, put together and fitted, step by step.
    Steps(StepsArgs),
    /// List what changed from one plan to another, and draw both versions of each changed part.
    #[command(after_help = EXIT_CODES)]
    Diff(DiffArgs),
    /// Print what a plan costs, what is left of its sheets, and what it weighs; or hold that against another plan or stock.
    #[command(after_help = EXIT_CODES)]
    Cost(CostArgs),
    /// Make a plan for your own sheets and sizes, export it, and say what had to give.
    #[command(after_help = EXIT_CODES)]
    Adapt(AdaptArgs),
    /// Rewrite plans in place: keys, words and codes that were renamed get their present names.
    #[command(after_help = EXIT_CODES)]
    Migrate(MigrateArgs),
    /// Explain the code of a finding, or list all codes.
    Why(WhyArgs),
    /// Print a JSON Schema (2020-12): of plan files, for editors, or of what goes to and from the programs of outside formats.
    Schema(SchemaArgs),
    /// Make the check sheet of a printer, or store what it measured.
    #[command(after_help = EXIT_CODES)]
    PrintCheck(PrintCheckArgs),
    /// Start a plan: write a small one that can be exported at once.
    Start(StartArgs),
    /// Read the manual: a page by its topic, or the list of topics.
    Manual(ManualArgs),
    /// Print the completions for a shell.
    Completions(CompletionsArgs),
    /// Write the manual pages.
    Man(ManArgs),
    /// Report what a machine will see in DXF and SVG files: units, layers, contours and what is wrong with them.
    #[command(after_help = EXIT_CODES)]
    Inspect(InspectArgs),
    /// Run programs for a router on a sheet by simulation: what is wrong with them, and a picture of what they leave.
    #[command(after_help = EXIT_CODES)]
    Simulate(SimulateArgs),
    /// Make a test piece for a laser, or write what was measured on it into a profile.
    #[command(after_help = EXIT_CODES)]
    Coupon(CouponArgs),
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_command_line_is_sound() {
        Args::command().debug_assert();
    }
}
