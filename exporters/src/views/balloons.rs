//! Marks of parts beside what they mark: on the piece where there is room, otherwise in free paper with a line to it.

use jigless_model::geom::{Bounds, Path, Point, circle};
use jigless_solid::view::{Area, Picture, area};

use crate::drawing::{Anchor, Ink, Item, ItemShape, Pen, Role, TextLine, font};

/// Size of a mark's letters, in millimetres.
const LETTERS: f64 = 3.2;
/// Radius of the circle around one letter, in millimetres.
const RADIUS: f64 = 3.1;
/// Free paper around a circle, in millimetres.
const ROOM: f64 = 0.7;
/// Radius of the dot at the end of a line, in millimetres.
const DOT: f64 = 0.45;
/// Side of a cell of the map of what is taken, in millimetres.
const CELL: f64 = 0.4;
/// What is seen of a piece, in square millimetres of paper, for a mark to point at it.
const LEAST: f64 = 5.0;
/// The end of a line keeps this far from strokes, in millimetres.
const NEAREST: f64 = 0.3;
/// More room than this around a place, in millimetres, makes it no better.
const AMPLE: f64 = 6.0;
/// So many directions are tried for a line.
const TURNS: usize = 48;
/// A line to a mark is no longer than this, in millimetres.
const LONGEST: f64 = 90.0;

/// Two ends.
type Segment = (Point, Point);

/// A mark that has its place: the middle and radius of its circle, and the line from it.
struct Placed {
    centre: Point,
    radius: f64,
    line: Option<Segment>,
}

/// A piece that is to be marked.
#[derive(Debug, Clone)]
pub(crate) struct Wanted {
    /// The numbers of the bodies that may be marked: the one of which most is seen is.
    pub(crate) bodies: Vec<usize>,
    /// The mark of each of them.
    pub(crate) marks: Vec<String>,
}

/// Where a mark may point: the middle of what is seen of its piece, and how much room there is.
struct Target {
    mark: String,
    at: Point,
    room: f64,
}

/// Marks with their lines. `items` are what is on the paper; marks touch none of its strokes, nor each other, nor each
/// other's lines. Those for which no place is found are given by name.
pub(crate) fn balloons(
    picture: &Picture,
    scale: f64,
    items: &[Item],
    area: Bounds,
    wanted: &[Wanted],
) -> (Vec<Item>, Vec<String>) {
    let map = TakenMap::new(area, items);
    let mut targets: Vec<Target> = wanted
        .iter()
        .filter_map(|wanted| target(picture, scale, &map, wanted))
        .collect();
    // The tightest first: what has room enough finds it later, too.
    targets.sort_by(|a, b| a.room.total_cmp(&b.room));
    let mut placed: Vec<Placed> = Vec::new();
    let (mut drawn, mut left) = (Vec::new(), Vec::new());
    for target in &targets {
        let radius = radius_of(&target.mark);
        match place(target, radius, &map, &placed) {
            Some(centre) => {
                let line = (centre.distance(target.at) > 1e-6).then(|| {
                    let way = (target.at - centre).unit();
                    (centre + way * radius, target.at)
                });
                placed.push(Placed {
                    centre,
                    radius,
                    line,
                });
                drawn.extend(drawing(&target.mark, centre, radius, line));
            }
            None => left.push(target.mark.clone()),
        }
    }
    (drawn, left)
}

fn radius_of(mark: &str) -> f64 {
    let half = font::width(mark, font::Weight::Bold) * LETTERS / 2.0;
    (half + 1.2).max(RADIUS)
}

fn drawing(mark: &str, centre: Point, radius: f64, line: Option<(Point, Point)>) -> Vec<Item> {
    let mut items = vec![
        Item::fill(Role::Balloon, circle(centre, radius), Ink(255, 255, 255)),
        Item::stroke(
            Role::Balloon,
            circle(centre, radius),
            Pen::new(0.25, Ink::BLACK),
        ),
    ];
    let at = centre - Point::new(0.0, 0.36 * LETTERS);
    let text = TextLine::new(at, LETTERS, mark)
        .bold()
        .anchored(Anchor::Middle);
    items.push(Item::text(Role::Balloon, text));
    if let Some((from, to)) = line {
        items.push(Item::line(
            Role::Balloon,
            from,
            to,
            Pen::new(0.18, Ink::BLACK),
        ));
        items.push(Item::fill(Role::Balloon, circle(to, DOT), Ink::BLACK));
    }
    items
}

/// The middle of the largest area that is seen of one of the pieces: the place furthest from all strokes, looked for on a
/// grid.
fn target(picture: &Picture, scale: f64, map: &TakenMap, wanted: &Wanted) -> Option<Target> {
    const STEPS: usize = 24;
    let size = |seen: &Area| seen.borders.iter().map(|b| area(b)).sum::<f64>() * scale * scale;
    let own = picture
        .areas
        .iter()
        .filter(|seen| wanted.bodies.contains(&seen.body));
    let mut own: Vec<&Area> = own.filter(|seen| size(seen) >= LEAST).collect();
    own.sort_by(|a, b| size(b).total_cmp(&size(a)));
    for seen in own {
        let paths: Vec<Path> = seen
            .borders
            .iter()
            .map(|border| Path::of_points(border.iter().map(|p| *p * scale), true))
            .collect();
        let boxes = paths.iter().filter_map(Path::bounds);
        let Some(bounds) = boxes.reduce(Bounds::union) else {
            continue;
        };
        let mut best: Option<(f64, Point)> = None;
        for cell in 0..STEPS * STEPS {
            let share = |n: usize| (n as f64 + 0.5) / STEPS as f64;
            let (column, row) = (share(cell % STEPS), share(cell / STEPS));
            let at = bounds.min + Point::new(bounds.width() * column, bounds.height() * row);
            if paths.iter().filter(|path| path.contains(at)).count() % 2 == 0 {
                continue;
            }
            let room = map.free_around(at, AMPLE);
            // Where there is room enough, the middle looks best.
            let worth = room - 0.02 * at.distance(bounds.centre());
            if room > NEAREST && best.is_none_or(|(most, _)| worth > most + 1e-9) {
                best = Some((worth, at));
            }
        }
        if let Some((_, at)) = best {
            let room = map.free_around(at, AMPLE);
            let number = wanted.bodies.iter().position(|body| *body == seen.body)?;
            let mark = wanted.marks[number].clone();
            return Some(Target { mark, at, room });
        }
    }
    None
}

/// Where a mark goes: on its piece, or as near to it as there is room, with a line that meets no other mark.
fn place(target: &Target, radius: f64, map: &TakenMap, placed: &[Placed]) -> Option<Point> {
    let keeps_off = |centre: Point, line: Option<Segment>| {
        placed.iter().all(|other| {
            let apart = centre.distance(other.centre) > radius + other.radius + ROOM;
            let line_clear =
                line.is_none_or(|line| from_segment(other.centre, line) > other.radius + ROOM);
            let other_clear = other
                .line
                .is_none_or(|line| from_segment(centre, line) > radius + ROOM);
            let uncrossed = match (line, other.line) {
                (Some(one), Some(other)) => !cross(one, other),
                _ => true,
            };
            apart && line_clear && other_clear && uncrossed
        })
    };
    if target.room > radius + ROOM && keeps_off(target.at, None) {
        return Some(target.at);
    }
    let mut best: Option<(f64, Point)> = None;
    let mut reach = radius + 2.5;
    while reach < LONGEST {
        for turn in 0..TURNS {
            let angle = std::f64::consts::TAU * (turn as f64 + 0.5) / TURNS as f64;
            let centre = target.at + Point::polar(reach, angle);
            if best.is_some_and(|(cost, _)| cost <= reach) || !map.is_free(centre, radius + ROOM) {
                continue;
            }
            let way = (target.at - centre).unit();
            let line = (centre + way * radius, target.at);
            if !keeps_off(centre, Some(line)) {
                continue;
            }
            // Each line that is crossed counts like some millimetres more.
            let cost = reach + 3.5 * map.crossed(line.0, line.1) as f64;
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, centre));
            }
        }
        reach += 1.5;
    }
    best.map(|(_, centre)| centre)
}

fn from_segment(point: Point, (from, to): (Point, Point)) -> f64 {
    let way = to - from;
    let share = ((point - from).dot(way) / way.dot(way)).clamp(0.0, 1.0);
    point.distance(from.toward(to, share))
}

fn cross(one: (Point, Point), other: (Point, Point)) -> bool {
    let side = |line: (Point, Point), point: Point| (line.1 - line.0).cross(point - line.0) > 0.0;
    side(one, other.0) != side(one, other.1) && side(other, one.0) != side(other, one.1)
}

/// Which cells of the paper strokes run through, and how far each cell is from the nearest of them.
struct TakenMap {
    area: Bounds,
    columns: usize,
    rows: usize,
    taken: Vec<bool>,
    /// Distance from the middle of a cell to the middle of the nearest one that is taken, in cells, squared.
    far: Vec<f64>,
}

impl TakenMap {
    fn new(area: Bounds, items: &[Item]) -> Self {
        let columns = (area.width() / CELL).ceil().max(1.0) as usize;
        let rows = (area.height() / CELL).ceil().max(1.0) as usize;
        let mut map = Self {
            area,
            columns,
            rows,
            taken: vec![false; columns * rows],
            far: Vec::new(),
        };
        for item in items {
            match &item.shape {
                ItemShape::Stroke(path, _) => {
                    for segment in path.segments() {
                        let steps = (segment.length() / (CELL * 0.5)).ceil().max(1.0) as usize;
                        for step in 0..=steps {
                            let share = step as f64 / steps as f64;
                            map.take(segment.from().toward(segment.to(), share));
                        }
                    }
                }
                ItemShape::Text(text) => {
                    let bounds = text.bounds();
                    let count = |length: f64| (length / (CELL * 0.5)).ceil() as usize;
                    for row in 0..=count(bounds.height()) {
                        for column in 0..=count(bounds.width()) {
                            let off = Point::new(column as f64, row as f64) * (CELL * 0.5);
                            map.take(bounds.min + off);
                        }
                    }
                }
                ItemShape::Fill(..) | ItemShape::Ellipse(..) => {}
            }
        }
        map.far = map.distances();
        map
    }

    /// Squared distances to the nearest taken cell: along each column first, then for each row the lowest of the parabolas
    /// that stand on its cells (Felzenszwalb and Huttenlocher, "Distance transforms of sampled functions", 2012).
    fn distances(&self) -> Vec<f64> {
        let mut far = vec![f64::INFINITY; self.taken.len()];
        for column in 0..self.columns {
            let mut since = f64::INFINITY;
            let rows = 0..self.rows;
            for row in rows.clone().chain(rows.rev()) {
                let cell = row * self.columns + column;
                since = if self.taken[cell] { 0.0 } else { since + 1.0 };
                far[cell] = far[cell].min(since * since);
            }
        }
        let mut feet: Vec<usize> = Vec::with_capacity(self.columns);
        let mut begins: Vec<f64> = Vec::with_capacity(self.columns);
        for row in far.chunks_mut(self.columns) {
            let heights = row.to_vec();
            feet.clear();
            begins.clear();
            for (column, height) in heights.iter().enumerate().filter(|(_, h)| h.is_finite()) {
                let at = |foot: usize| heights[foot] + (foot * foot) as f64;
                loop {
                    let Some(&last) = feet.last() else {
                        begins.push(f64::NEG_INFINITY);
                        break;
                    };
                    let meet = (height + (column * column) as f64 - at(last))
                        / (2.0 * (column - last) as f64);
                    if meet > begins[begins.len() - 1] {
                        begins.push(meet);
                        break;
                    }
                    feet.pop();
                    begins.pop();
                }
                feet.push(column);
            }
            let mut current = 0;
            for (column, value) in
                row.iter_mut()
                    .enumerate()
                    .take(if feet.is_empty() { 0 } else { usize::MAX })
            {
                while current + 1 < feet.len() && begins[current + 1] < column as f64 {
                    current += 1;
                }
                let off = column as f64 - feet[current] as f64;
                *value = off * off + heights[feet[current]];
            }
        }
        far
    }

    fn cell(&self, at: Point) -> Option<usize> {
        let (x, y) = (
            (at.x - self.area.min.x) / CELL,
            (at.y - self.area.min.y) / CELL,
        );
        let inside =
            x >= 0.0 && y >= 0.0 && (x as usize) < self.columns && (y as usize) < self.rows;
        inside.then(|| y as usize * self.columns + x as usize)
    }

    fn take(&mut self, at: Point) {
        if let Some(cell) = self.cell(at) {
            self.taken[cell] = true;
        }
    }

    /// Whether a circle lies on the paper and on no stroke.
    fn is_free(&self, centre: Point, radius: f64) -> bool {
        self.area.contains_box(Bounds::around(centre, radius), 0.0)
            && self.free_around(centre, radius) >= radius
    }

    /// The distance to the nearest stroke, as far as `most`; never more than it is.
    fn free_around(&self, centre: Point, most: f64) -> f64 {
        let far = self
            .cell(centre)
            .map_or(f64::INFINITY, |cell| self.far[cell]);
        // The point and the stroke may lie anywhere in their cells.
        (far.sqrt() * CELL - 2.0 * CELL * 0.71).clamp(0.0, most)
    }

    /// How many strokes a line crosses, about.
    fn crossed(&self, from: Point, to: Point) -> usize {
        let steps = (from.distance(to) / CELL).ceil().max(1.0) as usize;
        let (mut count, mut on) = (0, false);
        for step in 0..=steps {
            let here = self.cell(from.toward(to, step as f64 / steps as f64));
            let taken = here.is_some_and(|cell| self.taken[cell]);
            if taken && !on {
                count += 1;
            }
            on = taken;
        }
        count
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_map_knows_how_far_the_nearest_stroke_is() {
        let strokes = [
            Item::line(
                Role::Crease,
                Point::new(5.0, 20.0),
                Point::new(45.0, 20.0),
                Pen::THIN,
            ),
            Item::line(
                Role::Crease,
                Point::new(30.0, 30.0),
                Point::new(31.0, 45.0),
                Pen::THIN,
            ),
        ];
        let map = TakenMap::new(Bounds::of_size(50.0, 50.0), &strokes);
        for (at, wanted) in [
            ((20.0, 10.0), 10.0),
            ((20.0, 29.0), 9.0),
            ((24.0, 40.0), 6.6),
            ((2.0, 16.0), 5.0),
        ] {
            let found = map.free_around(Point::new(at.0, at.1), 30.0);
            assert!(
                found <= wanted && found > wanted - 4.0 * CELL,
                "{at:?}: {found}"
            );
        }
    }
}
