//! Where pieces are shown: in their places, opened, or moved apart.

mod apart;
mod explode;
mod hull;
mod open;
mod units;

pub use apart::{Apart, apart};
pub use explode::{Block, Explosion, Room, Sequence, explode};
pub use open::opened;
pub use units::{Unit, units};
