//! The parts of a tray put into the plan, and what is glued of one that has a place.

use super::keys::{BaseFit, Corners};
use super::layout::Spec;
use crate::build::kit::held;
use crate::build::{BuildContext, PartDraft, text};

/// The names of the walls and of the base.
#[derive(Default)]
struct Names {
    /// From left to right.
    long: Vec<String>,
    /// From front to back.
    sides: Vec<String>,
    base: Vec<String>,
}

/// Adds the parts, by their roles, and the joints between them.
pub(super) fn add(built: &mut BuildContext, spec: &Spec, drafts: Vec<(&'static str, PartDraft)>) {
    let is_placed = drafts.iter().any(|(_, draft)| !draft.places.is_empty());
    let mut names = Names::default();
    for (role, mut draft) in drafts {
        draft.mirror_as = draft.mirror_as.map(|other| built.id(&other));
        let own = std::iter::once(built.id(role)).chain(draft.mirror_as.clone());
        match role {
            "front" | "front-back" => names.long.extend(own),
            "left" | "sides" => names.sides.extend(own),
            "base" => names.base.extend(own),
            _ => {}
        }
        built.part(role, draft);
    }
    if is_placed {
        glue(built, spec, &names);
    }
}

/// Glues the corners, and a base below. Fingers are glued in each other, which is no joint of the language; dividers and a
/// base in grooves are held by what is around them.
fn glue(built: &mut BuildContext, spec: &Spec, names: &Names) {
    match spec.corners {
        Corners::Butt => join(built, "butt", &names.sides, &names.long),
        Corners::Rebate => join(built, "rebate", &names.sides, &names.long),
        Corners::Finger => {}
    }
    if spec.base == BaseFit::Glued {
        join(built, "butt", &names.long, &names.base);
        join(built, "butt", &names.sides, &names.base);
    }
}

/// Glues each of some parts to each of others, with the work that they have already.
fn join(built: &mut BuildContext, kind: &'static str, parts: &[String], others: &[String]) {
    for part in parts {
        for other in others {
            let mut keys = held(part, other, "glue");
            keys.push(("work", text("given")));
            built.joint(kind, keys);
        }
    }
}
