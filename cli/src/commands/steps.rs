//! `jigless steps`: the order of work.

use jigless_core::steps::{in_words, order_of_work};

use crate::args::StepsArgs;
use crate::console::{self, Console};
use crate::exit::{Exit, Problem};
use crate::plans::one_plan;

/// Prints what the formats `steps-text` and `steps-json` write.
pub fn run(args: &StepsArgs, console: &mut Console) -> Exit {
    let (plan, workpieces) = match one_plan(&args.plan, console) {
        Ok(compiled) => compiled,
        Err(exit) => return exit,
    };
    let order = order_of_work(&plan, &workpieces);
    if !args.json {
        console.document(&in_words(&order, plan.units));
        return Exit::Done;
    }
    match serde_json::to_string_pretty(&order) {
        Ok(text) => {
            console.document(&format!("{text}\n"));
            Exit::Done
        }
        Err(error) => {
            let problem = Problem::usage(error.to_string());
            console::problem(&problem);
            problem.exit
        }
    }
}
