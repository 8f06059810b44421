//! `offcuts.yaml`: what is left over once a plan is cut, for the next one.

use std::fmt::Write as _;

use jigless_model::export::Artifact;
use jigless_model::plan::Offcut;
use jigless_model::sheets::{SheetOrigin, StockLayout, micrometres, millimetres};
use jigless_model::units::decimal;
use serde_json::json;

use super::job::{Job, board_jobs, offcut_name, sheet_jobs};

/// The file of what is left over.
pub(super) fn file(job: &Job) -> Artifact {
    Artifact {
        path: "offcuts.yaml".to_owned(),
        media_type: "application/yaml",
        part: None,
        bytes: text(job, &left_over(job)).into_bytes(),
    }
}

/// What lay on the shelf and is not used, then what the sheets and boards of the plan leave.
fn left_over(job: &Job) -> Vec<Offcut> {
    let mut shelf = job.input.plan.offcuts.clone();
    for layout in &job.arrangement.stocks {
        for (size, origin, count) in layout.taken() {
            if origin == SheetOrigin::Leftover {
                take(&mut shelf, layout, size, count);
            }
        }
    }
    shelf.retain(|offcut| offcut.count > 0);
    for layout in &job.arrangement.stocks {
        shelf.extend(rests(job, layout));
    }
    shelf
}

/// Takes some of a size off the shelf.
fn take(shelf: &mut [Offcut], layout: &StockLayout, size: usize, count: u32) {
    let (length, width) = layout.size(size);
    let same = |a: f64, b: f64| micrometres(a) == micrometres(b);
    let mut left = count;
    for offcut in shelf {
        let is_it =
            offcut.is_of(&layout.stock) && same(offcut.width, width) && same(offcut.height, length);
        if is_it {
            let taken = left.min(offcut.count);
            offcut.count -= taken;
            left -= taken;
        }
    }
}

/// What is kept of the sheets and boards of a stock.
fn rests(job: &Job, layout: &StockLayout) -> Vec<Offcut> {
    let plan = job.input.plan;
    let title = match &plan.revision {
        Some(revision) => format!("{} ({revision})", plan.title),
        None => plan.title.clone(),
    };
    let offcut = |width, height, from: String| Offcut {
        stock: layout.stock.id.clone(),
        width: millimetres(width),
        height: millimetres(height),
        thickness: Some(layout.stock.thickness),
        count: 1,
        from: Some(format!("{title}, {from}")),
    };
    let mut rests = Vec::new();
    for sheet in sheet_jobs(layout) {
        for (at, number) in sheet.sheet.offcuts() {
            let from = format!("{} of sheet {}", offcut_name(number), sheet.number);
            rests.push(offcut(at.width, at.height, from));
        }
    }
    for board in board_jobs(layout) {
        if board.rest >= job.keep {
            let from = format!("the rest of board {}", board.number);
            rests.push(offcut(board.problem.width, board.rest, from));
        }
    }
    rests
}

fn text(job: &Job, offcuts: &[Offcut]) -> String {
    let mut text = format!(
        "# What is left over once all sheets and boards of {} are cut, and what lay on the shelf before and was not used.\n\
         # Strike out what you did not keep, measure the others, and move this file to your shelf. The next plan uses them first:\n\
         # jigless export PLAN --offcuts offcuts.yaml\n\
         plan:\n",
        json!(job.input.plan.title)
    );
    if offcuts.is_empty() {
        text.push_str("  offcuts: []\n");
        return text;
    }
    text.push_str("  offcuts:\n");
    for offcut in offcuts {
        let length = |mm: f64| format!("{} mm", decimal(mm, 3));
        let _ = write!(
            text,
            "    - {{stock: {}, width: {}, height: {}",
            json!(offcut.stock),
            length(offcut.width),
            length(offcut.height)
        );
        if let Some(thickness) = offcut.thickness {
            let _ = write!(text, ", thickness: {}", length(thickness));
        }
        let _ = write!(text, ", count: {}", offcut.count);
        if let Some(from) = &offcut.from {
            let _ = write!(text, ", from: {}", json!(from));
        }
        text.push_str("}\n");
    }
    text
}
