//! What readers of a plan ask: what differs, what it costs, what fits their own stock.

use std::path::PathBuf;
use std::str::FromStr;

use clap::ValueEnum;
use jigless_core::adapt::Setting;

/// Arguments of `diff`.
#[derive(Debug, clap::Args)]
pub struct DiffArgs {
    /// The plan as it was: a plan file, or a plan folder.
    #[arg(value_name = "BEFORE")]
    pub before: PathBuf,

    /// The plan as it is.
    #[arg(value_name = "AFTER")]
    pub after: PathBuf,

    /// The folder for a picture of the whole before and after and a drawing of each changed part with both versions;
    /// none are drawn when not given.
    #[arg(long, short, value_name = "DIR")]
    pub out: Option<PathBuf>,

    /// Replace other files that are in the way.
    #[arg(long)]
    pub force: bool,
}

/// Arguments of `cost`.
#[derive(Debug, clap::Args)]
pub struct CostArgs {
    /// A plan file, or a plan folder.
    #[arg(value_name = "PLAN")]
    pub plan: PathBuf,

    /// Another plan: what it costs and weighs more or less than the first.
    #[arg(long, value_name = "OTHER", conflicts_with = "compare_stock")]
    pub compare: Option<PathBuf>,

    /// Another stock of the plan in place of one of its stocks, with its thickness, prices and density: `birch18=poplar18`.
    #[arg(long, value_name = "STOCK=OTHER")]
    pub compare_stock: Option<StockSwap>,

    /// Take prices that the plan does not give from a profile: `plan: {prices: ...}`.
    #[arg(long, value_name = "FILE")]
    pub profile: Option<PathBuf>,
}

/// Arguments of `adapt`.
#[derive(Debug, clap::Args)]
pub struct AdaptArgs {
    /// A plan file, or a plan folder.
    #[arg(value_name = "PLAN")]
    pub plan: PathBuf,

    /// Give something in the plan another value; may be repeated. PATH is the keys from the top of the plan, with dots
    /// between them: `stock.birch18.thickness=17.4`, `values.width=840`.
    #[arg(long, value_name = "PATH=VALUE", required = true, value_parser = parse_setting)]
    pub set: Vec<Setting>,

    /// The paper that you print on, for every format that prints.
    #[arg(long = "for", value_name = "PAPER")]
    pub paper: Option<ReaderPaper>,

    /// A format, by its id (see `jigless formats`); may be repeated, or several joined by commas.
    #[arg(long, value_name = "ID", value_delimiter = ',')]
    pub to: Vec<String>,

    /// Take options from a profile, which describes a machine or printer: `machine:` and `export:`.
    #[arg(long, value_name = "FILE")]
    pub profile: Option<PathBuf>,

    /// Correct what is printed for this printer, whose bars `jigless print-check` has stored.
    #[arg(long, value_name = "NAME")]
    pub printer: Option<String>,

    /// The folder to write into: the adapted plan, what had to give, and below them the files of each format.
    #[arg(long, short, value_name = "DIR")]
    pub out: PathBuf,

    /// Write the adapted plan although it has errors.
    #[arg(long)]
    pub anyway: bool,

    /// Replace files that are in the way although Jigless did not make them.
    #[arg(long)]
    pub force: bool,
}

/// The papers that readers have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ReaderPaper {
    /// 210 x 297 mm (ISO 216).
    A4,
    /// 8.5 x 11 in.
    Letter,
}

impl ReaderPaper {
    /// What the option `paper` of a format calls it.
    pub fn name(self) -> &'static str {
        match self {
            ReaderPaper::A4 => "a4",
            ReaderPaper::Letter => "letter",
        }
    }
}

fn parse_setting(text: &str) -> Result<Setting, String> {
    let (path, value) = text
        .split_once('=')
        .ok_or_else(|| "it is written PATH=VALUE".to_owned())?;
    if path.is_empty() || value.is_empty() {
        return Err("it is written PATH=VALUE".to_owned());
    }
    Ok(Setting {
        path: path.to_owned(),
        value: value.to_owned(),
    })
}

/// `STOCK=OTHER`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StockSwap {
    /// The stock that parts are made of.
    pub stock: String,
    /// The one that they are made of instead.
    pub other: String,
}

impl FromStr for StockSwap {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        match text.split_once('=') {
            Some((stock, other)) if !stock.is_empty() && !other.is_empty() => Ok(Self {
                stock: stock.to_owned(),
                other: other.to_owned(),
            }),
            _ => Err("it is written STOCK=OTHER".to_owned()),
        }
    }
}

/// Arguments of `migrate`.
#[derive(Debug, clap::Args)]
pub struct MigrateArgs {
    /// Plan files, plan folders (each holds a `plan.yaml`), or folders of them. What a plan includes is rewritten, too.
    #[arg(value_name = "PLAN", required = true)]
    pub plans: Vec<PathBuf>,

    /// Print the lines that would change, and change nothing.
    #[arg(long)]
    pub dry_run: bool,
}
