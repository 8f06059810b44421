//! The templates of a face: the whole of it over as many pages as it takes, or small ones where its work is.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::side::{Edge, Face};
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;

use super::beside::PlacingSteps;
use super::by_rule::{RuledWork, by_rule};
use super::edges;
use super::local::{self, LocalWork, Register, WorkGroup};
use super::options::PdfTemplateOptions;
use super::page_format::PageFormat;
use super::page_frame;
use super::paper::Scope;
use super::registration;
use super::rows::{self, TableRow};
use super::slot::{self, Slot, Tightness};
use super::stack;
use super::template::{Small, Template};
use super::tiling::Tile;
use super::whole_face::{self, ShownFace, formats};
use crate::drawing::Role;
use crate::drawing::caption::Caption;
use crate::drawing::face::{self, FaceDrawing};
use crate::drawing::face_work::HoleEntry;
use crate::drawing::label::LabelTarget;
use crate::drawing::measure::Lengths;
use crate::view_edge;

/// The templates of one face.
#[derive(Debug)]
pub(super) struct FaceTemplates<'a> {
    /// The paper of their sheets.
    pub(super) format: PageFormat,
    /// One for the whole face, or small ones; none where nothing is to be laid out.
    pub(super) templates: Vec<Template<'a>>,
    /// Their pages, laid out, in their order.
    pub(super) slots: Vec<Slot>,
    /// Work that is set out with a rule, in words.
    pub(super) ruled: Vec<RuledWork>,
    /// Work that is a row of a table.
    pub(super) rows: Vec<TableRow>,
    /// All holes that are drilled from this face by templates.
    pub(super) holes: Vec<HoleEntry>,
}

impl FaceTemplates<'_> {
    /// How many cards that must not leave their template found no room on it.
    fn missing(&self) -> usize {
        self.slots.iter().map(|slot| slot.missing).sum()
    }
}

/// Draws a face and splits it over pages.
pub(super) fn of_face<'a>(
    input: &ExportInput,
    workpiece: &'a Workpiece,
    face: Face,
    options: &PdfTemplateOptions,
) -> FaceTemplates<'a> {
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
        Scope::Auto | Scope::Local => maker.sorted(usize::MAX),
    };
    let Some(found) = found else {
        return maker.of_whole(maker.whole(1.0));
    };
    let groups = found.work.groups.len();
    if options.scope == Scope::Local || groups <= 1 {
        let small = maker.small(&found);
        if small.missing() == 0 {
            return small;
        }
        // What finds no room beside a small template may find it where the face is split.
        let whole = maker.of_whole(maker.whole(1.0));
        return maker.complete(whole, small);
    }
    // Small templates need no taping, so they win where they take no more sheets.
    let whole = maker.whole(1.0);
    let many = whole.tiles.len();
    if groups > 4 * many {
        return maker.of_whole(whole);
    }
    let small = maker.small(&found);
    let heights: Vec<f64> = small.slots.iter().map(|slot| slot.size.1).collect();
    let room = page_frame::drawing_area(small.format, lengths.bar_unit());
    let few = stack::sheets(&heights, room.height()).len();
    let is_hooked = |template: &Template| !template.flaps.is_empty();
    let hooked = small.templates.iter().all(is_hooked);
    if small.missing() == 0 && (few < many || (few == many && hooked)) {
        small
    } else {
        maker.complete(maker.of_whole(whole), small)
    }
}

/// The work of a face that small templates would show.
struct SortedWork<'a> {
    work: LocalWork<'a>,
    format: PageFormat,
    /// Width and height of what their pages can show, in millimetres.
    room: (f64, f64),
}

impl SortedWork<'_> {
    /// What its templates cost, in sheets and time: more of them share a sheet that stands upright, and every further use
    /// of a strip is a chance to slip.
    fn cost(&self) -> f64 {
        let (width, height) = self.format.size;
        let sheets = if width > height { 1.0 } else { 0.6 };
        let rows = self
            .work
            .groups
            .iter()
            .filter_map(|group| group.repeat.as_ref());
        let rows = rows
            .filter(|repeat| repeat.is_row)
            .map(|repeat| repeat.uses.len());
        self.work.groups.len() as f64 * sheets + rows.sum::<usize>() as f64 * 0.5
    }
}

/// Where a page of a whole face has no room for its depths and steps, it shows this much of what it could, step by step.
const SHARES: [f64; 3] = [0.7, 0.5, 0.35];
/// By how much the area of a small template grows from try to try, until everything in it finds room.
const GROWTH: f64 = 1.13;

/// Where a small template has no room for its depths and steps on any sheet, none has more marks than this, step by step.
const MARKS: [usize; 5] = [16, 8, 4, 2, 1];

/// Makes templates of one face.
struct TemplateMaker<'a, 'b> {
    view: &'b FaceView<'a>,
    caption: Caption,
    lengths: Lengths,
    options: &'b PdfTemplateOptions,
}

impl<'a> TemplateMaker<'a, '_> {
    fn template(
        &self,
        view: FaceView<'a>,
        drawing: FaceDrawing,
        tiles: Vec<Tile>,
        placing: PlacingSteps,
    ) -> Template<'a> {
        Template {
            view,
            lengths: self.lengths,
            caption: self.caption.clone(),
            boxes: whole_face::boxes(&drawing),
            drawing,
            tiles,
            small: None,
            at_top: false,
            placing,
            collar: self.options.collar,
            flaps: Vec::new(),
        }
    }

    fn whole(&self, share: f64) -> ShownFace {
        whole_face::shown(self.view, self.options, self.lengths, share)
    }

    /// The whole face, laid out. What must not leave its page gets the room that it takes: the pages show less then.
    fn of_whole(&self, whole: ShownFace) -> FaceTemplates<'a> {
        let mut best = self.whole_laid(whole, false);
        for share in SHARES {
            if best.missing() == 0 {
                break;
            }
            let next = self.whole_laid(self.whole(share), true);
            if next.missing() < best.missing() {
                best = next;
            }
        }
        best
    }

    fn whole_laid(&self, whole: ShownFace, at_top: bool) -> FaceTemplates<'a> {
        let format = whole.format;
        let holes = whole.drawing.holes.clone();
        let mut template = self.template(
            self.view.clone(),
            whole.drawing,
            whole.tiles,
            PlacingSteps::default(),
        );
        template.boxes = whole.boxes;
        template.flaps = whole.flaps;
        template.at_top = at_top;
        let area = page_frame::drawing_area(format, self.lengths.bar_unit());
        let slots = (0..template.tiles.len())
            .map(|index| {
                let size = (area.width(), area.height());
                self.fullest(&template, index, size)
            })
            .collect();
        FaceTemplates {
            format,
            templates: vec![template],
            slots,
            ruled: Vec::new(),
            rows: Vec::new(),
            holes,
        }
    }

    /// The whole face, if what must not leave its page has room there; or else small templates, of as few marks as it takes.
    fn complete(&self, whole: FaceTemplates<'a>, small: FaceTemplates<'a>) -> FaceTemplates<'a> {
        if whole.missing() == 0 {
            return whole;
        }
        let mut best = if whole.missing() < small.missing() {
            whole
        } else {
            small
        };
        for most in MARKS {
            if best.missing() == 0 {
                break;
            }
            let Some(found) = self.sorted(most) else {
                break;
            };
            let next = self.small(&found);
            if next.missing() < best.missing() {
                best = next;
            }
        }
        best
    }

    /// A page that may not grow: words get smaller until all of it finds room.
    fn fullest(&self, template: &Template, index: usize, size: (f64, f64)) -> Slot {
        let inks = self.options.inks.into();
        let tries = [Tightness::Roomy, Tightness::SmallCards, Tightness::Small];
        let mut best: Option<Slot> = None;
        for tightness in tries {
            let slot = slot::lay_out(template, index, size, tightness, inks);
            let is_complete = slot.is_complete();
            let better = |best: &Slot| {
                let key = |slot: &Slot| (slot.missing, slot.unplaced.len(), slot.left.len());
                key(&slot) < key(best)
            };
            if best.as_ref().is_none_or(better) {
                best = Some(slot);
            }
            if is_complete {
                break;
            }
        }
        best.unwrap_or_else(|| slot::lay_out(template, index, size, Tightness::Small, inks))
    }

    /// The work in groups for small templates, of up to a number of marks; `None` where some of it fits no page.
    fn sorted(&self, most: usize) -> Option<SortedWork<'a>> {
        let unit = self.lengths.bar_unit();
        formats(self.view.workpiece.part.bounds(), unit, self.options)
            .into_iter()
            .filter_map(|format| {
                let room = page_frame::room(format, unit);
                let tables = self.options.tables;
                local::sort(self.view, room, tables, most).map(|work| SortedWork {
                    work,
                    format,
                    room,
                })
            })
            .reduce(|best, next| {
                if next.cost() < best.cost() {
                    next
                } else {
                    best
                }
            })
    }

    /// Small templates, and the work that is set out with a rule.
    fn small(&self, found: &SortedWork<'a>) -> FaceTemplates<'a> {
        let mut templates = Vec::new();
        let mut slots = Vec::new();
        for (index, group) in found.work.groups.iter().enumerate() {
            let (template, slot) = self.small_laid(group, index, found);
            templates.push(template);
            slots.push(slot);
        }
        let ruled = found
            .work
            .ruled
            .iter()
            .filter_map(|index| self.view.operations.get(*index))
            .chain(&self.view.edge_work)
            .filter_map(|operation| by_rule(self.view, operation, self.lengths))
            .collect();
        let tables = found.work.rows.iter();
        let mut rows: Vec<TableRow> = tables
            .filter_map(|row| row.table_row(self.view, self.lengths))
            .collect();
        rows.extend(rows::corner_rows(
            self.view,
            &found.work.corners,
            self.lengths,
        ));
        FaceTemplates {
            format: found.format,
            templates,
            slots,
            ruled,
            rows,
            holes: self.listed_holes(found),
        }
    }

    /// The holes that templates show: all but the rows of the table.
    fn listed_holes(&self, found: &SortedWork) -> Vec<HoleEntry> {
        let in_rows = found.work.rows.iter().flat_map(|row| &row.operations);
        let in_rows: Vec<usize> = in_rows.copied().collect();
        let mut view = self.view.clone();
        let mut index = 0;
        view.operations.retain(|_| {
            index += 1;
            !in_rows.contains(&(index - 1))
        });
        if view.face == Face::Back {
            // Holes into edges are laid out from the front.
            view.edge_work.clear();
        }
        face::draw(&view, self.options.inks.into(), self.lengths).holes
    }

    /// A small template in as little of a sheet as it takes.
    fn small_laid(
        &self,
        group: &WorkGroup<'a>,
        index: usize,
        found: &SortedWork<'a>,
    ) -> (Template<'a>, Slot) {
        let inks = self.options.inks.into();
        let area = page_frame::drawing_area(found.format, self.lengths.bar_unit());
        let most = area.height() - 2.0;
        let mut height = self.least_height(group, found.room).ceil() + page_frame::BANNER;
        let laid = |height: f64, tightness: Tightness| {
            let height = slot::to_hundredth(height);
            let room = (found.room.0, height - page_frame::BANNER - 0.02);
            let template = self.small_one(group, index, room);
            let slot = slot::lay_out(&template, 0, (area.width(), height), tightness, inks);
            slot.is_complete().then_some((template, slot))
        };
        // Where two or three just miss sharing a sheet, smaller words beside the work let them.
        let shares =
            [3.0, 2.0].map(|count| (area.height() - stack::BETWEEN * (count - 1.0)) / count);
        let drawn = height;
        while height < most {
            if let Some(found) = laid(height, Tightness::Roomy) {
                return found;
            }
            let next = height * GROWTH;
            let missed = shares.iter().find(|share| {
                let share = share.floor();
                height < share && share < next && drawn <= share
            });
            if let Some(found) = missed.and_then(|share| laid(share.floor(), Tightness::SmallCards))
            {
                return found;
            }
            height = next;
        }
        // A sheet of its own: as much of the face as there is room for; or as little as there can be, where that leaves room
        // for what must not leave the template.
        let on_own = |room: (f64, f64)| {
            let template = self.small_one(group, index, room);
            let slot = self.fullest(&template, 0, (area.width(), area.height()));
            (template, slot)
        };
        let all = on_own(found.room);
        if all.1.missing == 0 {
            return all;
        }
        let least = on_own((found.room.0, (drawn - page_frame::BANNER).min(found.room.1)));
        if least.1.missing < all.1.missing {
            least
        } else {
            all
        }
    }

    /// The least height in which a small template and what is to be read beside it can be, in millimetres.
    fn least_height(&self, group: &WorkGroup<'a>, room: (f64, f64)) -> f64 {
        /// So much of an edge beyond the work is shown at least, in millimetres.
        const BEYOND: f64 = 1.5;
        /// Width of a column of cards, air around a card, and height of the arrow to the top, in millimetres.
        const COLUMN: f64 = 86.0;
        const AROUND: f64 = 3.0;
        const ARROW: f64 = 12.0;
        let own = group.bounds;
        let [across, upward] = group.register;
        let depth = |register: Register| match register {
            Register::Fold { depth, .. } => depth,
            Register::Line { .. } => 0.0,
        };
        let also: f64 = group
            .also
            .iter()
            .filter(|(edge, _)| !edge.is_upright())
            .map(|(_, depth)| depth)
            .sum();
        let mut high = own.height() + depth(upward) + also + BEYOND;
        if let Register::Fold { edge, .. } = across {
            // A hook needs length.
            let free = local::straight_pieces(self.view, edge, own.grown(local::HOOK));
            let here: f64 = local::straight_pieces(self.view, edge, own)
                .iter()
                .map(|(from, to)| to - from)
                .sum();
            let more: f64 = free.iter().map(|(from, to)| to - from).sum::<f64>() - here;
            high += (local::HOOK - here).clamp(0.0, more.max(0.0)) * 2.0;
        }
        let placing = self.placing(group, &PlacingSteps::default());
        let beside = super::beside::cards(
            &self.read_with(group),
            &placing,
            self.options.collar,
            self.lengths,
            crate::drawing::text::LABEL,
        );
        // The cards stand in columns beside the work; the arrow to the top stands with them.
        let cards = beside.needed.iter().chain(&beside.more);
        let stacked: f64 = cards.map(|card| card.size.1 + AROUND).sum::<f64>() + ARROW;
        let free = room.0 - own.width() - depth(across);
        let columns = (free / COLUMN).floor().max(1.0);
        high.max(stacked / columns).min(room.1)
    }

    /// The work that a template is for: what it shows, and where it is used again, all of that.
    fn read_with(&self, group: &WorkGroup<'a>) -> FaceView<'a> {
        let mut view = group.view.clone();
        if let Some(repeat) = &group.repeat {
            let all = |index: usize| repeat.all.contains(&index);
            let on_face = self.view.operations.iter().enumerate();
            let on_face = on_face.filter(|(index, _)| all(*index));
            view.operations = on_face.map(|(_, operation)| operation.clone()).collect();
            let first = self.view.operations.len();
            let on_edge = self.view.edge_work.iter().enumerate();
            let on_edge = on_edge.filter(|(index, _)| all(first + index));
            view.edge_work = on_edge.map(|(_, operation)| operation.clone()).collect();
        }
        view
    }

    /// How a group lies on the part, with the steps that its registration gives.
    fn placing(&self, group: &WorkGroup, registered: &PlacingSteps) -> PlacingSteps {
        let uses = group.repeat.as_ref();
        PlacingSteps {
            uses: uses
                .map(|repeat| repeat.lines(self.view, self.lengths))
                .unwrap_or_default(),
            ..registered.clone()
        }
    }

    /// A small template whose page shows `room` of the face.
    fn small_one(&self, group: &WorkGroup<'a>, index: usize, room: (f64, f64)) -> Template<'a> {
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
        let registered = registration::draw(group, shown, &marks, inks, self.lengths);
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
        edges::draw(&group.view, &mut drawing.items, &folds);
        drawing.items.extend(registered.items);
        drawing.requests.splice(0..0, registered.requests);
        drawing.extent = window;
        let placing = self.placing(
            group,
            &PlacingSteps {
                steps: registered.steps,
                distances: self.distances(group, &drawing.holes),
                uses: Vec::new(),
            },
        );
        let tile = Tile {
            column: index,
            row: 0,
            core: window,
            window,
        };
        let mut template = self.template(self.read_with(group), drawing, vec![tile], placing);
        template.flaps = registered.flaps;
        template.at_top = true;
        template.small = Some(Small {
            number: index + 1,
            work: group.bounds,
        });
        template
    }

    /// How far the first and the last of some marks lie from the edges that their template registers on.
    fn distances(&self, group: &WorkGroup, holes: &[HoleEntry]) -> Vec<String> {
        if group.repeat.is_some() {
            // Its uses say where it lies.
            return Vec::new();
        }
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
