//! `jigless expand`: a plan with everything that its builders and joints make written out.

use jigless_core::plan::Plan;

use crate::args::ExpandArgs;
use crate::console::Console;
use crate::exit::Exit;
use crate::plans::one_plan_read;

/// Prints the plan as one text.
pub fn run(args: &ExpandArgs, console: &mut Console) -> Exit {
    // A plan that checks refuse is printed all the same: what they found is looked for in it.
    match one_plan_read(&args.plan, console) {
        Ok((plan, exit)) => {
            console.document(&written_out(&plan));
            exit
        }
        Err(exit) => exit,
    }
}

/// What builders worked out stands above as comments, so that the text stays the plan.
fn written_out(plan: &Plan) -> String {
    let workings = plan.workings.iter().map(|line| format!("# {line}\n"));
    workings.chain([plan.expanded.clone()]).collect()
}
