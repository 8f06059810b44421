//! `jigless simulate`: what a program for a router leaves of a sheet.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use jigless_core::arrange::{Arrangement, arrange};
use jigless_core::export::{ExportInput, Stamp};
use jigless_core::plan::Plan;
use jigless_core::units::decimal;
use jigless_core::workpiece::Workpiece;
use jigless_exporters::{NgcRouterOptions, Proof, png_of, prove_for_plan, prove_on_sheet};

use crate::args::{ChoiceArgs, SimulateArgs};
use crate::choice::{Chosen, settle};
use crate::console::{self, Console};
use crate::disk::read_plain;
use crate::exit::{Exit, Problem};
use crate::keep::write_all;
use crate::plans::one_plan;
use crate::report::counted;
use crate::styled::shown;

/// Larger files are no programs for a router.
const MOST_BYTES: u64 = 64 * 1024 * 1024;
/// The format whose options describe the machine.
const FORMAT: &str = "ngc-router";

/// The plan that programs are of, its parts arranged as the profile says.
struct OfPlan {
    plan: Plan,
    workpieces: Vec<Workpiece>,
    sheets: Option<Arrangement>,
}

/// Simulates every file; a fault in one of them makes the run fail.
pub fn run(args: &SimulateArgs, console: &mut Console) -> Exit {
    let choice = ChoiceArgs {
        to: vec![FORMAT.to_owned()],
        set: args.set.clone(),
        profile: args.profile.clone(),
    };
    let chosen = match settle(&choice, &[]) {
        Ok(chosen) => chosen,
        Err(faults) => return super::faults::report(faults, console),
    };
    let Some(format) = chosen.first() else {
        return Exit::Faulty;
    };
    let options: NgcRouterOptions = match serde_json::from_value(format.options()) {
        Ok(options) => options,
        Err(error) => return refused(&Problem::usage(error.to_string())),
    };
    let of_plan = match args.plan.as_deref().map(|path| plan(path, format, console)) {
        None => None,
        Some(Ok(of_plan)) => Some(of_plan),
        Some(Err(exit)) => return exit,
    };
    let mut exit = Exit::Done;
    let mut pictures: Vec<(PathBuf, Vec<u8>)> = Vec::new();
    for file in &args.files {
        let proof =
            text(file).and_then(|text| prove(&text, file, args, &options, of_plan.as_ref()));
        match proof {
            Ok(proof) => {
                console.out(&in_words(file, &proof));
                if !proof.faults.is_empty() {
                    exit = exit.max(Exit::Faulty);
                }
                if let Some(out) = &args.out {
                    let path = |kind: &str| out.join(format!("{}.left.{kind}", stem(file)));
                    pictures.push((path("svg"), proof.left.svg().into_bytes()));
                    match png_of(&proof.left) {
                        Ok(bytes) => pictures.push((path("png"), bytes)),
                        Err(message) => exit = exit.max(refused(&Problem::usage(message))),
                    }
                }
            }
            Err(problem) => exit = exit.max(refused(&problem)),
        }
    }
    if let Err(problem) = write_all(&pictures, args.force) {
        exit = exit.max(refused(&problem));
    }
    exit
}

fn refused(problem: &Problem) -> Exit {
    console::problem(problem);
    problem.exit
}

fn plan(path: &Path, format: &Chosen, console: &mut Console) -> Result<OfPlan, Exit> {
    let (plan, workpieces) = one_plan(path, console)?;
    let sheets = format
        .arranging()
        .map(|settings| arrange(&workpieces, &settings));
    Ok(OfPlan {
        plan,
        workpieces,
        sheets,
    })
}

fn text(file: &Path) -> Result<String, Problem> {
    let shown = shown(file);
    let bytes = read_plain(file, MOST_BYTES)
        .map_err(|reason| Problem::disk(format!("{shown} cannot be read: {reason}")))?;
    String::from_utf8(bytes).map_err(|_| Problem::new(Exit::Faulty, format!("{shown} is no text")))
}

/// The name of a file without its extension.
fn stem(file: &Path) -> String {
    let stem = file.file_stem().unwrap_or_default();
    stem.to_string_lossy().into_owned()
}

fn prove(
    text: &str,
    file: &Path,
    args: &SimulateArgs,
    options: &NgcRouterOptions,
    of_plan: Option<&OfPlan>,
) -> Result<Proof, Problem> {
    let Some(of_plan) = of_plan else {
        let [width, height, thickness] = args.sheet[..] else {
            let message = "the size of the sheet is not known";
            return Err(Problem::usage(message).fix("give `--plan`, or `--sheet 600,400,18`"));
        };
        return Ok(prove_on_sheet(text, [width, height, thickness], options));
    };
    let stamp = Stamp::new(crate::TOOL, None);
    let mut input = ExportInput::new(&of_plan.plan, &of_plan.workpieces, &stamp);
    if let Some(sheets) = &of_plan.sheets {
        input = input.on_sheets(sheets);
    }
    prove_for_plan(text, &stem(file), &input, options).map_err(|names| {
        let message = format!("{} is no program of the plan", shown(file));
        let fix = format!("its programs are called {}", names.join(", "));
        Problem::new(Exit::Faulty, message).fix(fix)
    })
}

/// What there is to say of a program.
fn in_words(file: &Path, proof: &Proof) -> String {
    let mut text = format!(
        "{}: {}, {} mm of cuts\n",
        shown(file),
        counted(proof.motions, "motion"),
        decimal(proof.cut_length, 4)
    );
    if let Some((low, high)) = proof.extents {
        let place = |at: [f64; 3]| at.map(|mm| decimal(mm, 4)).join(", ");
        let _ = writeln!(text, "  cuts from {} to {}", place(low), place(high));
    }
    for fault in &proof.faults {
        let _ = writeln!(text, "  {fault}");
    }
    if proof.faults.is_empty() {
        text.push_str("  no faults\n");
    }
    text
}
