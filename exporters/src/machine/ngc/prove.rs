//! Programs from the disk, whoever wrote them, held against the machine and, where it is known, the plan.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_simulate::{FACE, Fault, Left, Setup, Target, left, read, simulate, swept};

use super::face_work::{self, cutters};
use super::options::NgcRouterOptions;
use crate::drawing::Ink;
use crate::raster;

/// Dots of a picture to a millimetre, and along its longer side, at most.
const DOTS: f64 = 10.0;
const MOST_DOTS: f64 = 2400.0;

/// What a program does.
#[derive(Debug, Clone)]
pub struct Proof {
    /// What is wrong with it, in the order of its lines.
    pub faults: Vec<Fault>,
    /// What it leaves.
    pub left: Left,
    /// Length of all cuts, in millimetres.
    pub cut_length: f64,
    /// How many motions it has.
    pub motions: usize,
    /// The lowest and highest x, y and z of its cuts, in millimetres; `None` where it cuts nothing.
    pub extents: Option<([f64; 3], [f64; 3])>,
}

/// What is left of a sheet as PNG: ten dots to a millimetre, fewer where the sheet is large.
///
/// # Errors
/// When the sheet has no size.
pub fn png_of(left: &Left) -> Result<Vec<u8>, String> {
    let canvas = Bounds::of_size(left.size.0, left.size.1);
    let dots = (MOST_DOTS / canvas.width().max(canvas.height())).min(DOTS);
    let areas: Vec<(Ink, &[Vec<Point>])> = left
        .levels
        .iter()
        .map(|level| {
            let [red, green, blue] = level.colour;
            (Ink(red, green, blue), level.outlines.as_slice())
        })
        .collect();
    let [red, green, blue] = FACE;
    raster::areas(canvas, Ink(red, green, blue), &areas, (dots * 25.4) as u32)
}

/// Runs a program on a sheet of a width, height and thickness in millimetres. Nothing is known of what it is to leave.
pub fn prove_on_sheet(text: &str, sheet: [f64; 3], options: &NgcRouterOptions) -> Proof {
    let [width, height, thickness] = sheet;
    let setup = Setup {
        size: (width, height),
        thickness,
        below: options.router.overcut,
        room: [options.router.largest(); 4],
        cutters: cutters(options),
    };
    proof(text, &setup, None)
}

/// Runs a program on the part or sheet of a plan whose program has this name, without extension.
///
/// # Errors
/// When the plan has no such part or sheet: the names that it has.
pub fn prove_for_plan(
    text: &str,
    name: &str,
    input: &ExportInput,
    options: &NgcRouterOptions,
) -> Result<Proof, Vec<String>> {
    let all = face_work::all(input, options).map_err(|message| vec![message])?;
    match all.iter().find(|work| work.stem == name) {
        Some(work) => Ok(proof(text, &work.setup, Some(&work.target))),
        None => Err(all.into_iter().map(|work| work.stem).collect()),
    }
}

fn proof(text: &str, setup: &Setup, target: Option<&Target>) -> Proof {
    let program = read(text);
    let swept = swept(&program, setup);
    Proof {
        faults: simulate(&program, &swept, setup, target),
        left: left(&swept, setup),
        cut_length: program.cut_length(),
        motions: program.motions.len(),
        extents: program.extents(),
    }
}
