//! `jigless expand`: a plan with everything that its builders and joints make written out.

use super::one_plan;
use crate::args::ExpandArgs;
use crate::console::Console;
use crate::exit::Exit;

/// Prints the plan as one text.
pub fn run(args: &ExpandArgs, console: &mut Console) -> Exit {
    match one_plan(&args.plan, console) {
        Ok((plan, _)) => {
            console.out(&plan.expanded);
            Exit::Done
        }
        Err(exit) => exit,
    }
}
