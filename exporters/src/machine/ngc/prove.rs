//! Programs from the disk, whoever wrote them, held against the machine and, where it is known, the plan.

use jigless_model::export::ExportInput;
use jigless_simulate::{Fault, Setup, Target, picture, read, simulate};

use super::face_work::{self, cutters};
use super::options::NgcRouterOptions;

/// What a program does.
#[derive(Debug, Clone)]
pub struct Proof {
    /// What is wrong with it, in the order of its lines.
    pub faults: Vec<Fault>,
    /// What it leaves, as SVG.
    pub picture: String,
    /// Length of all cuts, in millimetres.
    pub cut_length: f64,
    /// How many motions it has.
    pub motions: usize,
    /// The lowest and highest x, y and z of its cuts, in millimetres; `None` where it cuts nothing.
    pub extents: Option<([f64; 3], [f64; 3])>,
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
    Proof {
        faults: simulate(&program, setup, target),
        picture: picture(&program, setup),
        cut_length: program.cut_length(),
        motions: program.motions.len(),
        extents: program.extents(),
    }
}
