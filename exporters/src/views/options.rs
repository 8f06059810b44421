//! What the user can choose about pictures.

use jigless_solid::view::Camera;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::drawing::Tint;

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

/// What can be chosen of pictures.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct SvgViewsOptions {
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

impl Default for SvgViewsOptions {
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
