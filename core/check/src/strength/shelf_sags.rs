//! Shelves that sag.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use super::{CREEP, sag, stiffness, weight};
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("shelf-sags"),
    name: "a shelf that sags more than the limit under its load",
    group: Group::Strength,
    severity: Severity::Warning,
    measures: "the sag in the middle of a shelf under an evenly spread load, held freely at both ends, after years",
    limit: Some(Limit::number(
        192.0,
        "the span divided by this is the most sag",
    )),
    formula: Some("sag = 2.0 x 5/384 x W L^3 / (E I), I = b t^3 / 12; sag > span / limit"),
    source: &[Source::Note(
        "5/384: beam theory (Wood Handbook ch. 9). Creep 2.0: Wood Handbook (GTR-190) ch. 5 (seen). E: lower \
        values of Wood Handbook Table 12-1 (seen): plywood 6.96, MDF 3.59, particleboard 2.76, OSB 4.41, hardboard \
        3.10 GPa. Limit 1/16 in a foot = span/192: KCMA A161.1 (seen in a copy); others use 144 (AWS 2009), 240 (board \
        associations), 384 (what the eye notices)",
    )],
    explanation: "Twice the thickness is an eighth of the sag; half the span is an eighth, too. A front edge glued on \
        upright helps most. This is advice on looks from average figures and no load rating: the weight of \
        the shelf itself, damp and warmth come on top.",
    example: "usage: - shelf: {part: shelf, span: 1200, load: 40}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let ratio = report.limit();
    for entry in &scene.plan.usage {
        let Usage::Shelf(shelf) = &entry.what else {
            continue;
        };
        let Some(piece) = scene.piece(&shelf.part.value) else {
            continue;
        };
        let part = piece.part();
        let Some(modulus) = stiffness(part, shelf.along_width) else {
            continue;
        };
        let depth = if shelf.along_width {
            part.height
        } else {
            part.width
        };
        let first = sag(
            weight(shelf.load.value),
            shelf.span.value,
            modulus,
            depth,
            part.thickness(),
        );
        let (later, limit) = (CREEP * first, shelf.span.value / ratio);
        if later <= limit * (1.0 + 1e-9) {
            continue;
        }
        // Sag goes with the cube of the thickness and of the span.
        let thicker = part.thickness() * ((later / limit).cbrt() - 1.0);
        let shorter = shelf.span.value * (1.0 - (limit / later).sqrt());
        let finding = report
            .finding(
                shelf.span.span,
                format!(
                    "`{}` sags about {} at first and {} after years under {} kg; the limit is {} (span / {})",
                    part.id,
                    report.show(first),
                    report.show(later),
                    jigless_model::units::decimal(shelf.load.value, 1),
                    report.show(limit),
                    jigless_model::units::decimal(ratio, 0)
                ),
            )
            .label(shelf.load.span, "evenly spread, the shelf held freely at both ends")
            .label(
                part.stock.span,
                format!("taken with {} GPa", jigless_model::units::decimal(modulus / 1000.0, 2)),
            )
            .figures(report.show(later), format!("at most {}", report.show(limit)))
.fix(format!(
                "make it {} thicker, or the span {} shorter; advice, not a load rating",
                report.show(thicker),
                report.show(shorter)
            ));
        report.add(
            &[Owner::Usage(&entry.accepted), Owner::Part(piece.part())],
            finding,
        );
    }
}
