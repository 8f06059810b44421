//! What the user can choose about a router. Lengths are in millimetres, whatever the unit of the file.

use jigless_model::diag::Findings;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::option_check::length_in_range;

/// What a router can do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct RouterOptions {
    /// The tools, such as `[{diameter: 6, pass: 4, reach: 22}]`: diameter, greatest depth of one pass, and greatest depth
    /// in all where it is limited. Without tools nothing is relieved or run out, and no fit is checked.
    pub tools: Vec<Tool>,
    /// How inside corners are cleared into which the corner of another part goes: `dog-bone` cuts into both walls,
    /// `t-bone` into the longer one.
    pub relief: Relief,
    /// How far beyond the tool's radius a groove or rebate runs on over the edge of the part.
    pub overrun: f64,
    /// Whether everything lies at its depth below the face (z negative) and not at z = 0.
    pub z: bool,
    /// Diameter of two holes beside the part, the same from both faces, for pins that keep front and back in register; 0
    /// for none.
    pub register: f64,
}

impl Default for RouterOptions {
    fn default() -> Self {
        Self {
            tools: Vec::new(),
            relief: Relief::DogBone,
            overrun: 1.0,
            z: false,
            register: 0.0,
        }
    }
}

/// A tool.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Tool {
    /// Diameter.
    pub diameter: f64,
    /// Greatest depth of one pass.
    pub pass: f64,
    /// Greatest depth in all.
    #[serde(default)]
    pub reach: Option<f64>,
}

/// How an inside corner is cleared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Relief {
    /// Not at all.
    None,
    /// Along the line between both walls.
    #[default]
    DogBone,
    /// Into the longer wall.
    TBone,
}

impl RouterOptions {
    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        for tool in &self.tools {
            length_in_range("tools: diameter", tool.diameter, (0.1, 200.0), findings);
            length_in_range("tools: pass", tool.pass, (0.01, 500.0), findings);
            length_in_range(
                "tools: reach",
                tool.reach.unwrap_or(1.0),
                (0.01, 500.0),
                findings,
            );
        }
        length_in_range("overrun", self.overrun, (0.0, 100.0), findings);
        length_in_range("register", self.register, (0.0, 50.0), findings);
    }

    /// The diameter of the largest tool; 0 without tools.
    pub(super) fn largest(&self) -> f64 {
        self.tools
            .iter()
            .map(|tool| tool.diameter)
            .fold(0.0, f64::max)
    }
}
