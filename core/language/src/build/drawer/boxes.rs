//! The boxes of drawers, their fronts and their runners.

use super::bank::{Bank, Level};
use crate::build::kit::{
    INSIDE_OUT, OUTSIDE_IN, blind_depth, flat, held, knob_hole, placed, upright,
};
use crate::build::{BuildContext, PartDraft, hardware, length, list, map, point, text};
use crate::codes;
use crate::load::Value;
use jigless_model::diag::Finding;
use jigless_model::hardware::FittingKind;
use jigless_model::joint::With;
use jigless_model::plan::Grain;
use jigless_model::side::{Edge, Face};
use jigless_model::source::{Span, Spanned};
use jigless_model::whole::{Box3, Direction, Motion, Placement};

use crate::sold::{self, Wanted};

/// Screws of a runner from its front end. Common practice, no source.
const WALL_OFFSETS: [f64; 3] = [37.0, 165.0, 293.0];
const BOX_OFFSETS: [f64; 3] = [35.0, 131.0, 291.0];
/// How far the screws of a second runner on the same divider are shifted, so that they pass those of the first
/// (32 mm system, common practice, no source).
const SHIFT: f64 = 32.0;
/// The screw of a runner, the least that it holds in, and wood before its tip, in millimetres. Common practice, no source.
const RUNNER_SCREW: f64 = 16.0;
const RUNNER_THREAD: f64 = 6.0;
const RUNNER_SKIN: f64 = 1.0;
/// Half the head of a 5 mm screw, in millimetres (twice the thread, common practice, no source).
const HALF_HEAD: f64 = 5.0;
/// Wood between the screws of two runners that come from both faces of a divider, in millimetres.
const BETWEEN: f64 = 1.0;

/// What all boxes of a bank have in common, in millimetres.
#[derive(Debug)]
pub(super) struct Sizes {
    width: f64,
    length: f64,
    /// Depth of the groove for the bottom.
    groove: f64,
}

impl Sizes {
    pub(super) fn new(built: &BuildContext, bank: &Bank) -> Option<Sizes> {
        let (room, keys) = (bank.rooms[0].inside, &bank.keys);
        let deep = bank.box_front() - bank.back(room.min[2]);
        let usual = ((deep - 10.0) / 50.0).floor() * 50.0;
        let length = keys.length.unwrap_or(Spanned::new(usual, keys.here));
        let width = room.size(0) - 2.0 * keys.clearance;
        let thickness = keys.stock.thickness;
        if length.value > deep || length.value <= 0.0 || width <= 2.0 * thickness {
            built.find(
                Finding::error(
                    codes::NO_ROOM,
                    length.span,
                    format!(
                        "a drawer {} long and {} wide does not fit into a room {} deep",
                        built.show(length.value),
                        built.show(width),
                        built.show(deep)
                    ),
                )
                .fix("make it shorter, or the room larger"),
            );
            return None;
        }
        Some(Sizes {
            width,
            length: length.value,
            groove: keys.groove.unwrap_or((thickness / 2.0).min(6.0)),
        })
    }
}

/// The least height of a box: screws of runners and front are at half of it, above the bottom in its groove.
fn lowest(bank: &Bank) -> f64 {
    let keys = &bank.keys;
    2.0 * (keys.groove_up + keys.bottom_stock.thickest() + keys.slip + HALF_HEAD)
}

/// Height of the boxes of equal levels.
fn box_height(built: &BuildContext, bank: &Bank, levels: &[Level]) -> Option<f64> {
    let least = levels
        .iter()
        .map(|level| level.room.1 - level.room.0)
        .fold(f64::MAX, f64::min);
    if let Some(height) = bank.keys.height {
        let most = least - bank.keys.lift;
        let lowest = lowest(bank);
        if height.value < lowest {
            let own = built.show(height.value);
            let message = format!(
                "a drawer {own} high has its bottom where the screws of its runners and of its front go, at half of that"
            );
            let fix = format!(
                "make it {} or more, or lower `groove_up`",
                built.show(lowest)
            );
            built.find(Finding::error(codes::NO_ROOM, height.span, message).fix(fix));
            return None;
        }
        if height.value <= most {
            return Some(height.value);
        }
        let (own, room, lift) = (
            built.show(height.value),
            built.show(least),
            built.show(bank.keys.lift),
        );
        let message = format!(
            "a drawer {own} high does not go into a room {room} high, {lift} above its floor"
        );
        let fix = format!("make it {} or less, or the room higher", built.show(most));
        built.find(Finding::error(codes::NO_ROOM, height.span, message).fix(fix));
        return None;
    }
    let height = ((least - 20.0) / 10.0 + 1e-9).floor() * 10.0;
    if height >= lowest(bank) {
        return Some(height);
    }
    built.find(
        Finding::error(
            codes::NO_ROOM,
            bank.keys.here,
            format!("a room {} high has no room for a drawer", built.show(least)),
        )
        .fix("make it higher, or give `height:`"),
    );
    None
}

/// Makes the parts of one kind of drawer: as many of each as there are levels and rooms. `number` tells kinds apart.
pub(super) fn make(
    built: &mut BuildContext,
    bank: &Bank,
    sizes: &Sizes,
    number: Option<usize>,
    levels: &[Level],
) -> Option<()> {
    let height = box_height(built, bank, levels)?;
    let group = match number {
        Some(number) => built.id(&number.to_string()),
        None => built.name.to_owned(),
    };
    let id = |part: &str| format!("{group}-{part}");
    let (left, right, bottom) = (id("side-left"), id("side-right"), id("bottom"));
    // What is screwed to the false front is another part than the back.
    let screwed = bank.keys.front_with == With::Screws;
    let kinds = bank.front_kinds(levels, screwed);
    let fronts: Vec<String> = match kinds.len() {
        1 => vec![id("front")],
        many => (1..=many)
            .map(|number| id(&format!("front-{number}")))
            .collect(),
    };
    let ends: Vec<(String, &[End])> = if screwed {
        vec![
            (id("box-front"), &[End::Front]),
            (id("box-back"), &[End::Back]),
        ]
    } else {
        vec![(id("end"), &[End::Front, End::Back])]
    };
    let drawers = Drawers {
        runner_screw: runner_screw(built, bank, bank.keys.stock.thickness)?,
        bank,
        sizes,
        levels,
        height,
        group: group.clone(),
        span: built.span,
    };

    built.named_part(left.clone(), drawers.side(&right));
    for (end, which) in &ends {
        built.named_part(end.clone(), drawers.end(which));
    }
    built.named_part(bottom.clone(), drawers.bottom());
    for (front, areas) in fronts.iter().zip(&kinds) {
        built.named_part(front.clone(), drawers.front(areas));
    }

    let keys = &bank.keys;
    let floor = keys.groove_up + keys.slip + keys.bottom_stock.thickness;
    let free = [
        drawers.inside_width(),
        height - floor,
        drawers.inside_length(),
    ];
    built.know_inside(&group, free);
    for [x, y, z] in drawers.corners() {
        // On the bottom, which lies in the middle of its groove.
        let slack = keys.bottom_stock.thickest() + keys.slip - keys.bottom_stock.thickness;
        let low = y + keys.groove_up + slack / 2.0 + keys.bottom_stock.thickness;
        let (t, high) = (keys.stock.thickness, y + height);
        let low_corner = [x + t, low, z + t];
        let far = [x + t + free[0], high, z + t + free[2]];
        let walls = [left.clone(), right.clone()];
        built.interior(&group, Box3::new(low_corner, far), walls);
    }
    for (end, _) in &ends {
        for side in [&left, &right] {
            let mut joint = held(end, side, "glue");
            joint.push(("depth", length(keys.rebate)));
            joint.push(("width", length(keys.stock.thickness)));
            built.joint("rebate", joint);
        }
    }
    for to in [&left, &right]
        .into_iter()
        .chain(ends.iter().map(|(end, _)| end))
    {
        let mut joint = held(&bottom, to, "nothing");
        joint.push(("depth", length(sizes.groove)));
        joint.push(("slip", length(keys.slip)));
        built.joint("groove", joint);
    }
    if screwed {
        for front in &fronts {
            built.joint("butt", held(front, &ends[0].0, "screws"));
        }
    }
    Some(())
}

/// An end of a box.
#[derive(Debug, Clone, Copy)]
enum End {
    Front,
    Back,
}

struct Drawers<'a> {
    /// What holds the runner to the box.
    runner_screw: Value,
    bank: &'a Bank,
    sizes: &'a Sizes,
    levels: &'a [Level],
    height: f64,
    group: String,
    span: Span,
}

impl Drawers<'_> {
    fn t(&self) -> f64 {
        self.bank.keys.stock.thickness
    }

    fn inside_width(&self) -> f64 {
        self.sizes.width - 2.0 * self.t()
    }

    fn inside_length(&self) -> f64 {
        self.sizes.length - 2.0 * self.t()
    }

    /// The lower left back corner of every box.
    fn corners(&self) -> Vec<[f64; 3]> {
        let z = self.bank.box_front() - self.sizes.length;
        let mut corners = Vec::new();
        for room in &self.bank.rooms {
            for level in self.levels {
                let x = room.inside.min[0] + self.bank.keys.clearance;
                corners.push([x, level.room.0 + self.bank.keys.lift, z]);
            }
        }
        corners
    }

    fn part(&self, title: &str, size: (f64, f64), places: Vec<Placement>) -> PartDraft {
        PartDraft {
            title: title.to_owned(),
            width: size.0,
            height: size.1,
            grain: Grain::Width,
            count: places.len() as u32,
            places,
            group: Some(self.group.clone()),
            ..upright(&self.bank.keys.stock)
        }
    }

    fn side(&self, other: &str) -> PartDraft {
        let keys = &self.bank.keys;
        let run = self.sizes.length;
        let at = |x: f64, width: Direction| -> Vec<Placement> {
            let corners = self.corners().into_iter();
            let place = |[cx, y, z]: [f64; 3]| placed([cx + x, y, z], width, Direction::Up);
            corners.map(place).collect()
        };
        let middle = self.height / 2.0;
        let span = self.span;
        let screws = offsets(keys.box_offsets.as_deref(), &BOX_OFFSETS, run);
        let runner = vec![
            ("edge", text("left")),
            ("height", length(middle)),
            ("setback", length(keys.runner_setback)),
            ("offsets", list(span, screws.into_iter().map(length))),
            ("diameter", length(2.5)),
            ("depth", length(blind_depth(keys.box_depth, 8.0, self.t()))),
            ("face", text("back")),
            ("hardware", self.runner_screw.clone()),
            ("label", text("runner")),
        ];
        let ends = [
            ("from", point(span, 0.0, middle)),
            ("to", point(span, run, middle)),
        ];
        let mark = vec![
            ("line", map(span, ends)),
            ("text", text("runner")),
            ("face", text("back")),
            ("label", text("runner line")),
        ];
        let size = (run, self.height);
        PartDraft {
            mirror_as: Some(other.to_owned()),
            mirror_title: Some("Right side of a drawer".to_owned()),
            mirror_places: at(self.sizes.width - self.t(), Direction::Front),
            faces: INSIDE_OUT.to_vec(),
            edges: vec![(Edge::Left, "front end"), (Edge::Right, "back end")],
            features: vec![("runner_holes", runner), ("mark", mark)],
            ..self.part("Left side of a drawer", size, at(0.0, Direction::Back))
        }
    }

    /// Front or back of the box, or both where they are alike.
    fn end(&self, which: &[End]) -> PartDraft {
        let rebate = self.bank.keys.rebate;
        let inward = self.t() - rebate;
        let mut places = Vec::new();
        for [x, y, z] in self.corners() {
            for end in which {
                let (forward, width) = match end {
                    End::Front => (self.sizes.length - self.t(), Direction::Left),
                    End::Back => (0.0, Direction::Right),
                };
                places.push(placed([x + inward, y, z + forward], width, Direction::Up));
            }
        }
        let title = match which {
            [End::Front] => "Front of a drawer box",
            [End::Back] => "Back of a drawer box",
            _ => "Front and back of a drawer box",
        };
        let size = (self.inside_width() + 2.0 * rebate, self.height);
        PartDraft {
            faces: INSIDE_OUT.to_vec(),
            ..self.part(title, size, places)
        }
    }

    fn bottom(&self) -> PartDraft {
        let keys = &self.bank.keys;
        let groove = self.sizes.groove;
        let stock = &keys.bottom_stock;
        let size = (
            self.inside_width() + 2.0 * groove - keys.play,
            self.inside_length() + 2.0 * groove - keys.play,
        );
        // In the middle of its groove, each way.
        let slack = stock.thickest() + keys.slip - stock.thickness;
        let inset = self.t() - groove + keys.play / 2.0;
        let places = self.corners().into_iter().map(|[x, y, z]| {
            let at = [x + inset, y + keys.groove_up + slack / 2.0, z + inset];
            placed(at, Direction::Right, Direction::Back)
        });
        PartDraft {
            stock: stock.id.clone(),
            // Nobody sees it, so it may lie on the sheet as it fits.
            grain: Grain::None,
            ..self.part("Drawer bottom", size, places.collect())
        }
    }

    fn front(&self, areas: &[Box3]) -> PartDraft {
        let keys = &self.bank.keys;
        let places = areas.iter().map(|area| flat(area.min)).collect();
        let size = (areas[0].size(0), areas[0].size(1));
        let knob = keys.knob.clone();
        PartDraft {
            stock: keys.front_stock.id.clone(),
            moves: Some(Motion::Slides),
            faces: OUTSIDE_IN.to_vec(),
            features: knob
                .map(|at| knob_hole(self.span, at, keys.knob_hole))
                .into_iter()
                .collect(),
            ..self.part("Drawer front", size, places)
        }
    }
}

/// The screw holes of the runners in the walls, for every drawer in every room.
pub(super) fn runners_in_walls(built: &mut BuildContext, bank: &Bank, sizes: &Sizes) -> Option<()> {
    let keys = &bank.keys;
    let usual = offsets(keys.wall_offsets.as_deref(), &WALL_OFFSETS, sizes.length);
    let span = built.span;
    let mut number = 0;
    for levels in bank.kinds() {
        let height = box_height(built, bank, &levels)?;
        for level in &levels {
            number += 1;
            let line = level.room.0 + keys.lift + height / 2.0;
            for room in &bank.rooms {
                for wall in [&room.left, &room.right] {
                    let second = wall.shared && wall.face == Face::Back;
                    let shift = if second { SHIFT } else { 0.0 };
                    let most = ((wall.thickness - BETWEEN) / 2.0).floor();
                    let own = blind_depth(keys.wall_depth, 10.0, wall.thickness);
                    let depth = if wall.shared { own.min(most) } else { own };
                    let screw = runner_screw(built, bank, wall.thickness)?;
                    let at = [room.inside.min[0], line, room.inside.max[2]];
                    let holes = usual.iter().map(|offset| length(offset + shift));
                    let own = vec![
                        ("edge", text(wall.front.name())),
                        ("height", length(wall.body.to_part(at).0.y)),
                        ("setback", length(keys.runner_setback + bank.inset())),
                        ("offsets", list(span, holes)),
                        ("diameter", length(2.5)),
                        ("depth", length(depth)),
                        ("face", text(wall.face.name())),
                        ("runner", length(sizes.length)),
                        ("hardware", screw),
                        ("label", text(&format!("runner {number} of {}", built.name))),
                    ];
                    built.feature(&wall.part_id, wall.only.as_deref(), "runner_holes", own);
                }
            }
        }
    }
    Some(())
}

/// The screw of a runner (3.5 mm, common practice, no source) into wood of a thickness: 16 mm at most, and no longer than
/// leaves wood before its tip. Reports where none holds.
fn runner_screw(built: &BuildContext, bank: &Bank, thickness: f64) -> Option<Value> {
    let wanted = Wanted {
        least: RUNNER_THREAD,
        most: thickness - RUNNER_SKIN,
        until: RUNNER_SCREW,
        longest: true,
        ..Wanted::ANY
    };
    let Some(screw) = wanted.choose(&sold::screws(&built.context)) else {
        built.find(
            Finding::error(
                codes::NO_SCREW,
                bank.keys.here,
                format!(
                    "no screw that is sold holds a runner in {} of wood: from {} to {} would",
                    built.show(thickness),
                    built.show(wanted.least),
                    built.show(wanted.most)
                ),
            )
            .fix(format!(
                "use stock at least {} thick, or add a length to `lengths_sold`",
                built.show(RUNNER_THREAD + RUNNER_SKIN)
            )),
        );
        return None;
    };
    Some(hardware(
        built.span,
        FittingKind::Screw,
        Some(screw),
        Some("3.5"),
    ))
}

fn offsets(given: Option<&[Spanned<f64>]>, usual: &[f64], runner: f64) -> Vec<f64> {
    match given {
        Some(given) => given.iter().map(|offset| offset.value).collect(),
        // Those of a runner that is shorter are nearer together; 20 mm stay to its end.
        None => usual
            .iter()
            .copied()
            .filter(|offset| *offset <= runner - 20.0)
            .collect(),
    }
}
