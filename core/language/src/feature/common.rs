//! Keys that several features share.

use jigless_model::diag::Finding;
use jigless_model::fact::{Enters, Fact, Fastener, Received, ScrewIn, ScrewSize, Slot};
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::operation::{Depth, Mouth};
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Context, Degrees, Distance, Fields, KeyType, Map, Number, Shape, Size};

crate::fields! {
    /// The author's own name, which is read for all features together.
    pub(super) struct Label {
        /// your own name for it
        _label as "label": Option<String>,
    }
}

crate::fields! {
    /// The face that is worked on.
    pub(super) struct OnFace {
        /// the face that is worked on
        face: Face = "front",
    }
}

crate::fields! {
    /// The part whose edge goes in.
    pub(super) struct Receives {
        /// name of the part whose edge goes in here; its measured thickness is then held against the room that there is
        receives: Option<Spanned<String>>,
    }
}

impl Receives {
    /// Whether a part is named.
    pub(super) fn is_given(&self) -> bool {
        self.receives.is_some()
    }

    /// Notes what goes into a slot of this width and depth.
    pub(super) fn note(
        self,
        out: &mut Lowering,
        slot: Slot,
        width: Spanned<f64>,
        depth: Spanned<f64>,
        edge: Option<Edge>,
    ) {
        if let Some(part) = self.receives {
            out.know(Fact::Receives(Received {
                part,
                slot,
                width,
                depth,
                edge,
            }));
        }
    }
}

crate::fields! {
    /// How far something keeps away from the two ends of its run, in millimetres.
    #[derive(Clone, Copy, Default)]
    pub(super) struct Stop {
        /// distance from the left or bottom end where it begins
        start: Distance = "0",
        /// distance from the right or top end where it ends
        end: Distance = "0",
    }
}

crate::fields! {
    /// The screw of bought hardware.
    pub(super) struct HardwareScrew {
        /// the screw that comes with the hardware, to hold against the part's thickness
        screw: Option<Map<HardwareScrewKeys>>,
    }
}

crate::fields! {
    pub(super) struct HardwareScrewKeys {
        /// how much of the screw goes into the wood
        length: Spanned<Size>,
    }
}

impl HardwareScrew {
    /// What is listed for each hole: what the plan says, or the screw that comes with the hardware.
    pub(super) fn listed(&self, bought: Option<&Fitting>) -> Option<Fitting> {
        let own = self
            .screw
            .as_ref()
            .map(|HardwareScrewKeys { length }| Fitting {
                length: Some(length.value),
                ..Fitting::plain(FittingKind::Screw, 1, length.span)
            });
        bought.cloned().or(own)
    }

    /// Notes the screw, where the plan gives it; otherwise the one that is bought for each hole, if it has a length.
    pub(super) fn note(
        &self,
        out: &mut Lowering,
        what: &'static str,
        diameter: f64,
        bought: Option<&Fitting>,
    ) {
        match self.screw {
            Some(HardwareScrewKeys { length }) => out.know(Fact::Fastener(Fastener {
                kind: FittingKind::Screw,
                what,
                length,
                gauge: None,
                diameter,
                without_hole: false,
                sunk: 0.0,
            })),
            None => note_bought(out, bought, Some(what), diameter, None),
        }
    }
}

/// Notes what is bought for the holes of a diameter, where it has a length and ends in wood, a nut or an insert.
pub(super) fn note_bought(
    out: &mut Lowering,
    bought: Option<&Fitting>,
    what: Option<&'static str>,
    diameter: f64,
    mouth: Option<Mouth>,
) {
    let Some(fitting) = bought else { return };
    let ends = matches!(
        fitting.kind,
        FittingKind::Screw
            | FittingKind::Bolt
            | FittingKind::Nail
            | FittingKind::Staple
            | FittingKind::Insert
            | FittingKind::Knob
    );
    let Some(length) = fitting.length.filter(|_| ends) else {
        return;
    };
    out.know(Fact::Fastener(Fastener {
        kind: fitting.kind,
        what: what.unwrap_or(fitting.kind.name()),
        length: Spanned::new(length, fitting.span),
        gauge: fitting.gauge.clone(),
        diameter,
        without_hole: false,
        sunk: sunk(mouth),
    }));
}

/// How far a head lies below the face in a mouth.
fn sunk(mouth: Option<Mouth>) -> f64 {
    match mouth {
        Some(Mouth::Counterbore { depth, .. }) => depth,
        Some(Mouth::Countersink { .. }) | None => 0.0,
    }
}

crate::fields! {
    /// A cone for a screw head.
    pub(super) struct Countersink {
        /// diameter at the face
        diameter: Spanned<Size>,
        /// included angle of the cone; 90, and 82 in a plan in inches, where nothing is said
        angle: Option<Degrees<30, 150>> [Note("82 for inch screws, 90 for metric ones: ASME B18.6.1 and ISO 7721, from memory")],
    }
}

crate::fields! {
    /// A flat-bottomed mouth for a screw head or plug.
    pub(super) struct Counterbore {
        /// diameter of the wider hole
        diameter: Spanned<Size>,
        /// its depth from the face
        depth: Size,
    }
}

crate::fields! {
    /// A screw of the author's choice.
    pub(super) struct ScrewKeys {
        /// length of the screw as sold
        length: Spanned<Size>,
        /// gauge `#8`, outside of the thread `4.5 mm`, or machine thread `M4`
        size: Spanned<ScrewSize>,
        /// name of the part that it holds to, where it goes through this one
        into: Option<Spanned<String>>,
        /// where it enters that part
        enters: Enters = "face",
        /// kilograms that pull the screw out, if you know them
        pull: Option<Spanned<Number>>,
    }
}

impl ScrewKeys {
    /// The screw as it is listed.
    pub(super) fn bought(&self) -> Fitting {
        Fitting {
            length: Some(self.length.value),
            gauge: Some(self.size.value.name()),
            ..Fitting::plain(FittingKind::Screw, 1, self.length.span)
        }
    }

    /// The screw in a hole.
    pub(super) fn fact(
        self,
        diameter: Spanned<f64>,
        depth: Spanned<Depth>,
        mouth: Option<Mouth>,
    ) -> Fact {
        Fact::Screw(ScrewIn {
            length: self.length,
            size: self.size,
            into: self.into,
            enters: self.enters,
            pull: self.pull,
            diameter,
            depth,
            sunk: sunk(mouth),
        })
    }
}

crate::fields! {
    /// A threaded insert.
    pub(super) struct InsertKeys {
        /// diameter that its maker asks for
        hole: Spanned<Size>,
        /// length of the insert
        length: Spanned<Size>,
    }
}

crate::key_words!(Enters);

impl KeyType for ScrewSize {
    type Value = ScrewSize;
    const SHAPE: Shape = Shape::Text;

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<ScrewSize>> {
        let text = fields.text(key)?;
        if let Some(size) = ScrewSize::parse(&text.value) {
            return Some(Spanned::new(size, text.span));
        }
        fields.context().find(
            Finding::error(
                codes::BAD_SCREW_SIZE,
                text.span,
                "this is no size of a screw",
            )
            .fix("write a gauge such as `\"#8\"`, the outside of the thread such as `4.5 mm`, or `M4`"),
        );
        None
    }
}

/// Holds the mouth of a hole against the hole; reports what cannot be.
pub(super) fn mouth_fits(
    context: Context,
    mouth: Spanned<Mouth>,
    diameter: Spanned<f64>,
    depth: Spanned<Depth>,
) -> Option<()> {
    let unit = context.unit();
    let hole = unit.show(diameter.value);
    if mouth.value.diameter() <= diameter.value {
        let wide = unit.show(mouth.value.diameter());
        let message = format!("a mouth of {wide} is no wider than the hole of {hole}");
        context.find(
            Finding::error(codes::MOUTH_TOO_SMALL, mouth.span, message)
                .label(diameter.span, "the hole")
                .fix(format!("make it wider than {hole}")),
        );
        return None;
    }
    let deep = mouth.value.depth(diameter.value);
    if let Depth::Blind(limit) = depth.value
        && deep >= limit
    {
        let (deep, limit) = (unit.show(deep), unit.show(limit));
        let message = format!("the mouth is {deep} deep, the hole only {limit}");
        context.find(
            Finding::error(codes::MOUTH_TOO_DEEP, mouth.span, message)
                .label(depth.span, "the hole")
                .fix("make the hole deeper or the mouth shallower"),
        );
        return None;
    }
    Some(())
}
