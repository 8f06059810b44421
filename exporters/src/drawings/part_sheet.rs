//! A reduced drawing of one part: its faces with ordinates from the edges that templates hook on (ISO 129-1), radii, and
//! every hole and area in words, on one sheet with a title block (ISO 7200).

use std::collections::BTreeMap;

use jigless_model::caution::{Medium, called_for};
use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Path, Point, Segment, Vertex};
use jigless_model::operation::Work;
use jigless_model::side::{Edge, Face};
use jigless_model::units::Unit;
use jigless_model::view::FaceView;
use jigless_model::workpiece::Workpiece;
use jigless_words::{DrawingWords, said};

use super::dimensions::{RowAt, figures_at, overall, running, running_room};
use super::part_options::PartDrawingOptions;
use super::standard_scale::first_that_fits;
use super::title_block::{HEIGHT, ProjectionAngle, SheetWords, block, caption};
use crate::cautions;
use crate::drawing::face_work::HoleEntry;
use crate::drawing::label::{LabelRequest, LabelTarget};
use crate::drawing::label_layout::LabelLayout;
use crate::drawing::measure::Lengths;
use crate::drawing::text::Block;
use crate::drawing::{Ellipse, Item, ItemShape, Role, TextLine, face};
use crate::pdf::{PageFormat, PaperSheet};
use crate::view_edge;

/// Size of words, in millimetres: 7.5 pt.
const WORDS: f64 = 2.65;
/// From one line of words to the next, in millimetres.
const STEP: f64 = 3.6;
/// From a view to its first row of dimensions, and from row to row, in millimetres.
const FIRST_ROW: f64 = 6.0;
/// Room for the line of the whole length, beyond rows of ordinates, in millimetres.
const OVERALL: f64 = FIRST_ROW + 5.0;
/// Where the rows of ordinates lie: those from the left, the right, the bottom and the top edge.
const ROWS: [RowAt; 4] = [RowAt::Below, RowAt::Above, RowAt::Left, RowAt::Right];
/// Marks this near to an edge are measured from it, as templates hook on it, in millimetres.
const NEAR: f64 = 120.0;
/// So many equal steps, and more, are shown by their first two places and the last.
const EQUAL: usize = 5;
/// More names of holes than these are left to the words.
const MOST_NAMES: usize = 60;

/// The sheet of a part.
pub(super) fn sheet(
    input: &ExportInput,
    workpiece: &Workpiece,
    number: (usize, usize),
    options: &PartDrawingOptions,
) -> PaperSheet {
    let format = options.format(input.plan.units);
    let lengths = Lengths::on_paper(input.plan.units, options.units, options.fractions);
    let frame = format.printable();
    let room = Bounds::new(frame.min + Point::new(0.0, HEIGHT), frame.max).grown(-5.0);
    let views = faces(workpiece, lengths);
    let words: Vec<String> = views.iter().flat_map(PartView::listed).collect();
    let columns = if words.len() > 12 { 2 } else { 1 };
    let lines = wrapped(&words, room.width() / columns as f64 - 4.0);
    let rows = lines.len().div_ceil(columns);
    let notes = STEP * rows as f64 + 3.0;
    let said = called_for(input.plan, std::slice::from_ref(workpiece), Medium::ByHand);
    let under = room.min;
    let room = Bounds::new(
        room.min + Point::new(0.0, cautions::height(&said)),
        room.max,
    );

    let most = Bounds::new(room.min + Point::new(0.0, notes), room.max);
    let Arranged {
        items: drawn,
        size,
        one_to,
    } = arranged(&views, (most.width(), most.height()));
    let top_left = Point::new(most.centre().x - size.0 / 2.0, most.max.y);
    let mut items: Vec<Item> = drawn.iter().map(|item| item.moved(top_left)).collect();
    for (index, line) in lines.iter().enumerate() {
        let at = Point::new(
            room.min.x + room.width() / columns as f64 * (index / rows.max(1)) as f64,
            room.min.y + notes - STEP * ((index % rows.max(1)) as f64 + 1.0),
        );
        items.push(Item::text(Role::Note, TextLine::new(at, WORDS, line)));
    }
    let top_left = Point::new(under.x, room.min.y);
    items.extend(cautions::lines(
        top_left,
        room.width(),
        cautions::SMALL,
        &said,
    ));
    let angle = match input.plan.units {
        Unit::Millimetre => ProjectionAngle::First,
        Unit::Inch => ProjectionAngle::Third,
    };
    let shows = format!("Part: {}", workpiece.part.title);
    let words = SheetWords {
        shows: &shows,
        scale: &format!("1:{one_to}"),
        sheet: number,
        units: &lengths.describe(),
    };
    items.extend(block(input, &options.of_block(), frame, angle, &words));
    PaperSheet {
        format,
        items,
        viewports: Vec::new(),
    }
}

/// The faces of a part that have work on them, its front in any case.
pub(crate) fn worked_faces(workpiece: &Workpiece) -> Vec<Face> {
    let shown = |face: &Face| *face == Face::Front || workpiece.has_work_on(*face);
    Face::ALL.into_iter().filter(shown).collect()
}

fn faces(workpiece: &Workpiece, lengths: Lengths) -> Vec<PartView<'_>> {
    let all = worked_faces(workpiece).into_iter();
    all.map(|face| PartView::new(workpiece, face, lengths))
        .collect()
}

/// No part is reduced more than this in a document.
const SMALLEST: f64 = 500.0;

/// A part without a page around it.
pub(crate) struct PartPicture {
    /// Its faces.
    pub(crate) items: Vec<Item>,
    /// They are drawn at one to this.
    pub(crate) one_to: f64,
    /// Holes and areas in words.
    pub(crate) words: Vec<String>,
}

/// Some faces of a part in a box of some millimetres.
pub(crate) fn picture(
    workpiece: &Workpiece,
    faces: &[Face],
    lengths: Lengths,
    room: (f64, f64),
) -> PartPicture {
    let views: Vec<PartView> = faces
        .iter()
        .map(|face| PartView::new(workpiece, *face, lengths))
        .collect();
    let Arranged { items, one_to, .. } = arranged(&views, room);
    PartPicture {
        items,
        one_to,
        words: views.iter().flat_map(PartView::listed).collect(),
    }
}

/// Views one over the other or side by side, from their upper left corner.
struct Arranged {
    items: Vec<Item>,
    /// Width and height of all of it, in millimetres.
    size: (f64, f64),
    /// They are drawn at one to this.
    one_to: f64,
}

/// The views of a part as near to each other as their dimensions let them, at the largest scale of the series at which they
/// have room.
fn arranged(views: &[PartView], room: (f64, f64)) -> Arranged {
    let fits = |size: (f64, f64)| size.0 <= room.0 && size.1 <= room.1;
    let laid_out = |one_to: f64| {
        let extents: Vec<(f64, f64)> = views.iter().map(|view| view.extent(1.0 / one_to)).collect();
        let sum = |of: fn(&(f64, f64)) -> f64| extents.iter().map(of).sum::<f64>();
        let most = |of: fn(&(f64, f64)) -> f64| extents.iter().map(of).fold(0.0, f64::max);
        let in_a_row = (sum(|e| e.0), most(|e| e.1));
        let in_a_column = (most(|e| e.0), sum(|e| e.1));
        (extents, in_a_row, in_a_column)
    };
    // Dimensions do not shrink: at some scale a face is as good as nothing, and stays as it is.
    let (one_to, (extents, in_a_row, in_a_column)) =
        first_that_fits(SMALLEST, laid_out, |(_, row, column)| {
            fits(*row) || fits(*column)
        });
    let beside = fits(in_a_row);
    let size = if beside { in_a_row } else { in_a_column };
    let mut corner = Point::default();
    let mut items = Vec::new();
    for (view, (width, height)) in views.iter().zip(extents) {
        let low = corner - Point::new(0.0, height);
        items.extend(view.draw(low, 1.0 / one_to));
        if beside {
            corner.x += width;
        } else {
            corner.y -= height;
        }
    }
    Arranged {
        items,
        size,
        one_to,
    }
}

/// The dimensions of a face at full size, in view coordinates: below it and to its left.
pub(crate) fn face_dimensions(workpiece: &Workpiece, face: Face, lengths: Lengths) -> Vec<Item> {
    let view = PartView::new(workpiece, face, lengths);
    let on = Bounds::of_size(workpiece.part.width, workpiece.part.height);
    view.dimensions(on, 1.0)
}

/// Words broken into lines of a width in millimetres.
fn wrapped(words: &[String], width: f64) -> Vec<String> {
    let scaled = width * crate::drawing::text::LABEL / WORDS;
    let lines = words.iter().flat_map(|words| {
        crate::pdf::card::wrapped_in(words, scaled, crate::drawing::Weight::Regular)
    });
    lines.collect()
}

/// A face, with what is measured on it.
struct PartView<'a> {
    view: FaceView<'a>,
    drawing: face::FaceDrawing,
    lengths: Lengths,
    /// Places along x from the left, along x from the right, along y from the bottom and along y from the top.
    ordinates: [Vec<f64>; 4],
    /// Whether some places between equal steps are not shown.
    thinned: bool,
}

impl<'a> PartView<'a> {
    fn new(workpiece: &'a Workpiece, face: Face, lengths: Lengths) -> Self {
        let view = workpiece.seen_from(face);
        let inks = crate::drawing::Tint::Grey.into();
        let drawing = face::draw(&view, inks, lengths);
        let mut found = Self {
            view,
            drawing,
            lengths,
            ordinates: Default::default(),
            thinned: false,
        };
        found.measure();
        found
    }

    /// Sorts what there is to measure by the edge that it is measured from.
    fn measure(&mut self) {
        let view = &self.view;
        let mut points: Vec<Point> = self.drawing.holes.iter().map(|hole| hole.centre).collect();
        for operation in &view.operations {
            if let Work::MillArea(area) = &operation.work {
                points.extend(area.outline.bounds().iter().flat_map(|b| [b.min, b.max]));
            }
        }
        for cut in &view.contours {
            points.extend(cut.path.vertices.iter().map(|vertex| vertex.point));
        }
        let mut ordinates: [Vec<f64>; 4] = Default::default();
        for point in points {
            for (low, high, edges) in [
                (0, 1, [Edge::Left, Edge::Right]),
                (2, 3, [Edge::Bottom, Edge::Top]),
            ] {
                let [from_low, from_high] =
                    edges.map(|edge| view_edge::distance(view, edge, point));
                if from_low < LENGTH_TOLERANCE || from_high < LENGTH_TOLERANCE {
                    continue;
                }
                let row = if from_high <= NEAR && from_high < from_low {
                    high
                } else {
                    low
                };
                let at = if row == high { from_high } else { from_low };
                ordinates[row].push(at);
            }
        }
        for row in &mut ordinates {
            row.sort_by(f64::total_cmp);
            row.dedup_by(|a, b| (*a - *b).abs() < 0.01);
            let all = row.len();
            thin_out(row);
            self.thinned |= row.len() < all;
        }
        self.ordinates = ordinates;
    }

    /// How far the row of some ordinates reaches from the view, in millimetres.
    fn reach(&self, row: usize) -> f64 {
        let places = &self.ordinates[row];
        if places.is_empty() {
            0.0
        } else {
            FIRST_ROW + running_room(places, self.lengths)
        }
    }

    /// Ordinates on paper beside a box in which the face is drawn: where they lie along the row, and what they measure.
    fn places(&self, row: usize, on: Bounds, scale: f64) -> (f64, Vec<(f64, f64)>) {
        let (origin, way) = [
            (on.min.x, scale),
            (on.max.x, -scale),
            (on.min.y, scale),
            (on.max.y, -scale),
        ][row];
        let own = self.ordinates[row].iter();
        let mut places: Vec<(f64, f64)> = own.map(|mm| (origin + mm * way, *mm)).collect();
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        (origin, places)
    }

    /// Room about the face that is drawn at a scale, in millimetres: to the left, below, to the right, above.
    fn about(&self, scale: f64) -> [f64; 4] {
        let size = Point::new(self.view.width, self.view.height) * scale;
        let on = Bounds::of_size(size.x, size.y);
        let mut room = [
            self.reach(2) + OVERALL,
            self.reach(0) + OVERALL,
            self.reach(3) + 8.0,
            self.reach(1) + 12.0,
        ];
        // Figures that crowd reach beyond the ends of the face.
        for (row, at) in ROWS.into_iter().enumerate() {
            let (origin, places) = self.places(row, on, scale);
            let along: Vec<f64> = places.iter().map(|(at, _)| *at).collect();
            let shown = figures_at(at, on, origin, &along);
            let (low, high, end) = if row < 2 {
                (0, 2, size.x)
            } else {
                (1, 3, size.y)
            };
            if let (Some(first), Some(last)) = (shown.first(), shown.last()) {
                room[low] = room[low].max(3.0 - first);
                room[high] = room[high].max(last - end + 3.0);
            }
        }
        room
    }

    /// Width and height of the face at a scale with its dimensions, in millimetres.
    fn extent(&self, scale: f64) -> (f64, f64) {
        let [left, below, right, above] = self.about(scale);
        (
            left + self.view.width * scale + right,
            below + self.view.height * scale + above,
        )
    }

    /// The face at a scale with its dimensions, all of it to the right of a point and above.
    fn draw(&self, low: Point, scale: f64) -> Vec<Item> {
        let [left, below, ..] = self.about(scale);
        let corner = low + Point::new(left, below);
        let size = Point::new(self.view.width, self.view.height) * scale;
        let on = Bounds::new(corner, corner + size);
        let mut items: Vec<Item> = self
            .drawing
            .items
            .iter()
            .filter_map(|item| scaled(item, scale, corner))
            .collect();
        items.extend(self.dimensions(on, scale));
        let mut layout = LabelLayout::new(on.grown(6.0), &items);
        for request in self.labels(scale, corner) {
            items.extend(layout.place(&request).into_iter().flatten());
        }
        let part = &self.view.workpiece.part;
        let face = self.words().face(self.view.face);
        let name = match part.face_label(self.view.face) {
            Some(label) => format!("{face}: {label}"),
            None => face.to_owned(),
        };
        let over = on.max.y + self.reach(1).max(3.0);
        items.push(caption(Point::new(on.centre().x, over + 4.0), &name));
        items
    }

    /// All rows of dimensions about the face, which is drawn at a scale in a box: from its left edge below it, from its right
    /// edge above it, from its bottom edge on the left, from its top edge on the right, so that no row crosses another.
    fn dimensions(&self, on: Bounds, scale: f64) -> Vec<Item> {
        let mut items = Vec::new();
        for (row, at) in ROWS.into_iter().enumerate() {
            let (origin, places) = self.places(row, on, scale);
            items.extend(running(at, on, origin, &places, FIRST_ROW, self.lengths));
        }
        let (width, height) = (self.view.width, self.view.height);
        for (at, row, size) in [(RowAt::Below, 0, width), (RowAt::Left, 2, height)] {
            let over = self.reach(row);
            let away = (over, over + FIRST_ROW);
            items.extend(overall(at, on, size, away, self.lengths));
        }
        items
    }

    /// Names of holes, and radii.
    fn labels(&self, scale: f64, corner: Point) -> Vec<LabelRequest> {
        let small = |words: &str| Block {
            size: WORDS,
            ..Block::label([words])
        };
        let mut labels = Vec::new();
        let mut radii: Vec<f64> = Vec::new();
        for cut in &self.view.contours {
            for segment in cut.path.segments() {
                let Segment::Arc(arc) = segment else { continue };
                let radius = arc.radius();
                // The same radius again is not said again.
                if radii.iter().any(|known| (known - radius).abs() < 0.01) {
                    continue;
                }
                radii.push(radius);
                let at = arc.point_at(0.5) * scale + corner;
                labels.push(LabelRequest::new(
                    Role::Dimension,
                    LabelTarget::Round(at, 0.3),
                    vec![small(&format!("R{}", self.lengths.bare(radius)))],
                ));
            }
        }
        let named = self.named();
        if named.len() <= MOST_NAMES {
            labels.extend(named.into_iter().map(|hole| {
                LabelRequest::new(
                    Role::Label,
                    LabelTarget::Round(hole.centre * scale + corner, 1.2),
                    vec![small(&hole.id)],
                )
            }));
        }
        labels
    }

    fn words(&self) -> &'static DrawingWords {
        &self.lengths.words.drawing
    }

    /// The holes whose names are written: of a row of like ones with equal steps only its ends.
    fn named(&self) -> Vec<&HoleEntry> {
        /// Of more holes than this nobody asks which are ends.
        const MOST: usize = 10 * MOST_NAMES;
        /// So many holes lie around one in a plain grid.
        const AROUND: usize = 8;
        let holes = &self.drawing.holes;
        if holes.len() > MOST {
            return holes.iter().collect();
        }
        let is_between = |hole: &HoleEntry| {
            let alike = holes.iter().filter(|other| other.what == hole.what);
            let off: Vec<Point> = alike
                .map(|other| other.centre - hole.centre)
                .filter(|off| off.length() > LENGTH_TOLERANCE)
                .collect();
            let Some(least) = off.iter().map(|off| off.length()).reduce(f64::min) else {
                return false;
            };
            let mut near = off.iter().filter(|off| off.length() < least + 0.01);
            let opposite = |one: &Point| off.iter().any(|two| (*one + *two).length() < 0.01);
            near.by_ref().take(AROUND).any(opposite)
        };
        holes.iter().filter(|hole| !is_between(hole)).collect()
    }

    /// Holes and areas in words, those that are alike together.
    fn listed(&self) -> Vec<String> {
        let words = self.words();
        let face = words.bare_face(self.view.face);
        let mut alike: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for hole in &self.drawing.holes {
            alike.entry(&hole.what).or_default().push(&hole.id);
        }
        let mut lines: Vec<String> = alike
            .into_iter()
            .map(|(what, ids)| {
                let names = match ids.as_slice() {
                    [first, .., last] if ids.len() > 6 => said(words.range, &[first, last]),
                    few => few.join(", "),
                };
                format!("{face}: {} × {what}: {names}", ids.len())
            })
            .collect();
        if self.thinned {
            lines.push(said(words.equal_steps, &[face]));
        }
        for operation in &self.view.operations {
            if let Work::MillArea(area) = &operation.work {
                let size = area.outline.bounds().map(|b| {
                    format!(
                        "{} × {}",
                        self.lengths.bare(b.width()),
                        self.lengths.bare(b.height())
                    )
                });
                let kind = self.lengths.words.things.area(area.kind);
                let (size, depth) = (size.unwrap_or_default(), self.lengths.depth(area.depth));
                lines.push(said(words.area, &[face, &area.id, kind, &size, &depth]));
            }
        }
        for operation in &self.view.edge_work {
            if let (Work::Bevel(bevel), Face::Front) = (&operation.work, self.view.face) {
                let angle = self.lengths.degrees(bevel.angle.abs());
                let setback = bevel.setback(self.view.workpiece.part.thickness());
                let setback = self.lengths.bare(setback);
                lines.push(said(
                    words.bevel,
                    &[words.edge(bevel.edge), &angle, &setback],
                ));
            }
        }
        lines
    }
}

/// Of equal steps one after the other only the first two places and the last are shown.
fn thin_out(row: &mut Vec<f64>) {
    let equal = |i: usize, j: usize, row: &[f64]| {
        (row[i + 1] - row[i] - (row[j + 1] - row[j])).abs() < 0.01
    };
    let mut kept = Vec::new();
    let mut from = 0;
    while from < row.len() {
        let mut to = from + 1;
        while to + 1 < row.len() && equal(from, to, row) {
            to += 1;
        }
        if to < row.len() && to - from >= EQUAL {
            kept.extend([row[from], row[from + 1]]);
            from = to;
        } else {
            kept.push(row[from]);
            from += 1;
        }
    }
    *row = kept;
}

/// An item of a face at a scale; `None` for words.
fn scaled(item: &Item, scale: f64, corner: Point) -> Option<Item> {
    let place = |point: Point| point * scale + corner;
    let path = |path: &Path| Path {
        vertices: path
            .vertices
            .iter()
            .map(|vertex| Vertex {
                point: place(vertex.point),
                bulge: vertex.bulge,
            })
            .collect(),
        closed: path.closed,
    };
    let shape = match &item.shape {
        ItemShape::Stroke(line, pen) => ItemShape::Stroke(path(line), *pen),
        ItemShape::Fill(area, ink) => ItemShape::Fill(path(area), *ink),
        ItemShape::Ellipse(ellipse, pen) => ItemShape::Ellipse(
            Ellipse {
                centre: place(ellipse.centre),
                half_length: ellipse.half_length * scale,
                half_width: ellipse.half_width * scale,
                angle: ellipse.angle,
            },
            *pen,
        ),
        ItemShape::Text(_) => return None,
    };
    Some(Item {
        role: item.role,
        shape,
    })
}

/// The page format that a sheet has; for the exporters.
pub(super) fn size_of(sheet: &PaperSheet) -> (f64, f64) {
    let PageFormat { size, .. } = sheet.format;
    size
}

#[cfg(test)]
mod tests {
    use super::thin_out;

    #[test]
    fn equal_steps_show_their_ends() {
        let mut row = vec![10.0, 37.0, 69.0, 101.0, 133.0, 165.0, 197.0, 229.0, 300.0];
        thin_out(&mut row);
        assert_eq!(row, [10.0, 37.0, 69.0, 229.0, 300.0]);
        let mut few = vec![1.0, 2.0, 3.0, 4.0];
        thin_out(&mut few);
        assert_eq!(few, [1.0, 2.0, 3.0, 4.0]);
    }
}
