//! Sheets that straight cuts take apart.
//!
//! | file | does |
//! |---|---|
//! | `task` | a problem as the search sees it: sizes grown by the kerf, costs that put what is at hand first |
//! | `search` | ruin and recreate towards a goal |
//! | `tree` | one sheet of it |
//! | `groups` | the same for some sheets at a time, for long lists |
//! | `limit` | which first cuts one person can handle |
//! | `bound` | how few sheets can do |
//! | `last_sheet` | gathers what does not fill a sheet, so that the offcut is large |
//! | `finish` | from the search's trees to cut trees: order of strips, breaking down, offcuts |

mod bound;
mod finish;
mod groups;
mod last_sheet;
mod limit;
mod search;
mod task;
mod tree;

use jigless_model::sheets::{Effort, SheetAnswer, SheetProblem};

use finish::{Finished, finish};
use search::{Item, Layout, MANNER, Search};

pub(crate) use search::{Task, cheapest_cut};
pub(crate) use task::Prepared;

/// What part of the work goes into the last sheet, each way.
const LAST_SHEET_PART: u64 = 40;

/// What part goes into what is nearest to one sheet fewer where fewer are proved not to do.
const NEAREST_PART: u64 = 10;

/// What part goes into groups of sheets where the list is long.
const GROUPS_PART: (u64, u64) = (4, 5);

/// After so much work in vain the search begins again from the best layout.
const ROUND: u64 = 150_000_000;

/// Lays out the pieces of a problem. The same problem gives the same answer.
pub fn cut_sheets(problem: &SheetProblem) -> SheetAnswer {
    answer(&Prepared::new(problem))
}

/// Lays out the pieces of a problem that is made ready.
pub(crate) fn answer(prepared: &Prepared) -> SheetAnswer {
    let problem = prepared.problem;
    let task = &prepared.task;
    let count = task.items.iter().map(|item| item.count).sum::<u32>();
    if count == 0 || task.sizes.is_empty() {
        return SheetAnswer {
            left: prepared.left.clone(),
            ..SheetAnswer::default()
        };
    }
    let work = work(problem.saw.effort);
    let Some((best, nearest)) = improved(prepared, work) else {
        return SheetAnswer::default();
    };
    let candidates = last_sheet::candidates(prepared, best, nearest, work / LAST_SHEET_PART);
    let finished = candidates.iter().map(|layout| finish(prepared, layout));
    // Of equals the first one stays.
    let best = finished.min_by(Finished::compare);
    let Some(best) = best else {
        return SheetAnswer::default();
    };
    let mut left = prepared.left.clone();
    left.extend(best.left);
    left.sort_unstable();
    SheetAnswer {
        proved: left.is_empty() && best.cost <= prepared.least_cost,
        bound: prepared.bound,
        sheets: best.sheets,
        left,
    }
}

/// How much is done, in places for a piece that are looked at; ten million take about 0.1 s.
fn work(effort: Effort) -> u64 {
    match effort {
        Effort::Quick => 4_000_000,
        Effort::Good => 100_000_000,
        Effort::Best => 1_500_000_000,
    }
}

/// The cheapest layout that is found, and the one nearest to a cheaper one.
fn improved(prepared: &Prepared, work: u64) -> Option<(Layout, Option<Layout>)> {
    let task = &prepared.task;
    let mut best = last_sheet::ORDERS
        .iter()
        .map(|order| {
            let mut search = Search::new(task, MANNER, prepared.seed);
            search.construct(order);
            search.layout()
        })
        .min_by_key(|layout| (area_of(&layout.out, &task.items), layout.cost))?;
    let mut search = Search::new(task, MANNER, prepared.seed);
    if !best.out.is_empty() {
        // The sheets do not suffice: as much as possible on those that there are.
        search.take(&best);
        search.run(work, |better| best = better.layout());
        return Some((best, None));
    }
    if best.trees.len() == 1 && best.cost <= prepared.least_cost {
        let nothing = Layout {
            trees: Vec::new(),
            out: task.copies(),
            cost: 0,
        };
        return Some((best, Some(nothing)));
    }
    let mut left = work;
    let count: u32 = task.items.iter().map(|item| item.count).sum();
    if count > groups::LONG {
        let (of_groups, of) = GROUPS_PART;
        let part = work / of * of_groups;
        groups::improve(prepared, &mut best, part);
        left -= part;
    }
    let mut nearest: Option<Layout> = None;
    while left > 0 {
        // Nothing is cheaper, but what is nearest to it leaves the largest rest of the last sheet.
        let proved = best.cost <= prepared.least_cost;
        let most = if proved {
            left.min(work / NEAREST_PART)
        } else {
            left.min(ROUND)
        };
        search.take(&best);
        search.budget = best.cost - 1;
        search.close_down();
        let mut found = search.layout();
        let taken = search.run(most, |better| found = better.layout());
        left -= taken.clamp(1, left);
        if found.out.is_empty() {
            best = found;
            nearest = None;
        } else if nearest.as_ref().is_none_or(|nearest| {
            area_of(&found.out, &task.items) < area_of(&nearest.out, &task.items)
        }) {
            nearest = Some(found);
        }
        if proved {
            break;
        }
    }
    Some((best, nearest))
}

fn area_of(out: &[u32], items: &[Item]) -> i64 {
    out.iter().map(|&kind| items[kind as usize].area()).sum()
}
