//! One page of a template: a tile of a face at full size, with its frame, seams and labels.

use jigless_model::geom::{Bounds, Point};
use jigless_model::side::Face;
use jigless_model::units::Unit;

use super::card::Card;
use super::page_map;
use super::seams;
use super::sheet::{self, Leaf, Sheet, Viewport};
use super::template::Template;
use super::tiling::Tile;
use crate::drawing::label::{Placer, Target, Wish};
use crate::drawing::text::{Block, LABEL};
use crate::drawing::{Anchor, Inks, Item, Role, Text, clip};

/// Names of edges are written on a page that shows at least this much of the edge, in millimetres.
const EDGE_SHOWN: f64 = 30.0;
/// An area that goes over several pages is labelled on each that shows at least this much of it, in millimetres.
const AREA_SHOWN: f64 = 25.0;
/// Size of the head's first line, in millimetres.
const TITLE: f64 = 5.0;

/// A page, and what found no room on it.
pub(super) struct Drawn {
    /// The page.
    pub(super) sheet: Sheet,
    /// What its labels would have said.
    pub(super) homeless: Vec<String>,
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
) -> Drawn {
    let tile = &template.tiles[index];
    let leaf = template.leaf;
    let area = sheet::drawing_area(leaf, template.bars());
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

    let mut placer = Placer::new(seams.label_area, &items);
    let mut homeless = Vec::new();
    let wishes = template.drawing.wishes.iter();
    for wish in wishes {
        let Some((target, owed)) = on_tile(&wish.target, tile) else {
            continue;
        };
        match placer.place_at(wish, &target.moved(origin)) {
            Some(label) => items.extend(label),
            // What a flap is for is said in the steps too.
            None if owed && wish.role != Role::Join => {
                let words = wish.blocks.first().map(|block| block.lines.join(", "));
                let page = format!("{} {}", template.face.name(), template.page_name(index));
                homeless.extend(words.map(|words| format!("{page}: {words}")));
            }
            None => {}
        }
    }
    for flap in template.small.iter().flat_map(|small| &small.flaps) {
        placer.reserve(flap.moved(origin));
    }
    // Cards do not stand inside areas and frames either, where they would seem to belong.
    for item in &items {
        if let (Role::Area | Role::Mark, Some(bounds)) = (item.role, item.bounds()) {
            placer.reserve(bounds);
        }
    }
    // Away from the work, one under the other from a corner.
    let near = far_corner(area, template, origin);
    let mut left = Vec::new();
    for card in cards {
        match placer.free_box(card.size, near) {
            Some(place) => {
                placer.reserve(place.grown(1.0));
                items.extend(card.at(place.min));
            }
            None => left.push(card),
        }
    }
    // The strips under the neighbours carry their own few words, if no mark is in the way.
    let mut strips = None;
    for (strip, words) in seams.strips {
        let strips = strips.get_or_insert_with(|| Placer::new(area, &items));
        let wish = Wish {
            role: Role::Join,
            target: Target::Inside(strip),
            blocks: vec![Block::label([words.as_str()]).inked(inks.quiet)],
            arrow: None,
        };
        items.extend(strips.place(&wish).into_iter().flatten());
    }

    items.extend(sheet::check_bars(leaf, template.bars()));
    items.extend(head(template, index));
    items.extend(foot(template, correction));
    let viewport = Viewport {
        name: format!("{} {}", template.face.name(), template.page_name(index)),
        window,
        origin,
    };
    Drawn {
        sheet: Sheet {
            leaf,
            items,
            viewport: Some(viewport),
        },
        homeless,
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
fn on_tile(target: &Target, tile: &Tile) -> Option<(Target, bool)> {
    match target {
        Target::Round(at, _) | Target::Point(at) => {
            let owed = tile.core.contains(*at, 0.0);
            (owed || tile.window.contains(*at, 0.0)).then(|| (target.clone(), owed))
        }
        Target::Box(bounds) | Target::Inside(bounds) => {
            let owed = tile.core.contains(bounds.centre(), 0.0);
            let shown = bounds.intersection(tile.core)?;
            let enough = shown.width().max(shown.height()) >= AREA_SHOWN;
            let target = match target {
                Target::Inside(_) => Target::Inside(shown),
                _ => Target::Box(shown),
            };
            (owed || enough).then_some((target, owed))
        }
        Target::Edge(from, to) => {
            let core = tile.core.grown(1e-6);
            let shown = Bounds::new(*from, *to).intersection(core)?;
            let (a, b) = (nearest(shown, *from), nearest(shown, *to));
            (a.distance(b) >= EDGE_SHOWN).then_some((Target::Edge(a, b), false))
        }
        Target::Near(_) => Some((Target::Near(tile.core.centre()), false)),
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
    let printable = template.leaf.printable();
    let head = Bounds::new(
        Point::new(printable.min.x, printable.max.y - sheet::HEAD + 1.5),
        printable.max,
    );
    let map = Bounds::new(Point::new(head.max.x - 24.0, head.min.y), head.max);
    let mut items = page_map::draw(map, template, Some(index));

    let name = match template.face {
        Face::Front => template.page_name(index),
        Face::Back => format!("back {}", template.page_name(index)),
    };
    let name = Text::new(
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
    let kind = Text::new(head_line(head), TITLE, &kind).bold();
    let part_at = head_line(head) + Point::new(kind.width() + 4.0, 0.0);
    let part_room = name.at.x - name_width - 4.0 - part_at.x;
    let title = Text::new(part_at, TITLE, &template.caption.part)
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
    let (lines, _) = sheet::lines_down(
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
    let room = sheet::foot_room(template.leaf, template.bars());
    let at = Point::new(room.max.x, room.min.y + 1.6);
    let text = Text::new(at, LABEL, words)
        .bold()
        .anchored(Anchor::End)
        .fitted(room.width());
    vec![Item::text(Role::Frame, text)]
}

/// The drawing area of a page in millimetres across and upward.
pub(super) fn room(leaf: Leaf, unit: Unit) -> (f64, f64) {
    let area = sheet::drawing_area(leaf, unit);
    (area.width() - 0.02, area.height() - 0.02)
}
