//! Reading the `finish:` list, and holding the names of parts in it against the parts that there are.

use jigless_model::diag::Finding;
use jigless_model::finish::{Finish, FinishKind, PartSide};
use jigless_model::plan::Part;
use jigless_model::source::Spanned;

use super::context::Context;
use super::field::Shape;
use super::fields::Fields;
use super::key_set::{KeyType, key_types};
use super::key_types::{Count, Counts, Here, Number, Texts};
use crate::codes;
use crate::usage::unknown_part;

crate::fields! {
    /// The keys of an entry of `finish:`.
    pub struct FinishKeys {
        /// where it stands
        span: Here,
        /// what it is; `bare` leaves its sides as they are, for glue or because they are to stay so
        kind: FinishKind,
        /// what it is called on paper
        title: Option<String>,
        /// the parts that get it; all of them where left out. Of several entries for one side the last one counts
        parts: Option<Texts>,
        /// the sides of these parts, as each lies on its front face; all six where left out
        faces: Option<PartSides>,
        /// how many coats, 30 at most
        coats: Option<Coats>,
        /// square metres that a litre covers once, from the tin; where left out, the area is listed and litres are not
        coverage: Option<Spanned<Number>>,
        /// the same as square feet that a US gallon covers once
        coverage_in_feet: Option<Spanned<Number>>,
        /// grits of abrasive in the order in which they are used
        grits: Option<Counts>,
        /// grit of the abrasive between two coats
        between: Option<Spanned<Count>>,
        /// square metres that a sheet of abrasive sands; where left out, sheets are not counted
        sheet_covers: Option<Number>,
        /// what a litre costs
        price: Option<Number>,
        /// what a sheet of abrasive costs
        sheet_price: Option<Number>,
    }
}

crate::key_words!(FinishKind);

/// No finish of furniture has more coats.
const MOST_COATS: u32 = 30;
/// A coat makes a step or two in every list, page and booklet, which take as long as so many holes.
const COAT_AS_THINGS: usize = 100;

key_types! {
    /// How many coats.
    Coats: Shape::Count => u32, |fields, key| {
        let coats = fields.count(key)?;
        if coats.value > MOST_COATS {
            let message = format!("this asks for {} coats; a finish may have {MOST_COATS}", coats.value);
            let finding = Finding::error(codes::TOO_MANY_REPEATS, coats.span, message);
            fields.context().find(finding.fix("check the number"));
            return None;
        }
        fields.context().charge(coats.value as usize * COAT_AS_THINGS, coats.span)?;
        Some(coats)
    };
    /// One side of a part or several.
    PartSides: Shape::Words(<PartSide as jigless_model::words::Word>::WORDS) => Vec<PartSide>, |fields, key| {
        let sides = fields.words::<PartSide>(key)?;
        let span = fields.node(key).map_or(fields.span, |node| node.span);
        Some(Spanned::new(sides.into_iter().map(|side| side.value).collect(), span))
    };
}

/// Square metres that a litre covers, where a US gallon covers a square foot. A foot is 0.3048 m and a gallon 231 cubic
/// inches, both exactly (NIST Special Publication 811, from memory).
const METRES_PER_LITRE: f64 = 0.304_8 * 0.304_8 / (231.0 * 0.025_4 * 0.025_4 * 0.025_4 * 1000.0);

/// The entries in the order of the plan; what is wrong is reported and left out.
pub(super) fn read_finish(context: Context, entries: Vec<FinishKeys>) -> Vec<Finish> {
    let read = entries.into_iter().map(|keys| finish(context, keys));
    read.collect()
}

fn finish(context: Context, keys: FinishKeys) -> Finish {
    if keys.kind == FinishKind::Bare {
        tell_of_bare(context, &keys);
    }
    let feet = keys.coverage_in_feet;
    if let (Some(one), Some(other)) = (keys.coverage, feet) {
        let message = "`coverage` and `coverage_in_feet` say the same thing twice";
        context.find(
            Finding::error(codes::TOO_MANY_KEYS, other.span, message)
                .label(one.span, "the other one")
                .fix("keep the one that the tin has"),
        );
    }
    Finish {
        kind: keys.kind,
        title: keys.title.unwrap_or_else(|| keys.kind.name().to_owned()),
        parts: keys.parts.unwrap_or_default(),
        faces: keys.faces.unwrap_or_default(),
        coats: keys.coats,
        coverage: keys
            .coverage
            .or(feet.map(|feet| feet.map(|area| area * METRES_PER_LITRE))),
        grits: keys.grits.unwrap_or_default(),
        between: keys.between,
        sheet_covers: keys.sheet_covers,
        price: keys.price,
        sheet_price: keys.sheet_price,
        span: keys.span,
    }
}

/// Bare sides have no coats and nothing between them; they may be sanded.
fn tell_of_bare(context: Context, keys: &FinishKeys) {
    let wet = [
        ("coats", keys.coats.is_some()),
        (
            "coverage",
            keys.coverage.is_some() || keys.coverage_in_feet.is_some(),
        ),
        ("between", keys.between.is_some()),
        ("price", keys.price.is_some()),
    ];
    if let Some((key, _)) = wet.iter().find(|(_, given)| *given) {
        let message = format!("`{key}` says how something is put on, and these sides stay bare");
        context.find(
            Finding::error(codes::COATS_ON_BARE, keys.span, message)
                .fix(format!("take `{key}` out, or name another `kind`")),
        );
    }
}

/// Reports every name of a part that no part has.
pub(super) fn check_names(context: Context, parts: &[Part], finish: &[Finish]) {
    for name in finish.iter().flat_map(|entry| &entry.parts) {
        if !parts.iter().any(|part| part.id == name.value) {
            context.find(unknown_part(
                name,
                parts.iter().map(|part| part.id.as_str()),
            ));
        }
    }
}
