//! The machine and the sheet that a program is run on.

/// How far what is left may be off what is wanted, in millimetres, sideways and in depth.
pub(crate) const TOLERANCE: f64 = 0.02;

/// A tool.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutter {
    /// The number by which programs call it.
    pub number: u32,
    /// Its diameter; of a cone the greatest.
    pub diameter: f64,
    /// The greatest depth of one pass.
    pub pass: f64,
    /// The greatest depth in all, where it is limited.
    pub reach: Option<f64>,
    /// Included angle of a cone in radians; `None` for a cylinder.
    pub angle: Option<f64>,
    /// Whether it may go straight down into wood.
    pub plunges: bool,
    /// Whether it cuts sideways.
    pub sideways: bool,
}

impl Cutter {
    /// Its radius at a depth below the surface when its tip is at another one.
    pub(crate) fn radius_at(&self, tip: f64, depth: f64) -> f64 {
        match self.angle {
            None if tip >= depth => self.diameter / 2.0,
            None => 0.0,
            Some(angle) => ((tip - depth) * (angle / 2.0).tan()).clamp(0.0, self.diameter / 2.0),
        }
    }
}

/// The machine and the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Size of the sheet to the right and upward.
    pub size: (f64, f64),
    /// Its thickness at its thickest reading.
    pub thickness: f64,
    /// How far below its underside a tool may go.
    pub below: f64,
    /// How far beyond its edges a tool's middle may go: to the left and down, and to the right and up.
    pub room: [f64; 4],
    /// The tools.
    pub cutters: Vec<Cutter>,
}

impl Setup {
    /// The tool with a number.
    pub(crate) fn cutter(&self, number: u32) -> Option<&Cutter> {
        self.cutters.iter().find(|cutter| cutter.number == number)
    }
}
