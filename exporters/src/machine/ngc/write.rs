//! Steps as text in RS274/NGC (NIST IR 6556).
//!
//! Only words that the standard has and any controller reads: G0 to G3 with I and J from the start of an arc, and on
//! request G81 and G83. Numbers have 4 decimals in millimetres and 5 in inches, which keeps the two radii of an arc within
//! what the standard allows (0.002 mm, 0.0002 in).

use std::fmt::Write;

use jigless_model::geom::Point;
use jigless_model::units::{Unit, decimal};

use super::route::{Pace, Route};

/// Writes a program line by line.
pub(super) struct Writer {
    text: String,
    unit: Unit,
    /// What is in force, so that nothing is written twice: motion, place, height, feed.
    motion: Option<u32>,
    at: Option<Point>,
    z: Option<f64>,
    feed: Option<f64>,
}

/// A round hole straight down.
pub(super) struct Hole {
    pub(super) at: Point,
    pub(super) depth: f64,
    pub(super) peck: f64,
    pub(super) clearance: f64,
}

impl Writer {
    pub(super) fn new(unit: Unit) -> Self {
        Self {
            text: String::new(),
            unit,
            motion: None,
            at: None,
            z: None,
            feed: None,
        }
    }

    /// A comment. Parentheses would end it, and controllers read plain letters only.
    pub(super) fn comment(&mut self, words: &str) {
        // A per cent sign begins and ends a tape.
        let plain: String = words
            .replace('%', "per cent")
            .chars()
            .map(|c| match c {
                '(' | '[' => '<',
                ')' | ']' => '>',
                // Some readers take the rest of a line after it for another comment.
                ';' => ',',
                c if c.is_ascii() && !c.is_ascii_control() => c,
                _ => '?',
            })
            .collect();
        let _ = writeln!(self.text, "({plain})");
    }

    /// A line as it is.
    pub(super) fn line(&mut self, words: &str) {
        self.text.push_str(words);
        self.text.push('\n');
    }

    /// What is in force from the start: unit, plane, absolute places, feed a minute, no compensation, first offset.
    pub(super) fn begin(&mut self) {
        let unit = match self.unit {
            Unit::Millimetre => "G21",
            Unit::Inch => "G20",
        };
        self.line(&format!("{unit} G17 G90 G94 G40 G49 G54 G80"));
    }

    /// Calls a tool, which stops the machine until it is in.
    pub(super) fn tool(&mut self, number: u32, speed: f64, safe: f64) {
        self.line("M5");
        self.line(&format!("T{number} M6"));
        self.line(&format!("S{} M3", decimal(speed, 0)));
        (self.motion, self.at, self.z, self.feed) = (None, None, None, None);
        let z = self.number(safe);
        self.line(&format!("G0 Z{z}"));
        self.motion = Some(0);
        self.z = Some(safe);
    }

    /// The steps of a job.
    pub(super) fn route(&mut self, route: &Route, feed: f64, plunge: f64) {
        for step in &route.steps {
            let code = match (step.pace, step.arc) {
                (Pace::Rapid, _) => 0,
                (_, None) => 1,
                (_, Some((_, true))) => 2,
                (_, Some((_, false))) => 3,
            };
            let mut words: Vec<String> = Vec::new();
            if self.motion != Some(code) {
                words.push(format!("G{code}"));
                self.motion = Some(code);
            }
            let before = self.at;
            let moved = |a: Option<f64>, b: f64| a.is_none_or(|a| self.number(a) != self.number(b));
            let (x, y) = (before.map(|p| p.x), before.map(|p| p.y));
            let mut axes = Vec::new();
            if step.arc.is_some() || moved(x, step.to.x) {
                axes.push(format!("X{}", self.number(step.to.x)));
            }
            if step.arc.is_some() || moved(y, step.to.y) {
                axes.push(format!("Y{}", self.number(step.to.y)));
            }
            if moved(self.z, step.z) {
                axes.push(format!("Z{}", self.number(step.z)));
            }
            if axes.is_empty() {
                continue;
            }
            words.append(&mut axes);
            if let (Some((centre, _)), Some(from)) = (step.arc, before) {
                // From where the machine stands, which is the rounded place.
                let from = Point::new(self.rounded(from.x), self.rounded(from.y));
                words.push(format!("I{}", self.number(centre.x - from.x)));
                words.push(format!("J{}", self.number(centre.y - from.y)));
            }
            if step.pace != Pace::Rapid {
                let wanted = if step.pace == Pace::Plunge {
                    plunge
                } else {
                    feed
                };
                if self.feed != Some(wanted) {
                    words.push(format!("F{}", self.feed_number(wanted)));
                    self.feed = Some(wanted);
                }
            }
            (self.at, self.z) = (Some(step.to), Some(step.z));
            self.line(&words.join(" "));
        }
    }

    /// A hole as a canned cycle.
    pub(super) fn hole(&mut self, hole: &Hole, plunge: f64, safe: f64) {
        let (x, y) = (self.number(hole.at.x), self.number(hole.at.y));
        let (z, r) = (self.number(-hole.depth), self.number(hole.clearance));
        let feed = self.feed_number(plunge);
        let cycle = if hole.peck < hole.depth {
            format!(
                "G98 G83 X{x} Y{y} Z{z} R{r} Q{} F{feed}",
                self.number(hole.peck)
            )
        } else {
            format!("G98 G81 X{x} Y{y} Z{z} R{r} F{feed}")
        };
        self.line(&cycle);
        self.line("G80");
        (self.motion, self.feed) = (None, Some(plunge));
        (self.at, self.z) = (Some(hole.at), Some(safe));
    }

    /// Ends the program.
    pub(super) fn end(mut self) -> String {
        self.line("M5");
        self.line("M2");
        self.text
    }

    fn decimals(&self) -> usize {
        match self.unit {
            Unit::Millimetre => 4,
            Unit::Inch => 5,
        }
    }

    fn number(&self, mm: f64) -> String {
        decimal(mm / self.unit.in_mm(), self.decimals())
    }

    fn rounded(&self, mm: f64) -> f64 {
        let scale = 10_f64.powf(self.decimals() as f64);
        let own = mm / self.unit.in_mm();
        (own * scale).round() / scale * self.unit.in_mm()
    }

    fn feed_number(&self, feed: f64) -> String {
        decimal(feed / self.unit.in_mm(), 2)
    }
}
