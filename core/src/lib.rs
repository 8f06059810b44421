//! core
pub mod diag;
pub mod export;
pub mod feature;
pub mod geom;
pub mod length;
pub mod load;
pub mod operation;
pub mod plan;
pub mod side;
pub mod source;
pub mod units;
pub mod view;
pub mod workpiece;
