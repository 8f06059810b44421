//! `jigless diff`: what changed from one plan to another.

use std::path::{Path, PathBuf};

use jigless_core::compare::{ChangeKind, Comparison, PartChange, compare};
use jigless_core::export::{ExportInput, Stamp};
use jigless_core::units::Unit;
use jigless_core::workpiece::Workpiece;
use jigless_exporters::{SawOptions, overlay, versions};

use crate::args::DiffArgs;
use crate::console::{self, Console};
use crate::exit::Exit;
use crate::keep::write_all;
use crate::plans::one_plan;
use crate::report::counted;

/// Lists the changed parts, and draws them where a folder is given.
pub fn run(args: &DiffArgs, console: &mut Console) -> Exit {
    let (before, after) = match (
        one_plan(&args.before, console),
        one_plan(&args.after, console),
    ) {
        (Ok(before), Ok(after)) => (before, after),
        (Err(one), Err(other)) => return one.max(other),
        (Err(exit), Ok(_)) | (Ok(_), Err(exit)) => return exit,
    };
    let saw = SawOptions::default().settings();
    let changed = compare((&before.0, &before.1), (&after.0, &after.1), &saw);
    console.out(&in_words(&changed));
    let Some(folder) = &args.out else {
        return Exit::Done;
    };
    let drawings = changed.parts.iter();
    let mut drawings: Vec<(PathBuf, Vec<u8>)> = drawings
        .map(|change| draw(folder, change, &before.1, &after.1, after.0.units))
        .collect();
    let stamp = Stamp::new(crate::TOOL, None);
    let ids: Vec<&str> = changed.parts.iter().map(|c| c.part.as_str()).collect();
    let whole = versions(
        &ExportInput::new(&before.0, &before.1, &stamp),
        &ExportInput::new(&after.0, &after.1, &stamp),
        &ids,
    );
    // No part can be called so: ids are letters, digits and hyphens.
    drawings.extend(whole.map(|svg| (folder.join("the whole.svg"), svg.into_bytes())));
    if let Err(problem) = write_all(&drawings, args.force) {
        console::problem(&problem);
        return problem.exit;
    }
    Exit::Done
}

fn in_words(changed: &Comparison) -> String {
    if changed.is_empty() {
        return "nothing changed\n".to_owned();
    }
    let mut text = String::new();
    if !changed.parts.is_empty() {
        text = format!("{} changed\n", counted(changed.parts.len(), "part"));
        text.extend(changed.parts.iter().map(of_part));
    }
    for (what, lines) in [
        ("hardware", &changed.hardware),
        ("sheets and boards", &changed.bought),
        ("cost and weight", &changed.costs),
        ("steps", &changed.steps),
    ] {
        if !lines.is_empty() {
            text.push_str(what);
            text.push_str(" changed\n");
            text.extend(lines.iter().map(|line| format!("{line}\n")));
        }
    }
    text
}

fn of_part(change: &PartChange) -> String {
    let part = &change.part;
    let lines = change.lines.join("; ");
    match change.kind {
        ChangeKind::Added => format!("{part}: new, {lines}\n"),
        ChangeKind::Removed => format!("{part}: gone, {lines}\n"),
        ChangeKind::Changed => format!("{part}: {lines}\n"),
    }
}

fn draw(
    folder: &Path,
    change: &PartChange,
    before: &[Workpiece],
    after: &[Workpiece],
    unit: Unit,
) -> (PathBuf, Vec<u8>) {
    let find = |all: &'_ [Workpiece]| all.iter().position(|w| w.part.id == change.part);
    let was = find(before).map(|index| &before[index]);
    let is = find(after).map(|index| &after[index]);
    let path = folder.join(format!("{}.svg", change.part));
    (path, overlay(was, is, unit).into_bytes())
}
