//! Files for machines: one for each worked face of each part, or one for each sheet of arranged parts.
//!
//! The same road for router ([`DxfCnc`]) and laser ([`DxfLaser`], [`SvgLaser`]): a
//! [face](jigless_core::view::FaceView) is drawn as shapes on [layers](layers) by what the machine can do, laid out as
//! [pages], and written. DXF is [written](writer) on a [skeleton](skeleton) that the `dxf` crate makes and that is
//! [finished](finish) so that strict readers take it. No coordinate is negative unless another origin is asked for, and every z is 0 unless depths are. Arcs stay
//! arcs; there are no splines.

mod cnc;
pub mod coupon;
mod drawing;
mod entities;
mod finish;
mod groups;
mod hand_work;
mod kerf;
mod laser;
mod layers;
mod lettering;
#[cfg(test)]
mod machines;
mod map;
mod notes;
mod options;
mod pages;
mod parallel;
mod pencil;
mod relief;
mod shared;
mod skeleton;
mod svg;
mod tabs;
mod tools;
mod writer;
#[cfg(test)]
mod written;

pub use cnc::DxfCnc;
pub use laser::DxfLaser;
pub use options::{
    Arrange, DxfCncOptions, DxfFile, DxfLaserOptions, FileUnits, Kerf, KerfRule, LaserOptions,
    LayerStyle, Origin, PartIds, Relief, RouterOptions, SheetLayout, SvgLaserOptions, Tool,
    Version,
};
pub use svg::SvgLaser;

use jigless_core::arrange::{Settings, fits_some_sheet};
use jigless_core::diag::{Finding, Findings, Severity};
use jigless_core::export::{Artifact, ExportError, ExportInput};
use jigless_core::plan::Stock;
use jigless_core::side::Face;
use jigless_core::units::Unit;
use jigless_core::view::FaceView;
use jigless_core::workpiece::Workpiece;

use crate::codes;
use drawing::Drawing;
use layers::Naming;
use pages::{Page, Style, pages};

/// IANA media type of DXF.
const MEDIA_TYPE: &str = "image/vnd.dxf";

/// What sets one machine's files apart from another's.
trait Machine {
    /// Id of the exporter.
    fn id(&self) -> &'static str;

    /// Whether a face of a part needs a file.
    fn needs_file(&self, workpiece: &Workpiece, face: Face) -> bool;

    /// Draws the work of a face in nominal lines; gives further lines for the notes.
    fn draw(&self, view: &FaceView, unit: Unit, drawing: &mut Drawing) -> Vec<String>;

    /// Allows for the width of the cut, once everything lies as it will be cut; says so, line by line.
    ///
    /// # Errors
    /// What is too small for the cut.
    fn finish(
        &self,
        stock: &Stock,
        unit: Unit,
        drawing: &mut Drawing,
    ) -> Result<Vec<String>, String>;

    /// Whether neighbours on a sheet have edges in common that are cut once.
    fn shares_edges(&self) -> bool {
        false
    }
}

/// Makes the DXF files of all parts or sheets.
fn export_dxf(
    machine: &impl Machine,
    input: &ExportInput,
    file: &DxfFile,
    layout: &SheetLayout,
    depths: bool,
) -> Result<Vec<Artifact>, ExportError> {
    let failed = |message: String| ExportError {
        exporter: machine.id(),
        message,
    };
    let naming = Naming {
        unit: file.units.of_plan(input.plan.units),
        styles: file.layers.clone(),
    };
    let style = Style {
        layout,
        naming: &naming,
        notes: file.notes,
    };
    let mut artifacts = Vec::new();
    for page in pages(machine, input, &style).map_err(failed)? {
        let path = format!("{}.dxf", page.stem);
        let identity = writer::Identity {
            naming: naming.clone(),
            version: file.version,
            name: format!("{}/{}/{path}", input.plan.digest, machine.id()),
            date: input.stamp.date,
            depths: depths.then_some(page.thickness),
        };
        let bytes = writer::write(&page.drawing, &identity)
            .map_err(|fault| failed(format!("{path}: {fault}")))?;
        artifacts.push(artifact(&page, path, MEDIA_TYPE, bytes));
    }
    artifacts.extend(maps_of_sheets(input, naming.unit));
    Ok(artifacts)
}

fn artifact(page: &Page, path: String, media_type: &'static str, bytes: Vec<u8>) -> Artifact {
    Artifact {
        path,
        media_type,
        part: page.part.clone(),
        bytes,
    }
}

/// What lies where, in words and as a picture; nothing where parts are not arranged.
fn maps_of_sheets(input: &ExportInput, unit: Unit) -> Vec<Artifact> {
    if input.sheets.is_none() {
        return Vec::new();
    }
    let whole = |path: &str, media_type, text: String| Artifact {
        path: path.to_owned(),
        media_type,
        part: None,
        bytes: text.into_bytes(),
    };
    vec![
        whole(
            "sheets.txt",
            "text/plain",
            pages::list_of_sheets(input, unit),
        ),
        whole("sheet-map.svg", "image/svg+xml", map::of_sheets(input)),
    ]
}

/// Tells of parts that no sheet can hold.
fn vet_sheets(input: &ExportInput, settings: Option<&Settings>, findings: &mut Findings) {
    let Some(settings) = settings else { return };
    let unit = input.plan.units;
    for workpiece in input.workpieces {
        let part = &workpiece.part;
        if !fits_some_sheet(workpiece, settings) {
            let message = format!(
                "part `{}`, {} by {}, fits no sheet of `{}` with a margin of {} and its grain kept",
                part.id,
                unit.show(part.width),
                unit.show(part.height),
                part.stock.id,
                unit.show(settings.margin)
            );
            findings.push(
                Finding::error(codes::PART_LARGER_THAN_SHEET, part.span, message)
                    .fix("take a larger sheet, a smaller margin, or do not arrange this part"),
            );
        }
    }
}

/// Says of each part how much of its work is left to the hand. Both machines say the same, so that it is told once.
fn vet_hand_work(input: &ExportInput) -> Findings {
    let mut findings = Findings::new();
    for workpiece in input.workpieces {
        let operations = &workpiece.operations;
        let count = operations
            .iter()
            .filter(|operation| hand_work::is_hand_work(operation))
            .count();
        if count == 0 {
            continue;
        }
        let pieces = if count == 1 { "piece" } else { "pieces" };
        let message = format!(
            "part `{}`: {count} {pieces} of work (edge holes, angled bores, bevels) on layer HAND_WORK only",
            workpiece.part.id
        );
        let finding = Finding::new(
            codes::MACHINE_LEAVES_HAND_WORK,
            Severity::Note,
            Some(workpiece.part.span),
            message,
        )
        .fix("make them by hand with the part's template");
        findings.push(finding);
    }
    findings
}
