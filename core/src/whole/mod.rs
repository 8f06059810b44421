//! The whole that the parts make: where each of them is, and the order in which they are put together.

mod motion;
mod order;
mod space;

pub use motion::Motion;
pub use order::{Step, order};
pub use space::{Body, Box3, Direction, MEETS, Placement, Side, Triple};

use crate::plan::Part;

impl Part {
    /// The bodies of the part, one for each of its places, in the order of the plan.
    pub fn bodies(&self) -> Vec<Body> {
        let size = [self.width, self.height, self.thickness()];
        let image = self.is_mirrored();
        let body = |place: &Placement| Body::new(*place, size, image);
        self.places.iter().map(body).collect()
    }
}
