//! The order of work and its steps.

use std::collections::BTreeMap;

use jigless_model::caution::Caution;
use jigless_model::hardware::{Fitting, FittingKind};
use serde::Serialize;

jigless_model::words! {
    /// What kind of work a step is.
    #[derive(PartialOrd, Ord, Hash, Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Phase {
        /// Sheets are measured, and the plan is made to fit them.
        Measure = "measure",
        /// Parts are cut to size.
        Cut = "cut",
        /// Work on one part: holes, grooves, corners.
        Shape = "shape",
        /// A unit is put together before the whole: a drawer.
        Build = "build",
        /// The whole is put together.
        Assemble = "assemble",
        /// Hardware is put on, taken off, put on again.
        Fit = "fit",
        /// Sanding.
        Sand = "sand",
        /// Oil, varnish and the like.
        Finish = "finish",
        /// It comes to its place.
        Place = "place",
        /// What the author adds.
        Author = "author",
    }
}

/// The order of work of a plan, with what is said before it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OrderOfWork<'a> {
    /// What the plan is called.
    pub title: &'a str,
    /// The author's revision.
    pub revision: Option<&'a str>,
    /// The plan's digest.
    pub plan: &'a str,
    /// What goes before all work.
    pub cautions: [&'static str; 2],
    /// What each caution of the steps says, by its name.
    pub caution_texts: BTreeMap<&'static str, &'static str>,
    /// The steps, in the order in which they are done.
    pub steps: Vec<WorkStep>,
}

/// One step: what is done with which pieces, and by what it is seen that it is done.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorkStep {
    /// Its number, from 1.
    pub number: usize,
    /// Its name, which says what it is about and stays when others come in: `cut-birch18`, `work-top`, `join-top`.
    pub name: String,
    /// What kind of work it is.
    pub phase: Phase,
    /// What it is called.
    pub title: String,
    /// How many times the same is done: 2 for two like drawers. Counts of pieces and fixings are for one of them.
    pub times: u32,
    /// The pieces that it adds or works on.
    pub pieces: Vec<Pieces>,
    /// Whether its pieces come to the others here; otherwise they are only worked on.
    pub adds: bool,
    /// Screws, dowels, hinges and the like that it takes.
    pub fixings: Vec<Fixing>,
    /// What is needed to do it.
    pub tools: Vec<String>,
    /// What is done, an act a line.
    pub acts: Vec<String>,
    /// What is looked at or measured at its end.
    pub checks: Vec<String>,
    /// What this very work can do to people.
    pub cautions: Vec<Caution>,
    /// Why it comes here, where that is not plain.
    pub reason: Option<String>,
}

impl WorkStep {
    /// A step of which nothing but its kind, name and title is known.
    pub(crate) fn new(phase: Phase, name: impl Into<String>, title: impl Into<String>) -> Self {
        Self {
            number: 0,
            name: name.into(),
            phase,
            title: title.into(),
            times: 1,
            pieces: Vec::new(),
            adds: false,
            fixings: Vec::new(),
            tools: Vec::new(),
            acts: Vec::new(),
            checks: Vec::new(),
            cautions: Vec::new(),
            reason: None,
        }
    }

    /// Adds fixings, those of one kind and size together.
    pub(crate) fn take(&mut self, fixings: impl IntoIterator<Item = Fixing>) {
        self.fixings = merged(self.fixings.drain(..).chain(fixings).collect());
    }
}

/// Fixings with those of one kind and size counted together, in the order in which they first come.
pub(crate) fn merged(fixings: Vec<Fixing>) -> Vec<Fixing> {
    let mut merged: Vec<Fixing> = Vec::new();
    for fixing in fixings {
        match merged.iter_mut().find(|own| own.same_as(&fixing)) {
            Some(own) => own.count += fixing.count,
            None => merged.push(fixing),
        }
    }
    merged
}

/// Pieces of one part.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Pieces {
    /// The part's mark.
    pub mark: String,
    /// Its id in the plan.
    pub part: String,
    /// What it is called.
    pub title: String,
    /// How many.
    pub count: u32,
}

/// What a step takes of one kind of hardware.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Fixing {
    /// What it is.
    pub what: FittingKind,
    /// Gauge or diameter as it is sold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gauge: Option<String>,
    /// Length in millimetres, where it has one.
    #[serde(rename = "length_mm", skip_serializing_if = "Option::is_none")]
    pub length: Option<f64>,
    /// How many.
    pub count: u32,
}

impl Fixing {
    /// So many of a fitting.
    pub(crate) fn of(fitting: &Fitting, count: u32) -> Self {
        Self {
            what: fitting.kind,
            gauge: fitting.gauge.clone(),
            length: fitting.length,
            count,
        }
    }

    fn same_as(&self, other: &Fixing) -> bool {
        (self.what, &self.gauge, self.length) == (other.what, &other.gauge, other.length)
    }
}
