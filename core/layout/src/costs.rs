//! What sheets and boards cost a layout: what is left over goes before what is at hand, and that before what is bought.

use jigless_model::sheets::SheetOrigin;

/// How much more what is bought costs than what is at hand, for the same amount.
const BOUGHT: f64 = 1000.0;

/// One size: where it comes from, how much there is of it (area or length, at least 1), and its price.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Offer {
    pub(crate) origin: SheetOrigin,
    pub(crate) amount: f64,
    pub(crate) price: Option<f64>,
}

/// The cost of one of each size, in whole units without a common divisor. Where all that can be bought has a price, prices
/// count among them, else amounts.
pub(crate) fn costs(offers: &[Offer]) -> Vec<i64> {
    let bought = || {
        offers
            .iter()
            .filter(|offer| offer.origin == SheetOrigin::ToBuy)
    };
    let prices: Option<Vec<f64>> = bought().map(|offer| offer.price).collect();
    let least = prices
        .iter()
        .flatten()
        .copied()
        .fold(f64::INFINITY, f64::min);
    let smallest = bought()
        .map(|offer| offer.amount)
        .fold(f64::INFINITY, f64::min);
    let cost = |offer: &Offer| {
        let weighed = match (offer.origin, offer.price, &prices) {
            (SheetOrigin::Leftover, ..) => offer.amount,
            (SheetOrigin::AtHand, ..) => 2.0 * offer.amount,
            (SheetOrigin::ToBuy, Some(price), Some(_)) if least > 0.0 => {
                BOUGHT * smallest * price / least
            }
            (SheetOrigin::ToBuy, ..) => BOUGHT * offer.amount,
        };
        weighed.round().max(1.0) as i64
    };
    let costs: Vec<i64> = offers.iter().map(cost).collect();
    let step = costs.iter().copied().fold(0, gcd).max(1);
    costs.into_iter().map(|cost| cost / step).collect()
}

/// The greatest common divisor.
pub(crate) fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { gcd(b, a % b) }
}
