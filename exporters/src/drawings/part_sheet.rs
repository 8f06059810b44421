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

use super::dimensions::{Along, overall, running, running_room};
use super::part_options::PartDrawingOptions;
use super::standard_scale::reduction;
use super::title_block::{HEIGHT, ProjectionAngle, SheetWords, block, caption};
use crate::cautions;
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
    let words: Vec<String> = views.iter().flat_map(PartView::told).collect();
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
    let (mut items, one_to) = drawn(&views, most);
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

/// All views of a part at one scale, one over the other or side by side, in a box; and one to what they are.
fn drawn(views: &[PartView], most: Bounds) -> (Vec<Item>, f64) {
    let count = views.len() as f64;
    let scale_in = |cell: (f64, f64)| {
        let needed = views.iter().map(|view| view.needed(cell));
        reduction(needed.fold(0.0, f64::max))
    };
    let stacked = (most.width(), most.height() / count);
    let beside = (most.width() / count, most.height());
    let (cell, step) = if scale_in(beside) < scale_in(stacked) {
        (beside, Point::new(beside.0, 0.0))
    } else {
        (stacked, Point::new(0.0, -stacked.1))
    };
    let one_to = scale_in(cell);
    let first = Point::new(most.min.x, most.max.y - cell.1);
    let mut items = Vec::new();
    for (index, view) in views.iter().enumerate() {
        let corner = first + step * index as f64;
        let inside = Bounds::new(corner, corner + Point::new(cell.0, cell.1));
        items.extend(view.draw(inside, 1.0 / one_to));
    }
    (items, one_to)
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

/// Some faces of a part in a box of some millimetres: as near to each other as their dimensions let them, at the largest
/// scale of the series at which they have room.
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
    let mut one_to = reduction(1.0);
    let (extents, beside) = loop {
        let extents: Vec<(f64, f64)> = views.iter().map(|view| view.extent(1.0 / one_to)).collect();
        let sum = |of: fn(&(f64, f64)) -> f64| extents.iter().map(of).sum::<f64>();
        let most = |of: fn(&(f64, f64)) -> f64| extents.iter().map(of).fold(0.0, f64::max);
        let beside = sum(|e| e.0) <= room.0 && most(|e| e.1) <= room.1;
        let stacked = most(|e| e.0) <= room.0 && sum(|e| e.1) <= room.1;
        // Dimensions do not shrink: at some scale a face is as good as nothing, and stays as it is.
        if beside || stacked || one_to >= SMALLEST {
            break (extents, beside);
        }
        one_to = reduction(one_to * 1.01);
    };
    let mut corner = Point::default();
    let mut items = Vec::new();
    for (view, (width, height)) in views.iter().zip(extents) {
        if !beside {
            corner.y -= height;
        }
        let inside = Bounds::new(corner, corner + Point::new(width, height));
        let lift = Point::new(0.0, if beside { -height } else { 0.0 });
        let drawn = view.draw(inside, 1.0 / one_to);
        items.extend(drawn.iter().map(|item| item.moved(lift)));
        if beside {
            corner.x += width;
        }
    }
    PartPicture {
        items,
        one_to,
        words: views.iter().flat_map(PartView::told).collect(),
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

    /// Room that dimensions take to the left and below, in millimetres.
    fn beside(&self) -> (f64, f64) {
        let row = |index: usize| {
            let places = self.ordinates[index]
                .iter()
                .map(|mm| (*mm, *mm))
                .collect::<Vec<_>>();
            if places.is_empty() {
                0.0
            } else {
                FIRST_ROW + running_room(&places, self.lengths)
            }
        };
        let both = |low: usize, size: f64| {
            if self.shares_a_row(low, size) {
                row(low).max(row(low + 1))
            } else {
                row(low) + row(low + 1)
            }
        };
        let last = FIRST_ROW + 5.0;
        (
            both(2, self.view.height) + last,
            both(0, self.view.width) + last,
        )
    }

    /// Whether the ordinates from either end of an axis keep clear of each other in one row.
    fn shares_a_row(&self, low: usize, size: f64) -> bool {
        let longest = |row: usize| self.ordinates[row].last().copied().unwrap_or(0.0);
        longest(low) + longest(low + 1) < 0.85 * size
    }

    /// Width and height of the face at a scale with its dimensions, in millimetres.
    fn extent(&self, scale: f64) -> (f64, f64) {
        let (left, below) = self.beside();
        (
            left + self.view.width * scale + 8.0,
            below + self.view.height * scale + 12.0,
        )
    }

    /// How many times too large the face is for some room.
    fn needed(&self, room: (f64, f64)) -> f64 {
        let (left, below) = self.beside();
        let free = (
            (room.0 - left - 8.0).max(20.0),
            (room.1 - below - 12.0).max(20.0),
        );
        (self.view.width / free.0).max(self.view.height / free.1)
    }

    /// The face at a scale with its dimensions, in a box.
    fn draw(&self, inside: Bounds, scale: f64) -> Vec<Item> {
        let (left, below) = self.beside();
        let size = Point::new(self.view.width, self.view.height) * scale;
        let free = Point::new(
            (inside.width() - left - size.x - 8.0).max(0.0),
            (inside.height() - below - size.y - 10.0).max(0.0),
        );
        let corner = inside.min + Point::new(left + free.x / 2.0, below + free.y);
        let on = Bounds::new(corner, corner + size);
        let mut items: Vec<Item> = self
            .drawing
            .items
            .iter()
            .filter_map(|item| scaled(item, scale, corner))
            .collect();
        let mut layout = LabelLayout::new(on.grown(6.0), &items);
        for request in self.labels(scale, corner) {
            items.extend(layout.place(&request).into_iter().flatten());
        }
        items.extend(self.dimensions(on, scale));
        let part = &self.view.workpiece.part;
        let face = self.words().face(self.view.face);
        let name = match part.face_label(self.view.face) {
            Some(label) => format!("{face}: {label}"),
            None => face.to_owned(),
        };
        items.push(caption(Point::new(on.centre().x, on.max.y + 4.0), &name));
        items
    }

    /// All rows of dimensions about the face, which is drawn at a scale in a box.
    fn dimensions(&self, on: Bounds, scale: f64) -> Vec<Item> {
        let mut items = Vec::new();
        let (view, lengths) = (&self.view, self.lengths);
        for (along, low, size, ends) in [
            (Along::Across, 0, view.width, [on.min.x, on.max.x]),
            (Along::Upward, 2, view.height, [on.min.y, on.max.y]),
        ] {
            let first = self.row(&mut items, along, on, low, (ends[0], scale), FIRST_ROW);
            let second = if self.shares_a_row(low, size) {
                FIRST_ROW
            } else {
                first
            };
            let after = self.row(&mut items, along, on, low + 1, (ends[1], -scale), second);
            items.extend(overall(along, on, size, first.max(after), lengths));
        }
        items
    }

    /// A row of ordinates; gives where the next one goes.
    fn row(
        &self,
        items: &mut Vec<Item>,
        along: Along,
        view: Bounds,
        index: usize,
        (origin, way): (f64, f64),
        away: f64,
    ) -> f64 {
        let mut places: Vec<(f64, f64)> = self.ordinates[index]
            .iter()
            .map(|mm| (origin + mm * way, *mm))
            .collect();
        if places.is_empty() {
            return away;
        }
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        items.extend(running(along, view, origin, &places, away, self.lengths));
        away + running_room(&places, self.lengths) + FIRST_ROW
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
        if self.drawing.holes.len() <= MOST_NAMES {
            labels.extend(self.drawing.holes.iter().map(|hole| {
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

    /// Holes and areas in words, those that are alike together.
    fn told(&self) -> Vec<String> {
        let words = self.words();
        let face = words.bare_face(self.view.face);
        let mut alike: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for hole in &self.drawing.holes {
            alike.entry(&hole.what).or_default().push(&hole.id);
        }
        let mut told: Vec<String> = alike
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
            told.push(said(words.equal_steps, &[face]));
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
                told.push(said(words.area, &[face, &area.id, kind, &size, &depth]));
            }
        }
        for operation in &self.view.edge_work {
            if let (Work::Bevel(bevel), Face::Front) = (&operation.work, self.view.face) {
                let angle = self.lengths.degrees(bevel.angle.abs());
                let setback = bevel.setback(self.view.workpiece.part.thickness());
                let setback = self.lengths.bare(setback);
                told.push(said(
                    words.bevel,
                    &[words.edge(bevel.edge), &angle, &setback],
                ));
            }
        }
        told
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
