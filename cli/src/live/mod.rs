//! The live view: a page on the loopback address that follows a plan while it is written.

mod page;
mod server;
mod state;

pub use server::serve;
pub use state::{Live, Shown};
