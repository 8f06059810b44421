//! The sheets of a part: its templates one over the other, those of a face together.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Path, Point, rectangle};
use jigless_model::operation::Work;
use jigless_model::side::Face;
use jigless_model::workpiece::Workpiece;

use super::by_rule::RuledWork;
use super::card::{Card, SMALL};
use super::fingerprint;
use super::hole_list::HoleList;
use super::in_place::FinishedPiece;
use super::options::PdfTemplateOptions;
use super::page_format::PageFormat;
use super::page_frame;
use super::page_map::MapCell;
use super::paper_sheet::Viewport;
use super::sheet_head::{self, SheetPart};
use super::slot::Slot;
use super::stack::{self, BETWEEN};
use super::template_maker::{self, FaceTemplates};
use crate::drawing::{Anchor, Dash, Ink, Item, Pen, Role, TextLine, Tint};
use crate::used_in::UsedIn;

/// A sheet of templates that does not yet know its number.
#[derive(Debug, Clone)]
pub(super) struct DraftSheet {
    /// Its paper.
    pub(super) format: PageFormat,
    /// What is drawn and said for the part.
    pub(super) items: Vec<Item>,
    /// Where the part lies on it.
    pub(super) viewports: Vec<Viewport>,
    /// Its fingerprint.
    pub(super) code: String,
    /// Where the names of the parts go on each template, and the room for them in millimetres.
    pub(super) names: Vec<(Point, f64)>,
    /// The parts that it is for.
    pub(super) parts: Vec<SheetPart>,
    /// What it shows, in a few words: `front 1, 2`.
    pub(super) shows: String,
    /// The plan, its revision and its digest.
    pub(super) plan: String,
    /// What is written at its pencil outlines: the parts that go there, by their titles.
    pub(super) outlines: Vec<String>,
}

/// The sheets of a part, and what stands elsewhere.
#[derive(Debug)]
pub(super) struct PartSheets {
    /// The sheets.
    pub(super) sheets: Vec<DraftSheet>,
    /// Its list of holes and rows.
    pub(super) list: HoleList,
    /// Cards that had no room beside the work.
    pub(super) cards: Vec<Card>,
}

/// Lays a part out, with its mark.
pub(super) fn lay_out(
    input: &ExportInput,
    (workpiece, mark): (&Workpiece, &str),
    piece: &FinishedPiece,
    options: &PdfTemplateOptions,
    used_in: &UsedIn,
) -> PartSheets {
    let part = &workpiece.part;
    let mut sheets = Vec::new();
    let mut cards: Vec<Card> = Vec::new();
    let mut list = HoleList::of_part(mark, &part.title);
    let mut unplaced: Vec<String> = Vec::new();
    let mut ruled: Vec<RuledWork> = Vec::new();
    let lengths = options.lengths(input.plan.units);
    for face in Face::ALL {
        if face == Face::Back && !workpiece.has_work_on(face) {
            continue;
        }
        let found = template_maker::of_face(input, workpiece, face, options);
        let view = workpiece.seen_from(face);
        list.verify(&found.templates);
        list.holes(&view, &found.holes, lengths);
        list.rows(&view, &found.rows);
        ruled.extend(found.ruled.iter().cloned());
        for slot in &found.slots {
            unplaced.extend(slot.unplaced.iter().cloned());
            for card in &slot.left {
                if !cards.contains(card) {
                    cards.push(card.clone());
                }
            }
        }
        sheets.extend(of_face((&found, mark), piece, options));
    }
    let mut worked_out: Vec<String> = Vec::new();
    for line in workpiece.workings.iter().flat_map(|working| &working.lines) {
        let line = line.to_string();
        if !worked_out.contains(&line) {
            worked_out.push(line);
        }
    }
    list.ruled(&ruled, used_in);
    list.section(
        "worked out from your numbers; check them against the data sheet",
        &worked_out,
    );
    list.section("no room on the sheet for", &unplaced);
    PartSheets {
        sheets,
        list,
        cards,
    }
}

/// The sheets of a face.
fn of_face(
    (found, mark): (&FaceTemplates, &str),
    piece: &FinishedPiece,
    options: &PdfTemplateOptions,
) -> Vec<DraftSheet> {
    let Some(first) = found.templates.first() else {
        return Vec::new();
    };
    let format = found.format;
    let area = page_frame::drawing_area(format, first.lengths.bar_unit());
    let heights: Vec<f64> = found.slots.iter().map(|slot| slot.size.1).collect();
    let stacked = stack::sheets(&heights, area.height());
    let part = &first.view.workpiece.part;
    let sheet = |on: &Vec<usize>| {
        let mut items = Vec::new();
        if first.face() == Face::Back {
            let tint = match options.inks {
                Tint::Grey => Ink(240, 240, 240),
                Tint::Colour => Ink(255, 240, 214),
            };
            let all = rectangle(format.printable());
            items.push(Item::fill(Role::Side, all, tint));
        }
        let mut viewports = Vec::new();
        let mut names = Vec::new();
        let mut top = area.max.y;
        for (index, slot) in on
            .iter()
            .filter_map(|index| found.slots.get(*index))
            .enumerate()
        {
            if index > 0 {
                items.extend(cut_line(area, top - BETWEEN / 2.0));
                top -= BETWEEN;
            }
            let corner = Point::new(area.min.x, ((top - slot.size.1) * 100.0).round() / 100.0);
            items.extend(slot.items.iter().map(|item| item.moved(corner)));
            names.push((slot.name_at.0 + corner, slot.name_at.1));
            viewports.push(Viewport {
                name: format!("{} {} {}", part.id, first.face().name(), slot.name),
                area: Bounds::of_size(slot.size.0, slot.size.1).moved(corner),
                origin: slot.origin + corner,
            });
            top -= slot.size.1;
        }
        let cell = |(index, slot): (usize, &Slot)| MapCell {
            shows: slot.shows,
            name: slot.name.clone(),
            here: on.contains(&index),
        };
        let cells: Vec<MapCell> = found.slots.iter().enumerate().map(cell).collect();
        items.extend(sheet_head::of_part(format, first, &cells, piece));
        items.extend(sheet_head::bars(format, first));
        let shown = on.iter().filter_map(|index| found.slots.get(*index));
        let shown: Vec<&str> = shown.map(|slot| slot.name.as_str()).collect();
        DraftSheet {
            format,
            code: fingerprint::of_sheet(format, &items),
            items,
            viewports,
            names,
            parts: vec![SheetPart {
                id: part.id.clone(),
                mark: mark.to_owned(),
                title: part.title.clone(),
                count: part.count,
                pair: first.caption.pair.clone(),
            }],
            shows: format!("{} {}", first.face().name(), shown.join(", ")),
            plan: first.caption.plan.clone(),
            outlines: outlines(found, on),
        }
    };
    stacked.iter().map(sheet).collect()
}

/// The words of the pencil outlines that some slots show, each once.
fn outlines(found: &FaceTemplates, on: &[usize]) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for index in on {
        let Some(slot) = found.slots.get(*index) else {
            continue;
        };
        // A template for each slot, or one for all of them.
        let template = found.templates.get(*index).or(found.templates.first());
        let operations = template.map_or(&[][..], |template| &template.view.operations);
        for operation in operations {
            let Work::Mark(mark) = &operation.work else {
                continue;
            };
            let bounds = mark.lines.iter().filter_map(Path::bounds);
            let middle = bounds.reduce(Bounds::union).map(Bounds::centre);
            let is_shown = middle.is_some_and(|at| slot.shows.contains(at, 0.0));
            if let Some(own) = &operation.origin.label
                && is_shown
                && !words.contains(own)
            {
                words.push(own.clone());
            }
        }
    }
    words
}

/// The line between two templates on a sheet.
fn cut_line(area: Bounds, y: f64) -> Vec<Item> {
    let words = TextLine::new(Point::new(area.max.x, y - 0.9), SMALL, "cut apart");
    let words = words.anchored(Anchor::End);
    let to = Point::new(words.start().x - 1.5, y);
    let pen = Pen::new(0.15, Ink::BLACK).dashed(Dash::Fold);
    vec![
        Item::line(Role::Join, Point::new(area.min.x, y), to, pen),
        Item::text(Role::Join, words),
    ]
}
