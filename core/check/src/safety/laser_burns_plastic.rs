//! Vinyl under a laser.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::plan::{CutBy, StockKind};
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("laser-burns-vinyl"),
    name: "vinyl under a laser",
    group: Group::Safety,
    severity: Severity::Error,
    measures: "the kind of every stock with `cut_by: laser`",
    limit: None,
    formula: None,
    source: &[Source::Note(
        "common practice, no source: every laser workshop's list of refused materials",
    )],
    explanation: "PVC gives off hydrogen chloride when it burns: it poisons whoever is in the room and eats the \
        machine. There is no setting that makes it safe. Cut it by saw or router, or take another material.",
    example: "film: {thickness: 1, kind: pvc, cut_by: laser}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for stock in &scene.plan.stock {
        if stock.cut_by != Some(CutBy::Laser) || stock.kind != StockKind::Pvc {
            continue;
        }
        let finding = report
            .finding(
                stock.span,
                format!(
                    "`{}` is PVC and is to be cut by a laser: it gives off hydrogen chloride, which poisons people and \
                     eats the machine",
                    stock.id
                ),
            )
            .fix("cut it by saw or router, or take another material");
        report.add(&[Owner::Stock(stock)], finding);
    }
}
