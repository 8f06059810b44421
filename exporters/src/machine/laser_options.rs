//! What the user can choose about a laser. Lengths are in millimetres, whatever the unit of the file.

use jigless_model::diag::Findings;
use jigless_model::plan::StockKind;
use jigless_model::sheets::Settings;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::layout_options::SheetLayout;
use crate::codes;
use crate::option_check::{in_range, length_in_range, refused};

/// Between parts on a sheet, in millimetres. Common practice, no source.
const BETWEEN_PARTS: f64 = 2.0;

/// From the edge of a sheet, in millimetres. Common practice, no source.
const FROM_EDGE: f64 = 5.0;

/// Between a hole for a pin and anything else, in millimetres. Common practice, no source.
pub(super) const AROUND_REGISTER: f64 = 2.0;

/// What a laser does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct LaserOptions {
    /// Width of the cut: a number, or `{x: 0.15, y: 0.12}` where it differs by axis. Outlines grow and openings shrink by
    /// half of it, once. 0 leaves lines nominal, for programs that allow for it themselves.
    pub kerf: Kerf,
    /// Width of the cut by stock, the first that suits, such as `[{stock: ply3, kerf: 0.15}, {kind: acrylic, thickness: 5,
    /// kerf: 0.2}]`; before `kerf`.
    pub kerfs: Vec<KerfRule>,
    /// Clearance of the slot that fitted best on a coupon; written by `jigless coupon --best` and stated in the notes, to
    /// be given to the plan.
    pub fit: Option<f64>,
    /// Where parts are engraved with their names: `hidden` on faces labelled inside, hidden, underside or toward the
    /// wall, `always`, or `none`.
    pub part_ids: PartIds,
    /// Size of the openings of the bed: smaller parts are reported, since they may fall through; 0 for a closed bed.
    pub cell: f64,
    /// Width of the tabs that hold parts smaller than a cell; 0 for none. Their outlines are then no longer closed.
    pub tab: f64,
    /// Whether neighbours on a sheet share an edge that is cut once. They are then arranged one kerf apart.
    pub shared_edges: bool,
    /// In which order lines of one kind are cut: the `nearest` next, or `spread`, so that what was just cut cools before the
    /// beam comes back beside it.
    pub order: CutOrder,
    /// How far beside an outline or opening the beam begins, in the waste, so that its first burn marks no part; 0 to begin
    /// on the line. Where there is no room the line begins on itself.
    pub lead: f64,
    /// Speed of cuts in millimetres a minute, for the time alone.
    pub speed: Option<f64>,
    /// Speed of marks in millimetres a minute, for the time alone.
    pub mark_speed: Option<f64>,
    /// Diameter of holes for pins that keep front and back in register where both faces are engraved; 0 for none.
    pub register: f64,
}

impl Default for LaserOptions {
    fn default() -> Self {
        Self {
            kerf: Kerf::Even(0.0),
            kerfs: Vec::new(),
            fit: None,
            part_ids: PartIds::Hidden,
            cell: 0.0,
            tab: 0.0,
            shared_edges: false,
            order: CutOrder::Nearest,
            lead: 0.0,
            speed: None,
            mark_speed: None,
            register: 0.0,
        }
    }
}

/// In which order lines of one kind are cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CutOrder {
    /// The nearest next.
    #[default]
    Nearest,
    /// Far from what was just cut.
    Spread,
}

/// Width of a cut in millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Kerf {
    /// The same in every direction.
    Even(f64),
    /// By axis.
    ByAxis {
        /// As measured from left to right, so of cuts that run up and down.
        x: f64,
        /// As measured up and down, so of cuts that run from left to right.
        y: f64,
    },
}

impl Kerf {
    /// Along x and y.
    pub fn axes(self) -> (f64, f64) {
        match self {
            Kerf::Even(both) => (both, both),
            Kerf::ByAxis { x, y } => (x, y),
        }
    }
}

/// Width of the cut in one stock.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KerfRule {
    /// Name of the stock in the plan.
    #[serde(default)]
    pub stock: Option<String>,
    /// Kind of the stock, such as `plywood`.
    #[serde(default)]
    pub kind: Option<StockKind>,
    /// Thickness of the stock as sold or measured, within half a millimetre.
    #[serde(default)]
    pub thickness: Option<f64>,
    /// Width of the cut.
    pub kerf: Kerf,
}

/// Where parts are engraved with their names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PartIds {
    /// Nowhere.
    None,
    /// On faces that nobody sees.
    #[default]
    Hidden,
    /// On every part.
    Always,
}

impl LaserOptions {
    /// How parts are arranged on sheets, if they are.
    pub(super) fn arranging(&self, layout: &SheetLayout) -> Option<Settings> {
        let (x, y) = self.kerf.axes();
        let spacing = BETWEEN_PARTS + x.max(y);
        let margin = FROM_EDGE.max(self.register + 2.0 * AROUND_REGISTER);
        let mut settings = layout.settings(spacing, margin, self.shared_edges)?;
        if self.shared_edges {
            // One cut between two parts takes one kerf from both.
            settings.spacing = x.max(y);
        }
        Some(settings)
    }

    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        let rules = self.kerfs.iter().map(|rule| rule.kerf);
        for kerf in rules.chain([self.kerf]) {
            let (x, y) = kerf.axes();
            length_in_range("kerf", x, (0.0, 5.0), findings);
            length_in_range("kerf", y, (0.0, 5.0), findings);
            if (x == 0.0) != (y == 0.0) {
                findings.push(refused(
                    codes::KERF_ALONG_ONE_AXIS,
                    "a kerf cannot be 0 along one axis only",
                    "give both",
                ));
            }
        }
        length_in_range("cell", self.cell, (0.0, 1000.0), findings);
        length_in_range("tab", self.tab, (0.0, 20.0), findings);
        length_in_range("lead", self.lead, (0.0, 20.0), findings);
        length_in_range("register", self.register, (0.0, 20.0), findings);
        for (name, speed) in [("speed", self.speed), ("mark_speed", self.mark_speed)] {
            let speed = speed.unwrap_or(1.0);
            in_range(name, speed, (1.0, 1_000_000.0), "mm a minute", findings);
        }
        length_in_range("fit", self.fit.unwrap_or(0.0), (-5.0, 5.0), findings);
    }
}
