//! Files for machines: one for each worked face of each part, or one for each sheet of arranged parts.
//!
//! The same road for router ([`DxfCnc`]) and laser ([`DxfLaser`], [`SvgLaser`]): a
//! [face](jigless_model::view::FaceView) is drawn as shapes on [layers] by what the [machine](contract) can do, laid out
//! as [pages], and written as [`dxf`] or [`svg`]. No coordinate is negative unless another origin is asked for, and every
//! z is 0 unless depths are. Arcs stay arcs; there are no splines.

mod blind_work;
mod cnc;
mod contract;
pub mod coupon;
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
mod lettering;
#[cfg(test)]
mod machines;
mod map;
mod marks;
mod nearest;
mod notes;
mod pages;
mod parallel;
mod pencil;
mod relief;
mod router_options;
mod shared;
mod sheet_list;
mod short_segments;
mod suits;
mod svg;
mod tabs;
mod tools;
mod vet;

pub use cnc::{DxfCnc, DxfCncOptions};
pub use file_options::{DxfFile, FileUnits, Version};
pub use laser::{DxfLaser, DxfLaserOptions};
pub use laser_options::{Kerf, KerfRule, LaserOptions, PartIds};
pub use layer_style::{LayerKind, LayerStyle};
pub use layout_options::{Arrange, FileOrigin, SheetLayout};
pub use router_options::{Relief, RouterOptions, Tool};
pub use svg::{SvgLaser, SvgLaserOptions};
