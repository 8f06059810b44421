//! A face under the machine as a picture: the parts with their marks, the work with the numbers of its operations, zero,
//! the strip for clamps, grain and pins.

use jigless_model::geom::{Bounds, Path, Point, circle};
use jigless_model::mark::Marks;

use super::face_work::FaceWork;
use super::jobs::{Cut, Job, Phase};
use super::operation::Operation;
use super::options::NgcRouterOptions;
use crate::drawing::label::{LabelRequest, LabelTarget};
use crate::drawing::label_layout::LabelLayout;
use crate::drawing::text::Block;
use crate::drawing::{Anchor, Dash, Ink, Inks, Item, Pen, Role, TextLine, Tint, Turn};
use crate::machine::tool::ToolKind;

/// Around the sheet on the paper, in millimetres: room for zero and its axes on the left and below.
const AROUND: f64 = 10.0;
/// Length of the arrows at zero, in millimetres.
const AXIS: f64 = 14.0;
/// The smallest type, in millimetres: 7 pt.
const SMALLEST: f64 = 2.48;
/// Size of the marks of parts, in millimetres.
const MARK: f64 = 4.5;

/// A picture in its room on the paper.
pub(super) struct JobPicture {
    pub(super) items: Vec<Item>,
    /// One over this is the scale.
    pub(super) scale: f64,
    /// Operations whose numbers found no room.
    pub(super) unplaced: Vec<usize>,
    /// Where the picture ends below, in millimetres on the paper.
    pub(super) bottom: f64,
}

/// From the face to the paper.
struct Frame {
    /// Where zero lies on the paper.
    zero: Point,
    /// Millimetres on the paper for one of the face.
    share: f64,
}

impl Frame {
    fn point(&self, on_face: Point) -> Point {
        self.zero + on_face * self.share
    }

    fn bounds(&self, on_face: Bounds) -> Bounds {
        Bounds::new(self.point(on_face.min), self.point(on_face.max))
    }

    fn path(&self, on_face: &Path) -> Path {
        let mut path = on_face.clone();
        for vertex in &mut path.vertices {
            vertex.point = self.point(vertex.point);
        }
        path
    }
}

/// Draws a face into a room, at its top, as large as a whole scale lets it.
pub(super) fn draw(
    work: &FaceWork,
    operations: &[Operation],
    options: &NgcRouterOptions,
    marks: &Marks,
    room: Bounds,
) -> JobPicture {
    let (width, height) = (work.own.width(), work.own.height());
    let across = width / (room.width() - 2.0 * AROUND).max(1.0);
    let upward = height / (room.height() - 2.0 * AROUND).max(1.0);
    let scale = (across.max(upward) * 2.0).ceil().max(2.0) / 2.0;
    let share = 1.0 / scale;
    let bottom = room.max.y - height * share - 2.0 * AROUND;
    let left = room.min.x + AROUND + (room.width() - 2.0 * AROUND - width * share) / 2.0;
    let frame = Frame {
        zero: Point::new(left, bottom + AROUND) - work.own.min * share,
        share,
    };
    let mut items = sheet(work, options, &frame);
    for part in &work.parts {
        let contours = part.contours.iter();
        items.extend(contours.map(|path| Item::stroke(Role::Contour, frame.path(path), Pen::BOLD)));
    }
    for operation in operations {
        for job in operation.jobs {
            items.extend(job_items(job, options, &frame));
        }
    }
    items.extend(zero(&frame, work.own.min));
    let mut labels = LabelLayout::new(
        Bounds::new(Point::new(room.min.x, bottom), room.max),
        &items,
    );
    items.extend(grain(work, &frame, &mut labels));
    let mut unplaced = Vec::new();
    let all: Vec<&Job> = operations
        .iter()
        .flat_map(|operation| operation.jobs)
        .collect();
    for operation in operations {
        let mut shown = false;
        for part in operation.jobs.chunk_by(|a, b| a.owner() == b.owner()) {
            let placed = part.iter().find_map(|job| {
                let request = number_of(operation.number, job, &all, options, &frame);
                labels.place(&request)
            });
            shown |= placed.is_some();
            items.extend(placed.into_iter().flatten());
        }
        if !shown {
            unplaced.push(operation.number);
        }
    }
    for part in &work.parts {
        let boxes = part.contours.iter().filter_map(Path::bounds);
        let Some(outer) = boxes.reduce(Bounds::union) else {
            continue;
        };
        let target = LabelTarget::Box(frame.bounds(outer));
        let blocks = [MARK, SMALLEST].map(|size| Block {
            size,
            ..Block::label([marks.mark(&part.id)])
        });
        let request = LabelRequest::new(Role::Note, target, blocks.to_vec());
        items.extend(labels.place(&request).into_iter().flatten());
    }
    JobPicture {
        items,
        scale,
        unplaced,
        bottom,
    }
}

/// The sheet itself, and where clamps may stand.
fn sheet(work: &FaceWork, options: &NgcRouterOptions, frame: &Frame) -> Vec<Item> {
    let border = |bounds: Bounds| jigless_model::geom::rectangle(frame.bounds(bounds));
    if work.turned.is_none() {
        return Vec::new();
    }
    let mut items = vec![Item::stroke(Role::Outline, border(work.own), Pen::BOLD)];
    let clamp = options.router.clamp;
    if clamp > 0.0 {
        let pen = Pen::THIN.dashed(Dash::Hidden);
        items.push(Item::stroke(
            Role::Hidden,
            border(work.own.grown(-clamp)),
            pen,
        ));
    }
    items
}

/// What one job cuts.
fn job_items(job: &Job, options: &NgcRouterOptions, frame: &Frame) -> Vec<Item> {
    match &job.cut {
        Cut::Down(at) => {
            let radius = radius_at_face(job, options) * frame.share;
            let pen = if job.phase == Phase::Register {
                Pen::BOLD
            } else {
                Pen::THIN
            };
            vec![Item::stroke(
                Role::Hole,
                circle(frame.point(*at), radius.max(0.3)),
                pen,
            )]
        }
        Cut::Clear { border, .. } => {
            let path = frame.path(border);
            let ink = Inks::from(Tint::Grey).area;
            vec![
                Item::fill(Role::Area, path.clone(), ink),
                Item::stroke(Role::Area, path, Pen::THIN),
            ]
        }
        // The outlines of the parts are there already.
        Cut::Follow { tabs, .. } => {
            let tick = |at: &Point| {
                let at = frame.point(*at);
                Item::stroke(Role::Mark, circle(at, 0.8), Pen::THIN)
            };
            tabs.iter().map(|(at, _)| tick(at)).collect()
        }
    }
}

/// The radius that a job straight down leaves at the face, in millimetres.
fn radius_at_face(job: &Job, options: &NgcRouterOptions) -> f64 {
    let tool = &options.router.tools[job.tool];
    match (tool.kind, tool.angle) {
        (ToolKind::Countersink, Some(angle)) => job.depth * (angle / 2.0).to_radians().tan(),
        _ => tool.diameter / 2.0,
    }
}

/// The number of an operation at one of its jobs.
fn number_of(
    number: usize,
    job: &Job,
    all: &[&Job],
    options: &NgcRouterOptions,
    frame: &Frame,
) -> LabelRequest {
    let target = match &job.cut {
        Cut::Down(at) => {
            // Whatever else is done at the same centre is drawn around it, too.
            let here = all.iter().filter(|other| match &other.cut {
                Cut::Down(other) => other.distance(*at) < 1e-6,
                Cut::Clear { .. } | Cut::Follow { .. } => false,
            });
            let radii = here.map(|other| radius_at_face(other, options));
            let radius = radii.fold(0.0, f64::max) * frame.share;
            LabelTarget::Round(frame.point(*at), radius.max(0.3))
        }
        Cut::Clear { .. } => LabelTarget::Box(frame.bounds(job.bounds())),
        Cut::Follow { contour, .. } => {
            let longest = contour
                .segments()
                .max_by(|a, b| a.length().total_cmp(&b.length()));
            longest.map_or(LabelTarget::Box(frame.bounds(job.bounds())), |segment| {
                LabelTarget::Edge(frame.point(segment.from()), frame.point(segment.to()))
            })
        }
    };
    let words = format!("({number})");
    let blocks = vec![Block {
        size: SMALLEST,
        ..Block::label([words.as_str()])
    }];
    LabelRequest::new(Role::Label, target, blocks)
}

/// Zero of the program with its axes.
fn zero(frame: &Frame, own: Point) -> Vec<Item> {
    let at = frame.point(own);
    let pen = Pen::BOLD;
    let mut items = vec![Item::stroke(Role::Mark, circle(at, 1.6), pen)];
    let corner = at + Point::new(-5.0, -5.0);
    // The names stand beyond the heads: right of the one, above the other.
    for (way, side, name, off) in [
        (
            Point::new(1.0, 0.0),
            Point::new(0.0, 1.0),
            "X",
            Point::new(1.2, -0.9),
        ),
        (
            Point::new(0.0, 1.0),
            Point::new(1.0, 0.0),
            "Y",
            Point::new(-0.8, 1.2),
        ),
    ] {
        let end = corner + way * AXIS;
        items.push(Item::line(Role::Mark, corner, end, pen));
        for wing in [1.0, -1.0] {
            let back = end - way * 2.2 + side * wing;
            items.push(Item::line(Role::Mark, back, end, pen));
        }
        let words = TextLine::new(end + off, SMALLEST, name).bold();
        items.push(Item::text(Role::Note, words));
    }
    let words = TextLine::new(corner - Point::new(0.8, 1.0), SMALLEST, "0").bold();
    items.push(Item::text(Role::Note, words.anchored(Anchor::End)));
    items
}

/// The arrow along the grain of a sheet.
fn grain(work: &FaceWork, frame: &Frame, labels: &mut LabelLayout) -> Vec<Item> {
    let Some(turned) = work.turned else {
        return Vec::new();
    };
    let own = frame.bounds(work.own);
    let request = LabelRequest {
        arrow: Some(if turned { Turn::Level } else { Turn::Up }),
        ..LabelRequest::new(
            Role::Note,
            LabelTarget::Near(own.centre()),
            vec![Block::label(["GRAIN"]).inked(Ink::GREY)],
        )
    };
    labels.place(&request).unwrap_or_default()
}
