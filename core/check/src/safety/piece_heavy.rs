//! Pieces that are too heavy for one person, by the plan's own limit.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::units::decimal;
use jigless_model::usage::Usage;

use crate::report::Owner;
use crate::solid::Solid;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("piece-heavy"),
    name: "a piece that one person does not lift, by the plan's own limit",
    group: Group::Safety,
    severity: Severity::Note,
    measures: "the mass of each part as it is cut and milled, against `alone` of `lifting`; nothing where the plan has no \
        such entry, or no density or weight for the stock",
    limit: None,
    formula: Some("mass = volume x density"),
    source: &[Source::Note(
        "the limit is the author's, for the people who will lift; density from the author; rules of the place of work go \
        before it",
    )],
    explanation: "A heavy panel is lifted, turned and held by two people, or cut smaller. What a back can bear differs \
        from person to person and with the way of lifting, so no limit is assumed.",
    example: "usage: - lifting: {alone: 15}   # beside a side of 22 kg",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.usage {
        let Usage::Lifting(lifting) = &entry.what else {
            continue;
        };
        let alone = lifting.alone.value;
        for piece in scene.pieces() {
            let part = piece.part();
            let Some(density) = part.stock.density else {
                continue;
            };
            let mass = Solid::alone(piece.workpiece).volume() * density * 1e-9;
            if mass <= alone {
                continue;
            }
            let message = format!(
                "`{}` weighs {} kg; one person lifts {} kg by this plan",
                part.id,
                decimal(mass, 2),
                decimal(alone, 2)
            );
            let people = (mass / alone).ceil();
            let finding = report
                .finding(part.span, message)
                .label(lifting.alone.span, "the limit")
                .fix(format!(
                    "lift it with {} people, and clear the way first",
                    decimal(people, 0)
                ));
            report.add(&[Owner::Usage(&entry.accepted), Owner::Part(part)], finding);
        }
    }
}
