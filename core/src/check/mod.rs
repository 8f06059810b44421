//! What can be wrong with work that each feature alone finds in order: checks on the lowered parts, one module each, and
//! the engine that runs them.
//!
//! They run on workpieces and not on features, because only there the true contour is known, and because one check then
//! serves every feature that drills or mills. What wood does not show, such as the screw that is meant, comes from
//! [facts](crate::feature::fact) and from the plan's [usage](crate::usage).
//!
//! Adding one means a module with a [`CheckKind`], a line in [`CHECKS`], a faulty plan and its mended twin.

pub mod codes;
mod fit;
mod fixing;
mod geometry;
mod report;
mod safety;
mod scene;
mod strength;
pub mod whole;

pub use report::Report;
pub use scene::{Piece, Scene};

use crate::diag::{Findings, Severity};
use crate::plan::Plan;
use crate::workpiece::Workpiece;

/// What a check is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Whether the work can be done to the wood.
    Geometry,
    /// Whether parts go together.
    Fit,
    /// Whether screws and hardware hold.
    Fixing,
    /// Whether it bears what is asked of it: advice, never a rating.
    Strength,
    /// Whether somebody may be hurt: advice, which leaves the last word to the rules of the place.
    Safety,
}

impl Group {
    /// Every group in the order of the manual.
    pub const ALL: [Group; 5] = [
        Group::Geometry,
        Group::Fit,
        Group::Fixing,
        Group::Strength,
        Group::Safety,
    ];

    /// Its name in the manual.
    pub const fn name(self) -> &'static str {
        match self {
            Group::Geometry => "Geometry",
            Group::Fit => "Fit",
            Group::Fixing => "Fixing",
            Group::Strength => "Strength",
            Group::Safety => "Safety",
        }
    }
}

/// What a check holds something against.
#[derive(Debug)]
pub struct Limit {
    /// The limit where the plan sets none: millimetres, or a bare number.
    pub default: f64,
    /// What the number is.
    pub unit: LimitUnit,
    /// What it limits.
    pub help: &'static str,
}

/// What the number of a [`Limit`] is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitUnit {
    /// A length in millimetres.
    Millimetres,
    /// A bare number.
    Number,
}

impl Limit {
    const fn length(default: f64, help: &'static str) -> Limit {
        Limit {
            default,
            unit: LimitUnit::Millimetres,
            help,
        }
    }

    const fn number(default: f64, help: &'static str) -> Limit {
        Limit {
            default,
            unit: LimitUnit::Number,
            help,
        }
    }
}

/// A check: what it is called, what it measures, why, and how it runs.
#[derive(Debug)]
pub struct CheckKind {
    /// Stable name in kebab case; it names the offence.
    pub code: &'static str,
    /// The offence in one line.
    pub name: &'static str,
    /// What it is about.
    pub group: Group,
    /// How much it matters where the plan says nothing else.
    pub severity: Severity,
    /// What is measured, and when.
    pub measures: &'static str,
    /// What it is held against, if that is one number.
    pub limit: Option<Limit>,
    /// How it is worked out, if that takes more than a comparison.
    pub formula: Option<&'static str>,
    /// Where the limit and the formula come from, and how sure that is.
    pub source: &'static str,
    /// Why it matters, and what to do.
    pub explanation: &'static str,
    /// A line of a plan that is found at fault.
    pub example: &'static str,
    run: fn(&Scene, &mut Report),
}

/// Every check, in the order of the manual.
pub static CHECKS: &[&CheckKind] = &[
    &geometry::hole_outside_part::KIND,
    &geometry::hole_breaks_edge::KIND,
    &geometry::hole_near_edge::KIND,
    &geometry::holes_too_close::KIND,
    &geometry::holes_run_together::KIND,
    &geometry::work_meets_inside::KIND,
    &geometry::edge_hole_meets_work::KIND,
    &geometry::edge_work_off_edge::KIND,
    &geometry::thin_floor::KIND,
    &geometry::groove_too_deep::KIND,
    &geometry::countersink_too_deep::KIND,
    &geometry::contour_crosses_itself::KIND,
    &geometry::corner_too_tight::KIND,
    &geometry::thin_web::KIND,
    &geometry::part_fits_no_sheet::KIND,
    &fit::panel_too_thick::KIND,
    &fit::panel_loose::KIND,
    &fit::panel_proud::KIND,
    &fit::laps_stay_open::KIND,
    &fit::runner_tight::KIND,
    &fit::runner_loose::KIND,
    &fit::hinge_cups_misaligned::KIND,
    &fit::overlay_off::KIND,
    &fit::doors_collide::KIND,
    &fit::door_gap_small::KIND,
    &whole::parts_collide::KIND,
    &whole::drawer_blocked::KIND,
    &whole::door_strikes::KIND,
    &fixing::screw_through::KIND,
    &fixing::screw_too_short::KIND,
    &fixing::screw_near_edge::KIND,
    &fixing::screw_near_end::KIND,
    &fixing::edge_screw_near_corner::KIND,
    &fixing::clearance_hole_tight::KIND,
    &fixing::pilot_off::KIND,
    &fixing::pilot_too_short::KIND,
    &fixing::pocket_screw_through::KIND,
    &fixing::pocket_screw_short::KIND,
    &fixing::insert_hole_off::KIND,
    &fixing::insert_hole_shallow::KIND,
    &fixing::hardware_screw_long::KIND,
    &whole::screws::COMES_OUT,
    &whole::screws::SHORT,
    &strength::shelf_sags::KIND,
    &strength::shelf_stiffness_unknown::KIND,
    &strength::caster_overloaded::KIND,
    &strength::caster_overloaded_uneven::KIND,
    &strength::few_hinges::KIND,
    &strength::screw_pulls_out::KIND,
    &strength::panel_movement_restricted::KIND,
    &safety::tall_unit_not_anchored::KIND,
    &safety::laser_burns_plastic::KIND,
    &safety::laser_material_unsure::KIND,
    &safety::strip_too_narrow::KIND,
    &safety::part_too_small_for_saw::KIND,
    &report::NEEDLESS_ACCEPTANCE,
];

/// The check of a code.
pub fn kind(code: &str) -> Option<&'static CheckKind> {
    CHECKS.iter().copied().find(|kind| kind.code == code)
}

/// The limit of a check in a plan, in the check's own unit; 0 for a check without one.
fn limit_in(plan: &Plan, kind: &CheckKind) -> f64 {
    let setting = plan.checks.iter().find(|set| set.code == kind.code);
    setting
        .and_then(|set| set.limit)
        .map(|limit| limit.value)
        .or(kind.limit.as_ref().map(|limit| limit.default))
        .unwrap_or(0.0)
}

/// Runs every check.
pub fn check(plan: &Plan, workpieces: &[Workpiece]) -> Findings {
    let scene = Scene::new(plan, workpieces);
    let mut report = Report::new(plan);
    for kind in CHECKS {
        report.begin(kind);
        (kind.run)(&scene, &mut report);
    }
    report.into_findings()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_check_says_what_it_is() {
        for (index, kind) in CHECKS.iter().enumerate() {
            let code = kind.code;
            assert!(
                CHECKS[..index].iter().all(|other| other.code != code),
                "{code} is there twice"
            );
            assert!(
                code.chars().all(|c| c.is_ascii_lowercase() || c == '-'),
                "{code}"
            );
            for text in [
                kind.name,
                kind.measures,
                kind.source,
                kind.explanation,
                kind.example,
            ] {
                assert!(text.len() > 5, "{code} says too little of itself: {text:?}");
            }
            let order = |kind: &CheckKind| Group::ALL.iter().position(|g| *g == kind.group);
            if index > 0 && kind.code != report::NEEDLESS_ACCEPTANCE.code {
                assert!(
                    order(CHECKS[index - 1]) <= order(kind),
                    "{code} is out of order"
                );
            }
        }
    }
}
