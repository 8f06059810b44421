//! Doors with fewer hinges than their height or weight asks for.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::provenance::Source;

use super::hinges_wanted;
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("few-hinges"),
    name: "a door with fewer hinges than its height or weight asks for",
    group: Group::Strength,
    severity: Severity::Warning,
    measures: "the number of hinge cups along an edge, against the height of the door and, where the stock has a \
        `density`, its weight",
    limit: None,
    formula: Some(
        "up to 40 in 2, 60 in 3, 80 in 4, 100 in 5; up to 15 lb 2, 30 lb 3, 45 lb 4, 60 lb 5; the greater of \
        the two",
    ),
    source: &[Source::Note(
        "trade practice, seen on home pages and in a trade chart; charts differ, and a trade forum says that \
        it is a curve and no steps. No standard gives a number",
    )],
    explanation: "Too few hinges let the door sag and tear out. The weight is that of the sheet by its density, \
        without glass, mirror or handles. The data sheet of your own hinge goes before this.",
    example: "- hinge_cups: {edge: left, at: [80, 1420], edge_gap: 5} # on a door 1500 high",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (piece, feature, fact) in scene.facts() {
        let Fact::HingeCups { edge, at, edge_gap } = fact else {
            continue;
        };
        let part = piece.part();
        let height = part.edge_length(*edge);
        let mass = part
            .stock
            .density
            .map(|density| piece.region.area() * part.thickness() * density / 1e9);
        let wanted = hinges_wanted(height, mass);
        if at.len() >= wanted {
            continue;
        }
        let weight = mass.map_or(String::new(), |mass| {
            format!(" and {} kg", jigless_model::units::decimal(mass, 1))
        });
        let span = at.first().map_or(edge_gap.span, |first| first.span);
        let finding = report
            .finding(
                span,
                format!(
                    "`{}` has {} hinges for {}{weight}; the trade takes {wanted}",
                    part.id,
                    at.len(),
                    report.show(height)
                ),
            )
            .fix(format!(
                "add {} more, between the outermost",
                wanted - at.len()
            ));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
