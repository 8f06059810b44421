//! The templates of a face: the whole of it over as many pages as it takes, or small ones where its work is.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::operation::Work;
use jigless_model::side::{Edge, Face};
use jigless_model::units::Unit;
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;

use super::beside::{self, Laid};
use super::card::Card;
use super::hook;
use super::local::{self, Group, Local, Register};
use super::paper::{LONGEST, SHORTEST, Scope};
use super::sheet::Leaf;
use super::tile_page;
use super::tiling::{Tile, Tiling};
use super::{PdfTemplateOptions, paper};
use crate::drawing::Role;
use crate::drawing::caption::Caption;
use crate::drawing::clip;
use crate::drawing::face::{self, FaceDrawing, HoleEntry};
use crate::drawing::label::Target;
use crate::drawing::measure::Lengths;

/// The template of a face, or of some of the work on it.
#[derive(Debug)]
pub(super) struct Template {
    /// Which face.
    pub(super) face: Face,
    /// Width and height of the part, in millimetres.
    pub(super) part_size: (f64, f64),
    /// How lengths are written.
    pub(super) lengths: Lengths,
    /// What every page says.
    pub(super) caption: Caption,
    /// What is shown of the face, in view coordinates.
    pub(super) drawing: FaceDrawing,
    /// The box around each item of the drawing.
    pub(super) boxes: Vec<Bounds>,
    /// Its paper.
    pub(super) leaf: Leaf,
    /// Its pages, without blank ones.
    pub(super) tiles: Vec<Tile>,
    /// What a small template knows beyond that.
    pub(super) small: Option<Small>,
    /// What is to be read beside the work.
    pub(super) cards: Vec<Card>,
}

/// What a small template knows beyond its drawing.
#[derive(Debug)]
pub(super) struct Small {
    /// Its number among the small templates of the face, from 1.
    pub(super) number: usize,
    /// The boxes of its flaps, in view coordinates.
    pub(super) flaps: Vec<Bounds>,
}

/// The templates of one face.
#[derive(Debug)]
pub(super) struct FaceTemplates {
    /// One for the whole face, or small ones; none where nothing is to be laid out.
    pub(super) templates: Vec<Template>,
    /// Work that is set out with a rule, in words.
    pub(super) ruled: Vec<String>,
}

/// Draws a face and splits it over pages.
pub(super) fn of_face(
    input: &ExportInput,
    workpiece: &Workpiece,
    face: Face,
    options: &PdfTemplateOptions,
) -> FaceTemplates {
    let lengths = options.lengths(input.plan.units);
    let view = workpiece.seen_from(face);
    let caption = Caption::new(input, &workpiece.part, face, lengths);
    let maker = Maker {
        view: &view,
        caption,
        lengths,
        options,
    };
    let found = match options.scope {
        Scope::Face => None,
        Scope::Auto | Scope::Local if options.paper.size().is_none() => None,
        Scope::Auto | Scope::Local => maker.sorted(),
    };
    let of_whole = |whole| FaceTemplates {
        templates: vec![maker.of_whole(whole)],
        ruled: Vec::new(),
    };
    let Some(found) = found else {
        return of_whole(maker.whole());
    };
    if options.scope == Scope::Local {
        return maker.small(&found);
    }
    // Small templates need no taping, so they win where they take no more pages. A part that fits one page and has
    // nothing to lay out is still shown.
    let whole = maker.whole();
    let (few, many) = (found.work.groups.len(), whole.tiles.len());
    if few > many || (few == 0 && many == 1 && face == Face::Front) {
        return of_whole(whole);
    }
    let small = maker.small(&found);
    let is_hooked = |template: &Template| {
        let small = template.small.as_ref();
        small.is_some_and(|small| !small.flaps.is_empty())
    };
    if few < many || small.templates.iter().all(is_hooked) {
        small
    } else {
        of_whole(whole)
    }
}

/// What is drawn of a face, before what is to be read beside it.
struct Drawn {
    drawing: FaceDrawing,
    boxes: Vec<Bounds>,
    leaf: Leaf,
    tiles: Vec<Tile>,
}

/// The work of a face that small templates would show.
struct Sorted<'a> {
    work: Local<'a>,
    leaf: Leaf,
    /// Width and height of what their pages can show, in millimetres.
    room: (f64, f64),
}

/// Makes templates of one face.
struct Maker<'a> {
    view: &'a FaceView<'a>,
    caption: Caption,
    lengths: Lengths,
    options: &'a PdfTemplateOptions,
}

impl Maker<'_> {
    fn template(&self, view: &FaceView, shown: Drawn, laid: &Laid) -> Template {
        let mut features: Vec<usize> = view
            .operations
            .iter()
            .chain(&view.edge_work)
            .filter_map(|operation| operation.origin.feature)
            .collect();
        features.sort_unstable();
        features.dedup();
        Template {
            face: self.view.face,
            part_size: (self.view.width, self.view.height),
            lengths: self.lengths,
            caption: self.caption.clone(),
            drawing: shown.drawing,
            boxes: shown.boxes,
            leaf: shown.leaf,
            tiles: shown.tiles,
            small: None,
            cards: beside::cards(view, &features, laid, self.lengths),
        }
    }

    /// The whole face.
    fn whole(&self) -> Drawn {
        let options = self.options;
        let drawing = face::draw(self.view, options.inks.into(), self.lengths);
        let boxes = boxes(&drawing);
        let unit = bar_unit(self.lengths);
        let leaves = leaves(drawing.extent, unit, options);
        let (leaf, tiles) = leaves
            .into_iter()
            .map(|leaf| (leaf, worked_tiles(&drawing, &boxes, leaf, unit, options)))
            // The first of those with the fewest pages.
            .reduce(|best, next| {
                if next.1.len() < best.1.len() {
                    next
                } else {
                    best
                }
            })
            .unwrap_or((paper::leaf(options, (0.0, 0.0)), Vec::new()));
        Drawn {
            drawing,
            boxes,
            leaf,
            tiles,
        }
    }

    fn of_whole(&self, whole: Drawn) -> Template {
        self.template(self.view, whole, &Laid::default())
    }

    /// The work in groups for small templates; `None` where some of it fits no page.
    fn sorted(&self) -> Option<Sorted<'_>> {
        let unit = bar_unit(self.lengths);
        leaves(self.view.workpiece.part.bounds(), unit, self.options)
            .into_iter()
            .filter_map(|leaf| {
                let room = tile_page::room(leaf, unit);
                local::sort(self.view, room).map(|work| Sorted { work, leaf, room })
            })
            .reduce(|best, next| {
                if next.work.groups.len() < best.work.groups.len() {
                    next
                } else {
                    best
                }
            })
    }

    /// Small templates, and the work that is set out with a rule.
    fn small(&self, found: &Sorted<'_>) -> FaceTemplates {
        let groups = found.work.groups.iter().enumerate();
        let templates = groups
            .map(|(index, group)| self.small_one(group, index, found.leaf, found.room))
            .collect();
        let ruled = found
            .work
            .ruled
            .iter()
            .filter_map(|index| self.view.operations.get(*index))
            .chain(&self.view.edge_work)
            .filter_map(|operation| self.by_rule(&operation.work))
            .collect();
        FaceTemplates { templates, ruled }
    }

    fn small_one(&self, group: &Group, index: usize, leaf: Leaf, room: (f64, f64)) -> Template {
        let inks = self.options.inks.into();
        let mut drawing = face::draw(&group.view, inks, self.lengths);
        let window = window(&group.view, group, room);
        let face = Bounds::of_size(group.view.width, group.view.height);
        let shown = window.intersection(face).unwrap_or(face);
        let marks: Vec<_> = drawing
            .items
            .iter()
            .filter(|item| item.bounds().is_some_and(|b| b.overlaps(shown, 0.0)))
            .cloned()
            .collect();
        let hooks = hook::draw(
            &group.view,
            group.register,
            &group.also,
            shown,
            &marks,
            inks,
            self.lengths,
        );
        let folds: Vec<Edge> = group
            .register
            .into_iter()
            .filter_map(|register| match register {
                Register::Fold { edge, .. } => Some(edge),
                Register::Line { .. } => None,
            })
            .collect();
        // The flap tells which edge it is.
        let on_fold = |target: &Target| {
            folds.iter().any(|edge| {
                let off = |p: &Point| match edge {
                    Edge::Left => p.x,
                    Edge::Right => p.x - group.view.width,
                    Edge::Bottom => p.y,
                    Edge::Top => p.y - group.view.height,
                };
                matches!(target, Target::Edge(a, b) if off(a).abs() < 1e-6 && off(b).abs() < 1e-6)
            })
        };
        drawing
            .wishes
            .retain(|wish| wish.role != Role::Note || !on_fold(&wish.target));
        drawing.items.extend(hooks.items);
        drawing.wishes.splice(0..0, hooks.wishes);
        drawing.extent = window;
        let laid = Laid {
            steps: hooks.steps,
            distances: self.distances(group, &drawing.holes),
        };
        let tile = Tile {
            column: index,
            row: 0,
            core: window,
            window,
        };
        let shown = Drawn {
            boxes: boxes(&drawing),
            drawing,
            leaf,
            tiles: vec![tile],
        };
        let mut template = self.template(&group.view, shown, &laid);
        template.small = Some(Small {
            number: index + 1,
            flaps: hooks.flaps,
        });
        template
    }

    /// How far the first and the last of some marks lie from the edges that their template registers on.
    fn distances(&self, group: &Group, holes: &[HoleEntry]) -> Vec<String> {
        let from = |register: Register, centre: Point| {
            let (Register::Fold { edge, .. } | Register::Line { from: edge, .. }) = register;
            let distance = match edge {
                Edge::Left => centre.x,
                Edge::Right => group.view.width - centre.x,
                Edge::Bottom => centre.y,
                Edge::Top => group.view.height - centre.y,
            };
            let name = group.view.physical(edge).name();
            // What is on an edge needs no measuring from it.
            (distance > 1e-6)
                .then(|| format!("{} from the {name} edge", self.lengths.full(distance)))
        };
        let [across, upward] = group.register;
        let ends = match holes {
            [] => Vec::new(),
            [only] => vec![only],
            [first, .., last] => vec![first, last],
        };
        ends.into_iter()
            .map(|hole| {
                let words = [from(across, hole.centre), from(upward, hole.centre)];
                let words: Vec<String> = words.into_iter().flatten().collect();
                format!("{}: {}", hole.id, words.join(", "))
            })
            .collect()
    }

    /// Where a groove, rebate or bevel goes, in words for a rule and a gauge.
    fn by_rule(&self, work: &Work) -> Option<String> {
        let face = self.view.face.name();
        let say = |mm: f64| self.lengths.bare(mm);
        let side = match self.view.face {
            Face::Front => Edge::Left,
            Face::Back => Edge::Right,
        };
        let span = |b: Bounds| {
            format!(
                "{} to {} from the {} edge, {} to {} from the bottom edge",
                say(b.min.x),
                say(b.max.x),
                side.name(),
                say(b.min.y),
                say(b.max.y)
            )
        };
        match work {
            Work::MillArea(area) => Some(format!(
                "{} {} ({face}): {}, {} deep",
                area.id,
                area.kind.name(),
                span(area.outline.bounds()?),
                say(area.depth)
            )),
            Work::Mark(mark) => {
                let bounds = mark
                    .lines
                    .iter()
                    .filter_map(jigless_model::geom::Path::bounds);
                let name = mark.text.as_ref().map(|(_, words)| format!(" {words}"));
                Some(format!(
                    "pencil line{} ({face}): {}",
                    name.unwrap_or_default(),
                    span(bounds.reduce(Bounds::union)?)
                ))
            }
            Work::Bevel(bevel) if self.view.face == Face::Front => {
                let thickness = self.view.workpiece.part.thickness();
                Some(format!(
                    "bevel of the {} edge: {} off square, {} at the face",
                    bevel.edge.name(),
                    crate::drawing::measure::degrees(bevel.angle.abs()),
                    say(bevel.setback(thickness))
                ))
            }
            _ => None,
        }
    }
}

impl Template {
    /// The name of a page: `B2` of a whole face, `2` of small templates.
    pub(super) fn page_name(&self, index: usize) -> String {
        match &self.small {
            Some(small) => small.number.to_string(),
            None => self.tiles.get(index).map(Tile::name).unwrap_or_default(),
        }
    }

    /// The unit of its check bars: inches beside millimetres where inches are read.
    pub(super) fn bars(&self) -> Unit {
        bar_unit(self.lengths)
    }
}

fn bar_unit(lengths: Lengths) -> Unit {
    if lengths.has_inches() {
        Unit::Inch
    } else {
        Unit::Millimetre
    }
}

fn boxes(drawing: &FaceDrawing) -> Vec<Bounds> {
    let items = drawing.items.iter();
    items
        .map(|item| item.bounds().unwrap_or(Bounds::of_size(0.0, 0.0)))
        .collect()
}

/// What the page of a small template shows: its flaps, and as much of the face as there is room for.
fn window(view: &FaceView, group: &Group, room: (f64, f64)) -> Bounds {
    /// So much is shown beyond an edge that is not folded, for its line, in millimetres.
    const BEYOND: f64 = 1.0;
    let axis = |register: Register, room: f64, size: f64, from: f64, to: f64| match register {
        Register::Fold {
            edge: Edge::Left | Edge::Bottom,
            depth,
        } => (-depth, (room - depth).min(size + BEYOND)),
        Register::Fold { depth, .. } => ((size + depth - room).max(-BEYOND), size + depth),
        Register::Line { .. } => {
            let middle = f64::midpoint(from, to);
            (
                (middle - room / 2.0).max(-BEYOND),
                (middle + room / 2.0).min(size + BEYOND),
            )
        }
    };
    let [across, upward] = group.register;
    let own = group.bounds;
    let x = axis(across, room.0, view.width, own.min.x, own.max.x);
    let y = axis(upward, room.1, view.height, own.min.y, own.max.y);
    let mut window = Bounds::new(Point::new(x.0, y.0), Point::new(x.1, y.1));
    for (edge, depth) in &group.also {
        match edge {
            Edge::Left => window.min.x = -depth,
            Edge::Right => window.max.x = view.width + depth,
            Edge::Bottom => window.min.y = -depth,
            Edge::Top => window.max.y = view.height + depth,
        }
    }
    window
}

/// The pages that may be used for a drawing, the preferred one first.
fn leaves(extent: Bounds, unit: Unit, options: &PdfTemplateOptions) -> Vec<Leaf> {
    let sizes = match options.paper.size() {
        // A roll is cut where the drawing ends.
        None => {
            let probe = paper::leaf(options, (1000.0, 1000.0));
            let frame = 1000.0 - tile_page::room(probe, unit).1;
            let height = (extent.height() + frame).ceil().clamp(SHORTEST, LONGEST);
            vec![(options.roll_width, height)]
        }
        Some(size) => options.orientation.sizes(size),
    };
    sizes
        .into_iter()
        .map(|size| paper::leaf(options, size))
        .collect()
}

/// The tiles of a drawing that have anything on them.
fn worked_tiles(
    drawing: &FaceDrawing,
    boxes: &[Bounds],
    leaf: Leaf,
    unit: Unit,
    options: &PdfTemplateOptions,
) -> Vec<Tile> {
    let centres: Vec<_> = drawing.holes.iter().map(|hole| hole.centre).collect();
    let room = tile_page::room(leaf, unit);
    let tiling = Tiling::new(drawing.extent, room, options.overlap, &centres);
    let has_words = |tile: &Tile| {
        drawing
            .wishes
            .iter()
            .any(|wish| wish.role == Role::Mark && tile.core.contains(wish.target.place(), 0.0))
    };
    let has_ink = |tile: &Tile| {
        drawing
            .items
            .iter()
            .zip(boxes)
            .filter(|(_, bounds)| bounds.intersection(tile.core).is_some())
            .any(|(item, _)| clip::reaches(item, tile.core))
    };
    tiling
        .tiles()
        .filter(|tile| has_ink(tile) || has_words(tile))
        .collect()
}
