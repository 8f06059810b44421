//! What is inside the frame: fixed shelves, dividers, stretchers and loose shelves.

use jigless_model::diag::{Finding, nearest};
use jigless_model::hardware::FittingKind;
use jigless_model::plan::Grain;
use jigless_model::source::Spanned;
use jigless_model::whole::{Direction, Placement};

use super::frame::Frame;
use crate::build::kit::{copied, flat, held, maps, upright};
use crate::build::{Built, PartDraft, length, map, text};
use crate::codes;
use crate::resolve::Fields;

/// A fixed shelf.
#[derive(Debug)]
struct Shelf {
    name: String,
    low: f64,
    housed: Option<(f64, f64)>,
}

/// One floor: what is below it, where it begins and ends, and what divides it.
#[derive(Debug)]
pub(super) struct Floor {
    pub(super) name: String,
    pub(super) low: f64,
    pub(super) high: f64,
    /// The part below, and the part above if there is one.
    below: String,
    above: Option<String>,
    /// The dividers from the left: their names and left sides from the left side of the carcass.
    pub(super) dividers: Vec<(String, f64)>,
    /// How far the dividers' back edges stay in front of the back.
    pub(super) short: f64,
}

/// The floors from the bottom up.
#[derive(Debug)]
pub(super) struct Floors {
    shelves: Vec<Shelf>,
    pub(super) floors: Vec<Floor>,
}

impl Floors {
    pub(super) fn read(fields: &Fields, frame: &Frame) -> Option<Floors> {
        let mut shelves = Vec::new();
        for shelf in maps(fields, "shelves")? {
            let (name, up) = (shelf.text("name"), shelf.length("up"));
            let (joint, depth, play) = (
                shelf.word("joint"),
                shelf.length("depth"),
                shelf.length("play"),
            );
            let (depth, play) = (depth?.value, play?.value);
            let up = up?;
            if up.value < frame.floor() || up.value + frame.t() > frame.ceiling() {
                let unit = fields.context().names.unit();
                fields.context().find(
                    Finding::error(
                        codes::SHELF_OUTSIDE,
                        up.span,
                        format!(
                            "a shelf at {} is not between bottom and top",
                            unit.show(up.value)
                        ),
                    )
                    .fix(format!(
                        "keep it between {} and {}",
                        unit.show(frame.floor()),
                        unit.show(frame.ceiling() - frame.t())
                    )),
                );
                return None;
            }
            shelves.push(Shelf {
                name: name?.value,
                low: up.value,
                housed: (joint?.value == "housing").then_some((depth, play)),
            });
        }
        shelves.sort_by(|a, b| a.low.total_cmp(&b.low));
        let mut floors = Vec::new();
        let mut below = "bottom".to_owned();
        let mut low = frame.floor();
        for shelf in &shelves {
            floors.push(Floor {
                name: below.clone(),
                low,
                high: shelf.low,
                below: frame.id(&below),
                above: Some(frame.id(&shelf.name)),
                dividers: Vec::new(),
                short: 0.0,
            });
            below.clone_from(&shelf.name);
            low = shelf.low + frame.t();
        }
        floors.push(Floor {
            name: below.clone(),
            low,
            high: frame.ceiling(),
            below: frame.id(&below),
            above: frame.has_top().then(|| frame.id("top")),
            dividers: Vec::new(),
            short: 0.0,
        });
        let mut read = Floors { shelves, floors };
        read.read_dividers(fields, frame)?;
        Some(read)
    }

    fn read_dividers(&mut self, fields: &Fields, frame: &Frame) -> Option<()> {
        for divider in maps(fields, "dividers")? {
            let (name, on, count) = (
                divider.text("name"),
                divider.text("stands_on"),
                divider.count("count"),
            );
            let short = divider.length("short")?.value;
            let (name, count) = (name?.value, count?.value);
            let middle = if divider.has("middle") {
                Some(divider.length("middle")?.value)
            } else {
                None
            };
            let floor = self.floor_mut(&divider, &on?)?;
            let t = frame.t();
            let bay = (frame.clear() - f64::from(count) * t) / f64::from(count + 1);
            for number in 0..count {
                let left = match middle {
                    Some(middle) if count == 1 => t + middle - t / 2.0,
                    _ => t + bay + f64::from(number) * (bay + t),
                };
                let name = if count == 1 {
                    name.clone()
                } else {
                    format!("{name}-{}", number + 1)
                };
                floor.dividers.push((name, left));
            }
            floor.dividers.sort_by(|a, b| a.1.total_cmp(&b.1));
            floor.short = short;
        }
        Some(())
    }

    fn floor_mut(&mut self, fields: &Fields, name: &Spanned<String>) -> Option<&mut Floor> {
        let index = self.index(fields, name)?;
        self.floors.get_mut(index)
    }

    fn index(&self, fields: &Fields, name: &Spanned<String>) -> Option<usize> {
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
            fields.context().find(
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

/// Makes the inner parts and their joints.
pub(super) fn make(
    fields: &Fields,
    built: &mut Built,
    frame: &Frame,
    floors: &Floors,
) -> Option<()> {
    make_shelves(fields, built, frame, floors);
    make_dividers(fields, built, frame, floors)?;
    make_stretchers(fields, built, frame)?;
    make_loose(fields, built, frame, floors)
}

fn make_shelves(fields: &Fields, built: &mut Built, frame: &Frame, floors: &Floors) {
    let depth = frame.depth - frame.back_plane();
    for shelf in &floors.shelves {
        let reach = shelf.housed.map_or(0.0, |(depth, play)| depth - play / 2.0);
        let at = frame.at(frame.t() - reach, shelf.low, frame.back_plane());
        let size = (frame.clear() + 2.0 * reach, depth);
        let id = frame.id(&shelf.name);
        built.named_part(id.clone(), frame.shelf(&titled(&shelf.name), size, at));
        for side in ["side-left", "side-right"] {
            let side = frame.id(side);
            match shelf.housed {
                Some((depth, _)) => {
                    let mut keys = held(&id, &side, "glue");
                    keys.push(("depth", length(depth)));
                    keys.push(("slip", length(frame.slip)));
                    built.joint("housing", keys);
                }
                None => built.joint("butt", frame.joint(fields, &id, &side, frame.with())),
            }
        }
    }
}

fn make_dividers(fields: &Fields, built: &mut Built, frame: &Frame, floors: &Floors) -> Option<()> {
    let described = maps(fields, "dividers")?;
    for floor in &floors.floors {
        for (name, left) in &floor.dividers {
            let same = |d: &&Fields| {
                d.text("name").is_some_and(|own| {
                    *name == own.value || name.starts_with(&format!("{}-", own.value))
                })
            };
            let keys = described.iter().find(same)?;
            let draft = PartDraft {
                title: titled(name),
                width: frame.depth - frame.back_plane() - floor.short,
                height: floor.high - floor.low,
                places: vec![Placement {
                    at: frame.at(*left, floor.low, frame.back_plane() + floor.short),
                    width: Direction::Back,
                    height: Direction::Up,
                }],
                edges: vec![
                    ("left", "front edge".to_owned()),
                    ("right", "back edge".to_owned()),
                ],
                ..upright(&frame.stock)
            };
            let id = frame.id(name);
            built.named_part(id.clone(), draft);
            let with = keys.word("with")?.value;
            for to in std::iter::once(&floor.below).chain(&floor.above) {
                let mut joint = held(&id, to, with);
                joint.extend(copied(keys, "at"));
                built.joint("butt", joint);
            }
        }
    }
    Some(())
}

fn make_stretchers(fields: &Fields, built: &mut Built, frame: &Frame) -> Option<()> {
    for stretcher in maps(fields, "stretchers")? {
        let (name, size) = (stretcher.text("name"), stretcher.length("size"));
        let (place, lies) = (stretcher.word("where"), stretcher.word("lies"));
        let with = stretcher.word("with")?.value;
        let (name, size, place) = (name?.value, size?.value, place?.value);
        let upright_one = lies?.value == "upright";
        let t = frame.t();
        let (up, deep) = if upright_one { (size, t) } else { (t, size) };
        let y = if place.ends_with("top") {
            frame.ceiling() - up
        } else {
            frame.floor()
        };
        let z = if place.starts_with("back") {
            frame.back_plane()
        } else {
            frame.depth - deep
        };
        let at = frame.at(t, y, z);
        let place = if upright_one {
            flat(at)
        } else {
            Placement {
                at,
                width: Direction::Right,
                height: Direction::Back,
            }
        };
        let draft = PartDraft {
            title: titled(&name),
            width: frame.clear(),
            height: size,
            grain: Grain::Width,
            places: vec![place],
            ..upright(&frame.stock)
        };
        let id = frame.id(&name);
        built.named_part(id.clone(), draft);
        for side in ["side-left", "side-right"] {
            built.joint("butt", held(&id, &frame.id(side), with));
        }
    }
    Some(())
}

fn make_loose(fields: &Fields, built: &mut Built, frame: &Frame, floors: &Floors) -> Option<()> {
    for loose in maps(fields, "loose")? {
        let (name, count, on) = (
            loose.text("name"),
            loose.count("count"),
            loose.text("above"),
        );
        let (gap, setback) = (loose.length("gap"), loose.length("setback"));
        let (first, pins, step) = (
            loose.length("first"),
            loose.count("pins"),
            loose.length("step"),
        );
        let (pin_setback, pin_depth) = (loose.length("pin_setback"), loose.length("pin_depth"));
        let (gap, setback, first) = (gap?.value, setback?.value, first?.value);
        let (pins, step, name) = (pins?.value, step?.value, name?.value);
        let (count, pin_setback) = (count?.value, pin_setback?.value);
        let floor = &floors.floors[floors.index(&loose, &on?)?];
        let highest = floor.low + first + f64::from(pins - 1) * step;
        if highest + PIN / 2.0 + frame.t() > floor.high {
            let unit = fields.context().names.unit();
            fields.context().find(
                Finding::error(
                    codes::NO_ROOM,
                    loose.span,
                    format!(
                        "a shelf on the highest of {pins} pins at {} reaches over {}, where its room ends",
                        unit.show(highest),
                        unit.show(floor.high)
                    ),
                )
                .fix("begin lower, or use fewer pins"),
            );
            return None;
        }
        // The rows stand in the sides, so their heights count from the lower ends of the sides.
        let side_low = frame.side_places().0.at[1] - frame.origin[1];
        let span = built.span;
        let setbacks = [
            ("left", length(pin_setback)),
            ("right", length(frame.back_plane() + pin_setback)),
        ];
        let keys = vec![
            ("setback", map(span, setbacks)),
            ("first", length(floor.low + first - side_low)),
            ("step", length(step)),
            ("count", text(&pins.to_string())),
            ("diameter", length(PIN)),
            ("depth", length(pin_depth?.value)),
            ("label", text(&format!("pins of {name}"))),
        ];
        built.feature(&frame.id("side-left"), None, "pin_rows", keys);
        let places = (1..=count).map(|number| {
            let pin = pins * number / (count + 1);
            let y = floor.low + first + f64::from(pin) * step + PIN / 2.0;
            Placement {
                at: frame.at(frame.t() + gap, y, frame.back_plane()),
                width: Direction::Right,
                height: Direction::Back,
            }
        });
        let draft = PartDraft {
            count,
            places: places.collect(),
            fittings: vec![(FittingKind::ShelfPin, 4)],
            ..frame.shelf(
                "Loose shelf",
                (
                    frame.clear() - 2.0 * gap,
                    frame.depth - frame.back_plane() - setback,
                ),
                [0.0; 3],
            )
        };
        built.named_part(frame.id(&name), draft);
    }
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
