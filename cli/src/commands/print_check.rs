//! `jigless print-check`: the sheet that a printer is measured by, and what it measured.

use jigless_core::export::Stamp;
use jigless_exporters::{PdfTemplateOptions, PrinterCorrection, Readings, print_check};

use crate::args::PrintCheckArgs;
use crate::console::{self, Console};
use crate::exit::{Exit, Problem};
use crate::keep::write_all;
use crate::printers::{self, Measured};
use crate::styled::shown;

/// Stores readings, or writes the sheet.
pub fn run(args: &PrintCheckArgs, console: &mut Console) -> Exit {
    let done = match (&args.printer, args.measured) {
        (Some(name), Some(readings)) => store(name, readings, args),
        _ => write(args),
    };
    match done {
        Ok(line) => {
            console.out(&line);
            Exit::Done
        }
        Err(problem) => {
            console::problem(&problem);
            problem.exit
        }
    }
}

fn store(name: &str, readings: Readings, args: &PrintCheckArgs) -> Result<String, Problem> {
    let correction = PrinterCorrection::from_readings(readings).map_err(|fault| {
        Problem::new(Exit::Faulty, fault.to_string()).fix(
            "print the sheet at 100 %, without fit to page or shrink, and measure the bars again",
        )
    })?;
    if correction.looks_fitted() && !args.really {
        let message = "both bars are out by the same share and by more than 0.7 %: that looks like fit to page";
        return Err(Problem::new(Exit::Faulty, message)
            .fix("print at 100 % and measure again; --really keeps it"));
    }
    let measured = Measured {
        correction,
        readings: Some(readings),
        on: args.on.clone(),
    };
    let path = printers::store(name, measured)?;
    let percent = |scale: f64| format!("{:+.2} %", (scale - 1.0) * 100.0);
    Ok(format!(
        "{name}: {} across and {} along the feed, kept in {}\n\
         `jigless print-check --printer \"{name}\"` makes a corrected sheet, whose bars must measure true\n",
        percent(correction.across),
        percent(correction.feed),
        shown(&path)
    ))
}

fn write(args: &PrintCheckArgs) -> Result<String, Problem> {
    let mut options = PdfTemplateOptions {
        paper: args.paper,
        ..PdfTemplateOptions::default()
    };
    if let Some(name) = &args.printer {
        let correction = printers::load(name)?;
        name.trim().clone_into(&mut options.printer);
        options.scale_across = correction.across;
        options.scale_feed = correction.feed;
    }
    let stamp = Stamp::new(crate::TOOL, None);
    let bytes = print_check(&options, &stamp)
        .map_err(|error| Problem::new(Exit::Faulty, error.to_string()))?;
    write_all(&[(args.out.clone(), bytes)], args.force)?;
    let shown = shown(&args.out);
    Ok(format!(
        "{shown} is written; print it at 100 % and measure its bars\n"
    ))
}
