//! The keys at the top of a plan and of what it includes.

use jigless_model::hardware::FittingKind;
use jigless_model::language::Language;
use jigless_model::photograph::Chapter;
use jigless_model::plan::Offcut;
use jigless_model::prices::HardwarePrice;
use jigless_model::source::Spanned;
use jigless_model::units::Unit;

use super::field::Shape;
use super::fields::Fields;
use super::finish::FinishKeys;
use super::key_set::{KeyType, key_types};
use super::key_types::{
    Count, Distance, Here, Lenient, Map, Maps, Number, Size, Sizes, Texts, Unread,
};

crate::fields! {
    /// The unit of a plan, without which nothing else of it can be read.
    pub struct UnitKeys {
        /// unit of bare numbers
        units: Spanned<Unit>,
    }
}

crate::fields! {
    /// The first keys of a plan file, which need no unit.
    pub struct HeadKeys {
        /// version of the plan language; marks the file as a plan
        _version as "jigless": Count,
        /// what the plan is called
        title: String,
        /// printed on every page and file
        revision: Lenient<String>,
        /// printed on the cover
        licence: Lenient<String>,
        /// who made the plan; printed on the cover
        author: Lenient<String>,
        /// the unit
        _units: UnitKeys,
    }
}

crate::fields! {
    /// The keys of a plan file.
    pub struct PlanKeys {
        /// the first keys
        _head: HeadKeys,
        /// files below the plan's folder that add values, stock and parts
        _include as "include": Option<Unread<Texts>>,
        /// named values for lengths
        _values as "values": Option<Values>,
        /// sheet goods and boards
        _stock as "stock": Stocks,
        /// what builders make: a name, and under it one builder with its keys
        _builds as "builds": Option<Builds>,
        /// the parts, unless `builds` makes them all
        _parts as "parts": Parts,
        /// diameters of the router bits at hand; inside corners are held against the smallest
        tools: Lenient<Sizes>,
        /// lengths of screws that can be had, for joints and builders; the usual ones where nothing is said
        lengths_sold: Lenient<Sizes> [CommonPractice],
        /// what the parts do together, for the checks: doors on sides, drawers in openings, shelves under load
        _usage as "usage": Option<Usages>,
        /// the room that the whole is made for: it stands on the floor and against the back wall, and must open there
        space: Lenient<Map<SpaceKeys>>,
        /// what is put on the wood once it is made: oil, varnish, paint, and what stays bare
        finish: Lenient<Maps<FinishKeys>>,
        /// what things cost, in one currency; sheets, boards and finishes have their price with them
        prices: Lenient<Map<PriceKeys>>,
        /// what is left over from earlier work, and is used before sheets and boards; see `jigless export --offcuts`
        offcuts: Lenient<Maps<Offcut>>,
        /// severities and limits of checks in this plan
        _checks as "checks": Option<Checks>,
        /// what holds the parts together, a line for each: `- butt: {part: shelf, to: side}`
        _joints as "joints": Option<Joints>,
        /// the parts that are put together first, in order; the others follow as their joints ask
        _order as "order": Option<Unread<Texts>>,
        /// what is said of the steps of the work: other titles, more to do, another place, steps of your own
        steps: Lenient<Maps<StepKeys>>,
        /// language of booklet and page, unless an option names another
        language: Lenient<Language>,
        /// photographs of yours, in booklet and page
        photographs: Lenient<Maps<PhotographKeys>>,
        /// what the author says before everything else, in Markdown: a heading, paragraph or entry of a list each, with
        /// emphasis and links
        introduction: Lenient<Texts>,
        /// the revisions so far, the latest first, each with what changed
        revisions: Lenient<Maps<RevisionKeys>>,
    }
}

crate::fields! {
    /// The keys of an included file.
    pub struct IncludeKeys {
        /// must be the plan's own, if given
        units: Lenient<Spanned<Unit>>,
        /// joints
        _joints as "joints": Option<Joints>,
        /// named values for lengths
        _values as "values": Option<Values>,
        /// sheet goods and boards
        _stock as "stock": Option<Stocks>,
        /// what builders make
        _builds as "builds": Option<Builds>,
        /// parts
        _parts as "parts": Option<Parts>,
        /// what the parts do together
        _usage as "usage": Option<Usages>,
    }
}

crate::fields! {
    /// The keys of `space:`.
    pub struct SpaceKeys {
        /// from the left wall to the right one
        width: Spanned<Size>,
        /// from the floor to the ceiling
        height: Spanned<Size>,
        /// from the back wall to what stands opposite
        depth: Spanned<Size>,
        /// from the left wall to the whole; it stands in the middle where nothing is said
        left: Option<Distance>,
    }
}

crate::fields! {
    /// The keys of an entry of `photographs:`.
    pub struct PhotographKeys {
        /// its file, JPEG or PNG, in the plan's folder or below it
        file: Spanned<String>,
        /// what it shows, for who does not see it
        shows: String,
        /// what stands under it
        caption: Option<String>,
        /// the section at whose end it stands; the introduction where nothing is said
        section: Option<Chapter>,
        /// the name of the step at whose end it stands instead, as `jigless steps` prints it
        step: Option<Spanned<String>>,
    }
}

crate::fields! {
    /// The keys of an entry of `revisions:`.
    pub struct RevisionKeys {
        /// the revision, as `revision` gives it
        revision: String,
        /// what changed, a change a line
        changed: Texts,
    }
}

crate::fields! {
    /// The keys of an entry of `steps:`.
    pub struct StepKeys {
        /// the name of the step, as `jigless steps` prints it; or a name of your own, with `after`
        step: Spanned<String>,
        /// what it is called
        title: Option<String>,
        /// what is done besides, an act a line
        text: Option<Texts>,
        /// the name of the step that it follows
        after: Option<Spanned<String>>,
    }
}

crate::fields! {
    /// The keys of `prices:`.
    pub struct PriceKeys {
        /// what all prices of the plan are in, in a word of your own
        currency: Option<String>,
        /// what one of a kind of hardware costs; of several lines for a thing the one that says the most counts
        hardware: Maps<HardwarePrice>,
    }
}

crate::fields! {
    for HardwarePrice {
        span: Here,
        /// what it is
        kind as "what": FittingKind,
        /// its length; of every length where left out
        length: Option<Size>,
        /// its gauge or diameter, as it is sold; of every one where left out
        gauge: Option<String>,
        /// the price of one
        price: Number,
    }
}

/// What is read entry by entry, elsewhere.
fn elsewhere(fields: &Fields, key: &'static str) -> Option<Spanned<()>> {
    let node = fields.required_node(key)?;
    Some(Spanned::new((), node.span))
}

key_types! {
    /// Named values: a map of names to lengths and numbers.
    Values: Shape::Values => (), elsewhere;
    /// Named stock.
    Stocks: Shape::Stocks => (), elsewhere;
    /// Named things that builders make.
    Builds: Shape::Builds => (), elsewhere;
    /// Named parts; where builders make them all there may be none.
    Parts: Shape::Parts => (), |fields, key| {
        if fields.has("builds") {
            return Some(Spanned::new((), fields.span));
        }
        elsewhere(fields, key)
    };
    /// What the parts do together.
    Usages: Shape::Usage => (), elsewhere;
    /// What the plan sets of the checks.
    Checks: Shape::Checks => (), elsewhere;
    /// A list of joints.
    Joints: Shape::Joints => (), elsewhere;
}
