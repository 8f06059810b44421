//! `jigless inspect`: what a machine will see in DXF and SVG files.

use jigless_exporters::inspect::inspect;

use crate::args::{InspectArgs, UnitArg};
use crate::console::{self, Console};
use crate::disk::in_words;
use crate::exit::{Exit, Problem};
use crate::styled::shown;

/// Larger files are no drawings for a machine.
const MOST_BYTES: u64 = 256 * 1024 * 1024;

/// Reports on every file; a fault in one of them makes the run fail.
pub fn run(args: &InspectArgs, console: &mut Console) -> Exit {
    let mut exit = Exit::Done;
    for file in &args.files {
        let shown = shown(file);
        let unread = |reason: String| Problem::disk(format!("{shown} cannot be read: {reason}"));
        let bytes = match std::fs::metadata(file).and_then(|data| {
            if data.len() > MOST_BYTES {
                return Err(std::io::Error::other("it is too large for a drawing"));
            }
            std::fs::read(file)
        }) {
            Ok(bytes) => bytes,
            Err(error) => {
                let problem = unread(in_words(&error));
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
