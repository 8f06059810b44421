//! The model of Jigless as plain data: exact geometry, a plan with every length in millimetres, the work on each part,
//! what was found, parts on sheets, and the contract that exporters fulfil.
//!
//! Nothing here reads a plan, checks one or knows a format, and nothing here imports another crate of Jigless: whoever
//! writes an exporter needs this crate alone.

pub mod caution;
pub mod check;
pub mod code;
pub mod costs;
pub mod diag;
pub mod export;
pub mod fact;
pub mod feature;
pub mod finish;
pub mod frame;
pub mod geom;
pub mod hardware;
pub mod joint;
pub mod language;
pub mod mark;
pub mod operation;
pub mod photograph;
pub mod plan;
pub mod prices;
pub mod provenance;
pub mod sheets;
pub mod side;
pub mod source;
pub mod space;
pub mod units;
pub mod usage;
pub mod view;
pub mod whole;
pub mod words;
pub mod workpiece;
