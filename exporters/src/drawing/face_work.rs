//! The work of a face, drawn operation by operation: contours, areas and marks, and the labels that want room.

use jigless_model::geom::{Bounds, Path, Point, Region, circle};
use jigless_model::operation::{
    AngledBore, AreaKind, Bevel, ContourSide, CutContour, Depth, Drill, EdgeDrill, MillArea, Mouth,
    Operation, Work,
};
use jigless_model::side::{Edge, Face};
use jigless_model::view::FaceView;
use jigless_words::{DrawingWords, said};

use super::item::{Ellipse, Item, ItemShape, Role};
use super::label::{LabelRequest, LabelTarget};
use super::mark::{ARM, OPEN, cross};
use super::measure::Lengths;
use super::style::{Dash, Ink, Inks, Pen};
use super::text::Block;
use crate::view_edge;

/// How far the mark of an edge hole reaches out over the edge, in millimetres: enough to see when it is folded.
const OVER_EDGE: f64 = 5.0;

/// A hole or bore as a line of a list.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct HoleEntry {
    /// Its short name.
    pub(crate) id: String,
    /// What is drilled, in words.
    pub(crate) what: String,
    /// Where, in view coordinates.
    pub(crate) centre: Point,
}

/// Draws one operation after the other.
pub(super) struct FaceWork<'a> {
    view: &'a FaceView<'a>,
    inks: Inks,
    lengths: Lengths,
    /// The material, where it is not a plain rectangle.
    region: Option<Region>,
    pub(super) items: Vec<Item>,
    pub(super) labels: Vec<LabelRequest>,
    pub(super) holes: Vec<HoleEntry>,
}

impl<'a> FaceWork<'a> {
    /// Nothing drawn yet.
    pub(super) fn new(view: &'a FaceView<'a>, inks: Inks, lengths: Lengths) -> Self {
        Self {
            view,
            inks,
            lengths,
            region: region(view),
            items: Vec::new(),
            labels: Vec::new(),
            holes: Vec::new(),
        }
    }

    /// Draws an operation.
    pub(super) fn operation(&mut self, operation: &Operation) {
        let label = operation.origin.label.as_deref();
        match &operation.work {
            Work::Drill(drill) => self.drill(drill, label),
            Work::AngledBore(bore) => self.angled_bore(bore, label),
            Work::MillArea(area) => self.area(area, label),
            Work::CutContour(cut) => self.contour(cut),
            Work::Mark(mark) => {
                // A pencil line is a chain line, and never goes unnamed.
                let pen = Pen::new(0.25, Ink::BLACK).dashed(Dash::Centre);
                for path in &mark.lines {
                    self.stroke(Role::Mark, path.clone(), pen);
                }
                let bounds = mark
                    .lines
                    .iter()
                    .filter_map(Path::bounds)
                    .reduce(Bounds::union);
                match (&mark.text, bounds) {
                    (Some((at, words)), _) => self.label(
                        Role::Mark,
                        LabelTarget::Point(*at),
                        vec![Block::label([words.as_str()])],
                    ),
                    (None, Some(bounds)) => {
                        let words = label.unwrap_or("pencil line");
                        self.label(
                            Role::Note,
                            LabelTarget::Box(bounds),
                            vec![Block::label([words])],
                        );
                    }
                    (None, None) => {}
                }
            }
            Work::EdgeDrill(hole) => self.edge_drill(hole, label),
            Work::Bevel(bevel) => self.bevel(*bevel, label),
        }
    }

    fn words(&self) -> &'static DrawingWords {
        &self.lengths.words.drawing
    }

    /// `12 deep`.
    fn deep(&self, depth: f64) -> String {
        said(self.words().deep, &[&self.lengths.depth(depth)])
    }

    fn stroke(&mut self, role: Role, path: Path, pen: Pen) {
        self.items.push(Item::stroke(role, path, pen));
    }

    fn line(&mut self, role: Role, from: Point, to: Point, pen: Pen) {
        self.items.push(Item::line(role, from, to, pen));
    }

    fn label(&mut self, role: Role, target: LabelTarget, blocks: Vec<Block>) {
        self.labels.push(LabelRequest::new(role, target, blocks));
    }

    fn drill(&mut self, drill: &Drill, label: Option<&str>) {
        let from_here = drill.face == self.view.face;
        let mut widest = drill.diameter / 2.0;
        self.circle(drill.centre, widest, from_here);
        let mouth = drill.mouth.filter(|_| from_here);
        if let Some(mouth) = mouth {
            widest = widest.max(mouth.diameter() / 2.0);
            self.circle(drill.centre, mouth.diameter() / 2.0, true);
        }
        self.items
            .extend(cross(Role::Hole, drill.centre, widest + ARM));

        let size = format!("{} Ø{}", drill.id, self.lengths.bare(drill.diameter));
        let depth = match drill.depth {
            Depth::Through => self.words().through.to_owned(),
            Depth::Blind(depth) => self.deep(depth),
        };
        let mouth = mouth
            .map(|mouth| self.mouth_words(mouth))
            .unwrap_or_default();
        let face = if from_here {
            format!("{size} {}", drill.face.name())
        } else {
            format!("{size} from {}", drill.face.name())
        };
        let own = label.unwrap_or_default();
        self.label(
            Role::Label,
            LabelTarget::Round(drill.centre, widest),
            vec![
                Block::label([face.as_str(), &depth, &mouth, own]),
                Block::label([size.as_str(), &depth, &mouth]),
                Block::label([drill.id.as_str()]),
            ],
        );
        if from_here {
            let what = format!("Ø{}, {depth}", self.lengths.bare(drill.diameter));
            self.holes.push(HoleEntry {
                id: drill.id.clone(),
                what: [what, mouth].join(" ").trim_end().to_owned(),
                centre: drill.centre,
            });
        }
    }

    fn mouth_words(&self, mouth: Mouth) -> String {
        let diameter = self.lengths.bare(mouth.diameter());
        match mouth {
            Mouth::Countersink { angle, .. } => {
                let angle = self.lengths.degrees(angle);
                said(self.words().countersink, &[&diameter, &angle])
            }
            Mouth::Counterbore { depth, .. } => {
                let depth = self.lengths.depth(depth);
                said(self.words().counterbore, &[&diameter, &depth])
            }
        }
    }

    fn circle(&mut self, centre: Point, radius: f64, solid: bool) {
        let pen = if solid {
            Pen::THIN
        } else {
            Pen::THIN.dashed(Dash::Hidden)
        };
        self.stroke(Role::Hole, circle(centre, radius), pen);
    }

    fn angled_bore(&mut self, bore: &AngledBore, label: Option<&str>) {
        let ink = self.inks.hand_work;
        let way = (bore.exit - bore.entry).unit();
        let half_length = bore.mouth_half_length();
        let ellipse = Ellipse {
            centre: bore.entry,
            half_length,
            half_width: bore.diameter / 2.0,
            angle: way.angle(),
        };
        self.items.push(Item {
            role: Role::HandWork,
            shape: ItemShape::Ellipse(ellipse, Pen::THIN),
        });
        // Along the axis the mark runs to where the bore leaves the edge, and over it.
        for (way, reach) in [
            (way, bore.entry.distance(bore.exit) + OVER_EDGE),
            (way * -1.0, half_length + ARM),
            (way.left(), bore.diameter / 2.0 + ARM),
            (way.left() * -1.0, bore.diameter / 2.0 + ARM),
        ] {
            self.line(
                Role::HandWork,
                bore.entry + way * (OPEN / 2.0),
                bore.entry + way * reach,
                Pen::HAIR,
            );
        }
        let size = format!("{} Ø{}", bore.id, self.lengths.bare(bore.diameter));
        let words = self.words();
        let degrees = self.lengths.degrees(bore.angle);
        let angle = said(words.at_angle, &[&degrees]);
        let short = format!("{size} at {degrees}");
        let edge = words.at_edge(self.view.physical(bore.edge));
        let toward = said(words.toward, &[edge]);
        let pilot = said(words.pilot, &[&self.lengths.bare(bore.pilot)]);
        let own = label.unwrap_or_default();
        self.label(
            Role::Label,
            LabelTarget::Box(ellipse.bounds()),
            vec![
                Block::label([size.as_str(), &angle, &toward, &pilot, own]).inked(ink),
                Block::label([short.as_str(), &pilot]).inked(ink),
                Block::label([bore.id.as_str()]).inked(ink),
            ],
        );
        self.holes.push(HoleEntry {
            id: bore.id.clone(),
            what: format!(
                "Ø{} {angle}, {toward}, {pilot}",
                self.lengths.bare(bore.diameter)
            ),
            centre: bore.entry,
        });
    }

    fn area(&mut self, area: &MillArea, label: Option<&str>) {
        let ink = self.inks.area_words;
        // Nothing is milled where the contour has taken the wood away.
        let pieces = match &self.region {
            Some(region) => region.covered(&area.outline),
            None => vec![area.outline.clone()],
        };
        for piece in pieces {
            self.items
                .push(Item::fill(Role::Area, piece.clone(), self.inks.area));
            self.stroke(Role::Area, piece, Pen::THIN);
        }
        let Some(bounds) = area.outline.bounds() else {
            return;
        };
        let depth = self.deep(area.depth);
        let name = format!("{} {}", area.id, area.kind.name());
        let size = self.area_size(area, bounds);
        let own = label.unwrap_or_default();
        let one_line = [name.as_str(), &size, &depth, own]
            .into_iter()
            .filter(|words| !words.is_empty())
            .collect::<Vec<_>>()
            .join(", ");
        let short = format!("{} {depth}", area.id);
        self.label(
            Role::Label,
            LabelTarget::Box(bounds),
            vec![
                Block::label([one_line.as_str()]).inked(ink),
                Block::label([name.as_str(), &size, &depth, own]).inked(ink),
                Block::label([short.as_str()]).inked(ink),
                Block::label([area.id.as_str()]).inked(ink),
            ],
        );
    }

    /// The size of an area in words, where a few words can say it.
    fn area_size(&self, area: &MillArea, bounds: Bounds) -> String {
        let (width, height) = (bounds.width(), bounds.height());
        if let Some((_, radius)) = area.outline.as_circle() {
            return format!("Ø{}", self.lengths.bare(2.0 * radius));
        }
        if (area.outline.area().abs() - width * height).abs() > 1e-6 {
            return String::new();
        }
        match area.kind {
            AreaKind::Groove | AreaKind::Rebate => {
                format!("{} wide", self.lengths.bare(width.min(height)))
            }
            AreaKind::Recess => {
                format!(
                    "{} × {}",
                    self.lengths.bare(width),
                    self.lengths.bare(height)
                )
            }
        }
    }

    /// Draws a contour.
    pub(super) fn contour(&mut self, cut: &CutContour) {
        self.stroke(Role::Contour, cut.path.clone(), Pen::BOLD);
        if let (ContourSide::Inner, Some(bounds)) = (cut.side, cut.path.bounds()) {
            self.label(
                Role::Label,
                LabelTarget::Box(bounds),
                vec![Block::label(["cut out"])],
            );
        }
    }

    fn edge_drill(&mut self, hole: &EdgeDrill, label: Option<&str>) {
        let ink = self.inks.hand_work;
        let (at, out) = view_edge::outward(self.view, hole.edge, hole.along);
        let inward = -out;
        let across = inward.left() * (hole.diameter / 2.0);
        let bottom = at + inward * hole.depth;
        let axis = Pen::HAIR;
        self.line(Role::HandWork, at - inward * OVER_EDGE, at, axis);
        self.line(
            Role::HandWork,
            at,
            bottom + inward * 2.0,
            axis.dashed(Dash::Centre),
        );
        let bore = [at + across, bottom + across, bottom - across, at - across];
        self.stroke(
            Role::HandWork,
            Path::of_points(bore, false),
            Pen::THIN.dashed(Dash::Hidden),
        );
        let size = format!("{} Ø{}", hole.id, self.lengths.bare(hole.diameter));
        let depth = self.deep(hole.depth);
        let words = self.words();
        let edge = words.edge(self.view.physical(hole.edge));
        let edge = said(words.into, &[edge]);
        let from = said(words.from_front, &[&self.lengths.bare(hole.from_front)]);
        let own = label.unwrap_or_default();
        self.label(
            Role::Label,
            LabelTarget::Box(Bounds::new(at + across, bottom - across)),
            vec![
                Block::label([format!("{size}, {depth}").as_str(), &edge, &from, own]).inked(ink),
                Block::label([size.as_str(), &depth, &from]).inked(ink),
                Block::label([hole.id.as_str()]).inked(ink),
            ],
        );
        self.holes.push(HoleEntry {
            id: hole.id.clone(),
            what: format!(
                "Ø{}, {depth}, {edge}, {from}",
                self.lengths.bare(hole.diameter)
            ),
            centre: at,
        });
    }

    fn bevel(&mut self, bevel: Bevel, label: Option<&str>) {
        let setback = bevel.setback(self.view.workpiece.part.thickness());
        let loses = if bevel.angle > 0.0 {
            Face::Back
        } else {
            Face::Front
        };
        let pen = if loses == self.view.face {
            Pen::THIN
        } else {
            Pen::THIN.dashed(Dash::Hidden)
        };
        let length = view_edge::length(self.view, bevel.edge);
        let line = [0.0, length].map(|along| {
            let (at, out) = view_edge::outward(self.view, bevel.edge, along);
            at - out * setback
        });
        self.line(Role::HandWork, line[0], line[1], pen);
        let words = format!(
            "bevel {} off square, {} face loses {}",
            self.lengths.degrees(bevel.angle.abs()),
            loses.name(),
            self.lengths.bare(setback)
        );
        let (from, to) = self.edge_ends(bevel.edge);
        self.label(
            Role::HandWork,
            LabelTarget::Edge(from, to),
            vec![
                Block::label([words.as_str(), label.unwrap_or_default()])
                    .inked(self.inks.hand_work),
            ],
        );
    }

    /// The ends of an edge, so that the part lies on the left-hand side of the way.
    fn edge_ends(&self, edge: Edge) -> (Point, Point) {
        let at = |along: f64| view_edge::outward(self.view, edge, along).0;
        let length = view_edge::length(self.view, edge);
        match edge {
            Edge::Bottom | Edge::Right => (at(0.0), at(length)),
            Edge::Top | Edge::Left => (at(length), at(0.0)),
        }
    }
}

/// The material as seen from here; `None` for a plain rectangle, which holds every area that is milled into it.
fn region(view: &FaceView) -> Option<Region> {
    let outer = view
        .contours
        .iter()
        .find(|cut| cut.side == ContourSide::Outer)?;
    let inner: Vec<Path> = view
        .contours
        .iter()
        .filter(|cut| cut.side == ContourSide::Inner)
        .map(|cut| cut.path.clone())
        .collect();
    let face = view.width * view.height;
    let plain = inner.is_empty() && (outer.path.area().abs() - face).abs() < 1e-6;
    (!plain).then(|| Region {
        inner,
        ..Region::new(&outer.path)
    })
}
