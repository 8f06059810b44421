//! Job sheets: what stands beside the machine while a part or sheet is cut.

use jigless_model::caution::{Medium, called_for};
use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::mark::Marks;
use jigless_model::side::Face;
use jigless_model::units::{Unit, decimal};

use super::cost::cost;
use super::face_work::{FaceWork, number};
use super::job_picture;
use super::operation::{self, Operation, long_way};
use super::options::NgcRouterOptions;
use super::tool_words::tool_words;
use crate::cutting::flow::{Entry, READING, fill, over_pages};
use crate::drawing::Item;
use crate::machine::through;
use crate::pdf::document_facts::DocumentFacts;
use crate::pdf::page_format::PageFormat;
use crate::pdf::page_frame::title;
use crate::pdf::paper_sheet::PaperSheet;
use crate::pdf::{page_feet, paint};

/// The job sheet of a part or sheet as PDF.
///
/// # Errors
/// When the paper has no pages, or the PDF cannot be made.
pub(super) fn document(
    input: &ExportInput,
    options: &NgcRouterOptions,
    faces: &[&FaceWork],
) -> Result<Vec<u8>, String> {
    let pages = pages(input, options, faces)?;
    let name = faces.first().map_or("", |work| work.title.as_str());
    let facts = DocumentFacts::titled(&format!("{} - job sheet of {name}", input.plan.title));
    paint::document(&pages, &facts, input.stamp)
}

/// For each face, in the order in which they are cut, a picture and what is done.
///
/// # Errors
/// When the paper has no pages.
pub(super) fn pages(
    input: &ExportInput,
    options: &NgcRouterOptions,
    faces: &[&FaceWork],
) -> Result<Vec<PaperSheet>, String> {
    let format = options.paper.format().ok_or("a roll has no pages")?;
    let cautions = called_for(input.plan, input.workpieces, Medium::Router);
    let marks = Marks::of(input.plan);
    let sheet = JobSheet {
        input,
        options,
        unit: options.units.of_plan(input.plan.units),
        format,
        area: page_feet::area_above(format, &cautions),
        marks: &marks,
    };
    let mut pages = Vec::new();
    for work in faces {
        sheet.face(work, &mut pages);
    }
    let foot = page_feet::of_plan(input.plan);
    Ok(page_feet::with_feet(format, pages, &foot, &cautions))
}

struct JobSheet<'a> {
    input: &'a ExportInput<'a>,
    options: &'a NgcRouterOptions,
    unit: Unit,
    format: PageFormat,
    area: Bounds,
    marks: &'a Marks,
}

impl JobSheet<'_> {
    /// The pages of one face.
    fn face(&self, work: &FaceWork, pages: &mut Vec<Vec<Item>>) {
        let operations = operation::numbered(&work.jobs);
        let up = match (work.faces, work.face) {
            (1, _) => "FRONT UP",
            (_, Face::Back) => "FIRST: BACK UP",
            (_, Face::Front) => "SECOND: FRONT UP",
        };
        let heading = format!("JOB · {up}");
        let about = [
            Entry::bold(work.title.clone()),
            Entry::plain(self.stock_words(work)).small(),
        ];
        let (mut items, _) = fill(self.area, &about);
        let top = self.area.max.y - height(&about, self.area) - 0.6 * READING;
        let key_height = height(&self.key(work, &[]), self.area) + 0.6 * READING;
        let room = Bounds::new(
            self.area.min + Point::new(0.0, key_height),
            Point::new(self.area.max.x, top),
        );
        let picture = job_picture::draw(work, &operations, self.options, self.marks, room);
        items.extend(picture.items);
        let key = Bounds::new(self.area.min, Point::new(room.max.x, picture.bottom));
        let mut entries = self.key(work, &picture.unplaced);
        entries.extend(self.before(work, &operations));
        entries.extend(self.run(work, &operations));
        entries.extend(after(&work.by_hand));
        let (shown, rest) = fill(key, &entries);
        items.extend(shown);
        items.extend(title(
            self.format,
            &heading,
            &format!("1 : {}", picture.scale),
        ));
        pages.push(items);
        for mut items in over_pages(self.area, rest) {
            items.extend(title(self.format, &heading, &work.stem));
            pages.push(items);
        }
    }

    fn stock_words(&self, work: &FaceWork) -> String {
        let show = |mm: f64| self.unit.show(mm);
        let size = format!("{} by {}", show(work.own.width()), show(work.own.height()));
        let stock = format!(
            "{}, at most {} thick",
            work.stock.label,
            show(work.stock.thickest())
        );
        match work.turned {
            Some(true) => format!("{stock}. The sheet as it lies: {size}, grain along X"),
            Some(false) => format!("{stock}. The sheet as it lies: {size}, grain along Y"),
            None => format!(
                "{stock}. The part as it lies: {size}; take a blank that is larger by {} all around",
                show(work.setup.room[0])
            ),
        }
    }

    /// What stands under the picture.
    fn key(&self, work: &FaceWork, unplaced: &[usize]) -> Vec<Entry> {
        let mut lines = vec![
            "(1), (2): the operations in the list that follows, once at each part.".to_owned(),
        ];
        let mut names: Vec<String> = Vec::new();
        for part in &work.parts {
            let found = self.input.plan.parts.iter().find(|own| own.id == part.id);
            let title = found.map_or(part.id.as_str(), |own| own.title.as_str());
            let words = format!("{} {title}", self.marks.mark(&part.id));
            if !names.contains(&words) {
                names.push(words);
            }
        }
        lines.push(format!("Parts: {}.", names.join("; ")));
        if work.turned.is_some() && self.options.router.clamp > 0.0 {
            lines.push(format!(
                "Dashed: clamps and the fence stay outside of it, within {} of the edge.",
                self.unit.show(self.options.router.clamp)
            ));
        }
        if self.options.router.tab > 0.0 {
            lines.push(
                "Small circles on outlines: tabs, which hold the parts until they are cut by hand."
                    .to_owned(),
            );
        }
        if !unplaced.is_empty() {
            let numbers: Vec<String> = unplaced.iter().map(|n| format!("({n})")).collect();
            lines.push(format!(
                "No room in the picture for {}.",
                numbers.join(", ")
            ));
        }
        lines
            .into_iter()
            .map(|words| Entry::plain(words).small())
            .collect()
    }

    /// What is done before the program runs.
    fn before(&self, work: &FaceWork, operations: &[Operation]) -> Vec<Entry> {
        let show = |mm: f64| self.unit.show(mm);
        let mut lines = vec![format!(
            "The thickness was measured in several places and is nowhere more than {}.",
            show(work.stock.thickest())
        )];
        if work.faces > 1 && work.face == Face::Front {
            lines.push(format!(
                "The back is done. Turn over about the upright line at X = {}: left and right change, top stays. Pins sit in both holes.",
                show(work.own.width() / 2.0)
            ));
        }
        lines.push(through::statement(&self.options.router, work.stock, self.unit) + ".");
        lines.push(
            "The work lies flat and is held so that no tool and no chuck can come to a clamp."
                .to_owned(),
        );
        lines.push(
            "Zero: X and Y at the lower left corner marked 0 in the picture, Z on the upper face."
                .to_owned(),
        );
        let mut entries = vec![Entry::heading("Before it runs")];
        entries.extend(
            lines
                .into_iter()
                .map(|words| Entry::plain(words).indented_tick()),
        );
        entries.push(Entry::heading(
            "Tools, in the order in which they are called",
        ));
        let mut seen = Vec::new();
        for operation in operations {
            if seen.contains(&operation.tool) {
                continue;
            }
            seen.push(operation.tool);
            let own = operations
                .iter()
                .filter(|other| other.tool == operation.tool);
            let deepest = own.map(Operation::deepest).fold(0.0, f64::max);
            let tool = &self.options.router.tools[operation.tool];
            let words = tool_words(tool, number(self.options, operation.tool), self.unit);
            let reach = format!(
                "stick out at least {}",
                show(deepest + self.options.clearance)
            );
            entries.push(Entry::plain(format!("{words}; {reach}")).indented_tick());
        }
        entries
    }

    /// What the program does.
    fn run(&self, work: &FaceWork, operations: &[Operation]) -> Vec<Entry> {
        let thickness = work.stock.thickest();
        let through = through::depth(&self.options.router, work.stock);
        let words = "The program, operation by operation";
        let mut entries = vec![
            Entry::heading(words),
            Entry::plain(format!("File: {}", self.files(work, operations))),
        ];
        for operation in operations {
            let tool = &self.options.router.tools[operation.tool];
            let cost = cost(self.options, operation.jobs, thickness);
            let line = format!(
                "T{}: {}; cut of {}, {} min",
                number(self.options, operation.tool),
                operation.words(tool, through, self.unit),
                long_way(cost.cut, self.unit),
                decimal((cost.seconds / 60.0).max(0.1), 1)
            );
            let number = u32::try_from(operation.number).unwrap_or(u32::MAX);
            entries.push(Entry::numbered(number, line));
        }
        let all = cost(self.options, &work.jobs, thickness);
        entries.push(Entry::bold(format!(
            "About {} min in all, cut of {}, at {} mm/s2 and rapids of {} mm a minute, without changes of tools.",
            decimal((all.seconds / 60.0).max(0.1), 1),
            long_way(all.cut, self.unit),
            decimal(self.options.acceleration, 0),
            decimal(self.options.rapid, 0)
        )));
        entries
    }

    fn files(&self, work: &FaceWork, operations: &[Operation]) -> String {
        let runs = operations.chunk_by(|a, b| a.tool == b.tool).count();
        if self.options.file_per_tool && runs > 1 {
            format!(
                "{0}.1.ngc to {0}.{runs}.ngc, one after the other",
                work.stem
            )
        } else {
            format!("{}.ngc", work.stem)
        }
    }
}

/// How high entries are that fit an area, in millimetres.
fn height(entries: &[Entry], area: Bounds) -> f64 {
    let (items, _) = fill(area, entries);
    let lowest = items.iter().filter_map(Item::bounds).map(|b| b.min.y);
    area.max.y - lowest.fold(area.max.y, f64::min)
}

/// What is left to the hand.
fn after(by_hand: &[String]) -> Vec<Entry> {
    if by_hand.is_empty() {
        return Vec::new();
    }
    let mut entries = vec![Entry::heading("By hand after")];
    let lines = by_hand.iter();
    entries.extend(lines.map(|words| Entry::plain(words.clone()).indented_tick()));
    entries
}
