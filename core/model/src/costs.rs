//! What a plan costs: sheets and boards that a layout takes, hardware as it is counted, finish by its area.

use crate::finish::FinishUse;
use crate::hardware::{Fitting, count};
use crate::plan::Plan;
use crate::sheets::{Arrangement, SheetOrigin, StockGoods, StockLayout};
use crate::units::Unit;
use crate::workpiece::Workpiece;

crate::words! {
    /// What a thing that is bought belongs to.
    #[derive(PartialOrd, Ord)]
    pub enum CostGroup {
        /// Sheets and boards.
        Material = "sheets and boards",
        /// Screws, hinges and the like.
        Hardware = "hardware",
        /// What is put on the wood, and what it is sanded with.
        Finish = "finish and abrasive",
    }
}

/// A thing that is bought.
#[derive(Debug, Clone, PartialEq)]
pub enum CostItem {
    /// A sheet or board: what of, its length and its width in millimetres.
    Material(String, f64, f64),
    /// A piece of hardware.
    Hardware(Fitting),
    /// A finish, by its title.
    Finish(String),
    /// A sheet of abrasive, by its grit.
    Abrasive(u32),
}

impl CostItem {
    /// The same in words, in a unit.
    pub fn in_words(&self, units: Unit) -> String {
        match self {
            CostItem::Material(label, length, width) => {
                format!("{label}, {} by {}", units.show(*length), units.show(*width))
            }
            CostItem::Hardware(fitting) => fitting.in_words(units),
            CostItem::Finish(title) => title.clone(),
            CostItem::Abrasive(grit) => format!("abrasive {grit}"),
        }
    }
}

/// What is bought of one thing.
#[derive(Debug, Clone, PartialEq)]
pub struct CostLine {
    /// What it belongs to.
    pub group: CostGroup,
    /// What it is, with its sizes.
    pub item: CostItem,
    /// How much of it is bought.
    pub count: f64,
    /// What `count` counts: `sheets`, `litres`.
    pub unit: &'static str,
    /// The price of one, if the author gives it.
    pub each: Option<f64>,
}

impl CostLine {
    /// What all of it costs.
    pub fn cost(&self) -> Option<f64> {
        self.each.map(|each| each * self.count)
    }
}

/// Everything that is bought.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Costs {
    /// A line for each thing.
    pub lines: Vec<CostLine>,
}

impl Costs {
    /// The sum of what has a price; `None` where nothing has one.
    pub fn total(&self) -> Option<f64> {
        let costs: Vec<f64> = self.lines.iter().filter_map(CostLine::cost).collect();
        (!costs.is_empty()).then(|| costs.iter().sum())
    }

    /// The sum of what has a price in one group.
    pub fn total_of(&self, group: CostGroup) -> Option<f64> {
        let lines = self.lines.iter().filter(|line| line.group == group);
        let lines = lines.cloned().collect();
        Costs { lines }.total()
    }

    /// What has no price.
    pub fn without_price(&self) -> Vec<&CostLine> {
        self.lines
            .iter()
            .filter(|line| line.each.is_none())
            .collect()
    }
}

/// What is bought for some parts of a plan. Sheets and boards that are at hand cost nothing; what the plan does not say how
/// it is sold is not among it.
pub fn costs(
    plan: &Plan,
    workpieces: &[Workpiece],
    arrangement: &Arrangement,
    finishing: &[FinishUse],
) -> Costs {
    let mut lines = Vec::new();
    for layout in &arrangement.stocks {
        for (size, origin, count) in layout.taken() {
            if origin == SheetOrigin::ToBuy {
                lines.push(material(layout, size, count));
            }
        }
    }
    for line in count(workpieces) {
        let fitting = &line.fitting;
        lines.push(CostLine {
            group: CostGroup::Hardware,
            item: CostItem::Hardware(fitting.clone()),
            count: f64::from(fitting.count),
            unit: "pieces",
            each: plan.prices.of(fitting),
        });
    }
    for used in finishing {
        lines.extend(finish(plan, used));
    }
    Costs { lines }
}

fn material(layout: &StockLayout, size: usize, count: u32) -> CostLine {
    let unit = match &layout.goods {
        StockGoods::Sheets(..) => "sheets",
        StockGoods::Boards(..) => "boards",
    };
    let (length, width) = layout.size(size);
    CostLine {
        item: CostItem::Material(layout.stock.label.clone(), length, width),
        group: CostGroup::Material,
        count: f64::from(count),
        unit,
        each: layout.price(size),
    }
}

/// Litres, where coats and coverage are known, and sheets of each grit.
fn finish(plan: &Plan, used: &FinishUse) -> Vec<CostLine> {
    let entry = &plan.finish[used.entry];
    let litres = entry.litres(used.area()).map(|litres| CostLine {
        group: CostGroup::Finish,
        item: CostItem::Finish(entry.title.clone()),
        count: litres,
        unit: "litres",
        each: entry.price,
    });
    let sheets = entry.sandings().into_iter().filter_map(|(grit, times)| {
        Some(CostLine {
            group: CostGroup::Finish,
            item: CostItem::Abrasive(grit),
            count: f64::from(entry.sheets(used.area(), times)?),
            unit: "sheets",
            each: entry.sheet_price,
        })
    });
    litres.into_iter().chain(sheets).collect()
}
