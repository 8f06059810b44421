//! Pieces that nothing holds.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;

use crate::held::Why;
use crate::report::Owner;
use crate::solid::Solid;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("piece-not-held"),
    name: "a piece that nothing holds",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "every piece that has a place: whether joints, screws that go into another piece, hinges, runners or shelf \
        pins lead from it to the rest, or it is `loose: yes` and touches what it lies on",
    limit: None,
    formula: None,
    source: &[Source::Note(
        "elementary; surfaces up to 0.2 mm apart touch; several pieces that hang together and stand on the floor or \
        against the wall are a thing of their own",
    )],
    explanation: "A piece that is beside the place where it should be, or that no joint names, falls out when the glue \
        is dry.",
    example: "holder: {place: {at: [100, 400, 50]}}   # 50 off the back that it should be on",
    run,
};

/// What a piece is called: by its number where its part has several.
pub(super) fn name_of(solid: &Solid) -> String {
    let part = &solid.workpiece.part;
    if part.count > 1 {
        format!("piece {} of `{}`", solid.number + 1, part.id)
    } else {
        format!("`{}`", part.id)
    }
}

fn run(scene: &Scene, report: &mut Report) {
    let solids = &scene.assembled.solids;
    // A plan without a joint says nothing of how its parts are held.
    if !scene.held.any && scene.plan.joints.is_empty() {
        return;
    }
    for (pieces, why) in &scene.held.loose {
        let first = &solids[pieces[0]];
        let part = &first.workpiece.part;
        let name = match pieces.len() {
            1 => name_of(first),
            many => format!(
                "{} and {} more that hang together",
                name_of(first),
                many - 1
            ),
        };
        let (message, other, fix) = match why {
            Why::Unjoined(other) => (
                format!(
                    "{name} touches {}, and nothing joins the two",
                    name_of(&solids[*other])
                ),
                Some(*other),
                "join them, or write `loose: yes` for what lies there by its own weight".to_owned(),
            ),
            Why::Apart(other, distance) => (
                format!(
                    "{name} touches nothing: `{}` is {} away",
                    solids[*other].workpiece.part.id,
                    report.show(*distance)
                ),
                Some(*other),
                format!(
                    "move or lengthen one of them by {}, and join them",
                    report.show(*distance)
                ),
            ),
            Why::Floats => (
                format!("{name} hangs in the air: nothing is near it"),
                None,
                "check its place, or join it to what holds it".to_owned(),
            ),
        };
        let mut finding = report.finding(part.span, message).fix(fix);
        let mut owners = vec![Owner::Part(part)];
        if let Some(other) = other.map(|other| &solids[other].workpiece.part) {
            finding = finding.label(other.span, "the piece beside it");
            owners.push(Owner::Part(other));
        }
        report.add(&owners, finding);
    }
}
