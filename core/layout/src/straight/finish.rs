//! From the search's trees to cut trees: in which order strips are cut, what is broken down first, what is kept.

use std::cmp::Ordering;

use jigless_model::sheets::{
    CutContent, CutDirection, CutNode, CutPiece, CutRectangle, CutSheet, CutStep, Handling,
    Micrometres, Saw, SheetSize, Split, cut_list, settings_of,
};

use super::search::Layout;
use super::task::Prepared;
use super::tree::{Kind, NodeId, ROOT, Tree};

/// A layout as cut trees, and what it is judged by.
pub(super) struct Finished {
    pub(super) sheets: Vec<CutSheet>,
    /// Pieces that are left out: number of the kind, and how many.
    pub(super) left: Vec<(usize, u32)>,
    pub(super) cost: i64,
    /// How many pieces after the first cuts one person cannot handle although they could be cut smaller.
    clumsy: usize,
    /// Area of the largest rest that is kept, in square millimetres.
    offcut: i64,
    settings: u32,
    /// Length of all cuts, in micrometres.
    length: Micrometres,
}

impl Finished {
    /// The better one is less: what is left out, cost, what one person cannot handle, largest offcut, settings of the
    /// guide, length of the cuts.
    pub(super) fn compare(&self, other: &Self) -> Ordering {
        let left = |finished: &Self| finished.left.iter().map(|(_, count)| *count).sum::<u32>();
        let key = |f: &Self| (left(f), f.cost, f.clumsy, -f.offcut, f.settings, f.length);
        key(self).cmp(&key(other))
    }
}

pub(super) fn finish(prepared: &Prepared, layout: &Layout) -> Finished {
    let problem = prepared.problem;
    let mut trees: Vec<&Tree> = layout
        .trees
        .iter()
        .filter(|tree| !tree.is_empty())
        .collect();
    let size_of = |tree: &Tree| prepared.sizes[tree.size];
    trees.sort_by_key(|tree| {
        let size = size_of(tree);
        let first = -priority(prepared, tree);
        (first, problem.sizes[size].origin, size, -tree.used)
    });
    let mut copies = vec![0; problem.pieces.len()];
    let mut sheets = Vec::new();
    for tree in trees {
        let number = size_of(tree);
        let size = &problem.sizes[number];
        let mut cutter = Cutter {
            prepared,
            tree,
            copies: &mut copies,
            offcuts: 0,
        };
        let (width, height) = size.usable();
        let root = cutter.node(ROOT).unwrap_or(CutNode {
            width,
            height,
            content: CutContent::Waste,
        });
        sheets.push(CutSheet {
            size: number,
            kerf: problem.saw.kerf,
            room: CutRectangle {
                x: size.trims.left,
                y: size.trims.bottom,
                width,
                height,
            },
            root: broken_down(root, size, &problem.saw),
        });
    }
    let mut left: Vec<(usize, u32)> = Vec::new();
    for &item in &layout.out {
        let kind = prepared.kinds[item as usize];
        match left.iter_mut().find(|(other, _)| *other == kind) {
            Some((_, count)) => *count += 1,
            None => left.push((kind, 1)),
        }
    }
    let steps: Vec<CutStep> = sheets
        .iter()
        .flat_map(|sheet| cut_list(sheet, &problem.sizes[sheet.size], &problem.saw))
        .collect();
    let settings =
        |sheet: &CutSheet| settings_of(&cut_list(sheet, &problem.sizes[sheet.size], &problem.saw));
    Finished {
        settings: sheets.iter().map(settings).sum(),
        length: steps.iter().map(|step| step.length).sum(),
        offcut: sheets
            .iter()
            .flat_map(CutSheet::offcuts)
            .map(|(at, _)| at.width * at.height / 1_000_000)
            .max()
            .unwrap_or(0),
        clumsy: sheets
            .iter()
            .map(|sheet| clumsy(&sheet.root, &problem.saw.handling))
            .sum(),
        sheets,
        left,
        cost: layout.cost,
    }
}

/// The greatest priority of the pieces on a sheet.
fn priority(prepared: &Prepared, tree: &Tree) -> i32 {
    let of = |kind: Kind| match kind {
        Kind::Piece(item, _) => prepared.task.items[item as usize].priority,
        _ => 0,
    };
    let all = tree.nodes.iter().map(|node| of(node.kind));
    all.max().unwrap_or(0)
}

struct Cutter<'a> {
    prepared: &'a Prepared<'a>,
    tree: &'a Tree,
    /// How many copies of each kind have been cut.
    copies: &'a mut [u32],
    offcuts: u32,
}

impl Cutter<'_> {
    /// A node with its own size; `None` where the blade takes it all.
    fn node(&mut self, id: NodeId) -> Option<CutNode> {
        let saw = &self.prepared.problem.saw;
        let node = self.tree.node(id);
        let width = Micrometres::from(node.width) - saw.kerf;
        let height = Micrometres::from(node.height) - saw.kerf;
        if width <= 0 || height <= 0 {
            return None;
        }
        let content = match node.kind {
            Kind::Piece(item, turned) => {
                let kind = self.prepared.kinds[item as usize];
                self.copies[kind] += 1;
                let copy = self.copies[kind];
                CutContent::Piece(CutPiece { kind, copy, turned })
            }
            Kind::Split(direction) => CutContent::Split(self.split(id, direction)),
            Kind::Free | Kind::Unused if width.min(height) >= saw.keep.max(1) => {
                self.offcuts += 1;
                CutContent::Offcut(self.offcuts)
            }
            Kind::Free | Kind::Unused => CutContent::Waste,
        };
        Some(CutNode {
            width,
            height,
            content,
        })
    }

    fn split(&mut self, id: NodeId, direction: CutDirection) -> Split {
        let extent = |id: NodeId| {
            let node = self.tree.node(id);
            match direction {
                CutDirection::Along => node.width,
                CutDirection::Across => node.height,
            }
        };
        let is_free = |id: NodeId| self.tree.node(id).kind == Kind::Free;
        let mut parts: Vec<NodeId> = self.tree.parts(id).collect();
        // The widest first, those alike together, and the free room last.
        parts.sort_by_key(|&part| (is_free(part), -extent(part), self.order(part), part));
        // A narrow strip comes off before the widest part, so that it is cut from something wide.
        let solid = parts.iter().filter(|&&part| !is_free(part)).count();
        let free = parts[solid..]
            .iter()
            .map(|&part| extent(part))
            .max()
            .unwrap_or(0);
        let narrow = parts[..solid]
            .iter()
            .any(|&part| Micrometres::from(extent(part)) < self.prepared.problem.saw.narrow);
        if narrow && solid > 1 && free < extent(parts[0]) {
            parts[..solid].rotate_left(1);
        }
        Split {
            direction,
            parts: parts
                .into_iter()
                .filter_map(|part| self.node(part))
                .collect(),
        }
    }

    /// Parts of one extent in an order of their own, so that like ones follow one another.
    fn order(&self, id: NodeId) -> (u32, i32) {
        let node = self.tree.node(id);
        match node.kind {
            Kind::Piece(item, _) => (item, 0),
            _ => (u32::MAX, node.width.min(node.height)),
        }
    }
}

/// How many parts of the first cuts are too large to be handled, though none of their pieces is.
fn clumsy(root: &CutNode, handling: &Handling) -> usize {
    let CutContent::Split(split) = &root.content else {
        return 0;
    };
    if *handling == Handling::default() || handling.allows(root.width, root.height) {
        return 0;
    }
    let of_part = |part: &CutNode| match &part.content {
        CutContent::Split(inner) if inner.direction == split.direction => clumsy(part, handling),
        CutContent::Split(_) => usize::from(is_clumsy(part, handling)),
        _ => 0,
    };
    split.parts.iter().map(of_part).sum()
}

/// Whether a rectangle cannot be handled and all of its pieces can.
fn is_clumsy(node: &CutNode, handling: &Handling) -> bool {
    fn holds_large(node: &CutNode, handling: &Handling) -> bool {
        match &node.content {
            CutContent::Piece(_) => !handling.allows(node.width, node.height),
            CutContent::Split(split) => split.parts.iter().any(|part| holds_large(part, handling)),
            CutContent::Offcut(_) | CutContent::Waste => false,
        }
    }
    !handling.allows(node.width, node.height) && !holds_large(node, handling)
}

/// Parts a sheet that one person cannot handle near its middle, as far as the parts of its first split allow.
fn broken_down(root: CutNode, size: &SheetSize, saw: &Saw) -> CutNode {
    if saw.handling == Handling::default() || saw.handling.allows(size.width, size.height) {
        return root;
    }
    let CutContent::Split(split) = root.content else {
        return root;
    };
    let content = CutContent::Split(halves(split, (root.width, root.height), saw));
    CutNode { content, ..root }
}

fn halves(split: Split, (width, height): (Micrometres, Micrometres), saw: &Saw) -> Split {
    let Split { direction, parts } = split;
    if saw.handling.allows(width, height) || parts.len() < 3 {
        return Split { direction, parts };
    }
    let whole = match direction {
        CutDirection::Along => width,
        CutDirection::Across => height,
    };
    // The boundary nearest to the middle, each half with two parts or with one.
    let mut end = 0;
    let mut ends: Vec<Micrometres> = Vec::new();
    for part in &parts {
        end += part.extent(direction);
        ends.push(end);
        end += saw.kerf;
    }
    let last = parts.len() - 1;
    let middle = (0..last)
        .min_by_key(|&i| (2 * ends[i] + saw.kerf - whole).abs())
        .unwrap_or(0);
    let far = whole - ends[middle] - saw.kerf;
    let mut near_parts = parts;
    let far_parts = near_parts.split_off(middle + 1);
    let half = |mut parts: Vec<CutNode>, extent: Micrometres| {
        if parts.len() == 1 && parts[0].extent(direction) == extent {
            return parts.remove(0);
        }
        let (width, height) = match direction {
            CutDirection::Along => (extent, height),
            CutDirection::Across => (width, extent),
        };
        let split = halves(Split { direction, parts }, (width, height), saw);
        CutNode {
            width,
            height,
            content: CutContent::Split(split),
        }
    };
    Split {
        direction,
        parts: vec![half(near_parts, ends[middle]), half(far_parts, far)],
    }
}
