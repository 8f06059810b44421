//! In which order to drill: the narrow ones first, so that their marks are still there; where a cone or a wider bore shares
//! the centre, the larger one first, since it would find no middle after the narrow one; and of a pocket the pilot before
//! the shoulder, which follows it (common practice, no source).

use jigless_model::operation::{Mouth, Work};
use jigless_model::view::FaceView;

use crate::drawing::measure::Lengths;

/// The order as steps; none where nothing is drilled.
pub(super) fn words(view: &FaceView, lengths: Lengths) -> Vec<String> {
    let size = |mm: f64| format!("Ø{}", lengths.bare(mm));
    let mut bits: Vec<(f64, String)> = Vec::new();
    let mut edge: Vec<(f64, String)> = Vec::new();
    for operation in view.operations.iter().chain(&view.edge_work) {
        match &operation.work {
            Work::Drill(drill) => bits.push((
                drill.diameter,
                match drill.mouth {
                    None => size(drill.diameter),
                    Some(mouth) => {
                        let kind = match mouth {
                            Mouth::Countersink { .. } => "cone",
                            Mouth::Counterbore { .. } => "counterbore",
                        };
                        let (wide, narrow) = (size(mouth.diameter()), size(drill.diameter));
                        format!("{wide} {kind} and then {narrow} on its centre")
                    }
                },
            )),
            Work::AngledBore(bore) => bits.push((
                bore.diameter,
                format!(
                    "pilot {} and then shoulder {} in the guide",
                    size(bore.pilot),
                    size(bore.diameter)
                ),
            )),
            Work::EdgeDrill(hole) => edge.push((hole.diameter, size(hole.diameter))),
            _ => {}
        }
    }
    let mut steps = Vec::new();
    if let Some(order) = in_order(bits) {
        steps.push(format!(
            "Prick the middle of each cross, then drill {order}."
        ));
    }
    if let Some(order) = in_order(edge) {
        steps.push(format!(
            "With the flap folded over, prick its crosses and drill {order} into the edge."
        ));
    }
    steps
}

fn in_order(mut bits: Vec<(f64, String)>) -> Option<String> {
    bits.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut words: Vec<String> = bits.into_iter().map(|(_, words)| words).collect();
    words.dedup();
    match words.as_slice() {
        [] => None,
        [only] => Some(only.clone()),
        many => Some(format!("in this order: {}", many.join(", "))),
    }
}
