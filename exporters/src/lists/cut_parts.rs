//! What a cutting list says of each part.

use jigless_model::caution::{Medium, called_for};
use jigless_model::export::ExportInput;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::mark::Marks;
use jigless_model::operation::Work;
use jigless_model::plan::{Grain, Part};
use jigless_model::side::Edge;
use jigless_model::workpiece::Workpiece;
use jigless_solid::weights;

use crate::cautions;
use crate::used_in::UsedIn;

/// One line of a cutting list. Lengths are in millimetres.
#[derive(Debug)]
pub(super) struct CutPart {
    /// Its mark, the same in every picture.
    pub(super) mark: String,
    /// Its id.
    pub(super) part: String,
    pub(super) title: String,
    pub(super) count: u32,
    /// Id of its stock.
    pub(super) stock: String,
    /// What the stock is called on paper.
    pub(super) stock_label: String,
    /// `width`, `height` or `none`, as the part is drawn.
    pub(super) grain: Grain,
    /// Along the grain; the longer side where the grain does not matter.
    pub(super) length_mm: f64,
    pub(super) width_mm: f64,
    pub(super) thickness_mm: f64,
    /// What one piece weighs, in kilograms, where the plan says what its stock weighs.
    pub(super) weight_kg: Option<f64>,
    /// Edges that are cut to their shape after the part is cut out square: leave them oversize.
    pub(super) trim: Vec<&'static str>,
    /// Joints that it has with other parts: `rebate with top`.
    pub(super) joints: Vec<String>,
    /// The numbers of the steps of the order of work that cut it, work it and put it in.
    pub(super) steps: Vec<usize>,
    /// What cutting it can do to people.
    pub(super) cautions: String,
}

/// The lines of a cutting list.
pub(super) fn cut_parts(input: &ExportInput) -> Vec<CutPart> {
    let marks = Marks::of(input.plan);
    let weights = weights(input.workpieces).pieces;
    let used_in = UsedIn::new(input);
    let parts = input.workpieces.iter().zip(weights);
    parts
        .map(|(workpiece, weight)| cut_part(input, workpiece, &marks, &used_in, weight))
        .collect()
}

fn cut_part(
    input: &ExportInput,
    workpiece: &Workpiece,
    marks: &Marks,
    used_in: &UsedIn,
    weight_kg: Option<f64>,
) -> CutPart {
    let part = &workpiece.part;
    let (length_mm, width_mm) = along_grain(part);
    let mut joints: Vec<String> = Vec::new();
    for joint in &input.plan.joints {
        let other = if joint.part == part.id {
            &joint.to
        } else if joint.to == part.id {
            &joint.part
        } else {
            continue;
        };
        let said = format!("{} with {other}", joint.kind.replace('_', " "));
        if !joints.contains(&said) {
            joints.push(said);
        }
    }
    CutPart {
        mark: marks.mark(&part.id).to_owned(),
        part: part.id.clone(),
        title: part.title.clone(),
        count: part.count,
        stock: part.stock.id.clone(),
        stock_label: part.stock.label.clone(),
        grain: part.grain,
        length_mm,
        width_mm,
        thickness_mm: part.thickness(),
        weight_kg,
        trim: Edge::ALL
            .into_iter()
            .filter(|edge| is_shaped(workpiece, *edge))
            .map(Edge::name)
            .collect(),
        joints,
        steps: used_in.part(&part.id),
        cautions: cautions::cell(&called_for(
            input.plan,
            std::slice::from_ref(workpiece),
            Medium::Parts,
        )),
    }
}

/// Length along the grain and width across it; the longer side is the length where the grain does not matter.
pub(super) fn along_grain(part: &Part) -> (f64, f64) {
    match part.grain {
        Grain::Width => (part.width, part.height),
        Grain::Height => (part.height, part.width),
        Grain::None => (part.width.max(part.height), part.width.min(part.height)),
    }
}

/// Whether an edge is bevelled, or is not one straight line from end to end.
fn is_shaped(workpiece: &Workpiece, edge: Edge) -> bool {
    let bevelled = workpiece
        .operations
        .iter()
        .any(|operation| matches!(&operation.work, Work::Bevel(bevel) if bevel.edge == edge));
    let part = &workpiece.part;
    let straight = workpiece.outline().segments().any(|segment| {
        let (from, to) = (segment.from(), segment.to());
        let on = |x: f64, y: f64| match edge {
            Edge::Left => x.abs() < LENGTH_TOLERANCE,
            Edge::Right => (x - part.width).abs() < LENGTH_TOLERANCE,
            Edge::Bottom => y.abs() < LENGTH_TOLERANCE,
            Edge::Top => (y - part.height).abs() < LENGTH_TOLERANCE,
        };
        let whole = (from.distance(to) - part.edge_length(edge)).abs() < LENGTH_TOLERANCE;
        on(from.x, from.y) && on(to.x, to.y) && whole
    });
    bevelled || !straight
}
