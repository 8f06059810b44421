//! Parts that were cut to another size than the plan has.

use std::collections::BTreeSet;

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::joint::Joint;
use jigless_model::plan::Part;
use jigless_model::provenance::Source;
use jigless_model::source::Spanned;
use jigless_model::whole::Direction;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("as-cut-off"),
    name: "a part that was cut to a size at which its joints miss",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "the size that a part really has (`as_cut`) against that of the plan, at every joint that it has along that \
        size; of parts that are not yet cut and lie between the same two, the size at which all would fit again",
    limit: Some(Limit::length(0.5, "most by which a size may be off")),
    formula: None,
    source: &[Source::CommonPractice],
    explanation: "A part that is some millimetres short pulls everything that is joined to it out of square. Cut it anew, or \
        let the parts that are still to be cut follow it: the plan itself is not changed.",
    example: "shelf: {width: 400, as_cut: {width: 395.5}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for piece in scene.all_pieces() {
        let part = piece.part();
        // Both of a handed pair are cut as the first of them says.
        let Some(cut) = part.as_cut.filter(|_| !part.is_mirrored()) else {
            continue;
        };
        for (along_width, planned, size) in [
            (true, part.width, cut.width),
            (false, part.height, cut.height),
        ] {
            if let Some(size) = size {
                look(scene, part, along_width, planned, size, report);
            }
        }
    }
}

fn look(
    scene: &Scene,
    part: &Part,
    along_width: bool,
    planned: f64,
    size: Spanned<f64>,
    report: &mut Report,
) {
    let off = planned - size.value;
    if off.abs() <= report.limit() + 1e-6 {
        return;
    }
    let joints = ends(scene, part, along_width);
    let met: BTreeSet<&str> = joints.iter().map(|joint| other(joint, part)).collect();
    let what = if along_width { "wide" } else { "high" };
    let names = |ids: &BTreeSet<&str>| {
        let quoted: Vec<String> = ids.iter().map(|id| format!("`{id}`")).collect();
        quoted.join(" and ")
    };
    let miss = if met.is_empty() {
        String::new()
    } else if off > 0.0 {
        format!(
            ": its joints with {} miss by {}",
            names(&met),
            report.show(off)
        )
    } else {
        format!(
            ": it is {} too long between {}",
            report.show(-off),
            names(&met)
        )
    };
    let followers: Vec<String> = scene
        .all_pieces()
        .map(crate::CheckedPart::part)
        .filter(|other| other.id != part.id && other.as_cut.is_none())
        .filter_map(|follower| follows(scene, follower, &met, off, report))
        .collect();
    let fix = if followers.is_empty() {
        format!("cut it anew {} {what}", report.show(planned))
    } else {
        format!(
            "cut it anew {} {what}, or cut what is not yet cut to match: {}",
            report.show(planned),
            followers.join(", ")
        )
    };
    let finding = report
        .finding(
            size.span,
            format!(
                "`{}` is cut {} {what} instead of {}{miss}",
                part.id,
                report.show(size.value),
                report.show(planned)
            ),
        )
        .figures(report.show(size.value), report.show(planned))
        .fix(fix);
    report.add(&[Owner::Part(part)], finding);
}

/// The joints of a part at the ends of its width or height.
fn ends<'s>(scene: &'s Scene, part: &Part, along_width: bool) -> Vec<&'s Joint> {
    let of = |joint: &&Joint| {
        joint.meetings.iter().any(|meeting| {
            let own = if joint.part == part.id {
                meeting.part
            } else if joint.to == part.id {
                meeting.to
            } else {
                return false;
            };
            let axis = if along_width {
                own.x_axis()
            } else {
                3 - own.x_axis() - own.thick_axis()
            };
            let way = meeting
                .touching()
                .map_or_else(|| meeting.to.thick_axis(), Direction::axis);
            way == axis
        })
    };
    scene.plan.joints.iter().filter(of).collect()
}

fn other<'j>(joint: &'j Joint, part: &Part) -> &'j str {
    if joint.part == part.id {
        &joint.to
    } else {
        &joint.part
    }
}

/// The size at which a part that lies between the same others would fit again.
fn follows(
    scene: &Scene,
    part: &Part,
    met: &BTreeSet<&str>,
    off: f64,
    report: &Report,
) -> Option<String> {
    if met.is_empty() {
        return None;
    }
    [true, false].into_iter().find_map(|along_width| {
        let own = ends(scene, part, along_width);
        let own: BTreeSet<&str> = own.iter().map(|joint| other(joint, part)).collect();
        let planned = if along_width { part.width } else { part.height };
        let what = if along_width { "wide" } else { "high" };
        met.is_subset(&own)
            .then(|| format!("`{}` {} {what}", part.id, report.show(planned - off)))
    })
}
