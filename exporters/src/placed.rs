//! Plans whose parts have places, which is what pictures and models are made of.

use jigless_model::plan::Plan;

/// Whether any part has a place.
pub(crate) fn has_places(plan: &Plan) -> bool {
    plan.parts.iter().any(|part| !part.places.is_empty())
}
