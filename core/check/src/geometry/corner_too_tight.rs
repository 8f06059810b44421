//! Inside corners that no listed tool can reach.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::Work;
use jigless_model::provenance::Source;

use super::inside_corners;
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("corner-too-tight"),
    name: "an inside corner tighter than the smallest tool",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "the radius of inside corners of openings, notches and recesses, where the plan lists its `tools` and \
        the stock is cut by a router",
    limit: None,
    formula: Some("corner radius < tool diameter / 2"),
    source: &[
        Source::Elementary,
        Source::Note(
            "a half-inch bit leaves a quarter-inch radius (seen on pages of router shops)",
        ),
    ],
    explanation: "A round bit leaves a round corner. Give the corner a radius, list a smaller bit, or choose corner \
        relief where the file for the router is made and accept this.",
    example: "tools: [6] # and - cutout: {at: [50, 50], width: 100, height: 60, corner_radius: 2}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let smallest = scene
        .plan
        .tools
        .iter()
        .min_by(|a, b| a.value.total_cmp(&b.value));
    let Some(tool) = smallest else {
        return;
    };
    let radius = tool.value / 2.0;
    for piece in scene.pieces() {
        // A laser or a saw has corners of its own.
        if !matches!(
            piece.part().stock.cut_by,
            None | Some(jigless_model::plan::CutBy::Router)
        ) {
            continue;
        }
        for operation in &piece.workpiece.operations {
            let (path, inside_out) = match &operation.work {
                // Grooves and rebates run out or end round; a recess has corners that are looked at.
                Work::MillArea(area) if area.kind == jigless_model::operation::AreaKind::Recess => {
                    (&area.outline, true)
                }
                Work::CutContour(cut) => (&cut.path, false),
                _ => continue,
            };
            let Some(tightest) = inside_corners(path, inside_out)
                .into_iter()
                .min_by(|a, b| a.1.total_cmp(&b.1))
                .filter(|(_, corner)| corner + LENGTH_TOLERANCE < radius)
            else {
                continue;
            };
            let (at, corner) = tightest;
            let feature = operation.origin.feature;
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "the inside corner at {}, {} has a radius of {}; the smallest tool leaves {}",
                        report.show(at.x),
                        report.show(at.y),
                        report.show(corner),
                        report.show(radius)
                    ),
                )
                .label(tool.span, "the smallest tool")
                .fix(format!(
                    "make the radius {} larger, or list a bit of {} or less",
                    report.show(radius - corner),
                    report.show(2.0 * corner)
                ));
            report.add(&[Owner::Feature(piece.part(), feature)], finding);
        }
    }
}
