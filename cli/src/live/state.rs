//! What the page shows: the last good state of the plan, and what is wrong with it now.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use jigless_core::export::{ExportInput, Stamp};
use jigless_core::hardware::count;
use jigless_core::mark::Marks;
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;
use jigless_exporters::viewer_data;
use jigless_words::ENGLISH;
use serde_json::{Value, json};

use crate::batch::Outcome;
use crate::exit::Problem;
use crate::find::PlanAt;
use crate::message::Message;
use crate::plans::compile;

/// The state of the plan, and those who wait for the next one.
#[derive(Debug, Default)]
pub struct Live {
    state: Mutex<State>,
    changed: Condvar,
}

#[derive(Debug, Default)]
struct State {
    /// Counts states from 1; 0 before the first.
    number: u64,
    /// The last state whose plan could be read.
    good: Option<Good>,
    /// Whether the plan is in that state now.
    is_good: bool,
    findings: Vec<Value>,
}

/// What a sound plan shows.
#[derive(Debug)]
struct Good {
    /// When it came to be.
    number: u64,
    title: String,
    /// The data of the 3-D view, as JSON; none where no part has a place.
    view: Option<String>,
    lists: Value,
}

/// What came of a save, for the terminal.
#[derive(Debug, PartialEq, Eq)]
pub struct Shown {
    /// Errors and warnings.
    pub counts: (usize, usize),
    /// Whether the picture is the one of this state.
    pub is_good: bool,
}

impl Live {
    fn lock(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Reads the plan, and makes what the page shows of it and nothing else.
    pub fn look(&self, plan: &PlanAt) -> Shown {
        let mut outcome = Outcome::default();
        let made = match compile(plan, None) {
            Ok(compiled) => {
                outcome.add_findings(compiled.findings, &compiled.sources);
                compiled.result.and_then(|(plan, workpieces)| {
                    good(&plan, &workpieces)
                        .map_err(|problem| outcome.add_problem(&problem))
                        .ok()
                })
            }
            Err(problem) => {
                outcome.add_problem(&problem);
                None
            }
        };
        let shown = Shown {
            counts: (outcome.errors, outcome.warnings),
            is_good: made.is_some(),
        };
        let mut state = self.lock();
        state.number += 1;
        state.is_good = shown.is_good;
        state.findings = outcome.messages.iter().filter_map(finding).collect();
        if let Some(made) = made {
            let number = state.number;
            state.good = Some(Good { number, ..made });
        }
        drop(state);
        self.changed.notify_all();
        shown
    }

    /// The state after one that a page has, as JSON, once there is one; none where nothing comes for so long. What the
    /// page has already is left out.
    pub fn after(&self, known: u64, patience: Duration) -> Option<String> {
        let end = Instant::now() + patience;
        let mut state = self.lock();
        // A number from another run is no number of this one.
        while state.number == known || state.number == 0 {
            let left = end.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return None;
            }
            let waited = self.changed.wait_timeout(state, left);
            state = waited.unwrap_or_else(PoisonError::into_inner).0;
        }
        let news = state.good.as_ref();
        let news = news.filter(|good| good.number > known || known > state.number);
        let mut answer = json!({
            "number": state.number,
            "good": state.is_good,
            "findings": state.findings,
            "title": news.map(|good| &good.title),
            "lists": news.map(|good| &good.lists),
            "news": news.is_some(),
        })
        .to_string();
        if let Some(view) = news.and_then(|good| good.view.as_ref()) {
            // The view is JSON already.
            answer.pop();
            answer.push_str(",\"view\":");
            answer.push_str(view);
            answer.push('}');
        }
        Some(answer)
    }
}

fn good(plan: &Plan, workpieces: &[Workpiece]) -> Result<Good, Problem> {
    let stamp = Stamp::new(crate::TOOL, None);
    let view = viewer_data(&ExportInput::new(plan, workpieces, &stamp), &ENGLISH)
        .map_err(|message| Problem::new(crate::exit::Exit::Faulty, message))?;
    Ok(Good {
        number: 0,
        title: plan.title.clone(),
        view,
        lists: lists(plan, workpieces),
    })
}

/// What the plan is made of: a row for each part, and for each kind of hardware.
fn lists(plan: &Plan, workpieces: &[Workpiece]) -> Value {
    let marks = Marks::of(plan);
    let parts = workpieces.iter().map(|workpiece| {
        let part = &workpiece.part;
        let size = [part.width, part.height, part.thickness()].map(|x| plan.units.show(x));
        let cells = [
            marks.mark(&part.id).to_owned(),
            part.title.clone(),
            part.count.to_string(),
            size.join(" × "),
            part.stock.label.clone(),
        ];
        json!({"part": part.id, "cells": cells})
    });
    let hardware = count(workpieces).into_iter().map(|line| {
        let fitting = &line.fitting;
        let length = fitting.length.map(|length| plan.units.show(length));
        let cells = [
            fitting.kind.name().to_owned(),
            fitting.gauge.clone().unwrap_or_default(),
            length.unwrap_or_default(),
            fitting.count.to_string(),
        ];
        json!({"cells": cells})
    });
    json!([
        {"title": "Parts", "heads": ["mark", "part", "count", "size", "stock"], "rows": parts.collect::<Vec<_>>()},
        {"title": "Hardware", "heads": ["what", "gauge", "length", "count"], "rows": hardware.collect::<Vec<_>>()},
    ])
}

/// A finding or problem with its line.
fn finding(message: &Message) -> Option<Value> {
    match message {
        Message::Finding(found) => {
            let mut data = serde_json::to_value(found).ok()?;
            if let Some(place) = &found.place {
                let quote = &place.quote;
                data["quote"] = json!([
                    quote.line[..quote.place.start],
                    quote.line[quote.place.clone()],
                    quote.line[quote.place.end..],
                ]);
            }
            Some(data)
        }
        Message::Problem {
            severity,
            message,
            fix,
        } => Some(json!({"severity": severity, "message": message, "fix": fix, "path": []})),
        Message::Summary { .. } => None,
    }
}
