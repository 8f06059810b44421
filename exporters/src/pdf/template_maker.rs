//! The templates of a face: the whole of it over as many pages as it takes, or small ones where its work is.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::operation::Work;
use jigless_model::side::{Edge, Face};
use jigless_model::units::Unit;
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;

use super::beside::{self, PlacingSteps};
use super::local::{self, LocalWork, Register, WorkGroup};
use super::options::PdfTemplateOptions;
use super::page_format::PageFormat;
use super::page_frame;
use super::paper::{LONGEST, SHORTEST, Scope};
use super::registration;
use super::template::{Small, Template};
use super::tiling::{Tile, Tiling};
use crate::drawing::Role;
use crate::drawing::caption::Caption;
use crate::drawing::clip;
use crate::drawing::face::{self, FaceDrawing};
use crate::drawing::face_work::HoleEntry;
use crate::drawing::label::LabelTarget;
use crate::drawing::measure::Lengths;
use crate::view_edge;

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
    let maker = TemplateMaker {
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
struct ShownFace {
    drawing: FaceDrawing,
    boxes: Vec<Bounds>,
    format: PageFormat,
    tiles: Vec<Tile>,
}

/// The work of a face that small templates would show.
struct SortedWork<'a> {
    work: LocalWork<'a>,
    format: PageFormat,
    /// Width and height of what their pages can show, in millimetres.
    room: (f64, f64),
}

/// Makes templates of one face.
struct TemplateMaker<'a> {
    view: &'a FaceView<'a>,
    caption: Caption,
    lengths: Lengths,
    options: &'a PdfTemplateOptions,
}

impl TemplateMaker<'_> {
    fn template(&self, view: &FaceView, shown: ShownFace, placing: &PlacingSteps) -> Template {
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
            format: shown.format,
            tiles: shown.tiles,
            small: None,
            cards: beside::cards(view, &features, placing, self.lengths),
        }
    }

    /// The whole face.
    fn whole(&self) -> ShownFace {
        let options = self.options;
        let drawing = face::draw(self.view, options.inks.into(), self.lengths);
        let boxes = boxes(&drawing);
        let unit = self.lengths.bar_unit();
        let formats = formats(drawing.extent, unit, options);
        let (format, tiles) = formats
            .into_iter()
            .map(|format| {
                (
                    format,
                    worked_tiles(&drawing, &boxes, format, unit, options),
                )
            })
            // The first of those with the fewest pages.
            .reduce(|best, next| {
                if next.1.len() < best.1.len() {
                    next
                } else {
                    best
                }
            })
            .unwrap_or((options.page_format((0.0, 0.0)), Vec::new()));
        ShownFace {
            drawing,
            boxes,
            format,
            tiles,
        }
    }

    fn of_whole(&self, whole: ShownFace) -> Template {
        self.template(self.view, whole, &PlacingSteps::default())
    }

    /// The work in groups for small templates; `None` where some of it fits no page.
    fn sorted(&self) -> Option<SortedWork<'_>> {
        let unit = self.lengths.bar_unit();
        formats(self.view.workpiece.part.bounds(), unit, self.options)
            .into_iter()
            .filter_map(|format| {
                let room = page_frame::room(format, unit);
                local::sort(self.view, room).map(|work| SortedWork { work, format, room })
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
    fn small(&self, found: &SortedWork<'_>) -> FaceTemplates {
        let groups = found.work.groups.iter().enumerate();
        let templates = groups
            .map(|(index, group)| self.small_one(group, index, found.format, found.room))
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

    fn small_one(
        &self,
        group: &WorkGroup,
        index: usize,
        format: PageFormat,
        room: (f64, f64),
    ) -> Template {
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
        let registered = registration::draw(
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
        // The flap says which edge it is.
        let on_fold = |target: &LabelTarget| {
            folds.iter().any(|edge| {
                let off = |p: &Point| view_edge::distance(&group.view, *edge, *p);
                matches!(target, LabelTarget::Edge(a, b) if off(a).abs() < 1e-6 && off(b).abs() < 1e-6)
            })
        };
        drawing
            .requests
            .retain(|request| request.role != Role::Note || !on_fold(&request.target));
        drawing.items.extend(registered.items);
        drawing.requests.splice(0..0, registered.requests);
        drawing.extent = window;
        let placing = PlacingSteps {
            steps: registered.steps,
            distances: self.distances(group, &drawing.holes),
        };
        let tile = Tile {
            column: index,
            row: 0,
            core: window,
            window,
        };
        let shown = ShownFace {
            boxes: boxes(&drawing),
            drawing,
            format,
            tiles: vec![tile],
        };
        let mut template = self.template(&group.view, shown, &placing);
        template.small = Some(Small {
            number: index + 1,
            flaps: registered.flaps,
        });
        template
    }

    /// How far the first and the last of some marks lie from the edges that their template registers on.
    fn distances(&self, group: &WorkGroup, holes: &[HoleEntry]) -> Vec<String> {
        let from = |register: Register, centre: Point| {
            let (Register::Fold { edge, .. } | Register::Line { from: edge, .. }) = register;
            let distance = view_edge::distance(&group.view, edge, centre);
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

fn boxes(drawing: &FaceDrawing) -> Vec<Bounds> {
    let items = drawing.items.iter();
    items
        .map(|item| item.bounds().unwrap_or(Bounds::of_size(0.0, 0.0)))
        .collect()
}

/// What the page of a small template shows: its flaps, and as much of the face as there is room for.
fn window(view: &FaceView, group: &WorkGroup, room: (f64, f64)) -> Bounds {
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
fn formats(extent: Bounds, unit: Unit, options: &PdfTemplateOptions) -> Vec<PageFormat> {
    let sizes = match options.paper.size() {
        // A roll is cut where the drawing ends.
        None => {
            let probe = options.page_format((1000.0, 1000.0));
            let frame = 1000.0 - page_frame::room(probe, unit).1;
            let height = (extent.height() + frame).ceil().clamp(SHORTEST, LONGEST);
            vec![(options.roll_width, height)]
        }
        Some(size) => options.orientation.sizes(size),
    };
    sizes
        .into_iter()
        .map(|size| options.page_format(size))
        .collect()
}

/// The tiles of a drawing that have anything on them.
fn worked_tiles(
    drawing: &FaceDrawing,
    boxes: &[Bounds],
    format: PageFormat,
    unit: Unit,
    options: &PdfTemplateOptions,
) -> Vec<Tile> {
    let centres: Vec<_> = drawing.holes.iter().map(|hole| hole.centre).collect();
    let room = page_frame::room(format, unit);
    let tiling = Tiling::new(drawing.extent, room, options.overlap, &centres);
    let has_words = |tile: &Tile| {
        drawing.requests.iter().any(|request| {
            request.role == Role::Mark && tile.core.contains(request.target.place(), 0.0)
        })
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
