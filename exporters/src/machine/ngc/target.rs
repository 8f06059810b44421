//! What is to be left of a part or sheet, from the plan, for the simulation. It knows nothing of toolpaths.

use jigless_model::geom::{Bounds, Path, Point, circle, rectangle};
use jigless_model::operation::{ContourSide, Depth, Mouth, Work};
use jigless_model::plan::Stock;
use jigless_model::side::Face;
use jigless_model::view::FaceView;
use jigless_simulate::{Cone, Layer, Ring, Target};

use super::options::NgcRouterOptions;
use super::part_on_face::PartOnFace;
use super::toolpath::TAB_SLOPE;
use crate::machine::relief::{relieve, relieve_area};
use crate::machine::router_vet::{for_cone, for_hole};
use crate::machine::square_corners::mating_of;
use crate::machine::{tabs, through, tools};

/// What a target is made of.
pub(super) struct Wanted<'a> {
    pub(super) parts: &'a [PartOnFace<'a>],
    pub(super) face: Face,
    pub(super) stock: &'a Stock,
    /// The box of the sheet; `None` for a part by itself.
    pub(super) sheet: Option<Bounds>,
    /// Diameter and places of holes for pins.
    pub(super) pins: &'a (f64, Vec<Point>),
}

/// Something that goes down to a depth.
struct Void {
    depth: f64,
    /// All of it.
    shape: Path,
    /// What of it a round tool reaches.
    clear: Vec<Path>,
}

/// Everything that is wanted, before it is divided by depths.
#[derive(Default)]
struct Gathered {
    outlines: Vec<Path>,
    voids: Vec<Void>,
    spare: Vec<Path>,
    rings: Vec<Ring>,
    /// Tabs as they stand, and all that may be left beside them.
    tabs: Vec<(Path, Path)>,
    cones: Vec<Cone>,
}

/// What is to be left.
pub(super) fn of(wanted: &Wanted, options: &NgcRouterOptions) -> Target {
    let through = through::depth(&options.router, wanted.stock);
    let mut all = Gathered::default();
    for part in wanted.parts {
        gather(part, wanted, options, through, &mut all);
    }
    for hole in &wanted.pins.1 {
        let own = for_hole(&options.router, wanted.pins.0, through)
            .filter(|tool| !tool.is_mill())
            .map_or(wanted.pins.0, |tool| tool.diameter);
        all.voids.push(Void {
            depth: through,
            clear: vec![circle(*hole, own / 2.0)],
            shape: circle(*hole, own.max(wanted.pins.0) / 2.0),
        });
    }
    let tab_top = (wanted.stock.thickest() - options.router.tab_height).max(0.0);
    let mut depths: Vec<f64> = all.voids.iter().map(|void| void.depth).collect();
    depths.extend(all.cones.iter().map(|cone| cone.depth));
    depths.push(through);
    if !all.tabs.is_empty() {
        depths.push(tab_top);
    }
    depths.sort_by(f64::total_cmp);
    depths.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let mut layers = Vec::new();
    let mut from = 0.0;
    for to in depths {
        let mut layer = layer(&all, from, to);
        if to > tab_top + 1e-6 {
            layer
                .parts
                .extend(all.tabs.iter().map(|(tab, _)| tab.clone()));
            layer.tabs = all.tabs.iter().map(|(_, room)| room.clone()).collect();
        }
        if let Some(sheet) = wanted.sheet {
            layer.parts.extend(clamped(sheet, options.router.clamp));
        }
        layers.push(layer);
        from = to;
    }
    Target {
        layers,
        cones: all.cones,
    }
}

fn layer(all: &Gathered, from: f64, to: f64) -> Layer {
    let reaching = || all.voids.iter().filter(|void| void.depth >= to - 1e-6);
    Layer {
        from,
        to,
        parts: all.outlines.clone(),
        voids: reaching().map(|void| void.shape.clone()).collect(),
        spare: all.spare.clone(),
        clear: reaching().flat_map(|void| void.clear.clone()).collect(),
        rings: all.rings.clone(),
        tabs: Vec::new(),
    }
}

/// The strips along the edges of a sheet where clamps are.
fn clamped(sheet: Bounds, clamp: f64) -> Vec<Path> {
    let Bounds { min, max } = sheet;
    let strip = |a: Point, b: Point| rectangle(Bounds::new(a, b));
    if clamp <= 0.1 {
        return Vec::new();
    }
    vec![
        strip(min, Point::new(min.x + clamp, max.y)),
        strip(Point::new(max.x - clamp, min.y), max),
        strip(min, Point::new(max.x, min.y + clamp)),
        strip(Point::new(min.x, max.y - clamp), max),
    ]
}

/// What of a closed path a tool of a radius reaches from inside: its sharp corners become round.
fn reached(path: &Path, radius: f64) -> Vec<Path> {
    let radius = radius * 0.999;
    let inside = path.normalised(true).parallels(-radius);
    inside
        .iter()
        .flat_map(|inner| inner.parallels(radius))
        .collect()
}

fn gather(
    part: &PartOnFace,
    wanted: &Wanted,
    options: &NgcRouterOptions,
    through: f64,
    all: &mut Gathered,
) {
    let router = &options.router;
    let view = part.workpiece.seen_from(wanted.face);
    let size = (view.width, view.height);
    for operation in &view.operations {
        match &operation.work {
            Work::Drill(hole) => {
                let centre = part.point(hole.centre);
                let mut round = |diameter: f64, depth: f64| {
                    if let Some(tool) = for_hole(router, diameter, depth) {
                        // A drill makes its own diameter, which is as near as the list of tools has one.
                        let own = if tool.is_mill() {
                            diameter
                        } else {
                            tool.diameter
                        };
                        let shape = circle(centre, own.max(diameter) / 2.0);
                        let clear = vec![circle(centre, own / 2.0)];
                        all.voids.push(Void {
                            depth,
                            shape,
                            clear,
                        });
                    }
                };
                let depth = match hole.depth {
                    Depth::Through => through,
                    Depth::Blind(depth) => depth,
                };
                round(hole.diameter, depth);
                match hole.mouth {
                    Some(Mouth::Counterbore { diameter, depth }) => round(diameter, depth),
                    Some(Mouth::Countersink { diameter, angle })
                        if for_cone(router, diameter, angle).is_some() =>
                    {
                        all.spare.push(circle(centre, diameter / 2.0));
                        all.cones.push(Cone {
                            centre,
                            depth: diameter / 2.0 / (angle / 2.0).tan(),
                            angle,
                        });
                    }
                    _ => {}
                }
            }
            Work::MillArea(area) => {
                let Some((tool, border)) = tools::for_area(router, area, size) else {
                    continue;
                };
                let radius = tool.diameter / 2.0;
                let mating = mating_of(&view);
                let relieved = relieve_area(&border, &mating, router.relief, radius);
                spare_corners(part, &relieved.centres, radius, all);
                let shape = part.path(&border);
                all.voids.push(Void {
                    depth: area.depth,
                    clear: reached(&shape, radius),
                    shape,
                });
            }
            _ => {}
        }
    }
    gather_contours(part, &view, options, through, all);
}

fn gather_contours(
    part: &PartOnFace,
    view: &FaceView,
    options: &NgcRouterOptions,
    through: f64,
    all: &mut Gathered,
) {
    let router = &options.router;
    let tool = tools::for_contours(router, part.workpiece);
    for cut in &view.contours {
        let path = part.path(&cut.path);
        if cut.side == ContourSide::Outer {
            all.outlines.push(path.clone());
        }
        let Some(tool) = tool.filter(|_| view.face == Face::Front) else {
            continue;
        };
        let radius = tool.diameter / 2.0;
        let mating = &part.workpiece.mating;
        let relieved = relieve(&cut.path, mating, router.relief, radius);
        spare_corners(part, &relieved.centres, radius, all);
        match cut.side {
            ContourSide::Outer => {
                let left = |by: f64| path.normalised(true).parallels(by).into_iter().next();
                let closed = left(radius * 0.999)
                    .and_then(|out| out.parallels(-radius * 0.999).into_iter().next());
                if let (Some(outer), Some(inner)) = (left(tool.diameter), closed) {
                    all.rings.push(Ring { outer, inner });
                }
                if router.tab > 0.0 {
                    let gap = router.tab + router.largest();
                    for (middle, along) in tabs::places(&cut.path, gap) {
                        all.tabs
                            .push(tab(part, middle, along, options, tool.diameter));
                    }
                }
            }
            ContourSide::Inner => {
                all.voids.push(Void {
                    depth: through,
                    shape: path.clone(),
                    clear: Vec::new(),
                });
                for outer in reached(&path, radius) {
                    match outer.parallels(-tool.diameter).into_iter().next() {
                        Some(inner) => all.rings.push(Ring { outer, inner }),
                        None => all.voids.push(Void {
                            depth: through,
                            shape: outer.clone(),
                            clear: vec![outer],
                        }),
                    }
                }
            }
        }
    }
}

/// Where the tool goes beyond nominal lines to clear corners: its circle there.
fn spare_corners(part: &PartOnFace, centres: &[Point], radius: f64, all: &mut Gathered) {
    let circles = centres
        .iter()
        .map(|centre| circle(part.point(*centre), radius));
    all.spare.extend(circles);
}

/// A tab as it stands, and the room in which wood may be left beside it: the tool climbs over it.
fn tab(
    part: &PartOnFace,
    middle: Point,
    along: Point,
    options: &NgcRouterOptions,
    diameter: f64,
) -> (Path, Path) {
    // The outline runs counter-clockwise, so the waste is to the right of it.
    let out = -along.left();
    let boxed = |half: f64, from: f64, to: f64| {
        let corner = |s: f64, d: f64| middle + along * s + out * d;
        let corners = [
            corner(-half, from),
            corner(half, from),
            corner(half, to),
            corner(-half, to),
        ];
        let path = Path::of_points(corners, true);
        part.path(&path).normalised(true)
    };
    let climb = (options.router.tab_height + options.router.overcut) / TAB_SLOPE;
    let room = options.router.tab / 2.0 + diameter + climb;
    (
        boxed(options.router.tab / 2.0, 0.0, diameter),
        boxed(room, -0.1, diameter + 0.1),
    )
}
