//! Side sections at full size: what a stepped or slanting bore looks like inside the wood.

use jigless_model::geom::{Bounds, Path, Point, rectangle};
use jigless_model::operation::{AngledBore, Depth, Drill, Mouth};

use super::item::{Item, Role};
use super::measure::{Lengths, degrees};
use super::style::{Dash, Ink, Pen};

/// Free wood shown beside a bore, in millimetres.
const BESIDE: f64 = 8.0;

/// A section: lines at full size, in millimetres from its lower left corner, and what is to be read beside it.
#[derive(Debug, Clone)]
pub(crate) struct Section {
    /// The box around the drawing.
    pub(crate) bounds: Bounds,
    /// The drawing: wood, bore, axis.
    pub(crate) items: Vec<Item>,
    /// What the bit is stopped at, in large type.
    pub(crate) stop: String,
    /// Further numbers.
    pub(crate) lines: Vec<String>,
}

/// Wood that is cut through.
const WOOD: Ink = Ink(232, 232, 232);
/// Where wood has been taken away.
const AIR: Ink = Ink(255, 255, 255);

/// What a pocket takes out of the wood: the wide part from the face to its shoulder, and the pilot from there to the edge.
fn bored(bore: &AngledBore, entry: Point, way: Point, across: Point, thickness: f64) -> Vec<Item> {
    let (sin, cos) = bore.angle.sin_cos();
    let band = |radius: f64, from: f64, to: f64| {
        let walls = [1.0, -1.0].map(|side| entry + across * (side * radius));
        // Nothing is taken above the face or beyond the edge.
        let ends = walls.map(|wall| to.min(wall.x / cos));
        let begins = [0, 1].map(|i| from.max((walls[i].y - thickness) / sin).min(ends[i]));
        let corner = |wall: usize, along: f64| walls[wall] + way * along;
        Path::of_points(
            [
                corner(0, begins[0]),
                corner(1, begins[1]),
                corner(1, ends[1]),
                corner(0, ends[0]),
            ],
            true,
        )
    };
    let wide = band(bore.diameter / 2.0, f64::MIN, bore.shoulder);
    let pilot = band(bore.pilot / 2.0, bore.shoulder, f64::MAX);
    [wide, pilot]
        .map(|path| Item::fill(Role::Area, path, AIR))
        .into()
}

fn line(from: Point, to: Point, pen: Pen) -> Item {
    Item::line(Role::HandWork, from, to, pen)
}

/// The section of a screw pocket: the edge that the screw leaves through is on the left, the drilled face on top.
pub(crate) fn of_bore(bore: &AngledBore, thickness: f64, lengths: Lengths) -> Section {
    let inward = bore.entry.distance(bore.exit);
    let reach = inward + bore.mouth_half_length() + BESIDE;
    let (sin, cos) = bore.angle.sin_cos();
    let entry = Point::new(inward, thickness);
    // Down the axis, and square to it, which here points toward the edge's face side.
    let (way, across) = (Point::new(-cos, -sin), Point::new(-sin, cos));
    let mut items = Vec::new();
    // The wood, torn off at the far end.
    let border = Path::of_points(
        [
            Point::new(reach, 0.0),
            Point::new(0.0, 0.0),
            Point::new(0.0, thickness),
            Point::new(reach, thickness),
        ],
        false,
    );
    let wood = Bounds::of_size(reach, thickness);
    items.push(Item::fill(Role::Area, rectangle(wood), WOOD));
    items.extend(bored(bore, entry, way, across, thickness));
    items.push(Item::stroke(Role::HandWork, border, Pen::BOLD));
    items.push(line(
        Point::new(reach, thickness),
        Point::new(reach, 0.0),
        Pen::THIN.dashed(Dash::Hidden),
    ));
    for side in [1.0, -1.0] {
        let wall = entry + across * (side * bore.diameter / 2.0);
        // A wall begins where it comes out of the face, and there is none where the shoulder lies outside the wood.
        let begins = (wall.y - thickness) / sin;
        if begins < bore.shoulder {
            items.push(line(
                wall + way * begins,
                wall + way * bore.shoulder,
                Pen::THIN,
            ));
        }
        let pilot = entry + across * (side * bore.pilot / 2.0);
        items.push(line(
            wall + way * bore.shoulder.max(begins),
            pilot + way * bore.shoulder,
            Pen::THIN,
        ));
        items.push(line(
            pilot + way * bore.shoulder,
            pilot + way * (pilot.x / cos),
            Pen::THIN,
        ));
    }
    let axis = Pen::HAIR.dashed(Dash::Centre);
    items.push(line(
        entry - way * BESIDE,
        entry + way * (inward / cos + 4.0),
        axis,
    ));
    let mut lines = vec![
        format!(
            "Ø{} at {} to the face, pilot Ø{}",
            lengths.bare(bore.diameter),
            degrees(bore.angle),
            lengths.bare(bore.pilot)
        ),
        format!("entry {} from the edge", lengths.full(inward)),
        format!(
            "exit {} under the drilled face",
            lengths.full(bore.exit_depth)
        ),
    ];
    if let Some(screw) = &bore.screw {
        let gauge = screw.gauge.as_ref().map(|g| format!(" {g}"));
        let wood = inward / cos - bore.shoulder;
        let beyond = (screw.length - wood).max(0.0);
        lines.push(format!(
            "screw {}{}: {} beyond the edge",
            lengths.full(screw.length),
            gauge.unwrap_or_default(),
            lengths.full(beyond)
        ));
    }
    finish(
        &items,
        format!("STOP COLLAR {}", lengths.full(bore.shoulder)),
        lines,
    )
}

/// The section of a hole with a wider mouth: the drilled face is on top.
pub(crate) fn of_drill(drill: &Drill, thickness: f64, lengths: Lengths) -> Option<Section> {
    let mouth = drill.mouth?;
    let (wide, narrow) = (mouth.diameter() / 2.0, drill.diameter / 2.0);
    let depth = match drill.depth {
        Depth::Through => thickness,
        Depth::Blind(depth) => depth,
    };
    let half = wide + BESIDE;
    let neck = thickness - mouth.depth(drill.diameter).min(depth);
    let shape = match mouth {
        Mouth::Countersink { .. } => vec![(wide, thickness), (narrow, neck)],
        Mouth::Counterbore { .. } => vec![(wide, thickness), (wide, neck), (narrow, neck)],
    };
    let shape: Vec<Point> = shape
        .into_iter()
        .chain([(narrow, thickness - depth)])
        .map(|(x, y)| Point::new(x, y))
        .collect();
    let mirrored = shape.iter().rev().map(|p| Point::new(-p.x, p.y));
    let taken = Path::of_points(shape.iter().copied().chain(mirrored), true);
    let wood = Bounds::new(Point::new(-half, 0.0), Point::new(half, thickness));
    let mut items = vec![
        Item::fill(Role::Area, rectangle(wood), WOOD),
        Item::fill(Role::Area, taken, AIR),
    ];
    for y in [0.0, thickness] {
        let gap = match y > 0.0 {
            true => wide,
            false if drill.depth == Depth::Through => narrow,
            false => 0.0,
        };
        for side in [1.0, -1.0] {
            items.push(line(
                Point::new(side * gap, y),
                Point::new(side * half, y),
                Pen::BOLD,
            ));
        }
    }
    for side in [1.0, -1.0] {
        items.push(line(
            Point::new(side * half, 0.0),
            Point::new(side * half, thickness),
            Pen::THIN.dashed(Dash::Hidden),
        ));
        let path = shape.iter().map(|p| Point::new(side * p.x, p.y));
        items.push(Item::stroke(
            Role::HandWork,
            Path::of_points(path, false),
            Pen::THIN,
        ));
    }
    if drill.depth != Depth::Through {
        items.push(line(
            Point::new(-narrow, thickness - depth),
            Point::new(narrow, thickness - depth),
            Pen::THIN,
        ));
    }
    items.push(line(
        Point::new(0.0, -4.0),
        Point::new(0.0, thickness + 4.0),
        Pen::HAIR.dashed(Dash::Centre),
    ));
    let (stop, what) = match mouth {
        Mouth::Countersink { angle, .. } => (
            format!("SINK {}", lengths.full_depth(mouth.depth(drill.diameter))),
            format!(
                "countersink Ø{} {}",
                lengths.bare(mouth.diameter()),
                degrees(angle)
            ),
        ),
        Mouth::Counterbore { depth, .. } => (
            format!(
                "Ø{} STOP {}",
                lengths.bare(mouth.diameter()),
                lengths.full_depth(depth)
            ),
            format!("counterbore Ø{} first", lengths.bare(mouth.diameter())),
        ),
    };
    let bore = match drill.depth {
        Depth::Through => format!("then Ø{} THROUGH", lengths.bare(drill.diameter)),
        Depth::Blind(depth) => format!(
            "then Ø{}, {} deep",
            lengths.bare(drill.diameter),
            lengths.full_depth(depth)
        ),
    };
    Some(finish(&items, stop, vec![what, bore]))
}

fn finish(items: &[Item], stop: String, lines: Vec<String>) -> Section {
    let all = items.iter().filter_map(Item::bounds).reduce(Bounds::union);
    let bounds = all.unwrap_or(Bounds::of_size(0.0, 0.0));
    let by = bounds.min * -1.0;
    Section {
        bounds: bounds.moved(by),
        items: items.iter().map(|item| item.moved(by)).collect(),
        stop,
        lines,
    }
}
