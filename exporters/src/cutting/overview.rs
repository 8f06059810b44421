//! The first page: what is cut, from how many sheets and boards, what is left over, and what to take care of.

use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::plan::Part;
use jigless_model::sheets::{Micrometres, SheetOrigin, StockGoods, StockLayout, micrometres};

use super::flow::Entry;
use super::job::{Job, board_jobs, offcut_name, sheet_jobs, with_title};

/// Where the columns of the list of parts begin, in millimetres.
const COLUMNS: [f64; 5] = [6.0, 20.0, 36.0, 92.0, 138.0];

/// What to take care of at any saw, beside what stands over the foot of every page. Common practice, no source.
const AT_A_SAW: [&str; 6] = [
    "Have someone who knows the saw show you what you have not done before.",
    "Unplug the saw before you touch the blade. Set it a few millimetres deeper than the board is thick.",
    "Support both sides of every cut, so that nothing sags, pinches the blade or drops. Have help with whole sheets.",
    "Clamp the work, and the guide at both ends. Keep hands, cable and yourself out of the line of the blade.",
    "Let the blade come to speed before it enters, and to rest before you lift the saw.",
    "HEAVY: two people, or supports under both halves. NARROW: clamp a board of the same thickness beside it, and lay the guide on both. Do not saw what is too small to be held safely.",
];

/// The entries of the first page.
pub(super) fn entries(job: &Job) -> Vec<Entry> {
    let mut entries = vec![Entry::plain(format!(
        "All numbers in {}. Sizes are across × up, as pieces lie in the pictures; grain runs up.",
        job.lengths.describe()
    ))];
    entries.extend(parts(job));
    entries.push(Entry::heading("Sheets and boards"));
    for layout in &job.arrangement.stocks {
        entries.extend(stock(job, layout));
    }
    for id in &job.arrangement.without_sizes {
        entries.push(Entry::plain(format!(
            "{id}: the plan says neither which sheets nor which boards there are, so nothing of it is laid out."
        )));
    }
    entries.push(Entry::heading("How to read the cuts"));
    entries.extend(reading(job).into_iter().map(bullet));
    entries.push(Entry::heading("Before you cut"));
    entries.extend(AT_A_SAW.map(str::to_owned).map(bullet));
    entries
}

fn bullet(words: String) -> Entry {
    Entry::row(&[(0.0, "•".to_owned()), (4.0, words)], false).small()
}

fn row(cells: [&str; 5], bold: bool) -> Entry {
    let cells: Vec<(f64, String)> = COLUMNS.into_iter().zip(cells.map(str::to_owned)).collect();
    Entry::row(&cells, bold)
}

/// The list of parts by their marks.
fn parts(job: &Job) -> Vec<Entry> {
    let mut rows: Vec<(&str, &Part, (Micrometres, Micrometres), Micrometres)> = Vec::new();
    for layout in &job.arrangement.stocks {
        for kind in 0..layout.workpieces.len() {
            let part = job.part(layout, kind);
            let (size, oversize) = size_of(layout, kind);
            rows.push((job.marks.mark(&part.id), part, size, oversize));
        }
    }
    let laid_out = |part: &Part| rows.iter().any(|(_, other, ..)| other.id == part.id);
    let workpieces = job
        .input
        .workpieces
        .iter()
        .map(|workpiece| &*workpiece.part);
    let others: Vec<&Part> = workpieces.filter(|part| !laid_out(part)).collect();
    for part in others {
        let size = (micrometres(part.width), micrometres(part.height));
        rows.push((job.marks.mark(&part.id), part, size, 0));
    }
    rows.sort_by_key(|(mark, ..)| (mark.len(), *mark));
    let mut entries = vec![row(["mark", "count", "part", "size", "stock"], true)];
    for (mark, part, (width, height), oversize) in rows {
        let mut title = part.title.clone();
        if oversize > 0 {
            let more = job.length(oversize);
            title = format!("{title}, {more} too large at each edge");
        }
        if let Some(group) = &part.grain_group {
            title = format!("{title}, all of {group} from one sheet");
        }
        if is_shaped(job, part) {
            title += ", shape cut later";
        }
        let (count, size) = (part.count.to_string(), job.size(width, height));
        entries.push(row([mark, &count, &title, &size, &part.stock.label], false).ticked());
    }
    entries
}

/// Whether more than straight cuts from edge to edge make a part's outline.
fn is_shaped(job: &Job, part: &Part) -> bool {
    let workpieces = job.input.workpieces.iter();
    workpieces
        .filter(|workpiece| workpiece.part.id == part.id)
        .any(|workpiece| {
            let outline = workpiece.outline();
            outline.bounds().is_some_and(|bounds| {
                let whole = bounds.width() * bounds.height();
                (whole - outline.area()).abs() > LENGTH_TOLERANCE
            })
        })
}

/// Width and height of a kind of piece as it is cut, and what is left on at each edge.
fn size_of(layout: &StockLayout, kind: usize) -> ((Micrometres, Micrometres), Micrometres) {
    match &layout.goods {
        StockGoods::Sheets(problem, _) => {
            let piece = &problem.pieces[kind];
            ((piece.width, piece.height), piece.oversize)
        }
        StockGoods::Boards(problem, _) => ((problem.width, problem.pieces[kind].length), 0),
    }
}

/// What a stock takes, whether that is the least, and what is left of it.
fn stock(job: &Job, layout: &StockLayout) -> Vec<Entry> {
    let mut words = stock_words(job, layout);
    let last = words.pop();
    let bold = words.into_iter().map(Entry::bold);
    bold.chain(last.map(Entry::plain)).collect()
}

/// The same as paragraphs: what it takes, what there is nothing for, and last what is left over.
pub(super) fn stock_words(job: &Job, layout: &StockLayout) -> Vec<String> {
    let (word, needed, bound, proved, left) = match &layout.goods {
        StockGoods::Sheets(_, answer) => (
            "sheet",
            answer.sheets.len(),
            answer.bound,
            answer.proved,
            &answer.left,
        ),
        StockGoods::Boards(_, answer) => (
            "board",
            answer.boards.len(),
            answer.bound,
            answer.proved,
            &answer.left,
        ),
    };
    let taken: Vec<String> = layout
        .taken()
        .into_iter()
        .map(|(size, origin, count)| {
            let dimensions = match &layout.goods {
                StockGoods::Sheets(problem, _) => {
                    let size = &problem.sizes[size];
                    job.size(size.width, size.height)
                }
                StockGoods::Boards(problem, _) => {
                    job.size(problem.width, problem.lengths[size].length)
                }
            };
            format!(
                "{} of {dimensions}, {}",
                counted(count as usize, word),
                origin_words(origin)
            )
        })
        .collect();
    let known = if proved {
        "Proved the least.".to_owned()
    } else if needed <= bound {
        "No layout needs fewer.".to_owned()
    } else {
        format!("No layout needs fewer than {bound}.")
    };
    let heading = match taken.as_slice() {
        [] => format!("{}: no {word}", layout.stock.label),
        [one] => format!("{}: {one}. {known}", layout.stock.label),
        several => format!(
            "{}: {}. {} in all. {known}",
            layout.stock.label,
            several.join("; "),
            counted(needed, word)
        ),
    };
    let mut paragraphs = vec![heading];
    for (kind, count) in left {
        let part = job.part(layout, *kind);
        let piece = with_title(job.marks.mark(&part.id), &part.title);
        let group = match &part.grain_group {
            Some(group) => format!(" together with all else of {group}"),
            None => String::new(),
        };
        paragraphs.push(format!(
            "NO {} FOR {count} of {piece}{group}.",
            word.to_uppercase()
        ));
    }
    let mut over: Vec<String> = Vec::new();
    for sheet in sheet_jobs(layout) {
        for (at, number) in sheet.sheet.offcuts() {
            let size = job.size(at.width, at.height);
            over.push(format!(
                "{} of sheet {}, {size}",
                offcut_name(number),
                sheet.number
            ));
        }
    }
    for board in board_jobs(layout) {
        if board.rest >= job.keep {
            let size = job.size(board.problem.width, board.rest);
            over.push(format!(
                "O{} of board {}, {size}",
                board.number, board.number
            ));
        }
    }
    let over = match over.as_slice() {
        [] => "Left over: nothing worth keeping.".to_owned(),
        over => format!("Left over: {}.", over.join("; ")),
    };
    paragraphs.push(over);
    paragraphs
}

/// `1 sheet`, `2 sheets`.
fn counted(count: usize, word: &str) -> String {
    match count {
        1 => format!("1 {word}"),
        _ => format!("{count} {word}s"),
    }
}

/// Where sheets come from, in words.
pub(super) fn origin_words(origin: SheetOrigin) -> &'static str {
    match origin {
        SheetOrigin::Leftover => "left over from earlier work",
        SheetOrigin::AtHand => "at hand",
        SheetOrigin::ToBuy => "to buy",
    }
}

pub(super) fn reading(job: &Job) -> Vec<String> {
    let mut words = vec![
        "Along is up and down in the picture, across is from side to side. Left, right, bottom and top are those of the picture, however a board lies on the bench: write its name on each as it falls off, and an arrow to its top.".to_owned(),
        "Measure each line anew from the edge that is named, of the very board that is cut. Blade beyond it: what is between edge and line is to size, and the blade runs on the other side of the line. Blade before it: the other way round.".to_owned(),
    ];
    let kerfs = job
        .arrangement
        .stocks
        .iter()
        .map(|layout| match &layout.goods {
            StockGoods::Sheets(problem, _) => problem.saw.kerf,
            StockGoods::Boards(problem, _) => problem.kerf,
        });
    if let Some(kerf) = kerfs.max() {
        words.push(format!(
            "All is worked out for a blade that takes {}: measure a cut of yours in scrap, and if it differs, have the list made anew with `saw_kerf`.",
            job.kerf(kerf)
        ));
    }
    let offsets = job
        .arrangement
        .stocks
        .iter()
        .filter_map(StockLayout::sheets);
    words.push(match offsets.filter_map(|(problem, _)| problem.saw.guide_offset).max() {
        Some(offset) => format!(
            "The guide: its place is worked out for {} from the good side of the blade to the edge of the saw's base. Try it on scrap. Where it is off the edge, clamp a board of the same thickness there to carry it.",
            job.length(offset)
        ),
        None => "The guide: lay it as far from the line as it is from the good side of the blade to the edge of your saw's base. With `guide_offset` set, the list says where.".to_owned(),
    });
    words
}
