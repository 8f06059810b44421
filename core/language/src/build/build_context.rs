//! Where builders put what they make, and what they leave for those that follow.

use jigless_model::diag::{Finding, nearest};
use jigless_model::side::{Edge, Face};
use jigless_model::source::{Span, Spanned};
use jigless_model::whole::{Body, Box3, Triple};

use super::draft::{Keys, PartDraft, entry, list, map, text, things};
use crate::codes;
use crate::load::{Entry, Node, Value};
use crate::resolve::Context;

/// Lengths that differ by less are the same, in millimetres.
pub(super) const SAME: f64 = 1e-6;

/// A room that a builder leaves for others: the opening of a cabinet, between its walls.
#[derive(Debug, Clone)]
pub struct Room {
    /// The name of the build that it belongs to.
    pub of: String,
    /// The free room behind the front plane, in the whole.
    pub inside: Box3,
    /// What a door or drawer front may cover: the room and the walls around it, in the plane of their front edges.
    pub outside: Box3,
    /// The part at its left, with the face toward the room.
    pub left: Wall,
    /// The part at its right.
    pub right: Wall,
    /// Whether another room lies below it.
    pub shared_low: bool,
    /// Whether another room lies above it.
    pub shared_high: bool,
    /// What stands in it at its back: stretchers.
    pub behind: Vec<Box3>,
    /// Heights of the holes for shelf pins in its walls, in the whole.
    pub pins: Vec<f64>,
    /// How far the front row of these is from the front edges.
    pub pin_setback: f64,
}

/// The free room in something, for what stands in it.
#[derive(Debug, Clone)]
pub struct Interior {
    /// The room, in the whole.
    pub inside: Box3,
    /// What moves along with it: the parts of a drawer.
    pub group: Option<String>,
    /// The parts at its left and right.
    pub walls: [String; 2],
    /// Whether it is open above, up to the edge of its walls: a drawer.
    pub open: bool,
}

/// A part that bounds a room.
#[derive(Debug, Clone)]
pub struct Wall {
    /// The entry of `parts:` that describes it.
    pub part_id: String,
    /// What `only` says for work on this one of a handed pair.
    pub only: Option<String>,
    /// The part as an author describes it, in its place.
    pub body: Body,
    /// The face toward the room.
    pub face: Face,
    /// The edge toward the viewer.
    pub front: Edge,
    /// Its thickness, in millimetres.
    pub thickness: f64,
    /// Whether another room lies on its other side.
    pub shared: bool,
}

/// What builders make: entries as an author would have written them.
#[derive(Debug, Default)]
pub struct BuildOutput {
    /// Entries of `parts:`.
    pub parts: Vec<Entry>,
    /// Entries of `joints:`.
    pub joints: Vec<Node>,
    /// The arithmetic behind them, for builders that show theirs, a line each.
    pub workings: Vec<String>,
    /// Names of the builds that failed. What is missing may be theirs, so that only their own fault is reported.
    pub failed: Vec<String>,
}

/// Where a builder puts its parts.
#[derive(Debug)]
pub struct BuildContext<'a> {
    /// The name that the plan gives to what is built; the names of its parts begin with it.
    pub name: &'a str,
    /// Where the plan asks for it.
    pub span: Span,
    pub(super) context: Context<'a>,
    pub(super) made: &'a mut BuildOutput,
    pub(super) rooms: &'a mut Vec<(String, Room)>,
    pub(super) surfaces: &'a mut Vec<(String, Triple)>,
    pub(super) interiors: &'a mut Vec<(String, Interior)>,
}

impl BuildContext<'_> {
    /// Reports a fault, with the name of what is built, or of its part, first.
    pub fn find(&self, mut finding: Finding) {
        if !finding.message.starts_with('`') {
            finding.message = format!("`{}`: {}", self.name, finding.message);
        }
        self.context.find(finding);
    }

    /// A length in the author's unit.
    pub fn show(&self, mm: f64) -> String {
        self.context.unit().show(mm)
    }

    /// The name of a part by its role: `tray` and `divider` make `tray-divider`.
    pub fn id(&self, role: &str) -> String {
        format!("{}-{role}", self.name)
    }

    /// Adds a part called after its role.
    pub fn part(&mut self, role: &str, draft: PartDraft) {
        let id = self.id(role);
        self.named_part(id, draft);
    }

    /// Adds a part with a name of its own.
    pub fn named_part(&mut self, id: String, draft: PartDraft) {
        self.know(&id, "width", draft.width);
        self.know(&id, "height", draft.height);
        // What a plan that asks for too much would have made must not fill the memory.
        if self.context.charge(draft.things(), self.span).is_some() {
            self.made.parts.push(draft.into_entry(id, self.span));
        }
    }

    /// Keeps a size of what is made, for formulas that come after it: `deck.width`.
    pub fn know(&self, of: &str, what: &str, mm: f64) {
        self.context.names.know(format!("{of}.{what}"), mm);
    }

    /// Keeps the free room in something.
    pub fn know_inside(&self, of: &str, size: [f64; 3]) {
        for (what, mm) in ["inside_width", "inside_height", "inside_depth"]
            .iter()
            .zip(size)
        {
            self.know(of, what, mm);
        }
    }

    /// Adds a line of arithmetic that an author can follow, to be printed with the plan that is written out.
    pub fn working(&mut self, line: &str) {
        self.made.workings.push(format!("{}: {line}", self.name));
    }

    /// Adds a joint.
    pub fn joint(&mut self, kind: &'static str, keys: Keys) {
        let span = self.span;
        if self.context.charge(1, span).is_some() {
            let value = map(span, [(kind, map(span, keys))]);
            self.made.joints.push(Node { span, value });
        }
    }

    /// Adds a feature to a part that this or an earlier builder made.
    pub fn feature(
        &mut self,
        part_id: &str,
        only: Option<&str>,
        key: &'static str,
        mut keys: Keys,
    ) {
        if let Some(only) = only {
            keys.push(("only", text(only)));
        }
        let span = self.span;
        if self.context.charge(things(&keys), span).is_none() {
            return;
        }
        let value = map(span, [(key, map(span, keys))]);
        let found = self
            .made
            .parts
            .iter_mut()
            .find(|part| part.key.value == part_id);
        let Some(Entry {
            value: Node {
                value: Value::Map(own),
                ..
            },
            ..
        }) = found
        else {
            return;
        };
        match own.iter_mut().find(|entry| entry.key.value == "features") {
            Some(Entry {
                value:
                    Node {
                        value: Value::List(features),
                        ..
                    },
                ..
            }) => features.push(Node { span, value }),
            _ => own.push(entry(span, "features", list(span, [value]))),
        }
    }

    /// Leaves a room for later builders. The only room of a build goes by its name alone, too.
    pub fn room(&mut self, role: &str, room: Room) {
        let id = self.id(role);
        let size = [0, 1, 2].map(|axis| room.inside.size(axis));
        self.know_inside(&id, size);
        // The only room of a build goes by its name alone.
        if !self.rooms.iter().any(|(_, own)| own.of == room.of) {
            self.know_inside(self.name, size);
        }
        self.rooms.push((id, room));
    }

    /// Leaves the room in a drawer, by the name of the drawer, between two parts; drawers that are alike have one name.
    pub fn interior(&mut self, name: &str, inside: Box3, walls: [String; 2]) {
        let interior = Interior {
            inside,
            group: Some(name.to_owned()),
            walls,
            open: true,
        };
        self.interiors.push((name.to_owned(), interior));
    }

    /// The rooms in the drawers of a name, or a room of a build; reports if there is none.
    pub fn interiors_of(&self, name: &Spanned<String>) -> Option<Vec<Interior>> {
        let of_drawers = self.interiors.iter().filter(|(of, _)| *of == name.value);
        let found: Vec<Interior> = of_drawers.map(|(_, own)| own.clone()).collect();
        if !found.is_empty() {
            return Some(found);
        }
        let room = self.room_of(name)?;
        let wall = |wall: Wall| wall.only.unwrap_or(wall.part_id);
        Some(vec![Interior {
            inside: room.inside,
            group: None,
            walls: [wall(room.left), wall(room.right)],
            open: false,
        }])
    }

    /// Whether rooms are of one size; reports the first that is another one than the first of all.
    pub fn are_alike(&self, rooms: &[(&Spanned<String>, Box3)]) -> Option<()> {
        let (first_name, first) = rooms.first()?;
        for (name, room) in rooms {
            for axis in 0..3 {
                let (first, own) = (first.size(axis), room.size(axis));
                if (first - own).abs() > SAME {
                    let message = format!(
                        "`{}` is {} where the first room is {}",
                        name.value,
                        self.show(own),
                        self.show(first)
                    );
                    let fix = format!(
                        "give each size of room a builder of its own, as `{}`",
                        self.name
                    );
                    let finding = Finding::error(codes::ROOMS_DIFFER, name.span, message);
                    self.find(finding.label(first_name.span, "the first room").fix(fix));
                    return None;
                }
            }
        }
        Some(())
    }

    /// Leaves a surface that something may stand on, by its left back corner in the whole.
    pub fn surface(&mut self, corner: Triple) {
        self.surfaces.push((self.name.to_owned(), corner));
    }

    /// The surface of a name; reports if there is none.
    pub fn surface_of(&self, name: &Spanned<String>) -> Option<Triple> {
        let found = self.surfaces.iter().find(|(of, _)| *of == name.value);
        if found.is_none() && self.made.failed.is_empty() {
            self.find(
                Finding::error(
                    codes::UNKNOWN_ROOM,
                    name.span,
                    format!(
                        "nothing to stand on is built before this and called `{}`",
                        name.value
                    ),
                )
                .fix("build a base before it, and write its name here"),
            );
        }
        found.map(|(_, corner)| *corner)
    }

    /// The room of a name: one of the rooms of a build, or the build itself where it has a single one; reports if there is
    /// none, or which of several is not said.
    pub fn room_of(&self, name: &Spanned<String>) -> Option<Room> {
        let by_build = || {
            let rooms = self.rooms.iter();
            rooms.filter(|(_, room)| room.of == name.value)
        };
        let named = self.rooms.iter().find(|(id, _)| *id == name.value);
        if named.is_none() && by_build().count() > 1 {
            let ids: Vec<&str> = by_build().map(|(id, _)| id.as_str()).collect();
            self.find(
                Finding::error(
                    codes::SEVERAL_ROOMS,
                    name.span,
                    format!("`{}` has {} rooms", name.value, ids.len()),
                )
                .fix(format!("write which one: {}", ids.join(", "))),
            );
            return None;
        }
        let found = named.or_else(|| by_build().next());
        if found.is_none() && self.made.failed.is_empty() {
            let ids: Vec<&str> = self.rooms.iter().map(|(id, _)| id.as_str()).collect();
            self.find(
                Finding::error(
                    codes::UNKNOWN_ROOM,
                    name.span,
                    format!(
                        "nothing that is built before this is called `{}`",
                        name.value
                    ),
                )
                .fix(match nearest(&name.value, ids.iter().copied()) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None if ids.is_empty() => "build a carcass before it".to_owned(),
                    None => format!("the rooms are {}", ids.join(", ")),
                }),
            );
        }
        found.map(|(_, room)| room.clone())
    }
}
