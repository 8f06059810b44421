//! The boxes of drawers, their fronts and their runners.

use jigless_model::diag::Finding;
use jigless_model::plan::Grain;
use jigless_model::side::Face;
use jigless_model::whole::{Box3, Direction, Placement};

use super::bank::{Bank, Level};
use crate::build::kit::{copied, flat, held, upright};
use crate::build::{Built, PartDraft, length, list, map, text};
use crate::codes;
use crate::resolve::Fields;

/// Screws of a runner from its front end. Common practice, no source.
const WALL_OFFSETS: [f64; 3] = [37.0, 165.0, 293.0];
const BOX_OFFSETS: [f64; 3] = [35.0, 131.0, 291.0];
/// How far the screws of a second runner on the same divider are shifted, so that they pass those of the first
/// (32 mm system, common practice, no source).
const SHIFT: f64 = 32.0;
/// Wood between the screws of two runners that come from both faces of a divider, in millimetres.
const BETWEEN: f64 = 1.0;

/// What all boxes of a bank have in common, in millimetres.
#[derive(Debug)]
pub(super) struct Sizes {
    width: f64,
    length: f64,
    clearance: f64,
    lift: f64,
    rebate: f64,
    groove: f64,
    groove_up: f64,
    slip: f64,
    play: f64,
}

impl Sizes {
    pub(super) fn read(fields: &Fields, bank: &Bank) -> Option<Sizes> {
        let room = bank.rooms[0].inside;
        let clearance = fields.length("clearance")?.value;
        let (lift, rebate) = (fields.length("lift"), fields.length("rebate"));
        let groove = if fields.has("groove") {
            fields.length("groove")?.value
        } else {
            (bank.stock.thickness / 2.0).min(6.0)
        };
        let groove_up = fields.length("groove_up");
        let (slip, play) = (fields.length("slip"), fields.length("play"));
        let deep = bank.box_front() - room.min[2];
        let length = if fields.has("length") {
            fields.length("length")?
        } else {
            jigless_model::source::Spanned::new(((deep - 10.0) / 50.0).floor() * 50.0, fields.span)
        };
        let width = room.size(0) - 2.0 * clearance;
        let unit = fields.context().names.unit();
        if length.value > deep || length.value <= 0.0 || width <= 2.0 * bank.stock.thickness {
            fields.context().find(
                Finding::error(
                    codes::NO_ROOM,
                    length.span,
                    format!(
                        "a drawer {} long and {} wide does not fit into a room {} deep",
                        unit.show(length.value),
                        unit.show(width),
                        unit.show(deep)
                    ),
                )
                .fix("make it shorter, or the room larger"),
            );
            return None;
        }
        Some(Sizes {
            width,
            length: length.value,
            clearance,
            lift: lift?.value,
            rebate: rebate?.value,
            groove,
            groove_up: groove_up?.value,
            slip: slip?.value,
            play: play?.value,
        })
    }
}

/// Height of the boxes of equal levels.
fn box_height(fields: &Fields, levels: &[Level]) -> Option<f64> {
    if fields.has("height") {
        return fields.length("height").map(|height| height.value);
    }
    let least = levels
        .iter()
        .map(|level| level.room.1 - level.room.0)
        .fold(f64::MAX, f64::min);
    let height = ((least - 20.0) / 10.0 + 1e-9).floor() * 10.0;
    if height >= 30.0 {
        return Some(height);
    }
    let unit = fields.context().names.unit();
    fields.context().find(
        Finding::error(
            codes::NO_ROOM,
            fields.span,
            format!("a room {} high has no room for a drawer", unit.show(least)),
        )
        .fix("make it higher, or give `height:`"),
    );
    None
}

/// Makes the parts of one kind of drawer: as many of each as there are levels and rooms.
pub(super) fn make(
    fields: &Fields,
    built: &mut Built,
    bank: &Bank,
    sizes: &Sizes,
    role: &str,
    levels: &[Level],
) -> Option<()> {
    let height = box_height(fields, levels)?;
    let drawers = Drawers {
        bank,
        sizes,
        levels,
        height,
        group: if role.is_empty() {
            built.name.to_owned()
        } else {
            built.id(role.trim_end_matches('-'))
        },
    };
    let id = |part: &str| built.id(&format!("{role}{part}"));
    let (left, right, bottom) = (id("side-left"), id("side-right"), id("bottom"));
    let widths = bank.front_kinds();
    let fronts: Vec<String> = match widths.len() {
        1 => vec![id("front")],
        many => (1..=many)
            .map(|number| id(&format!("front-{number}")))
            .collect(),
    };
    let screwed = fields.word("front_with")?.value == "screws";
    let ends = if screwed {
        vec![id("box-front"), id("box-back")]
    } else {
        vec![id("end")]
    };

    built.named_part(left.clone(), drawers.side(fields, built, &right)?);
    for (index, end) in ends.iter().enumerate() {
        let which = if screwed { index..index + 1 } else { 0..2 };
        built.named_part(end.clone(), drawers.end(&which.collect::<Vec<_>>()));
    }
    built.named_part(bottom.clone(), drawers.bottom());
    for (front, areas) in fronts.iter().zip(&widths) {
        built.named_part(front.clone(), drawers.front(fields, built, areas)?);
    }

    for end in &ends {
        for side in [&left, &right] {
            let mut keys = held(end, side, "glue");
            keys.push(("depth", length(sizes.rebate)));
            keys.push(("width", length(bank.stock.thickness)));
            built.joint("rebate", keys);
        }
    }
    for to in [&left, &right].into_iter().chain(&ends) {
        let mut keys = held(&bottom, to, "nothing");
        keys.push(("depth", length(sizes.groove)));
        keys.push(("slip", length(sizes.slip)));
        built.joint("groove", keys);
    }
    if screwed {
        for front in &fronts {
            built.joint("butt", held(front, &ends[0], "screws"));
        }
    }
    Some(())
}

struct Drawers<'a> {
    bank: &'a Bank,
    sizes: &'a Sizes,
    levels: &'a [Level],
    height: f64,
    group: String,
}

impl Drawers<'_> {
    fn t(&self) -> f64 {
        self.bank.stock.thickness
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
                let x = room.inside.min[0] + self.sizes.clearance;
                corners.push([x, level.room.0 + self.sizes.lift, z]);
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
            ..upright(&self.bank.stock)
        }
    }

    fn side(&self, fields: &Fields, built: &Built, other: &str) -> Option<PartDraft> {
        let place = |x: f64, width: Direction| {
            move |corner: &[f64; 3]| Placement {
                at: [corner[0] + x, corner[1], corner[2]],
                width,
                height: Direction::Up,
            }
        };
        let corners = self.corners();
        let left = corners.iter().map(place(0.0, Direction::Back)).collect();
        let far = self.sizes.width - self.t();
        let right = corners.iter().map(place(far, Direction::Front)).collect();
        let middle = self.height / 2.0;
        let span = built.span;
        let ends = [
            ("from", list(span, [length(0.0), length(middle)])),
            (
                "to",
                list(span, [length(self.sizes.length), length(middle)]),
            ),
        ];
        let runner = vec![
            ("edge", text("left")),
            ("height", length(middle)),
            ("setback", length(fields.length("runner_setback")?.value)),
            (
                "offsets",
                list(
                    span,
                    offsets(fields, "box_offsets", &BOX_OFFSETS, self.sizes.length)?
                        .into_iter()
                        .map(length),
                ),
            ),
            ("diameter", length(2.5)),
            ("depth", length(fields.length("box_depth")?.value)),
            ("face", text("back")),
            ("hardware", runner_screw(span)),
            ("label", text("runner")),
        ];
        let mark = vec![
            ("line", map(span, ends)),
            ("text", text("runner")),
            ("face", text("back")),
            ("label", text("runner line")),
        ];
        Some(PartDraft {
            mirror_as: Some(other.to_owned()),
            mirror_title: Some("Right side of a drawer".to_owned()),
            mirror_places: right,
            faces: vec![
                ("front", "inside".to_owned()),
                ("back", "outside".to_owned()),
            ],
            edges: vec![
                ("left", "front end".to_owned()),
                ("right", "back end".to_owned()),
            ],
            features: vec![("runner_holes", runner), ("mark", mark)],
            ..self.part(
                "Left side of a drawer",
                (self.sizes.length, self.height),
                left,
            )
        })
    }

    /// Front (0) or back (1) of the box, or both where they are alike.
    fn end(&self, which: &[usize]) -> PartDraft {
        let x = self.t() - self.sizes.rebate;
        let mut places = Vec::new();
        for corner in self.corners() {
            for end in which {
                let (z, width) = if *end == 0 {
                    (self.sizes.length - self.t(), Direction::Left)
                } else {
                    (0.0, Direction::Right)
                };
                places.push(Placement {
                    at: [corner[0] + x, corner[1], corner[2] + z],
                    width,
                    height: Direction::Up,
                });
            }
        }
        let title = match which {
            [0] => "Front of a drawer box",
            [1] => "Back of a drawer box",
            _ => "Front and back of a drawer box",
        };
        let size = (self.inside_width() + 2.0 * self.sizes.rebate, self.height);
        PartDraft {
            faces: vec![
                ("front", "inside".to_owned()),
                ("back", "outside".to_owned()),
            ],
            ..self.part(title, size, places)
        }
    }

    fn bottom(&self) -> PartDraft {
        let Sizes { groove, play, .. } = *self.sizes;
        let stock = &self.bank.bottom_stock;
        let size = (
            self.inside_width() + 2.0 * groove - play,
            self.inside_length() + 2.0 * groove - play,
        );
        // In the middle of its groove, each way.
        let slack = stock.thickest() + self.sizes.slip - stock.thickness;
        let inset = self.t() - groove + play / 2.0;
        let places = self.corners().into_iter().map(|[x, y, z]| Placement {
            at: [x + inset, y + self.sizes.groove_up + slack / 2.0, z + inset],
            width: Direction::Right,
            height: Direction::Back,
        });
        let mut draft = self.part("Drawer bottom", size, places.collect());
        draft.stock.clone_from(&stock.id);
        // Nobody sees it, so it may lie on the sheet as it fits.
        draft.grain = Grain::None;
        draft
    }

    fn front(&self, fields: &Fields, built: &Built, areas: &[Box3]) -> Option<PartDraft> {
        let mut places = Vec::new();
        for area in areas {
            for level in self.levels {
                places.push(flat([area.min[0], level.front.0, area.min[2]]));
            }
        }
        let level = &self.levels[0];
        let size = (areas[0].size(0), level.front.1 - level.front.0);
        let mut features = Vec::new();
        if let Some((_, at)) = copied(fields, "knob") {
            let keys = vec![
                ("at", at),
                ("diameter", length(fields.length("knob_hole")?.value)),
                ("hardware", map(built.span, [("what", text("knob"))])),
                ("label", text("knob")),
            ];
            features.push(("hole", keys));
        }
        let mut draft = PartDraft {
            moves: Some("slides"),
            faces: vec![
                ("front", "outside".to_owned()),
                ("back", "inside".to_owned()),
            ],
            features,
            ..self.part("Drawer front", size, places)
        };
        draft.stock.clone_from(&self.bank.front_stock.id);
        Some(draft)
    }
}

/// The screw holes of the runners in the walls, for every drawer in every room.
pub(super) fn runners_in_walls(
    fields: &Fields,
    built: &mut Built,
    bank: &Bank,
    sizes: &Sizes,
) -> Option<()> {
    let setback = fields.length("runner_setback")?.value;
    let depth = fields.length("wall_depth")?.value;
    let usual = offsets(fields, "wall_offsets", &WALL_OFFSETS, sizes.length)?;
    let span = built.span;
    let mut number = 0;
    for levels in bank.kinds() {
        let height = box_height(fields, &levels)?;
        for level in &levels {
            number += 1;
            let line = level.room.0 + sizes.lift + height / 2.0;
            for room in &bank.rooms {
                for wall in [&room.left, &room.right] {
                    let second = wall.shared && wall.face == Face::Back;
                    let shift = if second { SHIFT } else { 0.0 };
                    let most = ((wall.thickness - BETWEEN) / 2.0).floor();
                    let depth = if wall.shared { depth.min(most) } else { depth };
                    let inset = if bank.inset {
                        bank.front_stock.thickness
                    } else {
                        0.0
                    };
                    let point = [room.inside.min[0], line, room.inside.max[2]];
                    let holes = usual.iter().map(|offset| length(offset + shift));
                    let keys = vec![
                        ("edge", text(wall.front.name())),
                        ("height", length(wall.body.to_part(point).0.y)),
                        ("setback", length(setback + inset)),
                        ("offsets", list(span, holes)),
                        ("diameter", length(2.5)),
                        ("depth", length(depth)),
                        ("face", text(wall.face.name())),
                        ("runner", length(sizes.length)),
                        ("hardware", runner_screw(span)),
                        ("label", text(&format!("runner {number} of {}", built.name))),
                    ];
                    built.feature(&wall.carrier, wall.only.as_deref(), "runner_holes", keys);
                }
            }
        }
    }
    Some(())
}

/// The screw of a runner (3.5 by 16, common practice, no source).
fn runner_screw(span: jigless_model::source::Span) -> crate::load::Value {
    map(
        span,
        [
            ("what", text("screw")),
            ("length", length(16.0)),
            ("gauge", text("3.5")),
        ],
    )
}

fn offsets(fields: &Fields, key: &'static str, usual: &[f64], runner: f64) -> Option<Vec<f64>> {
    if fields.has(key) {
        let given = fields.lengths(key)?;
        return Some(given.iter().map(|offset| offset.value).collect());
    }
    // Those of a runner that is shorter are nearer together; 20 mm stay to its end.
    Some(
        usual
            .iter()
            .copied()
            .filter(|offset| *offset <= runner - 20.0)
            .collect(),
    )
}
