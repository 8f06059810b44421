//! The parts of a tray.

use super::layout::{Base, Corners, Layout, Spec};
use crate::build::{PartDraft, length, map, text};
use crate::load::Value;

/// A feature: its key and its fields.
type Feature = (&'static str, Vec<(&'static str, Value)>);

/// Room for a base in its grooves, in millimetres over its whole width. Common practice, no source.
const BASE_PLAY: f64 = 1.0;

/// All parts by their role.
pub(super) fn drafts(spec: &Spec, layout: &Layout) -> Vec<(&'static str, PartDraft)> {
    let mut drafts = Vec::new();
    let (w, d) = (layout.width, layout.depth);
    let t = layout.thickness.wall;
    let shorter = match spec.corners {
        Corners::Butt => t,
        // The end of a side stands in a rebate half the thickness deep.
        Corners::Rebate => t / 2.0,
        Corners::Finger => 0.0,
    };
    let front = wall(spec, layout, Which::Front, w, 0.0);
    let side = wall(spec, layout, Which::Side, d - 2.0 * shorter, shorter);
    add_walls(
        &mut drafts,
        ("front", "back"),
        ("front-back", "Front and back"),
        front,
    );
    add_walls(&mut drafts, ("left", "right"), ("sides", "Side"), side);
    if spec.doubled {
        let front = lining(spec, layout, Which::Front, w - 2.0 * t, t);
        let side = lining(spec, layout, Which::Side, d - 4.0 * t, 2.0 * t);
        drafts.push(("lining-front-back", front));
        drafts.push(("lining-sides", side));
    }
    if !layout.row_lines.is_empty() {
        drafts.push(("divider-rows", divider(spec, layout, Which::Front)));
    }
    if !layout.column_lines.is_empty() {
        drafts.push(("divider-columns", divider(spec, layout, Which::Side)));
    }
    if let Some(base) = base(spec, layout) {
        drafts.push(("base", base));
    }
    drafts
}

/// Which way a wall or divider runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Which {
    /// From left to right.
    Front,
    /// From front to back.
    Side,
}

/// Two walls that are alike, or, where turning one over would bring its blind work outside, a handed pair.
fn add_walls(
    drafts: &mut Vec<(&'static str, PartDraft)>,
    pair: (&'static str, &'static str),
    both: (&'static str, &'static str),
    (mut draft, handed): (PartDraft, bool),
) {
    if handed {
        let name = if pair.0 == "front" {
            "Front"
        } else {
            "Left side"
        };
        draft.title = draft.title.replacen("Wall", name, 1);
        draft.count = 1;
        draft.mirror_as = Some(pair.1.to_owned());
        drafts.push((pair.0, draft));
    } else {
        draft.title = draft.title.replacen("Wall", both.1, 1);
        drafts.push((both.0, draft));
    }
}

/// An outer wall, and whether the two of its kind are a handed pair. `from` is where it begins in the tray.
fn wall(spec: &Spec, layout: &Layout, which: Which, run: f64, from: f64) -> (PartDraft, bool) {
    let t = layout.thickness.wall;
    let height = spec.height.value;
    let mut features = Vec::new();
    let (lines, middles) = crossing(layout, which);
    let takes_dividers = !spec.doubled;
    if takes_dividers {
        features.extend(lines.iter().map(|line| slot(layout, "top", line - from)));
    }
    if spec.cuts.is_some_and(|cuts| cuts.on_walls) {
        features.extend(finger_cuts(spec, middles, from));
    }
    if spec.corners == Corners::Finger {
        features.extend(fingers(layout, which));
    }
    let mut blind = false;
    if spec.corners == Corners::Rebate && which == Which::Front {
        blind = true;
        features.push((
            "rebate",
            vec![
                (
                    "edge",
                    crate::build::list(spec.span, [text("left"), text("right")]),
                ),
                ("width", length(layout.thickness.wall_thickest)),
                ("depth", length(t / 2.0)),
                ("label", text("corner")),
            ],
        ));
    }
    if let Base::Groove(up) = spec.base {
        blind = true;
        features.push(base_groove(spec, layout, which, up.value));
    }
    let handed = blind && takes_dividers && is_uneven(lines, from, run);
    let draft = PartDraft {
        title: titled(spec, layout, "Wall", takes_dividers && !lines.is_empty()),
        stock: spec.stock.clone(),
        width: run,
        height,
        count: 2,
        faces: vec![
            ("front", "inside".to_owned()),
            ("back", "outside".to_owned()),
        ],
        features,
        ..PartDraft::default()
    };
    (draft, handed)
}

/// The lining of a wall, as high as the dividers.
fn lining(spec: &Spec, layout: &Layout, which: Which, run: f64, from: f64) -> PartDraft {
    let (lines, middles) = crossing(layout, which);
    let mut features: Vec<Feature> = lines
        .iter()
        .map(|line| slot(layout, "top", line - from))
        .collect();
    if spec.cuts.is_some_and(|cuts| cuts.on_walls) {
        features.extend(finger_cuts(spec, middles, from));
    }
    let name = match which {
        Which::Front => "Lining of front and back",
        Which::Side => "Lining of the sides",
    };
    PartDraft {
        title: titled(spec, layout, name, !lines.is_empty()),
        stock: spec.stock.clone(),
        width: run,
        height: layout.divider_height,
        count: 2,
        faces: vec![("back", "hidden, against the wall".to_owned())],
        features,
        ..PartDraft::default()
    }
}

/// A divider. Its ends hang with their upper halves in the slots of the walls.
fn divider(spec: &Spec, layout: &Layout, which: Which) -> PartDraft {
    let across = match which {
        Which::Front => layout.width,
        Which::Side => layout.depth,
    };
    let run = if spec.doubled {
        // Between the outer walls, with the clearance of a slot.
        across - 2.0 * layout.thickness.wall_thickest - spec.clearance
    } else {
        across
    };
    let from = (across - run) / 2.0;
    let (lines, middles) = crossing(layout, which);
    // Dividers between rows are slotted from above, those between columns from below.
    let (edge, name, count) = match which {
        Which::Front => ("top", "Divider between rows", layout.row_lines.len()),
        Which::Side => (
            "bottom",
            "Divider between columns",
            layout.column_lines.len(),
        ),
    };
    let mut features: Vec<Feature> = lines
        .iter()
        .map(|line| slot(layout, edge, line - from))
        .collect();
    for start in [0.0, run - layout.slot] {
        let mut notch = slot(layout, "bottom", start + layout.slot / 2.0);
        notch.1.push(("label", text("end")));
        features.push(notch);
    }
    if spec.cuts.is_some_and(|cuts| cuts.on_dividers) {
        features.extend(finger_cuts(spec, middles, from));
    }
    PartDraft {
        title: titled(spec, layout, name, true),
        stock: spec.stock.clone(),
        width: run,
        height: layout.divider_height,
        count: count as u32,
        features,
        ..PartDraft::default()
    }
}

fn base(spec: &Spec, layout: &Layout) -> Option<PartDraft> {
    let t = layout.thickness.wall;
    let (less, title) = match spec.base {
        Base::None => return None,
        Base::Glued => (0.0, "Base, glued below"),
        // Half the thickness of the walls deep in each groove.
        Base::Groove(_) => (t + BASE_PLAY, "Base, in the grooves of the walls"),
    };
    Some(PartDraft {
        title: title.to_owned(),
        stock: spec.base_stock.clone(),
        width: layout.width - less,
        height: layout.depth - less,
        count: 1,
        faces: vec![
            ("front", "underside".to_owned()),
            ("back", "inside".to_owned()),
        ],
        ..PartDraft::default()
    })
}

/// What a wall or divider meets: the dividers that cross it, and the middles of the compartments along it.
fn crossing(layout: &Layout, which: Which) -> (&[f64], &[f64]) {
    match which {
        Which::Front => (&layout.column_lines, &layout.column_middles),
        Which::Side => (&layout.row_lines, &layout.row_middles),
    }
}

fn is_uneven(lines: &[f64], from: f64, run: f64) -> bool {
    let mirrored = lines.iter().rev().map(|line| run + 2.0 * from - line);
    lines
        .iter()
        .zip(mirrored)
        .any(|(line, image)| (line - image).abs() > 1e-6)
}

/// A slot about a middle.
fn slot(layout: &Layout, edge: &str, middle: f64) -> Feature {
    notch(edge, middle - layout.slot / 2.0, layout.slot, layout.lap)
}

fn notch(edge: &str, start: f64, width: f64, depth: f64) -> Feature {
    let fields = vec![
        ("edge", text(edge)),
        ("start", length(start.max(0.0))),
        ("width", length(width)),
        ("depth", length(depth)),
    ];
    ("notch", fields)
}

fn finger_cuts(spec: &Spec, middles: &[f64], from: f64) -> Vec<Feature> {
    let Some(cuts) = spec.cuts else {
        return Vec::new();
    };
    let (width, depth) = (cuts.width.value, cuts.depth.value);
    let cut = |middle: &f64| {
        let mut cut = notch("top", middle - from - width / 2.0, width, depth);
        // A little less than the most, so that two roundings do not use up the whole side between them.
        let radius = (depth.min(width / 2.0) - 0.1).max(0.0);
        cut.1.push(("corner_radius", length(radius)));
        cut.1.push(("mating", text("false")));
        cut
    };
    middles.iter().map(cut).collect()
}

/// The front keeps the fingers at both ends of a corner, the sides those between.
fn fingers(layout: &Layout, which: Which) -> Vec<Feature> {
    let (count, pitch) = layout.fingers;
    let first = match which {
        Which::Front => 1,
        Which::Side => 0,
    };
    let mut features = Vec::new();
    for edge in ["left", "right"] {
        for index in (first..count).step_by(2) {
            let start = index as f64 * pitch;
            features.push(notch(edge, start, pitch, layout.thickness.wall_thickest));
        }
    }
    features
}

/// The groove stays clear of the outside of the corners.
fn base_groove(spec: &Spec, layout: &Layout, which: Which, up: f64) -> Feature {
    let t = layout.thickness.wall;
    let stop = match (spec.corners, which) {
        (Corners::Butt | Corners::Rebate, Which::Side) => 0.0,
        _ => t / 2.0,
    };
    let from = map(spec.span, [("bottom", length(up))]);
    let mut fields = vec![
        ("along", text("width")),
        ("from", from),
        (
            "width",
            length(layout.thickness.base_thickest + spec.clearance),
        ),
        ("depth", length(t / 2.0)),
        ("label", text("base")),
    ];
    if stop > 0.0 {
        let stop = map(spec.span, [("start", length(stop)), ("end", length(stop))]);
        fields.push(("stop", stop));
    }
    ("groove", fields)
}

/// The fit is printed wherever the part's name is.
fn titled(spec: &Spec, layout: &Layout, name: &str, has_slots: bool) -> String {
    if !has_slots {
        return name.to_owned();
    }
    format!(
        "{name}, slots {} ({} thickest, {} {})",
        spec.unit.show(layout.slot),
        spec.unit.show(layout.thickness.wall_thickest),
        spec.fit,
        spec.unit.show(spec.clearance)
    )
}
