//! End-to-end tests of Jigless and checks by outside readers.

/// The worked examples of the contributors' guide, compiled and run.
#[doc = include_str!("../../DEVELOPERS.md")]
#[cfg(doctest)]
pub struct ContributorsGuide;
