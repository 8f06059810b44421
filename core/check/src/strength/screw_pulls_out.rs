//! Screws pulled by more than they may be.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::{Enters, Fact};
use jigless_model::plan::StockKind;
use jigless_model::provenance::Source;

use super::{specific_gravity, weight, withdrawal_allowable, withdrawal_ultimate};
use crate::fixing::{Hold, hold};
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("screw-pulls-out"),
    name: "a screw pulled by more than its allowable withdrawal",
    group: Group::Strength,
    severity: Severity::Warning,
    measures: "the `pull` that the author gives for a screw, against the allowable withdrawal from the face of the \
        part that holds it, where its stock has a `density`",
    limit: None,
    formula: Some(
        "allowable 2850 G^2 D an inch of thread (19.65 G^2 D N/mm); ultimate 15 700 G^2 D (108.25 G^2 D \
        N/mm), 5.5 times as much; G = density / 1120 kg/m3, for a density taken at 12 % moisture content; thread = two \
        thirds of the screw or what reaches in",
    ),
    source: &[Source::Note(
        "allowable: NDS 12.2.2 (seen in Civil Engineering Formulas, p. 170). Ultimate: Wood Handbook ch. 8, \
        eq. 8-10 (number from memory and seen second-hand). Thread about 2/3 of the length: ASME B18.6.1 (seen). \
        G is oven-dry mass by volume at 12 % moisture content (Wood Handbook, GTR-190, p. 8-10, seen), so density / (1000 x \
        1.12) (derived). Over-predicts for plywood: Ahn et al. 2021 (seen, abstract)",
    )],
    explanation: "The allowable value is for design and already holds the safety; the ultimate is where tests tore the \
        screw out. They are never mixed here: only the allowable one is compared. Advice from average \
        density, no load rating; edges and end grain hold less.",
    example: "- hole: {at: [50, 50], diameter: 4.5, depth: through, screw: {length: 40, size: \"#8\", into: rail, \
        enters: face, pull: 80}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (piece, feature, fact) in scene.facts() {
        let Fact::Screw(screw) = fact else {
            continue;
        };
        let Some(pull) = screw.pull.filter(|_| screw.enters == Enters::Face) else {
            continue;
        };
        let Some(Hold { part, reach, .. }) = hold(scene, piece, feature, screw) else {
            continue;
        };
        let stock = &part.stock;
        let Some(density) = stock.density else {
            continue;
        };
        let gravity = specific_gravity(density);
        let diameter = screw.size.value.diameter();
        let thread = reach.min(screw.length.value * 2.0 / 3.0).max(0.0);
        let allowable = withdrawal_allowable(gravity, diameter, thread);
        let force = weight(pull.value);
        if force <= allowable * (1.0 + 1e-9) {
            continue;
        }
        let optimistic = match stock.kind {
            StockKind::Solid => "",
            _ => "; the formula is for solid wood and says too much for sheets",
        };
        let finding = report
            .finding(
                pull.span,
                format!(
                    "a pull of {} kg on a screw of size {} with {} of thread in `{}` is {} times its allowable \
                     withdrawal, and {} of what tore it out in tests{optimistic}",
                    jigless_model::units::decimal(pull.value, 1),
                    screw.size.value.name(),
                    report.show(thread),
                    part.id,
                    jigless_model::units::decimal(force / allowable.max(1e-9), 1),
                    jigless_model::units::decimal(
                        force / withdrawal_ultimate(gravity, diameter, thread).max(1e-9),
                        2
                    )
                ),
            )
            .label(
                stock.span,
                format!(
                    "its density of {} kg/m3 is taken at 12 % moisture content: specific gravity {}",
                    jigless_model::units::decimal(density, 0),
                    jigless_model::units::decimal(gravity, 2)
                ),
            )
            .fix(format!(
                "take {} screws, or a bolt through; advice, not a load rating",
                (force / allowable.max(1e-9)).ceil().min(99.0)
            ));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
