//! All pages of a plan, in their order: the check sheet with the index, the sheets of each part, and the lists.

use jigless_model::caution::{Medium, called_for};
use jigless_model::export::ExportInput;
use jigless_model::mark::Marks;

use super::card::Card;
use super::check_sheet::{self, CheckSheetText};
use super::details;
use super::document_facts::DocumentFacts;
use super::fingerprint;
use super::guide_block;
use super::hole_list::{self, HoleList};
use super::in_place::FinishedPiece;
use super::index::{self, IndexRow};
use super::options::PdfTemplateOptions;
use super::page_format::PageFormat;
use super::paper_sheet::PaperSheet;
use super::part_sheets::{self, DraftSheet, PartSheets};
use super::print_record::{ListRecord, PrintRecord, SheetRecord};
use super::sheet_head::{self, SheetPart, named};
use super::slot;
use crate::drawing::caption::iso_date;
use crate::used_in::{self, UsedIn};

/// The pages of a plan, and what the document says of itself.
pub(super) struct PlanPages {
    /// The pages.
    pub(super) sheets: Vec<PaperSheet>,
    /// Bookmarks, names of pages.
    pub(super) about: DocumentFacts,
    /// All sheets that there are, printed or still good.
    pub(super) record: PrintRecord,
}

/// One part's share: which sheets are its own or shared, by their number among all sheets.
struct PartRecord {
    id: String,
    /// Its mark and its name.
    named: String,
    sheets: Vec<usize>,
    has_list: bool,
    details: Vec<PaperSheet>,
    list: HoleList,
}

/// Lays all chosen parts out.
pub(super) fn lay_out(input: &ExportInput, options: &PdfTemplateOptions) -> PlanPages {
    let correction = options.correction();
    let correction = correction.as_deref();
    let format = options.check_sheet_format();
    let piece = FinishedPiece::new(input.plan);
    let used_in = UsedIn::new(input);
    let Gathered { drafts, records } = gathered(input, &piece, options, &used_in);
    let earlier = PrintRecord::read(&options.since);
    let lists: Vec<&PartRecord> = records.iter().filter(|record| record.has_list).collect();
    let words: Vec<&HoleList> = lists.iter().map(|record| &record.list).collect();
    let lengths = options.lengths(input.plan.units);
    let guides = guide_block::cards(input.workpieces, options.collar, lengths);
    let units = lengths.describe();
    let list_pages =
        |words: &[&HoleList]| hole_list::pages(words, format, "HOLES AND ROWS", correction, &units);
    let listed = list_pages(&words);

    // Where everything goes is known once the number of pages before the sheets is.
    let first = |numbers: &Numbers| check_sheet_pages(input, options, &records, numbers, &used_in);
    let before = if options.check_sheet {
        first(&Numbers::default()).len()
    } else {
        0
    };
    let guide_pages = details::pages(format, "GUIDE BLOCKS", correction, &guides);
    let numbers = Numbers::new(
        before,
        drafts.len() + guide_pages.len(),
        &records,
        listed.len(),
    );
    let total = numbers.total;
    let mut record = record(input, &drafts, before, &lists);
    let guide_list = record_of_guides(format, &guides);
    let has_new_guides = earlier
        .as_ref()
        .is_none_or(|earlier| !earlier.has_list(&guide_list));
    if !guide_pages.is_empty() {
        record.lists.push(guide_list);
    }
    let wanted = |draft: &DraftSheet| {
        earlier
            .as_ref()
            .is_none_or(|e| e.sheet(&draft.code).is_none())
    };

    let mut pages = Pages::default();
    if let Some(earlier) = &earlier {
        let compared = earlier.compared(&record);
        let sheets = hole_list::pages(&[&compared], format, "WHAT CHANGED", correction, &units);
        pages.add("What changed", "changes", sheets);
    } else if options.check_sheet {
        pages.add("Check sheet and index", "check", first(&numbers));
    }
    for (index, draft) in drafts.iter().enumerate().filter(|(_, draft)| wanted(draft)) {
        let number = (before + index + 1, total);
        let sheet = finished(draft, number, &piece, &used_in, correction);
        pages.add_templates(draft, sheet);
    }
    let changed = |part: &PartRecord| {
        let list = record.lists.iter().find(|list| list.part == part.id);
        let list = list.is_some_and(|list| earlier.as_ref().is_none_or(|e| !e.has_list(list)));
        list || part.sheets.iter().any(|sheet| wanted(&drafts[*sheet]))
    };
    for part in records.iter().filter(|part| changed(part)) {
        let name = format!("{} details", part.id);
        pages.add_labelled(&name, part.details.clone());
    }
    if has_new_guides {
        pages.add("Guide blocks", "guide", guide_pages);
    }
    if earlier.is_some() {
        let lists = lists.iter().filter(|part| changed(part));
        let words: Vec<&HoleList> = lists.map(|record| &record.list).collect();
        pages.add("Holes and rows", "list", list_pages(&words));
    } else {
        pages.add("Holes and rows", "list", listed);
    }
    pages.about.title = format!("{} - templates", input.plan.title);
    pages.about.one_sided = true;
    PlanPages {
        sheets: pages.sheets,
        about: pages.about,
        record,
    }
}

/// The sheets of all parts, and what is known of each part.
struct Gathered {
    drafts: Vec<DraftSheet>,
    records: Vec<PartRecord>,
}

/// Lays one part out after the other; sheets that are alike are one.
fn gathered(
    input: &ExportInput,
    piece: &FinishedPiece,
    options: &PdfTemplateOptions,
    used_in: &UsedIn,
) -> Gathered {
    let correction = options.correction();
    let correction = correction.as_deref();
    let format = options.check_sheet_format();
    let mut drafts: Vec<DraftSheet> = Vec::new();
    let mut records = Vec::new();
    let marks = Marks::of(input.plan);
    for workpiece in input.workpieces {
        let mark = marks.mark(&workpiece.part.id);
        let named = named(mark, &workpiece.part.title);
        let found = part_sheets::lay_out(input, (workpiece, mark), piece, options, used_in);
        let PartSheets {
            sheets,
            list,
            cards,
        } = found;
        let own = sheets.into_iter().map(|sheet| shared(&mut drafts, sheet));
        let own: Vec<usize> = own.collect();
        records.push(PartRecord {
            id: workpiece.part.id.clone(),
            sheets: own,
            has_list: !list.is_empty(),
            details: details::pages(format, &format!("DETAILS, {named}"), correction, &cards),
            list,
            named,
        });
    }
    Gathered { drafts, records }
}

/// Pages, and the names of them.
#[derive(Default)]
struct Pages {
    sheets: Vec<PaperSheet>,
    about: DocumentFacts,
}

impl Pages {
    /// Adds pages with a bookmark to the first.
    fn add(&mut self, bookmark: &str, label: &str, sheets: Vec<PaperSheet>) {
        if !sheets.is_empty() {
            let at = self.sheets.len();
            self.about.bookmarks.push((bookmark.to_owned(), at));
        }
        self.add_labelled(label, sheets);
    }

    /// Adds pages that are named by a word and their number.
    fn add_labelled(&mut self, label: &str, sheets: Vec<PaperSheet>) {
        let labels = (1..=sheets.len()).map(|page| format!("{label} {page}"));
        self.about.labels.extend(labels);
        self.sheets.extend(sheets);
    }

    /// Adds a sheet of templates; the first one of a part has a bookmark.
    fn add_templates(&mut self, draft: &DraftSheet, sheet: PaperSheet) {
        let part = &draft.parts[0];
        let last = self.about.bookmarks.last();
        let named = part.named();
        if last.is_none_or(|(last, _)| *last != named) {
            let at = self.sheets.len();
            self.about.bookmarks.push((named, at));
        }
        self.about
            .labels
            .push(format!("{} {}", part.id, draft.shows));
        self.sheets.push(sheet);
    }
}

/// What the guides for pockets are, for a later run to compare with.
fn record_of_guides(format: PageFormat, guides: &[Card]) -> ListRecord {
    ListRecord {
        part: "guide blocks".to_owned(),
        code: fingerprint::of_sheet(
            format,
            &guides
                .iter()
                .flat_map(|guide| guide.items.clone())
                .collect::<Vec<_>>(),
        ),
    }
}

/// What is printed, for a later run to compare with.
fn record(
    input: &ExportInput,
    drafts: &[DraftSheet],
    before: usize,
    lists: &[&PartRecord],
) -> PrintRecord {
    let sheet = |(index, draft): (usize, &DraftSheet)| {
        let parts: Vec<&str> = draft.parts.iter().map(|part| part.id.as_str()).collect();
        SheetRecord {
            number: before + index + 1,
            code: draft.code.clone(),
            shows: format!("{} {}", parts.join(" + "), draft.shows),
        }
    };
    let list = |part: &&PartRecord| {
        let words = part.list.words();
        ListRecord {
            part: part.id.clone(),
            code: fingerprint::of_words(words.iter().map(String::as_str)),
        }
    };
    PrintRecord {
        plan: input.plan.title.clone(),
        sheets: drafts.iter().enumerate().map(sheet).collect(),
        lists: lists.iter().map(list).collect(),
    }
}

/// Adds a sheet, or the part of it to one that is the same; gives its number among all sheets.
fn shared(drafts: &mut Vec<DraftSheet>, sheet: DraftSheet) -> usize {
    let same = |other: &DraftSheet| other.code == sheet.code && other.format == sheet.format;
    if let Some(index) = drafts.iter().position(same) {
        drafts[index].parts.extend(sheet.parts);
        return index;
    }
    drafts.push(sheet);
    drafts.len() - 1
}

/// A sheet with everything that hangs on the plan.
fn finished(
    draft: &DraftSheet,
    (number, total): (usize, usize),
    piece: &FinishedPiece,
    used_in: &UsedIn,
    correction: Option<&str>,
) -> PaperSheet {
    let mut items = draft.items.clone();
    let words = format!("sheet {number} of {total} · code {}", draft.code);
    items.extend(sheet_head::of_plan(
        draft.format,
        piece,
        &draft.parts,
        [&draft.plan, &words, &uses(draft, used_in)],
        correction,
    ));
    let names: Vec<String> = draft.parts.iter().map(SheetPart::named).collect();
    let names = names.join(" + ");
    items.extend(
        draft
            .names
            .iter()
            .filter_map(|at| slot::name_tag(*at, &names)),
    );
    PaperSheet {
        format: draft.format,
        items,
        viewports: draft.viewports.clone(),
    }
}

/// In which steps a sheet is used, and in which steps what goes on its pencil outlines comes.
fn uses(draft: &DraftSheet, used_in: &UsedIn) -> String {
    let parts = draft.parts.iter();
    let mut shaped: Vec<usize> = parts.flat_map(|part| used_in.shaped(&part.id)).collect();
    shaped.sort_unstable();
    shaped.dedup();
    let mut words = Vec::new();
    if !shaped.is_empty() {
        words.push(format!("for {}", used_in::in_words(&shaped)));
    }
    let outlines = draft.outlines.iter();
    words.extend(outlines.filter_map(|title| {
        let step = used_in.comes_in(title)?;
        Some(format!("{title}: step {step}"))
    }));
    words.join(" · ")
}

/// Which page is which.
#[derive(Debug, Default)]
struct Numbers {
    /// Pages before the sheets.
    before: usize,
    /// All pages.
    total: usize,
    /// The first page of the lists, from 1; 0 where there are none.
    lists: usize,
}

impl Numbers {
    fn new(before: usize, sheets: usize, records: &[PartRecord], lists: usize) -> Self {
        let details: usize = records.iter().map(|record| record.details.len()).sum();
        let first = before + sheets + details;
        Self {
            before,
            total: first + lists,
            lists: if lists > 0 { first + 1 } else { 0 },
        }
    }
}

/// The check sheet, and the rest of the index.
fn check_sheet_pages(
    input: &ExportInput,
    options: &PdfTemplateOptions,
    records: &[PartRecord],
    numbers: &Numbers,
    used_in: &UsedIn,
) -> Vec<PaperSheet> {
    let correction = options.correction();
    let format = options.check_sheet_format();
    let rows: Vec<IndexRow> = input
        .workpieces
        .iter()
        .zip(records)
        .map(|(workpiece, record)| {
            let part = &workpiece.part;
            let sheets: Vec<usize> = record
                .sheets
                .iter()
                .map(|sheet| numbers.before + sheet + 1)
                .collect();
            let used = || match used_in::in_words(&used_in.shaped(&part.id)) {
                steps if steps.is_empty() => steps,
                steps => format!(" · {steps}"),
            };
            let words = match (sheets.as_slice(), record.has_list) {
                ([], false) => "cut to size: nothing to lay out".to_owned(),
                ([], true) => "no sheet: by rule, see the list".to_owned(),
                ([only], _) => format!("sheet {only}{}", used()),
                (many, _) => {
                    let mut many = many.to_vec();
                    many.sort_unstable();
                    format!("sheets {}{}", index::ranges(&many), used())
                }
            };
            IndexRow {
                part: format!("{} × {}", part.count, record.named),
                sheets: words,
            }
        })
        .collect();
    let mut facts = vec![plan_line(input)];
    facts.push(format!(
        "{} pages with this one, for {} parts{}",
        numbers.total,
        rows.len(),
        match numbers.lists {
            0 => String::new(),
            page => format!("; holes, rows and workings from page {page}"),
        }
    ));
    facts.push("Templates are 1:1; small pictures are NOT TO SCALE.".to_owned());
    let text = CheckSheetText {
        title: input.plan.title.clone(),
        facts,
        has_templates: true,
        cautions: called_for(input.plan, input.workpieces, Medium::ByHand),
        index: &rows,
        correction: correction.as_deref(),
    };
    let first = check_sheet::draw(format, &text);
    let mut pages = vec![first.sheet];
    let mut taken = first.taken;
    while taken < rows.len() {
        let (page, more) = index::page(format, &rows[taken..]);
        if more == 0 {
            break;
        }
        pages.push(page);
        taken += more;
    }
    pages
}

/// The plan, its revision and its digest, and the user's date where there is one.
fn plan_line(input: &ExportInput) -> String {
    let digest = input.plan.digest.get(..8).unwrap_or(&input.plan.digest);
    let mut line = match &input.plan.revision {
        Some(revision) => format!("revision {revision} · plan {digest}"),
        None => format!("plan {digest}"),
    };
    if let Some(day) = input.stamp.date.and_then(iso_date) {
        line = format!("{line} · {day}");
    }
    line
}
