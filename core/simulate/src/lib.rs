//! What a machine program leaves of a sheet, found out before any wood is cut.
//!
//! [`read`] reads a program in RS274/NGC (NIST IR 6556) back into [motions](program::Motion), [`swept`](swept()) is what of
//! them passes over the sheet, [`simulate`] sweeps each tool over it and holds what is left against what a plan
//! [wants](target::Target), and [`left`] is a picture of it. It shares no code with what writes programs, so that a fault
//! of the writer is seen and not repeated.
//!
//! Lengths are millimetres, x to the right, y upward, and z upward from the upper face of the sheet, so depths are
//! negative. Zero is the lower left corner of the sheet.

mod area;
mod cone;
mod entry;
mod fault;
mod gone;
mod picture;
mod program;
mod read;
mod setup;
mod shape;
mod sweep;
mod swept;
mod target;
mod verdict;
mod words;

pub use fault::{Fault, FaultKind};
pub use picture::{FACE, Left, Level, left};
pub use program::{Arc, Motion, Program};
pub use read::read;
pub use setup::{Cutter, Setup};
pub use swept::{Swept, swept};
pub use target::{Cone, Layer, Ring, Target};
pub use verdict::simulate;
