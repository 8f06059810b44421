//! The first steps: sheets are measured, parts are cut to size.

use jigless_model::caution::{Caution, of_material};
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::Work;
use jigless_model::plan::{CutBy, Grain, Part, Stock};
use jigless_model::workpiece::Workpiece;
use jigless_words::{StepWords, said};

use crate::pieces::Wording;
use crate::step::{Phase, WorkStep};

/// The steps for all stock that parts are made of.
pub(crate) fn steps(wording: &Wording) -> Vec<WorkStep> {
    let (plan, words) = (wording.plan, wording.steps());
    let used = |stock: &&std::sync::Arc<Stock>| {
        let mut parts = wording.workpieces.iter().map(|workpiece| &workpiece.part);
        parts.any(|part| part.stock.id == stock.id)
    };
    let stock: Vec<_> = plan.stock.iter().filter(used).collect();
    let mut measure = WorkStep::new(Phase::Measure, "measure", words.measure);
    measure.tools.push(words.caliper.to_owned());
    measure.acts.push(words.measure_each.to_owned());
    measure.acts.extend(stock.iter().map(|stock| {
        let thickness = wording.thickness(stock.thickness);
        said(words.drawn_for, &[&stock.label, &thickness, &stock.id])
    }));
    let cuts = stock.iter().map(|stock| cut(wording, stock));
    std::iter::once(measure).chain(cuts).collect()
}

fn cut(wording: &Wording, stock: &Stock) -> WorkStep {
    let words = wording.steps();
    let mut step = WorkStep::new(
        Phase::Cut,
        format!("cut-{}", stock.id),
        said(words.cut_parts, &[&stock.label]),
    );
    let workpieces = wording.workpieces.iter();
    for workpiece in workpieces.filter(|w| w.part.stock.id == stock.id) {
        let part = &workpiece.part;
        step.pieces.push(wording.pieces(part, part.count));
        let shaped = if is_rectangle(workpiece) {
            ""
        } else {
            words.cut_square_first
        };
        let put_in = [
            wording.named(part),
            wording
                .words()
                .counted(part.count, words.piece, words.pieces),
            wording.length(part.width),
            wording.length(part.height),
        ];
        let [named, count, width, height] = &put_in;
        let put_in = [named, count, width, height, grain(part, words), shaped];
        step.acts.push(said(words.cut_part, &put_in));
    }
    step.acts.push(words.write_marks.to_owned());
    step.checks.push(words.as_listed.to_owned());
    match stock.cut_by {
        Some(CutBy::Laser) => {
            step.tools.push(words.laser.to_owned());
            step.cautions.push(Caution::Laser);
        }
        Some(CutBy::Router) => {
            step.tools.push(words.router_table.to_owned());
            step.cautions
                .extend([Caution::Work, Caution::Router, Caution::Lifting]);
        }
        Some(CutBy::Saw) | None => {
            step.tools.push(words.saw.to_owned());
            step.cautions
                .extend([Caution::Work, Caution::Saw, Caution::Lifting]);
        }
    }
    step.cautions.extend(of_material(stock));
    step
}

fn grain(part: &Part, words: &StepWords) -> &'static str {
    match part.grain {
        Grain::Width => words.grain_first,
        Grain::Height => words.grain_second,
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
