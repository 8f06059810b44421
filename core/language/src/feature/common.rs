//! Keys that several features share, and how they are read.

use jigless_model::diag::Finding;
use jigless_model::fact::{Enters, Fact, ScrewIn, ScrewSize};
use jigless_model::operation::{Depth, Mouth};
use jigless_model::source::Spanned;

use crate::codes;
use crate::resolve::{Context, Field, Fields, Shape};

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

/// The screw of bought hardware.
pub(super) const HARDWARE_SCREW: Field = Field::optional(
    "screw",
    Shape::Map(&[Field::required(
        "length",
        Shape::Size,
        "how much of the screw goes into the wood",
    )]),
    "the screw that comes with the hardware, to hold against the part's thickness",
);

/// Reads `screw` of hardware. `Err` where something was told.
pub(super) fn read_hardware_screw(fields: &Fields) -> Result<Option<Spanned<f64>>, ()> {
    if !fields.has("screw") {
        return Ok(None);
    }
    let screw = fields.map("screw").ok_or(())?;
    screw.length("length").map(Some).ok_or(())
}

/// The part whose edge goes in.
pub(super) const RECEIVES: Field = Field::optional(
    "receives",
    Shape::Text,
    "name of the part whose edge goes in here; its measured thickness is then held against the room that there is",
);

/// Reads `receives`. `Err` where something was told.
pub(super) fn read_receives(fields: &Fields) -> Result<Option<Spanned<String>>, ()> {
    if !fields.has("receives") {
        return Ok(None);
    }
    fields.text("receives").map(Some).ok_or(())
}

/// A screw of the author's choice.
pub(super) const SCREW: Field = Field::optional(
    "screw",
    Shape::Map(&[
        Field::required("length", Shape::Size, "length of the screw as sold"),
        Field::required(
            "size",
            Shape::Text,
            "gauge `#8`, outside of the thread `4.5 mm`, or machine thread `M4`",
        ),
        Field::optional(
            "into",
            Shape::Text,
            "name of the part that it holds to, where it goes through this one",
        ),
        Field::with_default(
            "enters",
            Shape::Word(&["face", "edge"]),
            "face",
            "where it enters that part",
        ),
        Field::optional(
            "pull",
            Shape::Number,
            "kilograms that pull the screw out, if you know them",
        ),
    ]),
    "the screw that goes through this hole or into it",
);
/// The screw of an edge hole.
pub(super) const EDGE_SCREW: Field = Field::optional(
    "screw",
    Shape::Map(&[
        Field::required(
            "length",
            Shape::Size,
            "how much of the screw goes into this hole",
        ),
        Field::required(
            "size",
            Shape::Text,
            "gauge `#8`, or outside of the thread `4.5 mm`",
        ),
    ]),
    "the screw that goes into this hole",
);

/// Reads `screw` of an edge hole. `Err` where something was told.
pub(super) fn read_edge_screw(
    fields: &Fields,
    diameter: Option<Spanned<f64>>,
    depth: Option<Spanned<f64>>,
) -> Result<Option<Fact>, ()> {
    if !fields.has("screw") {
        return Ok(None);
    }
    let screw = fields.map("screw").ok_or(())?;
    let (length, size) = (screw.length("length"), screw.text("size"));
    let size = read_screw_size(fields.context(), &size.ok_or(())?)?;
    Ok(Some(Fact::Screw(ScrewIn {
        length: length.ok_or(())?,
        size,
        into: None,
        enters: Enters::Edge,
        pull: None,
        diameter: diameter.ok_or(())?,
        depth: depth.ok_or(())?.map(Depth::Blind),
        sunk: 0.0,
    })))
}

/// A threaded insert.
pub(super) const INSERT: Field = Field::optional(
    "insert",
    Shape::Map(&[
        Field::required("hole", Shape::Size, "diameter that its maker asks for"),
        Field::required("length", Shape::Size, "length of the insert"),
    ]),
    "the threaded insert that goes into this hole",
);

/// Reads `screw` and `insert` of a hole. `Err` where something was told.
pub(super) fn read_fixings(
    fields: &Fields,
    diameter: Option<Spanned<f64>>,
    depth: Option<Spanned<Depth>>,
    mouth: Option<Mouth>,
) -> Result<Vec<Fact>, ()> {
    let mut facts = Vec::new();
    if fields.has("screw") {
        let screw = fields.map("screw").ok_or(())?;
        let (length, size) = (screw.length("length"), screw.text("size"));
        let into = if screw.has("into") {
            Some(screw.text("into").ok_or(())?)
        } else {
            None
        };
        let enters = screw.word("enters").ok_or(())?;
        let pull = if screw.has("pull") {
            Some(screw.number("pull").ok_or(())?)
        } else {
            None
        };
        let size = read_screw_size(fields.context(), &size.ok_or(())?)?;
        facts.push(Fact::Screw(ScrewIn {
            length: length.ok_or(())?,
            size,
            into,
            enters: if enters.value == "edge" {
                Enters::Edge
            } else {
                Enters::Face
            },
            pull,
            diameter: diameter.ok_or(())?,
            depth: depth.ok_or(())?,
            sunk: match mouth {
                Some(Mouth::Counterbore { depth, .. }) => depth,
                _ => 0.0,
            },
        }));
    }
    if fields.has("insert") {
        let insert = fields.map("insert").ok_or(())?;
        let (hole, length) = (insert.length("hole"), insert.length("length"));
        facts.push(Fact::Insert {
            wanted: hole.ok_or(())?,
            length: length.ok_or(())?,
            diameter: diameter.ok_or(())?,
            depth: depth.ok_or(())?,
        });
    }
    Ok(facts)
}

fn read_screw_size(context: Context, text: &Spanned<String>) -> Result<Spanned<ScrewSize>, ()> {
    if let Some(size) = ScrewSize::parse(&text.value) {
        return Ok(Spanned::new(size, text.span));
    }
    context.find(
        Finding::error(
            codes::BAD_SCREW_SIZE,
            text.span,
            "this is no size of a screw",
        )
        .fix("write a gauge such as `\"#8\"`, the outside of the thread such as `4.5 mm`, or `M4`"),
    );
    Err(())
}

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
                codes::MOUTH_TOO_SMALL,
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
                codes::MOUTH_TOO_DEEP,
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
