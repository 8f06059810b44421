//! `jigless inspect`: what a machine will see in DXF and SVG files.

use std::path::Path;

use jigless_exporters::inspect::{KnownMachine, inspect, judge_on};
use jigless_exporters::{DxfCncOptions, ToolKind};

use crate::args::{ChoiceArgs, InspectArgs, UnitArg};
use crate::choice::{Faults, settle};
use crate::console::{self, Console};
use crate::disk::read_plain;
use crate::exit::{Exit, Problem};
use crate::styled::shown;

/// Larger files are no drawings for a machine.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// Reports on every file; a fault in one of them makes the run fail.
pub fn run(args: &InspectArgs, console: &mut Console) -> Exit {
    let mut exit = Exit::Done;
    let machine = match args.profile.as_deref().map(machine) {
        None => None,
        Some(Ok(machine)) => Some(machine),
        Some(Err(faults)) => return super::faults::report(faults, console),
    };
    for file in &args.files {
        let shown = shown(file);
        let read = read_plain(file, MOST_BYTES + 1).and_then(|bytes| {
            if bytes.len() as u64 > MOST_BYTES {
                Err(format!(
                    "it is larger than {MOST_BYTES} bytes, which no drawing for a machine is"
                ))
            } else {
                Ok(bytes)
            }
        });
        let bytes = match read {
            Ok(bytes) => bytes,
            Err(reason) => {
                let problem = Problem::disk(format!("{shown} cannot be read: {reason}"));
                console::problem(&problem);
                exit = exit.max(problem.exit);
                continue;
            }
        };
        match inspect(&bytes, args.units.map(UnitArg::unit)) {
            Ok(mut found) => {
                if let Some(machine) = &machine {
                    judge_on(&mut found, machine);
                }
                console.out(&format!("{shown}\n{found}"));
                if !found.faults.is_empty() {
                    exit = exit.max(Exit::Faulty);
                }
            }
            Err(reason) => {
                console::problem(&Problem::new(Exit::Faulty, format!("{shown}: {reason}")));
                exit = exit.max(Exit::Faulty);
            }
        }
    }
    exit
}

/// What a profile says of the machine.
fn machine(profile: &Path) -> Result<KnownMachine, Faults> {
    let choice = ChoiceArgs {
        to: vec!["dxf-cnc".to_owned()],
        set: Vec::new(),
        profile: Some(profile.to_owned()),
    };
    let chosen = settle(&choice, &[])?;
    let options = chosen.first().map(|format| format.options());
    let options: DxfCncOptions = options
        .and_then(|options| serde_json::from_value(options).ok())
        .unwrap_or_default();
    let tools = options.router.tools.iter();
    let mills = tools.filter(|tool| tool.kind == ToolKind::Mill);
    Ok(KnownMachine {
        bed: options.layout.bed,
        mills: mills.map(|tool| tool.diameter).collect(),
    })
}
