//! What is measured while the piece is made: stock, parts as cut, and whether what is put together is square.

use jigless_model::caution::{Medium, called_for, sentences};
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::mark::Marks;
use jigless_model::units::decimal;
use jigless_solid::weights;
use jigless_steps::{Measured, Rectangle, SeenFrom, rectangles};
use jigless_words::ENGLISH;

use super::options::{ListOptions, ListUnits};
use super::summary::whole_weight;
use super::table::{Cell, artifact, length_cells, length_heads};
use crate::cautions;

/// Measures to take, as text to fill in and as a table.
#[derive(Debug, Clone, Copy)]
pub struct Checklist;

impl Exporter for Checklist {
    type Options = ListOptions;

    fn id(&self) -> &'static str {
        "checklist"
    }

    fn summary(&self) -> &'static str {
        "what to measure while you make it, as text to fill in and as a table: stock, parts as cut, sizes and diagonals of all that is put together"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &ListOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let rectangles = rectangles(input.plan, input.workpieces, &ENGLISH);
        let mut files = vec![Artifact {
            path: "checklist.txt".to_owned(),
            media_type: "text/plain",
            part: None,
            bytes: text(input, options.units, &rectangles).into_bytes(),
        }];
        let rows = table(input, options.units, &rectangles);
        files.extend(artifact(Exporter::id(self), "checklist", &rows)?);
        Ok(files)
    }
}

/// Where a measured number is written.
const BLANK: &str = "________";

fn text(input: &ExportInput, units: ListUnits, rectangles: &[Rectangle]) -> String {
    let plan = input.plan;
    let marks = Marks::of(plan);
    let show = |mm: f64| {
        let all: Vec<String> = units.units().iter().map(|unit| unit.show(mm)).collect();
        all.join(" = ")
    };
    let mut lines = vec![
        plan.title.clone(),
        format!(
            "Measures to take, plan {}",
            plan.digest.get(..12).unwrap_or(&plan.digest)
        ),
        String::new(),
    ];
    let cautions = called_for(plan, input.workpieces, Medium::Whole);
    lines.extend(
        sentences(&cautions)
            .iter()
            .map(|words| format!("! {words}")),
    );
    lines.extend([
        String::new(),
        "Stock, each sheet in three places".to_owned(),
    ]);
    for stock in &plan.stock {
        if input.workpieces.iter().any(|w| w.part.stock.id == stock.id) {
            lines.push(format!(
                "[ ] {}: drawn for {}, measured {BLANK}",
                stock.label,
                show(stock.thickness)
            ));
        }
    }
    lines.extend([
        String::new(),
        "Parts as cut: what is off goes into the plan as `as_cut`, which says what it spoils"
            .to_owned(),
    ]);
    let weights = weights(input.workpieces);
    for (workpiece, weight) in input.workpieces.iter().zip(&weights.pieces) {
        let part = &workpiece.part;
        let weight = weight.map_or_else(String::new, |weight| {
            format!("; weighs {} kg", decimal(weight, 1))
        });
        let count = if part.count > 1 {
            format!(", {} pieces", part.count)
        } else {
            String::new()
        };
        lines.push(format!(
            "[ ] {} {}{count}: width {}, cut {BLANK}; height {}, cut {BLANK}{weight}",
            marks.mark(&part.id),
            part.title,
            show(part.width),
            show(part.height)
        ));
    }
    lines.extend(whole_weight(plan, &weights));
    if !rectangles.is_empty() {
        lines.extend([
            String::new(),
            "Put together, before the glue sets or the last screw is in".to_owned(),
        ]);
    }
    for rectangle in rectangles {
        let group = rectangle.group.as_ref();
        let group = group.map_or_else(String::new, |group| format!("{group}, "));
        let count = if rectangle.count > 1 {
            format!(", {} alike", rectangle.count)
        } else {
            String::new()
        };
        lines.push(format!(
            "[ ] {group}{} seen from {}, {}{count}",
            measured(rectangle.measured),
            rectangle.seen_from.name(),
            rectangle.around.join(", ")
        ));
        lines.push(format!(
            "    width {}, is {BLANK}; {} {}, is {BLANK}",
            show(rectangle.width),
            upward(rectangle),
            show(rectangle.height)
        ));
        lines.push(format!(
            "    both diagonals {}, are {BLANK} and {BLANK}; they may differ by {}",
            show(rectangle.diagonal),
            show(rectangle.most)
        ));
        lines.push(format!("    because {}", rectangle.because));
    }
    lines.push(String::new());
    lines.join("\n")
}

fn measured(measured: Measured) -> &'static str {
    match measured {
        Measured::Outside => "outside",
        Measured::Inside => "opening",
    }
}

/// What the second size is called: a depth where it is seen from above.
fn upward(rectangle: &Rectangle) -> &'static str {
    if rectangle.seen_from == SeenFrom::Above {
        "depth"
    } else {
        "height"
    }
}

fn table(input: &ExportInput, units: ListUnits, rectangles: &[Rectangle]) -> Vec<Vec<Cell>> {
    let marks = Marks::of(input.plan);
    let whole = cautions::cell(&called_for(input.plan, input.workpieces, Medium::Whole));
    let mut heads: Vec<Cell> = ["what", "of", "seen_from", "count"].map(Cell::text).into();
    heads.extend(length_heads(
        units,
        &[
            "width",
            "height",
            "thickness",
            "diagonal",
            "diagonals_differ_most",
        ],
    ));
    heads.extend(
        [
            "measured_1",
            "measured_2",
            "diagonal_1",
            "diagonal_2",
            "because",
            "cautions",
        ]
        .map(Cell::text),
    );
    let blank = || [Cell::Empty, Cell::Empty, Cell::Empty, Cell::Empty];
    let mut rows = vec![heads];
    for stock in &input.plan.stock {
        if !input.workpieces.iter().any(|w| w.part.stock.id == stock.id) {
            continue;
        }
        let mut row = vec![
            Cell::text("stock"),
            Cell::text(&stock.label),
            Cell::Empty,
            Cell::Empty,
        ];
        row.extend(length_cells(
            units,
            &[None, None, Some(stock.thickness), None, None],
        ));
        row.extend(blank());
        row.extend([Cell::text("measured thickness"), Cell::Text(whole.clone())]);
        rows.push(row);
    }
    for workpiece in input.workpieces {
        let part = &workpiece.part;
        let name = format!("{} {}", marks.mark(&part.id), part.title);
        let mut row = vec![
            Cell::text("part"),
            Cell::Text(name),
            Cell::Empty,
            Cell::count(part.count),
        ];
        let sizes = [
            Some(part.width),
            Some(part.height),
            Some(part.thickness()),
            None,
            None,
        ];
        row.extend(length_cells(units, &sizes));
        row.extend(blank());
        row.extend([Cell::text("size as cut"), Cell::Text(whole.clone())]);
        rows.push(row);
    }
    for rectangle in rectangles {
        let group = rectangle.group.as_ref();
        let group = group.map_or_else(String::new, |group| format!("{group}: "));
        let mut row = vec![
            Cell::text(measured(rectangle.measured)),
            Cell::Text(format!("{group}{}", rectangle.around.join("; "))),
            Cell::text(rectangle.seen_from.name()),
            Cell::count(rectangle.count),
        ];
        let sizes = [
            Some(rectangle.width),
            Some(rectangle.height),
            None,
            Some(rectangle.diagonal),
            Some(rectangle.most),
        ];
        row.extend(length_cells(units, &sizes));
        row.extend(blank());
        row.extend([Cell::text(&rectangle.because), Cell::Text(whole.clone())]);
        rows.push(row);
    }
    rows
}
