//! Why the choice of formats cannot be met.

use crate::batch::{Outcome, Tally};
use crate::choice::Faults;
use crate::console::Console;
use crate::exit::Exit;

/// Reports all that is wrong with it; gives how the program ends.
pub(super) fn report(faults: Faults, console: &mut Console) -> Exit {
    let mut outcome = Outcome::default();
    for problem in &faults.problems {
        outcome.add_problem(problem);
    }
    for (sources, findings) in faults.findings {
        outcome.add_findings(findings, &sources);
    }
    let mut tally = Tally::default();
    tally.report(&outcome, console);
    tally.print(console);
    tally.exit
}
