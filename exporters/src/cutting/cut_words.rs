//! Cuts in words, as they are made one after the other. Who follows them needs no picture.

use jigless_model::sheets::{
    CutCaution, CutContent, CutDirection, CutMark, CutPurpose, CutStep, GoodSide, GuideLine,
    Micrometres,
};

use super::board_cuts::BoardStep;
use super::flow::Entry;
use super::job::{BoardJob, Job, SheetJob, with_title};

/// The cuts of a sheet, those of one setting together.
pub(super) fn of_sheet(job: &Job, sheet: &SheetJob) -> Vec<Entry> {
    let (layout, kerf) = (sheet.layout, sheet.sheet.kerf);
    let size = job.size(sheet.size.width, sheet.size.height);
    let mut entries = vec![Entry::plain(start("sheet", &size, &job.kerf(kerf)))];
    for group in sheet.steps.chunk_by(|a, b| a.setting == b.setting) {
        let first = &group[0];
        let one_guide = group.iter().all(|step| step.guide == first.guide);
        let purpose = match first.purpose {
            CutPurpose::Trim => "Trim, cut",
            CutPurpose::BreakDown => "Break down, cut",
            CutPurpose::Size => "Cut",
        };
        let direction = match first.direction {
            CutDirection::Along => "along",
            CutDirection::Across => "across",
        };
        let edge = format!("{} edge", first.from.name());
        let line = line(&job.length(first.distance), &edge, first.good_side);
        let mut words = format!("{purpose} {direction}, {line}.");
        if let (true, Some(guide)) = (one_guide, first.guide) {
            words.push(' ');
            words += &guide_words(job, guide);
        }
        entries.push(setting(first.setting, &words, group.len()));
        for step in group {
            let mut words = step_words(job, sheet, step);
            if let (false, Some(guide)) = (one_guide, step.guide) {
                words.push(' ');
                words += &guide_words(job, guide);
            }
            for caution in &step.cautions {
                words += match caution {
                    CutCaution::Heavy => " HEAVY: two people.",
                    CutCaution::Narrow => " NARROW: clamp a board beside it.",
                };
            }
            entries.push(Entry::numbered(step.number, words));
        }
    }
    let whole = match sheet.sheet.root.content {
        CutContent::Piece(piece) => Some(CutMark::Piece(piece)),
        CutContent::Offcut(number) => Some(CutMark::Offcut(number)),
        CutContent::Waste | CutContent::Split(_) => None,
    };
    if let Some(mark) = whole {
        let room = sheet.sheet.room;
        let name = job.full_name(layout, mark);
        let size = job.size(room.width, room.height);
        entries.push(Entry::plain(format!("The sheet is then {name}, {size}.")));
    }
    entries
}

/// The cuts of a board.
pub(super) fn of_board(job: &Job, board: &BoardJob) -> Vec<Entry> {
    let name = format!("board {}", board.number);
    let width = board.problem.width;
    let size = job.size(width, board.length);
    let words = start(&name, &size, &job.kerf(board.problem.kerf));
    let mut entries = vec![Entry::bold(words)];
    for group in board.steps.chunk_by(|a, b| a.setting == b.setting) {
        let first = &group[0];
        let purpose = match first.piece {
            None => "Trim, cut",
            Some(_) => "Cut",
        };
        let line = line(&job.length(first.distance), "end", first.good_side);
        let words = format!("{purpose} across, {line}.");
        entries.push(setting(first.setting, &words, group.len()));
        for step in group {
            let words = board_step_words(job, board, step, &name);
            entries.push(Entry::numbered(step.number, words));
        }
    }
    if let Some((kind, copy)) = board.last {
        let title = &job.part(board.layout, kind).title;
        let piece = with_title(&job.piece(board.layout, kind, copy), title);
        let size = job.size(width, board.problem.pieces[kind].length);
        entries.push(Entry::plain(format!(
            "Board {} is then {piece}, {size}.",
            board.number
        )));
    }
    entries
}

/// What a board's rest is called: kept, or waste.
pub(super) fn rest_name(job: &Job, board: &BoardJob) -> String {
    if board.rest >= job.keep {
        format!("O{}", board.number)
    } else {
        "waste".to_owned()
    }
}

fn start(name: &str, size: &str, kerf: &str) -> String {
    format!("Start with {name}, {size}. Each cut takes {kerf}.")
}

/// Where the line is, and on which side of it the blade runs.
fn line(distance: &str, edge: &str, good_side: GoodSide) -> String {
    let side = match good_side {
        GoodSide::Near => "beyond",
        GoodSide::Far => "before",
    };
    format!("line {distance} from the {edge}, blade {side} it")
}

/// Where the guide lies; off the piece, it is on a board clamped beside it.
fn guide_words(job: &Job, guide: GuideLine) -> String {
    let side = match guide.on {
        GoodSide::Near => "before",
        GoodSide::Far => "beyond",
    };
    let place = job.length(guide.distance.abs());
    if guide.distance < 0 {
        format!("Guide {place} off the edge, {side} the blade.")
    } else {
        format!("Guide at {place}, {side} the blade.")
    }
}

/// What is set, and for how many cuts.
fn setting(number: u32, words: &str, cuts: usize) -> Entry {
    let cuts = match cuts {
        1 => String::new(),
        _ => format!(" {cuts} cuts, one setting."),
    };
    Entry::holding(
        format!("Setting {number}. {words}{cuts}"),
        format!("Setting {number}, continued. {words}"),
    )
}

/// What is cut, what it makes, and what it leaves.
fn step_words(job: &Job, sheet: &SheetJob, step: &CutStep) -> String {
    let layout = sheet.layout;
    let (at, kerf) = (step.at, sheet.sheet.kerf);
    let sized = |mark: CutMark, extent: Micrometres| {
        let size = at.band(step.direction, 0, extent);
        format!(
            "{}, {}",
            job.full_name(layout, mark),
            job.size(size.width, size.height)
        )
    };
    let extent = at.extent(step.direction);
    let (near, far) = match step.good_side {
        GoodSide::Near => (step.distance, extent - step.distance - kerf),
        GoodSide::Far => (step.distance - kerf, extent - step.distance),
    };
    let of = capital(&job.name(layout, step.of));
    let kept = match step.good_side {
        GoodSide::Far => step.rest.map(|rest| (rest, far, near)),
        GoodSide::Near if step.off == step.of => Some((step.off, near, far)),
        GoodSide::Near => None,
    };
    match (kept, step.rest) {
        (Some((mark, keeps, loses)), _) => {
            let keeps = sized(mark, keeps);
            let falls = falls_off((loses > 0).then(|| sized(CutMark::Waste, loses)));
            format!("{of}: keeps {keeps}; {falls}.")
        }
        (None, Some(rest)) => {
            let (makes, leaves) = (sized(step.off, near), sized(rest, far));
            format!("{of}: makes {makes}; leaves {leaves}.")
        }
        (None, None) => format!("{of}: makes {}; leaves nothing.", sized(step.off, near)),
    }
}

fn falls_off(waste: Option<String>) -> String {
    match waste {
        Some(waste) => format!("{waste} falls off"),
        None => "only dust falls off".to_owned(),
    }
}

fn board_step_words(job: &Job, board: &BoardJob, step: &BoardStep, name: &str) -> String {
    let width = board.problem.width;
    let size = |length: Micrometres| job.size(width, length);
    let of = capital(name);
    let Some((kind, copy)) = step.piece else {
        let keeps = size(step.before - step.distance);
        let lost = step.distance - board.problem.kerf;
        let falls = falls_off((lost > 0).then(|| format!("waste, {}", size(lost))));
        return format!("{of}: keeps {name}, {keeps}; {falls}.");
    };
    let title = &job.part(board.layout, kind).title;
    let piece = with_title(&job.piece(board.layout, kind, copy), title);
    let makes = format!("{of}: makes {piece}, {}", size(step.distance));
    let is_last = board
        .steps
        .last()
        .is_some_and(|last| last.number == step.number);
    match step.after {
        None => format!("{makes}; leaves nothing."),
        Some(after) if is_last && board.last.is_none() => {
            format!(
                "{makes}; leaves {}, {}.",
                rest_name(job, board),
                size(after)
            )
        }
        Some(after) => format!("{makes}; leaves {name}, {}.", size(after)),
    }
}

fn capital(name: &str) -> String {
    let mut letters = name.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
