//! What names in lengths stand for: the plan's values, the thickness of its stock, the size of a part.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};

use jigless_model::check::Catalogue;
use jigless_model::diag::{Finding, Findings, nearest};
use jigless_model::source::{Sources, Span};
use jigless_model::units::Unit;

use super::budget::Budget;
use super::builds::Builds;
use super::context::Context;
use crate::codes;
use crate::length::{Expression, NameFault, Names, Quantity};
use crate::load::{Entry, Node, Value};

/// What a name of the plan is worked out from.
#[derive(Debug, Clone, Copy)]
enum Definition<'a> {
    /// An entry of `values:`.
    Value(&'a Node),
    /// The mean of a stock's readings: `birch18.thickness`.
    Mean(&'a Node),
    /// The greatest of a stock's readings: `birch18.thickest`.
    Greatest(&'a Node),
}

#[derive(Debug, Clone, Copy)]
enum State {
    Working,
    Done(Option<Quantity>),
}

/// The names of a plan, worked out when they are first used.
pub(crate) struct PlanNames<'a> {
    unit: Unit,
    sources: &'a Sources,
    checks: &'a Catalogue,
    findings: &'a RefCell<Findings>,
    budget: &'a Budget,
    definitions: BTreeMap<String, (Definition<'a>, Span)>,
    stock_ids: BTreeSet<String>,
    /// The sizes that the plan itself gives of its parts: `deck.width`.
    part_sizes: BTreeMap<String, PartSize<'a>>,
    /// The sizes of what builders have made so far: `deck.width`, `drawer-1.inside_width`.
    made: RefCell<BTreeMap<String, f64>>,
    builds: Builds<'a>,
    /// The builder that works.
    building: Cell<Option<usize>>,
    /// Whether some of that is missing, because its builder failed.
    lacking: Cell<bool>,
    states: RefCell<BTreeMap<String, State>>,
    /// The names that are being worked out, outermost first: the circle, when one closes.
    working: RefCell<Vec<String>>,
}

impl<'a> PlanNames<'a> {
    pub(crate) fn new(
        unit: Unit,
        sources: &'a Sources,
        checks: &'a Catalogue,
        findings: &'a RefCell<Findings>,
        budget: &'a Budget,
    ) -> Self {
        Self {
            unit,
            sources,
            checks,
            findings,
            budget,
            definitions: BTreeMap::new(),
            stock_ids: BTreeSet::new(),
            part_sizes: BTreeMap::new(),
            made: RefCell::default(),
            builds: Builds::default(),
            building: Cell::new(None),
            lacking: Cell::new(false),
            states: RefCell::default(),
            working: RefCell::default(),
        }
    }

    pub(crate) fn context(&self) -> Context<'_> {
        Context {
            sources: self.sources,
            names: self,
            stocks: &[],
            lengths_sold: &[],
            checks: self.checks,
            findings: self.findings,
            budget: self.budget,
        }
    }

    /// Adds an entry of `values:`.
    pub(crate) fn define(&mut self, name: &str, span: Span, node: &'a Node) {
        if PART_NAMES.contains(&name) || !Expression::is_name(name) {
            let finding = Finding::error(
                codes::BAD_NAME,
                span,
                format!("`{}` cannot name a value", super::context::shortened(name)),
            );
            let fix = if PART_NAMES.contains(&name) {
                format!("`{name}` is the part's own; choose another word")
            } else {
                "use letters, digits and `_`, starting with a letter, and no unit or function"
                    .to_owned()
            };
            self.findings.borrow_mut().push(finding.fix(fix));
            return;
        }
        let new = (Definition::Value(node), span);
        if let Some((_, first)) = self.definitions.get(name) {
            let finding = Finding::error(
                codes::DUPLICATE_KEY,
                span,
                format!("the value `{name}` is given twice"),
            )
            .label(*first, "first given here")
            .fix("keep one of them, or give one another name");
            self.findings.borrow_mut().push(finding);
            return;
        }
        self.definitions.insert(name.to_owned(), new);
    }

    /// Adds a stock and the names of its thickness, if it has one.
    pub(crate) fn define_stock(&mut self, id: &str, thickness: Option<&'a Node>) {
        self.stock_ids.insert(id.to_owned());
        let Some(thickness) = thickness else {
            return;
        };
        let span = thickness.span;
        self.definitions.insert(
            format!("{id}.thickness"),
            (Definition::Mean(thickness), span),
        );
        self.definitions.insert(
            format!("{id}.thickest"),
            (Definition::Greatest(thickness), span),
        );
    }

    /// Adds the sizes that the plan gives of a part.
    pub(crate) fn define_part(&mut self, id: &str, entry: &'a Node) {
        let stock = entry.get("stock").and_then(Node::scalar);
        let stock = stock.map(|scalar| scalar.text.clone());
        for size in ["width", "height"] {
            if let Some(node) = entry.get(size) {
                let own = PartSize {
                    part: id.to_owned(),
                    stock: stock.clone(),
                    node,
                };
                self.part_sizes.insert(format!("{id}.{size}"), own);
            }
        }
    }

    /// Adds the builds, whose parts have sizes once they are made.
    pub(crate) fn define_builds(&mut self, builds: &'a [Entry]) {
        self.builds = Builds::new(builds);
    }

    /// Works out every name, so that faults in values that nothing uses are reported too.
    pub(crate) fn work_out_all(&self) {
        for name in self.definitions.keys() {
            // Faults are reported as they are met; a circle is reported by whoever closes it.
            if let Err(NameFault::New { message, fix }) = self.look_up(name) {
                let span = self.definitions[name].1;
                self.context()
                    .find(Finding::error(codes::BAD_LENGTH, span, message).fix(fix));
            }
        }
    }

    fn work_out(&self, definition: Definition) -> Option<Quantity> {
        let context = self.context();
        match definition {
            Definition::Value(node) => context.quantity_of(node),
            Definition::Mean(node) => {
                let readings = readings(context, node)?;
                let sum: f64 = readings.iter().sum();
                Some(Quantity::length(sum / readings.len() as f64))
            }
            Definition::Greatest(node) => {
                let readings = readings(context, node)?;
                Some(Quantity::length(readings.into_iter().fold(0.0, f64::max)))
            }
        }
    }

    /// A size of something that is not built yet: each needs the other first, or the order is another one.
    fn not_built_yet(&self, name: &str) -> Option<NameFault> {
        let current = self.building.get()?;
        let owner = self.builds.owner(name).filter(|owner| *owner >= current)?;
        let (own, other) = (self.builds.name(current), self.builds.name(owner));
        let Some(way) = self.builds.way(owner, current) else {
            return Some(NameFault::New {
                message: format!("`{name}` is a size of `{other}`, which is built after `{own}`"),
                fix: format!("write `{other}` before `{own}`"),
            });
        };
        let working = self.working.borrow();
        let between = working.iter().map(String::as_str);
        let back = way.iter().map(|number| self.builds.name(*number));
        let circle: Vec<&str> = std::iter::once(own).chain(between).chain(back).collect();
        Some(NameFault::New {
            message: format!(
                "builders use one another's sizes in a circle: {}",
                circle.join(" -> ")
            ),
            fix: "give one of them a length of its own".to_owned(),
        })
    }

    fn unknown(&self, name: &str) -> NameFault {
        if let Some(fault) = self.not_built_yet(name) {
            return fault;
        }
        let made = self.made.borrow();
        let known = self
            .definitions
            .keys()
            .chain(self.part_sizes.keys())
            .chain(made.keys())
            .map(String::as_str)
            .chain(PART_NAMES.iter().copied());
        let fix = match nearest(name, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "add it under `values:`".to_owned(),
        };
        NameFault::New {
            message: format!("there is no value `{name}`"),
            fix,
        }
    }
}

/// A size of a part as the plan gives it.
struct PartSize<'a> {
    part: String,
    stock: Option<String>,
    node: &'a Node,
}

impl PartSize<'_> {
    fn work_out(&self, plan: &PlanNames) -> Option<Quantity> {
        let own = SizeNames { plan, of: self };
        let context = plan.context().with_names(&own);
        let length = context.length_of(self.node)?;
        Some(Quantity::length(length.value))
    }
}

/// The names of a plan as they stand in a size of a part: its other size and its thickness are its own.
struct SizeNames<'a> {
    plan: &'a PlanNames<'a>,
    of: &'a PartSize<'a>,
}

impl Names for SizeNames<'_> {
    fn look_up(&self, name: &str) -> Result<Quantity, NameFault> {
        match (name, &self.of.stock) {
            ("width" | "height", _) => self.plan.look_up(&format!("{}.{name}", self.of.part)),
            ("thickness", Some(stock)) => self.plan.look_up(&format!("{stock}.thickness")),
            _ => self.plan.look_up(name),
        }
    }

    fn unit(&self) -> Unit {
        self.plan.unit
    }
}

/// The names that a part gives.
pub(crate) const PART_NAMES: &[&str] = &["width", "height", "thickness"];

/// One reading of a thickness, or several, in millimetres. Reports nothing here that is not reported where the stock is read.
fn readings(context: Context, node: &Node) -> Option<Vec<f64>> {
    let nodes = match &node.value {
        Value::List(items) if items.is_empty() => return None,
        Value::List(items) => items.as_slice(),
        _ => std::slice::from_ref(node),
    };
    nodes
        .iter()
        .map(|node| context.length_of(node).map(|length| length.value))
        .collect()
}

impl Names for PlanNames<'_> {
    fn look_up(&self, name: &str) -> Result<Quantity, NameFault> {
        let definition = match self.definitions.get(name) {
            Some((definition, _)) => Some(*definition),
            None if self.part_sizes.contains_key(name) => None,
            None => {
                let made = self.made.borrow().get(name).copied();
                if made.is_none() && self.lacking.get() && name.contains('.') {
                    return Err(NameFault::Reported);
                }
                return made.map(Quantity::length).ok_or_else(|| self.unknown(name));
            }
        };
        let state = self.states.borrow().get(name).copied();
        match state {
            Some(State::Done(Some(quantity))) => return Ok(quantity),
            Some(State::Done(None)) => return Err(NameFault::Reported),
            Some(State::Working) => {
                let working = self.working.borrow();
                let start = working.iter().position(|n| n == name).unwrap_or(0);
                let circle: Vec<&str> = working[start..]
                    .iter()
                    .map(String::as_str)
                    .chain([name])
                    .collect();
                return Err(NameFault::New {
                    message: format!(
                        "values use one another in a circle: {}",
                        circle.join(" -> ")
                    ),
                    fix: "give one of them a length of its own".to_owned(),
                });
            }
            None => {}
        }
        // A chain of values as long as the file would otherwise run as deep as the stack.
        if self.working.borrow().len() >= 64 {
            return Err(NameFault::New {
                message: "values use one another more than 64 deep".to_owned(),
                fix: "shorten the chain".to_owned(),
            });
        }
        self.states
            .borrow_mut()
            .insert(name.to_owned(), State::Working);
        self.working.borrow_mut().push(name.to_owned());
        let quantity = match definition {
            Some(definition) => self.work_out(definition),
            None => self.part_sizes[name].work_out(self),
        };
        self.working.borrow_mut().pop();
        self.states
            .borrow_mut()
            .insert(name.to_owned(), State::Done(quantity));
        quantity.ok_or(NameFault::Reported)
    }

    fn unit(&self) -> Unit {
        self.unit
    }

    fn know(&self, name: String, mm: f64) {
        self.made.borrow_mut().insert(name, mm);
    }

    fn building(&self, number: usize) {
        self.building.set(Some(number));
    }

    fn lack(&self) {
        self.lacking.set(true);
    }

    fn describes_stock(&self, id: &str) -> bool {
        self.stock_ids.contains(id)
    }
}

/// The names of a plan and of one of its parts, as far as the part's size is known yet.
#[derive(Clone, Copy)]
pub(crate) struct PartNames<'a> {
    pub(crate) plan: &'a PlanNames<'a>,
    pub(crate) width: Option<f64>,
    pub(crate) height: Option<f64>,
    pub(crate) thickness: Option<f64>,
}

impl Names for PartNames<'_> {
    fn look_up(&self, name: &str) -> Result<Quantity, NameFault> {
        let known = match name {
            "width" => self.width,
            "height" => self.height,
            "thickness" => self.thickness,
            _ => return self.plan.look_up(name),
        };
        known.map(Quantity::length).ok_or(NameFault::Reported)
    }

    fn unit(&self) -> Unit {
        self.plan.unit
    }

    fn describes_stock(&self, id: &str) -> bool {
        self.plan.describes_stock(id)
    }
}
