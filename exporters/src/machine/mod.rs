//! Files for machines: one for each worked face of each part, or one for each sheet of arranged parts.
//!
//! The same road for router ([`DxfCnc`]) and laser ([`DxfLaser`], [`SvgLaser`]): a
//! [face](jigless_model::view::FaceView) is drawn as shapes on [layers] by what the [machine](contract) can do, laid out
//! as [pages], and written as [`dxf`] or [`svg`]. Zero is the same corner of the part or sheet in all of its files, and every
//! z is 0 unless depths are asked for. Arcs stay arcs; there are no splines.

mod beyond;
mod blind_work;
mod cnc;
mod contract;
pub mod coupon;
mod cut_time;
mod drawing;
mod dxf;
mod dxf_files;
mod file_options;
mod hand_work;
mod kerf;
mod laser;
mod laser_options;
mod laser_vet;
mod layer_style;
mod layers;
mod layout_options;
mod lead_in;
mod lettering;
#[cfg(test)]
mod machines;
mod map;
mod marks;
mod nearest;
mod ngc;
mod notes;
mod pages;
mod parallel;
mod pencil;
mod references;
mod register;
mod relief;
mod router_options;
mod router_vet;
mod shared;
mod sheet_frame;
mod sheet_labels;
mod sheet_list;
mod short_segments;
mod square_corners;
mod suits;
mod svg;
mod tabs;
mod through;
mod tool;
mod tools;
mod vet;
mod way_in;

pub use cnc::{DxfCnc, DxfCncOptions};
pub use file_options::{DxfFile, FileUnits, Version};
pub use laser::{DxfLaser, DxfLaserOptions};
pub use laser_options::{CutOrder, Kerf, KerfRule, LaserOptions, PartIds};
pub use layer_style::{LayerKind, LayerStyle};
pub use layout_options::{Arrange, FileOrigin, SheetLayout};
pub use ngc::{NgcRouter, NgcRouterOptions, Proof, png_of, prove_for_plan, prove_on_sheet};
pub use router_options::{Relief, RouterOptions};
pub use svg::{SvgLaser, SvgLaserOptions};
pub use tool::{Tool, ToolKind};
