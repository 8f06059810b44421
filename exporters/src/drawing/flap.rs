//! An edge of a part unfolded into the plane of a face, as a flap of paper shows it before it is folded over.
//!
//! Beyond the edge of the view the distance from the edge is the distance from the face that is drawn.

use jigless_model::geom::{Bounds, Point, circle};
use jigless_model::operation::{AngledBore, EdgeDrill, Work};
use jigless_model::side::{Edge, Face};
use jigless_model::view::FaceView;

use super::item::{Ellipse, Item, ItemShape, Role};
use super::label::{LabelRequest, LabelTarget};
use super::mark::{ARM, cross};
use super::measure::Lengths;
use super::style::{Inks, Pen};
use super::text::Block;
use crate::view_edge;

/// What lies on one edge, in view coordinates of the face beside it.
#[derive(Debug, Default)]
pub(crate) struct Flap {
    /// Marks.
    pub(crate) items: Vec<Item>,
    /// Their labels.
    pub(crate) requests: Vec<LabelRequest>,
    /// How far the marks reach out from the edge, in millimetres.
    pub(crate) reach: f64,
}

/// Unfolds an edge (a side of the view).
pub(crate) fn unfold(view: &FaceView, edge: Edge, inks: Inks, lengths: Lengths) -> Flap {
    let mut flap = Flap::default();
    for operation in view.edge_work.iter().chain(&view.operations) {
        match &operation.work {
            Work::EdgeDrill(hole) if hole.edge == edge => {
                flap.edge_hole(view, hole, inks, lengths);
            }
            Work::AngledBore(bore) if bore.edge == edge => {
                flap.bore_exit(view, bore, inks, lengths);
            }
            _ => {}
        }
    }
    flap
}

impl Flap {
    fn edge_hole(&mut self, view: &FaceView, hole: &EdgeDrill, inks: Inks, lengths: Lengths) {
        let depth = match view.face {
            Face::Front => hole.from_front,
            Face::Back => view.workpiece.part.thickness() - hole.from_front,
        };
        let (at, out) = view_edge::outward(view, hole.edge, hole.along);
        let (centre, radius) = (at + out * depth, hole.diameter / 2.0);
        self.items.push(Item::stroke(
            Role::HandWork,
            circle(centre, radius),
            Pen::THIN,
        ));
        self.items
            .extend(cross(Role::HandWork, centre, radius + ARM));
        self.reach = self.reach.max(depth + radius + ARM);
        let size = format!(
            "{} Ø{}, {} deep",
            hole.id,
            lengths.bare(hole.diameter),
            lengths.depth(hole.depth)
        );
        self.label(centre, radius, &size, &hole.id, inks);
    }

    /// Where the pilot of a pocket leaves the edge: an ellipse, longer across the edge, since the axis is tilted that way.
    fn bore_exit(&mut self, view: &FaceView, bore: &AngledBore, inks: Inks, lengths: Lengths) {
        let along = if bore.edge.is_upright() {
            bore.exit.y
        } else {
            bore.exit.x
        };
        let (at, out) = view_edge::outward(view, bore.edge, along);
        let centre = at + out * bore.exit_depth;
        let ellipse = Ellipse {
            centre,
            half_length: bore.pilot / 2.0 / bore.angle.cos(),
            half_width: bore.pilot / 2.0,
            angle: out.angle(),
        };
        self.items.push(Item {
            role: Role::HandWork,
            shape: ItemShape::Ellipse(ellipse, Pen::THIN),
        });
        self.items
            .extend(cross(Role::HandWork, centre, ellipse.half_length + ARM));
        self.reach = self.reach.max(bore.exit_depth + ellipse.half_length + ARM);
        let size = format!("{} exit Ø{}", bore.id, lengths.bare(bore.pilot));
        self.label(centre, ellipse.half_length, &size, &bore.id, inks);
    }

    fn label(&mut self, centre: Point, radius: f64, full: &str, id: &str, inks: Inks) {
        self.requests.push(LabelRequest::new(
            Role::Label,
            LabelTarget::Round(centre, radius),
            vec![
                Block::label([full]).inked(inks.hand_work),
                Block::label([id]).inked(inks.hand_work),
            ],
        ));
    }
}

/// The box of a flap: `depth` out from the edge, from one place along it to another.
pub(crate) fn strip(view: &FaceView, edge: Edge, along: (f64, f64), depth: f64) -> Bounds {
    let (from, out) = view_edge::outward(view, edge, along.0);
    let (to, _) = view_edge::outward(view, edge, along.1);
    Bounds::new(from, to + out * depth)
}
