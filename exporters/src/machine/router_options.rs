//! What the user can choose about a router. Lengths are in millimetres, whatever the unit of the file.

use jigless_model::diag::Findings;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::tool::Tool;
use crate::option_check::length_in_range;

/// What a router can do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct RouterOptions {
    /// The tools, such as `[{diameter: 6, pass: 4, reach: 22}, {kind: drill, diameter: 5, pass: 6}]`: diameter, greatest
    /// depth of one pass, greatest depth in all where it is limited, and for programs feed, plunge and speed. Without
    /// tools nothing is relieved or run out, no fit is checked, and no sheet is made.
    pub tools: Vec<Tool>,
    /// How inside corners are cleared into which the corner of another part goes: `dog-bone` cuts into both walls,
    /// `t-bone` into the longer one; `none` leaves them to a chisel.
    pub relief: Relief,
    /// How far beyond the tool's radius a groove or rebate runs on over the edge of the part.
    pub overrun: f64,
    /// Whether everything lies at its depth below the face (z negative) and not at z = 0.
    pub z: bool,
    /// Diameter of three holes beside a part or in the margin of a sheet that is worked from both faces, for pins that
    /// keep front and back in register; 0 for none. A part or sheet that is turned over any other way does not fit them.
    pub register: f64,
    /// Width of the strip along each edge of a sheet that clamps and the fence of the bed need: no tool comes there.
    pub clamp: f64,
    /// How far through cuts go beyond the thickest reading, into a spoil board.
    pub overcut: f64,
    /// Thickness of a skin that through cuts leave instead, below the thinnest reading, to be cut or sanded off by hand.
    pub skin: Option<f64>,
    /// Width of the tabs that hold a part in its sheet, as they are left standing; 0 for none.
    pub tab: f64,
    /// Height of the tabs above the underside of the sheet, for programs.
    pub tab_height: f64,
}

impl Default for RouterOptions {
    fn default() -> Self {
        Self {
            tools: Vec::new(),
            relief: Relief::DogBone,
            overrun: 1.0,
            z: false,
            register: 0.0,
            clamp: 10.0,
            overcut: 0.5,
            skin: None,
            tab: 0.0,
            tab_height: 4.0,
        }
    }
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
            tool.vet(findings);
        }
        length_in_range("overrun", self.overrun, (0.0, 100.0), findings);
        length_in_range("register", self.register, (0.0, 50.0), findings);
        length_in_range("clamp", self.clamp, (0.0, 500.0), findings);
        length_in_range("overcut", self.overcut, (0.0, 10.0), findings);
        let skin = self.skin.unwrap_or(0.0);
        length_in_range("skin", skin, (0.0, 10.0), findings);
        length_in_range("tab", self.tab, (0.0, 100.0), findings);
        length_in_range("tab_height", self.tab_height, (0.1, 100.0), findings);
    }

    /// The diameter of the largest tool that follows contours; 0 without tools.
    pub(super) fn largest(&self) -> f64 {
        let mills = self.tools.iter().filter(|tool| tool.is_mill());
        mills.map(|tool| tool.diameter).fold(0.0, f64::max)
    }
}
