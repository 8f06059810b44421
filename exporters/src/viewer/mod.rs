//! The 3-D view of a page: what it shows as data, its controls, its script and its style. A page puts them in; the live
//! view does, too, and gives it other data when the plan is saved.

mod data;
mod markup;

pub use data::viewer_data;
pub use markup::viewer_markup;

/// The script: it finds the controls by their ids and the data in the element `view3d-data`, and needs nothing else.
pub const VIEWER_SCRIPT: &str = include_str!("viewer.js");

/// The style of the view and its controls.
pub const VIEWER_STYLE: &str = include_str!("viewer.css");
