//! The parts of a tray.

use super::keys::{BaseFit, Corners, CutIn};
use super::layout::{Layout, Spec};
use crate::build::kit::INSIDE_OUT;
use crate::build::{FeatureDraft, PartDraft, length, list, map, text};
use jigless_model::side::{Edge, Face};

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
    drafts.push(wall(spec, layout, Which::Front, w, 0.0));
    drafts.push(wall(spec, layout, Which::Side, d - 2.0 * shorter, shorter));
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

/// An outer wall with its role: two that are alike, or, where turning one over would bring its blind work outside, a
/// handed pair. `from` is where it begins in the tray.
fn wall(
    spec: &Spec,
    layout: &Layout,
    which: Which,
    run: f64,
    from: f64,
) -> (&'static str, PartDraft) {
    let t = layout.thickness.wall;
    let mut features = Vec::new();
    let (lines, middles) = crossing(layout, which);
    let takes_dividers = !spec.doubled;
    let blind =
        spec.base == BaseFit::Groove || (spec.corners == Corners::Rebate && which == Which::Front);
    let handed = blind && takes_dividers && is_uneven(lines, from, run);
    // A front wall of a pair is drawn as it is seen from inside, from right to left.
    let seen = |places: &[f64]| -> Vec<f64> {
        let flip = handed && which == Which::Front;
        let places = places.iter();
        places
            .map(|place| {
                if flip {
                    run + 2.0 * from - place
                } else {
                    *place
                }
            })
            .collect()
    };
    let (lines, middles) = (&seen(lines)[..], &seen(middles)[..]);
    if takes_dividers {
        features.extend(
            lines
                .iter()
                .map(|line| slot(layout, Edge::Top, line - from)),
        );
    }
    features.extend(finger_cuts(spec, CutIn::Walls, middles, from));
    if spec.corners == Corners::Finger {
        features.extend(fingers(layout, which));
    }
    if spec.corners == Corners::Rebate && which == Which::Front {
        let ends = [Edge::Left, Edge::Right].map(|edge| text(edge.name()));
        let keys = vec![
            ("edge", list(spec.span, ends)),
            ("width", length(layout.thickness.wall_thickest)),
            ("depth", length(t / 2.0)),
            ("label", text("corner")),
        ];
        features.push(("rebate", keys));
    }
    if spec.base == BaseFit::Groove {
        features.push(base_groove(spec, layout, which));
    }
    let (role, pair, name) = match (which, handed) {
        (Which::Front, true) => ("front", Some(("back", "Back")), "Front"),
        (Which::Front, false) => ("front-back", None, "Front and back"),
        (Which::Side, true) => ("left", Some(("right", "Right side")), "Left side"),
        (Which::Side, false) => ("sides", None, "Side"),
    };
    let has_slots = takes_dividers && !lines.is_empty();
    let draft = PartDraft {
        title: titled(spec, layout, name, has_slots),
        mirror_title: pair.map(|(_, name)| titled(spec, layout, name, has_slots)),
        stock: spec.stock.clone(),
        width: run,
        height: spec.height.value,
        count: if handed { 1 } else { 2 },
        mirror_as: pair.map(|(other, _)| other.to_owned()),
        // Of two that are alike and not the same from both ends, one has its front face outside.
        faces: if handed || !is_uneven(lines, from, run) {
            INSIDE_OUT.to_vec()
        } else {
            Vec::new()
        },
        features,
        ..PartDraft::default()
    };
    (role, draft)
}

/// The lining of a wall, as high as the dividers.
fn lining(spec: &Spec, layout: &Layout, which: Which, run: f64, from: f64) -> PartDraft {
    let (lines, middles) = crossing(layout, which);
    let mut features: Vec<FeatureDraft> = lines
        .iter()
        .map(|line| slot(layout, Edge::Top, line - from))
        .collect();
    features.extend(finger_cuts(spec, CutIn::Walls, middles, from));
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
        faces: vec![(Face::Back, "hidden, against the wall")],
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
        Which::Front => (Edge::Top, "Divider between rows", layout.row_lines.len()),
        Which::Side => (
            Edge::Bottom,
            "Divider between columns",
            layout.column_lines.len(),
        ),
    };
    let mut features: Vec<FeatureDraft> = lines
        .iter()
        .map(|line| slot(layout, edge, line - from))
        .collect();
    for start in [0.0, run - layout.slot] {
        let mut notch = slot(layout, Edge::Bottom, start + layout.slot / 2.0);
        notch.1.push(("label", text("end")));
        features.push(notch);
    }
    features.extend(finger_cuts(spec, CutIn::Dividers, middles, from));
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
        BaseFit::None => return None,
        BaseFit::Glued => (0.0, "Base, glued below"),
        // Half the thickness of the walls deep in each groove.
        BaseFit::Groove => (t + BASE_PLAY, "Base, in the grooves of the walls"),
    };
    Some(PartDraft {
        title: title.to_owned(),
        stock: spec.base_stock.clone(),
        width: layout.width - less,
        height: layout.depth - less,
        count: 1,
        faces: vec![(Face::Front, "underside"), (Face::Back, "inside")],
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
fn slot(layout: &Layout, edge: Edge, middle: f64) -> FeatureDraft {
    notch(edge, middle - layout.slot / 2.0, layout.slot, layout.lap)
}

fn notch(edge: Edge, start: f64, width: f64, depth: f64) -> FeatureDraft {
    let fields = vec![
        ("edge", text(edge.name())),
        ("start", length(start.max(0.0))),
        ("width", length(width)),
        ("depth", length(depth)),
    ];
    ("notch", fields)
}

/// The hollows of a wall or divider, where it has any.
fn finger_cuts(spec: &Spec, what: CutIn, middles: &[f64], from: f64) -> Vec<FeatureDraft> {
    let Some(cuts) = spec
        .cuts
        .as_ref()
        .filter(|cuts| cuts.cut == what || cuts.cut == CutIn::Both)
    else {
        return Vec::new();
    };
    let (width, depth) = (cuts.width.value, cuts.depth.value);
    let cut = |middle: &f64| {
        let mut cut = notch(Edge::Top, middle - from - width / 2.0, width, depth);
        // A little less than the most, so that two roundings do not use up the whole side between them.
        let radius = (depth.min(width / 2.0) - 0.1).max(0.0);
        cut.1.push(("corner_radius", length(radius)));
        cut.1.push(("mating", text("false")));
        cut
    };
    middles.iter().map(cut).collect()
}

/// The front keeps the fingers at both ends of a corner, the sides those between.
fn fingers(layout: &Layout, which: Which) -> Vec<FeatureDraft> {
    let (count, pitch) = layout.fingers;
    let first = match which {
        Which::Front => 1,
        Which::Side => 0,
    };
    let mut features = Vec::new();
    for edge in [Edge::Left, Edge::Right] {
        for index in (first..count).step_by(2) {
            let start = index as f64 * pitch;
            features.push(notch(edge, start, pitch, layout.thickness.wall_thickest));
        }
    }
    features
}

/// The groove stays clear of the outside of the corners.
fn base_groove(spec: &Spec, layout: &Layout, which: Which) -> FeatureDraft {
    let t = layout.thickness.wall;
    let stop = match (spec.corners, which) {
        (Corners::Butt | Corners::Rebate, Which::Side) => 0.0,
        _ => t / 2.0,
    };
    let from = map(spec.span, [("bottom", length(spec.base_up))]);
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

/// The width of its slots is printed wherever the part's name is, since it is what a saw or laser is set to.
fn titled(spec: &Spec, layout: &Layout, name: &str, has_slots: bool) -> String {
    if !has_slots {
        return name.to_owned();
    }
    format!("{name}, slots {}", spec.unit.show(layout.slot))
}
