//! Shelves whose sag cannot be worked out.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::plan::{Grain, StockKind};
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use super::stiffness;
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("shelf-stiffness-unknown"),
    name: "a shelf whose sag cannot be worked out",
    group: Group::Strength,
    severity: Severity::Note,
    measures: "whether a stiffness is known for the shelf's stock in the direction of the span",
    limit: None,
    formula: None,
    source: &[Source::Note(
        "published values for plywood are for the strong direction, along the grain of the faces (Wood \
        Handbook Table 12-1, seen); solid wood differs by species",
    )],
    explanation: "Across the grain of its faces plywood has a small fraction of its stiffness, and solid wood less \
        still. Turn the grain along the span, or give the stock's `stiffness` in GPa for the direction in \
        which it is used.",
    example: "usage: - shelf: {part: shelf, span: 800, load: 30} # of plywood with the grain across the span",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.usage {
        let Usage::Shelf(shelf) = &entry.what else {
            continue;
        };
        let Some(piece) = scene.piece(&shelf.part.value) else {
            continue;
        };
        let part = piece.part();
        if stiffness(part, shelf.along_width).is_some() {
            continue;
        }
        let message = if part.stock.kind == StockKind::Plywood && part.grain != Grain::None {
            "its grain runs across the span: how much it sags is not known".to_owned()
        } else if part.stock.kind == StockKind::Plywood {
            format!(
                "`{}` has no `grain`: whether it spans along it is not known",
                part.id
            )
        } else {
            format!(
                "the stiffness of `{}` ({}) is not known",
                part.stock.id,
                part.stock.kind.name()
            )
        };
        let finding = report
            .finding(shelf.part.span, message)
            .label(part.stock.span, "the stock")
            .fix("let the grain run along the span, or give the stock a `stiffness` in GPa");
        report.add(
            &[Owner::Usage(&entry.accepted), Owner::Part(piece.part())],
            finding,
        );
    }
}
