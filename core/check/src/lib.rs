//! What can be wrong with work that each feature alone finds in order: checks on the lowered parts, one module each, and
//! the engine that runs them.
//!
//! They run on workpieces and not on features, because only there the true contour is known, and because one check then
//! serves every feature that drills or mills. What wood does not show, such as the screw that is meant, comes from
//! [facts](jigless_model::fact) and from the plan's [usage](jigless_model::usage).
//!
//! Adding one means a module with a [`CheckKind`], a line in [`CHECKS`], a faulty plan and its mended twin.

mod assembled;
mod driven;
mod finish;
mod fit;
mod fixing;
mod geometry;
mod held;
mod kind;
mod needless_acceptance;
mod report;
mod safety;
mod scene;
mod solid;
mod strength;
pub mod whole;

pub use jigless_model::check::LimitUnit;
pub use kind::{CheckKind, Group, Limit};
pub use report::Report;
pub use scene::{CheckedPart, Scene};
pub use solid::Solid;

use jigless_model::check::Catalogue;
use jigless_model::diag::Findings;
use jigless_model::plan::Plan;
use jigless_model::workpiece::Workpiece;

use report::Log;

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
    &whole::paths::POCKET,
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
    &whole::covered::KIND,
    &whole::pieces::KIND,
    &whole::labels::KIND,
    &whole::as_cut::KIND,
    &whole::lifts::KIND,
    &whole::reach::KIND,
    &whole::ways::KIND,
    &whole::space::TOO_SMALL,
    &whole::space::DOOR,
    &whole::space::DRAWER,
    &whole::joint_ends::PIECE_SHORT,
    &whole::joint_ends::GAP,
    &whole::joint_ends::NARROW,
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
    &whole::fasteners::COMES_OUT,
    &whole::fasteners::IN_AIR,
    &whole::fasteners::SHORT,
    &whole::bolts::SHORT,
    &whole::bolts::BOTTOMS,
    &whole::bolts::OFF,
    &whole::paths::SCREW,
    &finish::amount_unknown::KIND,
    &finish::coverage_unlikely::KIND,
    &finish::grits_get_coarser::KIND,
    &strength::shelf_sags::KIND,
    &strength::shelf_stiffness_unknown::KIND,
    &strength::caster_overloaded::KIND,
    &strength::caster_overloaded_uneven::KIND,
    &strength::few_hinges::KIND,
    &strength::screw_pulls_out::KIND,
    &strength::panel_movement_restricted::KIND,
    &safety::tall_unit_not_anchored::KIND,
    &safety::tips_over::KIND,
    &safety::anchor_missing::KIND,
    &safety::laser_burns_plastic::KIND,
    &safety::laser_material_unsure::KIND,
    &safety::piece_heavy::KIND,
    &safety::strip_too_narrow::KIND,
    &safety::part_too_small_for_saw::KIND,
    &needless_acceptance::KIND,
];

/// The check of a code.
pub fn kind(code: &str) -> Option<&'static CheckKind> {
    CHECKS.iter().copied().find(|kind| kind.code == code)
}

/// The checks that a plan may set and accept.
pub fn catalogue() -> Catalogue {
    CHECKS.iter().map(|kind| kind.name_in_plans()).collect()
}

/// Runs every check.
pub fn check(plan: &Plan, workpieces: &[Workpiece]) -> Findings {
    let near = geometry::holes_too_close::KIND.limit_in(plan);
    let scene = Scene::new(plan, workpieces, near);
    let mut log = Log::default();
    for kind in CHECKS {
        let (severity, limit) = (kind.severity_in(plan), kind.limit_in(plan));
        let mut report = Report::new(&scene, kind.code, severity, limit, &mut log);
        (kind.run)(&scene, &mut report);
    }
    log.into_findings()
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
            for text in [
                kind.name,
                kind.measures,
                &kind.source_in_words(),
                kind.explanation,
                kind.example,
            ] {
                assert!(text.len() > 5, "{code} says too little of itself: {text:?}");
            }
            let order = |kind: &CheckKind| Group::ALL.iter().position(|g| *g == kind.group);
            if index > 0 && kind.code != needless_acceptance::KIND.code {
                assert!(
                    order(CHECKS[index - 1]) <= order(kind),
                    "{code} is out of order"
                );
            }
        }
    }
}
