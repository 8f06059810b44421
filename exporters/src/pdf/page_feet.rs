//! What stands at the foot of every page that is read: the cautions, what it belongs to, and its number.

use jigless_model::caution::Caution;
use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::Plan;

use super::page_format::PageFormat;
use super::page_frame::below_title;
use super::paper_sheet::PaperSheet;
use crate::cautions;
use crate::drawing::text::LABEL;
use crate::drawing::{Anchor, Ink, Item, Role, TextLine};

/// Height of the foot of a page, in millimetres.
const FOOT: f64 = 6.0;

/// What a page has between its title and the cautions over its foot.
pub(crate) fn area_above(format: PageFormat, cautions: &[Caution]) -> Bounds {
    let below = below_title(format);
    let up = Point::new(0.0, FOOT + cautions::height(cautions));
    Bounds::new(below.min + up, below.max)
}

/// The plan, its revision and its digest, in words.
pub(crate) fn of_plan(plan: &Plan) -> String {
    let digest = plan.digest.get(..8).unwrap_or(&plan.digest);
    let revision = plan.revision.as_ref().map(|r| format!("revision {r}"));
    let parts = [
        Some(plan.title.clone()),
        revision,
        Some(format!("plan {digest}")),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" · ")
}

/// The pages with what stands at their feet, once their number is known.
pub(crate) fn with_feet(
    format: PageFormat,
    pages: Vec<Vec<Item>>,
    words: &str,
    cautions: &[Caution],
) -> Vec<PaperSheet> {
    let printable = format.printable();
    let of = pages.len();
    let finish = |(index, mut items): (usize, Vec<Item>)| {
        let up = Point::new(0.0, 0.3 * LABEL);
        let end = Point::new(printable.max.x, printable.min.y) + up;
        let number =
            TextLine::new(end, LABEL, &format!("page {} of {of}", index + 1)).anchored(Anchor::End);
        let room = printable.width() - number.width() - 4.0;
        let words = TextLine::new(printable.min + up, LABEL, words).fitted(room);
        for text in [words, number] {
            let text = TextLine {
                ink: Ink::GREY,
                ..text
            };
            items.push(Item::text(Role::Frame, text));
        }
        let over = Point::new(0.0, FOOT + cautions::height(cautions));
        let room = printable.width();
        items.extend(cautions::lines(
            printable.min + over,
            room,
            cautions::SMALL,
            cautions,
        ));
        PaperSheet {
            format,
            items,
            viewports: Vec::new(),
        }
    };
    pages.into_iter().enumerate().map(finish).collect()
}
