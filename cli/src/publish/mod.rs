//! A library as a website: a folder of plain files, made beside the site that is there and put in its place in one step.

mod about;
mod feed;
mod html;
mod pages;
mod place;
mod revisions;
mod zipped;

pub use about::{About, Fresh, make_pages};
pub use feed::feed;
pub use pages::index;
pub use place::Place;
pub use revisions::revisions_of;

/// The folder of a site that holds the folders of the plans.
pub const PLANS: &str = "plans";
