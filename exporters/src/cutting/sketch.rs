//! A picture of cuts: lines that are broken where a number stands on them, labels that keep off numbers and off each
//! other, hatching that is broken around all words.

use jigless_model::geom::{Bounds, Point, rectangle};

use crate::drawing::text::LABEL;
use crate::drawing::{Anchor, Ink, Inks, Item, Pen, Role, TextLine, Tint, Turn, Weight, font};

/// The smallest type, in millimetres: 7 pt.
pub(super) const SMALLEST: f64 = 2.48;
/// Size of the mark of a large piece, in millimetres.
const MARK: f64 = 7.0;
/// Between lines of hatching across, in millimetres.
const HATCH: f64 = 3.2;
/// Between words and anything else, in millimetres.
const CLEARANCE: f64 = 0.5;
/// From one place that is tried for words to the next, in millimetres.
const STRIDE: f64 = 1.5;
/// How many places are tried to each side of the middle.
const MOST_STEPS: f64 = 40.0;
/// How many places on a line are tried for a number.
const MOST_PLACES: f64 = 400.0;
/// Numbers of cuts are white on this.
const NUMBER_INK: Ink = Ink(40, 40, 40);

/// How words may run, the way that reads best first.
const TURNS: [Turn; 2] = [Turn::Level, Turn::Up];
/// Waste.
pub(super) const WASTE: Ink = Ink(214, 214, 214);

/// What pieces are filled with.
pub(super) fn piece_ink(tint: Tint) -> Ink {
    match tint {
        Tint::Grey => Ink(255, 255, 255),
        Tint::Colour => Inks::from(tint).area,
    }
}

/// A cut or an outline: upright or level.
struct SketchLine {
    from: Point,
    to: Point,
    pen: Pen,
}

/// What stands beside what, as seen by a number that wants room.
#[derive(Clone, Copy, PartialEq)]
enum Strictness {
    /// It touches no other line.
    Strict,
    /// It may interrupt a line that runs beside its own.
    Beside,
    /// It may interrupt any line.
    Any,
}

/// A picture in the making, in millimetres on the paper.
pub(super) struct Sketch {
    /// Nothing is drawn outside.
    area: Bounds,
    back: Vec<Item>,
    lines: Vec<SketchLine>,
    hatched: Vec<Bounds>,
    /// Boxes of numbers.
    numbers: Vec<Bounds>,
    /// Boxes of other words.
    words: Vec<Bounds>,
    front: Vec<Item>,
}

/// What a rectangle of a picture is called.
pub(super) struct RectangleLabel<'a> {
    /// Its mark.
    pub(super) mark: &'a str,
    /// What it is called besides.
    pub(super) title: &'a str,
    /// Across.
    pub(super) width: &'a str,
    /// Upward; empty where it goes without saying.
    pub(super) height: &'a str,
}

/// Words of one size.
struct Line<'a> {
    words: &'a str,
    size: f64,
    weight: Weight,
}

impl Line<'_> {
    fn height(&self) -> f64 {
        let (rise, fall) = font::rise_and_fall(self.words);
        (rise + fall) * self.size
    }

    fn width(&self) -> f64 {
        font::width(self.words, self.weight) * self.size
    }
}

impl Sketch {
    /// An empty picture.
    pub(super) fn new(area: Bounds) -> Self {
        Self {
            area,
            back: Vec::new(),
            lines: Vec::new(),
            hatched: Vec::new(),
            numbers: Vec::new(),
            words: Vec::new(),
            front: Vec::new(),
        }
    }

    /// Tints a rectangle; a later one lies over an earlier one.
    pub(super) fn tint(&mut self, bounds: Bounds, ink: Ink) {
        self.back
            .push(Item::fill(Role::Area, rectangle(bounds), ink));
    }

    /// Hatches a rectangle.
    pub(super) fn hatch(&mut self, bounds: Bounds) {
        self.hatched.push(bounds);
    }

    /// Adds an upright or level line, and gives its number.
    pub(super) fn line(&mut self, from: Point, to: Point, pen: Pen) -> usize {
        self.lines.push(SketchLine { from, to, pen });
        self.lines.len() - 1
    }

    /// Adds the four sides of a rectangle.
    pub(super) fn outline(&mut self, bounds: Bounds, pen: Pen) {
        let (min, max) = (bounds.min, bounds.max);
        let corners = [min, Point::new(max.x, min.y), max, Point::new(min.x, max.y)];
        for index in 0..4 {
            self.line(corners[index], corners[(index + 1) % 4], pen);
        }
    }

    /// Adds words outside of all rectangles, where nothing else is.
    pub(super) fn write(&mut self, text: TextLine) {
        self.words.push(text.bounds());
        self.front.push(Item::text(Role::Label, text));
    }

    /// Adds what is neither line nor words.
    pub(super) fn add(&mut self, items: impl IntoIterator<Item = Item>) {
        self.front.extend(items);
    }

    /// Puts a number on a line, near where it begins; says whether there was room.
    pub(super) fn number(&mut self, line: usize, words: &str) -> bool {
        use Strictness::{Any, Beside, Strict};
        for (size, strictness) in [
            (LABEL, Strict),
            (SMALLEST, Strict),
            (LABEL, Beside),
            (SMALLEST, Beside),
            (SMALLEST, Any),
        ] {
            let text = TextLine::new(Point::default(), size, words)
                .bold()
                .anchored(Anchor::Middle);
            let text = TextLine {
                ink: Ink(255, 255, 255),
                ..text
            };
            if let Some((bounds, text)) = self.room_on(line, &text, strictness) {
                self.numbers.push(bounds);
                self.front
                    .push(Item::fill(Role::Note, rectangle(bounds), NUMBER_INK));
                self.front.push(Item::text(Role::Note, text));
                return true;
            }
        }
        false
    }

    fn room_on(
        &self,
        line: usize,
        text: &TextLine,
        strictness: Strictness,
    ) -> Option<(Bounds, TextLine)> {
        let own = &self.lines[line];
        let (width, height) = (text.width() + 1.2, text.size * 1.1);
        let length = own.from.distance(own.to);
        let way = (own.to - own.from) * (1.0 / length.max(1e-9));
        let upright = way.y.abs() > way.x.abs();
        let half = if upright { height } else { width } / 2.0;
        let first = half + 1.0;
        let last = length - half - 1.0;
        let places: Vec<f64> = if last >= first {
            let count = (last - first).floor().min(MOST_PLACES) as usize;
            (0..=count).map(|step| first + step as f64).collect()
        } else if strictness == Strictness::Strict {
            Vec::new()
        } else {
            vec![length / 2.0]
        };
        let reach = Point::new(width / 2.0, height / 2.0);
        places.into_iter().find_map(|place| {
            let centre = own.from + way * place;
            let bounds = Bounds::new(centre - reach, centre + reach);
            let free = self.area.contains_box(bounds, 1e-9)
                && !self
                    .numbers
                    .iter()
                    .any(|other| touches(bounds, *other, 0.3))
                && !self
                    .words
                    .iter()
                    .any(|other| touches(bounds, *other, CLEARANCE))
                && self.lines.iter().enumerate().all(|(index, other)| {
                    let beside = ((other.to - other.from).y.abs()
                        > (other.to - other.from).x.abs())
                        == upright;
                    let may = match strictness {
                        Strictness::Strict => false,
                        Strictness::Beside => beside,
                        Strictness::Any => true,
                    };
                    index == line || may || !touches(bounds, other.bounds(), 0.2)
                });
            // Digits have no descenders: their middle is above that of the line.
            let at = centre - Point::new(0.0, 0.36 * text.size);
            free.then(|| (bounds, TextLine { at, ..text.clone() }))
        })
    }

    /// Labels a rectangle with as much as there is room for; says whether there was room for its mark.
    pub(super) fn label(&mut self, rectangle: Bounds, label: &RectangleLabel) -> bool {
        let inner = rectangle.grown(-0.55);
        let size = match label.height {
            "" => label.width.to_owned(),
            height => format!("{} × {height}", label.width),
        };
        let small = format!("{} {size}", label.mark);
        let bold = |words, size| Line {
            words,
            size,
            weight: Weight::Bold,
        };
        let plain = |words, size| Line {
            words,
            size,
            weight: Weight::Regular,
        };
        // Sizes along the edges, mark and title between them.
        let before = (self.words.len(), self.front.len());
        for mark in [MARK, 5.0] {
            let lines: &[Line] = if label.title.is_empty() {
                &[bold(label.mark, mark)]
            } else {
                &[bold(label.mark, mark), plain(label.title, LABEL)]
            };
            let middle = inner.grown(-(LABEL + 1.0));
            let placed = TURNS.iter().any(|turn| self.block(middle, lines, *turn));
            if placed
                && self.along(inner, label.width, Turn::Level)
                && (label.height.is_empty() || self.along(inner, label.height, Turn::Up))
            {
                return true;
            }
            self.words.truncate(before.0);
            self.front.truncate(before.1);
        }
        for lines in [
            &[bold(label.mark, 5.0), plain(&size, LABEL)][..],
            &[bold(label.mark, LABEL), plain(&size, LABEL)],
            &[bold(&small, LABEL)],
            &[bold(label.mark, LABEL), plain(&size, SMALLEST)],
            &[bold(&small, SMALLEST)],
            &[bold(label.mark, LABEL)],
            &[bold(label.mark, SMALLEST)],
        ] {
            for turn in TURNS {
                if self.block(inner, lines, turn) {
                    return true;
                }
            }
        }
        false
    }

    /// A size along the lower or the left edge of a box.
    fn along(&mut self, inner: Bounds, words: &str, turn: Turn) -> bool {
        let lines = [Line {
            words,
            size: LABEL,
            weight: Weight::Regular,
        }];
        let strip = match turn {
            Turn::Level => Point::new(inner.max.x, inner.min.y + lines[0].height()),
            Turn::Up => Point::new(inner.min.x + lines[0].height(), inner.max.y),
        };
        self.block(Bounds::new(inner.min, strip), &lines, turn)
    }

    /// Lines of words one under the other in a box, as near to its middle as there is room.
    fn block(&mut self, inner: Bounds, lines: &[Line], turn: Turn) -> bool {
        let across = lines.iter().map(Line::width).fold(0.0, f64::max);
        let down: f64 = lines.iter().map(Line::height).sum();
        let (width, height) = match turn {
            Turn::Level => (across, down),
            Turn::Up => (down, across),
        };
        let spare = Point::new(inner.width() - width, inner.height() - height);
        if spare.x < -1e-9 || spare.y < -1e-9 {
            return false;
        }
        let stride = |spare: f64| (spare / 2.0 / MOST_STEPS).max(STRIDE);
        let steps = |spare: f64| (spare.max(0.0) / 2.0 / stride(spare)).floor() as i32;
        let (columns, rows) = (steps(spare.x), steps(spare.y));
        let mut places: Vec<(i32, i32)> = (-columns..=columns)
            .flat_map(|x| (-rows..=rows).map(move |y| (x, y)))
            .collect();
        places.sort_by_key(|(x, y)| (x * x + y * y, *y, *x));
        let half = Point::new(width / 2.0, height / 2.0);
        let free = |bounds: &Bounds| {
            let near = |other: &Bounds| touches(*bounds, *other, CLEARANCE);
            !self.numbers.iter().any(near) && !self.words.iter().any(near)
        };
        let found = places
            .into_iter()
            .map(|(x, y)| {
                let off = Point::new(
                    f64::from(x) * stride(spare.x),
                    f64::from(y) * stride(spare.y),
                );
                let centre = inner.centre() + off;
                Bounds::new(centre - half, centre + half)
            })
            .find(free);
        let Some(bounds) = found else { return false };
        let mut below = 0.0;
        for line in lines {
            let rise = font::rise_and_fall(line.words).0 * line.size;
            let at = match turn {
                Turn::Level => Point::new(bounds.centre().x, bounds.max.y - below - rise),
                Turn::Up => Point::new(bounds.min.x + below + rise, bounds.centre().y),
            };
            below += line.height();
            let text = TextLine::new(at, line.size, line.words);
            let text = TextLine {
                weight: line.weight,
                ..text.anchored(Anchor::Middle).turned(turn)
            };
            self.front.push(Item::text(Role::Label, text));
        }
        self.words.push(bounds);
        true
    }

    /// Everything that is drawn, from the back to the front.
    pub(super) fn finish(self) -> Vec<Item> {
        let mut items = self.back;
        let boxes: Vec<Bounds> = self.numbers.iter().chain(&self.words).copied().collect();
        let hatching = Pen::new(0.15, Ink::GREY);
        for hatched in &self.hatched {
            for (from, to) in hatching_lines(hatched.grown(-0.4), &boxes) {
                items.push(Item::line(Role::Mark, from, to, hatching));
            }
        }
        for line in &self.lines {
            let length = line.from.distance(line.to);
            let way = (line.to - line.from) * (1.0 / length.max(1e-9));
            let covered: Vec<(f64, f64)> = self
                .numbers
                .iter()
                .filter_map(|number| {
                    let reach = number.grown(line.pen.width / 2.0 + 0.1);
                    let (a, b) = (reach.min - line.from, reach.max - line.from);
                    let off = way.left();
                    let (low, high) = sorted(a.dot(off), b.dot(off));
                    (low < 0.0 && high > 0.0).then(|| sorted(a.dot(way), b.dot(way)))
                })
                .collect();
            for (from, to) in uncovered((0.0, length), covered) {
                let (from, to) = (line.from + way * from, line.from + way * to);
                items.push(Item::line(Role::Contour, from, to, line.pen));
            }
        }
        items.extend(self.front);
        items
    }
}

impl SketchLine {
    fn bounds(&self) -> Bounds {
        Bounds::new(self.from, self.to).grown(self.pen.width / 2.0)
    }
}

fn touches(a: Bounds, b: Bounds, gap: f64) -> bool {
    a.min.x < b.max.x + gap
        && b.min.x < a.max.x + gap
        && a.min.y < b.max.y + gap
        && b.min.y < a.max.y + gap
}

fn sorted(a: f64, b: f64) -> (f64, f64) {
    (a.min(b), a.max(b))
}

/// What is left of a stretch when others are taken off it; stretches too short to be seen are left out.
fn uncovered((mut from, to): (f64, f64), mut covered: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    covered.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut left = Vec::new();
    for (low, high) in covered {
        if low > from {
            left.push((from, low.min(to)));
        }
        from = from.max(high);
    }
    left.push((from, to));
    left.retain(|(from, to)| to - from > 0.05);
    left
}

/// Lines that rise to the right through a rectangle, broken around boxes.
fn hatching_lines(inside: Bounds, boxes: &[Bounds]) -> Vec<(Point, Point)> {
    // A line is all points with x - y of one value.
    let span = |bounds: Bounds, value: f64| {
        let from = bounds.min.x.max(bounds.min.y + value);
        let to = bounds.max.x.min(bounds.max.y + value);
        (from, to)
    };
    let lowest = ((inside.min.x - inside.max.y) / HATCH).ceil() as i64;
    let highest = ((inside.max.x - inside.min.y) / HATCH).floor() as i64;
    let mut lines = Vec::new();
    for index in lowest..=highest {
        let value = index as f64 * HATCH;
        let whole = span(inside, value);
        let covered = boxes
            .iter()
            .map(|bounds| span(bounds.grown(CLEARANCE), value))
            .filter(|(from, to)| from < to)
            .collect();
        for (from, to) in uncovered(whole, covered) {
            lines.push((Point::new(from, from - value), Point::new(to, to - value)));
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::probe::collisions;

    #[test]
    fn words_and_numbers_keep_off_lines_and_each_other() {
        let area = Bounds::of_size(120.0, 120.0);
        let mut sketch = Sketch::new(area);
        let sheet = Bounds::new(Point::new(10.0, 10.0), Point::new(110.0, 110.0));
        sketch.outline(sheet, Pen::BOLD);
        let cuts: Vec<usize> = [10.6, 20.0, 23.0, 50.0]
            .map(|x| sketch.line(Point::new(x, 10.0), Point::new(x, 110.0), Pen::THIN))
            .into();
        for (index, cut) in cuts.iter().enumerate() {
            assert!(sketch.number(*cut, &(index + 8).to_string()));
        }
        let label = RectangleLabel {
            mark: "B2",
            title: "Side, left",
            width: "400",
            height: "1200.5",
        };
        for (from, to) in [(20.1, 22.9), (23.1, 49.9), (50.1, 109.8)] {
            let piece = Bounds::new(Point::new(from, 10.2), Point::new(to, 109.8));
            sketch.hatch(piece);
            let has_room = sketch.label(piece, &label);
            assert_eq!(has_room, to - from > 4.0, "{from}");
        }
        let items = sketch.finish();
        assert_eq!(collisions(&items, area), []);
    }

    #[test]
    fn a_stretch_without_others() {
        let left = uncovered((0.0, 10.0), vec![(4.0, 5.0), (-1.0, 2.0), (4.5, 6.0)]);
        assert_eq!(left, [(2.0, 4.0), (6.0, 10.0)]);
    }
}
