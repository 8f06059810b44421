//! All pages of a part, in their order.

use jigless_model::export::ExportInput;
use jigless_model::side::Face;
use jigless_model::workpiece::Workpiece;

use super::card::Card;
use super::check_sheet::{self, CheckSheetText};
use super::hole_list::HoleList;
use super::options::PdfTemplateOptions;
use super::paper_sheet::PaperSheet;
use super::template::Template;
use super::{details, template_maker, tile_page};
use crate::drawing::caption::Caption;

/// The pages of a part: the check sheet, the rest of the hole list, the templates of the front and of the back, and
/// details that had no room beside the work.
pub(super) fn lay_out(
    input: &ExportInput,
    workpiece: &Workpiece,
    options: &PdfTemplateOptions,
) -> Vec<PaperSheet> {
    let correction = options.correction();
    let correction = correction.as_deref();
    let mut templates: Vec<Template> = Vec::new();
    let mut ruled = Vec::new();
    for face in Face::ALL {
        if face == Face::Front || workpiece.has_work_on(face) {
            let mut found = template_maker::of_face(input, workpiece, face, options);
            templates.append(&mut found.templates);
            ruled.append(&mut found.ruled);
        }
    }
    let mut pages = Vec::new();
    let mut unplaced = Vec::new();
    let mut cards: Vec<Card> = Vec::new();
    for template in &templates {
        let mut left = template.cards.clone();
        for index in 0..template.tiles.len() {
            let inks = options.inks.into();
            let mut drawn = tile_page::draw(template, index, left, inks, correction);
            pages.push(drawn.sheet);
            unplaced.append(&mut drawn.unplaced);
            left = drawn.cards;
        }
        left.retain(|card| !cards.contains(card));
        cards.append(&mut left);
    }
    let format = options.check_sheet_format();
    let part = &workpiece.part.title;
    let has_list = options.check_sheet || !unplaced.is_empty() || !ruled.is_empty();
    if !has_list {
        pages.extend(details::pages(format, part, correction, &cards));
        return pages;
    }
    let list = HoleList::new(&templates, &ruled, &unplaced);
    let caption = Caption::new(
        input,
        &workpiece.part,
        Face::Front,
        options.lengths(input.plan.units),
    );
    let first = options.check_sheet.then(|| {
        let text = CheckSheetText {
            title: caption.part.clone(),
            facts: facts(&caption),
            pages: count_of_pages(0),
            templates: &templates,
            list: Some(&list),
            correction,
        };
        check_sheet::draw(format, &text)
    });
    let mut taken = 0;
    let mut on_check_sheet = Vec::new();
    if let Some(first) = &first {
        taken = first.taken;
        let room = check_sheet::room(format);
        cards = details::place(room, &first.sheet.items, cards, &mut on_check_sheet);
    }
    pages.extend(details::pages(format, part, correction, &cards));
    let mut lists = Vec::new();
    while taken < list.len() {
        let (sheet, now) = list.page(format, correction, taken);
        if now == taken {
            break;
        }
        lists.push(sheet);
        taken = now;
    }
    let mut sheets = Vec::new();
    if let Some(mut first) = first {
        first.set_page_count(&count_of_pages(1 + lists.len() + pages.len()));
        first.sheet.items.append(&mut on_check_sheet);
        sheets.push(first.sheet);
    }
    sheets.append(&mut lists);
    sheets.append(&mut pages);
    sheets
}

/// What the check sheet says of the part.
fn facts(caption: &Caption) -> Vec<String> {
    let mut facts = vec![
        caption.plan.clone(),
        caption.make.clone(),
        caption.size.clone(),
    ];
    if let (Some(hand), Some(pair)) = (caption.hand, &caption.pair) {
        facts.push(format!("{}: {pair}", hand.word));
    }
    facts
}

fn count_of_pages(pages: usize) -> String {
    match pages {
        1 => "Nothing is to be laid out beyond this page: cut the part to size.".to_owned(),
        _ => format!(
            "{pages} pages with this one. Templates are 1:1; small pictures are NOT TO SCALE."
        ),
    }
}
