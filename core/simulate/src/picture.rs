//! What a program leaves of a sheet, as a picture.

use std::fmt::Write;

use jigless_model::geom::Point;

use crate::gone::gone_at;
use crate::program::Program;
use crate::setup::Setup;
use crate::shape::{Polygon, point};
use crate::swept::Swept;

/// How many depths are told apart at most.
const MOST_DEPTHS: usize = 24;

/// The face of the sheet, in red, green and blue.
pub const FACE: [u8; 3] = [0xe8, 0xcf, 0xa5];
/// What is cut through.
const THROUGH: [u8; 3] = [255, 255, 255];
/// Where almost nothing is gone, and where almost everything is.
const SHALLOW: [f64; 3] = [214.0, 176.0, 122.0];
const DEEP: [f64; 3] = [90.0, 58.0, 20.0];

/// What a program leaves of a sheet, seen from above.
#[derive(Debug, Clone)]
pub struct Left {
    /// Size of the sheet in millimetres, to the right and upward.
    pub size: (f64, f64),
    /// What is gone, from the shallowest to the deepest, so that each lies on the one before.
    pub levels: Vec<Level>,
}

/// What is gone down to a depth.
#[derive(Debug, Clone)]
pub struct Level {
    /// The depth in millimetres.
    pub depth: f64,
    /// Red, green and blue: the deeper, the darker; what is cut through is white.
    pub colour: [u8; 3],
    /// Outlines of the areas and their islands; what lies in an odd number of them is gone.
    pub outlines: Vec<Vec<Point>>,
}

/// What a program leaves. What is beyond the room of the machine is not in it.
pub fn left(swept: &Swept, setup: &Setup) -> Left {
    let program = &swept.program;
    let depths = depths(program);
    let deepest_first: Vec<f64> = depths.iter().rev().map(|depth| depth - 0.01).collect();
    let regions = gone_at(&program.motions, setup, &deepest_first);
    let levels = deepest_first.iter().zip(&regions).rev();
    let level = |(depth, region): (&f64, &Vec<Polygon>)| Level {
        depth: depth + 0.01,
        colour: colour(*depth, setup.thickness),
        outlines: region
            .iter()
            .map(|polygon| polygon.iter().map(|node| point(*node)).collect())
            .collect(),
    };
    Left {
        size: setup.size,
        levels: levels.map(level).collect(),
    }
}

fn colour(depth: f64, thickness: f64) -> [u8; 3] {
    if depth >= thickness - 0.05 {
        return THROUGH;
    }
    let share = (depth / thickness).clamp(0.0, 1.0);
    let part = |n: usize| (SHALLOW[n] + (DEEP[n] - SHALLOW[n]) * share).round() as u8;
    [part(0), part(1), part(2)]
}

impl Left {
    /// The sheet as SVG, a unit for a millimetre.
    pub fn svg(&self) -> String {
        let (width, height) = self.size;
        let [red, green, blue] = FACE;
        let mut text = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.2}mm\" height=\"{height:.2}mm\" viewBox=\"0 0 {width:.2} {height:.2}\">\n\
             <rect width=\"{width:.2}\" height=\"{height:.2}\" fill=\"#{red:02x}{green:02x}{blue:02x}\" stroke=\"#806030\" stroke-width=\"0.5\"/>\n"
        );
        for level in &self.levels {
            let [red, green, blue] = level.colour;
            // Writing to a String cannot fail.
            let _ = writeln!(
                text,
                "<path d=\"{}\" fill=\"#{red:02x}{green:02x}{blue:02x}\" fill-rule=\"evenodd\" stroke=\"#403010\" stroke-width=\"0.15\"><title>{:.2} mm deep</title></path>",
                data(&level.outlines, height),
                level.depth
            );
        }
        text.push_str("</svg>\n");
        text
    }
}

/// The depths at which the program cuts on the level, from the face down, thinned out where there are many.
fn depths(program: &Program) -> Vec<f64> {
    let mut depths: Vec<i64> = program
        .motions
        .iter()
        // A way down ends where a level one begins, or, where it is straight, at the bottom of a hole.
        .filter(|motion| {
            let level = (motion.from_z - motion.to_z).abs() < 1e-9;
            let straight = motion.length_in_plane() < 1e-9;
            !motion.rapid && motion.lowest() < 0.0 && (level || straight)
        })
        .map(|motion| (-motion.lowest() * 100.0).round() as i64)
        .collect();
    depths.sort_unstable();
    depths.dedup();
    let step = depths.len().div_ceil(MOST_DEPTHS).max(1);
    let last = depths.len().saturating_sub(1);
    let kept = depths
        .iter()
        .enumerate()
        .filter(|(n, _)| (last - n).is_multiple_of(step));
    kept.map(|(_, depth)| *depth as f64 / 100.0).collect()
}

fn data(outlines: &[Vec<Point>], height: f64) -> String {
    let mut text = String::new();
    for outline in outlines {
        for (n, at) in outline.iter().enumerate() {
            let letter = if n == 0 { 'M' } else { 'L' };
            let _ = write!(text, "{letter}{:.3} {:.3}", at.x, height - at.y);
        }
        text.push('Z');
    }
    text
}
