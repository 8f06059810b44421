//! The tree of a plan to a [`Plan`]: values worked out, includes joined, handed pairs and features read.

mod accept;
mod budget;
mod builds;
mod context;
mod document;
mod features;
mod field;
mod fields;
mod finish;
mod id;
mod key_set;
mod key_types;
mod keys;
mod names;
mod part;
mod place;
mod placement;
mod sides;
mod spread;
mod stock;
mod usage;

pub use accept::{ACCEPT, COMMON_FIELDS, check_fields};
pub use budget::{Budget, most_parts, most_things};
pub use context::{Context, MAX_LENGTH, MIN_SIZE};
pub(crate) use document::digest;
pub use features::PairKeys;
pub use field::{Field, Need, Shape};
pub use fields::Fields;
pub use finish::FinishKeys;
pub use jigless_model::frame::Frame;
pub use jigless_model::provenance::Source;
pub use jigless_model::source::Spanned;
pub use jigless_model::words::Word;
pub(crate) use key_set::key_types;
pub use key_set::{Declared, KeySet, KeyType};
pub use key_types::{
    Corners, Count, Degrees, Distance, Edges, Here, Length, Lenient, MAX_REPEATS, Map, Maps,
    Number, Repeats, Size, Sizes, Texts, TrueFalse, Unread, Written, YesNo, checked_repeats,
};
pub use keys::{
    HeadKeys, IncludeKeys, PhotographKeys, PlanKeys, PriceKeys, RevisionKeys, StepKeys, UnitKeys,
};
pub(crate) use part::Header;
pub use part::{Labels, PartKeys};
pub use place::{EdgeDistances, Place, Step};
pub use placement::{PlacementKeys, Placements};
pub use spread::{Spread, SpreadKeys};
pub use stock::{MovementKeys, Species, StockKeys};

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use jigless_model::check::Catalogue;
use jigless_model::diag::{Finding, Findings, nearest};
use jigless_model::finish::Finish;
use jigless_model::language::Language;
use jigless_model::photograph::{Chapter, Photograph, PhotographPlace};
use jigless_model::plan::{Offcut, Part, Plan, Revision, Stock};
use jigless_model::prices::Prices;
use jigless_model::source::{Sources, Span};
use jigless_model::space::Space;
use jigless_model::units::Unit;
use jigless_model::whole::StepNote;

use crate::build;
use crate::codes;
use crate::feature::Registry;
use crate::joint;
use crate::load::{Entry, Node, Tree};
use crate::order;
use document::Document;
use names::PlanNames;

/// The version of the plan language that is read.
const VERSION: u32 = 1;

/// Resolves a tree. The plan is `None` when nothing usable came of it; the findings say why.
pub fn resolve(
    sources: &Sources,
    tree: &Tree,
    registry: &Registry,
    checks: &Catalogue,
) -> (Option<Plan>, Findings) {
    let findings = RefCell::new(Findings::new());
    let length = sources.files().map(|(_, file)| file.text.len()).sum();
    let budget = Budget::new(length);
    let plan = resolve_tree(sources, tree, registry, checks, &findings, &budget);
    (plan, findings.into_inner())
}

fn resolve_tree(
    sources: &Sources,
    tree: &Tree,
    registry: &Registry,
    checks: &Catalogue,
    findings: &RefCell<Findings>,
    budget: &Budget,
) -> Option<Plan> {
    let start = Span {
        end: tree.main.span.start,
        ..tree.main.span
    };
    let bootstrap = PlanNames::new(Unit::Millimetre, sources, checks, findings, budget);
    let head = Fields::new(
        bootstrap.context(),
        "a plan",
        start,
        &tree.main,
        PlanKeys::FIELDS,
    )?;
    check_version(&head)?;
    let keys = HeadKeys::read(&head);
    let units = UnitKeys::read(&head)?.units;
    check_included(&bootstrap, tree, units)?;
    let mut document = Document::new(&bootstrap, tree);
    let mut names = PlanNames::new(units.value, sources, checks, findings, budget);
    define_all(
        &mut names,
        &document.values,
        &document.stock,
        &document.parts,
    );
    names.define_builds(&document.builds);
    names.work_out_all();
    let mut stock = read_stocks(&names, &document.stock);
    let head = head.against(&names);
    let top = Top::read(&head);
    give_offcuts(&mut stock, &top.offcuts);
    let context = names.context().with_lengths_sold(&top.sold);
    let built = build::run(context.with_stocks(&stock), &document.builds);
    if budget.is_broken() {
        return None;
    }
    let complete = built.failed.is_empty();
    let mut entries = merged(built.parts, &document.parts, complete);
    let headers = entries
        .iter()
        .map(|entry| part::read_header(&names, entry, &stock))
        .collect::<Vec<_>>();
    let mut joint_nodes = built.joints;
    joint_nodes.append(&mut document.joints);
    let read: Vec<&Header> = headers.iter().flatten().collect();
    let (made, joints) = joint::run(context, &joint_nodes, &read, complete);
    joint::apply(names.context(), &mut entries, &made);
    let mut parts = read_parts(&names, headers, &entries, registry);
    sides::name_sides(&mut parts);
    // Working out the order holds each part against each that is joined and each screw.
    let screws: usize = joints.iter().map(|joint| joint.screws.len()).sum();
    let looks = parts.len() * (joints.len() + screws);
    let _ = names
        .context()
        .charge(looks / 2000, head.key_span("joints"));
    // What was left out then would only give more findings.
    if budget.is_broken() {
        return None;
    }
    let given = read_order(names.context(), &document.order, &parts, complete);
    let steps = order::order(&parts.iter().collect::<Vec<_>>(), &joints, &given);
    if parts.is_empty() && !findings.borrow().has_errors() {
        tell_no_parts(&names, head.key_span("parts"));
    }
    let settings = accept::read_settings(&head);
    let usage = usage::read_usage(names.context(), &document.usage);
    if complete {
        usage::check_references(names.context(), &parts, &usage);
        finish::check_names(names.context(), &parts, &top.finish);
    }

    drop(names);
    let keys = keys?;
    document.builds.clear();
    document.parts = entries;
    document.joints = joint_nodes.iter().map(joint::written_out).collect();

    let expanded = document.to_text();
    Some(Plan {
        tools: top.tools,
        checks: settings,
        usage,
        space: top.space,
        finish: top.finish,
        prices: top.prices,
        offcuts: top.offcuts,
        sources: sources.clone(),
        title: keys.title,
        revision: keys.revision,
        licence: keys.licence,
        author: keys.author,
        language: top.language,
        photographs: top.photographs,
        introduction: top.introduction,
        revisions: top.revisions,
        units: units.value,
        stock,
        parts: parts.into_iter().map(Arc::new).collect(),
        joints,
        order: steps,
        step_notes: top.step_notes,
        workings: built.workings,
        digest: digest(expanded.as_bytes()),
        expanded,
    })
}

fn tell_no_parts(names: &PlanNames, span: Span) {
    let finding = Finding::error(codes::NO_PARTS, span, "the plan has no parts");
    names
        .context()
        .find(finding.fix("add a part under `parts:`"));
}

/// The parts of a plan as they are listed, over those that builders made.
fn merged(built: Vec<Entry>, listed: &[Entry], complete: bool) -> Vec<Entry> {
    // A part that only changes what a builder makes says nothing where that builder failed.
    let whole = |entry: &&Entry| complete || entry.value.get("stock").is_some();
    let own: Vec<Entry> = listed.iter().filter(whole).cloned().collect();
    build::merge::merge(built, &own)
}

/// Gives the names of values, of the thickness of stock and of the sizes of parts.
fn define_all<'a>(
    names: &mut PlanNames<'a>,
    values: &'a [Entry],
    stock: &'a [Entry],
    parts: &'a [Entry],
) {
    for entry in values {
        names.define(&entry.key.value, entry.key.span, &entry.value);
    }
    for entry in stock {
        names.define_stock(&entry.key.value, entry.value.get("thickness"));
    }
    for entry in parts {
        names.define_part(&entry.key.value, &entry.value);
    }
}

/// What the keys at the top say, without those that are read section by section.
struct Top {
    tools: Vec<Spanned<f64>>,
    /// Lengths of screws, in millimetres.
    sold: Vec<f64>,
    step_notes: Vec<StepNote>,
    language: Option<Language>,
    photographs: Vec<Photograph>,
    introduction: Vec<String>,
    revisions: Vec<Revision>,
    space: Option<Space>,
    finish: Vec<Finish>,
    prices: Prices,
    offcuts: Vec<Offcut>,
}

impl Top {
    /// Reads them; what is wrong is reported and left out.
    fn read(head: &Fields) -> Self {
        let span = head.key_span("space");
        let Some(keys) = PlanKeys::read(head) else {
            return Self {
                tools: Vec::new(),
                sold: Vec::new(),
                step_notes: Vec::new(),
                language: None,
                photographs: Vec::new(),
                introduction: Vec::new(),
                revisions: Vec::new(),
                space: None,
                finish: Vec::new(),
                prices: Prices::default(),
                offcuts: Vec::new(),
            };
        };
        let sold = keys.lengths_sold.into_iter().flatten();
        Self {
            tools: keys.tools.unwrap_or_default(),
            sold: sold.map(|size| size.value).collect(),
            step_notes: keys.steps.into_iter().flatten().map(step_note).collect(),
            language: keys.language,
            photographs: keys
                .photographs
                .into_iter()
                .flatten()
                .map(|keys| photograph(head.context(), keys))
                .collect(),
            introduction: lines(keys.introduction),
            revisions: keys.revisions.into_iter().flatten().map(revision).collect(),
            space: keys.space.map(|keys| Space {
                width: keys.width,
                height: keys.height,
                depth: keys.depth,
                left: keys.left,
                span,
            }),
            finish: finish::read_finish(head.context(), keys.finish.unwrap_or_default()),
            offcuts: keys.offcuts.unwrap_or_default(),
            prices: keys.prices.map_or_else(Prices::default, |keys| Prices {
                currency: keys.currency,
                hardware: keys.hardware,
            }),
        }
    }
}

/// Hands each stock what is left over of it.
fn give_offcuts(stocks: &mut [Arc<Stock>], offcuts: &[Offcut]) {
    for stock in stocks {
        let own = offcuts.iter().filter(|offcut| offcut.is_of(stock));
        let own: Vec<Offcut> = own.cloned().collect();
        Arc::make_mut(stock).offcuts = own;
    }
}

fn photograph(context: Context, keys: PhotographKeys) -> Photograph {
    if let (Some(_), Some(step)) = (keys.section, &keys.step) {
        let message = "`section` and `step` both say where it stands";
        context
            .find(Finding::error(codes::TOO_MANY_KEYS, step.span, message).fix("keep one of them"));
    }
    Photograph {
        file: keys.file,
        shows: keys.shows,
        caption: keys.caption,
        place: match keys.step {
            Some(step) => PhotographPlace::Step(step),
            None => PhotographPlace::Chapter(keys.section.unwrap_or(Chapter::Introduction)),
        },
        picture: None,
    }
}

fn revision(keys: RevisionKeys) -> Revision {
    Revision {
        revision: keys.revision,
        changed: lines(Some(keys.changed)),
    }
}

fn lines(texts: Option<Vec<Spanned<String>>>) -> Vec<String> {
    let texts = texts.into_iter().flatten();
    texts.map(|line| line.value).collect()
}

fn step_note(keys: StepKeys) -> StepNote {
    StepNote {
        step: keys.step,
        title: keys.title,
        text: lines(keys.text),
        after: keys.after,
    }
}

/// Reports keys that an included file must not have, and of another unit than the plan's.
fn check_included(bootstrap: &PlanNames, tree: &Tree, plan: Spanned<Unit>) -> Option<()> {
    let context = bootstrap.context();
    for node in &tree.included {
        let start = Span {
            end: node.span.start,
            ..node.span
        };
        let what = "an included file";
        let fields = Fields::new(context, what, start, node, IncludeKeys::FIELDS)?;
        let own = IncludeKeys::read(&fields).and_then(|keys| keys.units);
        let Some(own) = own.filter(|own| own.value != plan.value) else {
            continue;
        };
        let (here, there) = (own.value.name(), plan.value.name());
        let message = format!("this file has `{here}`, the plan that includes it `{there}`");
        context.find(
            Finding::error(codes::OTHER_UNITS, own.span, message)
                .label(plan.span, "the plan's unit")
                .fix("write the lengths of this file in the plan's unit, or give each its unit"),
        );
    }
    Some(())
}

fn check_version(head: &Fields) -> Option<()> {
    let version = head.count("jigless")?;
    if version.value == VERSION {
        return Some(());
    }
    head.context().find(
        Finding::error(
            codes::UNKNOWN_VERSION,
            version.span,
            format!(
                "this plan is written in version {} of the plan language",
                version.value
            ),
        )
        .fix(format!(
            "this program reads version {VERSION}; get a newer one, or write `jigless: {VERSION}`"
        )),
    );
    None
}

fn read_stocks(names: &PlanNames, entries: &[Entry]) -> Vec<Arc<Stock>> {
    let context = names.context();
    let mut stocks: Vec<Arc<Stock>> = Vec::new();
    for entry in entries {
        if !id::check_stock_id(context, &entry.key.value, entry.key.span) {
            continue;
        }
        if let Some(first) = stocks.iter().find(|stock| stock.id == entry.key.value) {
            context.find(
                Finding::error(
                    codes::DUPLICATE_KEY,
                    entry.key.span,
                    format!("the stock `{}` is described twice", entry.key.value),
                )
                .label(first.span, "first described here")
                .fix("keep one of them"),
            );
            continue;
        }
        stocks.extend(stock::read_stock(context, &entry.key, &entry.value));
    }
    stocks
}

fn read_parts<'a>(
    names: &'a PlanNames<'a>,
    headers: Vec<Option<Header>>,
    entries: &'a [Entry],
    registry: &Registry,
) -> Vec<Part> {
    let mut parts: Vec<Part> = Vec::new();
    let mut first_of: BTreeMap<String, Span> = BTreeMap::new();
    for (header, entry) in headers.into_iter().zip(entries) {
        let read = header.and_then(|header| part::read_part(names, header, entry, registry));
        for part in read.unwrap_or_default() {
            if let Some(first) = first_of.get(&part.id) {
                names.context().find(
                    Finding::error(
                        codes::DUPLICATE_PART,
                        part.span,
                        format!("there are two parts called `{}`", part.id),
                    )
                    .label(*first, "the first one")
                    .fix("give one of them another name"),
                );
                continue;
            }
            first_of.insert(part.id.clone(), part.span);
            parts.push(part);
        }
    }
    parts
}

fn read_order(context: Context, items: &[Node], parts: &[Part], complete: bool) -> Vec<String> {
    let mut ids = Vec::new();
    for item in items {
        let name = item.scalar().map_or("", |scalar| scalar.text.as_str());
        if parts.iter().any(|part| part.id == name) {
            ids.push(name.to_owned());
            continue;
        }
        if !complete {
            continue;
        }
        let known = parts.iter().map(|part| part.id.as_str());
        context.find(
            Finding::error(
                codes::UNKNOWN_PART,
                item.span,
                format!("there is no part `{}`", context::shortened(name)),
            )
            .fix(match nearest(name, known) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "write the name of a part".to_owned(),
            }),
        );
    }
    ids
}
