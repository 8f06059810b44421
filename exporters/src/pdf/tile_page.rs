//! One page of a template: a tile of a face at full size, with its frame, seams and labels.

use jigless_model::geom::{Bounds, Point};
use jigless_model::side::Face;

use super::card::Card;
use super::page_frame;
use super::page_map;
use super::paper_sheet::{PaperSheet, Viewport};
use super::seams;
use super::template::Template;
use super::tiling::Tile;
use crate::drawing::label::{LabelRequest, LabelTarget};
use crate::drawing::label_layout::LabelLayout;
use crate::drawing::text::{Block, LABEL};
use crate::drawing::{Anchor, Inks, Item, Role, TextLine, clip};

/// Names of edges are written on a page that shows at least this much of the edge, in millimetres.
const EDGE_SHOWN: f64 = 30.0;
/// An area that goes over several pages is labelled on each that shows at least this much of it, in millimetres.
const AREA_SHOWN: f64 = 25.0;
/// Size of the head's first line, in millimetres.
const TITLE: f64 = 5.0;

/// A page, and what found no room on it.
pub(super) struct DrawnPage {
    /// The page.
    pub(super) sheet: PaperSheet,
    /// What its labels would have said.
    pub(super) unplaced: Vec<String>,
    /// Cards.
    pub(super) cards: Vec<Card>,
}

/// Draws a page, with as many of the cards as there is room for.
pub(super) fn draw(
    template: &Template,
    index: usize,
    cards: Vec<Card>,
    inks: Inks,
    correction: Option<&str>,
) -> DrawnPage {
    let tile = &template.tiles[index];
    let format = template.format;
    let area = page_frame::drawing_area(format, template.bars());
    let origin = origin_on_page(area, tile, template.small.is_some());
    let window = tile.window.moved(origin);

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
    let mut unplaced = Vec::new();
    let requests = template.drawing.requests.iter();
    for request in requests {
        let Some((target, owed)) = on_tile(&request.target, tile) else {
            continue;
        };
        match layout.place_at(request, &target.moved(origin)) {
            Some(label) => items.extend(label),
            // What a flap is for is said in the steps too.
            None if owed && request.role != Role::Join => {
                let words = request.blocks.first().map(|block| block.lines.join(", "));
                let page = format!("{} {}", template.face.name(), template.page_name(index));
                unplaced.extend(words.map(|words| format!("{page}: {words}")));
            }
            None => {}
        }
    }
    for flap in template.small.iter().flat_map(|small| &small.flaps) {
        layout.reserve(flap.moved(origin));
    }
    // Cards do not stand inside areas and frames either, where they would seem to belong.
    for item in &items {
        if let (Role::Area | Role::Mark, Some(bounds)) = (item.role, item.bounds()) {
            layout.reserve(bounds);
        }
    }
    // Away from the work, one under the other from a corner.
    let near = far_corner(area, template, origin);
    let mut left = Vec::new();
    for card in cards {
        match layout.free_box(card.size, near) {
            Some(place) => {
                layout.reserve(place.grown(1.0));
                items.extend(card.at(place.min));
            }
            None => left.push(card),
        }
    }
    // The strips under the neighbours carry their own few words, if no mark is in the way.
    let mut strips = None;
    for (strip, words) in seams.strips {
        let strips = strips.get_or_insert_with(|| LabelLayout::new(area, &items));
        let request = LabelRequest::new(
            Role::Join,
            LabelTarget::Inside(strip),
            vec![Block::label([words.as_str()]).inked(inks.quiet)],
        );
        items.extend(strips.place(&request).into_iter().flatten());
    }

    items.extend(page_frame::check_bars(format, template.bars()));
    items.extend(head(template, index));
    items.extend(foot(template, correction));
    let viewport = Viewport {
        name: format!("{} {}", template.face.name(), template.page_name(index)),
        window,
        origin,
    };
    DrawnPage {
        sheet: PaperSheet {
            format,
            items,
            viewport: Some(viewport),
        },
        unplaced,
        cards: left,
    }
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

/// Where the part's 0,0 lies on the page: the tile goes into the middle of the drawing area, or to its top.
fn origin_on_page(area: Bounds, tile: &Tile, at_top: bool) -> Point {
    let free = Point::new(
        area.width() - tile.window.width(),
        area.height() - tile.window.height(),
    );
    // A small template leaves its free room in one piece, under it, for what is to be read beside it.
    let share = Point::new(0.5, if at_top { 1.0 } else { 0.5 });
    let exact = area.min + Point::new(free.x * share.x, free.y * share.y) - tile.window.min;
    // To the hundredth, so that the numbers printed on the page are the whole truth.
    Point::new(to_hundredth(exact.x), to_hundredth(exact.y))
}

fn to_hundredth(mm: f64) -> f64 {
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

/// What the page is, and where it belongs.
fn head(template: &Template, index: usize) -> Vec<Item> {
    let printable = template.format.printable();
    let head = Bounds::new(
        Point::new(printable.min.x, printable.max.y - page_frame::HEAD + 1.5),
        printable.max,
    );
    let map = Bounds::new(Point::new(head.max.x - 24.0, head.min.y), head.max);
    let mut items = page_map::draw(map, template, Some(index));

    let name = match template.face {
        Face::Front => template.page_name(index),
        Face::Back => format!("back {}", template.page_name(index)),
    };
    let name = TextLine::new(
        Point::new(map.min.x - 3.0, head.max.y - TITLE),
        TITLE * 1.3,
        &name,
    )
    .bold()
    .anchored(Anchor::End);
    let name_width = name.width();
    let kind = match template.caption.hand {
        Some(hand) => format!("1:1 TEMPLATE · {}", hand.word),
        None => "1:1 TEMPLATE".to_owned(),
    };
    let kind = TextLine::new(head_line(head), TITLE, &kind).bold();
    let part_at = head_line(head) + Point::new(kind.width() + 4.0, 0.0);
    let part_room = name.at.x - name_width - 4.0 - part_at.x;
    let title = TextLine::new(part_at, TITLE, &template.caption.part)
        .bold()
        .fitted(part_room);
    items.extend([name, kind, title].map(|text| Item::text(Role::Frame, text)));

    let caption = &template.caption;
    let below = Bounds::new(
        head.min,
        Point::new(map.min.x - 3.0, head.max.y - TITLE * 1.25),
    );
    let face = match &caption.pair {
        Some(pair) => format!("{} · {pair}", caption.face),
        None => caption.face.clone(),
    };
    let make = format!("{} · {}", caption.size, caption.make);
    let (lines, _) = page_frame::lines_down(
        below,
        LABEL,
        [face.as_str(), make.as_str(), caption.plan.as_str()],
    );
    items.extend(lines);
    items
}

fn head_line(head: Bounds) -> Point {
    Point::new(head.min.x, head.max.y - TITLE)
}

/// For which printer the page is corrected, if for any.
fn foot(template: &Template, correction: Option<&str>) -> Vec<Item> {
    let Some(words) = correction else {
        return Vec::new();
    };
    let room = page_frame::foot_room(template.format, template.bars());
    let at = Point::new(room.max.x, room.min.y + 1.6);
    let text = TextLine::new(at, LABEL, words)
        .bold()
        .anchored(Anchor::End)
        .fitted(room.width());
    vec![Item::text(Role::Frame, text)]
}
