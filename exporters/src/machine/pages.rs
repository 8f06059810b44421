//! From parts to pages: what goes into each file, before it is written in a format.

use jigless_model::export::{Artifact, ExportInput};
use jigless_model::geom::{Bounds, Path, Point, rectangle};
use jigless_model::sheets::ArrangedSheet;
use jigless_model::side::Face;
use jigless_model::units::Unit;
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;

use super::contract::Machine;
use super::drawing::{LayerDrawing, LayerItem, LayerShape, NoteText};
use super::layers::{Layer, LayerNaming};
use super::layout_options::{FileOrigin, SheetLayout};
use super::sheet_list::{heading, sheet_name};
use super::{notes, shared};
use crate::file_name;

/// What goes into one file.
#[derive(Debug)]
pub(super) struct Page {
    /// Its path without extension.
    pub(super) stem: String,
    /// The part that it shows; `None` for a sheet.
    pub(super) part: Option<String>,
    /// What it is called.
    pub(super) title: String,
    /// What it says of itself, line by line.
    pub(super) remarks: Vec<String>,
    /// Thickness of the board, in millimetres.
    pub(super) thickness: f64,
    pub(super) drawing: LayerDrawing,
}

impl Page {
    /// The page as a file.
    pub(super) fn artifact(
        &self,
        path: String,
        media_type: &'static str,
        bytes: Vec<u8>,
    ) -> Artifact {
        Artifact {
            path,
            media_type,
            part: self.part.clone(),
            bytes,
        }
    }
}

/// How pages are drawn.
pub(super) struct PageStyle<'a> {
    pub(super) layout: &'a SheetLayout,
    pub(super) naming: &'a LayerNaming,
    /// Whether texts are written.
    pub(super) notes: bool,
}

/// The pages of a plan: one for each worked face of each part, or one for each sheet, and with it those of the backs.
///
/// # Errors
/// What a machine cannot make.
pub(super) fn pages(
    machine: &impl Machine,
    input: &ExportInput,
    style: &PageStyle,
) -> Result<Vec<Page>, String> {
    let mut pages = Vec::new();
    if let Some(arrangement) = input.sheets {
        if let Some(&first) = arrangement.too_large.first() {
            let part = &input.workpieces[first].part.id;
            return Err(format!(
                "part `{part}` is larger than any sheet that is left"
            ));
        }
        for sheet in &arrangement.sheets {
            let of = arrangement
                .sheets
                .iter()
                .filter(|other| other.stock.id == sheet.stock.id)
                .count();
            pages.push(sheet_page(machine, input, style, sheet, of)?);
        }
    }
    for workpiece in input.workpieces {
        for face in Face::ALL {
            let on_sheet = input.sheets.is_some() && face == Face::Front;
            if !on_sheet && machine.needs_file(workpiece, face) {
                pages.push(part_page(
                    machine,
                    input,
                    style,
                    &workpiece.seen_from(face),
                )?);
            }
        }
    }
    Ok(pages)
}

fn part_page(
    machine: &impl Machine,
    input: &ExportInput,
    style: &PageStyle,
    view: &FaceView,
) -> Result<Page, String> {
    let part = &view.workpiece.part;
    let unit = style.naming.unit;
    let mut drawing = LayerDrawing::default();
    let mut remarks = machine.draw(view, unit, &mut drawing);
    let compensation = machine.finish(&part.stock, unit, &mut drawing)?;
    remarks.splice(0..0, compensation);
    let own = Bounds::of_size(view.width, view.height);
    let (shift, origin) = shift(&drawing, style.layout.origin, own, unit, "part's");
    remarks.insert(0, origin);
    drawing.sort();
    if style.notes {
        let mut lines = notes::identity(input, view, unit);
        lines.extend(notes::legend(&drawing, style.naming));
        lines.extend(remarks.iter().cloned());
        notes::label_edges(view, &mut drawing);
        notes::write_block(
            view.height.max(top(&drawing)),
            notes::text_height(view),
            &lines,
            &mut drawing,
        );
    }
    drawing.move_by(shift);
    drawing.sort();
    Ok(Page {
        stem: file_name::stem_of_face(part, view.face),
        part: Some(part.id.clone()),
        title: part.title.clone(),
        remarks,
        thickness: part.thickness(),
        drawing,
    })
}

/// The highest point of what is drawn.
fn top(drawing: &LayerDrawing) -> f64 {
    drawing.bounds().map_or(0.0, |bounds| bounds.max.y)
}

/// How everything is moved so that the origin is where it is asked for, and what the file says of it.
fn shift(
    drawing: &LayerDrawing,
    origin: FileOrigin,
    own: Bounds,
    unit: Unit,
    whose: &str,
) -> (Point, String) {
    let worked = drawing
        .items
        .iter()
        .filter(|item| item.layer.is_worked())
        .filter_map(|item| item.shape.bounds())
        .fold(own, Bounds::union);
    let (min, max) = (worked.min, worked.max);
    let (at, word) = match origin {
        FileOrigin::LowerLeft => (min, "lower left corner of the work"),
        FileOrigin::LowerRight => (Point::new(max.x, min.y), "lower right corner of the work"),
        FileOrigin::UpperLeft => (Point::new(min.x, max.y), "upper left corner of the work"),
        FileOrigin::UpperRight => (max, "upper right corner of the work"),
        FileOrigin::Centre => (worked.centre(), "centre of the work"),
        FileOrigin::Part => (own.min, "the lower left corner itself"),
    };
    let corner = own.min - at;
    let remark = format!(
        "Origin: {word}; the {whose} lower left corner is at x {}, y {}",
        unit.show(corner.x),
        unit.show(corner.y)
    );
    (-at, remark)
}

fn sheet_page(
    machine: &impl Machine,
    input: &ExportInput,
    style: &PageStyle,
    sheet: &ArrangedSheet,
    of: usize,
) -> Result<Page, String> {
    let unit = style.naming.unit;
    let mut drawing = LayerDrawing::default();
    for placed in &sheet.placed {
        let mut own = LayerDrawing::default();
        let workpiece = &input.workpieces[placed.workpiece];
        machine.draw(&workpiece.seen_from(Face::Front), unit, &mut own);
        // A neighbour may lie where the pins of a single part go.
        let kept = |item: &LayerItem| item.layer.is_worked() && item.layer != Layer::Register;
        for item in own.items.into_iter().filter(kept) {
            if let Some(shape) = item.shape.placed(placed) {
                drawing.add(item.layer, shape);
            }
        }
    }
    let mut remarks = vec![heading(sheet, of, unit)];
    remarks.extend(machine.finish(&sheet.stock, unit, &mut drawing)?);
    if machine.shares_edges() {
        let shared = shared::cut_once(&mut drawing);
        remarks.push(format!("Shared edges cut once: {}", unit.show(shared)));
    }
    let own = Bounds::of_size(sheet.width, sheet.height);
    let (shift, origin) = shift(&drawing, style.layout.origin, own, unit, "sheet's");
    remarks.push(origin);
    drawing.sort();
    if style.notes {
        drawing.path(Layer::Notes, &rectangle(own));
        for placed in &sheet.placed {
            let workpiece = &input.workpieces[placed.workpiece];
            if let Some(label) = label(workpiece, &placed.path(workpiece.outline())) {
                drawing.add(Layer::Notes, LayerShape::Text(label));
            }
        }
        let mut lines = vec![input.plan.title.clone()];
        lines.extend(remarks.iter().cloned());
        lines.extend(notes::legend(&drawing, style.naming));
        lines.push(format!("Made by {}", input.stamp.tool));
        let height = (sheet.width.max(sheet.height) / 100.0).clamp(2.0, 20.0);
        notes::write_block(sheet.height, height, &lines, &mut drawing);
    }
    drawing.move_by(shift);
    drawing.sort();
    Ok(Page {
        stem: sheet_name(sheet),
        part: None,
        title: remarks[0].clone(),
        remarks,
        thickness: sheet.stock.thickness,
        drawing,
    })
}

/// The part's name in its middle, as large as fits.
fn label(workpiece: &Workpiece, outline: &Path) -> Option<NoteText> {
    let bounds = outline.bounds()?;
    let upward = bounds.height() > bounds.width();
    let (along, across) = if upward {
        (bounds.height(), bounds.width())
    } else {
        (bounds.width(), bounds.height())
    };
    let id = &workpiece.part.id;
    let height = (0.7 * along / id.chars().count() as f64)
        .min(0.3 * across)
        .min(20.0);
    let middle = bounds.centre();
    let at = if upward {
        Point::new(middle.x + height / 2.0, middle.y)
    } else {
        Point::new(middle.x, middle.y - height / 2.0)
    };
    Some(NoteText {
        at,
        centred: true,
        height,
        upward,
        content: id.clone(),
    })
}
