//! What outside exporters say of themselves, kept for the whole run as what is built in is.

use std::sync::{Mutex, OnceLock, PoisonError};

use super::message::DescribeAnswer;
use super::process::Program;

/// A program and what it said of itself.
#[derive(Debug)]
pub(super) struct Said {
    /// The name that the user gives it.
    pub(super) id: String,
    pub(super) program: Program,
    pub(super) described: DescribeAnswer,
}

/// An exporter that is kept; it is known to the whole program by texts that it borrows from there.
#[derive(Debug)]
pub struct Outside(pub(super) &'static Said);

/// A list that only grows; what is in it stays where it is.
#[derive(Debug)]
struct Kept(OnceLock<Box<Link>>);

#[derive(Debug)]
struct Link {
    said: Said,
    outside: OnceLock<Outside>,
    rest: Kept,
}

static KEPT: Kept = Kept(OnceLock::new());
static ADDING: Mutex<()> = Mutex::new(());

/// Keeps what a program said.
pub(super) fn keep(said: Said) -> &'static Outside {
    let _one_at_a_time = ADDING.lock().unwrap_or_else(PoisonError::into_inner);
    let mut end = &KEPT;
    while let Some(link) = end.0.get() {
        end = &link.rest;
    }
    let link = end.0.get_or_init(|| {
        Box::new(Link {
            said,
            outside: OnceLock::new(),
            rest: Kept(OnceLock::new()),
        })
    });
    link.outside.get_or_init(|| Outside(&link.said))
}
