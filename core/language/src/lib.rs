//! The plan language of Jigless: from text to the model.
//!
//! - [`load`] turns text into a tree in which every value knows its place.
//! - [`resolve`](resolve::resolve) runs the [builders](build), works out the [joints](joint) and the [order] in which parts
//!   are put together, and reads the [features](feature) into a plan in which every length is in millimetres.
//! - [`lower`](lower::lower) puts the work of the features of each part together.
//! - [`adapt`](adapt::adapt) gives the text of a plan other values.
//! - [`photographs`] reads the pictures that a plan names.
//! - [`migrate`](migrate::migrate) replaces the [names that were changed](renamed) in the text of a plan.

pub mod adapt;
pub mod build;
pub mod codes;
pub mod feature;
pub mod fitting;
pub mod joint;
pub mod length;
pub mod load;
pub mod lower;
pub mod migrate;
pub mod order;
pub mod photographs;
pub mod renamed;
pub mod resolve;
pub mod rewrite;
mod sold;
pub mod swap;
pub mod usage;
mod way_in;
