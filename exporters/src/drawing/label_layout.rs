//! Finding room for labels: none lies on a mark, a line or another label, and none reaches out of the paper's area.

use std::sync::LazyLock;

use jigless_model::geom::{Bounds, Point};

use super::arrow;
use super::item::{Item, ItemShape};
use super::label::{LabelRequest, LabelTarget};
use super::occupied::Occupied;
use super::style::Pen;
use super::text::{Anchor, Block, Turn};

/// Room between a label and any line, in millimetres.
const CLEARANCE: f64 = 0.5;
/// Distances at which a label may stand off with a leader line, in millimetres.
const STAND_OFF: [f64; 7] = [3.0, 6.0, 10.0, 15.0, 22.0, 30.0, 40.0];
/// Directions that are tried around a place, in degrees, the ones that read best first. None is along an arm of a
/// hole mark.
const AROUND: [f64; 12] = [
    45.0, -45.0, 135.0, -135.0, 20.0, 160.0, -20.0, -160.0, 70.0, 110.0, -70.0, -110.0,
];

/// A sheet of paper, or a part of one, on which labels find room.
#[derive(Debug)]
pub(crate) struct LabelLayout {
    occupied: Occupied,
}

/// Room that was found.
struct LabelSpot {
    inside: Bounds,
    anchor: Anchor,
    turn: Turn,
    leader: Option<(Point, Point)>,
}

impl LabelLayout {
    /// Paper with some things on it already.
    pub(crate) fn new(area: Bounds, items: &[Item]) -> Self {
        let mut layout = Self {
            occupied: Occupied::new(area),
        };
        for item in items {
            layout.take(item);
        }
        layout
    }

    /// Keeps labels off an item. Tints may be written on.
    pub(crate) fn take(&mut self, item: &Item) {
        match &item.shape {
            ItemShape::Stroke(path, pen) => {
                let reach = pen.width / 2.0 + CLEARANCE;
                // Nothing is written into a circle: it will be drilled away.
                match path.as_circle() {
                    Some((centre, radius)) => {
                        self.occupied
                            .take(Bounds::around(centre, radius * 0.7 + reach));
                        self.occupied.take_path(path, reach);
                    }
                    None => self.occupied.take_path(path, reach),
                }
            }
            ItemShape::Ellipse(ellipse, pen) => {
                self.occupied
                    .take(ellipse.bounds().grown(pen.width / 2.0 + CLEARANCE));
            }
            ItemShape::Text(text) => self.occupied.take(text.bounds().grown(CLEARANCE)),
            ItemShape::Fill(..) => {}
        }
    }

    /// The items of a label, once it has found room; `None` if it finds none.
    pub(crate) fn place(&mut self, request: &LabelRequest) -> Option<Vec<Item>> {
        self.place_at(request, &request.target)
    }

    /// The same for a label that belongs to another target here than its request says.
    pub(crate) fn place_at(
        &mut self,
        request: &LabelRequest,
        target: &LabelTarget,
    ) -> Option<Vec<Item>> {
        let (block, room) = request
            .blocks
            .iter()
            .filter(|block| !block.lines.is_empty())
            .find_map(|block| Some((block, self.room_for(block, target, request.arrow)?)))?;
        let mut items = Vec::new();
        if let Some((from, to)) = room.leader {
            let pen = Pen::new(0.1, block.ink);
            items.push(Item::line(request.role, from, to, pen));
        }
        let mut words = room.inside;
        if request.arrow.is_some() {
            let (_, high) = block.footprint(Turn::Level);
            let (line, rest) = arrow::split_off(room.inside, room.turn, high);
            items.extend(arrow::double_headed(request.role, line, room.turn));
            words = rest;
        }
        let texts = block.set(words, room.anchor, room.turn);
        items.extend(texts.into_iter().map(|text| Item::text(request.role, text)));
        for item in &items {
            self.take(item);
        }
        Some(items)
    }

    /// Keeps everything off a box.
    pub(crate) fn reserve(&mut self, taken: Bounds) {
        self.occupied.take(taken);
    }

    /// The free box of a size that lies nearest to a point, with a little air around it.
    pub(crate) fn free_box(&self, size: (f64, f64), near: Point) -> Option<Bounds> {
        /// Air around the box, in millimetres.
        const AIR: f64 = 1.5;
        /// From one place that is tried to the next, in millimetres.
        const STEP: f64 = 4.0;
        let area = self.occupied.area();
        let room = (
            area.width() - size.0 - 2.0 * AIR,
            area.height() - size.1 - 2.0 * AIR,
        );
        if room.0 < 0.0 || room.1 < 0.0 {
            return None;
        }
        // Where the middle may lie along one axis, the nearest to the point first.
        let middles = |from: f64, size: f64, room: f64, wanted: f64| {
            let count = (room / STEP).ceil().max(1.0) as usize;
            let first = from + AIR + size / 2.0;
            let mut middles: Vec<f64> = (0..=count)
                .map(|index| first + room * (index as f64 / count as f64))
                .collect();
            middles.sort_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()));
            middles
        };
        let across = middles(area.min.x, size.0, room.0, near.x);
        let up = middles(area.min.y, size.1, room.1, near.y);
        let half = Point::new(size.0 / 2.0, size.1 / 2.0);
        let mut nearest: Option<(f64, Bounds)> = None;
        for &x in &across {
            for &y in &up {
                let off = Point::new(x, y) - near;
                let square = off.dot(off);
                // What follows in this column is farther still.
                if nearest.is_some_and(|(least, _)| square >= least) {
                    break;
                }
                let place = Bounds::new(near + off - half, near + off + half);
                if self.occupied.is_free(place.grown(AIR)) {
                    nearest = Some((square, place));
                    break;
                }
            }
        }
        nearest.map(|(_, place)| place)
    }

    fn room_for(
        &self,
        block: &Block,
        target: &LabelTarget,
        arrow: Option<Turn>,
    ) -> Option<LabelSpot> {
        match target {
            LabelTarget::Round(centre, radius) => self.around(block, *centre, *radius),
            LabelTarget::Box(bounds) => self
                .within(block, *bounds)
                .or_else(|| self.beside(block, *bounds)),
            LabelTarget::Inside(bounds) => self.within(block, *bounds),
            LabelTarget::Edge(from, to) => self.along(block, *from, *to),
            LabelTarget::Point(at) => self
                .centred(block, *at, Turn::Level)
                .or_else(|| self.around(block, *at, 0.5)),
            LabelTarget::Near(at) => self.near(block, *at, arrow),
        }
    }

    fn free(&self, inside: Bounds, anchor: Anchor, turn: Turn) -> Option<LabelSpot> {
        self.occupied.is_free(inside).then_some(LabelSpot {
            inside,
            anchor,
            turn,
            leader: None,
        })
    }

    fn centred(&self, block: &Block, at: Point, turn: Turn) -> Option<LabelSpot> {
        let (width, height) = block.footprint(turn);
        let half = Point::new(width / 2.0, height / 2.0);
        self.free(Bounds::new(at - half, at + half), Anchor::Middle, turn)
    }

    /// Beside a round mark: close to the circle between the arms, or farther off with a leader line.
    fn around(&self, block: &Block, centre: Point, radius: f64) -> Option<LabelSpot> {
        let (width, height) = block.footprint(Turn::Level);
        let at_distance = |distance: f64, (sin, cos): (f64, f64)| {
            // The corner nearest to the mark stays off the arms, which run straight to the right and upward.
            let off_arm = CLEARANCE + 0.2;
            let corner = centre
                + Point::new(
                    (distance * cos).abs().max(off_arm) * cos.signum(),
                    (distance * sin).abs().max(off_arm) * sin.signum(),
                );
            let far = corner + Point::new(width * cos.signum(), height * sin.signum());
            let anchor = if cos > 0.0 {
                Anchor::Start
            } else {
                Anchor::End
            };
            (Bounds::new(corner, far), corner, anchor)
        };
        for way in *WAYS_AROUND {
            let (inside, _, anchor) = at_distance(radius + CLEARANCE + 0.2, way);
            if let Some(room) = self.free(inside, anchor, Turn::Level) {
                return Some(room);
            }
        }
        for stand_off in STAND_OFF {
            for way in *WAYS_AROUND {
                let (inside, corner, anchor) = at_distance(radius + stand_off, way);
                let outward = (corner - centre).unit();
                let leader = (centre + outward * (radius + 0.3), corner - outward * 0.3);
                if self.occupied.is_free(inside) && self.leader_is_clear(leader, radius) {
                    return Some(LabelSpot {
                        inside,
                        anchor,
                        turn: Turn::Level,
                        leader: Some(leader),
                    });
                }
            }
        }
        None
    }

    /// Whether a leader line runs clear from just off its mark to its label.
    fn leader_is_clear(&self, leader: (Point, Point), radius: f64) -> bool {
        let length = leader.0.distance(leader.1);
        // The first bit leaves between the arms of its own mark and is not asked about.
        let skip = (1.2 + radius * 0.1).min(length);
        let steps = ((length - skip) / 0.8).ceil().max(1.0) as usize;
        (0..=steps).all(|i| {
            let along = skip + (length - skip) * i as f64 / steps as f64;
            let at = leader.0.toward(leader.1, along / length.max(1e-9));
            self.occupied.is_free(Bounds::around(at, 0.05))
        })
    }

    /// Inside an area, level or upward, in its middle or toward an end.
    fn within(&self, block: &Block, bounds: Bounds) -> Option<LabelSpot> {
        [Turn::Level, Turn::Up].into_iter().find_map(|turn| {
            let (width, height) = block.footprint(turn);
            let room = (bounds.width() - width, bounds.height() - height);
            if room.0 < 0.0 || room.1 < 0.0 {
                return None;
            }
            let aside = ASIDE.into_iter();
            let aside = aside.flat_map(|x| ASIDE.map(|y| (x, y)));
            SLIDES.into_iter().chain(aside).find_map(|(x, y)| {
                let min = bounds.min + Point::new(room.0 * x, room.1 * y);
                let max = min + Point::new(width, height);
                self.free(Bounds::new(min, max), Anchor::Middle, turn)
            })
        })
    }

    /// Beside an area, along its long sides first.
    fn beside(&self, block: &Block, bounds: Bounds) -> Option<LabelSpot> {
        let gap = CLEARANCE + 0.4;
        let upright = bounds.height() > bounds.width();
        let sides = if upright { [0, 1, 2, 3] } else { [2, 3, 0, 1] };
        let centre = bounds.centre();
        // In the middle, to either side of an axis through the middle, or toward an end.
        let slides = |from: f64, to: f64, middle: f64, length: f64| {
            let share = |s: f64| from + (to - from - length) * s;
            [
                share(0.5),
                middle + gap,
                middle - gap - length,
                share(0.25),
                share(0.75),
                share(0.0),
                share(1.0),
            ]
        };
        for slide in 0..7 {
            for side in sides {
                let turn = if upright && side < 2 {
                    Turn::Up
                } else {
                    Turn::Level
                };
                let (width, height) = block.footprint(turn);
                let x = slides(bounds.min.x, bounds.max.x, centre.x, width)[slide];
                let y = slides(bounds.min.y, bounds.max.y, centre.y, height)[slide];
                let min = match side {
                    0 => Point::new(bounds.max.x + gap, y),
                    1 => Point::new(bounds.min.x - gap - width, y),
                    2 => Point::new(x, bounds.max.y + gap),
                    _ => Point::new(x, bounds.min.y - gap - height),
                };
                let inside = Bounds::new(min, min + Point::new(width, height));
                if let Some(room) = self.free(inside, Anchor::Middle, turn) {
                    return Some(room);
                }
            }
        }
        None
    }

    /// Along an edge, on the left-hand side of the way from one end to the other, or else on the other side.
    fn along(&self, block: &Block, from: Point, to: Point) -> Option<LabelSpot> {
        let way = (to - from).unit();
        let turn = if way.x.abs() > way.y.abs() {
            Turn::Level
        } else {
            Turn::Up
        };
        let (width, height) = block.footprint(turn);
        let half_across = match turn {
            Turn::Level => height / 2.0,
            Turn::Up => width / 2.0,
        };
        let offsets = [1.4, 4.0, 8.0, 13.0];
        for side in [1.0, -1.0] {
            for offset in offsets {
                for slide in [0.5, 0.35, 0.65, 0.22, 0.78, 0.12, 0.88] {
                    let at = from.toward(to, slide) + way.left() * ((half_across + offset) * side);
                    if let Some(room) = self.centred(block, at, turn) {
                        return Some(room);
                    }
                }
            }
        }
        None
    }

    /// The free place nearest to a point.
    fn near(&self, block: &Block, at: Point, arrow: Option<Turn>) -> Option<LabelSpot> {
        let turn = arrow.unwrap_or(Turn::Level);
        let (mut width, mut height) = block.footprint(turn);
        if arrow.is_some() {
            // Room for the arrow beside the words.
            match turn {
                Turn::Level => height *= 2.0,
                Turn::Up => width *= 2.0,
            }
        }
        let half = Point::new(width / 2.0, height / 2.0);
        ROUND_ABOUT.iter().find_map(|&offset| {
            let middle = at + offset;
            // Roomier than other labels: nothing shows where it belongs, so it should not seem to belong to a mark.
            let roomy = Bounds::new(middle - half, middle + half).grown(1.5);
            self.free(roomy, Anchor::Middle, turn)
                .map(|room| LabelSpot {
                    inside: roomy.grown(-1.5),
                    ..room
                })
        })
    }
}

/// Places about a point, the nearest first. Worked out once: every page of every part asks for them.
static ROUND_ABOUT: LazyLock<Vec<Point>> = LazyLock::new(|| {
    let mut places: Vec<Point> = (-12..=12)
        .flat_map(|i| (-12..=12).map(move |j| Point::new(f64::from(i), f64::from(j)) * 9.0))
        .collect();
    places.sort_by(|a, b| a.length().total_cmp(&b.length()));
    places
});

/// Sine and cosine of [`AROUND`].
static WAYS_AROUND: LazyLock<[(f64, f64); AROUND.len()]> =
    LazyLock::new(|| AROUND.map(|degrees| degrees.to_radians().sin_cos()));

/// Shares of the room to slide about in, in the order in which they are tried.
const SLIDES: [(f64, f64); 9] = [
    (0.5, 0.5),
    (0.5, 0.25),
    (0.5, 0.75),
    (0.25, 0.5),
    (0.75, 0.5),
    (0.05, 0.5),
    (0.95, 0.5),
    (0.5, 0.05),
    (0.5, 0.95),
];

/// And for those of both directions at once, where lines cross the middle both ways.
const ASIDE: [f64; 4] = [0.25, 0.75, 0.05, 0.95];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::item::Role;
    use crate::drawing::probe::collisions;
    use jigless_model::geom::circle;

    fn mark(centre: Point, radius: f64) -> Vec<Item> {
        let arm = radius + 5.0;
        vec![
            Item::stroke(Role::Hole, circle(centre, radius), Pen::THIN),
            Item::line(
                Role::Hole,
                centre - Point::new(arm, 0.0),
                centre + Point::new(arm, 0.0),
                Pen::HAIR,
            ),
            Item::line(
                Role::Hole,
                centre - Point::new(0.0, arm),
                centre + Point::new(0.0, arm),
                Pen::HAIR,
            ),
        ]
    }

    /// A row of pin holes, a hinge cup with its screws and a dense grid: whatever is placed is clear.
    #[test]
    fn labels_stay_clear_of_marks_of_each_other_and_of_the_border() {
        let area = Bounds::of_size(180.0, 200.0);
        let mut holes: Vec<(Point, f64)> = (0..5)
            .map(|i| (Point::new(20.0, 20.0 + 32.0 * f64::from(i)), 2.5))
            .collect();
        holes.push((Point::new(90.0, 60.0), 17.5));
        holes.push((Point::new(99.5, 37.5), 1.25));
        holes.push((Point::new(99.5, 82.5), 1.25));
        for i in 0..6 {
            for j in 0..4 {
                let at = Point::new(70.0 + 18.0 * f64::from(i), 120.0 + 18.0 * f64::from(j));
                holes.push((at, 2.0));
            }
        }
        let mut items: Vec<Item> = holes.iter().flat_map(|(c, r)| mark(*c, *r)).collect();
        let mut layout = LabelLayout::new(area, &items);
        let mut placed = 0;
        for (index, (centre, radius)) in holes.iter().enumerate() {
            let name = format!("H{}", index + 1);
            let request = LabelRequest::new(
                Role::Label,
                LabelTarget::Round(*centre, *radius),
                vec![
                    Block::label([format!("{name} Ø5 front").as_str(), "10 deep"]),
                    Block::label([name.as_str()]),
                ],
            );
            if let Some(label) = layout.place(&request) {
                placed += 1;
                items.extend(label);
            }
        }
        assert_eq!(collisions(&items, area), []);
        assert_eq!(placed, holes.len());
    }

    #[test]
    fn a_label_without_room_is_given_back() {
        let request = LabelRequest::new(
            Role::Label,
            LabelTarget::Round(Point::new(5.0, 5.0), 2.0),
            vec![Block::label(["a label much wider than its paper"])],
        );
        let mut layout = LabelLayout::new(Bounds::of_size(10.0, 10.0), &[]);
        assert_eq!(layout.place(&request), None);
    }
}
