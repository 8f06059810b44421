//! `jigless cost`: what a plan costs, what is left, and what it weighs.

use jigless_core::compare::compare;
use jigless_core::compile_changed;
use jigless_core::export::{ExportInput, Stamp};
use jigless_core::load::Tree;
use jigless_core::plan::Plan;
use jigless_core::source::Sources;
use jigless_core::swap::swap_stock;
use jigless_core::workpiece::Workpiece;
use jigless_exporters::{SawOptions, summary as in_words};

use crate::args::{CostArgs, StockSwap};
use crate::batch::{Outcome, Tally};
use crate::console::Console;
use crate::disk::{FolderIncludes, read_yaml};
use crate::exit::{Exit, Problem};
use crate::plan_defaults::PlanDefaults;
use crate::plans::{one_plan_with, the_one};
use crate::report::counted;

/// Prints what the format `summary-text` writes, and what is other in the plan or stock that it is held against.
pub fn run(args: &CostArgs, console: &mut Console) -> Exit {
    let profile = args.profile.as_deref();
    let first = match one_plan_with(&args.plan, profile, console) {
        Ok(first) => first,
        Err(exit) => return exit,
    };
    let other = match (&args.compare, &args.compare_stock) {
        (Some(path), _) => one_plan_with(path, profile, console).map(Some),
        (None, Some(swap)) => of_other_stock(args, swap, console).map(Some),
        (None, None) => Ok(None),
    };
    let other = match other {
        Ok(other) => other,
        Err(exit) => return exit,
    };
    console.document(&summary(&first.0, &first.1));
    if let Some(other) = other {
        console.document(&held_against(&first, &other));
    }
    Exit::Done
}

/// The plan with one of its stocks in place of another.
fn of_other_stock(
    args: &CostArgs,
    swap: &StockSwap,
    console: &mut Console,
) -> Result<(Plan, Vec<Workpiece>), Exit> {
    let plan = the_one(&args.plan, console)?;
    let name = plan.file.to_string_lossy();
    let mut tally = Tally::default();
    let read = PlanDefaults::read(args.profile.as_deref()).and_then(|defaults| {
        let bytes = read_yaml(&plan.file)
            .map_err(|reason| Problem::disk(format!("{name} cannot be read: {reason}")))?;
        Ok((defaults, bytes))
    });
    let compiled = read.and_then(|(defaults, bytes)| {
        let includes = FolderIncludes::of_plan(&plan.file);
        let change = |sources: &mut Sources, tree: &mut Tree| {
            // A profile that is no YAML was refused above.
            let _ = defaults.give(sources, tree);
            swap_stock(tree, &swap.stock, &swap.other)
        };
        compile_changed(&name, &bytes, &includes, change).map_err(|(message, fix)| {
            Problem::usage(format!("--compare-stock: {message}")).fix(fix)
        })
    });
    let outcome = match compiled {
        Ok(compiled) => {
            if let Some(result) = compiled.result {
                return Ok(result);
            }
            let mut outcome = Outcome::default();
            outcome.add_findings(compiled.findings, &compiled.sources);
            let message = format!(
                "of `{}` in place of `{}` the plan has errors",
                swap.other, swap.stock
            );
            outcome.add_note(&message, "compare with a stock that it can be made of");
            outcome
        }
        Err(problem) => Outcome::of_problem(&problem),
    };
    tally.report(&outcome, console);
    tally.print(console);
    Err(tally.exit)
}

/// What the format writes with its defaults.
fn summary(plan: &Plan, workpieces: &[Workpiece]) -> String {
    let stamp = Stamp::new(crate::TOOL, None);
    let arrangement = jigless_core::arrange::arrange(workpieces, &SawOptions::default().settings());
    let input = ExportInput::new(plan, workpieces, &stamp).on_sheets(&arrangement);
    in_words(&input)
}

/// What is other: cost, weight, and the parts that have another size.
fn held_against(first: &(Plan, Vec<Workpiece>), other: &(Plan, Vec<Workpiece>)) -> String {
    let saw = SawOptions::default().settings();
    let changed = compare((&first.0, &first.1), (&other.0, &other.1), &saw);
    let mut text = format!("\nHeld against {}\n", other.0.title);
    for lines in [&changed.costs, &changed.bought, &changed.hardware] {
        text.extend(lines.iter().map(|line| format!("  {line}\n")));
    }
    let resized = changed.parts.len();
    if resized > 0 {
        let parts = counted(resized, "part");
        text.extend([format!("  {parts} changed\n")]);
    }
    if changed.is_empty() {
        text.push_str("  nothing is other\n");
    }
    text
}
