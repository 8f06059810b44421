//! What it costs and what it weighs, as far as the author gives prices and the weight of stock.

use jigless_model::costs::{CostGroup, CostItem, CostLine, Costs, costs};
use jigless_model::plan::Part;
use jigless_model::sheets::Arrangement;
use jigless_solid::finishing;

use crate::document::context::Context;
use crate::document::model::{Block, Column, Row, Section, Table, plain};
use jigless_words::said;

/// The section; none where the author gives neither a price nor a weight.
pub(super) fn section(context: &Context) -> Option<Section> {
    let mut blocks = bought(context);
    blocks.extend(weighed(context));
    (!blocks.is_empty()).then_some(Section {
        id: "costs",
        title: context.words.costs,
        on_new_page: false,
        blocks,
    })
}

/// A table of what is bought, with its prices; nothing where there is no price at all.
fn bought(context: &Context) -> Vec<Block> {
    let (plan, words) = (context.input.plan, context.words);
    let nothing = Arrangement::default();
    let arrangement = context.input.sheets.unwrap_or(&nothing);
    let workpieces = context.input.workpieces;
    let finishing = finishing(plan, workpieces);
    let costs = costs(plan, workpieces, arrangement, &finishing);
    let Some(total) = costs.total() else {
        return Vec::new();
    };
    let mut rows = Vec::new();
    for (group, name) in CostGroup::ALL.into_iter().zip([
        words.group_material,
        words.group_hardware,
        words.group_finish,
    ]) {
        let own = costs.lines.iter().filter(|line| line.group == group);
        let own: Vec<Row> = own.map(|line| row(context, line)).collect();
        if own.is_empty() {
            continue;
        }
        let sum = costs.total_of(group).map(|sum| context.language.money(sum));
        rows.push(row_of_sum(name, sum.unwrap_or_default()));
        rows.extend(own);
    }
    rows.push(row_of_sum(
        &whole_name(context, &costs),
        context.language.money(total),
    ));
    let title = match &plan.prices.currency {
        Some(currency) => said(words.bought_in, &[currency]),
        None => words.bought.to_owned(),
    };
    vec![
        Block::Heading("bought".to_owned(), title.clone()),
        Block::Table(Table {
            name: title,
            columns: vec![
                Column::numbers(words.count),
                Column::words(words.what),
                Column::numbers(words.each),
                Column::numbers(words.cost),
            ],
            rows,
        }),
    ]
}

fn whole_name(context: &Context, costs: &Costs) -> String {
    match costs.without_price().len() {
        0 => context.words.in_all.to_owned(),
        without => said(context.words.without_price, &[&without.to_string()]),
    }
}

fn row_of_sum(name: &str, sum: String) -> Row {
    Row::of([String::new(), name.to_owned(), String::new(), sum])
}

fn row(context: &Context, line: &CostLine) -> Row {
    let words = context.words;
    let count = match line.unit {
        "litres" => said(words.litres, &[&context.language.decimal(line.count, 2)]),
        _ => context.language.decimal(line.count, 0),
    };
    let each = line.each.map(|each| context.language.price(each));
    let cost = line.cost().map_or_else(
        || words.no_price.to_owned(),
        |sum| context.language.money(sum),
    );
    let what = match &line.item {
        CostItem::Material(label, length, width) => {
            // As the layouts have it, along the grain second.
            format!("{label}, {}", context.size(*width, *length))
        }
        CostItem::Hardware(fitting) => {
            let [what, _] = context.language.things.hardware(fitting.kind);
            let gauge = fitting
                .gauge
                .iter()
                .map(|gauge| context.language.gauge(gauge));
            let length = fitting.length.iter().map(|mm| context.full(*mm));
            let sizes: Vec<String> = gauge.chain(length).collect();
            format!("{what} {}", sizes.join(", ")).trim_end().to_owned()
        }
        CostItem::Finish(title) => title.clone(),
        CostItem::Abrasive(grit) => said(words.grit, &[&grit.to_string()]),
    };
    Row::of([count, what, each.unwrap_or_default(), cost])
}

/// The weight of the whole and of each part, the heaviest first; nothing where no stock has one.
fn weighed(context: &Context) -> Vec<Block> {
    let words = context.words;
    let mut known: Vec<(f64, &Part)> = context
        .parts()
        .zip(&context.weights.pieces)
        .filter_map(|(part, weight)| Some(((*weight)?, part)))
        .collect();
    if known.is_empty() {
        return Vec::new();
    }
    known.sort_by(|a, b| b.0.total_cmp(&a.0));
    let row = |(weight, part): (f64, &Part)| {
        Row::of([
            context.mark(part).to_owned(),
            part.count.to_string(),
            part.title.clone(),
            context.language.aligned(weight, 2),
        ])
        .about(&part.id)
    };
    let mut blocks = vec![Block::Heading(
        "weights".to_owned(),
        words.weights.to_owned(),
    )];
    let lines = context.weight_in_words().into_iter();
    blocks.extend(lines.map(|words| Block::Paragraph(plain(words))));
    blocks.push(Block::Table(Table {
        name: words.weights.to_owned(),
        columns: vec![
            Column::words(words.mark),
            Column::numbers(words.count),
            Column::words(words.part),
            Column::numbers(words.weight),
        ],
        rows: known.into_iter().map(row).collect(),
    }));
    blocks
}
