//! What the user can choose about files for machines. Lengths are in millimetres, whatever the unit of the file.

use std::collections::BTreeMap;

use jigless_core::arrange;
use jigless_core::diag::{Finding, Findings, Severity};
use jigless_core::units::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::layers::WORDS;
use crate::codes;

/// Sheet taken where neither a profile nor the stock gives one: 1220 by 2440, half of what sheet goods are sold in by
/// common practice, no source.
const FALLBACK_SHEET: (f64, f64) = (1220.0, 2440.0);

/// Options of `dxf-cnc`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct DxfCncOptions {
    /// What the file is like.
    #[serde(flatten)]
    pub file: DxfFile,
    /// Where things are.
    #[serde(flatten)]
    pub layout: SheetLayout,
    /// What the router can do.
    #[serde(flatten)]
    pub router: RouterOptions,
}

/// Options of `dxf-laser`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct DxfLaserOptions {
    /// What the file is like.
    #[serde(flatten)]
    pub file: DxfFile,
    /// Where things are.
    #[serde(flatten)]
    pub layout: SheetLayout,
    /// What the laser does.
    #[serde(flatten)]
    pub laser: LaserOptions,
}

/// Options of `svg-laser`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct SvgLaserOptions {
    /// Where things are.
    #[serde(flatten)]
    pub layout: SheetLayout,
    /// What the laser does.
    #[serde(flatten)]
    pub laser: LaserOptions,
    /// Whether to add a line of 100 mm, in the colour of marks, above the work, to measure the scale by.
    pub check_line: bool,
    /// Width of every line. Some programs cut only what is thinner than a limit of theirs: 0.01 suits all, but can hardly
    /// be seen on a screen.
    pub line: f64,
}

impl Default for SvgLaserOptions {
    fn default() -> Self {
        Self {
            layout: SheetLayout::default(),
            laser: LaserOptions::default(),
            check_line: false,
            line: 0.1,
        }
    }
}

impl SvgLaserOptions {
    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        in_range("line", self.line, 0.001, 2.0, findings);
    }
}

/// What a DXF file is like.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct DxfFile {
    /// Unit of the coordinates: `plan` takes the plan's own, so a plan in inches gives a file in inches.
    pub units: FileUnits,
    /// Version of the format: `r2000` says its unit in the file; `r12` is for older machines and says it in the notes
    /// only.
    pub version: Version,
    /// Whether to write the texts on layer NOTES: name, count, stock, size, units, edges and what each layer means.
    pub notes: bool,
    /// Names and colours of layers by kind of work, such as `{groove: {name: "POCKET-{depth}", colour: 3}}`. Kinds:
    /// `notes`, `reference`, `hand_work`, `register`, `mark`, `groove`, `rebate`, `recess`, `countersink`, `counterbore`,
    /// `drill`, `drill_through`, `cut_inside`, `cut_open`, `cut_outside`.
    pub layers: BTreeMap<String, LayerStyle>,
}

impl Default for DxfFile {
    fn default() -> Self {
        Self {
            units: FileUnits::Plan,
            version: Version::R2000,
            notes: true,
            layers: BTreeMap::new(),
        }
    }
}

/// How a layer is called and coloured.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct LayerStyle {
    /// Its name; `{depth}` stands for the depth.
    pub name: Option<String>,
    /// Its colour number, from 1 to 255.
    #[schemars(range(min = 1, max = 255))]
    pub colour: Option<u8>,
}

/// Where parts lie in a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct SheetLayout {
    /// Whether parts are arranged on sheets, and on which: `no` makes a file for each part, `stock` arranges them on the
    /// sheets that the plan lists for the stock, `bed` on the bed of the machine.
    pub arrange: Arrange,
    /// Width and height of the machine's bed, as `[width, height]`.
    pub bed: Option<[f64; 2]>,
    /// Distance between parts on a sheet. When not given: the largest tool and 2 mm, or 2 mm for a laser.
    pub spacing: Option<f64>,
    /// Distance of parts from the edge of a sheet.
    pub margin: f64,
    /// The point of the work that is 0,0 in the file. With `lower-left` no coordinate is negative.
    pub origin: Origin,
}

impl Default for SheetLayout {
    fn default() -> Self {
        Self {
            arrange: Arrange::No,
            bed: None,
            spacing: None,
            margin: 5.0,
            origin: Origin::LowerLeft,
        }
    }
}

/// Whether and on what parts are arranged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Arrange {
    /// A file for each part.
    #[default]
    No,
    /// On the sheets of the stock.
    Stock,
    /// On the bed of the machine.
    Bed,
}

/// The point that is 0,0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Origin {
    /// Lower left corner of all that is worked.
    #[default]
    LowerLeft,
    /// Lower right corner.
    LowerRight,
    /// Upper left corner.
    UpperLeft,
    /// Upper right corner.
    UpperRight,
    /// Centre.
    Centre,
    /// The part's own lower left corner, whatever reaches over it.
    Part,
}

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
    /// How far beyond the tool's radius a groove or rebate runs out over the edge of the part.
    pub run_out: f64,
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
            run_out: 1.0,
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
    /// Clearance of the slot that fitted best on a coupon; written by `jigless coupon --best` and told in the notes, to
    /// be given to the plan.
    pub fit: Option<f64>,
    /// Where parts are engraved with their names: `hidden` on faces labelled inside, hidden, underside or toward the
    /// wall, `always`, or `none`.
    pub part_ids: PartIds,
    /// Size of the openings of the bed: smaller parts are told of, since they may fall through; 0 for a closed bed.
    pub cell: f64,
    /// Width of the tabs that hold parts smaller than a cell; 0 for none. Their outlines are then no longer closed.
    pub tab: f64,
    /// Whether neighbours on a sheet share an edge that is cut once. They are then arranged one kerf apart.
    pub shared_edges: bool,
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
        }
    }
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
    pub kind: Option<String>,
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

/// Unit of the coordinates in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub enum FileUnits {
    /// The unit of the plan.
    #[default]
    #[serde(rename = "plan")]
    Plan,
    /// Millimetres.
    #[serde(rename = "mm")]
    Millimetre,
    /// Inches.
    #[serde(rename = "in")]
    Inch,
}

impl FileUnits {
    /// The unit itself, for a plan in the given one.
    pub(super) fn of_plan(self, plan: Unit) -> Unit {
        match self {
            FileUnits::Plan => plan,
            FileUnits::Millimetre => Unit::Millimetre,
            FileUnits::Inch => Unit::Inch,
        }
    }
}

/// Version of the format.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Version {
    /// AC1009 (1992): contours are POLYLINE with VERTEX and SEQEND.
    R12,
    /// AC1015 (1999): contours are LWPOLYLINE.
    #[default]
    R2000,
}

impl SheetLayout {
    /// How parts are to be arranged, if they are.
    pub(super) fn settings(&self, spacing: f64, boxes_only: bool) -> Option<arrange::Settings> {
        let bed = self.bed.map(|[width, height]| (width, height));
        let bed = match self.arrange {
            Arrange::No => return None,
            Arrange::Stock => None,
            Arrange::Bed => Some(bed.unwrap_or(FALLBACK_SHEET)),
        };
        Some(arrange::Settings {
            bed,
            fallback: FALLBACK_SHEET,
            spacing: self.spacing.unwrap_or(spacing),
            margin: self.margin,
            boxes_only,
        })
    }

    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        for side in self.bed.into_iter().flatten() {
            in_range("bed", side, 1.0, 100_000.0, findings);
        }
        in_range(
            "spacing",
            self.spacing.unwrap_or(0.0),
            0.0,
            1000.0,
            findings,
        );
        in_range("margin", self.margin, 0.0, 1000.0, findings);
    }
}

impl DxfFile {
    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        for (word, style) in &self.layers {
            if !WORDS.contains(&word.as_str()) {
                wrong(
                    findings,
                    format!("`layers` knows no kind of work `{word}`"),
                    &format!("the kinds are {}", WORDS.join(", ")),
                );
            }
            // The rule of R12, which every version takes; a depth may add eight characters.
            let legal = |c: char| c.is_ascii_uppercase() || c.is_ascii_digit() || "$_-".contains(c);
            if let Some(name) = &style.name {
                let bare = name.replace("{depth}", "12345678");
                if bare.is_empty() || bare.len() > 31 || !bare.chars().all(legal) {
                    wrong(
                        findings,
                        format!("`{name}` cannot be the name of a layer"),
                        "use A to Z, 0 to 9, $, _ and -, at most 31 of them with the depth",
                    );
                }
            }
            if style.colour == Some(0) {
                wrong(
                    findings,
                    "a layer cannot have colour 0".to_owned(),
                    "take a number from 1 to 255",
                );
            }
        }
    }
}

impl RouterOptions {
    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        for tool in &self.tools {
            in_range("tools: diameter", tool.diameter, 0.1, 200.0, findings);
            in_range("tools: pass", tool.pass, 0.01, 500.0, findings);
            in_range(
                "tools: reach",
                tool.reach.unwrap_or(1.0),
                0.01,
                500.0,
                findings,
            );
        }
        in_range("run_out", self.run_out, 0.0, 100.0, findings);
        in_range("register", self.register, 0.0, 50.0, findings);
    }

    /// The diameter of the largest tool; 0 without tools.
    pub(super) fn largest(&self) -> f64 {
        self.tools
            .iter()
            .map(|tool| tool.diameter)
            .fold(0.0, f64::max)
    }
}

impl LaserOptions {
    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        let rules = self.kerfs.iter().map(|rule| rule.kerf);
        for kerf in rules.chain([self.kerf]) {
            let (x, y) = kerf.axes();
            in_range("kerf", x, 0.0, 5.0, findings);
            in_range("kerf", y, 0.0, 5.0, findings);
            if (x == 0.0) != (y == 0.0) {
                wrong(
                    findings,
                    "a kerf cannot be 0 along one axis only".to_owned(),
                    "give both",
                );
            }
        }
        in_range("cell", self.cell, 0.0, 1000.0, findings);
        in_range("tab", self.tab, 0.0, 20.0, findings);
        in_range("fit", self.fit.unwrap_or(0.0), -5.0, 5.0, findings);
    }
}

fn in_range(what: &str, value: f64, low: f64, high: f64, findings: &mut Findings) {
    if !(low..=high).contains(&value) {
        let message = format!("`{what}` cannot be {value}");
        let fix = format!("give millimetres from {low} to {high}");
        let finding = Finding::new(codes::OPTION_OUT_OF_RANGE, Severity::Error, None, message);
        findings.push(finding.fix(fix));
    }
}

fn wrong(findings: &mut Findings, message: String, fix: &str) {
    findings.push(Finding::new(codes::BAD_MACHINE_OPTION, Severity::Error, None, message).fix(fix));
}
