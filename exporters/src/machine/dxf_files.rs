//! The DXF files of all parts or sheets, for any machine.

use std::collections::BTreeMap;

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput};

use super::contract::Machine;
use super::drawing::LayerDrawing;
use super::dxf::{self, FileHeader};
use super::file_options::DxfFile;
use super::layers::LayerNaming;
use super::layout_options::SheetLayout;
use super::pages::{PageStyle, faces, pages};
use super::sheet_list;
use crate::codes;
use crate::option_check::refused;

/// Refuses names of a profile that would put two kinds, depths or diameters of work on one layer.
pub(super) fn vet_layers(
    machine: &impl Machine,
    input: &ExportInput,
    file: &DxfFile,
    findings: &mut Findings,
) {
    if file.layers.is_empty() {
        return;
    }
    let naming = LayerNaming {
        unit: file.units.of_plan(input.plan.units),
        styles: file.layers.clone(),
    };
    let mut drawing = LayerDrawing::default();
    for workpiece in input.workpieces {
        for face in faces(machine, &[workpiece]) {
            machine.draw(&workpiece.seen_from(face), naming.unit, &mut drawing);
        }
    }
    let mut names: BTreeMap<String, String> = BTreeMap::new();
    for item in &drawing.items {
        let own = item.layer.name(naming.unit);
        let name = item.layer.named(&naming);
        let first = names.entry(name.clone()).or_insert_with(|| own.clone());
        if *first == own {
            continue;
        }
        let message = format!("layer `{name}` would hold {first} and {own}, which differ");
        let fix = "use another name, or {depth} and {diameter} in it";
        let finding = refused(codes::LAYERS_MERGED, message, fix);
        if findings
            .iter()
            .all(|other| other.message != finding.message)
        {
            findings.push(finding);
        }
    }
}

/// Makes the files. With `depths` everything lies at its depth below the face.
pub(super) fn export(
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
    let naming = LayerNaming {
        unit: file.units.of_plan(input.plan.units),
        styles: file.layers.clone(),
    };
    let style = PageStyle {
        layout,
        naming: &naming,
        notes: file.notes,
    };
    let mut artifacts = Vec::new();
    for page in pages(machine, input, &style).map_err(failed)? {
        let path = format!("{}.dxf", page.stem);
        let header = FileHeader {
            naming: naming.clone(),
            version: file.version,
            name: format!("{}/{}/{path}", input.plan.digest, machine.id()),
            date: input.stamp.date,
            depths: depths.then_some(page.through),
        };
        let bytes = dxf::write(&page.drawing, &header)
            .map_err(|fault| failed(format!("{path}: {fault}")))?;
        artifacts.push(page.artifact(path, dxf::MEDIA_TYPE, bytes));
    }
    artifacts.extend(sheet_list::artifacts(input, naming.unit));
    Ok(artifacts)
}
