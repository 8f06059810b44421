//! Pieces where they are shown, ready to be drawn.

use std::collections::BTreeMap;

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::Plan;
use jigless_model::whole::{Box3, Triple};
use jigless_solid::arrange::{Unit, apart, opened, units};
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
}

/// The pieces of a plan, and which of them belong together.
pub(crate) struct Whole<'a> {
    plan: &'a Plan,
    /// The pieces, in the order of the plan.
    pub(crate) pieces: Vec<Piece>,
    units: Vec<Unit>,
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
        (self.units.len() > 1).then(|| self.moved(&self.units, camera))
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
                (group, self.moved(&units, camera))
            })
            .collect()
    }

    fn moved(&self, units: &[Unit], camera: &Camera) -> Scene<'_> {
        let apart = apart(self.plan, &self.pieces, units, camera);
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
    /// The plane that it is cut at, if it is: a point, and the way out.
    plane: Option<(Triple, Triple)>,
    /// Lines of flight on paper, in millimetres of the thing.
    pub(crate) flights: Vec<(Point, Point)>,
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
            pieces,
            meshes,
            edges,
            plane: None,
            flights: Vec::new(),
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
        Bounds::of_points(points).unwrap_or(Bounds::of_size(1.0, 1.0))
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

    /// What is to be marked.
    pub(crate) fn wanted(&self, marking: Marking) -> Vec<Wanted> {
        let mut all: BTreeMap<(&str, usize), Vec<usize>> = BTreeMap::new();
        for (body, piece) in self.pieces.iter().enumerate() {
            let key = match marking {
                Marking::Parts => (piece.mark.as_str(), 0),
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
