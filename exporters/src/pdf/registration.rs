//! What a small template lays hold of the part with: flaps to fold over, pencil lines.

use jigless_model::geom::{Bounds, Path, Point, rectangle};
use jigless_model::side::Edge;
use jigless_model::view::FaceView;

use super::local::{Register, WorkGroup, marked_flap, straight_pieces};
use crate::drawing::Weight;
use crate::drawing::flap;
use crate::drawing::label::{LabelRequest, LabelTarget};
use crate::drawing::measure::Lengths;
use crate::drawing::text::Block;
use crate::drawing::{Dash, Ink, Inks, Item, Pen, Role};
use crate::view_edge::{self, Axis};

/// Lines that go on a pencil line.
pub(super) const PENCIL: Pen = Pen::new(0.35, Ink::BLACK).dashed(Dash::Centre);
/// A pencil line keeps this far off marks, in millimetres.
const CLEAR: f64 = 1.0;
/// The shortest piece of a pencil line that is drawn, in millimetres.
const PIECE: f64 = 4.0;

/// What is drawn, in view coordinates.
#[derive(Debug, Default)]
pub(super) struct RegistrationMarks {
    /// Lines and marks.
    pub(super) items: Vec<Item>,
    /// What is written on the flaps and along the lines, the most needed first.
    pub(super) requests: Vec<LabelRequest>,
    /// The same in words, for whoever lays the template on.
    pub(super) steps: Vec<String>,
    /// The boxes of the flaps, which are kept free of anything that is not about the edge.
    pub(super) flaps: Vec<Bounds>,
    /// The sides of the view that are folded over.
    pub(super) folded: Vec<Edge>,
}

/// Draws how a template registers. `window` is what the page shows of the face, without flaps; `marks` is what is drawn
/// in it already.
pub(super) fn draw(
    group: &WorkGroup,
    window: Bounds,
    marks: &[Item],
    inks: Inks,
    lengths: Lengths,
) -> RegistrationMarks {
    let view = &group.view;
    let mut registered = RegistrationMarks::default();
    let mut folded = Vec::new();
    for one in group.register {
        if let Register::Fold { edge, depth } = one {
            registered.fold(view, edge, depth, window, inks, lengths);
            folded.push(view.physical(edge).name());
        }
    }
    for (edge, depth) in &group.also {
        registered.fold(view, *edge, *depth, window, inks, lengths);
    }
    if !folded.is_empty() {
        registered.steps.insert(
            0,
            format!(
                "Cut along the dotted lines. Fold back along the thick broken band{}, and hook over the {} edge{}.",
                if folded.len() > 1 { "s" } else { "" },
                folded.join(" and the "),
                if folded.len() > 1 { "s" } else { "" }
            ),
        );
    }
    for (one, axis) in group.register.into_iter().zip(Axis::ALL) {
        if let Register::Line { at, from, distance } = one {
            let mut taken = window;
            // The line goes on over the flap, where it meets the pencil line on the edge.
            for other in group.register {
                if let Register::Fold { edge, depth } = other {
                    let (on, out) = view_edge::outward(view, edge, at);
                    taken = taken.union(Bounds::new(on, on + out * depth));
                }
            }
            let name = view.physical(from).name();
            let (words, step) = line_words(group, axis, &lengths.full(distance), name);
            registered.steps.push(step);
            registered.line(at, axis, taken, marks, &words);
        }
    }
    registered
}

/// Flaps over the edges of a whole face that carry marks.
pub(super) fn over_marked_edges(
    view: &FaceView,
    inks: Inks,
    lengths: Lengths,
) -> RegistrationMarks {
    let mut registered = RegistrationMarks::default();
    let whole = Bounds::of_size(view.width, view.height);
    for edge in Edge::ALL {
        let depth = marked_flap(view, edge);
        if let Some(depth) = depth {
            registered.fold(view, edge, depth, whole, inks, lengths);
            registered.folded.push(edge);
        }
    }
    registered
}

/// What is written along a pencil line, and how to draw it.
fn line_words(group: &WorkGroup, axis: Axis, distance: &str, name: &str) -> (String, String) {
    let repeat = group.repeat.as_ref().filter(|repeat| repeat.axis == axis);
    match repeat {
        Some(row) if row.is_row => (
            format!("first: on a pencil line {distance} from the {name} edge"),
            format!(
                "First time: square a pencil line {distance} from the {name} edge; the chain line lies on it. After that \
                 the first cross lies over the last hole, and the same flap on the same edge."
            ),
        ),
        Some(_) => (
            "on the pencil line".to_owned(),
            format!(
                "Square a pencil line across for each use, so far from the {name} edge as its box says; the chain line \
                 lies on it."
            ),
        ),
        None => (
            format!("on a pencil line {distance} from the {name} edge"),
            format!(
                "Square a pencil line {distance} from the {name} edge; the chain line lies on it."
            ),
        ),
    }
}

impl RegistrationMarks {
    fn fold(
        &mut self,
        view: &FaceView,
        edge: Edge,
        depth: f64,
        window: Bounds,
        inks: Inks,
        lengths: Lengths,
    ) {
        let pieces = straight_pieces(view, edge, window);
        let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else {
            return;
        };
        let whole = (first.0, last.1);
        let strip = flap::strip(view, edge, whole, depth);
        self.flaps.push(strip);
        let cut = Pen::new(0.15, Ink::BLACK).dashed(Dash::Fold);
        self.items
            .push(Item::stroke(Role::Join, open_sides(strip, edge), cut));
        let thickness = view.workpiece.part.thickness();
        if thickness < depth - 0.5 {
            let far = [whole.0, whole.1].map(|along| {
                let (at, out) = view_edge::outward(view, edge, along);
                at + out * thickness
            });
            let pen = Pen::HAIR.dashed(Dash::Hidden);
            self.items.push(Item::line(Role::Join, far[0], far[1], pen));
        }
        let on_edge = flap::unfold(view, edge, inks, lengths);
        self.items.extend(on_edge.items);
        self.requests.extend(on_edge.requests);
        let physical = view.physical(edge);
        let own = view.workpiece.part.edge_label(physical);
        let name = match own {
            Some(own) => format!("{} edge: {own}", physical.name()),
            None => format!("{} edge", physical.name()),
        };
        let bold = |words: &str| Block {
            weight: Weight::Bold,
            ..Block::label([words])
        };
        self.requests.push(LabelRequest::new(
            Role::Join,
            LabelTarget::Inside(strip),
            vec![
                bold(&format!("fold over the edge · {name}")),
                bold(&format!("fold over the {} edge", physical.name())),
                bold("fold over the edge"),
                bold("fold"),
            ],
        ));
    }

    /// A broken line through the window, with gaps where marks are.
    fn line(&mut self, at: f64, axis: Axis, window: Bounds, marks: &[Item], words: &str) {
        let along = axis.other();
        let point = |place: f64| along.point(place, at);
        let (from, to) = along.span(window);
        let mut gaps: Vec<(f64, f64)> = marks
            .iter()
            .filter(|item| !matches!(item.role, Role::Area | Role::Contour))
            .filter_map(Item::bounds)
            .map(|bounds| bounds.grown(CLEAR))
            .filter(|bounds| {
                let (low, high) = axis.span(*bounds);
                low <= at && at <= high
            })
            .map(|bounds| along.span(bounds))
            .collect();
        gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut begin = from;
        let mut pieces = Vec::new();
        for (low, high) in gaps.into_iter().chain([(to, to)]) {
            if low.min(to) - begin >= PIECE {
                pieces.push((begin, low.min(to)));
            }
            begin = begin.max(high);
        }
        for (low, high) in &pieces {
            self.items
                .push(Item::line(Role::Contour, point(*low), point(*high), PENCIL));
        }
        if let Some((low, high)) = pieces
            .into_iter()
            .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
        {
            self.requests.push(LabelRequest::new(
                Role::Label,
                LabelTarget::Edge(point(low), point(high)),
                vec![Block::label([words])],
            ));
        }
    }
}

/// The sides of a flap that are cut: all but the fold.
fn open_sides(strip: Bounds, edge: Edge) -> Path {
    let corners: Vec<Point> = rectangle(strip)
        .vertices
        .iter()
        .map(|vertex| vertex.point)
        .collect();
    // Counter-clockwise from the lower left corner: the path begins at the end of the folded side.
    let first = match edge {
        Edge::Top => 1,
        Edge::Left => 2,
        Edge::Bottom => 3,
        Edge::Right => 0,
    };
    let order: Vec<Point> = (0..4).map(|i| corners[(first + i) % 4]).collect();
    Path::of_points(order, false)
}
