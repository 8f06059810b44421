//! Builders: from what an author thinks of (a carcass, a drawer, a tray) to ordinary parts.
//!
//! A builder works on the tree, before parts are read: it makes the same entries that an author would have written
//! under `parts:`. So every feature, check and exporter sees ordinary parts, and the plan can be printed with all of
//! them written out. A part that the plan also lists under `parts:` is made by the builder and changed by the plan
//! (see [`merge`]).
//!
//! Adding one means a module with a [`BuilderKind`] and a line in [`BUILDERS`].

mod base;
mod bracket;
mod build_context;
mod carcass;
mod divider_tray;
mod door;
mod draft;
mod drawer;
mod front;
mod kind;
mod kit;
pub mod merge;
mod rack;

pub use build_context::{BuildContext, BuildOutput, Interior, Room, Wall};
pub use draft::{
    FeatureDraft, Keys, PartDraft, degrees, entry, hardware, length, list, map, number, point, text,
};
pub use kind::BuilderKind;

use jigless_model::diag::{Finding, nearest};

use crate::codes;
use crate::load::{Entry, Value};
use crate::resolve::{Context, Fields};

/// Every kind of builder, in the order in which the manual shows them.
pub static BUILDERS: &[&BuilderKind] = &[
    &base::KIND,
    &carcass::KIND,
    &door::DOOR,
    &door::PAIR,
    &drawer::KIND,
    &rack::KIND,
    &bracket::KIND,
    &divider_tray::KIND,
];

/// Runs every builder that the plan asks for.
pub(crate) fn run(context: Context, builds: &[Entry]) -> BuildOutput {
    let mut made = BuildOutput::default();
    let (mut rooms, mut surfaces, mut interiors) = (Vec::new(), Vec::new(), Vec::new());
    for (number, build) in builds.iter().enumerate() {
        context.names.building(number);
        let Some((kind, fields)) = kind_of(context, build) else {
            made.failed.push(build.key.value.clone());
            context.names.lack();
            continue;
        };
        let mut built = BuildContext {
            name: &build.key.value,
            span: build.key.span,
            context,
            made: &mut made,
            rooms: &mut rooms,
            surfaces: &mut surfaces,
            interiors: &mut interiors,
        };
        // What a builder made before it found a fault is as good as what the author wrote.
        if (kind.build)(&fields, &mut built).is_none() {
            made.failed.push(build.key.value.clone());
            context.names.lack();
        }
        if context.budget.is_broken() {
            break;
        }
    }
    context.names.building(builds.len());
    crate::joint::pair_up(&mut made.parts);
    made
}

fn kind_of<'a>(
    context: Context<'a>,
    build: &'a Entry,
) -> Option<(&'static BuilderKind, Fields<'a>)> {
    let entries = match &build.value.value {
        Value::Map(entries) => entries.as_slice(),
        _ => &[],
    };
    let [entry] = entries else {
        context.find(
            Finding::error(
                codes::BAD_BUILD,
                build.key.span,
                format!("`{}` must have one builder", build.key.value),
            )
            .fix("write a name, and under it one builder with its keys"),
        );
        return None;
    };
    let key = entry.key.value.as_str();
    let Some(kind) = BUILDERS.iter().find(|kind| kind.key == key) else {
        let keys: Vec<&str> = BUILDERS.iter().map(|kind| kind.key).collect();
        context.find(
            Finding::error(
                codes::UNKNOWN_BUILDER,
                entry.key.span,
                format!("there is no builder `{key}`"),
            )
            .fix(match nearest(key, keys.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("the builders are {}", keys.join(", ")),
            }),
        );
        return None;
    };
    let fields = Fields::new(context, kind.key, entry.key.span, &entry.value, kind.fields)?;
    Some((kind, fields))
}

#[cfg(test)]
mod tests {
    use super::BUILDERS;

    #[test]
    fn every_builder_is_named_once_and_documented() {
        for (index, kind) in BUILDERS.iter().enumerate() {
            assert!(BUILDERS[..index].iter().all(|other| other.key != kind.key));
            assert!(!kind.summary.is_empty(), "{}", kind.key);
            for field in kind.fields {
                assert!(!field.help.is_empty(), "{}.{}", kind.key, field.key);
            }
        }
    }
}
