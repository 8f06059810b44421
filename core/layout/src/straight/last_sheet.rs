//! Gathers what does not fill a sheet on as small a strip of the last one as can be, so that its offcut is large.

use jigless_model::sheets::CutDirection;

use super::search::{Item, Layout, MANNER, Search, Size, Task};
use super::task::Prepared;
use super::tree::{Kind, ROOT, Tree};

/// A measure by which pieces are sorted, the largest first, and a second one between equals.
pub(super) type Measure = fn(&Item) -> (i64, i64);

/// The orders in which a layout is begun.
pub(super) const ORDERS: [Measure; 4] = [
    |item| (item.area(), 0),
    |item| (item.width.max(item.height).into(), item.area()),
    |item| (item.height.into(), item.width.into()),
    |item| (item.width.into(), item.height.into()),
];

/// How often a strip is made narrower by halves.
const HALVINGS: u32 = 9;

/// The layout itself, and those in which as much as possible lies on all sheets but one.
pub(super) fn candidates(
    prepared: &Prepared,
    best: Layout,
    nearest: Option<Layout>,
    work: u64,
) -> Vec<Layout> {
    let mut candidates = Vec::new();
    let nearest = nearest.filter(|nearest| !splits_a_group(prepared, nearest));
    if let Some(nearest) = nearest {
        for number in 0..prepared.task.sizes.len() {
            let size = &prepared.task.sizes[number];
            let taken = nearest
                .trees
                .iter()
                .filter(|tree| tree.size == number)
                .count();
            if taken >= size.count as usize || nearest.cost + size.cost > best.cost {
                continue;
            }
            for direction in [CutDirection::Across, CutDirection::Along] {
                if let Some(tree) = strip(prepared, &nearest.out, number, direction, work) {
                    let mut layout = nearest.clone();
                    layout.trees.push(tree);
                    layout.out.clear();
                    layout.cost += size.cost;
                    candidates.push(layout);
                }
            }
        }
    }
    candidates.push(best);
    candidates
}

/// Whether pieces that must lie on one sheet would come to lie on two.
fn splits_a_group(prepared: &Prepared, layout: &Layout) -> bool {
    let group = |kind: u32| prepared.task.items[kind as usize].group;
    let out: Vec<usize> = layout.out.iter().filter_map(|&kind| group(kind)).collect();
    let nodes = layout.trees.iter().flat_map(|tree| &tree.nodes);
    nodes
        .filter_map(|node| match node.kind {
            Kind::Piece(kind, _) => group(kind),
            _ => None,
        })
        .any(|group| out.contains(&group))
}

/// One sheet with some pieces on a strip of it as narrow as is found; `None` where they do not fit at all.
fn strip(
    prepared: &Prepared,
    pieces: &[u32],
    number: usize,
    direction: CutDirection,
    work: u64,
) -> Option<Tree> {
    let size = &prepared.task.sizes[number];
    let mut items = prepared.task.items.clone();
    for (kind, item) in items.iter_mut().enumerate() {
        item.count = pieces
            .iter()
            .filter(|&&piece| piece as usize == kind)
            .count() as u32;
    }
    let within = |extent: i32| {
        let (width, height) = match direction {
            CutDirection::Along => (extent, size.height),
            CutDirection::Across => (size.width, extent),
        };
        let size = Size {
            width,
            height,
            count: 1,
            cost: 1,
        };
        let task = Task {
            items: items.clone(),
            sizes: vec![size],
            // The cut that frees the strip counts, too.
            stages: prepared
                .task
                .stages
                .saturating_sub(u32::from(prepared.task.stages != u32::MAX)),
            groups: prepared.task.groups,
            limit: prepared.task.limit,
        };
        packed(&task, prepared.seed, work / u64::from(HALVINGS))
    };
    let whole = match direction {
        CutDirection::Along => size.width,
        CutDirection::Across => size.height,
    };
    let area: i64 = items
        .iter()
        .map(|item| item.area() * i64::from(item.count))
        .sum();
    let across = match direction {
        CutDirection::Along => size.height,
        CutDirection::Across => size.width,
    };
    let mut least = i32::try_from(area / i64::from(across))
        .unwrap_or(whole)
        .min(whole);
    let (mut most, mut best) = (whole, within(whole)?);
    for _ in 0..HALVINGS {
        if most - least < 2 {
            break;
        }
        let middle = least + (most - least) / 2;
        match within(middle) {
            Some(tree) => (most, best) = (middle, tree),
            None => least = middle,
        }
    }
    best.widen(direction, whole, number);
    Some(best)
}

/// All pieces of a task on its one sheet.
fn packed(task: &Task, seed: u64, work: u64) -> Option<Tree> {
    let begin = |order: &Measure| {
        let mut search = Search::new(task, MANNER, seed);
        search.construct(order);
        search.layout()
    };
    let area = |layout: &Layout| -> i64 {
        let out = layout.out.iter();
        out.map(|&kind| task.items[kind as usize].area()).sum()
    };
    let layout = ORDERS.iter().map(begin).min_by_key(area)?;
    let mut search = Search::new(task, MANNER, seed);
    search.take(&layout);
    search.run(work, |_| {});
    let layout = search.layout();
    let done = layout.out.is_empty();
    layout.trees.into_iter().next().filter(|_| done)
}

impl Tree {
    /// Gives the sheet its whole width or height, and the number of its size.
    fn widen(&mut self, direction: CutDirection, whole: i32, size: usize) {
        self.size = size;
        let root = *self.node(ROOT);
        let extent = match direction {
            CutDirection::Along => root.width,
            CutDirection::Across => root.height,
        };
        if extent < whole {
            self.grow(direction, whole - extent);
        }
    }
}
