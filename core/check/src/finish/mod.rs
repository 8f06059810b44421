//! Whether what is said of sanding and finish can be meant so.

pub(super) mod amount_unknown;
pub(super) mod coverage_unlikely;
pub(super) mod grits_get_coarser;
