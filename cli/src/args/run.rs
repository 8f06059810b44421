//! What runs take: plans, how findings are printed, formats with their options, and where files go.

use std::path::PathBuf;
use std::str::FromStr;

use clap::ValueEnum;

use crate::date::parse_date;

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

    /// Use what is left over from earlier work first: an `offcuts.yaml` that `--set cutting-pdf.shelf=true` wrote. It is
    /// read and never changed, so it must not be in the folder that is written into.
    #[arg(long, value_name = "FILE")]
    pub offcuts: Option<PathBuf>,

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
    use super::*;

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
