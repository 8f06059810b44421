//! From parts to pages: what goes into each file, before it is written in a format.

use std::fmt::Write;

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Path, Point, rectangle};
use jigless_model::sheets::ArrangedSheet;
use jigless_model::side::Face;
use jigless_model::units::{Unit, decimal};
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;

use super::drawing::{Drawing, Item, Shape, Text};
use super::layers::{Layer, Naming};
use super::options::{Origin, SheetLayout};
use super::{Machine, notes, shared};
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
    pub(super) drawing: Drawing,
}

/// How pages are drawn.
pub(super) struct Style<'a> {
    pub(super) layout: &'a SheetLayout,
    pub(super) naming: &'a Naming,
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
    style: &Style,
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
    style: &Style,
    view: &FaceView,
) -> Result<Page, String> {
    let part = &view.workpiece.part;
    let unit = style.naming.unit;
    let mut drawing = Drawing::default();
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
        stem: file_name::of_face(part, view.face, "")
            .trim_end_matches('.')
            .to_owned(),
        part: Some(part.id.clone()),
        title: part.title.clone(),
        remarks,
        thickness: part.thickness(),
        drawing,
    })
}

/// The highest point of what is drawn.
fn top(drawing: &Drawing) -> f64 {
    drawing.bounds().map_or(0.0, |bounds| bounds.max.y)
}

/// How everything is moved so that the origin is where it is asked for, and what the file says of it.
fn shift(
    drawing: &Drawing,
    origin: Origin,
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
        Origin::LowerLeft => (min, "lower left corner of the work"),
        Origin::LowerRight => (Point::new(max.x, min.y), "lower right corner of the work"),
        Origin::UpperLeft => (Point::new(min.x, max.y), "upper left corner of the work"),
        Origin::UpperRight => (max, "upper right corner of the work"),
        Origin::Centre => (worked.centre(), "centre of the work"),
        Origin::Part => (own.min, "the lower left corner itself"),
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
    style: &Style,
    sheet: &ArrangedSheet,
    of: usize,
) -> Result<Page, String> {
    let unit = style.naming.unit;
    let mut drawing = Drawing::default();
    for placed in &sheet.placed {
        let mut own = Drawing::default();
        let workpiece = &input.workpieces[placed.workpiece];
        machine.draw(&workpiece.seen_from(Face::Front), unit, &mut own);
        // A neighbour may lie where the pins of a single part go.
        let kept = |item: &Item| item.layer.is_worked() && item.layer != Layer::Register;
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
                drawing.add(Layer::Notes, Shape::Text(label));
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

fn sheet_name(sheet: &ArrangedSheet) -> String {
    let id: String = sheet
        .stock
        .id
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || c == '_' {
                c
            } else {
                '-'
            }
        })
        .collect();
    format!("sheet-{id}-{}", sheet.number)
}

/// The part's name in its middle, as large as fits.
fn label(workpiece: &Workpiece, outline: &Path) -> Option<Text> {
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
    Some(Text {
        at,
        centred: true,
        height,
        upward,
        content: id.clone(),
    })
}

fn heading(sheet: &ArrangedSheet, of: usize, unit: Unit) -> String {
    let beyond = if sheet.at_hand {
        ""
    } else {
        ", one more than the plan has at hand"
    };
    format!(
        "{} ({}), sheet {} of {of}: {} by {}, {} parts, waste {} %{beyond}",
        sheet.stock.label,
        sheet.stock.id,
        sheet.number,
        unit.show(sheet.width),
        unit.show(sheet.height),
        sheet.placed.len(),
        decimal(100.0 * sheet.waste(), 1)
    )
}

/// All sheets in words: what lies where on each, and what is wasted.
pub(super) fn list_of_sheets(input: &ExportInput, unit: Unit) -> String {
    let mut text = format!("{}: parts on sheets\n", input.plan.title);
    let Some(arrangement) = input.sheets else {
        return text;
    };
    let (mut area, mut used) = (0.0, 0.0);
    for sheet in &arrangement.sheets {
        let of = arrangement
            .sheets
            .iter()
            .filter(|other| other.stock.id == sheet.stock.id)
            .count();
        area += sheet.width * sheet.height;
        used += sheet.used;
        // Writing to a String cannot fail.
        let _ = writeln!(
            text,
            "\n{}\n{}",
            sheet_name(sheet),
            heading(sheet, of, unit)
        );
        for placed in &sheet.placed {
            let workpiece = &input.workpieces[placed.workpiece];
            let Some(bounds) = placed.path(workpiece.outline()).bounds() else {
                continue;
            };
            let turned = match placed.quarters % 4 {
                0 => String::new(),
                quarters => format!(", turned {} degrees", u32::from(quarters) * 90),
            };
            let _ = writeln!(
                text,
                "  {} ({} of {}): x {}, y {}, {} by {}{turned}",
                workpiece.part.id,
                placed.copy,
                workpiece.part.count,
                unit.show(bounds.min.x),
                unit.show(bounds.min.y),
                unit.show(bounds.width()),
                unit.show(bounds.height()),
            );
        }
    }
    if area > 0.0 {
        let waste = decimal(100.0 * (1.0 - used / area), 1);
        let _ = writeln!(text, "\nWaste of all sheets together: {waste} %");
    }
    text
}
