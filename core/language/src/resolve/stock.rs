//! Reading the `stock:` section.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::plan::{CutBy, Movement, Sheet, Stock, StockKind};
use jigless_model::source::{Span, Spanned};

use super::accept::{COMMON_FIELDS, read_acceptances};
use super::context::Context;
use super::field::{Field, Shape};
use super::fields::Fields;
use super::spread::repeats;
use crate::codes;
use crate::load::{Node, Value};

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
    Field::optional(
        "cut_by",
        Shape::Word(&["saw", "router", "laser"]),
        "how its parts are cut out, where safety is to be checked",
    ),
    Field::optional(
        "stiffness",
        Shape::Number,
        "modulus of elasticity along the grain, in GPa; where left out, the lower published value of its kind",
    ),
    Field::optional(
        "movement",
        Shape::Map(MOVEMENT_FIELDS),
        "how solid wood moves across its grain",
    ),
];

/// The keys of `movement`.
pub const MOVEMENT_FIELDS: &[Field] = &[
    Field::optional(
        "species",
        Shape::Word(SPECIES),
        "the species, whose tangential coefficient is then taken",
    ),
    Field::optional(
        "coefficient",
        Shape::Number,
        "change of width for each per cent of moisture, as a fraction of the width: 0.00369",
    ),
    Field::required(
        "made",
        Shape::Number,
        "moisture content when it is made, in per cent",
    ),
    Field::required(
        "driest",
        Shape::Number,
        "least moisture content later, in per cent",
    ),
    Field::required(
        "wettest",
        Shape::Number,
        "greatest moisture content later, in per cent",
    ),
];

/// Tangential coefficients of dimensional change for each per cent of moisture, 6 to 14 % (Wood Handbook, GTR-190,
/// Table 13-5; white fir from memory of the same table).
const TANGENTIAL: &[(&str, f64)] = &[
    ("red oak", 0.003_69),
    ("white oak", 0.003_65),
    ("sugar maple", 0.003_53),
    ("red maple", 0.002_89),
    ("yellow birch", 0.003_38),
    ("paper birch", 0.003_04),
    ("beech", 0.004_31),
    ("white ash", 0.002_74),
    ("black cherry", 0.002_48),
    ("black walnut", 0.002_74),
    ("red alder", 0.002_56),
    ("basswood", 0.003_30),
    ("aspen", 0.002_34),
    ("american elm", 0.003_38),
    ("white fir", 0.002_45),
];

const SPECIES: &[&str] = &[
    "red oak",
    "white oak",
    "sugar maple",
    "red maple",
    "yellow birch",
    "paper birch",
    "beech",
    "white ash",
    "black cherry",
    "black walnut",
    "red alder",
    "basswood",
    "aspen",
    "american elm",
    "white fir",
];

fn read_movement(fields: &Fields) -> Option<Movement> {
    let movement = fields.map("movement")?;
    let coefficient = match movement.exactly_one(&["species", "coefficient"]) {
        Some("coefficient") => movement.number("coefficient").map(|number| number.value),
        Some(_) => movement.word("species").and_then(|species| {
            let found = TANGENTIAL.iter().find(|(name, _)| *name == species.value);
            found.map(|(_, coefficient)| *coefficient)
        }),
        None => None,
    };
    let (made, driest, wettest) = (
        movement.number("made"),
        movement.number("driest"),
        movement.number("wettest"),
    );
    Some(Movement {
        coefficient: coefficient?,
        made: made?.value,
        driest: driest?.value,
        wettest: wettest?.value,
    })
}

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
    let fields = Fields::with_common(context, &what, id.span, node, STOCK_FIELDS, COMMON_FIELDS)?;
    let accepted = read_acceptances(&fields);
    let label = fields.text("label");
    let nominal = fields.length("nominal");
    let readings = fields.lengths("thickness");
    let kind = fields.word("kind");
    let sheets = fields.node("sheets").map(|node| read_sheets(&fields, node));
    let density = fields.number("density");
    let cut_by = if fields.has("cut_by") {
        fields.word("cut_by").map(|word| match word.value {
            "saw" => CutBy::Saw,
            "router" => CutBy::Router,
            _ => CutBy::Laser,
        })
    } else {
        None
    };
    let stiffness = fields.number("stiffness").map(|number| number.value);
    let movement = if fields.has("movement") {
        read_movement(&fields)
    } else {
        None
    };
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
        cut_by,
        stiffness,
        movement,
        accepted,
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
            codes::READINGS_FAR_APART,
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
    let fix = if let Some(near) = jigless_model::diag::nearest(&name.value, ids.clone()) {
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
    context.find(Finding::error(codes::UNKNOWN_STOCK, name.span, message).fix(fix));
}

#[cfg(test)]
mod tests {
    use super::{SPECIES, TANGENTIAL};

    #[test]
    fn every_species_has_its_coefficient() {
        let names: Vec<&str> = TANGENTIAL.iter().map(|(name, _)| *name).collect();
        assert_eq!(names, SPECIES);
    }
}
