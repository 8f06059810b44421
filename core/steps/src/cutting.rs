//! The first steps: sheets are measured, parts are cut to size.

use jigless_model::caution::{Caution, of_material};
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::mark::Marks;
use jigless_model::operation::Work;
use jigless_model::plan::{CutBy, Grain, Part, Plan, Stock};
use jigless_model::workpiece::Workpiece;

use crate::pieces::{counted, named, pieces};
use crate::step::{Phase, WorkStep};

/// The steps for all stock that parts are made of.
pub(crate) fn steps(plan: &Plan, workpieces: &[Workpiece], marks: &Marks) -> Vec<WorkStep> {
    let used =
        |stock: &&std::sync::Arc<Stock>| workpieces.iter().any(|w| w.part.stock.id == stock.id);
    let stock: Vec<_> = plan.stock.iter().filter(used).collect();
    let mut measure = WorkStep::new(Phase::Measure, "measure", "Measure the sheets");
    measure.tools.push("caliper".to_owned());
    measure
        .acts
        .push("Measure the thickness of every sheet in three places or more.".to_owned());
    measure.acts.extend(stock.iter().map(|stock| {
        format!(
            "{}: the plan is drawn for {}. If yours is not, write what you measured at `stock: {}: thickness` and make \
             all files anew.",
            stock.label,
            plan.units.show(stock.thickness),
            stock.id
        )
    }));
    let cuts = stock
        .iter()
        .map(|stock| cut(plan, stock, workpieces, marks));
    std::iter::once(measure).chain(cuts).collect()
}

fn cut(plan: &Plan, stock: &Stock, workpieces: &[Workpiece], marks: &Marks) -> WorkStep {
    let mut step = WorkStep::new(
        Phase::Cut,
        format!("cut-{}", stock.id),
        format!("Cut the parts of {}", stock.label),
    );
    for workpiece in workpieces.iter().filter(|w| w.part.stock.id == stock.id) {
        let part = &workpiece.part;
        step.pieces.push(pieces(part, marks, part.count));
        let shaped = if is_rectangle(workpiece) {
            ""
        } else {
            "; cut it out square, its shape comes later"
        };
        step.acts.push(format!(
            "{}: {}, {} by {}{}{shaped}.",
            named(part, marks),
            counted(part.count, "piece"),
            plan.units.show(part.width),
            plan.units.show(part.height),
            grain(part)
        ));
    }
    step.acts
        .push("Write its mark on each piece as it comes off, with an arrow to its top.".to_owned());
    step.checks
        .push("Each piece measures what is listed, and both its diagonals are equal.".to_owned());
    match stock.cut_by {
        Some(CutBy::Laser) => {
            step.tools.push("laser".to_owned());
            step.cautions.push(Caution::Laser);
        }
        Some(CutBy::Router) => {
            step.tools.push("router on its table".to_owned());
            step.cautions
                .extend([Caution::Work, Caution::Router, Caution::Lifting]);
        }
        Some(CutBy::Saw) | None => {
            step.tools.push("saw with a guide or fence".to_owned());
            step.cautions
                .extend([Caution::Work, Caution::Saw, Caution::Lifting]);
        }
    }
    step.cautions.extend(of_material(stock));
    step
}

fn grain(part: &Part) -> &'static str {
    match part.grain {
        Grain::Width => ", grain along the first",
        Grain::Height => ", grain along the second",
        Grain::None => "",
    }
}

/// Whether the part is a plain rectangle with square edges, but for openings within.
fn is_rectangle(workpiece: &Workpiece) -> bool {
    let part = &workpiece.part;
    let whole = (workpiece.outline().area().abs() - part.width * part.height).abs()
        < LENGTH_TOLERANCE * (part.width + part.height);
    let bevelled = |work: &Work| matches!(work, Work::Bevel(_));
    whole
        && !workpiece
            .operations
            .iter()
            .any(|operation| bevelled(&operation.work))
}
