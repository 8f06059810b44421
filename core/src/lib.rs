//! The model of Jigless: from a plan in YAML to exact work on each part, and the contract that exporters fulfil.
//!
//! One route, each stage with plain data between:
//!
//! ```text
//! plan.yaml -> load -> resolve -> lower -> check -> export
//!              tree     Plan     Workpiece findings Artifact
//! ```
//!
//! - [`load`] turns text into a tree in which every value knows its place.
//! - [`resolve`] works out every length in millimetres and reads the [features](feature) into a [`plan::Plan`].
//! - [`lower`] turns features into [operations](operation) on exact [geometry](geom).
//! - [`check`] looks for what cannot be built.
//! - [`export`] is the contract of the formats; the crate `jigless-exporters` fulfils it.
//!
//! [`compile()`] runs the stages. Nothing here touches a disk, a clock or a terminal: the same text gives the same
//! result on every machine.

pub mod arrange;
pub mod assembly;
pub mod build;
pub mod check;
pub mod compare;
pub mod compile;
pub mod diag;
pub mod export;
pub mod feature;
pub mod geom;
pub mod hardware;
pub mod joint;
pub mod length;
pub mod load;
pub mod lower;
pub mod operation;
pub mod plan;
pub mod resolve;
pub mod schema;
pub mod side;
pub mod source;
pub mod units;
pub mod view;
pub mod whole;
pub mod words;
pub mod workpiece;

pub use compile::{Compiled, compile, compile_with};
