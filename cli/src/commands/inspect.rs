//! `jigless inspect`: what a machine will see in DXF and SVG files.

use jigless_exporters::inspect::inspect;

use crate::args::{InspectArgs, UnitArg};
use crate::console::{self, Console};
use crate::disk::read_plain;
use crate::exit::{Exit, Problem};
use crate::styled::shown;

/// Larger files are no drawings for a machine.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// Reports on every file; a fault in one of them makes the run fail.
pub fn run(args: &InspectArgs, console: &mut Console) -> Exit {
    let mut exit = Exit::Done;
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
            Ok(found) => {
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
