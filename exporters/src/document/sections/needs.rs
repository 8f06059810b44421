//! What is needed: tools by the work in it, sheets and boards, hardware, what is used up.

use jigless_model::hardware::{FittingKind, count};
use jigless_model::plan::{Part, Stock};
use jigless_solid::finishing;

use crate::cutting::summaries;
use crate::document::context::Context;
use crate::document::model::{Block, Column, Inline, Row, Section, Table, plain};
use jigless_words::said;

/// Added to areas for cuts and offcuts where no sheets are listed (common practice, no source).
const WASTE: f64 = 1.15;

/// The section.
pub(super) fn section(context: &Context) -> Section {
    let words = context.words;
    let heading = |id: &str, title: &str| Block::Heading(id.to_owned(), title.to_owned());
    let mut blocks = vec![
        heading("tools", words.tools),
        Block::Paragraph(plain(words.tools_say)),
        Block::Table(tools(context)),
        heading("materials", words.materials),
        Block::Paragraph(plain(words.materials_say)),
        Block::Table(materials(context)),
        heading("hardware", words.hardware),
    ];
    match hardware(context) {
        Some(table) => {
            blocks.push(Block::Paragraph(plain(words.hardware_say)));
            blocks.push(Block::Table(table));
        }
        None => blocks.push(Block::Paragraph(plain(words.no_hardware))),
    }
    blocks.push(heading("consumables", words.consumables));
    blocks.push(Block::List(
        consumables(context).into_iter().map(plain).collect(),
    ));
    Section {
        id: "needs",
        title: words.needs,
        on_new_page: true,
        blocks,
    }
}

/// Each tool with the steps that ask for it, in the order in which they are first needed.
fn tools(context: &Context) -> Table {
    let words = context.words;
    let mut tools: Vec<(&str, Vec<usize>)> = Vec::new();
    for step in &context.steps {
        for tool in &step.tools {
            match tools.iter_mut().find(|(name, _)| name == tool) {
                Some((_, steps)) => steps.push(step.number),
                None => tools.push((tool, vec![step.number])),
            }
        }
    }
    let row = |(tool, steps): (&str, Vec<usize>)| {
        let mut cell = Vec::new();
        for step in steps {
            if !cell.is_empty() {
                cell.push(Inline::Text(", ".to_owned()));
            }
            cell.push(Inline::Anchor(step.to_string(), format!("step-{step}")));
        }
        Row {
            cells: vec![plain(tool), cell],
            part: None,
            tick: true,
        }
    };
    Table {
        name: words.tools.to_owned(),
        columns: vec![Column::words(words.tool), Column::words(words.steps)],
        rows: tools.into_iter().map(row).collect(),
    }
}

fn materials(context: &Context) -> Table {
    let words = context.words;
    let summaries = summaries(&context.input, context.lengths, &context.options.saw);
    let row = |stock: &Stock| {
        let own = summaries.iter().filter(|summary| summary.stock == stock.id);
        let taken: Vec<&str> = own
            .flat_map(|summary| &summary.words)
            .map(String::as_str)
            .collect();
        let taken = if taken.is_empty() {
            area(context, stock)
        } else {
            taken.join(" ")
        };
        // The summary names its stock first, which has a column of its own here.
        let lead = format!("{}: ", stock.label);
        let taken = taken.replace(&lead, "");
        Row::of([
            stock.label.clone(),
            context.thickness(stock.thickness),
            taken,
        ])
        .ticked()
    };
    Table {
        name: words.materials.to_owned(),
        columns: vec![
            Column::words(words.material),
            Column::numbers(words.thickness),
            Column::words(words.what),
        ],
        rows: context.stocks().map(row).collect(),
    }
}

/// The area of a stock of which the plan lists no sheets.
fn area(context: &Context, stock: &Stock) -> String {
    let of_stock = |part: &&Part| part.stock.id == stock.id;
    let area: f64 = context
        .parts()
        .filter(of_stock)
        .map(|part| part.width * part.height * f64::from(part.count))
        .sum();
    said(
        context.words.no_stock_sizes,
        &[&context.language.decimal(area * WASTE / 1e6, 2)],
    )
}

fn hardware(context: &Context) -> Option<Table> {
    let words = context.words;
    let row = |line: &jigless_model::hardware::HardwareLine| {
        let fitting = &line.fitting;
        let [what, _] = context.language.things.hardware(fitting.kind);
        let what = match &fitting.gauge {
            Some(gauge) => format!("{what} {}", context.language.gauge(gauge)),
            None => what.to_owned(),
        };
        let length = fitting.length.map(|mm| context.full(mm));
        let parts: Vec<String> = line
            .parts
            .iter()
            .map(|(part, count)| format!("{} {count}", context.marks.mark(part)))
            .collect();
        Row::of([
            fitting.count.to_string(),
            what,
            length.unwrap_or_default(),
            parts.join(", "),
        ])
        .ticked()
    };
    let lines = count(context.input.workpieces);
    (!lines.is_empty()).then(|| Table {
        name: words.hardware.to_owned(),
        columns: vec![
            Column::numbers(words.count),
            Column::words(words.what),
            Column::words(words.length),
            Column::words(words.part),
        ],
        rows: lines.iter().map(row).collect(),
    })
}

fn consumables(context: &Context) -> Vec<String> {
    let words = context.words;
    let joints = context.input.plan.joints.iter();
    let glued: f64 = joints
        .filter_map(|joint| Some(joint.glue?.length * f64::from(joint.count)))
        .sum();
    let mut all = Vec::new();
    if glued > 0.0 {
        let length = format!("{} m", context.language.decimal(glued / 1000.0, 1));
        all.push(said(words.glue, &[&length]));
    }
    all.push(words.paper_supply.to_owned());
    let plan = context.input.plan;
    if plan.finish.is_empty() {
        all.extend([words.abrasive, words.finish_supply].map(str::to_owned));
    }
    for used in finishing(plan, context.input.workpieces) {
        let entry = &plan.finish[used.entry];
        if !entry.is_bare() {
            all.push(match entry.litres(used.area()) {
                Some(litres) => said(
                    words.litres_of,
                    &[&context.language.decimal(litres, 2), &entry.title],
                ),
                None => said(words.put_on, &[&entry.title]),
            });
        }
        for (grit, times) in entry.sandings() {
            let grit = grit.to_string();
            all.push(match entry.sheets(used.area(), times) {
                Some(sheets) => said(words.sheets_of_grit, &[&sheets.to_string(), &grit]),
                None => said(words.grit, &[&grit]),
            });
        }
    }
    all
}

/// Whether any part takes a piece of hardware of a kind.
pub(super) fn takes(context: &Context, kind: FittingKind) -> bool {
    let lines = count(context.input.workpieces);
    lines.iter().any(|line| line.fitting.kind == kind)
}
