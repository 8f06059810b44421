//! A rack for hand tools: a strip with a row of holes, with slots that are open at the front, or with both.
//!
//! With `L` the length of the strip, `e` the distance of the outermost rims from its ends and `n` holes of diameters `d`:
//!
//! | what | formula |
//! |---|---|
//! | wood between neighbours | `(L - 2 e - sum of d) / (n - 1)`, the same everywhere |
//! | middle of a hole | rim of the one before, and that wood, and half of its own diameter |
//! | slots | the same with their widths; each ends in a half circle, `depth` deep to its bottom |

use super::{BuildContext, BuilderKind, FeatureDraft, PartDraft, length, point, text};
use crate::codes;
use crate::resolve::{Distance, Fields, Here, KeySet, Placements, Repeats, Size, Sizes};
use jigless_model::diag::Finding;
use jigless_model::plan::{Grain, Stock};
use jigless_model::side::Edge;
use jigless_model::source::{Span, Spanned};
use std::sync::Arc;

crate::fields! {
    struct RackKeys {
        here: Here,
        /// what it is made of
        stock: Arc<Stock>,
        /// length of the strip
        length: Size,
        /// width of the strip, from back to front
        width: Size,
        /// diameters, one for each tool from the left: a fitted row
        holes: Option<Sizes>,
        /// one diameter for an even row; with `count`
        diameter: Option<Size>,
        /// how many holes of one diameter
        count: Option<Repeats>,
        /// widths of slots that are open at the front, one for each tool from the left
        slots: Option<Sizes>,
        /// how far the slots reach in; half the width where nothing is said
        slot_depth: Option<Size>,
        /// from the back edge to the middle of the holes; half the width, or a quarter where there are slots, where
        /// nothing is said
        holes_back: Option<Size>,
        /// from the ends of the strip to the outermost rims
        end: Distance = "15 mm" [CommonPractice],
        /// where it is in the assembly
        place: Option<Placements>,
    }
}

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "rack",
    summary: "a strip with an even or fitted row of holes, open slots or both, for hand tools",
    fields: RackKeys::FIELDS,
    build,
};

/// Wood that stays between two holes, in millimetres (common practice, no source).
const LEAST: f64 = 5.0;

fn build(fields: &Fields, built: &mut BuildContext) -> Option<()> {
    let keys = RackKeys::read(fields)?;
    let holes = match (&keys.holes, keys.diameter) {
        (Some(holes), _) => values(holes),
        (None, Some(diameter)) => vec![diameter; keys.count.unwrap_or(1) as usize],
        (None, None) => Vec::new(),
    };
    let slots = keys.slots.as_deref().map_or_else(Vec::new, values);
    if holes.is_empty() && slots.is_empty() {
        fields.exactly_one(&["holes", "diameter", "slots"]);
        return None;
    }
    let RackKeys { here, width, .. } = keys;
    let (run, end) = (keys.length, keys.end);
    let usual = if slots.is_empty() { 2.0 } else { 4.0 };
    let up = width - keys.holes_back.unwrap_or(width / usual);
    let slot_depth = keys.slot_depth.unwrap_or(width / 2.0);
    let mut features: Vec<FeatureDraft> = Vec::new();
    for (index, (middle, diameter)) in spread(built, here, &holes, run, end)?.iter().enumerate() {
        let own = vec![
            ("at", point(built.span, *middle, up)),
            ("diameter", length(*diameter)),
            ("label", text(&format!("tool {}", index + 1))),
        ];
        features.push(("hole", own));
    }
    for (index, (middle, slot)) in spread(built, here, &slots, run, end)?.iter().enumerate() {
        let own = vec![
            ("edge", text("bottom")),
            ("start", length(middle - slot / 2.0)),
            ("width", length(*slot)),
            ("depth", length(slot_depth)),
            // A little less than half, so that two corners never meet in one point.
            ("corner_radius", length((slot / 2.0 - 0.01).max(0.0))),
            ("label", text(&format!("slot {}", index + 1))),
        ];
        features.push(("notch", own));
    }
    let places = keys.place.unwrap_or_default();
    let draft = PartDraft {
        title: "Rack".to_owned(),
        stock: keys.stock.id.clone(),
        width: run,
        height: width,
        grain: Grain::Width,
        places: places.into_iter().map(|place| place.value).collect(),
        edges: vec![(Edge::Bottom, "front edge"), (Edge::Top, "back edge")],
        features,
        ..PartDraft::new()
    };
    built.named_part(built.name.to_owned(), draft);
    Some(())
}

fn values(sizes: &[Spanned<f64>]) -> Vec<f64> {
    sizes.iter().map(|size| size.value).collect()
}

/// The middles of openings with the same wood between all of them.
fn spread(
    built: &BuildContext,
    here: Span,
    sizes: &[f64],
    run: f64,
    end: f64,
) -> Option<Vec<(f64, f64)>> {
    let total: f64 = sizes.iter().sum();
    let free = run - 2.0 * end - total;
    if let [one] = sizes {
        return Some(vec![(run / 2.0, *one)]);
    }
    if sizes.is_empty() {
        return Some(Vec::new());
    }
    let between = free / (sizes.len() - 1) as f64;
    if between < LEAST {
        built.find(
            Finding::error(
                codes::NO_ROOM,
                here,
                format!(
                    "{} openings of {} together leave {} between neighbours",
                    sizes.len(),
                    built.show(total),
                    built.show(between)
                ),
            )
            .fix(format!(
                "make the strip {} longer, or use fewer",
                built.show((LEAST - between) * (sizes.len() - 1) as f64)
            )),
        );
        return None;
    }
    let mut at = end;
    let middles = sizes.iter().map(|size| {
        let middle = at + size / 2.0;
        at += size + between;
        (middle, *size)
    });
    Some(middles.collect())
}
