//! Layouts with their cuts for a document, which puts them on its own pages.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::sheets::{StockLayout, micrometres, millimetres};

use super::flow::{CutEntry, Entry};
use super::job::{BoardJob, Job, SheetJob, board_jobs, offcut_name, sheet_jobs};
use super::sheet_picture::{extent, unplaced_words};
use super::{board_picture, cut_words, overview, sheet_picture};
use crate::drawing::measure::Lengths;
use crate::drawing::{Item, Tint};
use crate::saw_options::SawOptions;

/// So many boards are in one picture at most.
const BOARDS: usize = 8;

/// A sheet or some boards, as they are cut.
pub(crate) struct Laid {
    /// What it is made of.
    pub(crate) stock: String,
    /// Numbers of the sheet, or of the first and last board, and how many there are.
    pub(crate) numbers: (usize, usize, usize),
    /// Whether it is boards.
    pub(crate) boards: bool,
    /// Its size and where it comes from.
    pub(crate) about: String,
    /// The picture, and the box that it fills.
    pub(crate) items: Vec<Item>,
    pub(crate) canvas: Bounds,
    /// The picture is drawn at one to this.
    pub(crate) scale: f64,
    /// What found no room in the picture.
    pub(crate) unplaced: Option<String>,
    /// What is on it: mark, title and sizes.
    pub(crate) key: Vec<(String, String)>,
    /// The cuts.
    pub(crate) cuts: Vec<CutEntry>,
}

/// What is bought or at hand of a stock, and what is left over.
pub(crate) struct StockSummary {
    /// The id of the stock.
    pub(crate) stock: String,
    /// Words, one paragraph each.
    pub(crate) words: Vec<String>,
}

/// Every sheet and board of an arrangement, drawn to fit a box of `room` millimetres.
pub(crate) fn laid(
    input: &ExportInput,
    lengths: Lengths,
    saw: &SawOptions,
    tint: Tint,
    room: (f64, f64),
) -> Vec<Laid> {
    let Some(job) = Job::new(input, lengths, micrometres(saw.keep)) else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for layout in &job.arrangement.stocks {
        for sheet in sheet_jobs(layout) {
            all.push(of_sheet(&job, &sheet, tint, room));
        }
        let boards = board_jobs(layout);
        for some in boards.chunks(BOARDS) {
            all.push(of_boards(&job, layout, some, boards.len(), tint, room));
        }
    }
    all
}

/// What each stock takes, in words.
pub(crate) fn summaries(
    input: &ExportInput,
    lengths: Lengths,
    saw: &SawOptions,
) -> Vec<StockSummary> {
    let Some(job) = Job::new(input, lengths, micrometres(saw.keep)) else {
        return Vec::new();
    };
    let of = |layout: &StockLayout| StockSummary {
        stock: layout.stock.id.clone(),
        words: overview::stock_words(&job, layout),
    };
    job.arrangement.stocks.iter().map(of).collect()
}

/// How the cuts are read.
pub(crate) fn reading(input: &ExportInput, lengths: Lengths, saw: &SawOptions) -> Vec<String> {
    Job::new(input, lengths, micrometres(saw.keep))
        .map_or_else(Vec::new, |job| overview::reading(&job))
}

fn of_sheet(job: &Job, sheet: &SheetJob, tint: Tint, room: (f64, f64)) -> Laid {
    let (around_x, around_y) = extent(sheet, f64::INFINITY);
    let (whole_x, whole_y) = extent(sheet, 1.0);
    let needed = ((whole_x - around_x) / (room.0 - around_x))
        .max((whole_y - around_y) / (room.1 - around_y));
    let scale = (needed * 2.0).ceil().max(2.0) / 2.0;
    let (width, height) = extent(sheet, scale);
    let picture = sheet_picture::draw(job, sheet, Point::default(), scale, tint);
    Laid {
        stock: sheet.layout.stock.label.clone(),
        numbers: (sheet.number, sheet.number, sheet.of),
        boards: false,
        about: format!(
            "{}, {}",
            job.size(sheet.size.width, sheet.size.height),
            job.words().origin(sheet.size.origin)
        ),
        items: picture.items,
        canvas: Bounds::of_size(width, height),
        scale,
        unplaced: unplaced_words(job, &picture.unplaced),
        key: key(job, sheet),
        cuts: in_words(&cut_words::of_sheet(job, sheet)),
    }
}

fn of_boards(
    job: &Job,
    layout: &StockLayout,
    boards: &[BoardJob],
    of: usize,
    tint: Tint,
    room: (f64, f64),
) -> Laid {
    let longest = boards.iter().map(|board| board.length).max().unwrap_or(0);
    let height = board_picture::HEIGHT * boards.len() as f64;
    let place = (Point::new(0.0, height), room.0);
    let items = board_picture::stacked(job, boards, place, longest, tint);
    let width = boards.first().map_or(0, |board| board.problem.width);
    Laid {
        stock: layout.stock.label.clone(),
        numbers: (
            boards.first().map_or(1, |board| board.number),
            boards.last().map_or(1, |board| board.number),
            of,
        ),
        boards: true,
        about: job.length(width),
        items,
        canvas: Bounds::of_size(room.0, height),
        scale: (millimetres(longest) / room.0).max(1.0).round(),
        unplaced: None,
        key: Vec::new(),
        cuts: boards
            .iter()
            .flat_map(|board| in_words(&cut_words::of_board(job, board)))
            .collect(),
    }
}

fn in_words(entries: &[Entry]) -> Vec<CutEntry> {
    entries.iter().map(Entry::cut_entry).collect()
}

/// The pieces and offcuts of a sheet: mark, and title with sizes.
fn key(job: &Job, sheet: &SheetJob) -> Vec<(String, String)> {
    let mut entries = Vec::new();
    for kind in job.kinds_on(sheet) {
        let (part, here, size) = (kind.part, kind.here, kind.size);
        let many = if here > 1 {
            format!("{here} × ")
        } else {
            String::new()
        };
        entries.push((kind.mark, format!("{many}{}, {size}", part.title)));
    }
    for (at, number) in sheet.sheet.offcuts() {
        entries.push((
            offcut_name(number),
            format!("{}, {}", job.words().offcut, job.size(at.width, at.height)),
        ));
    }
    entries
}
