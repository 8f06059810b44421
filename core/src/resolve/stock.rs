//! Reading the `stock:` section.

use std::sync::Arc;

use super::context::Context;
use super::field::{Field, Shape};
use super::fields::Fields;
use super::spread::repeats;
use crate::diag::Finding;
use crate::load::{Node, Value};
use crate::plan::{Sheet, Stock, StockKind};
use crate::source::{Span, Spanned};

/// The keys of a stock.
pub const STOCK_FIELDS: &[Field] = &[
    Field::optional("label", Shape::Text, "what it is called on paper"),
    Field::optional("nominal", Shape::Size, "thickness as sold"),
    Field::required(
        "thickness",
        Shape::Sizes,
        "measured thickness, which all geometry uses; several readings are averaged",
    ),
    Field::with_default(
        "kind",
        Shape::Word(KIND_WORDS),
        "other",
        "what it is made of",
    ),
    Field::optional("sheets", Shape::Maps(SHEET_FIELDS), "the sheets at hand"),
    Field::optional("density", Shape::Number, "kilograms per cubic metre"),
];

/// The keys of a sheet.
pub const SHEET_FIELDS: &[Field] = &[
    Field::required("width", Shape::Size, "size across the grain"),
    Field::required("height", Shape::Size, "size along the grain"),
    Field::with_default("count", Shape::Count, "1", "how many are at hand"),
];

const KIND_WORDS: &[&str] = &[
    "plywood",
    "mdf",
    "particleboard",
    "osb",
    "hardboard",
    "solid",
    "acrylic",
    "pvc",
    "card",
    "other",
];

pub(super) fn read_stock(
    context: Context,
    id: &Spanned<String>,
    node: &Node,
) -> Option<Arc<Stock>> {
    let what = format!("stock `{}`", id.value);
    let fields = Fields::new(context, &what, id.span, node, STOCK_FIELDS)?;
    let label = fields.text("label");
    let nominal = fields.length("nominal");
    let readings = fields.lengths("thickness");
    let kind = fields.word("kind");
    let sheets = fields.node("sheets").map(|node| read_sheets(&fields, node));
    let density = fields.number("density");
    let readings: Vec<f64> = readings?.iter().map(|reading| reading.value).collect();
    check_readings(context, fields.key_span("thickness"), &readings)?;
    let kind = kind?.value;
    Some(Arc::new(Stock {
        id: id.value.clone(),
        label: label.map_or_else(|| id.value.clone(), |label| label.value),
        nominal: nominal.map(|length| length.value),
        thickness: readings.iter().sum::<f64>() / readings.len() as f64,
        readings,
        kind: StockKind::ALL
            .iter()
            .find(|(word, _)| *word == kind)
            .map_or(StockKind::Other, |(_, kind)| *kind),
        sheets: sheets.flatten().unwrap_or_default(),
        density: density.map(|density| density.value),
        span: id.span,
    }))
}

/// One sheet does not differ by a fifth of its thickness; readings that do are of different sheets, or misread.
const GREATEST_SPREAD: f64 = 0.2;

fn check_readings(context: Context, span: Span, readings: &[f64]) -> Option<()> {
    let least = readings.iter().copied().fold(f64::INFINITY, f64::min);
    let greatest = readings.iter().copied().fold(0.0, f64::max);
    if greatest - least <= GREATEST_SPREAD * greatest {
        return Some(());
    }
    let unit = context.names.unit();
    context.find(
        Finding::error(
            "readings-far-apart",
            span,
            format!(
                "readings of {} and {} are not of one sheet",
                unit.show(least),
                unit.show(greatest)
            ),
        )
        .fix("measure again, or describe two stocks"),
    );
    None
}

fn read_sheets(fields: &Fields, node: &Node) -> Option<Vec<Sheet>> {
    let Value::List(items) = &node.value else {
        fields.wrong(fields.field("sheets"), node);
        return None;
    };
    items
        .iter()
        .map(|item| {
            let sheet = Fields::new(fields.context(), "sheet", item.span, item, SHEET_FIELDS)?;
            let (width, height, count) = (
                sheet.length("width"),
                sheet.length("height"),
                repeats(&sheet),
            );
            Some(Sheet {
                width: width?.value,
                height: height?.value,
                count: count?,
            })
        })
        .collect()
}

/// Tells that a part names a stock that is not there.
pub(crate) fn unknown_stock(context: Context, name: &Spanned<String>, known: &[Arc<Stock>]) {
    let ids = known.iter().map(|stock| stock.id.as_str());
    let fix = if let Some(near) = crate::diag::nearest(&name.value, ids.clone()) {
        format!("did you mean `{near}`?")
    } else if known.is_empty() {
        "describe it under `stock:`".to_owned()
    } else {
        let all: Vec<&str> = ids.collect();
        format!("the stock of this plan is {}", all.join(", "))
    };
    let message = format!(
        "there is no stock `{}`",
        super::context::shortened(&name.value)
    );
    context.find(Finding::error("unknown-stock", name.span, message).fix(fix));
}
