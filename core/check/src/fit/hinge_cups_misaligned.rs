//! Hinge cups that do not meet their plates.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use super::{cups_of, plates_of};
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("hinge-cups-misaligned"),
    name: "hinge cups that do not meet their plates",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "the height of every cup of a door above the side's lower end, against the nearest plate on the side",
    limit: Some(Limit::length(
        1.0,
        "most that a cup and its plate may be apart",
    )),
    formula: Some("|rise + cup - plate| > limit"),
    source: &[
        Source::Elementary,
        Source::Note(
            "hinges adjust by about 2 mm either way, of which half is left for hanging the door: common practice, \
        no source",
        ),
    ],
    explanation: "A hinge arm meets its plate at one height. Measure both from the same marked end, and mind how far \
        the door begins above the side.",
    example: "usage: - door: {part: door, side: side, rise: 80} # cups at 63.5, plates at 150",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for entry in &scene.plan.usage {
        let Usage::Door(door) = &entry.what else {
            continue;
        };
        let (Some(hung), Some(side)) =
            (scene.piece(&door.door.value), scene.piece(&door.side.value))
        else {
            continue;
        };
        let (cups, plates) = (cups_of(hung), plates_of(side));
        for (name, none, what) in [
            (&door.door, cups.is_empty(), "hinge_cups"),
            (&door.side, plates.is_empty(), "hinge_plates"),
        ] {
            if none {
                let finding = report
                    .finding(
                        name.span,
                        format!("`{}` has no `{what}` for this door", name.value),
                    )
                    .fix(format!("add `{what}` to it, or take this entry away"));
                report.add(&[Owner::Usage(&entry.accepted)], finding);
            }
        }
        for cup in &cups {
            let height = door.rise.value + cup.value;
            let nearest = plates.iter().min_by(|a, b| {
                (a.value - height)
                    .abs()
                    .total_cmp(&(b.value - height).abs())
            });
            let Some(plate) = nearest else {
                continue;
            };
            let off = height - plate.value;
            if off.abs() <= limit + LENGTH_TOLERANCE {
                continue;
            }
            let (way, number) = if off > 0.0 {
                ("down", off)
            } else {
                ("up", -off)
            };
            let finding = report
                .finding(
                    cup.span,
                    format!(
                        "the cup at {} is {} above the lower end of `{}`, its plate at {}",
                        report.show(cup.value),
                        report.show(height),
                        side.part().id,
                        report.show(plate.value)
                    ),
                )
                .label(plate.span, "the nearest plate")
                .label(door.rise.span, "where the door begins")
                .fix(format!(
                    "move the cup {} {way}, or the plate as much the other way",
                    report.show(number)
                ));
            report.add(
                &[
                    Owner::Usage(&entry.accepted),
                    Owner::Part(hung.part()),
                    Owner::Part(side.part()),
                ],
                finding,
            );
        }
    }
}
