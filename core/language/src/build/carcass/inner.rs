//! What is inside the frame: fixed shelves, dividers, stretchers and loose shelves.

use super::frame::{CarcassFrame, SIDES};
use super::keys::{Against, DividerKeys, Ends, Lies, LooseKeys, ShelfKeys};
use crate::build::kit::{blind_depth, flat, held, placed, upright};
use crate::build::{BuildContext, PartDraft, length, map, number, text};
use crate::codes;
use jigless_model::diag::{Finding, nearest};
use jigless_model::hardware::FittingKind;
use jigless_model::plan::Grain;
use jigless_model::side::Edge;
use jigless_model::source::Spanned;
use jigless_model::whole::{Box3, Direction, Placement, Triple};

/// One floor: what is below it, where it begins and ends, and what divides it.
#[derive(Debug)]
pub(super) struct Floor {
    pub(super) name: String,
    pub(super) low: f64,
    pub(super) high: f64,
    /// The part below, and the part above if there is one.
    below: String,
    above: Option<String>,
    /// The dividers from the left.
    pub(super) dividers: Vec<Divider>,
    /// How far the dividers' back edges stay in front of the back.
    pub(super) short: f64,
}

/// A divider.
#[derive(Debug)]
pub(super) struct Divider {
    pub(super) name: String,
    /// Its left side, from the left side of the carcass.
    pub(super) left: f64,
    /// Which of the dividers that the plan describes it is.
    described: usize,
}

impl Divider {
    /// Its place, and its width, height and thickness.
    pub(super) fn placed(&self, frame: &CarcassFrame, floor: &Floor) -> (Placement, Triple) {
        let back = frame.back_plane() + floor.short;
        let at = frame.at(self.left, floor.low, back);
        let size = [
            frame.keys.depth - frame.back_plane() - floor.short,
            floor.high - floor.low,
            frame.t(),
        ];
        (placed(at, Direction::Back, Direction::Up), size)
    }
}

/// The floors from the bottom up.
#[derive(Debug)]
pub(super) struct Floors {
    pub(super) floors: Vec<Floor>,
}

impl Floors {
    pub(super) fn new(built: &BuildContext, frame: &CarcassFrame) -> Option<Floors> {
        let outside: Vec<&ShelfKeys> = frame
            .keys
            .shelves
            .iter()
            .filter(|shelf| {
                let low = shelf.up.value;
                low < frame.floor() || low + frame.t() > frame.ceiling()
            })
            .collect();
        for shelf in &outside {
            let (low, high) = (frame.floor(), frame.ceiling() - frame.t());
            let message = format!(
                "a shelf at {} is not between bottom and top",
                built.show(shelf.up.value)
            );
            let (low, high) = (built.show(low), built.show(high));
            built.find(
                Finding::error(codes::SHELF_OUTSIDE, shelf.up.span, message)
                    .fix(format!("keep it between {low} and {high}")),
            );
        }
        if !outside.is_empty() {
            return None;
        }
        let mut floors = Vec::new();
        let mut below = "bottom".to_owned();
        let mut low = frame.floor();
        let mut end = |below: &str, low: f64, high: f64, above: Option<String>| {
            floors.push(Floor {
                name: below.to_owned(),
                low,
                high,
                below: frame.id(below),
                above,
                dividers: Vec::new(),
                short: 0.0,
            });
        };
        for shelf in shelves(frame) {
            end(&below, low, shelf.up.value, Some(frame.id(&shelf.name)));
            below.clone_from(&shelf.name);
            low = shelf.up.value + frame.t();
        }
        let top = frame.has_top().then(|| frame.id("top"));
        end(&below, low, frame.ceiling(), top);
        let mut all = Floors { floors };
        for (number, divider) in frame.keys.dividers.iter().enumerate() {
            all.divide(built, frame, number, divider)?;
        }
        Some(all)
    }

    fn divide(
        &mut self,
        built: &BuildContext,
        frame: &CarcassFrame,
        described: usize,
        keys: &DividerKeys,
    ) -> Option<()> {
        let index = self.index(built, &keys.stands_on)?;
        let floor = self.floors.get_mut(index)?;
        let (t, count) = (frame.t(), keys.count);
        built.context.charge(count as usize, built.span)?;
        let bay = (frame.clear() - f64::from(count) * t) / f64::from(count + 1);
        for number in 0..count {
            let left = match keys.middle {
                Some(middle) if count == 1 => t + middle - t / 2.0,
                _ => t + bay + f64::from(number) * (bay + t),
            };
            let name = if count == 1 {
                keys.name.clone()
            } else {
                format!("{}-{}", keys.name, number + 1)
            };
            floor.dividers.push(Divider {
                name,
                left,
                described,
            });
        }
        floor.dividers.sort_by(|a, b| a.left.total_cmp(&b.left));
        floor.short = keys.short;
        Some(())
    }

    fn index(&self, built: &BuildContext, name: &Spanned<String>) -> Option<usize> {
        let found = self
            .floors
            .iter()
            .position(|floor| floor.name == name.value);
        if found.is_none() {
            let names: Vec<&str> = self
                .floors
                .iter()
                .map(|floor| floor.name.as_str())
                .collect();
            built.find(
                Finding::error(
                    codes::UNKNOWN_ROOM,
                    name.span,
                    format!("there is no `{}` to stand on", name.value),
                )
                .fix(match nearest(&name.value, names.iter().copied()) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("write one of {}", names.join(", ")),
                }),
            );
        }
        found
    }
}

/// The fixed shelves from the bottom up.
fn shelves(frame: &CarcassFrame) -> Vec<&ShelfKeys> {
    let mut shelves: Vec<&ShelfKeys> = frame.keys.shelves.iter().collect();
    shelves.sort_by(|a, b| a.up.value.total_cmp(&b.up.value));
    shelves
}

/// Makes the inner parts and their joints.
pub(super) fn make(built: &mut BuildContext, frame: &CarcassFrame, floors: &Floors) -> Option<()> {
    make_shelves(built, frame);
    make_dividers(built, frame, floors);
    make_stretchers(built, frame);
    for loose in &frame.keys.loose {
        make_loose(built, frame, floors, loose)?;
    }
    Some(())
}

fn make_shelves(built: &mut BuildContext, frame: &CarcassFrame) {
    let depth = frame.keys.depth - frame.back_plane();
    for shelf in shelves(frame) {
        let reach = match shelf.joint {
            Ends::Housing => shelf.depth - shelf.play / 2.0,
            Ends::Butt => 0.0,
        };
        let at = frame.at(frame.t() - reach, shelf.up.value, frame.back_plane());
        let size = (frame.clear() + 2.0 * reach, depth);
        let id = frame.id(&shelf.name);
        built.named_part(id.clone(), frame.shelf(&titled(&shelf.name), size, at));
        for side in SIDES.map(|side| frame.id(side)) {
            match shelf.joint {
                Ends::Housing => {
                    let mut keys = held(&id, &side, "glue");
                    keys.push(("depth", length(shelf.depth)));
                    keys.push(("slip", length(frame.keys.slip)));
                    built.joint("housing", keys);
                }
                Ends::Butt => built.joint("butt", frame.joint(&id, &side, frame.keys.with)),
            }
        }
    }
}

fn make_dividers(built: &mut BuildContext, frame: &CarcassFrame, floors: &Floors) {
    for floor in &floors.floors {
        for divider in &floor.dividers {
            let keys = &frame.keys.dividers[divider.described];
            let (place, size) = divider.placed(frame, floor);
            let draft = PartDraft {
                title: titled(&divider.name),
                width: size[0],
                height: size[1],
                places: vec![place],
                edges: vec![(Edge::Left, "front edge"), (Edge::Right, "back edge")],
                ..upright(&frame.keys.stock)
            };
            let id = frame.id(&divider.name);
            built.named_part(id.clone(), draft);
            for to in std::iter::once(&floor.below).chain(&floor.above) {
                let mut joint = held(&id, to, keys.with.name());
                joint.extend(keys.at.clone().map(|at| ("at", at)));
                built.joint("butt", joint);
            }
        }
    }
}

/// What the stretchers take of the room of a floor: from below and from above, those at the front; and the boxes of those
/// at the back.
pub(super) fn taken(frame: &CarcassFrame, floors: &Floors, index: usize) -> Taken {
    let mut taken = Taken::default();
    for keys in &frame.keys.stretchers {
        let (corner, up, deep) = frame.stretcher(keys);
        let here = match keys.place {
            Against::BackTop | Against::FrontTop => index + 1 == floors.floors.len(),
            Against::BackBottom | Against::FrontBottom => index == 0,
        };
        if !here {
            continue;
        }
        match keys.place {
            Against::FrontTop => taken.above = taken.above.max(up),
            Against::FrontBottom => taken.below = taken.below.max(up),
            Against::BackTop | Against::BackBottom => {
                let far = [corner[0] + frame.clear(), corner[1] + up, corner[2] + deep];
                taken.behind.push(Box3::new(corner, far));
            }
        }
        match keys.place {
            Against::BackTop | Against::FrontTop => taken.highest = taken.highest.max(up),
            Against::BackBottom | Against::FrontBottom => taken.lowest = taken.lowest.max(up),
        }
    }
    taken
}

/// What stretchers take of a room, in millimetres.
#[derive(Debug, Default)]
pub(super) struct Taken {
    /// From its lower end, at the front.
    pub(super) below: f64,
    /// From its upper end, at the front.
    pub(super) above: f64,
    /// At the back.
    pub(super) behind: Vec<Box3>,
    /// From its lower and upper end, at the front or at the back.
    lowest: f64,
    highest: f64,
}

fn make_stretchers(built: &mut BuildContext, frame: &CarcassFrame) {
    for keys in &frame.keys.stretchers {
        let size = keys.size;
        let (at, ..) = frame.stretcher(keys);
        let place = match keys.lies {
            Lies::Upright => flat(at),
            Lies::Flat => placed(at, Direction::Right, Direction::Back),
        };
        let draft = PartDraft {
            title: titled(&keys.name),
            width: frame.clear(),
            height: size,
            grain: Grain::Width,
            places: vec![place],
            ..upright(&frame.keys.stock)
        };
        let id = frame.id(&keys.name);
        built.named_part(id.clone(), draft);
        for side in SIDES {
            built.joint("butt", held(&id, &frame.id(side), keys.with.name()));
        }
    }
}

fn make_loose(
    built: &mut BuildContext,
    frame: &CarcassFrame,
    floors: &Floors,
    keys: &LooseKeys,
) -> Option<()> {
    let LooseKeys { pins, step, .. } = *keys;
    let index = floors.index(built, &keys.above)?;
    let (floor, taken) = (&floors.floors[index], taken(frame, floors, index));
    let lowest = floor.low + keys.first;
    let highest = lowest + f64::from(pins - 1) * step;
    let (low, high) = (floor.low + taken.lowest, floor.high - taken.highest);
    if lowest - PIN / 2.0 < low {
        built.find(
            Finding::error(
                codes::NO_ROOM,
                keys.here,
                format!(
                    "the lowest pins at {} are where a stretcher reaches up to {}",
                    built.show(lowest),
                    built.show(low)
                ),
            )
            .fix(format!(
                "write `first: {}` or more",
                built.show(low + PIN / 2.0 - floor.low)
            )),
        );
        return None;
    }
    if highest + PIN / 2.0 + frame.t() > high {
        built.find(
            Finding::error(
                codes::NO_ROOM,
                keys.here,
                format!(
                    "a shelf on the highest of {pins} pins at {} reaches over {}, where its room ends",
                    built.show(highest),
                    built.show(high)
                ),
            )
            .fix("begin lower, or use fewer pins"),
        );
        return None;
    }
    let pin_of = |number: u32| pins * number / (keys.count + 1);
    let apart = (1..keys.count).map(|number| pin_of(number + 1) - pin_of(number));
    let least = apart.min().map(|holes| f64::from(holes) * step);
    if let Some(least) = least.filter(|least| *least < frame.t() + PIN) {
        built.find(
            Finding::error(
                codes::NO_ROOM,
                keys.here,
                format!(
                    "{} shelves on {pins} pins stand {} apart, and each is {} thick",
                    keys.count,
                    built.show(least),
                    built.show(frame.t())
                ),
            )
            .fix("use fewer shelves, or more pins"),
        );
        return None;
    }
    let setbacks = [
        ("left", length(keys.pin_setback)),
        ("right", length(frame.back_plane() + keys.pin_setback)),
    ];
    let rows = vec![
        ("setback", map(built.span, setbacks)),
        // The rows stand in the sides, so their heights count from the lower ends of the sides.
        ("first", length(lowest - frame.side_low())),
        ("step", length(step)),
        ("count", number(pins)),
        ("diameter", length(PIN)),
        (
            "depth",
            length(blind_depth(keys.pin_depth, 10.0, frame.t())),
        ),
        ("label", text(&format!("pins of {}", keys.name))),
    ];
    built.feature(&frame.id("side-left"), None, "pin_rows", rows);
    let places = (1..=keys.count).map(|number| {
        let y = lowest + f64::from(pin_of(number)) * step + PIN / 2.0;
        let at = frame.at(frame.t() + keys.gap, y, frame.back_plane());
        placed(at, Direction::Right, Direction::Back)
    });
    let size = (
        frame.clear() - 2.0 * keys.gap,
        frame.keys.depth - frame.back_plane() - keys.setback,
    );
    let draft = PartDraft {
        count: keys.count,
        places: places.collect(),
        fittings: vec![(FittingKind::ShelfPin, 4)],
        ..frame.shelf("Loose shelf", size, [0.0; 3])
    };
    built.named_part(frame.id(&keys.name), draft);
    Some(())
}

/// Diameter of a shelf pin (32 mm system, common practice, no source), in millimetres.
const PIN: f64 = 5.0;

/// A name as a title: `kick-board` as `Kick board`.
fn titled(name: &str) -> String {
    let spaced = name.replace(['-', '_'], " ");
    let mut letters = spaced.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
