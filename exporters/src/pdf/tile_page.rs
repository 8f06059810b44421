//! One page of a template: a tile of a face at full size, with its frame, seams and labels.

use jigless_core::geom::{Bounds, Point};
use jigless_core::side::Face;
use jigless_core::units::Unit;

use super::page_map;
use super::seams;
use super::sheet::{self, Sheet, Viewport};
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

/// Draws a page, and gives what its labels would have said that found no room on it.
pub(super) fn draw(template: &Template, index: usize, inks: Inks) -> (Sheet, Vec<String>) {
    let tile = &template.tiles[index];
    let size = template.size;
    let unit = template.unit;
    let area = sheet::drawing_area(size, unit);
    let origin = origin_on_page(area, tile);
    let window = tile.window.moved(origin);

    let mut items: Vec<Item> = template
        .drawing
        .items
        .iter()
        .zip(&template.boxes)
        .filter(|(_, bounds)| bounds.intersection(tile.window).is_some())
        .flat_map(|(item, _)| clip::clip(item, tile.window))
        .map(|item| item.moved(origin))
        .collect();
    let seams = seams::draw(&template.tiles, tile, origin, area);
    items.extend(seams.items);

    let mut placer = Placer::new(seams.label_area, &items);
    let mut homeless = Vec::new();
    let wishes = template.drawing.wishes.iter();
    for (wish, owed) in wishes.filter_map(|wish| on_tile(wish, tile)) {
        let moved = Wish {
            target: wish.target.moved(origin),
            ..wish
        };
        match placer.place(&moved) {
            Some(label) => items.extend(label),
            None if owed => {
                let words = moved.blocks.first().map(|block| block.lines.join(", "));
                let page = format!("{} {}", template.face.name(), tile.name());
                homeless.extend(words.map(|words| format!("{page}: {words}")));
            }
            None => {}
        }
    }
    // The strips under the neighbours carry their own few words, if no mark is in the way.
    let mut strips = Placer::new(area, &items);
    for (strip, words) in seams.strips {
        let wish = Wish {
            role: Role::Join,
            target: Target::Inside(strip),
            blocks: vec![Block::label([words.as_str()]).inked(inks.quiet)],
            arrow: None,
        };
        items.extend(strips.place(&wish).into_iter().flatten());
    }

    items.extend(sheet::check_bars(size, unit));
    items.extend(head(template, index));
    items.extend(foot(template, tile));
    let viewport = Viewport {
        name: format!("{} {}", template.face.name(), tile.name()),
        window,
        origin,
    };
    let sheet = Sheet {
        size,
        items,
        viewport: Some(viewport),
    };
    (sheet, homeless)
}

/// Where the part's 0,0 lies on the page: the tile goes into the middle of the drawing area.
fn origin_on_page(area: Bounds, tile: &Tile) -> Point {
    let free = Point::new(
        area.width() - tile.window.width(),
        area.height() - tile.window.height(),
    );
    let exact = area.min + free * 0.5 - tile.window.min;
    // To the hundredth, so that the numbers printed on the page are the whole truth.
    Point::new(to_hundredth(exact.x), to_hundredth(exact.y))
}

fn to_hundredth(mm: f64) -> f64 {
    (mm * 100.0).round() / 100.0
}

/// What of a label's wish concerns a tile, and whether the tile is the one that owes it.
fn on_tile(wish: &Wish, tile: &Tile) -> Option<(Wish, bool)> {
    let with = |target| Wish {
        target,
        ..wish.clone()
    };
    match &wish.target {
        Target::Round(at, _) | Target::Point(at) => {
            if tile.core.contains(*at, 0.0) {
                return Some((wish.clone(), true));
            }
            tile.window
                .contains(*at, 0.0)
                .then(|| (wish.clone(), false))
        }
        Target::Box(bounds) | Target::Inside(bounds) => {
            let owed = tile.core.contains(bounds.centre(), 0.0);
            let shown = bounds.intersection(tile.core)?;
            let enough = shown.width().max(shown.height()) >= AREA_SHOWN;
            (owed || enough).then(|| (with(Target::Box(shown)), owed))
        }
        Target::Edge(from, to) => {
            let core = tile.core.grown(1e-6);
            let shown = Bounds::new(*from, *to).intersection(core)?;
            let (a, b) = (nearest(shown, *from), nearest(shown, *to));
            (a.distance(b) >= EDGE_SHOWN).then(|| (with(Target::Edge(a, b)), false))
        }
        Target::Near(_) => {
            let near = tile.core.centre();
            Some((with(Target::Near(near)), false))
        }
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
    let tile = &template.tiles[index];
    let printable = sheet::printable(template.size);
    let head = Bounds::new(
        Point::new(printable.min.x, printable.max.y - sheet::HEAD + 1.5),
        printable.max,
    );
    let map = Bounds::new(Point::new(head.max.x - 24.0, head.min.y), head.max);
    let part = Bounds::of_size(template.part_size.0, template.part_size.1);
    let mut items = page_map::draw(map, part, &template.drawing, &template.tiles, Some(index));

    let name = match template.face {
        Face::Front => tile.name(),
        Face::Back => format!("back {}", tile.name()),
    };
    let name = Text::new(
        Point::new(map.min.x - 3.0, head.max.y - TITLE),
        TITLE * 1.3,
        &name,
    )
    .bold()
    .anchored(Anchor::End);
    let name_width = name.width();
    let kind = Text::new(head_line(head), TITLE, "1:1 TEMPLATE").bold();
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

/// Where the tile begins on the part, for whoever checks across seams.
fn foot(template: &Template, tile: &Tile) -> Vec<Item> {
    let room = sheet::foot_room(template.size, template.unit);
    let lengths = crate::drawing::measure::Lengths {
        unit: template.unit,
    };
    let words = format!(
        "from x {} y {}",
        lengths.bare(tile.core.min.x),
        lengths.bare(tile.core.min.y)
    );
    let at = Point::new(room.max.x, room.min.y + 1.6);
    let text = Text::new(at, LABEL, &words).anchored(Anchor::End);
    if text.width() > room.width() {
        return Vec::new();
    }
    vec![Item::text(Role::Frame, text)]
}

/// The drawing area of a page in millimetres across and upward.
pub(super) fn room(size: (f64, f64), unit: Unit) -> (f64, f64) {
    let area = sheet::drawing_area(size, unit);
    (area.width() - 0.02, area.height() - 0.02)
}
