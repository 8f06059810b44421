//! `glb`: the whole as a model in glTF 2.0 (ISO/IEC 12113), in one binary file.

mod container;
mod exporter;
mod model;

pub use exporter::{Glb, GlbOptions};
