//! Pieces moved apart along the ways by which they come in.

use jigless_model::geom::Point;
use jigless_model::whole::{Box3, Direction, Triple};

use super::hull::{apart, hull, inside};
use crate::vector::along;
use crate::view::Camera;

/// Pieces that move as one: boxes in the whole.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// The boxes of its pieces.
    pub boxes: Vec<Box3>,
    /// The way by which it comes out, if its motion says so.
    pub motion: Option<Direction>,
}

/// How blocks are moved apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Explosion {
    /// How far each block is moved.
    pub offsets: Vec<Triple>,
    /// The way by which each came out; none for what stays.
    pub ways: Vec<Option<Direction>>,
    /// Lines of flight on paper, from each block's place to where it is shown, as far as they are seen between the blocks.
    pub flights: Vec<(Point, Point)>,
}

/// Free paper between blocks, in millimetres of the thing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room(pub f64);

/// What overlaps by less, in millimetres, only touches.
const TOUCH: f64 = 0.6;

/// Moves blocks apart, in the order in which they are put together: each along a way that is free of those before it,
/// together with what it is fixed to, as far as it takes to overlap none of them on paper.
pub fn explode(blocks: &[Block], camera: &Camera, room: Room) -> Explosion {
    let mut offsets: Vec<Triple> = vec![[0.0; 3]; blocks.len()];
    let mut ways = vec![None; blocks.len()];
    let mut outlines: Vec<Vec<Vec<Point>>> = Vec::with_capacity(blocks.len());
    let mut lines = Vec::new();
    for (number, block) in blocks.iter().enumerate() {
        let before = &blocks[..number];
        let Some(parent) = parent(block, before) else {
            // Nothing is there yet that it touches; it only has to find free paper.
            let free = clear(block, [0.0; 3], None, camera, &outlines, room);
            offsets[number] = free.unwrap_or([0.0; 3]);
            outlines.push(outline(block, offsets[number], camera));
            continue;
        };
        let mut best: Option<(f64, Triple, Direction)> = None;
        for (direction, worth) in ways_out(block, before) {
            let Some(offset) = clear(block, offsets[parent], Some(direction), camera, &outlines, room)
            else {
                continue;
            };
            let far = (0..3).map(|i| (offset[i] - offsets[parent][i]).abs()).sum::<f64>();
            let cost = far / worth;
            if best.is_none_or(|(least, ..)| cost < least) {
                best = Some((cost, offset, direction));
            }
        }
        if let Some((_, offset, direction)) = best {
            offsets[number] = offset;
            ways[number] = Some(direction);
            let centre = around(block).centre();
            let from = camera.paper(along(centre, offsets[parent], 1.0));
            lines.push((from, camera.paper(along(centre, offset, 1.0))));
        }
        outlines.push(outline(block, offsets[number], camera));
    }
    let flights = lines
        .into_iter()
        .flat_map(|(from, to)| seen(from, to, &outlines))
        .collect();
    Explosion {
        offsets,
        ways,
        flights,
    }
}

fn around(block: &Block) -> Box3 {
    let first = block.boxes[0];
    block.boxes.iter().copied().fold(first, Box3::union)
}

/// The earlier block that it has most to do with: the one with the largest common surface.
fn parent(block: &Block, before: &[Block]) -> Option<usize> {
    let shared = |other: &Block| -> f64 {
        let pairs = block.boxes.iter().flat_map(|a| other.boxes.iter().map(move |b| (a, b)));
        pairs
            .filter(|(a, b)| a.apart(**b) < 30.0)
            .map(|(a, b)| {
                let mut sizes = [0, 1, 2].map(|axis| a.common(*b).size(axis).max(0.1));
                sizes.sort_by(f64::total_cmp);
                sizes[1] * sizes[2]
            })
            .sum()
    };
    let mut found: Option<(usize, f64)> = None;
    for (number, other) in before.iter().enumerate() {
        let shared = shared(other);
        if shared > 0.0 && found.is_none_or(|(_, most)| shared > most * 1.001) {
            found = Some((number, shared));
        }
    }
    found.map(|(number, _)| number).or((!before.is_empty()).then_some(0))
}

/// The directions in which a block can leave those before it, each with how well it suits: the one away from what it lies
/// against best.
fn ways_out(block: &Block, before: &[Block]) -> Vec<(Direction, f64)> {
    if let Some(direction) = block.motion {
        return vec![(direction, 1.0)];
    }
    let free: Vec<(Direction, f64)> = Direction::ALL
        .into_iter()
        .filter(|direction| {
            let others = before.iter().flat_map(|other| &other.boxes);
            let mut pairs = others.flat_map(|b| block.boxes.iter().map(move |a| (a, b)));
            !pairs.any(|(a, b)| blocks_way(*a, *b, *direction))
        })
        .map(|direction| (direction, 1.0 + leaning(block, before, direction)))
        .collect();
    if free.is_empty() {
        vec![(Direction::Front, 1.0)]
    } else {
        free
    }
}

/// Whether a box on its way out runs into another one. What sits in a cut of the other may leave it by the shortest way.
fn blocks_way(own: Box3, other: Box3, direction: Direction) -> bool {
    let axis = direction.axis();
    let common = own.common(other);
    let overlap = |i: usize| common.size(i) > TOUCH;
    let leaves = direction.sign() * (own.centre()[axis] - other.centre()[axis]) > 0.0;
    if (0..3).all(overlap) {
        let shallow = (0..3).min_by(|&i, &j| common.size(i).total_cmp(&common.size(j)));
        return !(shallow == Some(axis) && leaves);
    }
    // Across the way they must not meet; along it the other must lie ahead.
    let across = (0..3).filter(|i| *i != axis).all(overlap);
    let ahead = if direction.sign() > 0.0 {
        other.max[axis] > own.max[axis] + TOUCH
    } else {
        other.min[axis] < own.min[axis] - TOUCH
    };
    across && ahead
}

/// How much of a block lies against earlier ones on the side that it would leave, as a share of its own side: 0 to 3.
fn leaning(block: &Block, before: &[Block], direction: Direction) -> f64 {
    let axis = direction.axis();
    let others = before.iter().flat_map(|other| &other.boxes);
    let mut shared = 0.0;
    for other in others {
        for own in &block.boxes {
            let common = own.common(*other);
            let behind = direction.sign() * (own.centre()[axis] - other.centre()[axis]) > 0.0;
            let sizes = [(axis + 1) % 3, (axis + 2) % 3].map(|i| common.size(i));
            if behind && common.size(axis).abs() < 25.0 && sizes.iter().all(|size| *size > TOUCH) {
                shared += sizes[0] * sizes[1];
            }
        }
    }
    let own = around(block);
    let side = own.size((axis + 1) % 3) * own.size((axis + 2) % 3);
    3.0 * (shared / side.max(1.0)).min(1.0)
}

/// The outlines of a block's pieces on paper.
fn outline(block: &Block, offset: Triple, camera: &Camera) -> Vec<Vec<Point>> {
    let of_box = |own: &Box3| {
        let corners = (0..8).map(|n| {
            let pick = |axis: usize| if n >> axis & 1 == 0 { own.min[axis] } else { own.max[axis] };
            camera.paper(along([pick(0), pick(1), pick(2)], offset, 1.0))
        });
        hull(corners.collect())
    };
    block.boxes.iter().map(of_box).collect()
}

/// The shortest way along a direction, from where its parent is shown, after which a block overlaps none of those there.
fn clear(
    block: &Block,
    from: Triple,
    direction: Option<Direction>,
    camera: &Camera,
    taken: &[Vec<Vec<Point>>],
    room: Room,
) -> Option<Triple> {
    let mut way = [0.0; 3];
    if let Some(direction) = direction {
        way[direction.axis()] = direction.sign();
    } else {
        way[0] = 1.0;
    }
    let flight = camera.paper(way);
    if flight.length() < 0.05 {
        return None;
    }
    let own = outline(block, from, camera);
    let step = (room.0 / 2.0).max(1.0);
    let begin = if direction.is_some() { room.0 / flight.length() } else { 0.0 };
    (0..2000).map(|count| begin + step * f64::from(count)).find_map(|far| {
        let by = flight * far;
        let meets = own.iter().any(|outline| {
            let moved: Vec<Point> = outline.iter().map(|p| *p + by).collect();
            taken.iter().flatten().any(|other| apart(&moved, other) < room.0)
        });
        (!meets).then(|| along(from, way, far))
    })
}

/// What of a line is not covered by outlines.
fn seen(from: Point, to: Point, outlines: &[Vec<Vec<Point>>]) -> Vec<(Point, Point)> {
    let mut covered: Vec<(f64, f64)> = outlines
        .iter()
        .flatten()
        .filter_map(|outline| inside(outline, from, to))
        .collect();
    covered.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut at, mut lines) = (0.0, Vec::new());
    for (low, high) in covered.into_iter().chain([(1.0, 1.0)]) {
        if low - at > 1e-6 {
            lines.push((from.toward(to, at), from.toward(to, low)));
        }
        at = f64::max(at, high);
    }
    lines
}
