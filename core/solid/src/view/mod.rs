//! Pictures: bodies as lines and areas on paper, seen from anywhere along parallel lines.

mod areas;
mod camera;
mod lines;
mod strokes;
mod surface;

pub use areas::{Area, area};
pub use camera::Camera;
pub use lines::{Line, LineKind, LineSettings};
pub use strokes::Stroke;
pub use surface::Shown;

use jigless_model::geom::{Bounds, Point};

/// What a picture is made with.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PictureSettings {
    /// How lines are told apart.
    pub lines: LineSettings,
    /// Whether what is seen of each facet is wanted.
    pub areas: bool,
}

/// A picture, in millimetres of the thing: the paper's scale is chosen by whoever draws it.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Every stretch of an edge, one by one.
    pub lines: Vec<Line>,
    /// The same lines, each stretch once and joined where they run on.
    pub strokes: Vec<Stroke>,
    /// What is seen of each facet.
    pub areas: Vec<Area>,
    /// The box around everything.
    pub bounds: Bounds,
}

/// Draws bodies as seen by a camera.
pub fn picture(bodies: &[Shown], camera: &Camera, settings: &PictureSettings) -> Picture {
    let surface = surface::Surface::new(bodies, camera);
    let lines = lines::lines(bodies, &surface, camera, settings.lines);
    let areas = if settings.areas {
        areas::areas(bodies, &surface, camera)
    } else {
        Vec::new()
    };
    Picture {
        strokes: strokes::strokes(&lines),
        areas,
        bounds: surface.bounds(),
        lines,
    }
}

/// Which body is seen at some places of the paper, and how near it is there.
pub fn seen_at(bodies: &[Shown], camera: &Camera, places: &[Point]) -> Vec<Option<(usize, f64)>> {
    let surface = surface::Surface::new(bodies, camera);
    places
        .iter()
        .map(|place| {
            let (patch, nearness) = surface.nearest(*place)?;
            Some((surface.patches[patch].body, nearness))
        })
        .collect()
}
