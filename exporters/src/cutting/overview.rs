//! The first page: what is cut, from how many sheets and boards, what is left over, and what to take care of.

use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::plan::Part;
use jigless_model::sheets::{Micrometres, StockGoods, StockLayout, micrometres};
use jigless_words::said;

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
    let words = job.words();
    let (of_sheets, needed, bound, proved, left) = match &layout.goods {
        StockGoods::Sheets(_, answer) => (
            true,
            answer.sheets.len(),
            answer.bound,
            answer.proved,
            &answer.left,
        ),
        StockGoods::Boards(_, answer) => (
            false,
            answer.boards.len(),
            answer.bound,
            answer.proved,
            &answer.left,
        ),
    };
    let counted = |count: u32| {
        let [one, several] = if of_sheets {
            [words.sheet, words.sheets]
        } else {
            [words.board, words.boards]
        };
        job.lengths.words.counted(count, one, several)
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
            let put_in = [&counted(count), &dimensions, words.origin(origin)];
            said(words.taken, &put_in)
        })
        .collect();
    let known = if proved {
        words.proved.to_owned()
    } else if needed <= bound {
        words.none_fewer.to_owned()
    } else {
        said(words.none_fewer_than, &[&bound.to_string()])
    };
    let label = &layout.stock.label;
    let heading = match (taken.as_slice(), of_sheets) {
        ([], true) => said(words.no_sheet, &[label]),
        ([], false) => said(words.no_board, &[label]),
        ([one], _) => format!("{label}: {one}. {known}"),
        (several, _) => {
            let put_in = [label, &several.join("; "), &counted(needed as u32), &known];
            said(words.in_all, &put_in.map(String::as_str))
        }
    };
    let mut paragraphs = vec![heading];
    let nothing_for = if of_sheets {
        words.no_sheet_for
    } else {
        words.no_board_for
    };
    for (kind, count) in left {
        let part = job.part(layout, *kind);
        let piece = with_title(job.marks.mark(&part.id), &part.title);
        let piece = match &part.grain_group {
            Some(group) => said(words.with_all_of, &[&piece, group]),
            None => piece,
        };
        paragraphs.push(said(nothing_for, &[&count.to_string(), &piece]));
    }
    let mut over: Vec<String> = Vec::new();
    for sheet in sheet_jobs(layout) {
        for (at, offcut) in sheet.sheet.offcuts() {
            let size = job.size(at.width, at.height);
            let number = sheet.number.to_string();
            over.push(said(
                words.of_sheet,
                &[&offcut_name(offcut), &number, &size],
            ));
        }
    }
    for board in board_jobs(layout) {
        if board.rest >= job.keep {
            let size = job.size(board.problem.width, board.rest);
            let number = board.number.to_string();
            over.push(said(words.of_board, &[&number, &number, &size]));
        }
    }
    paragraphs.push(match over.as_slice() {
        [] => words.nothing_left.to_owned(),
        over => said(words.left_over, &[&over.join("; ")]),
    });
    paragraphs
}

/// How the cuts are read.
pub(super) fn reading(job: &Job) -> Vec<String> {
    let words = job.words();
    let mut lines = vec![words.how_along.to_owned(), words.how_line.to_owned()];
    let kerfs = job
        .arrangement
        .stocks
        .iter()
        .map(|layout| match &layout.goods {
            StockGoods::Sheets(problem, _) => problem.saw.kerf,
            StockGoods::Boards(problem, _) => problem.kerf,
        });
    if let Some(kerf) = kerfs.max() {
        lines.push(said(words.how_kerf, &[&job.kerf(kerf)]));
    }
    let problems = job
        .arrangement
        .stocks
        .iter()
        .filter_map(StockLayout::sheets);
    let offsets = problems.filter_map(|(problem, _)| problem.saw.guide_offset);
    lines.push(match offsets.max() {
        Some(offset) => said(words.how_guide, &[&job.length(offset)]),
        None => words.how_guide_by_hand.to_owned(),
    });
    lines
}
