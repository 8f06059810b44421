//! From shapes on layers to the bytes of a file.
//!
//! A file is the [skeleton](super::skeleton) of its version and unit, which is made once and holds all that files of
//! that kind have in common, with the gaps filled: the layers, the [entities](super::entities), the box around them, the
//! date and identifiers, and the next free handle.

use std::borrow::Cow;

use jigless_model::geom::Bounds;
use uuid::Uuid;

use super::drawing::Drawing;
use super::entities::Pen;
use super::groups::Groups;
use super::layers::Naming;
use super::options::Version;
use super::skeleton::{self, FileGap, LayerGap};

/// Day number of 1970-01-01 as the format counts: its days begin at midnight, so this is 0.5 more than the astronomers'
/// Julian date.
const UNIX_EPOCH_DAY: f64 = 2_440_588.0;

/// Space of the names that identifiers are made of. Any fixed one will do; this one is made of the word `Jigless`.
const NAME_SPACE: Uuid = Uuid::from_u128(0x4a69_676c_6573_7300_8000_0000_0000_0000);

/// About how many bytes an entity takes.
const BYTES_OF_ENTITY: usize = 256;

/// The name of the layer that every file has.
pub(super) const OWN_LAYER: &str = "0";

/// What a file says of itself besides its shapes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Identity {
    /// Unit of its coordinates, and how its layers are called.
    pub(super) naming: Naming,
    /// Version of the format.
    pub(super) version: Version,
    /// A name that no other file shares: its identifiers are made from it.
    pub(super) name: String,
    /// Seconds since 1970-01-01 UTC, if a date was given.
    pub(super) date: Option<i64>,
    /// Thickness of the board, where everything is to lie at its depth below the face instead of at 0.
    pub(super) depths: Option<f64>,
}

/// Why a file could not be written.
#[derive(Debug, thiserror::Error)]
pub(super) enum Fault {
    /// A coordinate is no number.
    #[error("a coordinate on layer {0} is not a finite number")]
    NotFinite(String),
    /// The crate failed.
    #[error(transparent)]
    Crate(#[from] dxf::DxfError),
    /// The crate wrote what the skeleton cannot be made of.
    #[error("{0}")]
    Skeleton(&'static str),
}

/// Writes a file.
pub(super) fn write(drawing: &Drawing, identity: &Identity) -> Result<Vec<u8>, Fault> {
    let naming = &identity.naming;
    let skeleton = skeleton::of(identity.version, naming.unit)?;
    let mut layers = drawing.layers(naming);
    // A profile may give work the layer that is there already.
    layers.retain(|(name, _)| name != OWN_LAYER);

    let mut next_handle = skeleton.first_handle;
    let mut records = Groups::default();
    for (name, layer) in &layers {
        skeleton.layer.fill(&mut records, |gap, out| match gap {
            LayerGap::Handle => out.bare_handle(taken(&mut next_handle)),
            LayerGap::Name => out.raw(name.as_bytes()),
            LayerGap::Colour => out.bare_whole(layer.coloured(naming).into(), 6),
        });
    }

    let mut pen = Pen {
        groups: Groups::with_room(drawing.items.len() * BYTES_OF_ENTITY),
        version: identity.version,
        model_space: &skeleton.model_space,
        unit_in_mm: naming.unit.in_mm(),
        next_handle,
    };
    for item in &drawing.items {
        let layer = item.layer;
        let name = match layers.iter().find(|(_, other)| *other == layer) {
            Some((name, _)) => Cow::Borrowed(name.as_str()),
            None => Cow::Owned(layer.named(naming)),
        };
        let z = identity.depths.map_or(0.0, |t| 0.0 - layer.depth(t));
        pen.draw(&item.shape, &name, z)?;
    }
    let next_handle = pen.next_handle;
    let entities = pen.groups.into_bytes();

    let bounds = drawing
        .bounds()
        .unwrap_or_else(|| Bounds::of_size(0.0, 0.0));
    let (least, greatest, middle) = (bounds.min, bounds.max, bounds.centre());
    let view = (bounds.height().max(bounds.width()) * 1.1).max(1.0);
    let days = identity.date.unwrap_or(0) as f64 / 86_400.0;
    let guid = Uuid::new_v5(&NAME_SPACE, identity.name.as_bytes()).braced();
    let length = |out: &mut Groups, mm: f64| out.bare_length(mm / naming.unit.in_mm());
    let mut out =
        Groups::with_room(skeleton.file.room() + records.as_bytes().len() + entities.len());
    skeleton.file.fill(&mut out, |gap, out| match gap {
        FileGap::LeastX => length(out, least.x),
        FileGap::LeastY => length(out, least.y),
        FileGap::GreatestX => length(out, greatest.x),
        FileGap::GreatestY => length(out, greatest.y),
        FileGap::MiddleX => length(out, middle.x),
        FileGap::MiddleY => length(out, middle.y),
        FileGap::ViewHeight => length(out, view),
        FileGap::Date => out.raw(format!("{:.9}", UNIX_EPOCH_DAY + days).as_bytes()),
        FileGap::Identifier => {
            out.raw(guid.encode_upper(&mut Uuid::encode_buffer()).as_bytes());
        }
        FileGap::NextHandle => out.bare_handle(next_handle),
        FileGap::CountOfLayers => out.bare_whole(layers.len() + 1, 0),
        FileGap::Layers => out.raw(records.as_bytes()),
        FileGap::Entities => out.raw(&entities),
    });
    Ok(out.into_bytes())
}

/// A handle that nothing has yet.
fn taken(next_handle: &mut u64) -> u64 {
    *next_handle += 1;
    *next_handle - 1
}
