//! Solid panels without room to swell.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::plan::StockKind;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use super::across_grain;
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("panel-movement-restricted"),
    name: "a solid panel without room to swell",
    group: Group::Strength,
    severity: Severity::Warning,
    measures: "the width of a solid panel across its grain at the greatest moisture content, against its room",
    limit: None,
    formula: Some("change = width x coefficient x (wettest - made)"),
    source: &[Source::Note(
        "Wood Handbook (GTR-190) ch. 13, eq. 13-2, valid from 6 to 14 % moisture, and the tangential \
        coefficients of Table 13-5 (seen); the tangential one is the greater, for flatsawn boards. Plywood and MDF \
        move a tenth of that or less in their plane and are not looked at",
    )],
    explanation: "A panel that is held tight bursts its frame or bows. Give it room across the grain, and fix it in \
        the middle only.",
    example: "usage: - panel: {part: panel, room: 401} # 400 wide, of beech made at 8 % and later at 12 %",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.usage {
        let Usage::Panel(panel) = &entry.what else {
            continue;
        };
        let Some(piece) = scene.piece(&panel.part.value) else {
            continue;
        };
        let part = piece.part();
        let stock = &part.stock;
        let (Some(movement), Some(width), StockKind::Solid) =
            (stock.movement, across_grain(part), stock.kind)
        else {
            let finding = report
                .finding(panel.part.span, "how much it swells cannot be worked out")
                .label(stock.span, "the stock")
                .fix("give the part its `grain`, and the stock `kind: solid` and its `movement`");
            report.add(
                &[Owner::Usage(&entry.accepted), Owner::Part(piece.part())],
                finding,
            );
            continue;
        };
        let change = width * movement.coefficient * (movement.wettest - movement.made);
        let over = width + change - panel.room.value;
        if over <= LENGTH_TOLERANCE {
            continue;
        }
        let percent = |number: f64| format!("{} %", jigless_model::units::decimal(number, 1));
        let finding = report
            .finding(
                panel.room.span,
                format!(
                    "`{}` is {} across the grain at {} and about {} at {}; its room is {}",
                    part.id,
                    report.show(width),
                    percent(movement.made),
                    report.show(width + change),
                    percent(movement.wettest),
                    report.show(panel.room.value)
                ),
            )
            .label(stock.span, "how it moves")
            .fix(format!(
                "make the panel {} narrower, or its room wider",
                report.show(over)
            ));
        report.add(
            &[Owner::Usage(&entry.accepted), Owner::Part(piece.part())],
            finding,
        );
    }
}
