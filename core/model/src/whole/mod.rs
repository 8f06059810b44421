//! The whole that the parts make: where each of them is, how it moves, and the steps in which they are put together.

mod motion;
mod space;
mod step;

pub use motion::Motion;
pub use space::{Body, Box3, Direction, GRAZES, MEETS, Placement, Side, Triple};
pub use step::{OrderReason, Step, StepNote};
