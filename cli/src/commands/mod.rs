//! One module for each command.

mod adapt;
mod check;
mod cost;
mod coupon;
mod diff;
mod expand;
mod export;
mod faults;
mod formats;
mod inspect;
mod live;
mod manual;
mod migrate;
mod paperwork;
mod print_check;
mod publish;
mod schema;
mod schema_outside;
mod simulate;
mod start;
mod steps;
mod watch;
mod why;

use crate::args::{Args, Command, SchemaOf};
use crate::console::Console;
use crate::exit::Exit;

/// Does what the command line asks for.
pub fn run(args: &Args) -> Exit {
    let run = match &args.command {
        Command::Export(args) => Some(&args.make.run),
        Command::Check(args) => Some(&args.run),
        Command::Watch(args) => Some(&args.make.run),
        _ => None,
    };
    let mut console = run.map_or_else(Console::default, |run| {
        Console::new(run.quiet, run.findings)
    });
    let exit = match &args.command {
        Command::Export(args) => export::run(args, &mut console),
        Command::Watch(args) => watch::run(args, &mut console),
        Command::Live(args) => live::run(args, &mut console),
        Command::Publish(args) => publish::run(args, &mut console),
        Command::Check(args) => check::run(args, &mut console),
        Command::Manual(args) => manual::run(args, &mut console),
        Command::Completions(args) => paperwork::completions(args, &mut console),
        Command::Man(args) => paperwork::man(args, &mut console),
        Command::Formats(args) => formats::run(args, &mut console),
        Command::Why(args) => why::run(args, &mut console),
        Command::Start(args) => start::run(args, &mut console),
        Command::Expand(args) => expand::run(args, &mut console),
        Command::Steps(args) => steps::run(args, &mut console),
        Command::Diff(args) => diff::run(args, &mut console),
        Command::Cost(args) => cost::run(args, &mut console),
        Command::Adapt(args) => adapt::run(args, &mut console),
        Command::Migrate(args) => migrate::run(args, &mut console),
        Command::Schema(args) => match args.of {
            SchemaOf::Plan => schema::run(&mut console),
            SchemaOf::Outside => schema_outside::run(&mut console),
        },
        Command::PrintCheck(args) => print_check::run(args, &mut console),
        Command::Inspect(args) => inspect::run(args, &mut console),
        Command::Simulate(args) => simulate::run(args, &mut console),
        Command::Coupon(args) => coupon::run(args, &mut console),
    };
    console.finish(exit)
}
