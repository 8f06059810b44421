//! Cutting many shapes out of a region.
//!
//! One shape after another would go through the whole outline each time. Shapes that meet no other one are looked at
//! against the outline as it was, and what all of them take from it is put together in one walk around it. Shapes that
//! meet are joined first. What is neither a plain bite out of the outline nor an opening is cut one after the other.

use cavalier_contours::polyline::{BooleanOp, BooleanResultInfo, PlineSource, Polyline};
use cavalier_contours::static_aabb2d_index::StaticAABB2DIndexBuilder;

use super::bites::{Effect, Outline};
use super::polyline::{from_polyline, to_polyline};
use super::{Bounds, LENGTH_TOLERANCE, Path, Region, RegionFault};

/// Up to so many shapes are cut one after the other, which takes no longer then.
const FEW: usize = 32;

/// Shapes whose boxes are so far apart, in millimetres, do not meet; far above any rounding.
const APART: f64 = 1e-3;

/// How many neighbours a shape may have in the middle before looking for them costs more than it brings.
const MOST_NEIGHBOURS: usize = 40;

/// How much cutting may still be done: vertices looked at. What goes beyond would take minutes.
#[derive(Debug)]
pub struct Effort {
    left: usize,
}

impl Effort {
    /// So many vertices may be looked at; one takes two microseconds or less.
    pub fn new(vertices: usize) -> Self {
        Self { left: vertices }
    }

    /// Whether more was asked for than was left.
    pub fn is_spent(&self) -> bool {
        self.left == 0
    }

    /// Takes from what is left, if it is enough.
    fn take(&mut self, vertices: usize) -> Result<(), RegionFault> {
        self.left = self.left.saturating_sub(vertices);
        if self.is_spent() {
            return Err(RegionFault::TooMuch);
        }
        Ok(())
    }
}

impl Region {
    /// The piece with all of some closed shapes cut out of it, as [`Region::cut`] does one after the other.
    ///
    /// # Errors
    /// The first shape that cannot be cut, by its number, and why.
    pub fn cut_all(
        self,
        shapes: &[&Path],
        effort: &mut Effort,
    ) -> Result<Region, (usize, RegionFault)> {
        let all: Vec<usize> = (0..shapes.len()).collect();
        if shapes.len() <= FEW || !self.inner.is_empty() {
            return self.cut_in_order(shapes, &all, effort);
        }
        let Some((tools, near)) = joined(shapes) else {
            return self.cut_in_order(shapes, &all, effort);
        };
        let outline = Outline::new(&self.outer);
        let mut bites = Vec::new();
        let mut openings: Vec<(usize, Path)> = Vec::new();
        let mut rest = Vec::new();
        let mut needless: Option<usize> = None;
        for Tool { shape, members } in tools {
            let last = members.last().copied().unwrap_or_default();
            // With its index at hand, a look at a vertex of the outline takes a fraction of what it takes otherwise.
            let looks = members.len() * (outline.vertices() / 50 + 10);
            effort.take(looks).map_err(|fault| (last, fault))?;
            // A shape that alone cuts nothing, or too much, is a fault, whatever it meets.
            let alone = |number: &usize| {
                let shape = to_polyline(&shapes[*number].normalised(true));
                outline.effect(&shape).is_some()
            };
            let sound = members.len() == 1 || members.iter().all(alone);
            let shape = shape.filter(|_| sound);
            match shape.and_then(|shape| Some((outline.effect(&shape)?, shape))) {
                Some((Effect::Bite(bite), _)) => {
                    bites.push(bite);
                    effort.take(looks).map_err(|fault| (last, fault))?;
                    let earlier = Earlier {
                        board: &self,
                        outline: &outline,
                        shapes,
                        near: &near,
                    };
                    let found = earlier.needless(&members, effort)?;
                    needless = [needless, found].into_iter().flatten().min();
                }
                Some((Effect::Opening, shape)) => {
                    openings.push((last, from_polyline(&shape).normalised(false)));
                }
                None => rest.extend(members),
            }
        }
        let Some(outer) = outline.without(bites) else {
            return self.cut_in_order(shapes, &all, effort);
        };
        openings.sort_by_key(|(last, _)| *last);
        rest.sort_unstable();
        let region = Region {
            outer,
            inner: openings.into_iter().map(|(_, path)| path).collect(),
        };
        let cut = region.cut_in_order(shapes, &rest, effort);
        match (needless, cut) {
            (Some(needless), Err((number, fault))) if number < needless => Err((number, fault)),
            (Some(needless), _) => Err((needless, RegionFault::Outside)),
            (None, cut) => cut,
        }
    }

    fn cut_in_order(
        self,
        shapes: &[&Path],
        order: &[usize],
        effort: &mut Effort,
    ) -> Result<Region, (usize, RegionFault)> {
        let mut region = self;
        for &index in order {
            let looks = region.outer.vertices.len() + region.inner.len() / 4;
            effort.take(looks).map_err(|fault| (index, fault))?;
            region = region.cut(shapes[index]).map_err(|fault| (index, fault))?;
        }
        Ok(region)
    }
}

/// Shapes that are cut away as one.
struct Tool {
    /// `None` where they do not make one shape without a hole.
    shape: Option<Polyline<f64>>,
    /// Their numbers, in order.
    members: Vec<usize>,
}

/// For each shape the numbers of those before it whose boxes meet its own.
type Near = Vec<Vec<usize>>;

/// The shapes, with those joined that meet; `None` where too many lie on one another.
fn joined(shapes: &[&Path]) -> Option<(Vec<Tool>, Near)> {
    let boxes: Vec<Bounds> = shapes
        .iter()
        .map(|shape| shape.bounds())
        .collect::<Option<_>>()?;
    let mut index = StaticAABB2DIndexBuilder::new(boxes.len());
    for Bounds { min, max } in &boxes {
        index.add(min.x, min.y, max.x, max.y);
    }
    let index = index.build().ok()?;
    let mut groups = Groups::new(shapes.len());
    let mut earlier: Near = vec![Vec::new(); shapes.len()];
    let mut looks = 0;
    for (number, bounds) in boxes.iter().enumerate() {
        let Bounds { min, max } = bounds.grown(APART);
        for near in index.query_iter(min.x, min.y, max.x, max.y) {
            groups.join(number, near);
            if near < number {
                earlier[number].push(near);
            }
            looks += 1;
            if looks > MOST_NEIGHBOURS * shapes.len() {
                return None;
            }
        }
    }
    let tools = groups.members().into_iter().map(|members| Tool {
        shape: united(
            members
                .iter()
                .map(|member| (boxes[*member], shapes[*member])),
        ),
        members,
    });
    Some((tools.collect(), earlier))
}

/// Which of some numbered things belong together.
struct Groups {
    /// Another one of the same group, nearer to the one that stands for it, which names itself.
    toward: Vec<usize>,
}

impl Groups {
    fn new(count: usize) -> Self {
        Self {
            toward: (0..count).collect(),
        }
    }

    fn root(&mut self, mut number: usize) -> usize {
        while self.toward[number] != number {
            self.toward[number] = self.toward[self.toward[number]];
            number = self.toward[number];
        }
        number
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.root(one), self.root(other));
        // The lowest number stands for the group, so groups come out in the order of the shapes.
        self.toward[one.max(other)] = one.min(other);
    }

    fn members(mut self) -> Vec<Vec<usize>> {
        let mut of_root = vec![Vec::new(); self.toward.len()];
        for number in 0..self.toward.len() {
            let root = self.root(number);
            of_root[root].push(number);
        }
        of_root.retain(|members| !members.is_empty());
        of_root
    }
}

/// Shapes that meet as one, neighbours first, so that each vertex is looked at as often as the pairs can be halved;
/// `None` where they make more than one outline.
fn united<'a>(shapes: impl Iterator<Item = (Bounds, &'a Path)>) -> Option<Polyline<f64>> {
    let mut shapes: Vec<(Bounds, &Path)> = shapes.collect();
    let around = shapes
        .iter()
        .map(|(bounds, _)| *bounds)
        .reduce(Bounds::union)?;
    let key = |bounds: &Bounds| {
        if around.width() >= around.height() {
            bounds.min.x
        } else {
            bounds.min.y
        }
    };
    shapes.sort_by(|(one, _), (other, _)| key(one).total_cmp(&key(other)));
    let mut left: Vec<Polyline<f64>> = shapes
        .into_iter()
        .map(|(_, shape)| to_polyline(&shape.normalised(true)))
        .collect();
    while left.len() > 1 {
        let mut halved = Vec::with_capacity(left.len().div_ceil(2));
        let mut pairs = left.into_iter();
        while let Some(one) = pairs.next() {
            halved.push(match pairs.next() {
                Some(other) => union(&one, &other)?,
                None => one,
            });
        }
        left = halved;
    }
    left.pop()
}

/// Two shapes that cross as one outline; `None` where they do not cross, or leave an island between them.
fn union(one: &Polyline<f64>, other: &Polyline<f64>) -> Option<Polyline<f64>> {
    let union = one.boolean(other, BooleanOp::Or);
    let crossing = matches!(union.result_info, BooleanResultInfo::Intersected);
    if !crossing || !union.neg_plines.is_empty() || union.pos_plines.len() != 1 {
        return None;
    }
    union
        .pos_plines
        .into_iter()
        .next()
        .map(|outline| outline.pline)
}

/// What is asked of shapes that make a bite together: whether each takes something of what those before it leave.
struct Earlier<'a> {
    board: &'a Region,
    outline: &'a Outline,
    shapes: &'a [&'a Path],
    near: &'a Near,
}

impl Earlier<'_> {
    fn shape(&self, number: usize) -> Polyline<f64> {
        to_polyline(&self.shapes[number].normalised(true))
    }

    /// The first of some shapes, in order, that finds nothing left to cut.
    fn needless(
        &self,
        members: &[usize],
        effort: &mut Effort,
    ) -> Result<Option<usize>, (usize, RegionFault)> {
        for (place, &number) in members.iter().enumerate() {
            if self.near[number].is_empty() || self.leaves_some(number) {
                continue;
            }
            let effect = self.outline.effect(&self.shape(number));
            if matches!(effect, Some(Effect::Bite(_))) {
                return Ok(Some(number));
            }
            // Within an opening it is no fault, within a bite it is; which is there at its turn hangs on the order.
            let board = self.board.clone();
            match board.cut_in_order(self.shapes, &members[..=place], effort) {
                Err((at, RegionFault::Outside)) => return Ok(Some(at)),
                Err((at, RegionFault::TooMuch)) => return Err((at, RegionFault::TooMuch)),
                Ok(_) | Err(_) => {}
            }
        }
        Ok(None)
    }

    /// Whether a shape takes something of what those near it, before it, leave.
    fn leaves_some(&self, number: usize) -> bool {
        let mut pieces = vec![self.shape(number)];
        for other in &self.near[number] {
            let other = self.shape(*other);
            pieces = pieces
                .iter()
                .flat_map(|piece| piece.boolean(&other, BooleanOp::Not).pos_plines)
                .map(|piece| piece.pline)
                .collect();
        }
        let left = pieces.iter().map(|piece| self.outline.area_within(piece));
        left.sum::<f64>() >= LENGTH_TOLERANCE
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Point, Vertex, circle, rectangle, rounded_rectangle};
    use proptest::prelude::*;

    fn boxed(x: f64, y: f64, w: f64, h: f64) -> Path {
        rectangle(Bounds::new(Point::new(x, y), Point::new(x + w, y + h)))
    }

    fn board(width: f64) -> Region {
        Region::new(&boxed(0.0, 0.0, width, 300.0))
    }

    /// What is left, and how many vertices were looked at.
    fn cut(region: Region, shapes: &[Path]) -> (Result<Region, (usize, RegionFault)>, usize) {
        let mut effort = Effort::new(usize::MAX);
        let shapes: Vec<&Path> = shapes.iter().collect();
        let cut = region.cut_all(&shapes, &mut effort);
        (cut, usize::MAX - effort.left)
    }

    fn one_by_one(region: Region, shapes: &[Path]) -> Result<Region, (usize, RegionFault)> {
        shapes
            .iter()
            .enumerate()
            .try_fold(region, |region, (number, shape)| {
                region.cut(shape).map_err(|fault| (number, fault))
            })
    }

    fn same_path(one: &Path, other: &Path) -> bool {
        let near = |(a, b): (&Vertex, &Vertex)| {
            a.point.distance(b.point) < 1e-6 && (a.bulge - b.bulge).abs() < 1e-6
        };
        one.vertices.len() == other.vertices.len()
            && one.vertices.iter().zip(&other.vertices).all(near)
    }

    fn notches(count: usize, width: f64) -> Vec<Path> {
        let one = |i: usize| {
            let x = 0.5 + i as f64 * 0.7;
            rounded_rectangle(
                Bounds::new(Point::new(x, -1.0), Point::new(x + width, 10.0)),
                0.1,
            )
        };
        (0..count).map(one).collect()
    }

    /// By arithmetic: each takes 0.5 by 10 and leaves two corners of r^2 (1 - pi/4).
    #[test]
    fn notches_a_fifth_of_a_millimetre_apart_are_cut_together() {
        let (region, _) = cut(board(800.0), &notches(1000, 0.5));
        let region = region.unwrap();
        let corner = 0.01 * (1.0 - std::f64::consts::PI / 4.0);
        let left = 800.0 * 300.0 - 1000.0 * (5.0 - 2.0 * corner);
        assert!((region.area() - left).abs() < 1e-5, "{}", region.area());
        // Six new vertices for each notch, at both ends of its two arcs and on the edge.
        assert_eq!(region.outer.vertices.len(), 4 + 6 * 1000);
        let (few, _) = cut(board(800.0), &notches(150, 0.5));
        let same = one_by_one(board(800.0), &notches(150, 0.5)).unwrap();
        assert!(same_path(&few.unwrap().outer, &same.outer));
    }

    #[test]
    fn four_times_the_shapes_take_little_more_than_four_times_the_work() {
        for width in [0.5, 0.8] {
            let (few, less) = cut(board(3000.0), &notches(1000, width));
            let (many, more) = cut(board(3000.0), &notches(4000, width));
            assert!(few.is_ok() && many.is_ok());
            assert!(more <= 5 * less, "{width}: {less} vertices, then {more}");
        }
        let holes = |count: usize| -> Vec<Path> {
            let at =
                |i: usize| Point::new(5.0 + (i % 400) as f64 * 5.0, 5.0 + (i / 400) as f64 * 5.0);
            (0..count).map(|i| circle(at(i), 2.0)).collect()
        };
        let (few, less) = cut(board(3000.0), &holes(1000));
        let (many, more) = cut(board(3000.0), &holes(4000));
        assert_eq!(
            (few.unwrap().inner.len(), many.unwrap().inner.len()),
            (1000, 4000)
        );
        assert!(more <= 5 * less, "{less} vertices, then {more}");
    }

    #[test]
    fn shapes_that_would_take_minutes_are_refused() {
        // Each within the one before, so that none of them can be joined to another.
        let nested: Vec<Path> = (0..2000)
            .map(|i| {
                boxed(
                    10.0,
                    10.0,
                    2.0 + f64::from(i) * 0.1,
                    2.0 + f64::from(i) * 0.1,
                )
            })
            .collect();
        let shapes: Vec<&Path> = nested.iter().collect();
        let refused = board(800.0).cut_all(&shapes, &mut Effort::new(1000));
        assert!(
            matches!(refused, Err((_, RegionFault::TooMuch))),
            "{refused:?}"
        );
    }

    #[test]
    fn a_fault_among_many_is_told_of_the_shape_that_has_it() {
        let mut shapes = notches(200, 0.5);
        shapes.insert(120, boxed(400.0, -1.0, 10.0, 302.0));
        assert_eq!(
            cut(board(800.0), &shapes).0,
            Err((120, RegionFault::Pieces(2)))
        );
        shapes[120] = boxed(900.0, 10.0, 10.0, 10.0);
        assert_eq!(
            cut(board(800.0), &shapes).0,
            Err((120, RegionFault::Outside))
        );
    }

    #[test]
    fn a_shape_that_finds_nothing_left_among_many_is_told() {
        for count in [20, 200] {
            // Wider and deeper than the one after it.
            let mut shapes = notches(count, 0.5);
            shapes.push(boxed(500.0, -1.0, 20.0, 30.0));
            shapes.push(boxed(505.0, -1.0, 5.0, 20.0));
            let found = cut(board(800.0), &shapes).0;
            assert_eq!(found, Err((count + 1, RegionFault::Outside)), "{count}");
            // An opening in a bite, and by two that cover it together.
            shapes[count + 1] = circle(Point::new(510.0, 15.0), 4.0);
            let found = cut(board(800.0), &shapes).0;
            assert_eq!(found, Err((count + 1, RegionFault::Outside)), "{count}");
            shapes[count + 1] = boxed(515.0, -1.0, 20.0, 30.0);
            shapes.push(boxed(510.0, -1.0, 15.0, 20.0));
            let found = cut(board(800.0), &shapes).0;
            assert_eq!(found, Err((count + 2, RegionFault::Outside)), "{count}");
            shapes[count + 2] = boxed(510.0, -1.0, 15.0, 31.0);
            assert!(cut(board(800.0), &shapes).0.is_ok(), "{count}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]
        /// Whatever is cut, all at once leaves what one after the other leaves, or finds the fault too.
        #[test]
        fn together_is_as_one_by_one(
            shapes in prop::collection::vec(
                (0.0..390.0f64, -20.0..290.0f64, 0.5..12.0f64, 0.5..25.0f64, any::<bool>()), 33..90,
            ),
        ) {
            let shapes: Vec<Path> = shapes
                .into_iter()
                .map(|(x, y, w, h, round)| {
                    if round {
                        circle(Point::new(x, y), w / 2.0)
                    } else {
                        boxed(x, y, w, h)
                    }
                })
                .collect();
            match (cut(board(400.0), &shapes).0, one_by_one(board(400.0), &shapes)) {
                (Ok(one), Ok(other)) => {
                    prop_assert!((one.area() - other.area()).abs() < 1e-4);
                    prop_assert_eq!(one.inner.len(), other.inner.len());
                    prop_assert!(same_path(&one.outer, &other.outer));
                }
                // Into how many pieces it falls meanwhile depends on their order, all at once does not.
                (Ok(_), Err((number, fault))) => {
                    prop_assert_ne!(fault, RegionFault::Outside);
                    prop_assert!(board(400.0).cut(&shapes[number]).is_ok());
                }
                (one, other) => prop_assert!(one.is_err() && other.is_err(), "{one:?} {other:?}"),
            }
        }
    }
}
