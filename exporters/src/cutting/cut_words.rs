//! Cuts in words, as they are made one after the other. Who follows them needs no picture.

use jigless_model::sheets::{
    CutCaution, CutContent, CutDirection, CutMark, CutPurpose, CutStep, GoodSide, GuideLine,
    Micrometres,
};
use jigless_words::{CutWords, said};

use super::board_cuts::BoardStep;
use super::flow::Entry;
use super::job::{BoardJob, Job, SheetJob, with_title};

/// The cuts of a sheet, those of one setting together.
pub(super) fn of_sheet(job: &Job, sheet: &SheetJob) -> Vec<Entry> {
    let (layout, kerf) = (sheet.layout, sheet.sheet.kerf);
    let words = job.words();
    let size = job.size(sheet.size.width, sheet.size.height);
    let start = said(words.start, &[words.sheet, &size, &job.kerf(kerf)]);
    let mut entries = vec![Entry::plain(start)];
    for group in sheet.steps.chunk_by(|a, b| a.setting == b.setting) {
        let first = &group[0];
        let one_guide = group.iter().all(|step| step.guide == first.guide);
        let line = line(
            words,
            &job.length(first.distance),
            words.from(first.from),
            first.good_side,
        );
        let mut sentence = said(words.cut(first.purpose, first.direction), &[&line]);
        if let (true, Some(guide)) = (one_guide, first.guide) {
            sentence.push(' ');
            sentence += &guide_words(job, guide);
        }
        entries.push(setting(words, first.setting, &sentence, group.len()));
        for step in group {
            let mut sentence = step_words(job, sheet, step);
            if let (false, Some(guide)) = (one_guide, step.guide) {
                sentence.push(' ');
                sentence += &guide_words(job, guide);
            }
            for caution in &step.cautions {
                sentence += match caution {
                    CutCaution::Heavy => words.heavy,
                    CutCaution::Narrow => words.narrow,
                };
            }
            entries.push(Entry::numbered(step.number, sentence));
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
        entries.push(Entry::plain(said(words.sheet_is_then, &[&name, &size])));
    }
    entries
}

/// The cuts of a board.
pub(super) fn of_board(job: &Job, board: &BoardJob) -> Vec<Entry> {
    let words = job.words();
    let number = board.number.to_string();
    let name = said(words.board_number, &[&number]);
    let width = board.problem.width;
    let size = job.size(width, board.length);
    let start = said(words.start, &[&name, &size, &job.kerf(board.problem.kerf)]);
    let mut entries = vec![Entry::bold(start)];
    for group in board.steps.chunk_by(|a, b| a.setting == b.setting) {
        let first = &group[0];
        let purpose = match first.piece {
            None => CutPurpose::Trim,
            Some(_) => CutPurpose::Size,
        };
        let distance = job.length(first.distance);
        let line = line(words, &distance, words.from_end, first.good_side);
        let sentence = said(words.cut(purpose, CutDirection::Across), &[&line]);
        entries.push(setting(words, first.setting, &sentence, group.len()));
        for step in group {
            let sentence = board_step_words(job, board, step, &name);
            entries.push(Entry::numbered(step.number, sentence));
        }
    }
    if let Some((kind, copy)) = board.last {
        let title = &job.part(board.layout, kind).title;
        let piece = with_title(&job.piece(board.layout, kind, copy), title);
        let size = job.size(width, board.problem.pieces[kind].length);
        let sentence = said(words.board_is_then, &[&number, &piece, &size]);
        entries.push(Entry::plain(sentence));
    }
    entries
}

/// What a board's rest is called: kept, or waste.
pub(super) fn rest_name(job: &Job, board: &BoardJob) -> String {
    if board.rest >= job.keep {
        format!("O{}", board.number)
    } else {
        job.words().waste.to_owned()
    }
}

/// Where the line is, and on which side of it the blade runs.
fn line(words: &CutWords, distance: &str, from: &str, good_side: GoodSide) -> String {
    let template = match good_side {
        GoodSide::Near => words.line_beyond,
        GoodSide::Far => words.line_before,
    };
    said(template, &[distance, from])
}

/// Where the guide lies; off the piece, it is on a board clamped beside it.
fn guide_words(job: &Job, guide: GuideLine) -> String {
    let words = job.words();
    let template = match (guide.distance < 0, guide.on) {
        (true, GoodSide::Near) => words.guide_off_before,
        (true, GoodSide::Far) => words.guide_off_beyond,
        (false, GoodSide::Near) => words.guide_before,
        (false, GoodSide::Far) => words.guide_beyond,
    };
    said(template, &[&job.length(guide.distance.abs())])
}

/// What is set, and for how many cuts.
fn setting(words: &CutWords, number: u32, sentence: &str, cuts: usize) -> Entry {
    let cuts = match cuts {
        1 => String::new(),
        _ => said(words.cuts_in_setting, &[&cuts.to_string()]),
    };
    let number = number.to_string();
    Entry::holding(
        said(words.setting, &[&number, sentence, &cuts]),
        said(words.setting_continued, &[&number, sentence]),
    )
}

/// What is cut, what it makes, and what it leaves.
fn step_words(job: &Job, sheet: &SheetJob, step: &CutStep) -> String {
    let (layout, words) = (sheet.layout, job.words());
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
            let falls = falls_off(words, (loses > 0).then(|| sized(CutMark::Waste, loses)));
            said(words.keeps, &[&of, &keeps, &falls])
        }
        (None, Some(rest)) => {
            let (makes, leaves) = (sized(step.off, near), sized(rest, far));
            said(words.makes_and_leaves, &[&of, &makes, &leaves])
        }
        (None, None) => said(words.makes, &[&of, &sized(step.off, near)]),
    }
}

fn falls_off(words: &CutWords, waste: Option<String>) -> String {
    match waste {
        Some(waste) => said(words.falls_off, &[&waste]),
        None => words.dust_falls_off.to_owned(),
    }
}

fn board_step_words(job: &Job, board: &BoardJob, step: &BoardStep, name: &str) -> String {
    let words = job.words();
    let width = board.problem.width;
    let size = |length: Micrometres| job.size(width, length);
    let of = capital(name);
    let Some((kind, copy)) = step.piece else {
        let keeps = size(step.before - step.distance);
        let lost = step.distance - board.problem.kerf;
        let waste = (lost > 0).then(|| format!("{}, {}", words.waste, size(lost)));
        let falls = falls_off(words, waste);
        return said(words.keeps, &[&of, &format!("{name}, {keeps}"), &falls]);
    };
    let title = &job.part(board.layout, kind).title;
    let piece = with_title(&job.piece(board.layout, kind, copy), title);
    let makes = format!("{piece}, {}", size(step.distance));
    let leaves = |rest: &str, after| {
        let leaves = format!("{rest}, {}", size(after));
        said(words.makes_and_leaves, &[&of, &makes, &leaves])
    };
    let is_last = board
        .steps
        .last()
        .is_some_and(|last| last.number == step.number);
    match step.after {
        None => said(words.makes, &[&of, &makes]),
        Some(after) if is_last && board.last.is_none() => leaves(&rest_name(job, board), after),
        Some(after) => leaves(name, after),
    }
}

fn capital(name: &str) -> String {
    let mut letters = name.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
