//! Where the parts of a tray are in the whole.

use super::keys::BaseFit;
use super::layout::{Layout, Spec};
use super::seat::Seat;
use crate::build::PartDraft;
use crate::build::kit::placed;
use jigless_model::whole::{Direction, Placement};

/// What lies below the walls: a base that is glued on, in millimetres.
pub(super) fn foot(spec: &Spec, layout: &Layout) -> f64 {
    match spec.base {
        BaseFit::Glued => layout.thickness.base,
        BaseFit::None | BaseFit::Groove => 0.0,
    }
}

/// Gives every part its places, by its role: those of a tray for each seat.
pub(super) fn place(
    drafts: &mut [(&'static str, PartDraft)],
    spec: &Spec,
    layout: &Layout,
    seats: &[Seat],
) {
    for (_, draft) in drafts.iter_mut() {
        draft.group = seats.first().and_then(|seat| seat.group.clone());
        draft.loose = true;
        draft.count *= seats.len() as u32;
    }
    for seat in seats {
        place_one(drafts, spec, layout, seat);
    }
}

fn place_one(drafts: &mut [(&'static str, PartDraft)], spec: &Spec, layout: &Layout, seat: &Seat) {
    let base = layout.thickness.base;
    let foot = foot(spec, layout);
    // The upper side of a base in grooves, on which dividers and linings stand.
    let floor = match spec.base {
        BaseFit::Groove => spec.base_up + layout.thickness.base_thickest,
        BaseFit::None | BaseFit::Glued => foot,
    };
    let tray = Tray { spec, layout, seat };
    let (w, d, t) = (layout.width, layout.depth, layout.thickness.wall);
    for (role, draft) in drafts {
        let run = draft.width;
        match *role {
            "front" | "front-back" | "lining-front-back" => {
                let (in_from, up) = if *role == "lining-front-back" {
                    (t, floor)
                } else {
                    (0.0, foot)
                };
                let front = tray.along_width(draft, (w - run) / 2.0, up, in_from, true);
                let back = tray.along_width(draft, (w - run) / 2.0, up, d - in_from - t, false);
                put(draft, front, back);
            }
            "left" | "sides" | "lining-sides" => {
                let (in_from, up) = if *role == "lining-sides" {
                    (t, floor)
                } else {
                    (0.0, foot)
                };
                let left = tray.along_depth(draft, in_from, up, (d - run) / 2.0, true);
                let right = tray.along_depth(draft, w - in_from - t, up, (d - run) / 2.0, false);
                put(draft, left, right);
            }
            "divider-rows" => {
                let lines = layout.row_lines.iter();
                let places = lines.map(|line| {
                    tray.along_width(draft, (w - run) / 2.0, floor, line - t / 2.0, false)
                });
                let places: Vec<Placement> = places.collect();
                draft.places.extend(places);
            }
            "divider-columns" => {
                let lines = layout.column_lines.iter();
                let places = lines.map(|line| {
                    tray.along_depth(draft, line - t / 2.0, floor, (d - run) / 2.0, true)
                });
                let places: Vec<Placement> = places.collect();
                draft.places.extend(places);
            }
            _ => {
                let up = match spec.base {
                    BaseFit::Groove => floor - base,
                    BaseFit::None | BaseFit::Glued => 0.0,
                };
                let [x, y, z] = seat.corner;
                // Its front face is the underside.
                let at = [
                    x + (w - run) / 2.0,
                    y + up,
                    z - d / 2.0 - draft.height / 2.0,
                ];
                let place = placed(at, Direction::Right, Direction::Front);
                draft.places.push(place);
            }
        }
    }
}

/// Two that are alike, or a handed pair.
fn put(draft: &mut PartDraft, one: Placement, other: Placement) {
    if draft.mirror_as.is_some() {
        draft.places.push(one);
        draft.mirror_places.push(other);
    } else {
        draft.places.extend([one, other]);
    }
}

struct Tray<'a> {
    spec: &'a Spec,
    layout: &'a Layout,
    seat: &'a Seat,
}

impl Tray<'_> {
    /// A part that runs from left to right, `y` from the front. Its front face looks into the tray, where it can be
    /// turned so: two walls that are alike and not the same from both ends are not.
    fn along_width(&self, draft: &PartDraft, x: f64, up: f64, y: f64, at_front: bool) -> Placement {
        let [left, low, front] = self.seat.corner;
        let turned = at_front
            && (draft.mirror_as.is_some()
                || self.is_even(&self.layout.column_lines, self.layout.width));
        let width = if turned {
            Direction::Left
        } else {
            Direction::Right
        };
        let at = [left + x, low + up, front - y - self.layout.thickness.wall];
        placed(at, width, Direction::Up)
    }

    /// A part that runs from front to back, `y` its end at the front.
    fn along_depth(&self, draft: &PartDraft, x: f64, up: f64, y: f64, at_left: bool) -> Placement {
        let [left, low, front] = self.seat.corner;
        let turned = !at_left
            && (draft.mirror_as.is_some()
                || self.is_even(&self.layout.row_lines, self.layout.depth));
        let width = if turned {
            Direction::Front
        } else {
            Direction::Back
        };
        let at = [left + x, low + up, front - y - draft.width];
        placed(at, width, Direction::Up)
    }

    /// Whether dividers stand the same from both ends, as far as their slots show in the walls.
    fn is_even(&self, lines: &[f64], size: f64) -> bool {
        let image = lines.iter().rev().map(|line| size - line);
        let same = lines
            .iter()
            .zip(image)
            .all(|(line, image)| (line - image).abs() <= 1e-6);
        same || self.spec.doubled
    }
}
