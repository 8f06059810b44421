//! Where pieces are shown: in their places, opened, or moved apart.

mod explode;
mod hull;
mod open;
mod units;

pub use explode::{Block, Explosion, Room, explode};
pub use hull::{apart, hull};
pub use open::opened;
pub use units::{Unit, units};
