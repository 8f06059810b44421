//! `jigless formats`: what the registry holds, with every option.

use jigless_core::export::{AnyExporter, Stage};

use super::faults;
use crate::args::FormatsArgs;
use crate::choice::{Faults, Setup, unknown_format};
use crate::console::{self, Console};
use crate::exit::Exit;
use crate::page::Page;
use crate::styled::Styled;

const BOLD: anstyle::Style = anstyle::Style::new().bold();

/// Lists all formats, or one.
pub fn run(args: &FormatsArgs, console: &mut Console) -> Exit {
    let setup = match Setup::read(args.profile.as_deref()) {
        Ok(setup) => setup,
        Err(faults) => return faults::report(faults, console),
    };
    if let Some(id) = &args.id
        && !setup.ids().contains(&id.as_str())
    {
        let problem = unknown_format(id, &setup.ids());
        console::problem(&problem);
        return problem.exit;
    }
    let wanted = |id: &str| args.id.as_ref().is_none_or(|wanted| wanted == id);
    match setup.formats(wanted) {
        Ok(formats) => {
            let columns = Page::of_stdout().explanation();
            let mut text = Styled::default();
            for (index, format) in formats.iter().enumerate() {
                text.add(if index == 0 { "" } else { "\n" });
                text.append(&describe(format.exporter, columns));
            }
            console.out_styled(&text);
            Exit::Done
        }
        Err(problems) => faults::report(
            Faults {
                problems,
                ..Faults::default()
            },
            console,
        ),
    }
}

fn describe(exporter: &dyn AnyExporter, columns: usize) -> Styled {
    let id = exporter.id();
    let stage = match exporter.stage() {
        Stage::Part => "files for each part",
        Stage::Plan => "files for the whole plan",
        Stage::Sheet => "files for the sheets of a plan",
    };
    let mut text = Styled::default();
    text.add_in(BOLD, id);
    text.add(&format!(" ({stage})\n"));
    text.add_paragraph("  ", exporter.summary(), columns);
    for option in exporter.options() {
        text.add("\n  ");
        text.add_in(BOLD, &format!("{id}.{}", option.key));
        text.add(&format!("={}\n", option.accepts));
        text.add_paragraph("      ", &option.help, columns);
        text.add_paragraph("      ", &format!("Default: {}", option.default), columns);
    }
    text
}
