//! Pieces where they are shown, ready to be drawn.

use std::collections::BTreeMap;

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::Plan;
use jigless_model::whole::{Box3, Triple};
use jigless_solid::arrange::{Sequence, Unit, apart, opened, units};
use jigless_solid::vector::{dot, minus};
use jigless_solid::view::{Camera, Picture, PictureSettings, Shown, picture};
use jigless_solid::{Mesh, MeshEdge, Piece, Pose, behind, pieces};

use super::balloons::Wanted;

/// What is marked in a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Marking {
    /// Each part once.
    Parts,
    /// Each piece.
    Pieces,
    /// Each piece; of pieces that stay together, only the one of which most is seen.
    Units,
    /// Each part that the picture is about, once; of pieces that stay together, only the one of which most is seen.
    Accents,
}

/// How a piece stands out from the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Emphasis {
    /// As all are.
    #[default]
    Plain,
    /// What the picture is about.
    Accent,
    /// Only to show where the rest is.
    Faint,
}

/// The pieces of a plan, and which of them belong together.
pub(crate) struct Whole<'a> {
    plan: &'a Plan,
    /// The pieces, in the order of the plan.
    pub(crate) pieces: Vec<Piece>,
    pub(crate) units: Vec<Unit>,
}

impl<'a> Whole<'a> {
    /// The pieces of the chosen parts that have places.
    pub(crate) fn new(input: &ExportInput<'a>) -> Self {
        let pieces = pieces(input.plan, input.workpieces);
        let units = units(input.plan, &pieces);
        Self {
            plan: input.plan,
            pieces,
            units,
        }
    }

    /// The box around everything.
    pub(crate) fn bounds(&self) -> Option<Box3> {
        self.pieces
            .iter()
            .map(|piece| piece.bounds)
            .reduce(Box3::union)
    }

    /// Everything in its place.
    pub(crate) fn closed(&self) -> Scene<'_> {
        Scene::new(self.pieces.iter().map(|piece| (piece, piece.pose)))
    }

    /// Doors and drawers open; `None` where nothing moves.
    pub(crate) fn open(&self) -> Option<Scene<'_>> {
        let poses = opened(self.plan, &self.pieces, &self.units)?;
        Some(Scene::new(self.pieces.iter().zip(poses)))
    }

    /// What lies behind a plane: where `normal . (point - on)` is negative.
    pub(crate) fn section(&self, on: Triple, normal: Triple) -> Scene<'_> {
        self.closed().cut(on, normal)
    }

    /// Units moved apart, pieces of a unit together; `None` where there is only one.
    pub(crate) fn apart(&self, camera: &Camera) -> Option<Scene<'_>> {
        (self.units.len() > 1).then(|| self.moved(&self.units, Sequence::Smaller, camera))
    }

    /// One unit of each group, its pieces moved apart.
    pub(crate) fn groups_apart(&self, camera: &Camera) -> Vec<(&str, Scene<'_>)> {
        let mut groups: BTreeMap<&str, &Unit> = BTreeMap::new();
        for unit in self.units.iter().filter(|unit| unit.pieces.len() > 1) {
            if let Some(group) = &unit.group {
                groups.entry(group).or_insert(unit);
            }
        }
        let alone = |piece: &usize| Unit {
            pieces: vec![*piece],
            group: None,
        };
        groups
            .into_iter()
            .map(|(group, unit)| {
                let units: Vec<Unit> = unit.pieces.iter().map(alone).collect();
                (group, self.moved(&units, Sequence::Smaller, camera))
            })
            .collect()
    }

    /// The ids of the parts that have places, each once.
    pub(crate) fn part_ids(&self) -> Vec<&str> {
        let mut ids: Vec<&str> = self.pieces.iter().map(|piece| piece.id.as_str()).collect();
        ids.dedup();
        ids
    }

    /// What comes new, along the way by which it comes in, to what is there; what is of neither is left out.
    pub(crate) fn coming_in(&self, there: &[usize], new: &[Unit], camera: &Camera) -> Scene<'_> {
        let there_unit = (!there.is_empty()).then(|| Unit {
            pieces: there.to_vec(),
            group: None,
        });
        let units: Vec<Unit> = there_unit.into_iter().chain(new.iter().cloned()).collect();
        let first_new = units.len() - new.len();
        let mut scene = self.moved(&units, Sequence::Given, camera);
        let emphasis = scene.unit_of.iter().map(|unit| {
            if *unit < first_new {
                Emphasis::Plain
            } else {
                Emphasis::Accent
            }
        });
        scene.emphasis = emphasis.collect();
        scene
    }

    /// Everything in its place, some parts standing out.
    pub(crate) fn with_accents(&self, wanted: impl Fn(&str) -> bool) -> Scene<'_> {
        let mut scene = self.closed();
        let accents = self.pieces.iter().map(|piece| {
            if wanted(&piece.id) {
                Emphasis::Accent
            } else {
                Emphasis::Plain
            }
        });
        scene.emphasis = accents.collect();
        scene
    }

    /// The pieces of one part in their places.
    pub(crate) fn part(&self, id: &str) -> Scene<'_> {
        self.some(|piece| piece.id == id, Emphasis::Accent)
    }

    /// Everything but the pieces of one part, only to show where it is.
    pub(crate) fn without(&self, id: &str) -> Scene<'_> {
        self.some(|piece| piece.id != id, Emphasis::Faint)
    }

    fn some(&self, wanted: impl Fn(&Piece) -> bool, emphasis: Emphasis) -> Scene<'_> {
        let pieces = self.pieces.iter().filter(|piece| wanted(piece));
        let mut scene = Scene::new(pieces.map(|piece| (piece, piece.pose)));
        scene.emphasis = vec![emphasis; scene.pieces.len()];
        scene
    }

    fn moved(&self, units: &[Unit], sequence: Sequence, camera: &Camera) -> Scene<'_> {
        let apart = apart(self.plan, &self.pieces, units, sequence, camera);
        let shown =
            || (0..self.pieces.len()).filter_map(|piece| Some((piece, apart.unit_of[piece]?)));
        let poses = shown().map(|(number, _)| {
            let piece = &self.pieces[number];
            (piece, piece.pose.moved(apart.offsets[number]))
        });
        Scene {
            unit_of: shown().map(|(_, unit)| unit).collect(),
            ..Scene::new(poses)
        }
        .with_flights(apart.flights.clone())
    }
}

/// Pieces where they are shown.
pub(crate) struct Scene<'a> {
    /// The pieces.
    pub(crate) pieces: Vec<&'a Piece>,
    /// Their bodies in their places.
    meshes: Vec<Mesh>,
    edges: Vec<Vec<MeshEdge>>,
    /// For each piece, the unit that it is shown with.
    unit_of: Vec<usize>,
    /// How each piece stands out.
    pub(crate) emphasis: Vec<Emphasis>,
    /// The plane that it is cut at, if it is: a point, and the way out.
    plane: Option<(Triple, Triple)>,
    /// Lines of flight on paper, in millimetres of the thing.
    pub(crate) flights: Vec<(Point, Point)>,
    /// Lines of the room behind everything, on paper, in millimetres of the thing.
    pub(crate) room: Vec<(Point, Point)>,
}

impl<'a> Scene<'a> {
    /// Pieces at some poses.
    fn new(shown: impl IntoIterator<Item = (&'a Piece, Pose)>) -> Self {
        let (mut pieces, mut meshes, mut edges) = (Vec::new(), Vec::new(), Vec::new());
        for (piece, pose) in shown {
            meshes.push(pose.mesh(&piece.solid.mesh));
            edges.push(piece.solid.edges.clone());
            pieces.push(piece);
        }
        Self {
            unit_of: (0..pieces.len()).collect(),
            emphasis: vec![Emphasis::Plain; pieces.len()],
            pieces,
            meshes,
            edges,
            plane: None,
            flights: Vec::new(),
            room: Vec::new(),
        }
    }

    fn with_flights(self, flights: Vec<(Point, Point)>) -> Self {
        Self { flights, ..self }
    }

    fn cut(mut self, on: Triple, normal: Triple) -> Self {
        for (mesh, edges) in self.meshes.iter_mut().zip(&mut self.edges) {
            *mesh = behind(mesh, on, normal);
            *edges = mesh.edges().unwrap_or_default();
        }
        self.plane = Some((on, normal));
        self
    }

    /// The same with the sides of a room that are behind it, as a camera sees them.
    pub(crate) fn in_room(mut self, room: Box3, camera: &Camera) -> Self {
        let corner = |highs: [bool; 3]| {
            let at = [0, 1, 2].map(|i| if highs[i] { room.max[i] } else { room.min[i] });
            camera.paper(at)
        };
        for axis in 0..3 {
            for high in [false, true] {
                let way = if high { 1.0 } else { -1.0 };
                if way * camera.toward[axis] > -1e-9 {
                    continue;
                }
                let (b, c) = ((axis + 1) % 3, (axis + 2) % 3);
                let corners = [(false, false), (true, false), (true, true), (false, true)];
                let corners = corners.map(|(on_b, on_c)| {
                    let mut highs = [high; 3];
                    (highs[b], highs[c]) = (on_b, on_c);
                    corner(highs)
                });
                let sides = (0..4).map(|i| (corners[i], corners[(i + 1) % 4]));
                self.room.extend(sides);
            }
        }
        self
    }

    /// Whether a facet of a piece is where it was cut.
    pub(crate) fn is_cut(&self, body: usize, facet: usize) -> bool {
        self.plane.is_some_and(|(on, normal)| {
            let (mesh, facet) = (&self.meshes[body], &self.meshes[body].facets[facet]);
            dot(facet.normal, normal) > 1.0 - 1e-9
                && dot(normal, minus(mesh.on(facet), on)).abs() < 1e-6
        })
    }

    /// The box around it on paper, in millimetres of the thing.
    pub(crate) fn extent(&self, camera: &Camera) -> Bounds {
        let corners = self.meshes.iter().flat_map(|mesh| &mesh.corners);
        let points = corners.map(|corner| camera.paper(*corner));
        let room = self.room.iter().flat_map(|(from, to)| [*from, *to]);
        Bounds::of_points(points.chain(room)).unwrap_or(Bounds::of_size(1.0, 1.0))
    }

    /// What is seen of it.
    pub(crate) fn picture(&self, camera: &Camera, settings: &PictureSettings) -> Picture {
        let bodies: Vec<Shown> = self
            .meshes
            .iter()
            .zip(&self.edges)
            .map(|(mesh, edges)| Shown { mesh, edges })
            .collect();
        picture(&bodies, camera, settings)
    }

    fn stays_with_others(&self, body: usize) -> bool {
        let own = self.unit_of[body];
        self.unit_of.iter().filter(|unit| **unit == own).count() > 1
    }

    /// What is to be marked.
    pub(crate) fn wanted(&self, marking: Marking) -> Vec<Wanted> {
        let mut all: BTreeMap<(&str, usize), Vec<usize>> = BTreeMap::new();
        for (body, piece) in self.pieces.iter().enumerate() {
            if marking == Marking::Accents && self.emphasis[body] != Emphasis::Accent {
                continue;
            }
            let key = match marking {
                Marking::Accents if self.stays_with_others(body) => ("", self.unit_of[body]),
                Marking::Parts | Marking::Accents => (piece.mark.as_str(), 0),
                Marking::Pieces => (piece.mark.as_str(), piece.number),
                Marking::Units => ("", self.unit_of[body]),
            };
            all.entry(key).or_default().push(body);
        }
        let marks = |bodies: &[usize]| {
            let marks = bodies.iter().map(|body| self.pieces[*body].mark.clone());
            marks.collect()
        };
        all.into_values()
            .map(|bodies| Wanted {
                marks: marks(&bodies),
                bodies,
            })
            .collect()
    }
}
