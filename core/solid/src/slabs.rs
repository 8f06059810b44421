//! A part as a stack of slabs: between two depths at which some work ends, its cross-section is the same.

use std::collections::{BTreeMap, BTreeSet};

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use jigless_model::geom::{Path, Point, Segment};

use crate::grid::{CHORD_ERROR, Contour, Node, combined, contour, node, point, without_spikes};
use crate::mesh::{Facet, Mesh};

/// Depths that differ by less, in millimetres, are the same.
const SAME_DEPTH: f64 = 1e-6;

/// Something that is taken away between two depths below the front face, in millimetres.
#[derive(Debug, Clone)]
pub(crate) struct Taken {
    /// Its closed border.
    pub(crate) outline: Path,
    /// From this depth.
    pub(crate) from: f64,
    /// To this one.
    pub(crate) to: f64,
}

/// The slabs of a board of a thickness with a border, less what is taken away. x and y are the part's, z is 0 on the front
/// face and falls into the wood.
pub(crate) fn stack(outline: &Path, thickness: f64, taken: &[Taken]) -> Mesh {
    let depths = depths(thickness, taken);
    let border = [contour(outline)];
    let tools: Vec<Contour> = taken.iter().map(|tool| contour(&tool.outline)).collect();
    let mut sections: Vec<Vec<Contour>> = Vec::with_capacity(depths.len() + 1);
    sections.push(Vec::new());
    for slab in depths.windows(2) {
        let middle = f64::midpoint(slab[0], slab[1]);
        let here: Vec<Contour> = taken
            .iter()
            .zip(&tools)
            .filter(|(tool, _)| tool.from < middle && middle < tool.to)
            .map(|(_, contour)| contour.clone())
            .collect();
        sections.push(less(&border, &here));
    }
    sections.push(Vec::new());

    // What looks to the front and to the back at each depth.
    let mut levels: Vec<[Vec<Contour>; 2]> = sections
        .windows(2)
        .map(|pair| [less(&pair[1], &pair[0]), less(&pair[0], &pair[1])])
        .collect();
    let all = sections.iter().chain(levels.iter().flatten()).flatten();
    let nodes: BTreeSet<Node> = all.flatten().copied().collect();
    for contour in sections
        .iter_mut()
        .chain(levels.iter_mut().flatten())
        .flatten()
    {
        divide(contour, &nodes);
        // Two sides that run on each other for a stretch show only now that both are divided alike.
        *contour = without_spikes(std::mem::take(contour));
    }

    let curves = Curves::of(std::iter::once(outline).chain(taken.iter().map(|t| &t.outline)));
    let mut builder = Builder::default();
    for (level, [front, back]) in levels.iter().enumerate() {
        let depth = depths[level];
        builder.flat(front, level, depth, true);
        builder.flat(back, level, depth, false);
    }
    for (level, slab) in depths.windows(2).enumerate() {
        for contour in &sections[level + 1] {
            builder.walls(contour, level, slab, &curves);
        }
    }
    builder.mesh.merged()
}

/// The depths at which the cross-section may change, from the front face to the back.
fn depths(thickness: f64, taken: &[Taken]) -> Vec<f64> {
    let mut depths: Vec<f64> = taken
        .iter()
        .flat_map(|tool| [tool.from, tool.to])
        .filter(|depth| *depth > SAME_DEPTH && *depth < thickness - SAME_DEPTH)
        .chain([0.0, thickness])
        .collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup_by(|a, b| (*a - *b).abs() < SAME_DEPTH);
    depths
}

fn less(subject: &[Contour], tools: &[Contour]) -> Vec<Contour> {
    if tools.is_empty() {
        return subject.to_vec();
    }
    // A tool may run clockwise, and so may a hole of a section: each point counts once however often it is covered.
    combined(subject, FillRule::NonZero, tools, OverlayRule::Difference)
}

/// Puts the nodes that lie on the sides of a contour between its own.
fn divide(contour: &mut Contour, nodes: &BTreeSet<Node>) {
    let count = contour.len();
    let mut divided = Contour::with_capacity(count);
    for index in 0..count {
        let (from, to) = (contour[index], contour[(index + 1) % count]);
        divided.push(from);
        let (dx, dy) = ((to.x - from.x) as f64, (to.y - from.y) as f64);
        let length = dx.hypot(dy);
        let mut between: Vec<(f64, Node)> = near(nodes, from, to)
            .filter_map(|node| {
                let (x, y) = ((node.x - from.x) as f64, (node.y - from.y) as f64);
                let along = (x * dx + y * dy) / length;
                let off = (x * dy - y * dx).abs() / length;
                (off <= ON_SIDE && along > ON_SIDE && along < length - ON_SIDE)
                    .then_some((along, node))
            })
            .collect();
        between.sort_by(|a, b| a.0.total_cmp(&b.0));
        divided.extend(between.into_iter().map(|(_, node)| node));
    }
    *contour = divided;
}

/// A node this near to a side, in steps of the grid, lies on it: rounding moves crossings by a step.
const ON_SIDE: f64 = 3.0;

/// The nodes in the upright box of a side.
fn near(nodes: &BTreeSet<Node>, from: Node, to: Node) -> impl Iterator<Item = Node> + '_ {
    let room = ON_SIDE as i64;
    let low = Node::new(from.x.min(to.x) - room, i64::MIN);
    let high = Node::new(from.x.max(to.x) + room, i64::MAX);
    let (bottom, top) = (from.y.min(to.y) - room, from.y.max(to.y) + room);
    nodes
        .range(low..=high)
        .copied()
        .filter(move |node| (bottom..=top).contains(&node.y))
}

/// The arcs of some paths, by the nodes on them.
struct Curves {
    arcs: Vec<(Point, f64)>,
    at: BTreeMap<Node, Vec<usize>>,
}

impl Curves {
    fn of<'a>(paths: impl Iterator<Item = &'a Path>) -> Self {
        let (mut arcs, mut at) = (Vec::new(), BTreeMap::<Node, Vec<usize>>::new());
        for path in paths {
            for segment in path.segments() {
                let Segment::Arc(arc) = segment else { continue };
                let alone = Path {
                    vertices: vec![
                        jigless_model::geom::Vertex {
                            point: arc.from,
                            bulge: arc.bulge,
                        },
                        jigless_model::geom::Vertex {
                            point: arc.to,
                            bulge: 0.0,
                        },
                    ],
                    closed: false,
                };
                let number = arcs.len();
                arcs.push((arc.centre(), arc.radius()));
                for on in contour(&alone).into_iter().chain([node(arc.to)]) {
                    at.entry(on).or_default().push(number);
                }
            }
        }
        Self { arcs, at }
    }

    /// Whether a side is a chord of an arc, or a piece of one.
    fn have(&self, from: Node, to: Node) -> bool {
        let of = |one: Node, other: Node| {
            let numbers = self.at.get(&one).map_or(&[][..], Vec::as_slice);
            numbers.iter().any(|&number| {
                let (centre, radius) = self.arcs[number];
                let within = |at: Point| {
                    let off = radius - at.distance(centre);
                    (-1e-5..=CHORD_ERROR + 1e-5).contains(&off)
                };
                let (a, b) = (point(one), point(other));
                within(b) && within(a.toward(b, 0.5))
            })
        };
        of(from, to) || of(to, from)
    }
}

#[derive(Default)]
struct Builder {
    mesh: Mesh,
    numbers: BTreeMap<(usize, Node), u32>,
}

impl Builder {
    fn corner(&mut self, at: Node, level: usize, depth: f64) -> u32 {
        *self.numbers.entry((level, at)).or_insert_with(|| {
            let flat = point(at);
            self.mesh.corners.push([flat.x, flat.y, -depth]);
            self.mesh.corners.len() as u32 - 1
        })
    }

    fn flat(&mut self, contours: &[Contour], level: usize, depth: f64, front: bool) {
        if contours.is_empty() {
            return;
        }
        let loops = contours
            .iter()
            .map(|contour| {
                let mut border: Vec<u32> = contour
                    .iter()
                    .map(|&at| self.corner(at, level, depth))
                    .collect();
                if !front {
                    border.reverse();
                }
                border
            })
            .collect();
        self.mesh.facets.push(Facet {
            loops,
            normal: [0.0, 0.0, if front { 1.0 } else { -1.0 }],
            curved: false,
        });
    }

    fn walls(&mut self, contour: &Contour, level: usize, slab: &[f64], curves: &Curves) {
        for (index, &from) in contour.iter().enumerate() {
            let to = contour[(index + 1) % contour.len()];
            let across = (point(to) - point(from)).unit();
            let border = vec![
                self.corner(from, level + 1, slab[1]),
                self.corner(to, level + 1, slab[1]),
                self.corner(to, level, slab[0]),
                self.corner(from, level, slab[0]),
            ];
            self.mesh.facets.push(Facet {
                loops: vec![border],
                normal: [across.y, -across.x, 0.0],
                curved: curves.have(from, to),
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Bounds, circle, rectangle};

    fn board(taken: &[Taken]) -> Mesh {
        stack(&rectangle(Bounds::of_size(400.0, 300.0)), 18.0, taken)
    }

    fn boxed(x: f64, y: f64, w: f64, h: f64) -> Path {
        rectangle(Bounds::new(Point::new(x, y), Point::new(x + w, y + h)))
    }

    #[test]
    fn a_board_has_six_sides_and_twelve_edges() {
        let mesh = board(&[]);
        assert_eq!((mesh.facets.len(), mesh.corners.len()), (6, 8));
        let edges = mesh.edges().unwrap();
        assert_eq!(edges.len(), 12);
        let measures = mesh.measures();
        assert!((measures.volume - 400.0 * 300.0 * 18.0).abs() < 1e-3);
        let area = 2.0 * (400.0 * 300.0 + 400.0 * 18.0 + 300.0 * 18.0);
        assert!((measures.area - area).abs() < 1e-3);
        assert!((measures.centre[2] + 9.0).abs() < 1e-9);
    }

    /// By arithmetic: a groove right across of 20 by 8 and one of 10 by 5 that crosses it, on the front; on the back
    /// a rebate along the lower edge.
    #[test]
    fn grooves_that_cross_stay_closed() {
        let mesh = board(&[
            Taken {
                outline: boxed(100.0, 0.0, 20.0, 300.0),
                from: 0.0,
                to: 8.0,
            },
            Taken {
                outline: boxed(0.0, 150.0, 400.0, 10.0),
                from: 0.0,
                to: 5.0,
            },
            Taken {
                outline: boxed(0.0, 0.0, 400.0, 15.0),
                from: 12.0,
                to: 18.0,
            },
        ]);
        assert!(mesh.edges().is_some());
        let left = 400.0 * 300.0 * 18.0
            - 20.0 * 300.0 * 8.0
            - (400.0 - 20.0) * 10.0 * 5.0
            - 400.0 * 15.0 * 6.0;
        assert!((mesh.measures().volume - left).abs() < 1e-3);
    }

    /// Two holes of one depth that overlap by a lens, one of them through: the floor that is left is cut into triangles of
    /// its own area.
    #[test]
    fn holes_that_overlap_leave_a_floor_without_spikes() {
        let hole = |y: f64| circle(Point::new(37.0, y), 2.5);
        let mesh = board(&[
            Taken {
                outline: hole(35.9),
                from: 0.0,
                to: 8.0,
            },
            Taken {
                outline: hole(40.0),
                from: 0.0,
                to: 12.0,
            },
            Taken {
                outline: hole(67.9),
                from: 0.0,
                to: 8.0,
            },
        ]);
        assert!(mesh.edges().is_some());
        for facet in &mesh.facets {
            let triangles = mesh.triangles(facet).expect("triangles");
            let alone = Mesh {
                corners: mesh.corners.clone(),
                facets: triangles
                    .iter()
                    .map(|corners| Facet {
                        loops: vec![corners.to_vec()],
                        ..facet.clone()
                    })
                    .collect(),
            };
            let whole = Mesh {
                corners: mesh.corners.clone(),
                facets: vec![facet.clone()],
            };
            assert!((alone.measures().area - whole.measures().area).abs() < 1e-6);
        }
    }

    #[test]
    fn the_strips_of_a_hole_are_curved_and_its_rims_are_not_smooth() {
        let hole = circle(Point::new(50.0, 50.0), 4.0);
        let mesh = board(&[Taken {
            outline: hole,
            from: 0.0,
            to: 10.0,
        }]);
        let strips = mesh.facets.iter().filter(|facet| facet.curved).count();
        assert_eq!(strips, 16);
        let edges = mesh.edges().unwrap();
        let smooth = edges.iter().filter(|edge| edge.smooth).count();
        assert_eq!(smooth, 16);
        assert_eq!(edges.len(), 12 + 3 * 16);
    }
}
