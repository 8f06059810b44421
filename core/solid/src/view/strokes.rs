//! Lines of a picture without doubles, joined where they run on.

use std::collections::BTreeMap;

use jigless_model::geom::Point;

use super::lines::{Line, LineKind};

/// A run of lines of one kind and body.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// Its corners, in millimetres of the thing. It is closed where the last is the first.
    pub points: Vec<Point>,
    /// What it is.
    pub kind: LineKind,
    /// Number of the body that it belongs to.
    pub body: usize,
}

/// Lines this near to each other, in millimetres, lie on each other.
const TOGETHER: f64 = 0.05;
/// Shorter lines, in millimetres, are those of curves, and are left as they are.
const SHORT: f64 = 8.0;

/// Draws each stretch once, as the strongest of the lines that lie there, and joins what runs on.
pub(super) fn strokes(lines: &[Line]) -> Vec<Stroke> {
    let (long, short): (Vec<&Line>, Vec<&Line>) = lines
        .iter()
        .partition(|line| line.from.distance(line.to) > SHORT);
    let mut single = stretches(&long);
    single.extend(short.into_iter().copied());
    chained(&single)
}

/// A line as a direction, its distance from 0,0 and a stretch along it.
struct Laid<'a> {
    angle: f64,
    off: f64,
    stretch: (f64, f64),
    line: &'a Line,
}

fn stretches(lines: &[&Line]) -> Vec<Line> {
    let mut laid: Vec<Laid> = lines
        .iter()
        .map(|line| {
            let way = line.to - line.from;
            let forward =
                way.x > 1e-7 * way.length() || (way.x.abs() <= 1e-7 * way.length() && way.y > 0.0);
            let way = if forward { way } else { way * -1.0 }.unit();
            let (a, b) = (line.from.dot(way), line.to.dot(way));
            Laid {
                angle: way.angle(),
                off: way.cross(line.from),
                stretch: (a.min(b), a.max(b)),
                line,
            }
        })
        .collect();
    // Lines of one direction side by side; angles are rounded, so that rounding errors do not part them.
    let turn = |laid: &Laid| (laid.angle * 1e4).round() as i64;
    laid.sort_by(|a, b| turn(a).cmp(&turn(b)).then(a.off.total_cmp(&b.off)));
    let mut single = Vec::new();
    let mut begin = 0;
    for end in 1..=laid.len() {
        let goes_on = end < laid.len()
            && turn(&laid[end]) == turn(&laid[end - 1])
            && laid[end].off - laid[end - 1].off < TOGETHER;
        if !goes_on {
            strongest(&laid[begin..end], &mut single);
            begin = end;
        }
    }
    single
}

/// Of lines that lie on each other, the strongest at each place.
fn strongest(together: &[Laid], into: &mut Vec<Line>) {
    if let [alone] = together {
        into.push(*alone.line);
        return;
    }
    let mut places: Vec<f64> = together
        .iter()
        .flat_map(|l| [l.stretch.0, l.stretch.1])
        .collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let mut open: Option<(usize, f64)> = None;
    let close = |open: Option<(usize, f64)>, at: f64, into: &mut Vec<Line>| {
        let Some((number, from)) = open else { return };
        let laid = &together[number];
        let way = Point::polar(1.0, laid.angle);
        let point = |along: f64| way * along + way.left() * laid.off;
        let (low, high) = laid.stretch;
        let (near_low, near_high) = if laid.line.from.dot(way) <= laid.line.to.dot(way) {
            (laid.line.nearness[0], laid.line.nearness[1])
        } else {
            (laid.line.nearness[1], laid.line.nearness[0])
        };
        let near = |along: f64| near_low + (near_high - near_low) * (along - low) / (high - low);
        into.push(Line {
            from: point(from),
            to: point(at),
            nearness: [near(from), near(at)],
            ..*laid.line
        });
    };
    for pair in places.windows(2) {
        let middle = f64::midpoint(pair[0], pair[1]);
        let best = (0..together.len())
            .filter(|&n| together[n].stretch.0 < middle && middle < together[n].stretch.1)
            .max_by_key(|&n| (together[n].line.kind, std::cmp::Reverse(n)));
        if open.map(|(number, _)| number) != best {
            close(open, pair[0], into);
            open = best.map(|number| (number, pair[0]));
        }
    }
    if let Some(last) = places.last() {
        close(open, *last, into);
    }
}

fn chained(lines: &[Line]) -> Vec<Stroke> {
    let key = |point: Point, line: &Line| {
        let round = |x: f64| (x * 200.0).round() as i64;
        (line.kind, line.body, round(point.x), round(point.y))
    };
    let mut at: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for (number, line) in lines.iter().enumerate() {
        at.entry(key(line.from, line)).or_default().push(number);
        at.entry(key(line.to, line)).or_default().push(number);
    }
    let mut used = vec![false; lines.len()];
    let mut strokes = Vec::new();
    for number in 0..lines.len() {
        if std::mem::replace(&mut used[number], true) {
            continue;
        }
        let line = &lines[number];
        let mut forward = vec![line.from, line.to];
        let mut extend = |points: &mut Vec<Point>| loop {
            let end = points[points.len() - 1];
            let next = at[&key(end, line)].iter().copied().find(|n| !used[*n]);
            let Some(next) = next else { break };
            used[next] = true;
            let other = &lines[next];
            let far = if key(other.from, other) == key(end, line) {
                other.to
            } else {
                other.from
            };
            points.push(far);
        };
        extend(&mut forward);
        forward.reverse();
        extend(&mut forward);
        strokes.push(Stroke {
            points: forward,
            kind: line.kind,
            body: line.body,
        });
    }
    strokes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(from: (f64, f64), to: (f64, f64), kind: LineKind) -> Line {
        Line {
            from: Point::new(from.0, from.1),
            to: Point::new(to.0, to.1),
            kind,
            body: 0,
            nearness: [0.0, 0.0],
        }
    }

    #[test]
    fn a_stretch_that_two_lines_share_is_drawn_once_and_strongly() {
        let all = strokes(&[
            line((0.0, 0.0), (100.0, 0.0), LineKind::Crease),
            line((90.0, 0.0), (30.0, 0.0), LineKind::Outline),
            line((0.0, 5.0), (100.0, 5.0), LineKind::Hidden),
        ]);
        let length = |kind: LineKind| -> f64 {
            let of = all.iter().filter(|stroke| stroke.kind == kind);
            of.map(|stroke| stroke.points[0].distance(stroke.points[1]))
                .sum()
        };
        assert!((length(LineKind::Outline) - 60.0).abs() < 1e-9);
        assert!((length(LineKind::Crease) - 40.0).abs() < 1e-9);
        assert!((length(LineKind::Hidden) - 100.0).abs() < 1e-9);
    }

    #[test]
    fn sides_become_one_closed_stroke() {
        let corners = [(0.0, 0.0), (50.0, 0.0), (50.0, 40.0), (0.0, 40.0)];
        let sides: Vec<Line> = (0..4)
            .map(|i| line(corners[i], corners[(i + 1) % 4], LineKind::Outline))
            .collect();
        let all = strokes(&sides);
        assert_eq!(all.len(), 1);
        assert_eq!(all[0].points.len(), 5);
        assert!(all[0].points[0].distance(all[0].points[4]) < 1e-9);
    }
}
