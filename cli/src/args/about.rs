//! What shows something of a plan, or of the program.

use std::path::PathBuf;

use super::run::{ChoiceArgs, RunArgs};

/// Arguments of `completions`.
#[derive(Debug, clap::Args)]
pub struct CompletionsArgs {
    /// The shell.
    #[arg(value_name = "SHELL")]
    pub shell: clap_complete::Shell,
}

/// Arguments of `manual`.
#[derive(Debug, clap::Args)]
pub struct ManualArgs {
    /// The page, such as tutorial or features. All topics are listed when not given.
    #[arg(value_name = "TOPIC")]
    pub topic: Option<String>,
}

/// Arguments of `man`.
#[derive(Debug, clap::Args)]
pub struct ManArgs {
    /// The folder to write them into, which is made where there is none.
    #[arg(value_name = "DIR")]
    pub dir: PathBuf,

    /// Replace other files that are in the way.
    #[arg(long)]
    pub force: bool,
}

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub struct CheckArgs {
    #[command(flatten)]
    pub run: RunArgs,

    #[command(flatten)]
    pub choice: ChoiceArgs,
}

/// Arguments of `formats`.
#[derive(Debug, clap::Args)]
pub struct FormatsArgs {
    /// Only this format.
    #[arg(value_name = "ID")]
    pub id: Option<String>,

    /// Also the programs that a profile names as formats.
    #[arg(long, value_name = "FILE")]
    pub profile: Option<PathBuf>,
}

/// Arguments of `expand`.
#[derive(Debug, clap::Args)]
pub struct ExpandArgs {
    /// A plan file, or a plan folder.
    #[arg(value_name = "PLAN")]
    pub plan: PathBuf,
}

/// Arguments of `steps`.
#[derive(Debug, clap::Args)]
pub struct StepsArgs {
    /// A plan file, or a plan folder.
    #[arg(value_name = "PLAN")]
    pub plan: PathBuf,

    /// Print JSON for other programs.
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `why`.
#[derive(Debug, clap::Args)]
pub struct WhyArgs {
    /// The code, as findings show it in parentheses.
    #[arg(value_name = "CODE")]
    pub code: Option<String>,
}

/// Arguments of `start`.
#[derive(Debug, clap::Args)]
pub struct StartArgs {
    /// The folder to make; it must not exist yet, or be empty.
    #[arg(value_name = "DIR")]
    pub dir: PathBuf,
}

/// Arguments of `schema`.
#[derive(Debug, clap::Args)]
pub struct SchemaArgs {
    /// What to print the schema of.
    #[arg(value_name = "WHAT", default_value = "plan")]
    pub of: SchemaOf,
}

/// What there is a schema of.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub enum SchemaOf {
    /// Plan files.
    Plan,
    /// What goes between Jigless and the program of an outside format, each way.
    Outside,
}
