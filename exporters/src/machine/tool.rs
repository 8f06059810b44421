//! A tool of the router, as a profile lists it. Lengths are in millimetres, whatever the unit of the file.

use jigless_model::diag::Findings;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::option_check::{in_range, length_in_range};

/// A drill makes holes that differ from it by no more than this, in millimetres. Common practice, no source.
const DRILL_PLAY: f64 = 0.1;

/// A tool.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Tool {
    /// What it is: `mill` cuts sideways and clears areas, `drill` makes holes of its own diameter, `countersink` makes
    /// conical mouths.
    #[serde(default)]
    pub kind: ToolKind,
    /// Diameter; of a countersink the greatest.
    pub diameter: f64,
    /// Greatest depth of one pass; of a drill, how deep it goes before it is lifted to clear the chips.
    pub pass: f64,
    /// Greatest depth in all.
    #[serde(default)]
    pub reach: Option<f64>,
    /// Included angle of a countersink in degrees.
    #[serde(default)]
    pub angle: Option<f64>,
    /// Number by which programs call it; its place in the list, from 1, where none is given.
    #[serde(default)]
    pub number: Option<u32>,
    /// Feed sideways, in millimetres a minute. Programs need it.
    #[serde(default)]
    pub feed: Option<f64>,
    /// Feed downward, in millimetres a minute. Programs need it.
    #[serde(default)]
    pub plunge: Option<f64>,
    /// Speed in turns a minute. Programs need it.
    #[serde(default)]
    pub speed: Option<f64>,
    /// Number of cutting edges, from which the chip load is worked out: feed / (speed x edges).
    #[serde(default)]
    pub flutes: Option<u32>,
    /// Whether a mill may go straight down into wood because its end cuts to the centre.
    #[serde(default)]
    pub plunges: bool,
}

/// What a tool is.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "lowercase")]
pub enum ToolKind {
    /// Cuts sideways.
    #[default]
    Mill,
    /// Makes holes of its own diameter.
    Drill,
    /// Makes conical mouths.
    Countersink,
}

impl Tool {
    /// A mill of a diameter with a greatest pass.
    #[cfg(test)]
    pub(super) fn mill(diameter: f64, pass: f64) -> Self {
        Self {
            kind: ToolKind::Mill,
            diameter,
            pass,
            reach: None,
            angle: None,
            number: None,
            feed: None,
            plunge: None,
            speed: None,
            flutes: None,
            plunges: false,
        }
    }

    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        length_in_range("tools: diameter", self.diameter, (0.1, 200.0), findings);
        length_in_range("tools: pass", self.pass, (0.01, 500.0), findings);
        let reach = self.reach.unwrap_or(1.0);
        length_in_range("tools: reach", reach, (0.01, 500.0), findings);
        let angle = match (self.kind, self.angle) {
            (ToolKind::Countersink, angle) => angle.unwrap_or(0.0),
            (_, angle) => angle.unwrap_or(90.0),
        };
        in_range("tools: angle", angle, (10.0, 170.0), "degrees", findings);
        for (name, feed) in [("feed", self.feed), ("plunge", self.plunge)] {
            let feed = feed.unwrap_or(1000.0);
            let name = format!("tools: {name}");
            in_range(&name, feed, (1.0, 100_000.0), "mm a minute", findings);
        }
        let speed = self.speed.unwrap_or(1000.0);
        in_range(
            "tools: speed",
            speed,
            (1.0, 200_000.0),
            "turns a minute",
            findings,
        );
    }

    /// Whether it cuts sideways.
    pub(super) fn is_mill(&self) -> bool {
        self.kind == ToolKind::Mill
    }

    /// Whether it is a drill for holes of a diameter.
    pub(super) fn drills(&self, diameter: f64) -> bool {
        self.kind == ToolKind::Drill && (self.diameter - diameter).abs() <= DRILL_PLAY
    }

    /// Whether it reaches a depth.
    pub(super) fn reaches(&self, depth: f64) -> bool {
        self.reach.is_none_or(|reach| reach >= depth - 1e-6)
    }
}
