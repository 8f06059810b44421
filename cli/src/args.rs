//! The command line.

use std::path::PathBuf;
use std::str::FromStr;

use clap::{Parser, Subcommand, ValueEnum};
use jigless_core::adapt::Setting;
use jigless_core::units::Unit;
use jigless_exporters::{Paper, Readings};

use crate::date::parse_date;
use crate::shard::Shard;

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

/// The plans of a run, and how it runs.
#[derive(Debug, clap::Args)]
pub struct RunArgs {
    /// Plan files, plan folders (each holds a `plan.yaml`), or folders of them.
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,

    /// Number of plans or parts worked on at once; one for each processor when not given.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub jobs: Option<u16>,

    /// Print errors only, and at the end how many warnings there were.
    #[arg(long, short)]
    pub quiet: bool,

    /// How findings are printed: in words on standard error, or for programs on standard output.
    #[arg(long, value_name = "FORM", default_value = "words")]
    pub findings: FindingsForm,
}

/// How findings are printed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, ValueEnum)]
pub enum FindingsForm {
    /// In words, with the lines of the plan, on standard error.
    #[default]
    Words,
    /// One JSON object on each line of standard output, the last one a summary.
    Lines,
    /// One SARIF 2.1.0 document on standard output, for tools that review changes.
    Sarif,
}

/// The formats of a run.
#[derive(Debug, Clone, clap::Args)]
pub struct ChoiceArgs {
    /// A format, by its id (see `jigless formats`); may be repeated, or several joined by commas.
    #[arg(long, value_name = "ID", value_delimiter = ',')]
    pub to: Vec<String>,

    /// Set an option of a format; may be repeated. It overrides the profile.
    #[arg(long, value_name = "FORMAT.OPTION=VALUE")]
    pub set: Vec<SetArg>,

    /// Take options from a profile, which describes a machine or printer: `machine:` and `export:`.
    #[arg(long, value_name = "FILE")]
    pub profile: Option<PathBuf>,
}

/// What is made, and where.
#[derive(Debug, clap::Args)]
pub struct MakeArgs {
    #[command(flatten)]
    pub run: RunArgs,

    #[command(flatten)]
    pub choice: ChoiceArgs,

    /// Only this part; may be repeated, or several joined by commas. All parts when not given.
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    pub part: Vec<String>,

    /// Correct what is printed for this printer, whose bars `jigless print-check` has stored.
    #[arg(long, value_name = "NAME")]
    pub printer: Option<String>,

    /// Print only the sheets that differ from an earlier print: its folder DIR/<plan>, its manifest.json, or its
    /// sheets.json. A page says which of its sheets are still good.
    #[arg(long, value_name = "MANIFEST|FOLDER")]
    pub since: Option<PathBuf>,

    /// The folder to write into: DIR/<plan>/<format>/<file>.
    #[arg(long, short, value_name = "DIR", default_value = "out")]
    pub out: PathBuf,

    /// Replace files that are in the way although Jigless did not make them.
    #[arg(long)]
    pub force: bool,

    /// The date to print, such as 2026-03-31 or 2026-03-31T10:00:00Z. No date is printed when not given.
    #[arg(long, value_name = "DATE", value_parser = parse_date)]
    pub date: Option<i64>,
}

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

/// Arguments of `why`.
#[derive(Debug, clap::Args)]
pub struct WhyArgs {
    /// The code, as findings show it in parentheses.
    #[arg(value_name = "CODE")]
    pub code: Option<String>,
}

/// Arguments of `print-check`.
#[derive(Debug, clap::Args)]
pub struct PrintCheckArgs {
    /// The printer, by a name of your own: the sheet is made corrected for it, or its readings are stored.
    #[arg(long, value_name = "NAME")]
    pub printer: Option<String>,

    /// What the bars of 180 mm (across) and 250 mm (along the feed) measure on an uncorrected sheet: `179.4,250.6`; or
    /// those of 7 in and 9 in: `6.98in,9.02in`. Both are stored for the printer and no sheet is made.
    #[arg(long, value_name = "X,Y", requires = "printer", value_parser = parse_measured)]
    pub measured: Option<Readings>,

    /// The day of the readings, kept with them: 2026-03-31.
    #[arg(long, value_name = "DATE", requires = "measured", value_parser = parse_day)]
    pub on: Option<String>,

    /// Store readings that look like fit to page all the same.
    #[arg(long, requires = "measured")]
    pub really: bool,

    /// The paper: a4, a3, letter, legal, tabloid, or both (A4 whose ink fits Letter).
    #[arg(long, value_name = "PAPER", default_value = "a4", value_parser = parse_paper)]
    pub paper: Paper,

    /// The file to write.
    #[arg(long, short, value_name = "FILE", default_value = "print-check.pdf")]
    pub out: PathBuf,

    /// Replace another file that is in the way.
    #[arg(long)]
    pub force: bool,
}

fn parse_measured(text: &str) -> Result<Readings, String> {
    let wrong = || "write both lengths, such as 179.4,250.6 or 6.98in,9.02in".to_owned();
    let (across, feed) = text.split_once(',').ok_or_else(wrong)?;
    let number = |text: &str| {
        let text = text.trim();
        let (bare, inches) = match text.strip_suffix("in") {
            Some(bare) => (bare, true),
            None => (text.strip_suffix("mm").unwrap_or(text), false),
        };
        let number: f64 = bare.trim().parse().map_err(|_| wrong())?;
        Ok::<_, String>((number, inches))
    };
    let (across, feed) = (number(across)?, number(feed)?);
    if across.1 != feed.1 {
        return Err(wrong());
    }
    Ok(Readings {
        across: across.0,
        feed: feed.0,
        inches: across.1,
    })
}

fn parse_day(text: &str) -> Result<String, String> {
    crate::date::parse_date(text).map(|_| text.to_owned())
}

fn parse_paper(text: &str) -> Result<Paper, String> {
    serde_json::from_value(serde_json::Value::String(text.to_owned()))
        .ok()
        .filter(|paper| *paper != Paper::Roll)
        .ok_or_else(|| "the papers are a4, a3, letter, legal, tabloid and both".to_owned())
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

/// Arguments of `simulate`.
#[derive(Debug, clap::Args)]
pub struct SimulateArgs {
    /// The programs, in RS274/NGC.
    #[arg(value_name = "FILE", required = true)]
    pub files: Vec<PathBuf>,

    /// The profile with the tools of the machine.
    #[arg(long, value_name = "FILE")]
    pub profile: Option<PathBuf>,

    /// Set an option of `ngc-router`; may be repeated. It overrides the profile.
    #[arg(long, value_name = "FORMAT.OPTION=VALUE")]
    pub set: Vec<SetArg>,

    /// The plan that the programs are of: what they leave is held against it. A file belongs to the part or sheet of its
    /// name.
    #[arg(
        long,
        value_name = "PLAN",
        conflicts_with = "sheet",
        required_unless_present = "sheet"
    )]
    pub plan: Option<PathBuf>,

    /// Width, height and thickness of the sheet in millimetres, where no plan is given, such as `600,400,18`.
    #[arg(long, value_name = "W,H,T", value_delimiter = ',')]
    pub sheet: Vec<f64>,

    /// Folder for a picture of what each program leaves; none is drawn when not given.
    #[arg(long, value_name = "FOLDER")]
    pub out: Option<PathBuf>,

    /// Replace pictures that are in the way.
    #[arg(long)]
    pub force: bool,
}

/// Arguments of `inspect`.
#[derive(Debug, clap::Args)]
pub struct InspectArgs {
    /// The files.
    #[arg(value_name = "FILE", required = true)]
    pub files: Vec<PathBuf>,

    /// The unit of DXF files that do not name one.
    #[arg(long, value_name = "UNIT")]
    pub units: Option<UnitArg>,

    /// The profile of the machine that the files are for: its bed and tools are held against them.
    #[arg(long, value_name = "FILE")]
    pub profile: Option<PathBuf>,
}

/// A unit of length.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub enum UnitArg {
    /// Millimetres.
    Mm,
    /// Inches.
    In,
}

impl UnitArg {
    /// The unit itself.
    pub fn unit(self) -> Unit {
        match self {
            UnitArg::Mm => Unit::Millimetre,
            UnitArg::In => Unit::Inch,
        }
    }
}

/// Arguments of `coupon`.
#[derive(Debug, clap::Args)]
pub struct CouponArgs {
    /// Thickness of the stock that the coupon is for, as measured, in millimetres.
    #[arg(long, value_name = "MM", default_value = "3")]
    pub thickness: f64,

    /// The folder to write `coupon.dxf` and `coupon.svg` into.
    #[arg(long, short, value_name = "DIR", default_value = "coupon")]
    pub out: PathBuf,

    /// Replace other files that are in the way. A profile is never replaced: kerf and fit are set in it.
    #[arg(long)]
    pub force: bool,

    /// The width engraved beside the slot that fits best, in millimetres.
    #[arg(long, value_name = "MM", requires = "block")]
    pub best: Option<f64>,

    /// The block of 40 mm as measured, in millimetres; or its width and height, joined by a comma.
    #[arg(long, value_name = "MM", value_delimiter = ',', requires = "best")]
    pub block: Vec<f64>,

    /// The profile that kerf and fit are written into; it is made if there is none.
    #[arg(long, value_name = "FILE", default_value = "machine.yaml")]
    pub profile: PathBuf,
}

/// `FORMAT.OPTION=VALUE`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetArg {
    /// Id of the format.
    pub format: String,
    /// Name of the option.
    pub option: String,
    /// Its value as typed.
    pub value: String,
}

impl FromStr for SetArg {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let wrong = || "it is written FORMAT.OPTION=VALUE".to_owned();
        let (name, value) = text.split_once('=').ok_or_else(wrong)?;
        let (format, option) = name.split_once('.').ok_or_else(wrong)?;
        if format.is_empty() || option.is_empty() {
            return Err(wrong());
        }
        Ok(Self {
            format: format.to_owned(),
            option: option.to_owned(),
            value: value.to_owned(),
        })
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_command_line_is_sound() {
        Args::command().debug_assert();
    }

    #[test]
    fn two_readings_are_two_lengths() {
        let readings = |across, feed, inches| {
            Ok(Readings {
                across,
                feed,
                inches,
            })
        };
        assert_eq!(parse_measured("179.4,250.6"), readings(179.4, 250.6, false));
        assert_eq!(parse_measured("180, 250mm"), readings(180.0, 250.0, false));
        assert_eq!(
            parse_measured("6.98in, 9.02 in"),
            readings(6.98, 9.02, true)
        );
        for wrong in ["180", "180,", "a,b", "180;250", "6.98in,250"] {
            assert!(parse_measured(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_setting_is_cut_at_its_first_dot_and_first_equals_sign() {
        let set: SetArg = "a-b.title=1.5=x".parse().unwrap();
        assert_eq!(
            (set.format.as_str(), set.option.as_str(), set.value.as_str()),
            ("a-b", "title", "1.5=x")
        );
        for wrong in ["a.b", "a=b", ".b=c", "a.=c", ""] {
            assert!(wrong.parse::<SetArg>().is_err(), "{wrong}");
        }
    }
}
