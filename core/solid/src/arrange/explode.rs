//! Pieces moved apart along the ways by which they come in.

use jigless_model::geom::{Bounds, Point};
use jigless_model::whole::{Box3, Direction, GRAZES, Triple};

use super::hull::{gap, hull, inside};
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

/// In which sequence blocks are taken; each leaves those before it, and the first stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sequence {
    /// As they are given: what is there before what comes to it.
    Given,
    /// As they are given, which is how they are put together, or from the block that most others lie against outward:
    /// whichever needs less paper.
    Smaller,
}

/// Free paper between blocks, in millimetres of the thing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room(pub f64);

/// Ways that lean against others by this share of the most are alike.
const ALIKE: f64 = 0.6;

/// Moves blocks apart: each along a way that is free of those before it, together with what it lies against, as far as it
/// takes to overlap none of them on paper. Of what comes out the same way by its own motion, such as drawers above each
/// other, none passes another; and those of one size come equally far where there is room for that.
pub fn explode(blocks: &[Block], sequence: Sequence, camera: &Camera, room: Room) -> Explosion {
    let given: Vec<usize> = (0..blocks.len()).collect();
    let outward = passing_none(blocks, outward(blocks), camera);
    let given = passing_none(blocks, given, camera);
    let mut best = alike(blocks, &given, camera, room);
    if sequence == Sequence::Smaller && outward != given {
        let other = alike(blocks, &outward, camera, room);
        if other.paper < best.paper {
            best = other;
        }
    }
    best.explosion
}

/// Blocks from the one that most others lie against outward; what moves by itself, and what lies against nothing, last.
fn outward(blocks: &[Block]) -> Vec<usize> {
    let touches =
        |one: usize, other: usize| one != other && shared(&blocks[one], &blocks[other]) > 0.0;
    let fixed = |n: &usize| blocks[*n].motion.is_none();
    let mut left: Vec<usize> = (0..blocks.len()).filter(fixed).collect();
    let contacts = |n: usize, with: &[usize]| with.iter().filter(|m| touches(n, **m)).count();
    let all = left.clone();
    let mut order = Vec::new();
    while let Some(next) = (0..left.len()).max_by_key(|&i| {
        let n = left[i];
        (contacts(n, &order), contacts(n, &all), std::cmp::Reverse(i))
    }) {
        order.push(left.remove(next));
    }
    order.extend((0..blocks.len()).filter(|n| !fixed(n)));
    order
}

/// The order with what comes out the same way by its own motion put so that those farther along that way on paper come
/// later, and so go farther.
fn passing_none(blocks: &[Block], mut order: Vec<usize>, camera: &Camera) -> Vec<usize> {
    for direction in Direction::ALL {
        let moves = |at: &usize| blocks[order[*at]].motion == Some(direction);
        let places: Vec<usize> = (0..order.len()).filter(moves).collect();
        let flight = camera.paper(step(direction, 1.0));
        let far = |n: &usize| camera.paper(around(&blocks[*n]).centre()).dot(flight);
        let mut moving: Vec<usize> = places.iter().map(|at| order[*at]).collect();
        moving.sort_by(|a, b| far(a).total_cmp(&far(b)));
        for (at, number) in places.into_iter().zip(moving) {
            order[at] = number;
        }
    }
    order
}

/// As [`in_order`], with blocks of one size that come out the same way equally far, unless that takes more paper.
fn alike(blocks: &[Block], order: &[usize], camera: &Camera, room: Room) -> Trial {
    let first = in_order(blocks, order, &vec![0.0; blocks.len()], camera, room);
    let same = |a: &Block, b: &Block| {
        let (one, other) = (around(a), around(b));
        a.motion.is_some()
            && a.motion == b.motion
            && (0..3).all(|axis| (one.size(axis) - other.size(axis)).abs() < 1.0)
    };
    let least = |n: usize| {
        let like = (0..blocks.len()).filter(|m| same(&blocks[n], &blocks[*m]));
        like.map(|m| first.far[m]).fold(0.0, f64::max)
    };
    let least: Vec<f64> = (0..blocks.len()).map(least).collect();
    if (0..blocks.len()).all(|n| least[n] <= first.far[n]) {
        return first;
    }
    let second = in_order(blocks, order, &least, camera, room);
    if second.paper <= first.paper {
        second
    } else {
        first
    }
}

/// A step of some length along a direction.
fn step(direction: Direction, length: f64) -> Triple {
    let mut way = [0.0; 3];
    way[direction.axis()] = direction.sign() * length;
    way
}

/// Blocks moved apart in some order.
struct Trial {
    explosion: Explosion,
    /// How far each block came out, in millimetres.
    far: Vec<f64>,
    /// The longer side of the paper that it takes, in millimetres of the thing.
    paper: f64,
}

/// Moves blocks apart, each at least so far and clear of those before it in `order`.
fn in_order(
    blocks: &[Block],
    order: &[usize],
    least: &[f64],
    camera: &Camera,
    room: Room,
) -> Trial {
    let mut offsets: Vec<Triple> = vec![[0.0; 3]; blocks.len()];
    let mut ways = vec![None; blocks.len()];
    let mut far = vec![0.0; blocks.len()];
    let mut outlines: Vec<Vec<Vec<Point>>> = Vec::with_capacity(blocks.len());
    let mut lines = Vec::new();
    for (count, &number) in order.iter().enumerate() {
        let block = &blocks[number];
        let before = &order[..count];
        let candidates = if before.is_empty() {
            Vec::new()
        } else {
            ways_out(block, blocks, before)
        };
        let most = candidates.iter().map(|way| way.leaning).fold(0.0, f64::max);
        let mut best: Option<(f64, Triple, Direction, usize)> = None;
        for way in candidates {
            // Away from what it lies against; of ways that are alike, the shortest.
            if way.leaning < most * ALIKE {
                continue;
            }
            let from = offsets[way.parent];
            let way_out = (way.direction, least[number]);
            let Some(offset) = clear(block, from, way_out, camera, &outlines, room) else {
                continue;
            };
            let cost = (0..3).map(|i| (offset[i] - from[i]).abs()).sum::<f64>();
            if best.is_none_or(|(least, ..)| cost < least) {
                best = Some((cost, offset, way.direction, way.parent));
            }
        }
        if let Some((length, offset, direction, parent)) = best {
            far[number] = length;
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
    let points = outlines.iter().flatten().flatten().copied();
    let paper = Bounds::of_points(points).map_or(0.0, |b| b.width().max(b.height()));
    let explosion = Explosion {
        offsets,
        ways,
        flights,
    };
    Trial {
        explosion,
        far,
        paper,
    }
}

fn around(block: &Block) -> Box3 {
    let first = block.boxes[0];
    block.boxes.iter().copied().fold(first, Box3::union)
}

/// How much two blocks have to do with each other: the surface in common, in square millimetres, of boxes that touch or
/// nearly do.
fn shared(one: &Block, other: &Block) -> f64 {
    let pairs = one
        .boxes
        .iter()
        .flat_map(|a| other.boxes.iter().map(move |b| (a, b)));
    pairs
        .filter(|(a, b)| a.apart(**b) < 3.0)
        .map(|(a, b)| {
            let mut sizes = [0, 1, 2].map(|axis| a.common(*b).size(axis).max(0.1));
            sizes.sort_by(f64::total_cmp);
            sizes[1] * sizes[2]
        })
        .sum()
}

/// A way by which a block can leave those before it.
struct WayOut {
    direction: Direction,
    /// How much of the block lies against others on the side that it would leave, in square millimetres.
    leaning: f64,
    /// The block that it moves with: the one that it leaves, or the one that it has most to do with.
    parent: usize,
}

fn ways_out(block: &Block, blocks: &[Block], before: &[usize]) -> Vec<WayOut> {
    let nearest = before.iter().copied().max_by(|&i, &j| {
        let shared = |n: usize| shared(block, &blocks[n]);
        // Of those that are alike, the first.
        shared(i).total_cmp(&shared(j)).then(j.cmp(&i))
    });
    let way = |direction: Direction| {
        let each = before
            .iter()
            .map(|n| (*n, leaning(block, &blocks[*n], direction)));
        let each: Vec<(usize, f64)> = each.collect();
        let sum = each.iter().map(|(_, shared)| shared).sum::<f64>();
        let left = each.into_iter().filter(|(_, shared)| *shared > 0.0);
        let left = left.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
        WayOut {
            direction,
            leaning: sum,
            parent: left.map(|(n, _)| n).or(nearest).unwrap_or(0),
        }
    };
    if let Some(direction) = block.motion {
        return vec![way(direction)];
    }
    let is_free = |direction: &Direction| {
        let others = before.iter().flat_map(|n| &blocks[*n].boxes);
        let mut pairs = others.flat_map(|b| block.boxes.iter().map(move |a| (a, b)));
        !pairs.any(|(a, b)| a.runs_into(*b, *direction))
    };
    let mut free: Vec<WayOut> = Direction::ALL
        .into_iter()
        .filter(is_free)
        .map(way)
        .collect();
    if free.is_empty() {
        free.push(way(Direction::Front));
    }
    free
}

/// The surface in square millimetres with which a block lies against an earlier one on the side that it would leave.
fn leaning(block: &Block, other: &Block, direction: Direction) -> f64 {
    let axis = direction.axis();
    let pairs = block
        .boxes
        .iter()
        .flat_map(|a| other.boxes.iter().map(move |b| (a, b)));
    pairs
        .map(|(own, other)| {
            let common = own.common(*other);
            let behind = direction.sign() * (own.centre()[axis] - other.centre()[axis]) > 0.0;
            let sizes = [(axis + 1) % 3, (axis + 2) % 3].map(|i| common.size(i));
            let lies =
                behind && common.size(axis).abs() < 25.0 && sizes.iter().all(|size| *size > GRAZES);
            if lies { sizes[0] * sizes[1] } else { 0.0 }
        })
        .sum()
}

/// The outlines of a block's pieces on paper.
fn outline(block: &Block, offset: Triple, camera: &Camera) -> Vec<Vec<Point>> {
    let of_box = |own: &Box3| {
        let corners = (0..8).map(|n| {
            let pick = |axis: usize| {
                if n >> axis & 1 == 0 {
                    own.min[axis]
                } else {
                    own.max[axis]
                }
            };
            camera.paper(along([pick(0), pick(1), pick(2)], offset, 1.0))
        });
        hull(corners.collect())
    };
    block.boxes.iter().map(of_box).collect()
}

/// The shortest way along a direction, but at least so long, from where its parent is shown, after which a block overlaps
/// none of those there.
fn clear(
    block: &Block,
    from: Triple,
    (direction, least): (Direction, f64),
    camera: &Camera,
    taken: &[Vec<Vec<Point>>],
    room: Room,
) -> Option<Triple> {
    let way = step(direction, 1.0);
    let flight = camera.paper(way);
    if flight.length() < 0.05 {
        return None;
    }
    let own = outline(block, from, camera);
    let more = (room.0 / 2.0).max(1.0);
    let begin = (room.0 / flight.length()).max(least);
    (0..2000)
        .map(|count| begin + more * f64::from(count))
        .find_map(|far| {
            let by = flight * far;
            let meets = own.iter().any(|outline| {
                let moved: Vec<Point> = outline.iter().map(|p| *p + by).collect();
                taken
                    .iter()
                    .flatten()
                    .any(|other| gap(&moved, other) < room.0)
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
