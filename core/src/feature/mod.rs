//! Features: what an author asks for on a part. One module each.

use std::fmt::Debug;

/// What an author asks for on a part.
pub trait Feature: Debug + Send + Sync {}
