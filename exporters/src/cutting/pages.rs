//! All pages: the cut list, then each sheet as a picture and as cuts in words, then the boards.

use jigless_model::caution::{Medium, called_for};
use jigless_model::geom::{Bounds, Point};
use jigless_model::sheets::StockLayout;

use super::flow::{Entry, READING, fill, over_pages};
use super::job::{BoardJob, Job, SheetJob, board_jobs, sheet_jobs};
use super::sheet_picture::{extent, unplaced_words};
use super::{board_picture, cut_words, overview, sheet_picture};
use crate::drawing::text::LABEL;
use crate::drawing::{Item, Tint};
use crate::pdf::page_feet;
use crate::pdf::page_format::PageFormat;
use crate::pdf::page_frame::title;
use crate::pdf::paper_sheet::PaperSheet;

/// The least room for the key beside a picture, in millimetres.
const KEY: f64 = 46.0;
/// Between a picture and its key, in millimetres.
const GAP: f64 = 4.0;

/// What is said over each list of cuts.
const FIRST: &str = "Write its name and an arrow to its top on each piece as it falls off.";

/// Every page.
pub(super) fn pages(job: &Job, format: PageFormat, tint: Tint) -> Vec<PaperSheet> {
    let cautions = called_for(job.input.plan, job.input.workpieces, Medium::Saw);
    let mut maker = Maker {
        format,
        area: page_feet::area_above(format, &cautions),
        pages: Vec::new(),
    };
    maker.entries("CUTTING", &job.input.plan.title, &overview::entries(job));
    for layout in &job.arrangement.stocks {
        for sheet in sheet_jobs(layout) {
            maker.sheet(job, &sheet, tint);
        }
        let boards = board_jobs(layout);
        if !boards.is_empty() {
            maker.boards(job, layout, &boards, tint);
        }
    }
    page_feet::with_feet(
        format,
        maker.pages,
        &page_feet::of_plan(job.input.plan),
        &cautions,
    )
}

struct Maker {
    format: PageFormat,
    area: Bounds,
    pages: Vec<Vec<Item>>,
}

impl Maker {
    fn page(&mut self, heading: &str, note: &str, mut items: Vec<Item>) {
        items.extend(title(self.format, heading, note));
        self.pages.push(items);
    }

    fn entries(&mut self, heading: &str, note: &str, entries: &[Entry]) {
        for items in over_pages(self.area, entries) {
            self.page(heading, note, items);
        }
    }

    fn sheet(&mut self, job: &Job, sheet: &SheetJob, tint: Tint) {
        let name = format!("SHEET {} OF {}", sheet.number, sheet.of);
        let label = &sheet.layout.stock.label;
        let about = Entry::plain(format!(
            "{label}, {}, {}",
            job.size(sheet.size.width, sheet.size.height),
            job.words().origin(sheet.size.origin)
        ));
        let (mut items, _) = fill(self.area, std::slice::from_ref(&about));
        let room = Bounds::new(
            self.area.min,
            self.area.max - Point::new(0.0, 1.3 * READING + 2.0),
        );
        let key = key(job, sheet);
        let (scale, key_room) = arranged(sheet, room, &key);
        let (_, height) = extent(sheet, scale);
        let corner = Point::new(room.min.x, room.max.y - height);
        let picture = sheet_picture::draw(job, sheet, corner, scale, tint);
        items.extend(picture.items);
        let mut entries: Vec<Entry> = Vec::new();
        entries.extend(
            unplaced_words(job, &picture.unplaced).map(|words| Entry::plain(words).small()),
        );
        entries.extend(key);
        let (shown, rest) = fill(key_room, &entries);
        items.extend(shown);
        let note = format!("1 : {scale}");
        self.page(&name, &note, items);
        // What the key had no room for stands over the cuts.
        let mut entries = rest.to_vec();
        entries.push(Entry::plain(FIRST));
        entries.extend(cut_words::of_sheet(job, sheet));
        self.entries(&format!("CUTS OF {name}"), label, &entries);
    }

    fn boards(&mut self, job: &Job, layout: &StockLayout, boards: &[BoardJob], tint: Tint) {
        let width = boards.first().map_or(0, |board| board.problem.width);
        let label = format!("{}, {} wide", layout.stock.label, job.length(width));
        let longest = boards.iter().map(|board| board.length).max().unwrap_or(0);
        let rows = (self.area.height() / board_picture::HEIGHT)
            .floor()
            .max(1.0) as usize;
        for page in boards.chunks(rows) {
            let top_left = Point::new(self.area.min.x, self.area.max.y);
            let place = (top_left, self.area.width());
            let items = board_picture::stacked(job, page, place, longest, tint);
            self.page("BOARDS", &label, items);
        }
        let mut entries = vec![Entry::plain(FIRST)];
        for board in boards {
            entries.extend(cut_words::of_board(job, board));
        }
        self.entries("CUTS OF BOARDS", &label, &entries);
    }
}

/// The scale of a sheet's picture, and where its key stands: beside it or below, whichever leaves the picture larger.
fn arranged(sheet: &SheetJob, room: Bounds, key: &[Entry]) -> (f64, Bounds) {
    let scale_in = |width: f64, height: f64| {
        // What stands around the sheet is as large at every scale.
        let (around_x, around_y) = extent(sheet, f64::INFINITY);
        let (whole_x, whole_y) = extent(sheet, 1.0);
        let needed = ((whole_x - around_x) / (width - around_x).max(1.0))
            .max((whole_y - around_y) / (height - around_y).max(1.0));
        (needed * 2.0).ceil().max(2.0) / 2.0
    };
    let key_height = 1.5 * LABEL * key.len() as f64 + 4.0;
    let beside = scale_in(room.width() - KEY - GAP, room.height());
    let below = scale_in(room.width(), room.height() - key_height - GAP);
    if beside <= below {
        let (width, _) = extent(sheet, beside);
        let from = Point::new(room.min.x + width + GAP, room.min.y);
        (beside, Bounds::new(from, room.max))
    } else {
        let (_, height) = extent(sheet, below);
        let to = Point::new(room.max.x, room.max.y - height - GAP);
        (below, Bounds::new(room.min, to))
    }
}

/// What is on a sheet, and what lines and tints mean.
fn key(job: &Job, sheet: &SheetJob) -> Vec<Entry> {
    let mut entries = Vec::new();
    for kind in job.kinds_on(sheet) {
        let (part, here, size) = (kind.part, kind.here, kind.size);
        entries.push(Entry::bold(format!("{} {}", kind.mark, part.title)).small());
        let words = match part.count as usize {
            1 => size,
            all if all == here => format!("{all}, each {size}"),
            all => format!("{here} of {all} here, each {size}"),
        };
        entries.push(Entry::plain(words).small());
    }
    for (at, number) in sheet.sheet.offcuts() {
        let name = super::job::offcut_name(number);
        entries.push(Entry::bold(format!("{name} offcut")).small());
        entries.push(Entry::plain(job.size(at.width, at.height)).small());
    }
    let legend = [
        "White on black: the number of the cut.",
        "Thick lines: cuts through the sheet itself.",
        "Grey: waste. Hatched: keep.",
    ];
    entries.push(Entry::bold("In the picture").small());
    entries.extend(legend.map(|words| Entry::plain(words).small()));
    entries
}
