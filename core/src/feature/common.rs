//! Keys that several features share, and how they are read.

use crate::diag::Finding;
use crate::operation::{Depth, Mouth};
use crate::resolve::{Context, Field, Fields, Shape};
use crate::source::Spanned;

/// The author's own name.
pub(super) const LABEL: Field = Field::optional("label", Shape::Text, "your own name for it");
/// Whether the corners of another part go into its corners.
pub(super) const fn mating(default: &'static str) -> Field {
    Field::with_default(
        "mating",
        Shape::Word(&["true", "false"]),
        default,
        "whether the corner of another part goes into its corners, so that a round tool must relieve them",
    )
}
/// The face that is worked on.
pub(super) const FACE: Field =
    Field::with_default("face", Shape::Face, "front", "the face that is worked on");
/// A drill's diameter.
pub(super) const DIAMETER: Field =
    Field::required("diameter", Shape::Size, "diameter of the drill");
/// A hole's depth.
pub(super) const DEPTH_OR_THROUGH: Field =
    Field::with_default("depth", Shape::Depth, "through", "depth from the face");
/// A cone for a screw head.
pub(super) const COUNTERSINK: Field = Field::optional(
    "countersink",
    Shape::Map(&[
        Field::required("diameter", Shape::Size, "diameter at the face"),
        Field::with_default(
            "angle",
            Shape::Degrees(30.0, 150.0),
            "90",
            "included angle of the cone",
        ),
    ]),
    "a cone for a screw head",
);
/// A flat-bottomed mouth for a screw head or plug.
pub(super) const COUNTERBORE: Field = Field::optional(
    "counterbore",
    Shape::Map(&[
        Field::required("diameter", Shape::Size, "diameter of the wider hole"),
        Field::required("depth", Shape::Size, "its depth from the face"),
    ]),
    "a wider hole with a flat bottom for a screw head or plug",
);

/// A mouth of a hole and what is needed to blame it.
#[derive(Debug, Clone, Copy)]
pub(super) struct PlacedMouth {
    pub(super) mouth: Spanned<Mouth>,
}

/// Reads `countersink` or `counterbore` and holds it against the hole.
///
/// `Ok(None)` where the plan asks for neither; `Err` where it asks for something that cannot be and that has been told.
pub(super) fn read_mouth(
    fields: &Fields,
    diameter: Option<Spanned<f64>>,
    depth: Option<Spanned<Depth>>,
) -> Result<Option<PlacedMouth>, ()> {
    let mouth = if fields.has("countersink") && fields.has("counterbore") {
        fields.exactly_one(&["countersink", "counterbore"]);
        return Err(());
    } else if fields.has("countersink") {
        let cone = fields.map("countersink").ok_or(())?;
        let (diameter, angle) = (cone.length("diameter"), cone.degrees("angle"));
        let diameter = diameter.ok_or(())?;
        Spanned::new(
            Mouth::Countersink {
                diameter: diameter.value,
                angle: angle.ok_or(())?.value.to_radians(),
            },
            diameter.span,
        )
    } else if fields.has("counterbore") {
        let bore = fields.map("counterbore").ok_or(())?;
        let (diameter, depth) = (bore.length("diameter"), bore.length("depth"));
        let diameter = diameter.ok_or(())?;
        Spanned::new(
            Mouth::Counterbore {
                diameter: diameter.value,
                depth: depth.ok_or(())?.value,
            },
            diameter.span,
        )
    } else {
        return Ok(None);
    };
    let (diameter, depth) = (diameter.ok_or(())?, depth.ok_or(())?);
    check_mouth(fields.context(), mouth, diameter, depth)?;
    Ok(Some(PlacedMouth { mouth }))
}

fn check_mouth(
    context: Context,
    mouth: Spanned<Mouth>,
    diameter: Spanned<f64>,
    depth: Spanned<Depth>,
) -> Result<(), ()> {
    let unit = context.names.unit();
    if mouth.value.diameter() <= diameter.value {
        context.find(
            Finding::error(
                "mouth-too-small",
                mouth.span,
                format!(
                    "a mouth of {} is no wider than the hole of {}",
                    unit.show(mouth.value.diameter()),
                    unit.show(diameter.value)
                ),
            )
            .label(diameter.span, "the hole")
            .fix(format!("make it wider than {}", unit.show(diameter.value))),
        );
        return Err(());
    }
    if let Depth::Blind(limit) = depth.value
        && mouth.value.depth(diameter.value) >= limit
    {
        context.find(
            Finding::error(
                "mouth-too-deep",
                mouth.span,
                format!(
                    "the mouth is {} deep, the hole only {}",
                    unit.show(mouth.value.depth(diameter.value)),
                    unit.show(limit)
                ),
            )
            .label(depth.span, "the hole")
            .fix("make the hole deeper or the mouth shallower"),
        );
        return Err(());
    }
    Ok(())
}
