//! Words broken into lines, by the rules of Unicode (UAX 14) and, where a word is long, by the hyphenation of the
//! language.

use std::fmt::Write;

use hypher::Lang;
use unicode_linebreak::linebreaks;

use crate::drawing::BookFace;
use crate::pdf::book_page::Target;

/// A run of words that look alike.
#[derive(Debug, Clone)]
pub(super) struct Run {
    pub(super) words: String,
    pub(super) face: BookFace,
    pub(super) link: Option<Target>,
}

impl Run {
    /// Words in a cut.
    pub(super) fn new(words: &str, face: BookFace) -> Self {
        Self {
            words: tidy(words, face),
            face,
            link: None,
        }
    }

    /// The same as a link.
    pub(super) fn to(mut self, link: Target) -> Self {
        self.link = Some(link);
        self
    }
}

/// Some words of one run in a line.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    /// From the beginning of the line, in millimetres.
    pub(super) x: f64,
    pub(super) words: String,
    /// The number of its run.
    pub(super) run: usize,
}

/// A line.
#[derive(Debug, Clone, Default)]
pub(super) struct Line {
    pub(super) pieces: Vec<Piece>,
    /// Its width in millimetres.
    pub(super) width: f64,
}

/// Room at the end of a line, as a share of it, from which on a word is divided.
const LOOSE: f64 = 0.22;
/// A word with fewer letters is never divided.
const SHORT: usize = 9;

/// The words as they can be shown: what no line breaks stays together, and what the typeface has not is written as its
/// code.
fn tidy(words: &str, face: BookFace) -> String {
    let shown = crate::drawing::font::showable(words);
    let lead = if words.starts_with(' ') { " " } else { "" };
    let tail = if words.len() > 1 && words.ends_with(' ') {
        " "
    } else {
        ""
    };
    let mut tidied = String::with_capacity(shown.len() + 2);
    tidied.push_str(lead);
    for letter in shown.chars() {
        if face.glyph(letter).is_some() {
            tidied.push(letter);
        } else {
            // Writing to a text cannot fail.
            let _ = write!(tidied, "[U+{:04X}]", u32::from(letter));
        }
    }
    tidied.push_str(tail);
    // A number stays with its unit, a size with its other one.
    let mut kept = tidied.replace(" × ", "\u{a0}×\u{a0}");
    for unit in ["mm", "in", "m²", "m"] {
        let parts: Vec<&str> = kept.split(&format!(" {unit}")).collect();
        let mut joined = parts[0].to_owned();
        for pair in parts.windows(2) {
            let after_number = pair[0].ends_with(|c: char| c.is_ascii_digit());
            let ends = pair[1].chars().next().is_none_or(|c| !c.is_alphanumeric());
            joined.push(if after_number && ends { '\u{a0}' } else { ' ' });
            joined.push_str(unit);
            joined.push_str(pair[1]);
        }
        kept = joined;
    }
    with_fractions(&kept)
}

/// `65 31/64` stays together.
fn with_fractions(words: &str) -> String {
    let is_number = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
    let begins_with_fraction = |word: &str| {
        let parts = word.split_once('/');
        parts.is_some_and(|(over, under)| {
            is_number(over) && under.starts_with(|c: char| c.is_ascii_digit())
        })
    };
    let mut kept = String::with_capacity(words.len() + 2);
    for (place, word) in words.split(' ').enumerate() {
        if place > 0 {
            let whole = kept.rsplit([' ', '\u{a0}', '(', '~']).next();
            let joins = whole.is_some_and(is_number) && begins_with_fraction(word);
            kept.push(if joins { '\u{a0}' } else { ' ' });
        }
        kept.push_str(word);
    }
    kept
}

/// Runs as lines of a width, in a size; both in millimetres.
pub(super) fn lines(runs: &[Run], size: f64, width: f64, language: &str) -> Vec<Line> {
    let whole: String = runs.iter().map(|run| run.words.as_str()).collect();
    if whole.trim().is_empty() {
        return vec![Line::default()];
    }
    let mut setter = Setter {
        runs,
        size,
        width,
        lines: vec![Line::default()],
    };
    let mut from = 0;
    for (to, _) in linebreaks(&whole) {
        setter.add(&whole, (from, to), lang(language));
        from = to;
    }
    let mut lines = setter.lines;
    for line in &mut lines {
        trim(line, runs, size);
    }
    lines.retain(|line| !line.pieces.is_empty());
    lines
}

fn lang(language: &str) -> Lang {
    match language {
        "de" => Lang::German,
        _ => Lang::English,
    }
}

struct Setter<'a> {
    runs: &'a [Run],
    size: f64,
    width: f64,
    lines: Vec<Line>,
}

impl Setter<'_> {
    /// Adds what stands between two places where a line may break.
    fn add(&mut self, whole: &str, (from, to): (usize, usize), lang: Lang) {
        let pieces = self.cut((from, to));
        let seen = whole[from..to].trim_end_matches([' ', '\n']);
        let seen = self.width_of(&self.cut((from, from + seen.len())));
        let used = self.lines.last().map_or(0.0, |line| line.width);
        if used + seen <= self.width + 1e-9 {
            self.append(pieces);
            return;
        }
        let room = self.width - used;
        if room > LOOSE * self.width || seen > self.width {
            let at = self.divided(&pieces, room, lang);
            if let Some((at, hyphen)) = at {
                let (head, tail) = (self.cut((from, from + at)), (from + at, to));
                self.append(head);
                if hyphen && let Some(last) = self.last_piece() {
                    last.words.push('-');
                }
                self.lines.push(Line::default());
                self.add(whole, tail, lang);
                return;
            }
        }
        if used > 0.0 {
            self.lines.push(Line::default());
            self.add(whole, (from, to), lang);
        } else {
            // Nothing of it fits: rather one letter to a line than none.
            self.append(pieces);
        }
    }

    fn last_piece(&mut self) -> Option<&mut Piece> {
        self.lines.last_mut()?.pieces.last_mut()
    }

    /// The pieces between two bytes of the whole.
    fn cut(&self, (from, to): (usize, usize)) -> Vec<(usize, String)> {
        let mut begun = 0;
        let mut pieces = Vec::new();
        for (number, run) in self.runs.iter().enumerate() {
            let (low, high) = (begun.max(from), (begun + run.words.len()).min(to));
            if low < high {
                pieces.push((number, run.words[low - begun..high - begun].to_owned()));
            }
            begun += run.words.len();
        }
        pieces
    }

    fn width_of(&self, pieces: &[(usize, String)]) -> f64 {
        let width = |(run, words): &(usize, String)| self.runs[*run].face.width(words);
        pieces.iter().map(width).sum::<f64>() * self.size
    }

    /// Where a word of one run is divided so that its head fits into a room: the byte, and whether a hyphen stands there.
    fn divided(&self, pieces: &[(usize, String)], room: f64, lang: Lang) -> Option<(usize, bool)> {
        let [(run, words)] = pieces else {
            return self.split_anywhere(pieces, room);
        };
        let face = self.runs[*run].face;
        let word = words.trim_end();
        let letters = word
            .chars()
            .all(|c| c.is_alphabetic() || ",.;:)".contains(c));
        if letters && word.chars().count() >= SHORT {
            let mut at = 0;
            let mut best = None;
            for syllable in hypher::hyphenate(word, lang) {
                at += syllable.len();
                let head = format!("{}-", &word[..at]);
                if at < word.len() && face.width(&head) * self.size <= room {
                    best = Some((at, true));
                }
            }
            if best.is_some() {
                return best;
            }
        }
        self.split_anywhere(pieces, room)
    }

    /// Divides what is wider than a whole line wherever it must.
    fn split_anywhere(&self, pieces: &[(usize, String)], room: f64) -> Option<(usize, bool)> {
        let [(run, words)] = pieces else { return None };
        let face = self.runs[*run].face;
        let word = words.trim_end();
        if face.width(word) * self.size <= self.width {
            return None;
        }
        let ends = word
            .char_indices()
            .map(|(at, letter)| at + letter.len_utf8());
        let fits = ends.take_while(|at| face.width(&word[..*at]) * self.size <= room);
        fits.last()
            .filter(|at| *at < word.len())
            .map(|at| (at, false))
    }

    fn append(&mut self, pieces: Vec<(usize, String)>) {
        let width = self.width_of(&pieces);
        let size = self.size;
        let Some(line) = self.lines.last_mut() else {
            return;
        };
        let mut x = line.width;
        for (run, words) in pieces {
            let wide = self.runs[run].face.width(&words) * size;
            match line.pieces.last_mut() {
                Some(last) if last.run == run => last.words.push_str(&words),
                _ => line.pieces.push(Piece { x, words, run }),
            }
            x += wide;
        }
        line.width += width;
    }
}

/// Takes the spaces off the end of a line.
fn trim(line: &mut Line, runs: &[Run], size: f64) {
    while let Some(last) = line.pieces.last_mut() {
        let kept = last.words.trim_end_matches([' ', '\u{a0}', '\n']).len();
        last.words.truncate(kept);
        if !last.words.is_empty() {
            line.width = last.x + runs[last.run].face.width(&last.words) * size;
            break;
        }
        line.pieces.pop();
    }
}

/// Width of words in a line of their own, in millimetres.
pub(super) fn natural(runs: &[Run], size: f64) -> f64 {
    let width = |run: &Run| run.face.width(&run.words);
    runs.iter().map(width).sum::<f64>() * size
}

/// Width of the widest word, in millimetres: no column is narrower.
pub(super) fn widest_word(runs: &[Run], size: f64) -> f64 {
    let words = runs.iter().flat_map(|run| {
        run.words
            .split([' ', '\n'])
            .map(|word| run.face.width(word))
    });
    words.fold(0.0, f64::max) * size
}

#[cfg(test)]
mod tests {
    use super::with_fractions;

    #[test]
    fn a_whole_number_stays_with_its_fraction() {
        let words = "makes 3, ~32 31/64 × 65 31/64; 2 of 7/8, 12 or 1/2 (1 1/2)";
        let kept = with_fractions(words);
        assert_eq!(kept.replace('\u{a0}', " "), words);
        let joined = kept.matches('\u{a0}').count();
        assert_eq!(joined, 3, "{kept}");
        assert_eq!(with_fractions(" a  b "), " a  b ");
    }
}
