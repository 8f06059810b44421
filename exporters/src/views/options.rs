//! What the user can choose about pictures.

use jigless_model::diag::Findings;
use jigless_model::whole::Triple;
use jigless_solid::view::Camera;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::drawing::Tint;
use crate::option_check::{in_range, length_in_range};

/// How the whole is laid on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Projection {
    /// As `azimuth` and `elevation` say.
    #[default]
    Angles,
    /// All three axes to one scale.
    Isometric,
    /// Width and height to one scale, depth to half of it.
    Dimetric,
}

impl Projection {
    /// From where the whole is looked at; angles in degrees.
    pub(crate) fn camera(self, azimuth: f64, elevation: f64) -> Camera {
        match self {
            Projection::Angles => Camera::axonometric(azimuth.to_radians(), elevation.to_radians()),
            Projection::Isometric => Camera::isometric(),
            Projection::Dimetric => Camera::dimetric(),
        }
    }
}

/// What can be chosen of how a picture looks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct LookOptions {
    /// How the whole is laid on paper.
    pub projection: Projection,
    /// How far one walks around the whole to the right, from before its front, in degrees; with `projection: angles`.
    #[schemars(range(min = -180.0, max = 180.0))]
    pub azimuth: f64,
    /// How far one looks down on it, in degrees; with `projection: angles`.
    #[schemars(range(min = -90.0, max = 90.0))]
    pub elevation: f64,
    /// Width of a picture, in millimetres; a tall one is made narrower, so that it is no higher than 1.4 times this.
    #[schemars(range(min = 40.0, max = 1000.0))]
    pub width: f64,
    /// Whether sides are shaded by the way they look.
    pub shading: bool,
    /// Whether hidden edges are drawn, thin and dashed.
    pub hidden: bool,
    /// Whether parts are marked with the letters that the lists use.
    pub marks: bool,
    /// Inks: greys, or a tint for each material; lines are always black.
    pub inks: Tint,
}

impl Default for LookOptions {
    fn default() -> Self {
        Self {
            projection: Projection::Angles,
            azimuth: 32.0,
            elevation: 24.0,
            width: 180.0,
            shading: true,
            hidden: false,
            marks: true,
            inks: Tint::Colour,
        }
    }
}

impl LookOptions {
    /// From where the whole is looked at.
    pub(crate) fn camera(&self) -> Camera {
        self.projection.camera(self.azimuth, self.elevation)
    }

    /// What cannot be.
    pub(crate) fn faults(&self) -> Findings {
        let mut findings = Findings::new();
        length_in_range("width", self.width, (40.0, 1000.0), &mut findings);
        for (option, value, most) in [
            ("azimuth", self.azimuth, 180.0),
            ("elevation", self.elevation, 90.0),
        ] {
            in_range(option, value, (-most, most), "degrees", &mut findings);
        }
        findings
    }
}

/// Across which of its sizes the whole is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Section {
    /// It is not cut.
    #[default]
    None,
    /// Across its width: what is left of the cut stays.
    Width,
    /// Across its height: what is below the cut stays.
    Height,
    /// Across its depth: what is behind the cut stays.
    Depth,
}

/// What can be chosen of pictures of the whole.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct SvgViewsOptions {
    /// How pictures look.
    #[serde(flatten)]
    pub look: LookOptions,
    /// Across which of its sizes the whole is cut for a picture of its inside.
    pub section: Section,
    /// Where it is cut, in millimetres from the origin of the plan.
    pub section_at: f64,
    /// Whether there is a picture for each part that shows where it is, with the rest faint.
    pub in_place: bool,
}

impl SvgViewsOptions {
    /// The plane that the whole is cut at, and the way toward what is taken off.
    pub(crate) fn plane(&self) -> Option<(Triple, Triple)> {
        let axis = match self.section {
            Section::None => return None,
            Section::Width => 0,
            Section::Height => 1,
            Section::Depth => 2,
        };
        let (mut on, mut normal) = ([0.0; 3], [0.0; 3]);
        (on[axis], normal[axis]) = (self.section_at, 1.0);
        Some((on, normal))
    }
}

/// What can be chosen of pictures of the whole made of dots.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct PngViewsOptions {
    /// What is seen, and how it looks.
    #[serde(flatten)]
    pub views: SvgViewsOptions,
    /// Dots to an inch, 30 to 600.
    #[schemars(range(min = 30, max = 600))]
    pub dpi: u32,
}

impl Default for PngViewsOptions {
    fn default() -> Self {
        Self {
            views: SvgViewsOptions::default(),
            dpi: 150,
        }
    }
}

/// What can be chosen of pictures of steps.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct SvgStepsOptions {
    /// How pictures look.
    #[serde(flatten)]
    pub look: LookOptions,
}
