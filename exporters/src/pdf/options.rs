//! What the user can choose about templates.

use jigless_model::units::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::page_format::PageFormat;
use super::paper::{Orientation, Paper, Scope};
use crate::drawing::Tint;
use crate::drawing::measure::{Lengths, PaperUnits};

/// Length of the check sheet on a roll, in millimetres: its long bar and room around it.
const CHECK_SHEET_ON_ROLL: f64 = 297.0;

/// What can be chosen of the templates.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct PdfTemplateOptions {
    /// Paper to print on.
    pub paper: Paper,
    /// Width of the roll, in millimetres; only with `paper: roll`.
    #[schemars(range(min = 210.0, max = 1600.0))]
    pub roll_width: f64,
    /// Which way up the pages are.
    pub orientation: Orientation,
    /// How much of a face is shown: small templates that fold over the nearest edges, or the whole face over pages to
    /// tape together.
    pub scope: Scope,
    /// Units of the numbers on paper. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Name of the printer that the pages are corrected for; it is printed on every page.
    pub printer: String,
    /// What is drawn across the feed for each millimetre meant, from 0.97 to 1.03.
    #[schemars(range(min = 0.97, max = 1.03))]
    pub scale_across: f64,
    /// What is drawn along the feed for each millimetre meant, from 0.97 to 1.03.
    #[schemars(range(min = 0.97, max = 1.03))]
    pub scale_feed: f64,
    /// How far a page goes on beyond a seam, in millimetres: the strip under its neighbour.
    #[schemars(range(min = 5.0, max = 30.0))]
    pub overlap: f64,
    /// Whether the first page is a check sheet with long bars and the index of all parts.
    pub check_sheet: bool,
    /// Whether lone rounded corners and long rows of evenly spaced holes are rows of a table with a sketch, and need no
    /// sheet.
    pub tables: bool,
    /// Diameter of the collar that stops the bit of pockets, in millimetres.
    #[schemars(range(min = 8.0, max = 60.0))]
    pub collar: f64,
    /// The `sheets.json` of an earlier print, as its text: only sheets that differ from it are made. `--since` fills it in.
    pub since: String,
    /// Inks: black and greys, or colour for areas and for words on areas and hand work; lines are always black.
    pub inks: Tint,
}

impl Default for PdfTemplateOptions {
    fn default() -> Self {
        Self {
            paper: Paper::A4,
            roll_width: 610.0,
            orientation: Orientation::Auto,
            scope: Scope::Auto,
            units: PaperUnits::Plan,
            fractions: 64,
            printer: String::new(),
            scale_across: 1.0,
            scale_feed: 1.0,
            overlap: 10.0,
            check_sheet: true,
            tables: true,
            collar: 20.0,
            since: String::new(),
            inks: Tint::Grey,
        }
    }
}

impl PdfTemplateOptions {
    /// What every corrected page says; nothing where pages are not corrected.
    pub(super) fn correction(&self) -> Option<String> {
        let plain = [self.scale_across, self.scale_feed]
            .iter()
            .all(|scale| (scale - 1.0).abs() < 1e-9);
        let name = match self.printer.trim() {
            "" => "one printer",
            name => name,
        };
        (!plain).then(|| format!("corrected for {name}; not for others"))
    }

    /// How lengths are written.
    pub(super) fn lengths(&self, plan: Unit) -> Lengths {
        Lengths::on_paper(plan, self.units, self.fractions)
    }

    /// The paper of the check sheet. It is always upright, so that its bars follow the paper's feed.
    pub(super) fn check_sheet_format(&self) -> PageFormat {
        let roll = (self.roll_width, CHECK_SHEET_ON_ROLL);
        self.page_format(self.paper.size().unwrap_or(roll))
    }

    /// A page of some size. A page that lies across goes through the printer on its side, so its height is across the feed.
    pub(super) fn page_format(&self, size: (f64, f64)) -> PageFormat {
        let (across, feed) = (self.scale_across, self.scale_feed);
        let lies_across = self.paper.size().is_some() && size.0 > size.1;
        let scale = if lies_across {
            (feed, across)
        } else {
            (across, feed)
        };
        let ends = self.paper.blank_ends();
        let blank = if lies_across {
            (ends, 0.0)
        } else {
            (0.0, ends)
        };
        PageFormat { size, scale, blank }
    }
}
