//! Whether somebody may be hurt: advice, which leaves the last word to the rules of the place.

pub(super) mod anchor_missing;
pub(super) mod laser_burns_plastic;
pub(super) mod laser_material_unsure;
pub(super) mod part_too_small_for_saw;
pub(super) mod piece_heavy;
pub(super) mod strip_too_narrow;
pub(super) mod tall_unit_not_anchored;
pub(super) mod tips_over;
