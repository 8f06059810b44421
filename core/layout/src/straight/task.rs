//! A problem as the search sees it: sizes grown by the kerf, so that neighbours touch, and costs that put what is at hand
//! before what is bought.

use jigless_model::sheets::{Micrometres, SheetProblem, SheetSize};
use sha2::{Digest, Sha256};

use super::bound::least_sheets;
use super::limit::Limit;
use super::search::{Item, Size, Task};
use crate::costs::{Offer, costs};

/// A problem made ready.
pub(crate) struct Prepared<'a> {
    pub(crate) problem: &'a SheetProblem,
    pub(crate) task: Task,
    /// The kind of piece of each item.
    pub(crate) kinds: Vec<usize>,
    /// The size of sheet of each size.
    pub(crate) sizes: Vec<usize>,
    /// Pieces that fit no sheet.
    pub(super) left: Vec<(usize, u32)>,
    /// No layout needs fewer sheets.
    pub(crate) bound: usize,
    /// No layout costs less.
    pub(super) least_cost: i64,
    pub(crate) seed: u64,
}

impl<'a> Prepared<'a> {
    pub(crate) fn new(problem: &'a SheetProblem) -> Self {
        let kerf = problem.saw.kerf;
        let grown = |size: Micrometres| i32::try_from(size + kerf).unwrap_or(i32::MAX);
        let offer = |size: &SheetSize| Offer {
            origin: size.origin,
            amount: size.width as f64 * size.height as f64 / 1e6,
            price: size.price,
        };
        let offers: Vec<Offer> = problem.sizes.iter().map(offer).collect();
        let costs = costs(&offers);
        let mut sizes = Vec::new();
        let mut numbers = Vec::new();
        for (number, size) in problem.sizes.iter().enumerate() {
            let (width, height) = size.usable();
            if width > 0 && height > 0 && size.count != Some(0) {
                numbers.push(number);
                sizes.push(Size {
                    width: grown(width),
                    height: grown(height),
                    count: size.count.unwrap_or(u32::MAX),
                    cost: costs[number],
                });
            }
        }
        let (mut items, mut kinds, mut left) = (Vec::new(), Vec::new(), Vec::new());
        let mut groups: Vec<u32> = problem
            .pieces
            .iter()
            .filter_map(|kind| kind.group)
            .collect();
        groups.sort_unstable();
        groups.dedup();
        for (number, kind) in problem.pieces.iter().enumerate() {
            let item = Item {
                width: grown(kind.width),
                height: grown(kind.height),
                may_turn: kind.may_turn,
                count: kind.count,
                priority: kind.priority,
                group: kind
                    .group
                    .and_then(|group| groups.binary_search(&group).ok()),
            };
            if sizes.iter().any(|size| fits(&item, size)) {
                items.push(item);
                kinds.push(number);
            } else if kind.count > 0 {
                left.push((number, kind.count));
            }
        }
        let task = Task {
            items,
            sizes,
            stages: problem.saw.stages.unwrap_or(u32::MAX),
            groups: groups.len(),
            limit: Limit::new(&problem.saw),
        };
        let (bound, least_cost) = bounds(&task);
        Self {
            problem,
            task,
            kinds,
            sizes: numbers,
            left,
            bound,
            least_cost,
            seed: seed(problem),
        }
    }
}

fn fits(item: &Item, size: &Size) -> bool {
    let holds = |w: i32, h: i32| w <= size.width && h <= size.height;
    holds(item.width, item.height) || (item.may_turn && holds(item.height, item.width))
}

/// How many sheets and what cost no layout goes below.
fn bounds(task: &Task) -> (usize, i64) {
    let Some(first) = task.sizes.first() else {
        return (0, 0);
    };
    let area: i64 = task
        .items
        .iter()
        .map(|item| item.area() * i64::from(item.count))
        .sum();
    let of_size = |size: &Size| i64::from(size.width) * i64::from(size.height);
    let largest = task.sizes.iter().map(of_size).max().unwrap_or(1);
    let alike = task
        .sizes
        .iter()
        .all(|size| (size.width, size.height) == (first.width, first.height));
    let mut sizes: Vec<&Size> = task.sizes.iter().collect();
    if alike {
        let bound = least_sheets(&task.items, (first.width, first.height));
        sizes.sort_by_key(|size| size.cost);
        let each = sizes
            .iter()
            .flat_map(|size| std::iter::repeat_n(size.cost, (size.count as usize).min(bound)));
        return (bound, each.take(bound).sum());
    }
    // By area alone: the cheapest choice of whole sheets that is large enough.
    sizes.sort_by(|a, b| {
        let dear = |size: &Size| size.cost as f64 / of_size(size) as f64;
        dear(a).total_cmp(&dear(b))
    });
    let mut choice = Choice {
        offers: sizes
            .iter()
            .map(|size| (of_size(size), size.count, size.cost))
            .collect(),
        least: i64::MAX,
        branches: 0,
    };
    choice.branch(0, area, 0);
    // A choice that was not looked at may be cheaper, so the bound that allows parts of sheets must do.
    let least = if choice.branches < MOST_BRANCHES {
        choice.least
    } else {
        choice.with_parts(0, area)
    };
    ((area as u64).div_ceil(largest as u64) as usize, least)
}

/// How many choices of sheets are looked at.
const MOST_BRANCHES: u32 = 20_000;

/// The cheapest choice of whole sheets of some area.
struct Choice {
    /// Area, count and cost of each size, the cheapest for its area first.
    offers: Vec<(i64, u32, i64)>,
    least: i64,
    branches: u32,
}

impl Choice {
    fn branch(&mut self, from: usize, area: i64, cost: i64) {
        if area <= 0 {
            self.least = self.least.min(cost);
            return;
        }
        let Some(&(each, count, price)) = self.offers.get(from) else {
            return;
        };
        self.branches += 1;
        let hopeless = cost.saturating_add(self.with_parts(from, area)) >= self.least;
        if hopeless || self.branches >= MOST_BRANCHES {
            return;
        }
        let most = i64::from(count).min((area + each - 1) / each);
        for taken in (0..=most).rev() {
            self.branch(from + 1, area - taken * each, cost + taken * price);
        }
    }

    /// What an area costs at least where parts of sheets may be taken. Costs are whole numbers.
    fn with_parts(&self, from: usize, area: i64) -> i64 {
        let (mut left, mut cost) = (area as f64, 0.0);
        for &(each, count, price) in &self.offers[from..] {
            let taken = left.min(each as f64 * f64::from(count));
            cost += taken / each as f64 * price as f64;
            left -= taken;
        }
        (cost - 1e-6).max(0.0).ceil() as i64
    }
}

/// A number that hangs on the problem alone.
fn seed(problem: &SheetProblem) -> u64 {
    let mut digest = Sha256::new();
    let mut add = |number: i64| digest.update(number.to_le_bytes());
    add(problem.saw.kerf);
    for size in &problem.sizes {
        add(size.width);
        add(size.height);
    }
    for kind in &problem.pieces {
        add(kind.width);
        add(kind.height);
        add(kind.count.into());
        add(kind.may_turn.into());
    }
    let bytes: [u8; 32] = digest.finalize().into();
    u64::from_le_bytes([
        bytes[0], bytes[1], bytes[2], bytes[3], bytes[4], bytes[5], bytes[6], bytes[7],
    ])
}
