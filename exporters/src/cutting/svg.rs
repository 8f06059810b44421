//! `cutting-svg`: each sheet, and the boards of each stock and width, as a picture.

use jigless_model::caution::{Medium, called_for};
use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::Plan;
use jigless_model::sheets::{Settings, StockLayout, micrometres, millimetres};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::job::{BoardJob, Job, SheetJob, board_jobs, sheet_jobs, stem};
use super::sheet_picture::{extent, unplaced_words};
use super::{board_picture, sheet_picture, suits};
use crate::cautions;
use crate::drawing::measure::{Lengths, PaperUnits};
use crate::drawing::text::LABEL;
use crate::drawing::{Item, Role, TextLine, Tint, vet};
use crate::option_check::{self, in_range};
use crate::saw_options::SawOptions;
use crate::svg::paint;

/// Free room around a picture, in millimetres.
const MARGIN: f64 = 5.0;
/// Height of the title over it, in millimetres.
const TITLE: f64 = 14.0;
/// A picture is at least so wide, in millimetres, so that its title has room.
const NARROWEST: f64 = 100.0;

/// Pictures of sheets and boards with their cuts.
#[derive(Debug, Clone, Copy)]
pub struct CuttingSvg;

/// Options of `cutting-svg`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct CuttingSvgOptions {
    /// Sheets are drawn at one to this. Boards are drawn at it along their length.
    #[schemars(range(min = 1.0, max = 100.0))]
    pub scale: f64,
    /// Units of the numbers. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Inks: black and greys, or colour for pieces; lines are always black.
    pub inks: Tint,
    /// How sheets and boards are sawn.
    #[serde(flatten)]
    pub saw: SawOptions,
}

impl Default for CuttingSvgOptions {
    fn default() -> Self {
        Self {
            scale: 10.0,
            units: PaperUnits::Plan,
            fractions: 64,
            inks: Tint::Grey,
            saw: SawOptions::default(),
        }
    }
}

impl Exporter for CuttingSvg {
    type Options = CuttingSvgOptions;

    fn id(&self) -> &'static str {
        "cutting-svg"
    }

    fn summary(&self) -> &'static str {
        "each sheet, and the boards of each stock, as a picture to scale with numbered saw cuts; suits the plans that cutting-pdf suits"
    }

    fn stage(&self) -> Stage {
        Stage::Sheet
    }

    fn suits(&self, plan: &Plan) -> bool {
        suits::saw(plan)
    }

    fn arranging(&self, options: &CuttingSvgOptions) -> Option<Settings> {
        Some(options.saw.settings())
    }

    fn vet(&self, input: &ExportInput, options: &CuttingSvgOptions) -> Findings {
        let mut findings = Findings::new();
        in_range("scale", options.scale, (1.0, 100.0), "", &mut findings);
        option_check::fractions("fractions", options.fractions, &mut findings);
        options.saw.vet(&mut findings);
        SawOptions::ask_for_sizes(input, &mut findings);
        vet::words(input, &mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &CuttingSvgOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let lengths = Lengths::on_paper(input.plan.units, options.units, options.fractions);
        let Some(job) = Job::new(input, lengths, micrometres(options.saw.keep)) else {
            return Ok(Vec::new());
        };
        let mut artifacts = Vec::new();
        let mut of_boards = 0;
        for layout in &job.arrangement.stocks {
            for sheet in sheet_jobs(layout) {
                let path = format!("{}.svg", stem("sheet", layout, sheet.number));
                artifacts.push(artifact(path, sheet_file(&job, &sheet, options)));
            }
            let boards = board_jobs(layout);
            if !boards.is_empty() {
                of_boards += 1;
                let path = format!("{}.svg", stem("boards", layout, of_boards));
                artifacts.push(artifact(path, boards_file(&job, layout, &boards, options)));
            }
        }
        Ok(artifacts)
    }
}

fn artifact(path: String, text: String) -> Artifact {
    Artifact {
        path,
        media_type: "image/svg+xml",
        part: None,
        bytes: text.into_bytes(),
    }
}

fn sheet_file(job: &Job, sheet: &SheetJob, options: &CuttingSvgOptions) -> String {
    let (width, height) = extent(sheet, options.scale);
    let picture = sheet_picture::draw(job, sheet, Point::default(), options.scale, options.inks);
    let heading = format!(
        "{}, sheet {} of {}",
        sheet.layout.stock.label, sheet.number, sheet.of
    );
    let about = format!("1 : {}, in {}", options.scale, job.lengths.describe());
    let about = match unplaced_words(job, &picture.unplaced) {
        Some(words) => format!("{about}. {words}"),
        None => about,
    };
    titled(job, (width, height), picture.items, &heading, &about)
}

fn boards_file(
    job: &Job,
    layout: &StockLayout,
    boards: &[BoardJob],
    options: &CuttingSvgOptions,
) -> String {
    let longest = boards.iter().map(|board| board.length).max().unwrap_or(0);
    let width = millimetres(longest) / options.scale + 6.0;
    let height = board_picture::HEIGHT * boards.len() as f64;
    let place = (Point::new(0.0, height), width);
    let items = board_picture::stacked(job, boards, place, longest, options.inks);
    let heading = format!("{}, {} boards", layout.stock.label, boards.len());
    let about = format!(
        "1 : {} along the boards, in {}",
        options.scale,
        job.lengths.describe()
    );
    titled(job, (width, height), items, &heading, &about)
}

/// A picture with a title over it.
fn titled(
    job: &Job,
    (width, height): (f64, f64),
    mut items: Vec<Item>,
    heading: &str,
    about: &str,
) -> String {
    let width = width.max(NARROWEST);
    let mut size = Bounds::new(Point::default(), Point::new(width, height + TITLE));
    let heading_at = Point::new(0.0, height + 8.0);
    let about_at = Point::new(0.0, height + 3.0);
    let texts = [
        TextLine::new(heading_at, 5.0, heading).bold(),
        TextLine::new(about_at, LABEL, about),
    ];
    items.extend(texts.map(|text| Item::text(Role::Frame, text.fitted(width))));
    let cautions = called_for(job.input.plan, job.input.workpieces, Medium::Saw);
    items.extend(cautions::under(&mut size, 0.0, &cautions));
    let said = cautions::description(&cautions);
    paint::document(size.grown(MARGIN), heading, &said, &items)
}
