//! From shapes on layers to the bytes of a file.
//!
//! A file is the [template] of its version with the placeholders filled: the unit, the [layers and entities](records),
//! the box around them, the date and identifiers, and the next free handle.

use std::borrow::Cow;

use jigless_model::geom::Bounds;
use jigless_model::units::Unit;
use uuid::Uuid;

use super::groups::Groups;
use super::records::{NotFinite, RecordWriter};
use super::template::{self, Placeholder};
use crate::machine::drawing::LayerDrawing;
use crate::machine::file_options::Version;
use crate::machine::layers::LayerNaming;

/// Day number of 1970-01-01 as the format counts: its days begin at midnight, so this is 0.5 more than the astronomers'
/// Julian date.
const UNIX_EPOCH_DAY: f64 = 2_440_588.0;

/// Space of the names that identifiers are made of. Any fixed one will do; this one is made of the word `Jigless`.
const NAME_SPACE: Uuid = Uuid::from_u128(0x4a69_676c_6573_7300_8000_0000_0000_0000);

/// About how many bytes an entity takes.
const BYTES_OF_ENTITY: usize = 256;

/// The name of the layer that every file has.
const OWN_LAYER: &str = "0";

/// What a file says of itself besides its shapes.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FileHeader {
    /// Unit of its coordinates, and how its layers are called.
    pub(crate) naming: LayerNaming,
    /// Version of the format.
    pub(crate) version: Version,
    /// A name that no other file shares: its identifiers are made from it.
    pub(crate) name: String,
    /// Seconds since 1970-01-01 UTC, if a date was given.
    pub(crate) date: Option<i64>,
    /// How deep through cuts go, where everything is to lie at its depth below the face instead of at 0.
    pub(crate) depths: Option<f64>,
}

/// Writes a file.
///
/// # Errors
/// Where a coordinate is no number.
pub(crate) fn write(drawing: &LayerDrawing, header: &FileHeader) -> Result<Vec<u8>, NotFinite> {
    let naming = &header.naming;
    let unit_in_mm = naming.unit.in_mm();
    let mut layers = drawing.layers(naming);
    // A profile may give work the layer that is there already.
    layers.retain(|(name, _)| name != OWN_LAYER);

    let mut records = RecordWriter {
        groups: Groups::default(),
        version: header.version,
        unit_in_mm,
        next_handle: template::first_handle(header.version),
    };
    for (name, layer) in &layers {
        records.layer(name, layer.coloured(naming));
    }
    let room = Groups::with_room(drawing.items.len() * BYTES_OF_ENTITY);
    let declared = std::mem::replace(&mut records.groups, room);
    for item in &drawing.items {
        let layer = item.layer;
        let name = match layers.iter().find(|(_, other)| *other == layer) {
            Some((name, _)) => Cow::Borrowed(name.as_str()),
            None => Cow::Owned(layer.named(naming)),
        };
        let z = header.depths.map_or(0.0, |t| 0.0 - layer.depth(t));
        records.draw(&item.shape, &name, z)?;
    }
    let RecordWriter {
        groups: entities,
        next_handle,
        ..
    } = records;

    let bounds = drawing
        .bounds()
        .unwrap_or_else(|| Bounds::of_size(0.0, 0.0));
    let (min, max, centre) = (bounds.min, bounds.max, bounds.centre());
    let view_height = (bounds.height().max(bounds.width()) * 1.1).max(1.0);
    let days = header.date.unwrap_or(0) as f64 / 86_400.0;
    let guid = Uuid::new_v5(&NAME_SPACE, header.name.as_bytes()).braced();
    // DXF Reference, header variables.
    let (unit_code, measurement) = match naming.unit {
        Unit::Millimetre => (4, 1),
        Unit::Inch => (1, 0),
    };
    let length = |out: &mut Groups, mm: f64| out.bare_length(mm / unit_in_mm);
    let template = template::of_version(header.version);
    let mut out =
        Groups::with_room(template.room() + declared.as_bytes().len() + entities.as_bytes().len());
    template.fill(&mut out, |placeholder, out| match placeholder {
        Placeholder::ExtentMinX => length(out, min.x),
        Placeholder::ExtentMinY => length(out, min.y),
        Placeholder::ExtentMaxX => length(out, max.x),
        Placeholder::ExtentMaxY => length(out, max.y),
        Placeholder::ViewCentreX => length(out, centre.x),
        Placeholder::ViewCentreY => length(out, centre.y),
        Placeholder::ViewHeight => length(out, view_height),
        Placeholder::Date => out.raw(format!("{:.9}", UNIX_EPOCH_DAY + days).as_bytes()),
        Placeholder::Identifier => {
            out.raw(guid.encode_upper(&mut Uuid::encode_buffer()).as_bytes());
        }
        Placeholder::NextHandle => out.bare_handle(next_handle),
        Placeholder::Unit => out.bare_whole(unit_code, 6),
        Placeholder::Measurement => out.bare_whole(measurement, 6),
        Placeholder::LayerCount => out.bare_whole(layers.len() + 1, 0),
        Placeholder::Layers => out.raw(declared.as_bytes()),
        Placeholder::Entities => out.raw(entities.as_bytes()),
    });
    Ok(out.into_bytes())
}
