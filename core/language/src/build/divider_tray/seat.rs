//! Where trays stand: in the rooms that they are made for, on their floors or on strips.

use super::keys::StripKeys;
use super::layout::Spec;
use crate::build::kit::{INSIDE_OUT, held, placed};
use crate::build::{BuildContext, Interior, PartDraft};
use crate::codes;
use jigless_model::diag::Finding;
use jigless_model::plan::Grain;
use jigless_model::source::{Span, Spanned};
use jigless_model::whole::{Box3, Direction, Placement, Triple};

/// The least play of a tray that slides, at each side, in millimetres. Common practice, no source.
const LEAST_PLAY: f64 = 0.2;
/// What a tray that is pushed to one side still bears on at the other, in millimetres. Common practice, no source.
const LEAST_BEARING: f64 = 3.0;
/// The lowest strip that can be cut and glued, in millimetres. Common practice, no source.
const LOWEST_STRIP: f64 = 6.0;

/// The equal rooms that get a tray each.
#[derive(Debug)]
pub(super) struct Rooms {
    span: Span,
    rooms: Vec<Interior>,
}

/// Where one tray stands.
#[derive(Debug)]
pub(super) struct Seat {
    /// Its outer corner at the left, below and in front.
    pub(super) corner: Triple,
    /// What it goes along with, or is put together as: a drawer, or the tray itself.
    pub(super) group: Option<String>,
}

/// How a tray lies in its room.
#[derive(Debug)]
pub(super) struct Lying<'a> {
    /// What lies below its walls: a base that is glued on, in millimetres.
    pub(super) foot: f64,
    /// Room at each side.
    pub(super) gap: f64,
    /// From the front of the room; the gap where nothing is said.
    pub(super) setback: Option<f64>,
    /// What it slides on.
    pub(super) strips: Option<&'a StripKeys>,
}

impl Rooms {
    /// The rooms of some names; reports where one is not there, or another one than the first.
    pub(super) fn read(built: &BuildContext, names: &[Spanned<String>]) -> Option<Rooms> {
        let found: Vec<Option<Vec<Interior>>> =
            names.iter().map(|name| built.interiors_of(name)).collect();
        let found: Vec<Vec<Interior>> = found.into_iter().collect::<Option<_>>()?;
        let named = names.iter().zip(&found);
        let all = named.flat_map(|(name, rooms)| rooms.iter().map(move |room| (name, room.inside)));
        built.are_alike(&all.collect::<Vec<_>>())?;
        Some(Rooms {
            span: names.first()?.span,
            rooms: found.into_iter().flatten().collect(),
        })
    }

    /// What is as wide or deep as the rooms less a gap at both sides.
    pub(super) fn filled(&self, axis: usize, gap: f64) -> Spanned<f64> {
        Spanned::new(self.rooms[0].inside.size(axis) - 2.0 * gap, self.span)
    }

    /// Where a tray stands in each room: at its front, in the middle of its width; with the strips that it stands on.
    pub(super) fn seats(
        &self,
        built: &mut BuildContext,
        spec: &Spec,
        lying: &Lying,
    ) -> Option<Vec<Seat>> {
        let inside = self.rooms[0].inside;
        let foot = lying.foot;
        let free = inside.size(1) - foot - spec.height.value;
        let lift = match lying.strips {
            Some(strips) => self.lift(built, spec, strips, free)?,
            None => 0.0,
        };
        let sizes = [
            ("wide", spec.width.value, inside.size(0), lying.gap),
            ("deep", spec.depth.value, inside.size(2), lying.gap),
            ("high", spec.height.value, inside.size(1) - foot - lift, 0.0),
        ];
        if let Some((way, own, free, gap)) = sizes
            .into_iter()
            .find(|(_, own, free, _)| *own > free + 1e-6)
        {
            let message = format!(
                "a tray {} {way} does not go into a room of {}",
                built.show(own),
                built.show(free)
            );
            let fix = format!("make it {} {way} or less", built.show(free - 2.0 * gap));
            built.find(Finding::error(codes::BAD_TRAY, self.span, message).fix(fix));
            return None;
        }
        let play = inside.size(0) - spec.width.value;
        let behind = inside.size(2) - spec.depth.value;
        let setback = lying.setback.unwrap_or(lying.gap.min(behind / 2.0));
        if setback > behind + 1e-6 {
            let message = format!(
                "a tray {} deep that begins {} behind the front of its room comes out at its back",
                built.show(spec.depth.value),
                built.show(setback)
            );
            let fix = format!("make `setback` {} or less", built.show(behind));
            built.find(Finding::error(codes::BAD_TRAY, self.span, message).fix(fix));
            return None;
        }
        if let Some(strips) = lying.strips {
            self.bears(built, spec, strips, play)?;
            self.add_strips(built, strips, lift);
        }
        let name = built.name.to_owned();
        let seat = |room: &Interior| Seat {
            corner: [
                room.inside.min[0] + play / 2.0,
                room.inside.min[1] + lift,
                room.inside.max[2] - setback,
            ],
            // What stands in no drawer is put together by itself, and goes in whole.
            group: room.group.clone().or_else(|| Some(name.clone())),
        };
        Some(self.rooms.iter().map(seat).collect())
    }

    /// How high the strips are: as asked for, or what is `free` above a tray on the floor of a drawer.
    fn lift(
        &self,
        built: &BuildContext,
        spec: &Spec,
        strips: &StripKeys,
        free: f64,
    ) -> Option<f64> {
        let refuse = |span: Span, message: String, fix: String| {
            built.find(Finding::error(codes::BAD_TRAY, span, message).fix(fix));
            None
        };
        if let Some(height) = strips.height {
            return Some(height.value);
        }
        if !self.rooms[0].open {
            return refuse(
                self.span,
                "a tray on strips has no edge to end flush with in this room".to_owned(),
                "write the `height` of its strips, or put it in a drawer".to_owned(),
            );
        }
        if free < LOWEST_STRIP {
            let most = spec.height.value + free - LOWEST_STRIP;
            return refuse(
                spec.height.span,
                format!(
                    "a tray {} high leaves {} for strips on which it ends flush with its drawer",
                    built.show(spec.height.value),
                    built.show(free)
                ),
                format!(
                    "make it {} or less, or leave the strips out",
                    built.show(most)
                ),
            );
        }
        Some(free)
    }

    /// Whether a tray slides on its strips and does not fall between them.
    fn bears(
        &self,
        built: &BuildContext,
        spec: &Spec,
        strips: &StripKeys,
        play: f64,
    ) -> Option<()> {
        let room = self.rooms[0].inside.size(0);
        let bearing = strips.stock.thickness - play;
        let (message, best) = if play < 2.0 * LEAST_PLAY - 1e-6 {
            let message = format!(
                "a tray with {} of play in its room does not slide on strips",
                built.show(play)
            );
            (message, room - 2.0 * LEAST_PLAY)
        } else if bearing < LEAST_BEARING - 1e-6 {
            let message = format!(
                "a tray {} narrower than its room, pushed to one side, leaves {} of a strip {} thick to bear it at the other",
                built.show(play),
                built.show(bearing.max(0.0)),
                built.show(strips.stock.thickness)
            );
            (message, room - strips.stock.thickness + LEAST_BEARING)
        } else {
            return Some(());
        };
        let way = if best < spec.width.value {
            "or less"
        } else {
            "or more"
        };
        let fix = format!("make it {} wide {way}", built.show(best));
        built.find(Finding::error(codes::BAD_TRAY, spec.width.span, message).fix(fix));
        None
    }

    /// Adds the strips, two for each room, glued to its walls.
    fn add_strips(&self, built: &mut BuildContext, strips: &StripKeys, height: f64) {
        let t = strips.stock.thickness;
        let run = self.rooms[0].inside.size(2);
        // The front faces of both look into the room.
        let place = |x: fn(Box3, f64) -> f64, way: Direction| -> Vec<Placement> {
            let rooms = self.rooms.iter().map(|room| room.inside);
            let at = |room: Box3| [x(room, t), room.min[1], room.min[2]];
            rooms
                .map(|room| placed(at(room), way, Direction::Up))
                .collect()
        };
        let (left, right) = (built.id("strip-left"), built.id("strip-right"));
        let draft = PartDraft {
            title: "Left strip that a tray slides on".to_owned(),
            mirror_title: Some("Right strip that a tray slides on".to_owned()),
            stock: strips.stock.id.clone(),
            width: run,
            height,
            grain: Grain::Width,
            count: self.rooms.len() as u32,
            places: place(|room, _| room.min[0], Direction::Back),
            mirror_as: Some(right.clone()),
            mirror_places: place(|room, t| room.max[0] - t, Direction::Front),
            faces: INSIDE_OUT.to_vec(),
            group: self.rooms[0].group.clone(),
            ..PartDraft::new()
        };
        built.named_part(left.clone(), draft);
        for (side, strip) in [left, right].iter().enumerate() {
            let mut walls: Vec<&String> = self.rooms.iter().map(|room| &room.walls[side]).collect();
            walls.sort();
            walls.dedup();
            for wall in walls {
                built.joint("butt", held(strip, wall, "glue"));
            }
        }
    }
}
