//! What the user can choose about programs for a router. Lengths are in millimetres, whatever the unit of the program.

use jigless_model::diag::Findings;
use jigless_model::sheets::Settings;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::codes;
use crate::machine::beyond;
use crate::machine::file_options::FileUnits;
use crate::machine::layout_options::{FileOrigin, SheetLayout};
use crate::machine::router_options::RouterOptions;
use crate::option_check::{in_range, length_in_range, refused};
use crate::pdf::Paper;

/// Options of `ngc-router`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct NgcRouterOptions {
    /// Unit of the coordinates: `plan` takes the plan's own.
    pub units: FileUnits,
    /// Where things are. Zero of a program is the lower left corner on the upper face of the part or sheet.
    #[serde(flatten)]
    pub layout: SheetLayout,
    /// What the router can do.
    #[serde(flatten)]
    pub router: RouterOptions,
    /// Height above the sheet at which the tool goes from one place to the next: clear of clamps.
    pub safe: f64,
    /// Height above the sheet down to which it is rapid.
    pub clearance: f64,
    /// Angle at which a tool goes down into wood along its way, in degrees.
    pub ramp: f64,
    /// How far apart the ways lie that clear an area, as a share of the tool's diameter.
    pub stepover: f64,
    /// How far beside an outline the tool goes down into the waste, before it comes to the outline; 0 to go down on it.
    pub lead: f64,
    /// Whether to cut against the turn of the tool (conventional) and not with it (climb).
    pub conventional: bool,
    /// Whether holes are canned cycles (G81, G83) and not plain moves, which any controller reads.
    pub canned: bool,
    /// Whether each tool has a file of its own, for machines that cannot stop for a change.
    pub file_per_tool: bool,
    /// Speed of rapids in millimetres a minute, for the time alone.
    pub rapid: f64,
    /// Acceleration in millimetres a second squared, for the time alone.
    pub acceleration: f64,
    /// Paper of the job sheets; not a roll.
    pub paper: Paper,
}

impl Default for NgcRouterOptions {
    fn default() -> Self {
        // Common practice, no source, all of them.
        Self {
            units: FileUnits::Plan,
            layout: SheetLayout::default(),
            router: RouterOptions::default(),
            safe: 15.0,
            clearance: 2.0,
            ramp: 5.0,
            stepover: 0.4,
            lead: 1.0,
            conventional: false,
            canned: false,
            file_per_tool: false,
            rapid: 5000.0,
            acceleration: 500.0,
            paper: Paper::A4,
        }
    }
}

impl NgcRouterOptions {
    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        self.layout.vet(findings);
        self.router.vet(findings);
        if self.paper.format().is_none() {
            let message = "`paper` cannot be `roll` for job sheets";
            let fix = "give a size of sheets, such as `a4` or `letter`";
            findings.push(refused(codes::OPTION_OUT_OF_RANGE, message, fix));
        }
        if self.layout.origin != FileOrigin::LowerLeft {
            let message = "a program has its zero at the lower left corner of the part or sheet";
            let fix = "set `origin: lower-left`, and move zero on the machine";
            findings.push(refused(codes::OPTION_OUT_OF_RANGE, message, fix));
        }
        length_in_range("safe", self.safe, (1.0, 200.0), findings);
        length_in_range("clearance", self.clearance, (0.2, self.safe), findings);
        in_range("ramp", self.ramp, (0.5, 30.0), "degrees", findings);
        in_range("stepover", self.stepover, (0.05, 0.48), "", findings);
        length_in_range("lead", self.lead, (0.0, 50.0), findings);
        in_range(
            "rapid",
            self.rapid,
            (10.0, 200_000.0),
            "mm a minute",
            findings,
        );
        let acceleration = self.acceleration;
        in_range(
            "acceleration",
            acceleration,
            (1.0, 100_000.0),
            "mm/s2",
            findings,
        );
    }

    /// How parts are arranged, if they are.
    pub(super) fn arranging(&self) -> Option<Settings> {
        let sweep = beyond::at_most(&self.router, self.lead);
        let (spacing, margin) = beyond::distances(&self.router, sweep);
        self.layout.settings(spacing, margin, false)
    }

    /// How far a tool goes down for each millimetre of its way.
    pub(super) fn slope(&self) -> f64 {
        self.ramp.to_radians().tan()
    }
}
