//! What it costs, what is left of the sheets and boards, and what it weighs, on one page.

use jigless_model::caution::{Medium, called_for, sentences};
use jigless_model::costs::{CostGroup, CostLine, Costs, costs};
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::mark::Marks;
use jigless_model::plan::Plan;
use jigless_model::sheets::{Arrangement, Settings, SheetOrigin};
use jigless_model::units::{Unit, decimal};
use jigless_solid::{Weights, finishing, weights};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::saw_options::SawOptions;

/// Costs, rests and weights as text.
#[derive(Debug, Clone, Copy)]
pub struct SummaryText;

/// Options of the summary.
#[derive(Debug, Clone, Default, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct SummaryOptions {
    /// How sheets and boards are sawn.
    #[serde(flatten)]
    pub saw: SawOptions,
}

impl Exporter for SummaryText {
    type Options = SummaryOptions;

    fn id(&self) -> &'static str {
        "summary-text"
    }

    fn summary(&self) -> &'static str {
        "what it costs, what is left of sheets and boards, and what it weighs, as text"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn arranging(&self, options: &SummaryOptions) -> Option<Settings> {
        Some(options.saw.settings())
    }

    fn vet(&self, _: &ExportInput, options: &SummaryOptions) -> jigless_model::diag::Findings {
        let mut findings = jigless_model::diag::Findings::new();
        options.saw.vet(&mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        _: &SummaryOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        Ok(vec![Artifact {
            path: "summary.txt".to_owned(),
            media_type: "text/plain",
            part: None,
            bytes: summary(input).into_bytes(),
        }])
    }
}

/// The whole text, of parts on sheets where they are arranged.
pub fn summary(input: &ExportInput) -> String {
    let plan = input.plan;
    let mut lines = vec![
        plan.title.clone(),
        "What it costs and what it weighs".to_owned(),
    ];
    lines.push(String::new());
    let cautions = called_for(plan, input.workpieces, Medium::Whole);
    lines.extend(
        sentences(&cautions)
            .iter()
            .map(|words| format!("! {words}")),
    );
    let nothing = Arrangement::default();
    let arrangement = input.sheets.unwrap_or(&nothing);
    let finishing = finishing(plan, input.workpieces);
    let costs = costs(plan, input.workpieces, arrangement, &finishing);
    lines.extend(cost_lines(plan, &costs));
    lines.extend(at_hand_lines(plan, arrangement));
    lines.extend(rest_lines(plan, arrangement));
    lines.extend(weight_lines(input, &weights(input.workpieces)));
    lines.push(String::new());
    lines.join("\n")
}

/// A line for each thing that is bought, by group, and the sums.
fn cost_lines(plan: &Plan, costs: &Costs) -> Vec<String> {
    let currency = plan.prices.currency.as_ref();
    let mut lines = vec![
        String::new(),
        match currency {
            Some(currency) => format!("What is bought, in {currency}"),
            None => "What is bought".to_owned(),
        },
    ];
    for group in CostGroup::ALL {
        let own: Vec<&CostLine> = costs
            .lines
            .iter()
            .filter(|line| line.group == group)
            .collect();
        if own.is_empty() {
            continue;
        }
        let sum = costs
            .total_of(group)
            .map_or_else(String::new, |sum| format!(": {}", money(sum)));
        lines.push(format!("  {}{sum}", group.name()));
        lines.extend(
            own.iter()
                .map(|line| format!("    {}", bought(line, plan.units))),
        );
    }
    if costs.lines.is_empty() {
        lines.push("  nothing that the plan lists".to_owned());
    }
    let without = costs.without_price().len();
    lines.extend(costs.total().map(|total| match without {
        0 => format!("  in all {}", money(total)),
        _ => format!(
            "  in all {}, without {without} that have no price",
            money(total)
        ),
    }));
    for stock in unlisted(plan) {
        lines.push(format!(
            "  {stock}: the plan lists no sheets or lengths, so it is not counted"
        ));
    }
    lines
}

/// `2 sheets of Birch plywood, 2440 mm by 1220 mm, each 68: 136`.
fn bought(line: &CostLine, units: Unit) -> String {
    let what = line.item.in_words(units);
    let of = match line.unit {
        "pieces" => format!("{} x {}", decimal(line.count, 0), what),
        unit => {
            let unit = if (line.count - 1.0).abs() < 1e-9 {
                unit.trim_end_matches('s')
            } else {
                unit
            };
            format!("{} {unit} of {}", decimal(line.count, 2), what)
        }
    };
    match (line.each, line.cost()) {
        (Some(each), Some(cost)) => format!("{of}, each {}: {}", decimal(each, 4), money(cost)),
        _ => format!("{of}, no price"),
    }
}

fn money(sum: f64) -> String {
    format!("{sum:.2}")
}

/// Labels of stocks of which the plan does not say what they are sold in.
fn unlisted(plan: &Plan) -> Vec<&str> {
    let without = plan.stock.iter().filter(|stock| {
        stock.sheets.is_empty()
            && stock.boards.is_empty()
            && plan.parts.iter().any(|part| part.stock.id == stock.id)
    });
    without.map(|stock| stock.label.as_str()).collect()
}

/// What is taken of sheets and boards that are there already, and costs nothing.
fn at_hand_lines(plan: &Plan, arrangement: &Arrangement) -> Vec<String> {
    let mut lines = Vec::new();
    for layout in &arrangement.stocks {
        let word = if layout.sheets().is_some() {
            "sheet"
        } else {
            "board"
        };
        for (size, _, count) in layout
            .taken()
            .into_iter()
            .filter(|(_, origin, _)| *origin != SheetOrigin::ToBuy)
        {
            let (length, width) = layout.size(size);
            let ending = if count == 1 { "" } else { "s" };
            lines.push(format!(
                "  at hand: {count} {word}{ending} of {}, {} by {}",
                layout.stock.label,
                plan.units.show(length),
                plan.units.show(width)
            ));
        }
    }
    lines
}

/// Rests that are kept, those of one size together.
fn rest_lines(plan: &Plan, arrangement: &Arrangement) -> Vec<String> {
    let mut lines = vec![String::new(), "What is left and worth keeping".to_owned()];
    let begun = lines.len();
    for layout in &arrangement.stocks {
        let mut rests: Vec<(String, u32)> = Vec::new();
        for (length, width) in layout.rests() {
            let size = format!("{} by {}", plan.units.show(length), plan.units.show(width));
            match rests.iter_mut().find(|(own, _)| *own == size) {
                Some((_, count)) => *count += 1,
                None => rests.push((size, 1)),
            }
        }
        let rests: Vec<String> = rests
            .into_iter()
            .map(|(size, count)| {
                if count == 1 {
                    size
                } else {
                    format!("{count} of {size}")
                }
            })
            .collect();
        if !rests.is_empty() {
            lines.push(format!("  {}: {}", layout.stock.label, rests.join("; ")));
        }
    }
    if lines.len() == begun {
        lines.push("  nothing".to_owned());
    }
    lines
}

/// The whole, and each part, the heaviest first.
fn weight_lines(input: &ExportInput, weights: &Weights) -> Vec<String> {
    let mut lines = vec![String::new(), "What it weighs".to_owned()];
    lines.extend(
        whole_weight(input.plan, weights)
            .into_iter()
            .map(|line| format!("  {line}")),
    );
    let marks = Marks::of(input.plan);
    let mut parts: Vec<(f64, String)> = input
        .workpieces
        .iter()
        .zip(&weights.pieces)
        .filter_map(|(workpiece, weight)| {
            let part = &workpiece.part;
            let each = if part.count > 1 {
                format!(", each of {}", part.count)
            } else {
                String::new()
            };
            let weight = (*weight)?;
            Some((
                weight,
                format!(
                    "  {} {}: {} kg{each}",
                    marks.mark(&part.id),
                    part.title,
                    decimal(weight, 2)
                ),
            ))
        })
        .collect();
    parts.sort_by(|a, b| b.0.total_cmp(&a.0));
    lines.extend(parts.into_iter().map(|(_, line)| line));
    lines
}

/// What the whole weighs, what of it is not known, and who lifts it; nothing where no stock has a weight.
pub(super) fn whole_weight(plan: &Plan, weights: &Weights) -> Vec<String> {
    if weights.pieces.iter().all(Option::is_none) {
        return vec!["The plan does not say what its stock weighs.".to_owned()];
    }
    let whole = decimal(weights.whole, 1);
    let mut lines = vec![format!(
        "All parts together weigh {whole} kg, without hardware, glue and finish."
    )];
    if !weights.unknown.is_empty() {
        lines.push(format!(
            "What {} weighs is not known and not in it.",
            weights.unknown.join(", ")
        ));
    }
    for (alone, people) in weights.people(plan) {
        lines.push(format!(
            "One person lifts {} kg by the plan's own limit: the whole wants {} people, or comes apart before it is carried.",
            decimal(alone, 1),
            decimal(people, 0)
        ));
    }
    lines
}
