//! The first page: bars to measure the print by, what to do, and where every page belongs.

use jigless_core::geom::{Bounds, Point};
use jigless_core::units::MM_PER_INCH;

use super::hole_list::HoleList;
use super::page_map;
use super::sheet::{self, Sheet, long_bar, tick_box};
use super::template::Template;
use crate::drawing::text::LABEL;
use crate::drawing::{Item, Role, Text, Turn};

/// The longest bars that fit A4 and Letter alike, in millimetres.
const LONG_BARS: [f64; 2] = [180.0, 250.0];
/// The same in inches.
const LONG_BARS_INCHES: [f64; 2] = [7.0, 9.0];
/// Room that the two bars of a side take, in millimetres.
const BARS: f64 = 16.5;
/// Height of the page maps, in millimetres.
const MAPS: f64 = 52.0;

/// What to do, in the order in which to do it.
const STEPS: [&str; 8] = [
    "Print this page alone at 100 % (actual size). Turn off fit to page, shrink and borderless.",
    "Measure all four bars with a steel rule. If one is out by more than 0.5 mm, mend the print",
    "settings before the other pages are printed. The same holds for the bars of every page.",
    "Cut where the dotted line says so, lay join mark on join mark, tape, and check the bars again.",
    "Lay the template on the face that it names, edges on edges, and tape it down.",
    "Prick the open middle of each cross with an awl. Arms show past the hole while it is drilled.",
    "Set the depth stop on scrap of the same thickness. Clamp the part, and scrap behind a through hole.",
    "Wear eye protection, and keep hair, sleeves and gloves away from a turning bit.",
];

/// The page, and how many lines of the hole lists it took.
pub(super) fn draw(
    size: (f64, f64),
    templates: &[Template],
    list: &HoleList,
    pages: usize,
) -> (Sheet, usize) {
    let printable = sheet::printable(size);
    let mut items = bars(printable);

    let inside = Bounds::new(
        printable.min + Point::new(BARS + 2.0, BARS + 2.0),
        printable.max,
    );
    let caption = templates.first().map(|template| &template.caption);
    let title = Text::new(
        Point::new(inside.min.x, inside.max.y - 6.0),
        6.0,
        "CHECK SHEET",
    )
    .bold();
    let part_at = title.at + Point::new(title.width() + 5.0, 0.0);
    let part = caption.map_or("", |caption| caption.part.as_str());
    let part = Text::new(part_at, 6.0, part)
        .bold()
        .fitted(inside.max.x - part_at.x);
    items.extend([title, part].map(|text| Item::text(Role::Frame, text)));

    let below = |y: f64| Bounds::new(inside.min, Point::new(inside.max.x, y));
    let mut facts: Vec<String> = caption
        .map(|caption| {
            let mut facts = vec![
                caption.plan.clone(),
                caption.make.clone(),
                caption.size.clone(),
            ];
            facts.extend(caption.pair.clone());
            facts
        })
        .unwrap_or_default();
    facts.push(format!(
        "{pages} pages with this one. Bars and templates are 1:1; the page maps are NOT TO SCALE."
    ));
    let (lines, y) = sheet::lines_down(
        below(inside.max.y - 8.0),
        LABEL,
        facts.iter().map(String::as_str),
    );
    items.extend(lines);
    let (steps, y) = numbered(below(y - 2.0));
    items.extend(steps);
    let (measured, y) = measured(below(y - 2.0));
    items.extend(measured);
    let (maps, y) = maps(below(y - 1.0), templates);
    items.extend(maps);
    let (lines, taken) = list.fill(below(y - 2.0), 0);
    items.extend(lines);
    let sheet = Sheet {
        size,
        items,
        viewport: None,
    };
    (sheet, taken)
}

/// Long bars along the lower and the left side, one unit to a bar.
fn bars(printable: Bounds) -> Vec<Item> {
    let inches = |count: f64| count * MM_PER_INCH;
    let mut items = Vec::new();
    for (off, step, longest) in [
        (2.5, 10.0, LONG_BARS),
        (10.5, MM_PER_INCH, LONG_BARS_INCHES.map(inches)),
    ] {
        let from = printable.min + Point::new(off, off);
        let room = printable.max - from;
        for (turn, longest, room) in [
            (Turn::Level, longest[0], room.x),
            (Turn::Up, longest[1], room.y),
        ] {
            // On smaller paper a bar gives up whole steps rather than run over.
            let steps = (longest.min(room) / step + 1e-9).floor();
            let words = if step < MM_PER_INCH {
                format!("{} mm", steps * step)
            } else {
                format!("{steps} in")
            };
            items.extend(long_bar(from, steps * step, step, turn, &words));
        }
    }
    items
}

fn numbered(inside: Bounds) -> (Vec<Item>, f64) {
    let indent = 4.0;
    let words = Bounds::new(inside.min + Point::new(indent, 0.0), inside.max);
    let (mut items, y) = sheet::lines_down(words, LABEL, STEPS);
    let step = LABEL * 1.25;
    let mut number = 0;
    for (index, line) in STEPS.iter().enumerate() {
        // A line that goes on with the sentence before it begins with a small letter.
        if line.starts_with(char::is_lowercase) {
            continue;
        }
        number += 1;
        let at = Point::new(
            inside.min.x,
            inside.max.y - step * (index as f64 + 1.0) + 0.3 * LABEL,
        );
        items.push(Item::text(
            Role::Frame,
            Text::new(at, LABEL, &format!("{number}")),
        ));
    }
    (items, y)
}

/// Room to write down what was measured.
fn measured(inside: Bounds) -> (Vec<Item>, f64) {
    let words = [
        "Across, the longest bar measures ______________ mm",
        "Upward, the longest bar measures ______________ mm",
    ];
    let step = LABEL * 1.7;
    let mut y = inside.max.y;
    let mut items = Vec::new();
    for line in words {
        y -= step;
        items.push(tick_box(Point::new(inside.min.x, y), 2.6));
        let at = Point::new(inside.min.x + 4.0, y + 0.2);
        items.push(Item::text(Role::Frame, Text::new(at, LABEL, line)));
    }
    (items, y)
}

/// The map of the pages of each face, side by side.
fn maps(inside: Bounds, templates: &[Template]) -> (Vec<Item>, f64) {
    let width = inside.width() / templates.len().max(1) as f64;
    // As high as the highest map comes out at this width.
    let highest = templates.iter().map(|template| {
        let extent = template.drawing.extent;
        (width - 4.0) * extent.height() / extent.width()
    });
    let height = highest
        .fold(5.0, f64::max)
        .min(MAPS)
        .min(inside.height() - 12.0);
    if height < 5.0 {
        return (Vec::new(), inside.max.y);
    }
    let mut items = Vec::new();
    for (index, template) in templates.iter().enumerate() {
        let x = inside.min.x + width * index as f64;
        let words = match template.tiles.len() {
            1 => format!("{}: 1 page", template.caption.face),
            more => format!("{}: {more} pages", template.caption.face),
        };
        let at = Point::new(x, inside.max.y - 5.0);
        let text = Text::new(at, LABEL, &words).bold().fitted(width - 4.0);
        items.push(Item::text(Role::Frame, text));
        let room = Bounds::new(
            Point::new(x, inside.max.y - 7.0 - height),
            Point::new(x + width - 4.0, inside.max.y - 7.0),
        );
        let part = Bounds::of_size(template.part_size.0, template.part_size.1);
        items.extend(page_map::draw(
            room,
            part,
            &template.drawing,
            &template.tiles,
            None,
        ));
    }
    (items, inside.max.y - 7.0 - height)
}
