//! Long lists: some sheets at a time are laid out anew on one sheet fewer, which takes the same time however long the
//! list is.

use fastrand::Rng;

use super::search::{Layout, MANNER, Search, Task};
use super::task::Prepared;
use super::tree::Kind;

/// A list of more pieces is long.
pub(super) const LONG: u32 = 150;

/// How many pieces lie on the sheets that are looked at together, about.
const TOGETHER: usize = 90;

/// What part of all work goes into one look.
const LOOKS: u64 = 150;

/// Looks at groups of sheets until so much work is done.
pub(super) fn improve(prepared: &Prepared, layout: &mut Layout, most: u64) {
    let mut rng = Rng::with_seed(prepared.seed);
    let each = (most / LOOKS).max(1);
    let mut left = most;
    while left > 0 && layout.cost > prepared.least_cost && layout.trees.len() > 2 {
        let chosen = choose(prepared, layout, &mut rng);
        let task = part_of(&prepared.task, layout, &chosen);
        let mut part = Layout {
            trees: chosen
                .iter()
                .map(|&index| layout.trees[index].clone())
                .collect(),
            out: Vec::new(),
            cost: 0,
        };
        let costs = part.trees.iter().map(|tree| task.sizes[tree.size].cost);
        part.cost = costs.sum();
        let before = part.cost;
        let mut search = Search::new(&task, MANNER, rng.u64(..));
        // As long as there is one sheet fewer each time.
        loop {
            search.take(&part);
            search.budget = part.cost - 1;
            search.close_down();
            left = left.saturating_sub(search.run(each.min(left), |_| {}));
            let better = search.layout();
            if !better.out.is_empty() || left == 0 {
                break;
            }
            part = better;
        }
        if part.cost < before {
            let mut index = 0;
            layout.trees.retain(|_| {
                index += 1;
                !chosen.contains(&(index - 1))
            });
            layout.trees.append(&mut part.trees);
            layout.cost += part.cost - before;
        }
    }
}

/// Numbers of sheets, in order: half of them among the emptiest, the others drawn by lot.
fn choose(prepared: &Prepared, layout: &Layout, rng: &mut Rng) -> Vec<usize> {
    let sheets = layout.trees.len();
    let pieces: usize = prepared
        .task
        .items
        .iter()
        .map(|item| item.count as usize)
        .sum();
    let many = (TOGETHER * sheets / pieces.max(1)).clamp(3, 24).min(sheets);
    let mut order: Vec<usize> = (0..sheets).collect();
    order.sort_by_key(|&index| (layout.trees[index].used, index));
    let mut empty: Vec<usize> = order[..(3 * many).min(sheets)].to_vec();
    rng.shuffle(&mut empty);
    let mut chosen: Vec<usize> = empty[..many.div_ceil(2)].to_vec();
    while chosen.len() < many {
        let index = rng.usize(0..sheets);
        if !chosen.contains(&index) {
            chosen.push(index);
        }
    }
    chosen.sort_unstable();
    chosen
}

/// The task of laying out anew what lies on some sheets.
fn part_of(task: &Task, layout: &Layout, chosen: &[usize]) -> Task {
    let mut part = task.clone();
    for item in &mut part.items {
        item.count = 0;
    }
    for size in &mut part.sizes {
        size.count = if size.count == u32::MAX { u32::MAX } else { 0 };
    }
    for &index in chosen {
        let tree = &layout.trees[index];
        let size = &mut part.sizes[tree.size];
        size.count = size.count.saturating_add(1);
        for node in &tree.nodes {
            if let Kind::Piece(kind, _) = node.kind {
                part.items[kind as usize].count += 1;
            }
        }
    }
    part
}
