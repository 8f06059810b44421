//! What sets one machine's files apart from another's.

use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::Stock;
use jigless_model::side::Face;
use jigless_model::units::Unit;
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;

use super::drawing::LayerDrawing;
use super::ngc::{LayerOperation, OnFace};

/// A machine that works parts.
pub(super) trait Machine {
    /// Id of the exporter.
    fn id(&self) -> &'static str;

    /// Whether a face of a part needs a file.
    fn needs_file(&self, workpiece: &Workpiece, face: Face) -> bool;

    /// Draws the work of a face in nominal lines; gives further lines for the notes.
    fn draw(&self, view: &FaceView, unit: Unit, drawing: &mut LayerDrawing) -> Vec<String>;

    /// Allows for the width of the cut, once everything lies as it will be cut; says so, line by line.
    ///
    /// # Errors
    /// What is too small for the cut.
    fn finish(
        &self,
        stock: &Stock,
        unit: Unit,
        drawing: &mut LayerDrawing,
    ) -> Result<Vec<String>, String>;

    /// Which operations of a program for the same face do what is on which layer; none where there is no such program.
    fn operations(&self, _on: &OnFace) -> Vec<LayerOperation> {
        Vec::new()
    }

    /// How deep through cuts go, in millimetres.
    fn through(&self, stock: &Stock) -> f64 {
        stock.thickness
    }

    /// What the file of a single part says of the blank that it is cut from.
    fn about_part(&self, _workpiece: &Workpiece, _unit: Unit) -> Vec<String> {
        Vec::new()
    }

    /// Diameter and places of holes for the pins that keep front and back in register, beside a part or in the margin of
    /// a sheet; none where no pins are wanted.
    fn registers(&self, _own: Bounds, _on_sheet: bool) -> (f64, Vec<Point>) {
        (0.0, Vec::new())
    }

    /// Whether neighbours on a sheet have edges in common that are cut once.
    fn shares_edges(&self) -> bool {
        false
    }
}
