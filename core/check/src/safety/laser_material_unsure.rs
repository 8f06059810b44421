//! Materials that a laser workshop asks about.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::plan::CutBy;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("laser-material-unsure"),
    name: "a material under a laser whose fumes depend on what is in it",
    group: Group::Safety,
    severity: Severity::Warning,
    measures: "the kind of every stock with `cut_by: laser`: boards with much glue, and what has no kind",
    limit: None,
    formula: None,
    source: &[Source::CommonPractice],
    explanation: "Glues, coatings and fillers decide what the smoke holds. Ask your workshop, with the data sheet of \
        the board; extract the fumes; stay beside the machine while it runs.",
    example: "board: {thickness: 3, kind: mdf, cut_by: laser}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for stock in &scene.plan.stock {
        if stock.cut_by != Some(CutBy::Laser) || !stock.kind.is_unsure_under_laser() {
            continue;
        }
        let finding = report
            .finding(
                stock.span,
                format!("`{}` ({}) is to be cut by a laser: what its smoke holds depends on its glue",
                    stock.id,
                    stock.kind.name()
                ),
            )
            .fix("ask your workshop and extract the fumes; then accept it on the parts with that reason");
        report.add(&[Owner::Stock(stock)], finding);
    }
}
