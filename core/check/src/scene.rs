//! What checks look at: the plan, its parts with their true contours, and what is taken out of each.

use std::collections::BTreeMap;

use jigless_model::fact::Fact;
use jigless_model::frame::Frame;
use jigless_model::geom::{Bounds, Path, Point, Region, rectangle};
use jigless_model::operation::{Depth, Drill, Mouth, Operation, Work};
use jigless_model::plan::{Part, Plan};
use jigless_model::side::{Edge, Face};
use jigless_model::whole::Box3;
use jigless_model::workpiece::Workpiece;
use rstar::{AABB, RTree, RTreeObject};

use crate::assembled::{Assembled, grown};
use crate::driven::{Driven, driven_into};
use crate::held::Held;

/// The most neighbours that are looked at, for each void on average.
const MOST_NEIGHBOURS: usize = 16;

/// What checks look at.
#[derive(Debug)]
pub struct Scene<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Every piece that has a place.
    pub assembled: Assembled<'a>,
    /// Every screw, bolt and the like of a stated length in its place, each with the number of the piece that it goes into
    /// first.
    pub driven: Vec<(usize, Driven<'a>)>,
    /// What holds each piece.
    pub held: Held,
    pieces: Vec<CheckedPart<'a>>,
    by_id: BTreeMap<&'a str, usize>,
    /// Numbers in `driven`, by the number of the part and that of its feature.
    driven_by: BTreeMap<(usize, usize), Vec<usize>>,
    driven_tree: RTree<Line>,
    steps: BTreeMap<&'a str, usize>,
}

/// The box of something that is driven, in its index.
#[derive(Debug)]
struct Line {
    number: usize,
    bounds: Box3,
}

impl RTreeObject for Line {
    type Envelope = AABB<[f64; 3]>;

    fn envelope(&self) -> Self::Envelope {
        AABB::from_corners(self.bounds.min, self.bounds.max)
    }
}

/// A part with what is taken out of it.
#[derive(Debug)]
pub struct CheckedPart<'a> {
    /// The part and its work.
    pub workpiece: &'a Workpiece,
    /// What is left of it.
    pub region: Region,
    /// What is taken out, in the order of the plan.
    pub voids: Vec<Void<'a>>,
    /// Every two voids that come near each other as seen on the front, in the order of the plan.
    near: Vec<(u32, u32)>,
    index: RTree<Boxed>,
    /// Where every hole square to a face lies on the material.
    pub rims: Vec<Rim<'a>>,
    /// What features know, each with the number of the feature.
    pub facts: Vec<(usize, &'a Fact)>,
    /// The operations of each feature by their numbers, so that a finding of one looks at its own alone.
    by_feature: BTreeMap<usize, Vec<u32>>,
}

/// Something that is taken out of a part from a face or an edge; contours are not among them.
#[derive(Debug, Clone)]
pub struct Void<'a> {
    /// The operation.
    pub operation: &'a Operation,
    /// Its outline as seen on the front.
    pub footprint: Footprint,
    /// Where it begins, from the front face.
    pub low: f64,
    /// Where it ends, from the front face.
    pub high: f64,
    bounds: Bounds,
}

/// A hole square to a face, and where it lies on the material.
#[derive(Debug, Clone, Copy)]
pub struct Rim<'a> {
    /// The operation.
    pub operation: &'a Operation,
    /// The hole.
    pub drill: &'a Drill,
    /// Half the diameter of the hole or of its mouth.
    pub radius: f64,
    /// Whether its centre lies on the material.
    pub inside: bool,
    /// From its centre to the nearest contour.
    pub to_contour: f64,
    /// The nearest point of the contours.
    pub nearest: Point,
}

/// The outline of a void as seen on the front.
#[derive(Debug, Clone)]
pub enum Footprint {
    /// A round hole.
    Circle(Point, f64),
    /// Anything else.
    Area(Path),
}

/// The box of a void in the spatial index.
#[derive(Debug)]
struct Boxed {
    number: u32,
    bounds: Bounds,
}

impl RTreeObject for Boxed {
    type Envelope = AABB<[f64; 2]>;

    fn envelope(&self) -> Self::Envelope {
        envelope(self.bounds)
    }
}

fn envelope(bounds: Bounds) -> AABB<[f64; 2]> {
    AABB::from_corners([bounds.min.x, bounds.min.y], [bounds.max.x, bounds.max.y])
}

impl<'a> Scene<'a> {
    /// Looks at a plan and its lowered parts. Voids nearer to each other than `reach` are neighbours.
    pub(crate) fn new(plan: &'a Plan, workpieces: &'a [Workpiece], reach: f64) -> Self {
        let pieces: Vec<CheckedPart> = workpieces
            .iter()
            .map(|workpiece| CheckedPart::new(workpiece, reach))
            .collect();
        let by_id = pieces
            .iter()
            .enumerate()
            .map(|(index, piece)| (piece.workpiece.part.id.as_str(), index))
            .collect();
        let assembled = Assembled::new(workpieces);
        let mut driven: Vec<(usize, Driven)> = Vec::new();
        let mut driven_by: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
        for (number, solid) in assembled.solids.iter().enumerate() {
            for one in driven_into(solid, &pieces[solid.part].facts) {
                let of = driven_by.entry((solid.part, one.feature)).or_default();
                of.push(driven.len());
                driven.push((number, one.run_from_the_free_side(&assembled, number)));
            }
        }
        let lines = driven.iter().enumerate().map(|(number, (_, one))| Line {
            number,
            bounds: grown(Box3::new(one.head, one.tip()), one.radius),
        });
        let steps = plan.order.iter().enumerate();
        Self {
            plan,
            steps: steps.map(|(at, step)| (step.part.as_str(), at)).collect(),
            driven_tree: RTree::bulk_load(lines.collect()),
            held: Held::new(plan, &assembled, &driven),
            assembled,
            driven,
            pieces,
            by_id,
            driven_by,
        }
    }

    /// Numbers of what is driven whose boxes meet a box, in order.
    pub fn driven_in(&self, bounds: Box3) -> Vec<usize> {
        let around = AABB::from_corners(bounds.min, bounds.max);
        let found = self.driven_tree.locate_in_envelope_intersecting(around);
        let mut numbers: Vec<usize> = found.map(|line| line.number).collect();
        numbers.sort_unstable();
        numbers
    }

    /// In which step of the assembly a part is put in place, from 0.
    pub fn step_of(&self, part: &str) -> Option<usize> {
        self.steps.get(part).copied()
    }

    /// Whether a piece that has a place is held by nothing, which is reported by itself.
    pub fn is_loose(&self, solid: usize) -> bool {
        self.held.is_loose(solid)
    }

    /// The part of a piece that has a place.
    pub fn part_of(&self, solid: usize) -> &CheckedPart<'a> {
        &self.pieces[self.assembled.solids[solid].part]
    }

    /// What of a stated length goes into the holes of a feature, over all places of its part.
    pub fn driven_of(&self, part: &Part, feature: usize) -> impl Iterator<Item = &Driven<'a>> {
        let part = self.by_id.get(part.id.as_str()).copied();
        let numbers = part.and_then(|part| self.driven_by.get(&(part, feature)));
        let numbers = numbers.into_iter().flatten();
        numbers.map(|number| &self.driven[*number].1)
    }

    /// The parts. A mirror image is left out where it has no work of its own: it has the same faults at the same places
    /// of the text.
    pub fn pieces(&self) -> impl Iterator<Item = &CheckedPart<'a>> {
        self.pieces.iter().filter(|piece| {
            let part = piece.part();
            !part.is_mirrored() || part.features.iter().any(|placed| placed.only.is_some())
        })
    }

    /// The parts, mirror images too.
    pub fn all_pieces(&self) -> impl Iterator<Item = &CheckedPart<'a>> {
        self.pieces.iter()
    }

    /// Every part with each of its facts and the number of the feature that knows it; mirror images are left out.
    pub fn facts<'s>(&'s self) -> impl Iterator<Item = (&'s CheckedPart<'a>, usize, &'a Fact)> {
        self.pieces().flat_map(|piece| {
            let facts = piece.facts.iter();
            facts.map(move |(feature, fact)| (piece, *feature, *fact))
        })
    }

    /// A part by its name, mirror images too.
    pub fn piece(&self, id: &str) -> Option<&CheckedPart<'a>> {
        self.by_id.get(id).map(|index| &self.pieces[*index])
    }
}

impl<'a> CheckedPart<'a> {
    fn new(workpiece: &'a Workpiece, reach: f64) -> Self {
        let region = workpiece.region();
        let part = &workpiece.part;
        let frame = part.frame();
        let voids: Vec<Void> = workpiece
            .operations
            .iter()
            .filter_map(|operation| Void::of(operation, &frame))
            .collect();
        let facts = part
            .features
            .iter()
            .enumerate()
            .flat_map(|(index, placed)| {
                let facts = placed.work.facts.iter();
                facts.map(move |fact| (index, fact))
            })
            .collect();
        let rims = workpiece
            .operations
            .iter()
            .filter_map(|operation| Rim::of(operation, &region))
            .collect();
        let index = index_of(&voids);
        let mut by_feature: BTreeMap<usize, Vec<u32>> = BTreeMap::new();
        for (number, operation) in (0..).zip(&workpiece.operations) {
            if let Some(feature) = operation.origin.feature {
                by_feature.entry(feature).or_default().push(number);
            }
        }
        Self {
            workpiece,
            by_feature,
            near: near_pairs(&voids, &index, reach),
            index,
            voids,
            rims,
            region,
            facts,
        }
    }

    /// The voids whose boxes meet one, as seen on the front, in the order of the plan.
    pub fn voids_in(&self, bounds: Bounds) -> Vec<&Void<'a>> {
        let found = self.index.locate_in_envelope_intersecting(envelope(bounds));
        let mut numbers: Vec<u32> = found.map(|boxed| boxed.number).collect();
        numbers.sort_unstable();
        let of = |number: u32| &self.voids[number as usize];
        numbers.into_iter().map(of).collect()
    }

    /// The part.
    pub fn part(&self) -> &'a Part {
        &self.workpiece.part
    }

    /// Every two voids that come as near to each other as two holes may, as seen on the front, in the order of the
    /// plan. Distances between their boxes, not between themselves.
    pub fn near_pairs(&self) -> impl Iterator<Item = (&Void<'a>, &Void<'a>)> {
        let pair = |(a, b): &(u32, u32)| (&self.voids[*a as usize], &self.voids[*b as usize]);
        // The box of a bore that runs at an angle says too little of where it is; it has a check of its own.
        let straight = |void: &Void| !matches!(void.operation.work, Work::AngledBore(_));
        let pairs = self.near.iter().map(pair);
        pairs.filter(move |(a, b)| straight(a) && straight(b))
    }

    /// The operations of a feature, in their order.
    pub fn operations_of(&self, feature: usize) -> impl Iterator<Item = &'a Operation> {
        let workpiece = self.workpiece;
        let numbers = self.by_feature.get(&feature).into_iter().flatten();
        numbers.map(|number| &workpiece.operations[*number as usize])
    }

    /// The drills of a feature.
    pub fn drills_of(&self, feature: usize) -> impl Iterator<Item = (&'a Operation, &'a Drill)> {
        self.operations_of(feature)
            .filter_map(|operation| match &operation.work {
                Work::Drill(drill) => Some((operation, drill)),
                _ => None,
            })
    }
}

/// Every two voids whose boxes come within `reach` of each other, in their order. A heap of holes in one place is looked
/// at until it is clear what is wrong, and no further.
fn near_pairs(voids: &[Void], index: &RTree<Boxed>, reach: f64) -> Vec<(u32, u32)> {
    let mut pairs = Vec::new();
    let mut looks_left = MOST_NEIGHBOURS * voids.len();
    for (number, void) in (0..).zip(voids) {
        let around = envelope(void.bounds.grown(reach));
        let start = pairs.len();
        for other in index
            .locate_in_envelope_intersecting(around)
            .take(looks_left)
        {
            looks_left -= 1;
            if other.number > number {
                pairs.push((number, other.number));
            }
        }
        pairs[start..].sort_unstable();
    }
    pairs
}

fn index_of(voids: &[Void]) -> RTree<Boxed> {
    let boxes = (0..).zip(voids).map(|(number, void)| Boxed {
        number,
        bounds: void.bounds,
    });
    RTree::bulk_load(boxes.collect())
}

impl<'a> Rim<'a> {
    fn of(operation: &'a Operation, region: &Region) -> Option<Self> {
        let Work::Drill(drill) = &operation.work else {
            return None;
        };
        let (to_contour, nearest) = nearest(region, drill.centre);
        Some(Self {
            operation,
            drill,
            radius: drill.mouth.map_or(drill.diameter, Mouth::diameter) / 2.0,
            inside: region.contains(drill.centre),
            to_contour,
            nearest,
        })
    }
}

/// The nearest point of the contours, and how far it is.
fn nearest(region: &Region, point: Point) -> (f64, Point) {
    std::iter::once(&region.outer)
        .chain(&region.inner)
        .flat_map(Path::segments)
        .map(|segment| segment.nearest_to(point))
        .map(|on| (on.distance(point), on))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .unwrap_or((f64::INFINITY, point))
}

impl<'a> Void<'a> {
    fn of(operation: &'a Operation, frame: &Frame) -> Option<Self> {
        let thickness = frame.thickness;
        let range = |face: Face, depth: f64| match face {
            Face::Front => (0.0, depth),
            Face::Back => (thickness - depth, thickness),
        };
        let (footprint, (low, high)) = match &operation.work {
            Work::Drill(drill) => {
                let depth = match drill.depth {
                    Depth::Through => thickness,
                    Depth::Blind(depth) => depth,
                };
                let circle = Footprint::Circle(drill.centre, drill.diameter / 2.0);
                (circle, range(drill.face, depth))
            }
            Work::MillArea(area) => (
                Footprint::Area(area.outline.clone()),
                range(area.face, area.depth),
            ),
            Work::EdgeDrill(hole) => {
                let radius = hole.diameter / 2.0;
                let bounds = Bounds::new(
                    frame.from_edge(hole.edge, hole.along - radius, 0.0),
                    frame.from_edge(hole.edge, hole.along + radius, hole.depth),
                );
                (
                    Footprint::Area(rectangle(bounds)),
                    (hole.from_front - radius, hole.from_front + radius),
                )
            }
            Work::AngledBore(bore) => {
                let along = bore.exit - bore.entry;
                let (run, across) = (along.unit(), along.left().unit() * (bore.diameter / 2.0));
                let start = bore.entry - run * bore.mouth_half_length();
                let corners = [
                    start - across,
                    bore.exit - across,
                    bore.exit + across,
                    start + across,
                ];
                (
                    Footprint::Area(Path::of_points(corners, true)),
                    range(bore.face, bore.exit_depth + bore.pilot / 2.0),
                )
            }
            Work::CutContour(_) | Work::Mark(_) | Work::Bevel(_) => {
                return None;
            }
        };
        let bounds = match &footprint {
            Footprint::Circle(centre, radius) => Bounds::around(*centre, *radius),
            Footprint::Area(path) => path.bounds()?,
        };
        Some(Self {
            operation,
            footprint,
            low,
            high,
            bounds,
        })
    }

    /// Its short name on paper.
    pub fn id(&self) -> &'a str {
        match &self.operation.work {
            Work::Drill(drill) => &drill.id,
            Work::MillArea(area) => &area.id,
            Work::EdgeDrill(hole) => &hole.id,
            Work::AngledBore(bore) => &bore.id,
            Work::CutContour(_) | Work::Mark(_) | Work::Bevel(_) => "",
        }
    }

    /// What it is called.
    pub fn name(&self) -> &'static str {
        match &self.operation.work {
            Work::MillArea(area) => area.kind.name(),
            Work::EdgeDrill(_) => "edge hole",
            _ => "hole",
        }
    }

    /// Whether it is drilled into an edge.
    pub fn is_edge_hole(&self) -> bool {
        matches!(self.operation.work, Work::EdgeDrill(_))
    }

    /// How much their depths overlap; negative where wood lies between them.
    pub fn overlap_in_depth(&self, other: &Void) -> f64 {
        self.high.min(other.high) - self.low.max(other.low)
    }

    /// Wood between the two as seen on the front; negative where they overlap, by how much where both are round.
    pub fn gap_to(&self, other: &Void) -> f64 {
        match (&self.footprint, &other.footprint) {
            (Footprint::Circle(a, r), Footprint::Circle(b, s)) => a.distance(*b) - r - s,
            (Footprint::Circle(centre, radius), Footprint::Area(path))
            | (Footprint::Area(path), Footprint::Circle(centre, radius)) => {
                let distance = path.distance_to(*centre);
                let signed = if path.contains(*centre) {
                    -distance
                } else {
                    distance
                };
                signed - radius
            }
            (Footprint::Area(a), Footprint::Area(b)) => area_gap(a, b),
        }
    }
}

fn area_gap(a: &Path, b: &Path) -> f64 {
    let inside = |of: &Path, path: &Path| path.vertices.iter().any(|v| of.contains(v.point));
    let centre = |path: &Path| path.bounds().map(Bounds::centre);
    let crosses = inside(a, b)
        || inside(b, a)
        || centre(b).is_some_and(|point| a.contains(point))
        || centre(a).is_some_and(|point| b.contains(point));
    if crosses {
        return -1.0;
    }
    a.segments()
        .flat_map(|first| {
            b.segments()
                .map(move |second| first.closest_to(&second).distance)
        })
        .fold(f64::INFINITY, f64::min)
}

/// What work is called on paper: `hole H3`.
pub fn name_of(operation: &Operation) -> String {
    match &operation.work {
        Work::Drill(drill) => format!("hole {}", drill.id),
        Work::EdgeDrill(hole) => format!("edge hole {}", hole.id),
        Work::AngledBore(bore) => format!("pocket {}", bore.id),
        Work::MillArea(area) => format!("{} {}", area.kind.name(), area.id),
        Work::CutContour(_) => "the contour".to_owned(),
        Work::Mark(_) => "a mark".to_owned(),
        Work::Bevel(_) => "a bevel".to_owned(),
    }
}

/// The edges that lie nearest to a point on each of the four sides, with the distances.
pub fn edge_distances(frame: &Frame, point: Point) -> [(Edge, f64); 4] {
    [
        (Edge::Left, point.x),
        (Edge::Right, frame.width - point.x),
        (Edge::Bottom, point.y),
        (Edge::Top, frame.height - point.y),
    ]
}
