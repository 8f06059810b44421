//! What checks printers and machines, and what they made.

use std::path::PathBuf;

use jigless_core::units::Unit;
use jigless_exporters::{Paper, Readings};

use super::run::SetArg;

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

#[cfg(test)]
mod tests {
    use super::*;

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
}
