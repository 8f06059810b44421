//! How far tools sweep beyond a part, and what that asks of the distances on a sheet.

use jigless_model::diag::Findings;
use jigless_model::operation::Work;
use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;

use super::layout_options::SheetLayout;
use super::router_options::RouterOptions;
use super::tools;
use crate::codes;
use crate::option_check::refused;

/// Between a tool's sweep and the next part or the strip for clamps, in millimetres. Common practice, no source.
const CLEAR: f64 = 1.0;

/// Between a register hole and the edge of the sheet, and the sweeps beside it, in millimetres. Common practice, no
/// source.
pub(super) const AROUND_REGISTER: f64 = 3.0;

/// How far tools sweep beyond the outline of a part, in millimetres: the whole tool runs around it, and areas that are
/// open at an edge run out over it. `lead` is how far beside the outline a tool goes into the wood.
pub(super) fn of(options: &RouterOptions, workpiece: &Workpiece, lead: f64) -> f64 {
    let around = tools::for_contours(options, workpiece).map_or(0.0, |tool| tool.diameter + lead);
    let size = (workpiece.part.width, workpiece.part.height);
    let areas = workpiece
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::MillArea(area) if !area.open.is_empty() => tools::for_area(options, area, size),
            _ => None,
        });
    areas
        .map(|(tool, _)| tool.diameter / 2.0 + options.overrun)
        .fold(around, f64::max)
}

/// The same for any part, by the largest tool.
pub(super) fn at_most(options: &RouterOptions, lead: f64) -> f64 {
    let largest = options.largest();
    (largest + lead).max(largest / 2.0 + options.overrun)
}

/// Spacing and margin that keep sweeps of so far off neighbours, clamps and fence.
pub(super) fn distances(options: &RouterOptions, sweep: f64) -> (f64, f64) {
    let register = if options.register > 0.0 {
        options.register + 2.0 * AROUND_REGISTER - CLEAR
    } else {
        0.0
    };
    let margin = sweep + CLEAR + options.clamp.max(register);
    (sweep + CLEAR, margin)
}

/// Refuses a spacing or margin that the sweeps of these parts do not allow, with the number that would do.
pub(super) fn vet(
    options: &RouterOptions,
    layout: &SheetLayout,
    workpieces: &[Workpiece],
    lead: f64,
    unit: Unit,
    findings: &mut Findings,
) {
    let sweep = workpieces
        .iter()
        .map(|workpiece| of(options, workpiece, lead))
        .fold(0.0, f64::max);
    let (spacing, margin) = distances(options, sweep);
    // A tenth more, so that the number that is reported is one that does.
    let up = |mm: f64| (mm * 10.0).ceil() / 10.0;
    let given = [
        (
            "spacing",
            layout.spacing,
            spacing,
            codes::SPACING_TOO_SMALL,
            "the next part",
        ),
        (
            "margin",
            layout.margin,
            margin,
            codes::MARGIN_TOO_SMALL,
            "the clamps or the edge of the sheet",
        ),
    ];
    for (name, given, least, code, what) in given {
        let Some(given) = given.filter(|given| *given < least - 1e-6) else {
            continue;
        };
        let message = format!(
            "a {name} of {} lets a tool into {what}: tools sweep {} beyond the parts",
            unit.show(given),
            unit.show(sweep)
        );
        let fix = format!("give at least {}, or leave `{name}` out", up(least));
        findings.push(refused(code, message, &fix));
    }
}
