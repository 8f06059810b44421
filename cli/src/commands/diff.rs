//! `jigless diff`: what changed from one plan to another.

use std::path::{Path, PathBuf};

use jigless_core::compare::{ChangeKind, PartChange, compare};
use jigless_core::units::Unit;
use jigless_core::workpiece::Workpiece;
use jigless_exporters::overlay;

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
    let changes = compare((&before.0, &before.1), (&after.0, &after.1));
    let mut text = String::new();
    for change in &changes {
        text.push_str(&in_words(change));
    }
    match changes.len() {
        0 => text.push_str("nothing changed\n"),
        count => text = format!("{} changed\n{text}", counted(count, "part")),
    }
    console.out(&text);
    let Some(folder) = &args.out else {
        return Exit::Done;
    };
    let drawings = changes.iter();
    let drawings: Vec<(PathBuf, Vec<u8>)> = drawings
        .map(|change| draw(folder, change, &before.1, &after.1, after.0.units))
        .collect();
    if let Err(problem) = write_all(&drawings, args.force) {
        console::problem(&problem);
        return problem.exit;
    }
    Exit::Done
}

fn in_words(change: &PartChange) -> String {
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
