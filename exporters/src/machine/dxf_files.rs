//! The DXF files of all parts or sheets, for any machine.

use jigless_model::export::{Artifact, ExportError, ExportInput};

use super::contract::Machine;
use super::dxf::{self, FileHeader};
use super::file_options::DxfFile;
use super::layers::LayerNaming;
use super::layout_options::SheetLayout;
use super::pages::{PageStyle, pages};
use super::sheet_list;

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
            depths: depths.then_some(page.thickness),
        };
        let bytes = dxf::write(&page.drawing, &header)
            .map_err(|fault| failed(format!("{path}: {fault}")))?;
        artifacts.push(page.artifact(path, dxf::MEDIA_TYPE, bytes));
    }
    artifacts.extend(sheet_list::artifacts(input, naming.unit));
    Ok(artifacts)
}
