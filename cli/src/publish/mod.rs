//! A library as a website: a folder of plain files, made beside the site that is there and put in its place in one step.

mod about;
mod feed;
mod html;
mod making;
mod pages;
mod place;
mod revisions;
mod zipped;

pub use about::About;
pub use feed::feed;
pub use making::{Fresh, files_of, make_pages};
pub use pages::index;
pub use place::Place;
pub use revisions::revisions_of;

/// The folder of a site that holds the folders of the plans.
pub const PLANS: &str = "plans";
