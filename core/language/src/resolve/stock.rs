//! Reading the `stock:` section.

use crate::codes;
use std::sync::Arc;

use super::accept::{COMMON_FIELDS, read_acceptances};
use super::context::Context;
use super::fields::Fields;
use super::key_set::KeySet;
use super::key_types::{AtHand, Count, Lenient, Map, Maps, Number, Repeats, Size, Sizes};
use crate::load::Node;
use jigless_model::diag::Finding;
use jigless_model::plan::{CutBy, Movement, Offcut, Stock, StockBoard, StockKind, StockSheet};
use jigless_model::source::{Span, Spanned};

crate::fields! {
    /// The keys of a stock.
    pub struct StockKeys {
        /// what it is called on paper
        label: Lenient<String>,
        /// thickness as sold
        nominal: Lenient<Size>,
        /// measured thickness, which all geometry uses; several readings are averaged
        thickness: Sizes,
        /// what it is made of
        kind: StockKind = "other",
        /// the sheets at hand
        sheets: Lenient<Maps<StockSheet>>,
        /// the lengths of board that its parts are cut from, where it is sold by length
        boards: Lenient<Maps<StockBoard>>,
        /// kilograms per cubic metre
        density: Lenient<Number>,
        /// kilograms per square metre of this thickness, where a data sheet gives that in place of `density`
        weight: Lenient<Spanned<Number>>,
        /// how its parts are cut out, where safety is to be checked
        cut_by: Lenient<CutBy>,
        /// modulus of elasticity along the grain, in GPa; where left out, the lower published value of its kind
        stiffness: Lenient<Number>,
        /// how solid wood moves across its grain
        movement: Lenient<Map<MovementKeys>>,
    }
}

crate::fields! {
    /// The keys of `movement`.
    pub struct MovementKeys {
        /// the species, whose tangential coefficient is then taken
        species: Option<Species>,
        /// change of width for each per cent of moisture, as a fraction of the width: 0.00369
        coefficient: Option<Number>,
        /// moisture content when it is made, in per cent
        made: Number,
        /// least moisture content later, in per cent
        driest: Number,
        /// greatest moisture content later, in per cent
        wettest: Number,
    }
    one of "species", "coefficient";
}

crate::fields! {
    for StockSheet {
        /// size across the grain
        width: Size,
        /// size along the grain
        height: Size,
        /// how many are at hand; 0 where all of them are bought
        count: AtHand = "1",
        /// what one costs, in any currency; sizes with a price can be bought, or the largest where none has one
        price: Option<Number>,
    }
}

crate::fields! {
    for StockBoard {
        /// size along the grain, defects at the ends left out
        length: Size,
        /// size across the grain; where left out, boards can be had as wide as each part
        width: Option<Size>,
        /// how many are at hand
        count: Option<Repeats>,
        /// what one costs, in any currency; lengths with a price can be bought, or every length where none has one
        price: Option<Number>,
    }
}

crate::fields! {
    for Offcut {
        /// the name of its stock; an offcut of a stock that the plan does not have is kept for other plans
        stock: String,
        /// size across the grain
        width: Size,
        /// size along the grain
        height: Size,
        /// measured thickness; where it differs from that of the stock, the offcut is not used
        thickness: Option<Size>,
        /// how many there are
        count: Count = "1",
        /// what it is left over from
        from: Option<String>,
    }
}

jigless_model::words! {
    /// Species whose movement is published.
    pub enum Species {
        /// Red oak.
        RedOak = "red oak",
        /// White oak.
        WhiteOak = "white oak",
        /// Sugar maple.
        SugarMaple = "sugar maple",
        /// Red maple.
        RedMaple = "red maple",
        /// Yellow birch.
        YellowBirch = "yellow birch",
        /// Paper birch.
        PaperBirch = "paper birch",
        /// Beech.
        Beech = "beech",
        /// White ash.
        WhiteAsh = "white ash",
        /// Black cherry.
        BlackCherry = "black cherry",
        /// Black walnut.
        BlackWalnut = "black walnut",
        /// Red alder.
        RedAlder = "red alder",
        /// Basswood.
        Basswood = "basswood",
        /// Aspen.
        Aspen = "aspen",
        /// American elm.
        AmericanElm = "american elm",
        /// White fir.
        WhiteFir = "white fir",
    }
}

crate::key_words!(Species);

impl Species {
    /// Tangential coefficient of dimensional change for each per cent of moisture, 6 to 14 % (Wood Handbook, GTR-190,
    /// Table 13-5; white fir from memory of the same table).
    #[allow(clippy::match_same_arms, reason = "a table, a line for each species")]
    const fn tangential(self) -> f64 {
        match self {
            Species::RedOak => 0.003_69,
            Species::WhiteOak => 0.003_65,
            Species::SugarMaple => 0.003_53,
            Species::RedMaple => 0.002_89,
            Species::YellowBirch => 0.003_38,
            Species::PaperBirch => 0.003_04,
            Species::Beech => 0.004_31,
            Species::WhiteAsh => 0.002_74,
            Species::BlackCherry => 0.002_48,
            Species::BlackWalnut => 0.002_74,
            Species::RedAlder => 0.002_56,
            Species::Basswood => 0.003_30,
            Species::Aspen => 0.002_34,
            Species::AmericanElm => 0.003_38,
            Species::WhiteFir => 0.002_45,
        }
    }
}

pub(super) fn read_stock(
    context: Context,
    id: &Spanned<String>,
    node: &Node,
) -> Option<Arc<Stock>> {
    let what = format!("stock `{}`", id.value);
    let fields = Fields::with_common(
        context,
        &what,
        id.span,
        node,
        StockKeys::FIELDS,
        COMMON_FIELDS,
    )?;
    let accepted = read_acceptances(&fields);
    let keys = StockKeys::read(&fields)?;
    let readings: Vec<f64> = keys.thickness.iter().map(|reading| reading.value).collect();
    check_readings(context, fields.key_span("thickness"), &readings)?;
    if let (Some(_), Some(weight)) = (keys.density, keys.weight) {
        let message = format!("{what} has both `density` and `weight`");
        context.find(
            Finding::error(codes::TOO_MANY_KEYS, weight.span, message)
                .label(fields.key_span("density"), "already given here")
                .fix("keep one of them"),
        );
    }
    let thickness = readings.iter().sum::<f64>() / readings.len() as f64;
    Some(Arc::new(Stock {
        id: id.value.clone(),
        label: keys.label.unwrap_or_else(|| id.value.clone()),
        nominal: keys.nominal,
        thickness,
        readings,
        kind: keys.kind,
        sheets: keys.sheets.unwrap_or_default(),
        boards: keys.boards.unwrap_or_default(),
        offcuts: Vec::new(),
        density: (keys.density).or(keys.weight.map(|weight| weight.value / (thickness * 1e-3))),
        cut_by: keys.cut_by,
        stiffness: keys.stiffness,
        movement: keys.movement.and_then(|movement| {
            let published = movement.species.map(Species::tangential);
            Some(Movement {
                coefficient: movement.coefficient.or(published)?,
                made: movement.made,
                driest: movement.driest,
                wettest: movement.wettest,
            })
        }),
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
