//! DXF for machines: one file per part, and another one for the back where work is done from there.
//!
//! The same road for router ([`DxfCnc`]) and laser ([`DxfLaser`]): a [face](jigless_core::view::FaceView) is drawn as
//! shapes on [layers](layers) by what the machine can do, [written](writer) with the `dxf` crate, and
//! [finished](finish) so that strict readers take it. 0,0 is the part's lower left corner as seen on the drawn face, no
//! coordinate is negative, and every z is 0. Arcs stay arcs, as bulges; there are no splines.
//!
//! Lines are nominal: neither tool radius nor kerf is taken into account.

mod cnc;
mod drawing;
mod finish;
mod hand_work;
mod laser;
mod layers;
#[cfg(test)]
mod machines;
mod notes;
mod options;
mod writer;
#[cfg(test)]
mod written;

pub use cnc::DxfCnc;
pub use laser::DxfLaser;
pub use options::{DxfOptions, FileUnits, Version};

use jigless_core::diag::{Finding, Findings, Severity};
use jigless_core::export::{Artifact, ExportError, ExportInput};
use jigless_core::side::Face;
use jigless_core::units::Unit;
use jigless_core::view::FaceView;
use jigless_core::workpiece::Workpiece;

use crate::file_name;
use drawing::Drawing;

/// IANA media type.
const MEDIA_TYPE: &str = "image/vnd.dxf";

/// What sets one machine's files apart from another's.
trait Machine {
    /// Id of the exporter.
    fn id(&self) -> &'static str;

    /// Whether a face of a part needs a file.
    fn needs_file(&self, workpiece: &Workpiece, face: Face) -> bool;

    /// Draws the work of a face; gives further lines for the notes.
    fn draw(&self, view: &FaceView, unit: Unit, drawing: &mut Drawing) -> Vec<String>;
}

/// Makes the files of all parts.
fn export(
    machine: &impl Machine,
    input: &ExportInput,
    options: DxfOptions,
) -> Result<Vec<Artifact>, ExportError> {
    let unit = options.units.of_plan(input.plan.units);
    let mut artifacts = Vec::new();
    for workpiece in input.workpieces {
        for face in Face::ALL {
            if !machine.needs_file(workpiece, face) {
                continue;
            }
            let view = workpiece.seen_from(face);
            let path = file_name::of_face(&workpiece.part, face, "dxf");
            let drawing = draw(machine, input, options, &view, unit);
            let identity = writer::Identity {
                unit,
                version: options.version,
                name: format!("{}/{}/{path}", input.plan.digest, machine.id()),
                date: input.stamp.date,
            };
            let bytes = writer::write(&drawing, &identity).map_err(|fault| ExportError {
                exporter: machine.id(),
                message: format!("{path}: {fault}"),
            })?;
            artifacts.push(Artifact {
                path,
                media_type: MEDIA_TYPE,
                part: Some(workpiece.part.id.clone()),
                bytes,
            });
        }
    }
    Ok(artifacts)
}

/// Draws one face with its notes, in the order of the work.
fn draw(
    machine: &impl Machine,
    input: &ExportInput,
    options: DxfOptions,
    view: &FaceView,
    unit: Unit,
) -> Drawing {
    let mut drawing = Drawing::default();
    let remarks = machine.draw(view, unit, &mut drawing);
    drawing.sort();
    if options.notes {
        let mut lines = notes::identity(input, view, unit);
        lines.extend(notes::legend(&drawing, unit));
        lines.extend(remarks);
        notes::label_edges(view, &mut drawing);
        notes::write_block(view, &lines, &mut drawing);
    }
    drawing.sort();
    drawing
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
            "machine-leaves-hand-work",
            Severity::Note,
            Some(workpiece.part.span),
            message,
        )
        .fix("make them by hand with the part's template");
        findings.push(finding);
    }
    findings
}
