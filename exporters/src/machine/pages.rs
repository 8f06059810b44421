//! From parts to pages: what goes into each file, before it is written in a format.
//!
//! Zero is the same corner of a part or sheet in all of its files. Where both faces are worked the back is first: the
//! file of the front frees the parts, and is last.

use jigless_model::export::{Artifact, ExportInput};
use jigless_model::geom::{Bounds, Point, rectangle};
use jigless_model::sheets::ArrangedSheet;
use jigless_model::side::Face;
use jigless_model::units::Unit;
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;

use super::contract::Machine;
use super::drawing::{LayerDrawing, LayerItem};
use super::layers::{Layer, LayerNaming};
use super::layout_options::{FileOrigin, SheetLayout};
use super::ngc::{OnFace, PartOnFace};
use super::sheet_frame::SheetFrame;
use super::sheet_list::{heading, sheet_name};
use super::{notes, references, shared, sheet_labels};
use crate::drawing::measure::Lengths;
use crate::file_name;

/// Height of the numbers of operations on a sheet, in millimetres. Common practice, no source.
const SMALL_LETTERS: f64 = 4.0;

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
    /// How deep through cuts go, in millimetres.
    pub(super) through: f64,
    /// The sheet in the file; `None` for a part.
    pub(super) sheet: Option<Bounds>,
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

/// The pages of a plan: one for each worked face of each part, or of each sheet.
///
/// # Errors
/// What a machine cannot make.
pub(super) fn pages(
    machine: &impl Machine,
    input: &ExportInput,
    style: &PageStyle,
) -> Result<Vec<Page>, String> {
    let mut pages = Vec::new();
    let Some(arrangement) = input.sheets else {
        for workpiece in input.workpieces {
            let faces = faces(machine, &[workpiece]);
            for face in &faces {
                let view = workpiece.seen_from(*face);
                pages.push(part_page(machine, input, style, &view, faces.len())?);
            }
        }
        return Ok(pages);
    };
    if let Some(&first) = arrangement.too_large.first() {
        let part = &input.workpieces[first].part.id;
        return Err(format!(
            "part `{part}` is larger than any sheet that is left"
        ));
    }
    for sheet in &arrangement.sheets {
        let same = |other: &&ArrangedSheet| other.stock.id == sheet.stock.id;
        let of = arrangement.sheets.iter().filter(same).count();
        let on_it: Vec<&Workpiece> = sheet
            .placed
            .iter()
            .map(|placed| &input.workpieces[placed.workpiece])
            .collect();
        let faces = faces(machine, &on_it);
        for face in &faces {
            let place = OfSheets {
                sheet,
                of,
                frame: SheetFrame::new(sheet, style.layout.bed, *face),
                faces: faces.len(),
            };
            pages.push(sheet_page(machine, input, style, &place)?);
        }
    }
    Ok(pages)
}

/// The faces that are worked, the front first in the list of files.
pub(super) fn faces(machine: &impl Machine, workpieces: &[&Workpiece]) -> Vec<Face> {
    let needs = |face: &Face| {
        let mut workpieces = workpieces.iter();
        workpieces.any(|workpiece| machine.needs_file(workpiece, *face))
    };
    Face::ALL.into_iter().filter(needs).collect()
}

/// Which of the files of a part or sheet is worked when, and what the pins are for; nothing where there is one only.
fn order(machine: &impl Machine, face: Face, faces: usize, own: Bounds, unit: Unit) -> Vec<String> {
    if faces < 2 {
        return Vec::new();
    }
    let middle = unit.show(own.width() / 2.0);
    let (diameter, holes) = machine.registers(own, false);
    let pins = !holes.is_empty();
    let mut lines = vec![match face {
        Face::Back => format!(
            "Order: this file, of the back, is first. Then turn over about the upright line at x = {middle}, left edge to \
             the right, and work the file of the front"
        ),
        Face::Front => format!(
            "Order: the file of the back is first; this one, of the front, frees the work and is last. In between turn \
             over about the upright line at x = {middle}"
        ),
    }];
    if pins {
        lines.push(match face {
            Face::Back => format!(
                "Register: three holes for pins of {} go on into the board below; any other way of turning over does not \
                 fit them",
                unit.show(diameter)
            ),
            Face::Front => format!(
                "Register: pins of {} stand in the board below where layer PINS shows them",
                unit.show(diameter)
            ),
        });
    }
    lines
}

/// Draws the holes for pins in the file that is first, and the pins in the other one.
fn draw_registers(
    machine: &impl Machine,
    face: Face,
    own: Bounds,
    on_sheet: bool,
    drawing: &mut LayerDrawing,
) {
    let layer = match face {
        Face::Back => Layer::Register,
        Face::Front => Layer::Pins,
    };
    let (diameter, holes) = machine.registers(own, on_sheet);
    for hole in holes {
        drawing.circle(layer, hole, diameter);
    }
}

fn part_page(
    machine: &impl Machine,
    input: &ExportInput,
    style: &PageStyle,
    view: &FaceView,
    faces: usize,
) -> Result<Page, String> {
    let part = &view.workpiece.part;
    let unit = style.naming.unit;
    let own = Bounds::of_size(view.width, view.height);
    let mut drawing = LayerDrawing::default();
    let (shift, zero) = shift(style.layout.origin, own, "part");
    let mut remarks = vec![zero];
    remarks.extend(order(machine, view.face, faces, own, unit));
    let drawn = machine.draw(view, unit, &mut drawing);
    if faces > 1 {
        draw_registers(machine, view.face, own, false, &mut drawing);
    }
    remarks.extend(machine.finish(&part.stock, unit, &mut drawing)?);
    remarks.extend(machine.about_part(view.workpiece, unit));
    remarks.extend(drawn);
    drawing.sort();
    if style.notes {
        let height = notes::text_height(view);
        for (name, bounds) in references::of(view) {
            references::draw(&name, bounds, height, &mut drawing);
        }
        let on_face = [PartOnFace {
            workpiece: view.workpiece,
            placing: None,
        }];
        let operations = machine.operations(&OnFace {
            parts: &on_face,
            face: view.face,
            faces,
            stock: &part.stock,
            own,
            on_sheet: false,
        });
        references::draw_operations(&operations, height, &mut drawing);
        let mut lines = notes::identity(input, view, unit);
        lines.extend(notes::legend(&drawing, style.naming, &operations));
        lines.extend(remarks.iter().cloned());
        notes::label_edges(view, &mut drawing);
        let above = view.height.max(top(&drawing));
        notes::write_block(above, height, &lines, &mut drawing);
    }
    drawing.move_by(shift);
    drawing.sort();
    Ok(Page {
        stem: file_name::stem_of_face(part, view.face),
        part: Some(part.id.clone()),
        title: part.title.clone(),
        remarks,
        through: machine.through(&part.stock),
        sheet: None,
        drawing,
    })
}

/// The highest point of what is drawn.
fn top(drawing: &LayerDrawing) -> f64 {
    drawing.bounds().map_or(0.0, |bounds| bounds.max.y)
}

/// How everything is moved so that zero is where it is asked for, and what the file says of it. Zero is a point of the
/// part or sheet, whatever runs past its edges, so that it is the same in all of its files.
fn shift(origin: FileOrigin, own: Bounds, whose: &str) -> (Point, String) {
    let Bounds { min, max } = own;
    let (at, word) = match origin {
        FileOrigin::LowerLeft => (min, "lower left corner"),
        FileOrigin::LowerRight => (Point::new(max.x, min.y), "lower right corner"),
        FileOrigin::UpperLeft => (Point::new(min.x, max.y), "upper left corner"),
        FileOrigin::UpperRight => (max, "upper right corner"),
        FileOrigin::Centre => (own.centre(), "centre"),
    };
    let remark = format!("Zero: the {word} of the {whose} as this file shows it");
    (-at, remark)
}

/// A sheet among those of its stock, and the face of it that is up.
struct OfSheets<'a> {
    sheet: &'a ArrangedSheet,
    /// How many sheets of this stock there are.
    of: usize,
    frame: SheetFrame,
    /// How many faces are worked.
    faces: usize,
}

fn sheet_page(
    machine: &impl Machine,
    input: &ExportInput,
    style: &PageStyle,
    place: &OfSheets,
) -> Result<Page, String> {
    let unit = style.naming.unit;
    let OfSheets { sheet, frame, .. } = *place;
    let own = frame.bounds();
    let mut drawing = LayerDrawing::default();
    let mut drawn: Vec<(String, Vec<String>)> = Vec::new();
    for placed in &sheet.placed {
        let mut lines = LayerDrawing::default();
        let workpiece = &input.workpieces[placed.workpiece];
        let view = workpiece.seen_from(frame.face);
        let said = machine.draw(&view, unit, &mut lines);
        let id = &workpiece.part.id;
        if drawn.iter().all(|(other, _)| other != id) {
            drawn.push((id.clone(), said));
        }
        let placing = frame.placing(placed, workpiece.part.width);
        let kept = |item: &LayerItem| item.layer.is_worked() || item.layer == Layer::HandWork;
        for item in lines.items.into_iter().filter(kept) {
            if let Some(shape) = item.shape.placed(&placing) {
                drawing.add(item.layer, shape);
            }
        }
    }
    let mut remarks = vec![heading(sheet, place.of, unit)];
    let (shift, zero) = shift(style.layout.origin, own, "sheet");
    remarks.push(zero);
    remarks.push(format!("Units: {}", Lengths::decimal(unit).describe()));
    let along = if frame.turned {
        "along x, from left to right"
    } else {
        "along y, up the sheet"
    };
    remarks.push(format!("Grain of the sheet: {along}"));
    remarks.extend(order(machine, frame.face, place.faces, own, unit));
    if place.faces > 1 {
        draw_registers(machine, frame.face, own, true, &mut drawing);
    }
    remarks.extend(machine.finish(&sheet.stock, unit, &mut drawing)?);
    if machine.shares_edges() && frame.face == Face::Front {
        let shared = shared::cut_once(&mut drawing);
        remarks.push(format!("Shared edges cut once: {}", unit.show(shared)));
    }
    drawing.sort();
    if style.notes {
        drawing.path(Layer::Notes, &rectangle(own));
        sheet_labels::draw(input, sheet, frame, &mut drawing);
        let on_face: Vec<PartOnFace> = sheet
            .placed
            .iter()
            .map(|placed| {
                let workpiece = &input.workpieces[placed.workpiece];
                PartOnFace {
                    workpiece,
                    placing: Some(frame.placing(placed, workpiece.part.width)),
                }
            })
            .collect();
        let operations = machine.operations(&OnFace {
            parts: &on_face,
            face: frame.face,
            faces: place.faces,
            stock: &sheet.stock,
            own,
            on_sheet: true,
        });
        references::draw_operations(&operations, SMALL_LETTERS, &mut drawing);
        let mut lines = vec![input.plan.title.clone()];
        lines.extend(remarks.iter().cloned());
        lines.extend(notes::of_parts(&drawn));
        lines.extend(notes::legend(&drawing, style.naming, &operations));
        lines.push(format!("Made by {}", input.stamp.tool));
        let height = (own.width().max(own.height()) / 100.0).clamp(2.0, 20.0);
        notes::write_block(own.max.y, height, &lines, &mut drawing);
    }
    drawing.move_by(shift);
    drawing.sort();
    Ok(Page {
        stem: file_name::stem_of_sheet(&sheet_name(sheet), frame.face),
        part: None,
        title: remarks[0].clone(),
        remarks,
        through: machine.through(&sheet.stock),
        sheet: Some(own.moved(shift)),
        drawing,
    })
}
