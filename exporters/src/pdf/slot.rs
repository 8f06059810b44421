//! A template in its part of a sheet: a banner that says which way up, the drawing at full size with its labels, and what
//! is to be read beside the work. It is whole in itself, so that it can be cut off.

use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::side::Face;

use super::beside::Beside;
use super::card::{Card, LARGE, SMALL};
use super::page_frame::BANNER;
use super::seams;
use super::template::Template;
use super::tiling::Tile;
use crate::drawing::label::{LabelRequest, LabelTarget};
use crate::drawing::label_layout::LabelLayout;
use crate::drawing::text::{Block, LABEL};
use crate::drawing::{Anchor, Ink, Inks, Item, Pen, Role, TextLine, clip, font};

/// Height of the banner itself, in millimetres.
const BAND: f64 = 7.4;
/// Names of edges are written on a page that shows at least this much of the edge, in millimetres.
const EDGE_SHOWN: f64 = 30.0;
/// An area that goes over several pages is labelled on each that shows at least this much of it, in millimetres.
const AREA_SHOWN: f64 = 25.0;

/// A template, or a page of one, laid out from the lower left corner of its area.
#[derive(Debug, Clone)]
pub(super) struct Slot {
    /// Width and height of the area, in millimetres.
    pub(super) size: (f64, f64),
    /// What is drawn in it.
    pub(super) items: Vec<Item>,
    /// Where the names of its parts go, and the room for them in millimetres.
    pub(super) name_at: (Point, f64),
    /// Where the part's 0,0 lies.
    pub(super) origin: Point,
    /// The name of the page: `B2` of a whole face, `2` of small templates.
    pub(super) name: String,
    /// What of the face it is for, in view coordinates.
    pub(super) shows: Bounds,
    /// What its labels would have said that found no room.
    pub(super) unplaced: Vec<String>,
    /// Cards that found no room.
    pub(super) left: Vec<Card>,
    /// Cards that found no room and must not leave their template.
    pub(super) missing: usize,
}

impl Slot {
    /// Whether everything found room.
    pub(super) fn is_complete(&self) -> bool {
        self.unplaced.is_empty() && self.left.is_empty() && self.missing == 0
    }
}

/// How much is given up to find room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tightness {
    /// Nothing.
    Roomy,
    /// The words beside the work are small, and what must not leave it goes before all else.
    SmallCards,
    /// Labels are small, too.
    Small,
}

/// Lays a page of a template out in an area of a size.
pub(super) fn lay_out(
    template: &Template,
    index: usize,
    size: (f64, f64),
    tightness: Tightness,
    inks: Inks,
) -> Slot {
    let tile = &template.tiles[index];
    let whole = Bounds::of_size(size.0, size.1);
    let area = Bounds::new(whole.min, whole.max - Point::new(0.0, BANNER));
    let origin = origin_in(area, tile, template.at_top);
    let mut items: Vec<Item> = template
        .drawing
        .items
        .iter()
        .zip(&template.boxes)
        .filter(|(_, bounds)| bounds.intersection(tile.window).is_some())
        .flat_map(|(item, _)| clip::clip(item, tile.window, origin))
        .collect();
    let seams = seams::draw(&template.tiles, tile, origin, area);
    items.extend(seams.items);

    let mut layout = LabelLayout::new(seams.label_area, &items);
    let reserved = reserved(template, &items, origin);
    let near = far_corner(area, template, origin);
    let words = if tightness == Tightness::Roomy {
        LABEL
    } else {
        SMALL
    };
    let Beside { needed, more } = template.beside(index, words);
    let mut missing = 0;
    let mut left = Vec::new();
    let mut needed = needed;
    if tightness != Tightness::Roomy {
        // What must not leave the template comes before its labels.
        let mut first = LabelLayout::new(seams.label_area, &items);
        for bounds in &reserved {
            first.reserve(*bounds);
        }
        for request in &template.drawing.requests {
            if let Some((LabelTarget::Round(at, radius), _)) = on_tile(&request.target, tile) {
                // Room for the short name at least.
                let room = Bounds::around(at + origin, radius + 4.0);
                first.reserve(room);
            }
        }
        let mut placed = Vec::new();
        missing = place(
            &mut first,
            std::mem::take(&mut needed),
            near,
            &mut placed,
            &mut Vec::new(),
        );
        for item in &placed {
            layout.take(item);
        }
        items.append(&mut placed);
    }
    let mut unplaced = Vec::new();
    for request in &template.drawing.requests {
        let Some((target, owed)) = on_tile(&request.target, tile) else {
            continue;
        };
        let sized = sized(request, tightness);
        match layout.place_at(sized.as_ref().unwrap_or(request), &target.moved(origin)) {
            Some(label) => items.extend(label),
            // What a flap is for is said in the steps too.
            None if owed && request.role != Role::Join => {
                let words = request.blocks.first().map(|block| block.lines.join(", "));
                let page = format!("{} {}", template.face().name(), template.page_name(index));
                unplaced.extend(words.map(|words| format!("{page}: {words}")));
            }
            None => {}
        }
    }
    for bounds in &reserved {
        layout.reserve(*bounds);
    }
    missing += place(&mut layout, needed, near, &mut items, &mut Vec::new());
    if let Some(arrow) = top_arrow(&layout, area.centre()) {
        for item in &arrow {
            layout.take(item);
        }
        items.extend(arrow);
    }
    place(&mut layout, more, near, &mut items, &mut left);
    let strips = strip_words(seams.strips, area, &items, inks);
    items.extend(strips);
    let (banner, name_at) = banner(template, index, whole);
    items.extend(banner);
    Slot {
        name_at,
        size,
        items,
        origin,
        name: template.page_name(index),
        shows: template
            .small
            .as_ref()
            .map_or(tile.core, |small| small.work),
        unplaced,
        left,
        missing,
    }
}

/// The few words of the strips under the neighbours, if no mark is in the way.
fn strip_words(
    strips: Vec<(Bounds, String)>,
    area: Bounds,
    items: &[Item],
    inks: Inks,
) -> Vec<Item> {
    if strips.is_empty() {
        return Vec::new();
    }
    let mut layout = LabelLayout::new(area, items);
    let mut placed = Vec::new();
    for (strip, words) in strips {
        let request = LabelRequest::new(
            Role::Join,
            LabelTarget::Inside(strip),
            vec![Block::label([words.as_str()]).inked(inks.quiet)],
        );
        placed.extend(layout.place(&request).into_iter().flatten());
    }
    placed
}

/// Where cards would seem to belong to something else: flaps, areas and frames.
fn reserved(template: &Template, items: &[Item], origin: Point) -> Vec<Bounds> {
    let flaps = template.flaps.iter().map(|flap| flap.moved(origin));
    let areas = items
        .iter()
        .filter(|item| matches!(item.role, Role::Area | Role::Mark));
    flaps.chain(areas.filter_map(Item::bounds)).collect()
}

/// Puts cards away from the work, one under the other from a corner; gives how many found no room.
fn place(
    layout: &mut LabelLayout,
    cards: Vec<Card>,
    near: Point,
    items: &mut Vec<Item>,
    left: &mut Vec<Card>,
) -> usize {
    let mut missing = 0;
    for card in cards {
        if let Some(place) = layout.free_box(card.size, near) {
            layout.reserve(place.grown(1.0));
            items.extend(card.at(place.min));
        } else {
            left.push(card);
            missing += 1;
        }
    }
    missing
}

/// A request in small type, where labels are to be small.
fn sized(request: &LabelRequest, tightness: Tightness) -> Option<LabelRequest> {
    (tightness == Tightness::Small).then(|| {
        let mut request = request.clone();
        for block in &mut request.blocks {
            block.size = block.size.min(SMALL);
        }
        request
    })
}

/// An arrow to the top of the part, on the drawing itself.
fn top_arrow(layout: &LabelLayout, near: Point) -> Option<Vec<Item>> {
    const HIGH: f64 = 14.0;
    let words = TextLine::new(Point::default(), LABEL * 1.2, "TOP").bold();
    let width = words.width();
    let place = layout.free_box((width, HIGH + 5.6), near)?;
    let x = place.centre().x;
    let (low, high) = (place.min.y, place.min.y + HIGH);
    let pen = Pen::new(0.5, Ink::BLACK);
    let tip = Point::new(x, high);
    let head = [
        tip + Point::new(-1.6, -3.2),
        tip,
        tip + Point::new(1.6, -3.2),
    ];
    let words = TextLine {
        at: Point::new(x, high + 1.8),
        ..words.anchored(Anchor::Middle)
    };
    Some(vec![
        Item::line(Role::Note, Point::new(x, low), tip, pen),
        Item::fill(Role::Note, Path::of_points(head, true), Ink::BLACK),
        Item::text(Role::Note, words),
    ])
}

/// Which way up, in type as large as that of a stop: black on white for the front, white on black for the back. Gives where
/// after it the name of the part goes, and its room: a template that was cut off must say what it is for.
fn banner(template: &Template, index: usize, whole: Bounds) -> (Vec<Item>, (Point, f64)) {
    let caption = &template.caption;
    let band = Bounds::new(Point::new(whole.min.x, whole.max.y - BAND), whole.max);
    let base = band.min.y + (BAND - LARGE * font::ASCENT) / 2.0 + 0.6;
    let number = TextLine::new(
        Point::new(band.min.x + 1.0, base),
        LARGE,
        &template.page_name(index),
    )
    .bold();
    let words = TextLine::new(
        Point::new(band.min.x + number.width() + 4.0, base),
        LARGE,
        &caption.up,
    )
    .bold()
    .fitted(band.width() - number.width() - 6.0);
    let box_ = Bounds::new(
        Point::new(words.at.x - 1.2, band.min.y),
        Point::new(words.at.x + words.width() + 1.2, band.max.y),
    );
    let frame = jigless_model::geom::rectangle(box_.grown(-0.15));
    let mut items = match template.face() {
        Face::Front => vec![Item::stroke(Role::Frame, frame, Pen::new(0.3, Ink::BLACK))],
        Face::Back => vec![Item::fill(Role::Frame, frame, Ink::BLACK)],
    };
    let ink = match template.face() {
        Face::Front => Ink::BLACK,
        Face::Back => Ink(255, 255, 255),
    };
    items.push(Item::text(Role::Frame, number));
    items.push(Item::text(Role::Frame, TextLine { ink, ..words }));
    let after = Point::new(box_.max.x + 2.0, base);
    let room = band.max.x - after.x;
    (items, (after, room))
}

/// The name of the parts that a template is for, after its banner, where there is room.
pub(super) fn name_tag((at, room): (Point, f64), names: &str) -> Option<Item> {
    let text = TextLine::new(at, LABEL, names).bold();
    (room > 8.0).then(|| Item::text(Role::Frame, text.fitted(room)))
}

/// The corner of the drawing area that is farthest from the marks.
fn far_corner(area: Bounds, template: &Template, origin: Point) -> Point {
    let holes = &template.drawing.holes;
    let sum = holes
        .iter()
        .fold(Point::default(), |sum, hole| sum + hole.centre);
    let middle = sum * (1.0 / holes.len().max(1) as f64) + origin;
    let far = |low: f64, high: f64, at: f64| {
        if at > f64::midpoint(low, high) {
            low
        } else {
            high
        }
    };
    Point::new(
        far(area.min.x, area.max.x, middle.x),
        far(area.min.y, area.max.y, middle.y),
    )
}

/// Where the part's 0,0 lies: the tile goes into the middle of the drawing area, or to its top.
fn origin_in(area: Bounds, tile: &Tile, at_top: bool) -> Point {
    let free = Point::new(
        area.width() - tile.window.width(),
        area.height() - tile.window.height(),
    );
    // Its free room is left in one piece, under it, for what is to be read beside it.
    let share = Point::new(0.5, if at_top { 1.0 } else { 0.5 });
    let exact = area.min + Point::new(free.x * share.x, free.y * share.y) - tile.window.min;
    // To the hundredth, so that the numbers printed on the page are the whole truth.
    Point::new(to_hundredth(exact.x), to_hundredth(exact.y))
}

/// To the hundredth of a millimetre.
pub(super) fn to_hundredth(mm: f64) -> f64 {
    (mm * 100.0).round() / 100.0
}

/// What of a label's target is on a tile, and whether the tile is the one that owes the label.
fn on_tile(target: &LabelTarget, tile: &Tile) -> Option<(LabelTarget, bool)> {
    match target {
        LabelTarget::Round(at, _) | LabelTarget::Point(at) => {
            let owed = tile.core.contains(*at, 0.0);
            (owed || tile.window.contains(*at, 0.0)).then(|| (target.clone(), owed))
        }
        LabelTarget::Box(bounds) | LabelTarget::Inside(bounds) => {
            let owed = tile.core.contains(bounds.centre(), 0.0);
            let shown = bounds.intersection(tile.core)?;
            let enough = shown.width().max(shown.height()) >= AREA_SHOWN;
            let target = match target {
                LabelTarget::Inside(_) => LabelTarget::Inside(shown),
                _ => LabelTarget::Box(shown),
            };
            (owed || enough).then_some((target, owed))
        }
        LabelTarget::Edge(from, to) => {
            let core = tile.core.grown(1e-6);
            let shown = Bounds::new(*from, *to).intersection(core)?;
            let (a, b) = (nearest(shown, *from), nearest(shown, *to));
            (a.distance(b) >= EDGE_SHOWN).then_some((LabelTarget::Edge(a, b), false))
        }
        LabelTarget::Near(_) => Some((LabelTarget::Near(tile.core.centre()), false)),
    }
}

fn nearest(bounds: Bounds, to: Point) -> Point {
    Point::new(
        to.x.clamp(bounds.min.x, bounds.max.x),
        to.y.clamp(bounds.min.y, bounds.max.y),
    )
}
