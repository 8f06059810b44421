//! What makes files, pages and sites.

use std::path::PathBuf;

use super::run::{ChoiceArgs, MakeArgs};
use crate::date::parse_date;
use crate::shard::Shard;

/// Arguments of `export`.
#[derive(Debug, clap::Args)]
pub struct ExportArgs {
    #[command(flatten)]
    pub make: MakeArgs,

    /// Start no further plan after one has failed. Plans already started are finished.
    #[arg(long)]
    pub fail_fast: bool,

    /// Print what would be done, and why, without doing it.
    #[arg(long)]
    pub dry_run: bool,

    /// Remove the files of plans that the folders given do not hold any more. Files that Jigless did not make, or that
    /// were changed since, stay.
    #[arg(long, conflicts_with = "shard")]
    pub prune: bool,

    /// Export only share K of N of the plans, for a run on one of N machines. All shares together make what one run makes.
    #[arg(long, value_name = "K/N")]
    pub shard: Option<Shard>,
}

/// Arguments of `watch`.
#[derive(Debug, clap::Args)]
pub struct WatchArgs {
    #[command(flatten)]
    pub make: MakeArgs,
}

/// Arguments of `live`.
#[derive(Debug, clap::Args)]
pub struct LiveArgs {
    /// A plan file, or a plan folder.
    #[arg(value_name = "PLAN")]
    pub plan: PathBuf,

    /// The port of this machine at which the page is served. The first free one from 7480 on when not given.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    pub port: Option<u16>,

    /// Open the page in the browser that the system names.
    #[arg(long)]
    pub open: bool,
}

/// Arguments of `publish`.
#[derive(Debug, clap::Args)]
pub struct PublishArgs {
    /// The library: plan files, plan folders, or folders of them.
    #[arg(value_name = "LIBRARY", required = true)]
    pub library: Vec<PathBuf>,

    /// The folder of the site. It appears, and changes, as a whole.
    #[arg(long, short, value_name = "SITE")]
    pub out: PathBuf,

    /// What the site is called.
    #[arg(long, value_name = "TITLE", default_value = "Plans")]
    pub title: String,

    /// The address at which the site will be, for the links of its feed, such as `https://plans.example/`.
    #[arg(long, value_name = "URL", value_parser = parse_address)]
    pub url: Option<String>,

    #[command(flatten)]
    pub choice: ChoiceArgs,

    /// Number of plans worked on at once; one for each processor when not given.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub jobs: Option<u16>,

    /// The date to print, and of revisions in the feed that the plan gives none.
    #[arg(long, value_name = "DATE", value_parser = parse_date)]
    pub date: Option<i64>,

    /// Prepare share K of N of the plans beside the site, for one of N machines that share a disk. A run without it then
    /// takes up what is prepared, and makes the site.
    #[arg(long, value_name = "K/N")]
    pub shard: Option<Shard>,
}

fn parse_address(text: &str) -> Result<String, String> {
    let rest = text
        .strip_prefix("https://")
        .or_else(|| text.strip_prefix("http://"));
    let sound = rest.is_some_and(|rest| !rest.is_empty() && !rest.contains(char::is_whitespace));
    if sound {
        Ok(format!("{}/", text.trim_end_matches('/')))
    } else {
        Err("it begins with https:// or http://".to_owned())
    }
}
