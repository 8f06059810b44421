//! What is drawn in one file, before it is a file: shapes on layers, in millimetres.

use std::cmp::Reverse;

use jigless_model::geom::{Bounds, Path, Point};

use super::laser_options::CutOrder;
use super::layers::{Layer, LayerNaming, MachiningStep};
use super::nearest::nearest_first;
use super::sheet_frame::Placing;
use super::short_segments;
use super::way_in;

/// How wide a character of a text is at most, as a share of its height. An estimate: the reader chooses the font.
pub(super) const CHARACTER_WIDTH: f64 = 1.0;

/// A shape.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum LayerShape {
    /// A full circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius.
        radius: f64,
    },
    /// A run of lines and arcs.
    Path(Path),
    /// A line of text.
    Text(NoteText),
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct NoteText {
    /// The left end of the base line, or its middle where `centred`.
    pub(super) at: Point,
    /// Whether `at` is the middle.
    pub(super) centred: bool,
    /// Height of a capital letter.
    pub(super) height: f64,
    /// Whether it reads upward instead of to the right.
    pub(super) upward: bool,
    /// What it says.
    pub(super) content: String,
}

impl NoteText {
    /// How long it is at most.
    pub(super) fn length(&self) -> f64 {
        self.content.chars().count() as f64 * CHARACTER_WIDTH * self.height
    }

    /// The left end of its base line.
    pub(super) fn start(&self) -> Point {
        let back = if self.centred {
            self.length() / 2.0
        } else {
            0.0
        };
        self.at - self.direction() * back
    }

    /// The way along its base line, of length 1.
    pub(super) fn direction(&self) -> Point {
        if self.upward {
            Point::new(0.0, 1.0)
        } else {
            Point::new(1.0, 0.0)
        }
    }

    /// The box around it at most.
    pub(super) fn bounds(&self) -> Bounds {
        let along = self.direction() * self.length();
        let up = self.direction().left() * self.height;
        let start = self.start();
        Bounds::new(start, start + along + up)
    }
}

impl LayerShape {
    /// A closed or open path; a full circle becomes one.
    pub(super) fn of_path(path: &Path) -> LayerShape {
        match path.as_circle() {
            Some((centre, radius)) => LayerShape::Circle { centre, radius },
            None => LayerShape::Path(short_segments::without(path)),
        }
    }

    /// The box around it; `None` for an empty path.
    pub(super) fn bounds(&self) -> Option<Bounds> {
        match self {
            LayerShape::Circle { centre, radius } => Some(Bounds::around(*centre, *radius)),
            LayerShape::Path(path) => path.bounds(),
            LayerShape::Text(text) => Some(text.bounds()),
        }
    }
}

impl LayerShape {
    /// Where a tool begins and ends on it.
    fn ends(&self) -> (Point, Point) {
        match self {
            LayerShape::Circle { centre, radius } => {
                let start = *centre + Point::new(*radius, 0.0);
                (start, start)
            }
            LayerShape::Path(path) => {
                let first = path.vertices.first().map_or(Point::default(), |v| v.point);
                let last = path.vertices.last().map_or(first, |v| v.point);
                (first, if path.closed { first } else { last })
            }
            LayerShape::Text(text) => (text.at, text.at),
        }
    }

    /// The shape moved by a vector.
    pub(super) fn moved(&self, by: Point) -> LayerShape {
        match self {
            LayerShape::Circle { centre, radius } => LayerShape::Circle {
                centre: *centre + by,
                radius: *radius,
            },
            LayerShape::Path(path) => LayerShape::Path(path.moved(by)),
            LayerShape::Text(text) => LayerShape::Text(NoteText {
                at: text.at + by,
                ..text.clone()
            }),
        }
    }

    /// The shape where a frame puts what is drawn of a part; a text does not follow.
    pub(super) fn placed(&self, place: &Placing) -> Option<LayerShape> {
        match self {
            LayerShape::Circle { centre, radius } => Some(LayerShape::Circle {
                centre: place.point(*centre),
                radius: *radius,
            }),
            LayerShape::Path(path) => Some(LayerShape::Path(place.path(path))),
            LayerShape::Text(_) => None,
        }
    }
}

/// How far inside an opening a cut lies at least that is not the opening itself, in millimetres.
const NESTED: f64 = 0.01;

/// Puts shapes in an order in which each is the nearest of those left. Gives where the last one ends.
fn nearest_next(items: &mut [LayerItem], from: Point) -> Point {
    let ends: Vec<(Point, Point)> = items.iter().map(|item| item.shape.ends()).collect();
    let order = nearest_first(&ends, from);
    let ordered: Vec<LayerItem> = order.iter().map(|number| items[*number].clone()).collect();
    for (item, next) in items.iter_mut().zip(ordered) {
        *item = next;
    }
    order.last().map_or(from, |last| ends[*last].1)
}

/// Puts shapes that lie in the order of the nearest next so that those that follow one another, and those that follow a
/// few later, were far apart in it: each time 0.38 of the whole way round is gone on, the share of the golden section,
/// which comes back beside an earlier place as late as any does.
fn spread(items: &mut [LayerItem]) {
    let count = items.len();
    let wanted = 0.381_966 * count as f64;
    let reaches_all = |step: &usize| greatest_common_divisor(*step, count) == 1;
    let step = (1..count.max(2))
        .filter(reaches_all)
        .min_by(|a, b| {
            (*a as f64 - wanted)
                .abs()
                .total_cmp(&(*b as f64 - wanted).abs())
        })
        .unwrap_or(1);
    let ordered: Vec<LayerItem> = (0..count)
        .map(|turn| items[turn * step % count].clone())
        .collect();
    for (item, next) in items.iter_mut().zip(ordered) {
        *item = next;
    }
}

fn greatest_common_divisor(a: usize, b: usize) -> usize {
    if b == 0 {
        a
    } else {
        greatest_common_divisor(b, a % b)
    }
}

/// A shape on its layer.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LayerItem {
    /// Its layer.
    pub(super) layer: Layer,
    /// What is drawn.
    pub(super) shape: LayerShape,
    /// How many openings of other parts it lies in, once it is sorted.
    pub(super) openings: usize,
}

/// All shapes of one file.
#[derive(Debug, Clone, Default)]
pub(super) struct LayerDrawing {
    /// The shapes, in the order in which they are written.
    pub(super) items: Vec<LayerItem>,
    /// The order of those that are alike.
    pub(super) order: CutOrder,
}

impl LayerDrawing {
    /// Adds a shape.
    pub(super) fn add(&mut self, layer: Layer, shape: LayerShape) {
        self.items.push(LayerItem {
            layer,
            shape,
            openings: 0,
        });
    }

    /// Adds a circle.
    pub(super) fn circle(&mut self, layer: Layer, centre: Point, diameter: f64) {
        let radius = diameter / 2.0;
        self.add(layer, LayerShape::Circle { centre, radius });
    }

    /// Adds a path, or the circle that it is.
    pub(super) fn path(&mut self, layer: Layer, path: &Path) {
        self.add(layer, LayerShape::of_path(path));
    }

    /// The order of the work: what holds the board, marks, blind work, holes and openings, the outline; each layer in one
    /// go, since each may need another tool; the small before the large, and of those alike in size the nearest next.
    /// What is not worked comes first. A part that lies in an opening of another one is cut before that opening, which would
    /// set it free.
    pub(super) fn sort(&mut self) {
        self.count_openings();
        let size = |item: &LayerItem| match item.layer.step() {
            // Doubles of the area: within one it matters little what comes first, and the way there is shorter.
            MachiningStep::Inner | MachiningStep::Outer => item.shape.bounds().map_or(0, |b| {
                (b.width() * b.height()).max(1e-3).log2().floor() as i32
            }),
            MachiningStep::Information
            | MachiningStep::Register
            | MachiningStep::Mark
            | MachiningStep::Blind => 0,
        };
        self.items.sort_by_key(|item| {
            let is_cut = item.layer.step() >= MachiningStep::Inner;
            let outward = Reverse(if is_cut { item.openings } else { 0 });
            (is_cut, outward, item.layer.rank(), size(item))
        });
        let mut start = 0;
        let mut at = Point::default();
        while start < self.items.len() {
            let (rank, own) = (self.items[start].layer.rank(), size(&self.items[start]));
            let openings = self.items[start].openings;
            let alike = self.items[start..]
                .iter()
                .take_while(|item| {
                    item.layer.rank() == rank && size(item) == own && item.openings == openings
                })
                .count();
            let run = &mut self.items[start..start + alike];
            if rank.0 != MachiningStep::Information {
                at = nearest_next(run, at);
                if self.order == CutOrder::Spread {
                    spread(run);
                }
            }
            start += alike;
        }
    }

    /// Counts for every cut the openings that it lies in.
    fn count_openings(&mut self) {
        let openings: Vec<(Path, Bounds)> = self
            .items
            .iter()
            .filter(|item| item.layer == Layer::CutInside)
            .filter_map(|item| match &item.shape {
                LayerShape::Path(path) => {
                    let path = way_in::without(path)?;
                    let bounds = path.bounds()?;
                    Some((path, bounds))
                }
                LayerShape::Circle { .. } | LayerShape::Text(_) => None,
            })
            .collect();
        for item in &mut self.items {
            let Some(own) = item.shape.bounds() else {
                continue;
            };
            let (start, _) = item.shape.ends();
            let around = openings
                .iter()
                .filter(|(path, bounds)| bounds.contains_box(own, -NESTED) && path.contains(start));
            item.openings = around.count();
        }
    }

    /// Moves everything.
    pub(super) fn move_by(&mut self, by: Point) {
        for item in &mut self.items {
            item.shape = item.shape.moved(by);
        }
    }

    /// Length of the ways between one worked shape and the next, in millimetres, from 0,0 on.
    #[cfg(test)]
    pub(super) fn travel(&self) -> f64 {
        let mut at = Point::default();
        let mut sum = 0.0;
        for item in self.items.iter().filter(|item| item.layer.is_worked()) {
            let (start, end) = item.shape.ends();
            sum += at.distance(start);
            at = end;
        }
        sum
    }

    /// The layers that are in use with their names, in the order of the shapes, each name once: depths that differ by
    /// less than a name can say share a layer.
    pub(super) fn layers(&self, naming: &LayerNaming) -> Vec<(String, Layer)> {
        let mut layers: Vec<(String, Layer)> = Vec::new();
        for item in &self.items {
            // Neighbours mostly share a layer, and making a name costs more than comparing two layers.
            if layers.iter().any(|(_, layer)| *layer == item.layer) {
                continue;
            }
            let name = item.layer.named(naming);
            if layers.iter().all(|(other, _)| *other != name) {
                layers.push((name, item.layer));
            }
        }
        layers
    }

    /// Whether nothing is drawn through an upright strip, such as a line of text fills.
    pub(super) fn is_clear(&self, strip: Bounds) -> bool {
        // Points along the middle of the strip, no further apart than it is thick: whatever keeps away from all of
        // them by nearly its thickness keeps out of it.
        let thickness = strip.width().min(strip.height());
        let count = (strip.width().max(strip.height()) / thickness).ceil();
        let half = (strip.max - strip.min) * 0.5;
        let reach = Point::new(half.x - thickness / 2.0, half.y - thickness / 2.0);
        let middles = (0..=count as usize).map(|i| {
            let share = 2.0 * i as f64 / count - 1.0;
            strip.centre() + reach * share
        });
        // A line that only just touches the strip is still clear of what is written in it.
        let distance = 0.9 * thickness;
        // What is near a middle is within this box, which most lines of a part are not.
        let near = strip.grown(thickness / 2.0);
        let is_apart = |bounds: Bounds| !bounds.overlaps(near, 0.0);
        self.items.iter().all(|item| match &item.shape {
            LayerShape::Circle { centre, radius } => {
                is_apart(Bounds::around(*centre, *radius))
                    || (middles.clone())
                        .all(|middle| (middle.distance(*centre) - radius).abs() > distance)
            }
            LayerShape::Path(path) => path
                .segments()
                .filter(|segment| !is_apart(segment.bounds()))
                .all(|segment| {
                    (middles.clone()).all(|middle| segment.distance_to(middle) > distance)
                }),
            LayerShape::Text(text) => is_apart(text.bounds()),
        })
    }

    /// The box around everything.
    pub(super) fn bounds(&self) -> Option<Bounds> {
        self.items
            .iter()
            .filter_map(|item| item.shape.bounds())
            .reduce(Bounds::union)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{circle, rectangle};

    #[test]
    fn depths_that_a_name_cannot_tell_apart_share_a_layer() {
        let mut drawing = LayerDrawing::default();
        for depth in [12.5, 12.500_000_1, 12.51] {
            let diameter = 5.0;
            drawing.circle(
                Layer::DrillBlind { diameter, depth },
                Point::default(),
                diameter,
            );
        }
        let names: Vec<String> = drawing
            .layers(&LayerNaming::own(jigless_model::units::Unit::Millimetre))
            .into_iter()
            .map(|(name, _)| name)
            .collect();
        assert_eq!(names, ["DRILL_D5_12-5", "DRILL_D5_12-51"]);
    }

    #[test]
    fn a_strip_is_clear_where_no_line_crosses_it() {
        let mut drawing = LayerDrawing::default();
        drawing.path(Layer::CutOutside, &rectangle(Bounds::of_size(400.0, 300.0)));
        drawing.circle(Layer::DrillThrough(80.0), Point::new(200.0, 150.0), 80.0);
        let strip = |x: f64, y: f64| {
            Bounds::around(Point::new(x, y), 2.0)
                .union(Bounds::around(Point::new(x + 60.0, y), 2.0))
        };
        assert!(drawing.is_clear(strip(20.0, 20.0)));
        assert!(drawing.is_clear(strip(170.0, 150.0)), "within the circle");
        assert!(!drawing.is_clear(strip(130.0, 150.0)), "through the circle");
        assert!(!drawing.is_clear(strip(380.0, 20.0)), "over the edge");
        assert!(!drawing.is_clear(strip(20.0, 1.0)), "along the edge");
    }

    /// Of a hundred openings in ten rows no two that lie side by side are cut one after the other, and none is lost.
    #[test]
    fn spread_cuts_let_the_wood_cool() {
        let mut drawing = LayerDrawing {
            order: CutOrder::Spread,
            ..LayerDrawing::default()
        };
        for index in 0..100 {
            let at = Point::new(f64::from(index % 10), f64::from(index / 10)) * 10.0;
            drawing.circle(Layer::CutInside, at, 4.0);
        }
        drawing.sort();
        let at: Vec<Point> = drawing
            .items
            .iter()
            .map(|item| item.shape.ends().0)
            .collect();
        assert!(
            at.windows(2).all(|pair| pair[0].distance(pair[1]) > 15.0),
            "{at:?}"
        );
        let mut places: Vec<String> = at.iter().map(|p| format!("{p:?}")).collect();
        places.sort();
        places.dedup();
        assert_eq!(places.len(), 100);
    }

    /// A tag in the window of a frame: its hole, its outline, then the window, then the frame.
    #[test]
    fn a_part_in_an_opening_is_cut_before_it() {
        let square = |from: f64, to: f64| {
            let bounds = Bounds::new(Point::new(from, from), Point::new(to, to));
            jigless_model::geom::rectangle(bounds)
        };
        let mut drawing = LayerDrawing::default();
        drawing.path(Layer::CutOutside, &square(0.0, 100.0));
        drawing.path(Layer::CutInside, &square(10.0, 90.0).reversed());
        drawing.path(Layer::CutOutside, &square(30.0, 60.0));
        drawing.circle(Layer::CutInside, Point::new(45.0, 45.0), 5.0);
        drawing.circle(Layer::DrillThrough(4.0), Point::new(5.0, 5.0), 4.0);
        drawing.sort();
        let widths: Vec<i64> = drawing
            .items
            .iter()
            .filter_map(|item| Some(item.shape.bounds()?.width().round() as i64))
            .collect();
        assert_eq!(widths, [5, 30, 4, 80, 100]);
    }

    #[test]
    fn the_outline_is_last_and_small_openings_are_before_large_ones() {
        let mut drawing = LayerDrawing::default();
        drawing.path(Layer::CutOutside, &rectangle(Bounds::of_size(400.0, 300.0)));
        drawing.path(Layer::CutInside, &circle(Point::new(200.0, 150.0), 50.0));
        drawing.circle(Layer::DrillThrough(5.0), Point::new(20.0, 20.0), 5.0);
        let cup = Layer::DrillBlind {
            diameter: 35.0,
            depth: 12.0,
        };
        drawing.circle(cup, Point::new(40.0, 20.0), 35.0);
        drawing.path(
            Layer::Mark,
            &Path::line(Point::default(), Point::new(9.0, 9.0)),
        );
        drawing.sort();
        let layers: Vec<Layer> = drawing.items.iter().map(|item| item.layer).collect();
        assert_eq!(
            layers,
            [
                Layer::Mark,
                cup,
                Layer::DrillThrough(5.0),
                Layer::CutInside,
                Layer::CutOutside
            ]
        );
    }
}
