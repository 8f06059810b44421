//! One sheet as a tree of straight cuts that pieces are put into and taken out of.
//!
//! Sizes are in whole micrometres, sheet and pieces grown by the kerf, so that neighbours touch. Directions alternate
//! from level to level, and of the parts of a split at most one is free: the order of parts does not matter before a
//! tree is cut, so free room is kept together.

use jigless_model::sheets::CutDirection;

/// Number of a node; `NONE` where there is none.
pub(super) type NodeId = u32;

pub(super) const NONE: NodeId = u32::MAX;

pub(super) const ROOT: NodeId = 0;

/// What a rectangle is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Nothing is here yet.
    Free,
    /// A piece of a kind, turned or not.
    Piece(u32, bool),
    /// Cut up.
    Split(CutDirection),
    /// A node that is in no use.
    Unused,
}

/// A rectangle of a sheet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Node {
    pub(super) width: i32,
    pub(super) height: i32,
    pub(super) kind: Kind,
    pub(super) parent: NodeId,
    pub(super) first: NodeId,
    pub(super) next: NodeId,
    previous: NodeId,
}

impl Node {
    fn free(width: i32, height: i32, parent: NodeId) -> Self {
        Self {
            width,
            height,
            kind: Kind::Free,
            parent,
            first: NONE,
            next: NONE,
            previous: NONE,
        }
    }

    pub(super) fn area(&self) -> i64 {
        i64::from(self.width) * i64::from(self.height)
    }
}

/// A free rectangle.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    pub(super) width: i32,
    pub(super) height: i32,
    pub(super) node: NodeId,
    /// How often the direction of cutting has changed on the way to it.
    pub(super) depth: u32,
    /// The direction of the split that it is a part of.
    pub(super) direction: Option<CutDirection>,
}

/// A sheet.
#[derive(Debug, Default)]
pub(super) struct Tree {
    pub(super) nodes: Vec<Node>,
    unused: Vec<NodeId>,
    /// Its free rectangles, in the order of their numbers.
    pub(super) rooms: Vec<Room>,
    /// The greatest width and height of a free rectangle.
    pub(super) widest: i32,
    pub(super) highest: i32,
    /// Sum of the areas of its pieces.
    pub(super) used: i64,
    /// Sum of the squares of its free areas, in units of the square of the sheet's own area.
    pub(super) looseness: f64,
    /// Number of its size.
    pub(super) size: usize,
}

impl Clone for Tree {
    fn clone(&self) -> Self {
        let mut tree = Tree::default();
        tree.clone_from(self);
        tree
    }

    /// Keeps the memory of what it writes over.
    fn clone_from(&mut self, other: &Self) {
        self.nodes.clone_from(&other.nodes);
        self.unused.clone_from(&other.unused);
        self.rooms.clone_from(&other.rooms);
        self.widest = other.widest;
        self.highest = other.highest;
        self.used = other.used;
        self.looseness = other.looseness;
        self.size = other.size;
    }
}

impl Tree {
    /// An empty sheet.
    pub(super) fn new(size: usize, width: i32, height: i32) -> Self {
        let mut tree = Tree {
            size,
            ..Tree::default()
        };
        tree.nodes.push(Node::free(width, height, NONE));
        tree.look_at_rooms();
        tree
    }

    pub(super) fn is_empty(&self) -> bool {
        self.nodes[ROOT as usize].kind == Kind::Free
    }

    pub(super) fn node(&self, id: NodeId) -> &Node {
        &self.nodes[id as usize]
    }

    /// The parts of a split.
    pub(super) fn parts(&self, id: NodeId) -> impl Iterator<Item = NodeId> + '_ {
        let mut next = self.node(id).first;
        std::iter::from_fn(move || {
            let id = next;
            (id != NONE).then(|| {
                next = self.node(id).next;
                id
            })
        })
    }

    /// Works out the free rectangles anew. To be called after each change.
    pub(super) fn look_at_rooms(&mut self) {
        self.rooms.clear();
        (self.widest, self.highest) = (0, 0);
        let whole = self.nodes[ROOT as usize].area() as f64;
        let mut looseness = 0.0;
        for (id, node) in self.nodes.iter().enumerate() {
            if node.kind != Kind::Free {
                continue;
            }
            let direction = match node.parent {
                NONE => None,
                parent => match self.nodes[parent as usize].kind {
                    Kind::Split(direction) => Some(direction),
                    _ => None,
                },
            };
            self.rooms.push(Room {
                width: node.width,
                height: node.height,
                node: id as NodeId,
                depth: 0,
                direction,
            });
            self.widest = self.widest.max(node.width);
            self.highest = self.highest.max(node.height);
            let share = node.area() as f64 / whole;
            looseness += share * share;
        }
        self.looseness = looseness;
    }

    /// Fills in how deep each free rectangle lies; only where a limit asks for it.
    pub(super) fn look_at_depths(&mut self) {
        for index in 0..self.rooms.len() {
            let mut depth = 0;
            let mut node = self.node(self.rooms[index].node).parent;
            while node != NONE {
                depth += 1;
                node = self.node(node).parent;
            }
            self.rooms[index].depth = depth;
        }
    }

    fn add(&mut self, node: Node) -> NodeId {
        if let Some(id) = self.unused.pop() {
            self.nodes[id as usize] = node;
            return id;
        }
        self.nodes.push(node);
        self.nodes.len() as NodeId - 1
    }

    fn link_first(&mut self, parent: NodeId, child: NodeId) {
        let first = self.node(parent).first;
        self.nodes[child as usize].parent = parent;
        self.nodes[child as usize].next = first;
        self.nodes[child as usize].previous = NONE;
        if first != NONE {
            self.nodes[first as usize].previous = child;
        }
        self.nodes[parent as usize].first = child;
    }

    fn unlink(&mut self, child: NodeId) {
        let Node {
            parent,
            next,
            previous,
            ..
        } = *self.node(child);
        if previous == NONE {
            self.nodes[parent as usize].first = next;
        } else {
            self.nodes[previous as usize].next = next;
        }
        if next != NONE {
            self.nodes[next as usize].previous = previous;
        }
        self.discard(child);
    }

    fn discard(&mut self, id: NodeId) {
        self.nodes[id as usize].kind = Kind::Unused;
        self.unused.push(id);
    }

    /// Cuts a band off a free rectangle, and gives the band.
    fn slice(&mut self, room: NodeId, direction: CutDirection, extent: i32) -> NodeId {
        let node = *self.node(room);
        let (band, rest) = match direction {
            CutDirection::Along => ((extent, node.height), (node.width - extent, node.height)),
            CutDirection::Across => ((node.width, extent), (node.width, node.height - extent)),
        };
        let beside = node.parent != NONE && self.node(node.parent).kind == Kind::Split(direction);
        if beside {
            self.nodes[room as usize].width = rest.0;
            self.nodes[room as usize].height = rest.1;
            let band = self.add(Node::free(band.0, band.1, node.parent));
            self.link_first(node.parent, band);
            return band;
        }
        self.nodes[room as usize].kind = Kind::Split(direction);
        self.nodes[room as usize].first = NONE;
        let rest = self.add(Node::free(rest.0, rest.1, room));
        self.link_first(room, rest);
        let band = self.add(Node::free(band.0, band.1, room));
        self.link_first(room, band);
        band
    }

    /// Puts a piece into a free rectangle that holds it, with the cuts of one direction first.
    pub(super) fn insert(
        &mut self,
        room: NodeId,
        first: CutDirection,
        (width, height): (i32, i32),
        kind: (u32, bool),
    ) {
        let mut at = room;
        for direction in [first, first.other()] {
            let node = *self.node(at);
            let (extent, whole) = match direction {
                CutDirection::Along => (width, node.width),
                CutDirection::Across => (height, node.height),
            };
            if extent < whole {
                at = self.slice(at, direction, extent);
            }
        }
        self.nodes[at as usize].kind = Kind::Piece(kind.0, kind.1);
        self.used += i64::from(width) * i64::from(height);
    }

    /// Makes a rectangle free with all that is in it; the kinds of its pieces are handed to `out`.
    pub(super) fn remove(&mut self, id: NodeId, out: &mut Vec<u32>) {
        self.empty(id, out);
        let mut id = id;
        loop {
            self.nodes[id as usize].kind = Kind::Free;
            self.nodes[id as usize].first = NONE;
            let parent = self.node(id).parent;
            if parent == NONE {
                return;
            }
            let other = self
                .parts(parent)
                .find(|&part| part != id && self.node(part).kind == Kind::Free);
            let Some(other) = other else { return };
            let (width, height) = (self.node(id).width, self.node(id).height);
            match self.node(parent).kind {
                Kind::Split(CutDirection::Along) => self.nodes[other as usize].width += width,
                _ => self.nodes[other as usize].height += height,
            }
            self.unlink(id);
            if self.node(self.node(parent).first).next != NONE {
                return;
            }
            // Nothing but free room is left of the whole split.
            self.discard(other);
            id = parent;
        }
    }

    /// Takes the pieces out of a rectangle, and discards what it was cut into.
    fn empty(&mut self, id: NodeId, out: &mut Vec<u32>) {
        match self.node(id).kind {
            Kind::Piece(kind, _) => {
                self.used -= self.node(id).area();
                out.push(kind);
            }
            Kind::Split(_) => {
                let mut part = self.node(id).first;
                while part != NONE {
                    let next = self.node(part).next;
                    self.empty(part, out);
                    self.discard(part);
                    part = next;
                }
            }
            Kind::Free | Kind::Unused => {}
        }
    }
}

impl Tree {
    /// Adds free room at the far end of the whole sheet.
    pub(super) fn grow(&mut self, direction: CutDirection, by: i32) {
        let root = *self.node(ROOT);
        let (band, whole) = match direction {
            CutDirection::Along => ((by, root.height), (root.width + by, root.height)),
            CutDirection::Across => ((root.width, by), (root.width, root.height + by)),
        };
        if root.kind == Kind::Split(direction) {
            let free = self
                .parts(ROOT)
                .find(|&part| self.node(part).kind == Kind::Free);
            match free {
                Some(free) if direction == CutDirection::Along => {
                    self.nodes[free as usize].width += by;
                }
                Some(free) => self.nodes[free as usize].height += by,
                None => {
                    let band = self.add(Node::free(band.0, band.1, ROOT));
                    self.link_first(ROOT, band);
                }
            }
        } else {
            let inner = self.add(root);
            let parts: Vec<NodeId> = self.parts(inner).collect();
            for part in parts {
                self.nodes[part as usize].parent = inner;
            }
            self.nodes[ROOT as usize].kind = Kind::Split(direction);
            self.nodes[ROOT as usize].first = NONE;
            self.link_first(ROOT, inner);
            let band = self.add(Node::free(band.0, band.1, ROOT));
            self.link_first(ROOT, band);
        }
        self.nodes[ROOT as usize].width = whole.0;
        self.nodes[ROOT as usize].height = whole.1;
        self.look_at_rooms();
    }
}
