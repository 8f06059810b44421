//! Screws of joints that come out of the far side, or hardly reach it.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::joint::DrivenScrew;
use jigless_model::plan::Part;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::solid::distance;
use crate::{CheckKind, CheckedPart, Group, Limit, Report, Scene};

pub(crate) static COMES_OUT: CheckKind = CheckKind {
    code: Code::declare("joint-screw-comes-out"),
    name: "a screw of a joint that comes out of the far side",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "the tip of every screw of a joint whose parts have places, along its axis through the wood of the part that it is \
        driven into",
    limit: None,
    formula: None,
    source: &[Source::Note("elementary")],
    explanation: "A tip that comes out scratches, splits the face and holds less than one that ends inside.",
    example: "- butt: {part: rail, to: side, screw: {length: 80}}   # through 18 into a rail 60 wide",
    run: comes_out,
};

pub(crate) static SHORT: CheckKind = CheckKind {
    code: Code::declare("joint-screw-short"),
    name: "a screw of a joint that hardly reaches the other part",
    group: Group::Fixing,
    severity: Severity::Warning,
    measures: "how much of every screw of a joint whose parts have places is in the part that it is driven into",
    limit: Some(Limit::length(
        6.0,
        "the least that a thread holds in; a 14 mm false front has no room for more",
    )),
    formula: None,
    source: &[Source::CommonPractice],
    explanation: "A thread with hardly any wood around it is pulled out by hand.",
    example: "- butt: {part: shelf, to: side, screw: {length: 20}}   # through 18",
    run: short,
};

/// How far the axis of a screw is followed beyond its tip, in millimetres.
const AHEAD: f64 = 200.0;

/// How much of a screw is in one piece of a part, and how far its tip is beyond that piece: of the piece that it passes
/// deepest.
fn held(scene: &Scene, screw: &DrivenScrew, part: &Part) -> Option<(f64, f64)> {
    let length = distance(screw.head, screw.tip);
    if length <= 0.0 {
        return None;
    }
    let far = (length + AHEAD) / length;
    let far = [0, 1, 2].map(|i| screw.head[i] + (screw.tip[i] - screw.head[i]) * far);
    let solids = &scene.assembled.solids;
    let stretches = scene.assembled.stretches(screw.head, far).into_iter();
    stretches
        .filter(|stretch| solids[stretch.solid].workpiece.part.id == part.id)
        .filter(|stretch| stretch.from < length)
        .map(|stretch| (length.min(stretch.to) - stretch.from, length - stretch.to))
        .max_by(|a, b| a.0.total_cmp(&b.0))
}

/// The part that a screw goes through, which is named first.
fn owners<'a>(scene: &Scene<'a>, screw: &DrivenScrew) -> Vec<Owner<'a>> {
    let piece = scene.piece(&screw.through);
    piece
        .map(|piece| Owner::Part(&piece.workpiece.part))
        .into_iter()
        .collect()
}

fn comes_out(scene: &Scene, report: &mut Report) {
    for joint in &scene.plan.joints {
        for screw in &joint.screws {
            let Some(part) = scene.piece(&screw.into).map(CheckedPart::part) else {
                continue;
            };
            let owners = owners(scene, screw);
            let (through, into) = (&screw.through, &screw.into);
            let finding = match held(scene, screw, part) {
                Some((_, out)) if out > 0.0 => report
                    .finding(
                        joint.span,
                        format!(
                            "`{through}`: a screw comes {} out of `{into}`",
                            report.show(out)
                        ),
                    )
                    .fix(format!(
                        "use one that is at least {} shorter",
                        report.show(out + 1.0)
                    )),
                Some(_) => continue,
                None => report
                    .finding(joint.span, format!("`{through}`: a screw misses `{into}`"))
                    .fix("move the screws to where the two parts meet"),
            };
            report.add(&owners, finding);
        }
    }
}

fn short(scene: &Scene, report: &mut Report) {
    let least = report.limit();
    for joint in &scene.plan.joints {
        for screw in &joint.screws {
            let Some(part) = scene.piece(&screw.into).map(CheckedPart::part) else {
                continue;
            };
            let Some((inside, _)) = held(scene, screw, part) else {
                continue;
            };
            if inside + LENGTH_TOLERANCE >= least {
                continue;
            }
            let owners = owners(scene, screw);
            let finding = report
                .finding(
                    joint.span,
                    format!(
                        "`{}`: a screw reaches only {} into `{}`",
                        screw.through,
                        report.show(inside),
                        screw.into
                    ),
                )
                .fix(format!(
                    "use one that is {} longer",
                    report.show(least - inside)
                ));
            report.add(&owners, finding);
        }
    }
}
