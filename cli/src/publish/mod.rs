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
/// The page of a site, and that of each plan.
pub const INDEX: &str = "index.html";
/// The feed of revisions.
pub const FEED: &str = "feed.xml";
/// The checksums of a site, and those of all files of a plan in one, as `sha256sum --check` reads them.
pub const SUMS: &str = "SHA256SUMS";
