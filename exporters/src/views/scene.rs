//! Pieces where they are shown, ready to be drawn.

use std::sync::Arc;

use jigless_model::geom::Point;
use jigless_model::whole::Triple;
use jigless_solid::view::{Camera, Picture, PictureSettings, Shown, picture};
use jigless_solid::{Mesh, Piece, Pose, Solid};

/// Pieces where they are shown.
pub(crate) struct Scene<'a> {
    /// The pieces.
    pub(crate) pieces: Vec<&'a Piece>,
    /// Their bodies in their places.
    meshes: Vec<Mesh>,
    solids: Vec<Arc<Solid>>,
    /// Lines of flight on paper, in millimetres of the thing.
    pub(crate) flights: Vec<(Point, Point)>,
}

impl<'a> Scene<'a> {
    /// Pieces at some poses.
    pub(crate) fn new(shown: impl IntoIterator<Item = (&'a Piece, Pose)>) -> Self {
        let (mut pieces, mut meshes, mut solids) = (Vec::new(), Vec::new(), Vec::new());
        for (piece, pose) in shown {
            meshes.push(pose.mesh(&piece.solid.mesh));
            solids.push(Arc::clone(&piece.solid));
            pieces.push(piece);
        }
        Self {
            pieces,
            meshes,
            solids,
            flights: Vec::new(),
        }
    }

    /// The same with pieces moved, each by its own vector, and with lines of flight.
    pub(crate) fn moved(
        shown: impl IntoIterator<Item = (&'a Piece, Triple)>,
        flights: Vec<(Point, Point)>,
    ) -> Self {
        let shown = shown.into_iter().map(|(piece, by)| (piece, piece.pose.moved(by)));
        Self {
            flights,
            ..Self::new(shown)
        }
    }

    /// What is seen of it.
    pub(crate) fn picture(&self, camera: &Camera, settings: &PictureSettings) -> Picture {
        let bodies: Vec<Shown> = self
            .meshes
            .iter()
            .zip(&self.solids)
            .map(|(mesh, solid)| Shown {
                mesh,
                edges: &solid.edges,
            })
            .collect();
        picture(&bodies, camera, settings)
    }
}
