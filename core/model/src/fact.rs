//! What features know beyond the wood that they take away: the hardware that is meant and the parts that meet.
//!
//! Checks read these; nothing is guessed where the plan says nothing.

use crate::hardware::FittingKind;
use crate::operation::Depth;
use crate::side::Edge;
use crate::source::Spanned;
use crate::units::Unit;

/// Something that a feature knows. Lengths in millimetres.
#[derive(Debug, Clone, PartialEq)]
pub enum Fact {
    /// Cups of hinges in a door.
    HingeCups {
        /// The hinge edge.
        edge: Edge,
        /// Where along the edge.
        at: Vec<Spanned<f64>>,
        /// From the door's edge to the rim of the cup.
        edge_gap: Spanned<f64>,
    },
    /// Plates of hinges on a cabinet side.
    HingePlates {
        /// The front edge of the side.
        edge: Edge,
        /// Where along the edge.
        at: Vec<Spanned<f64>>,
    },
    /// A groove, rebate or slot receives the edge of a part.
    Receives(Received),
    /// A screw goes through a hole or into it.
    Screw(ScrewIn),
    /// A screw, bolt or the like of a stated length goes into the feature's holes of one diameter.
    Fastener(Fastener),
    /// A threaded insert or the like goes into a hole.
    Insert {
        /// The hole that its maker asks for.
        wanted: Spanned<f64>,
        /// Its length.
        length: Spanned<f64>,
        /// The hole's diameter.
        diameter: Spanned<f64>,
        /// The hole's depth.
        depth: Spanned<Depth>,
    },
    /// The part that pocket screws go into.
    PocketScrewsInto {
        /// Name of the part.
        part: Spanned<String>,
        /// The screws' length.
        length: Spanned<f64>,
        /// What of a screw lies in this part, along its axis: the wood between shoulder and edge.
        shoulder: f64,
        /// Angle between screw and face, in radians.
        angle: f64,
    },
}

/// What is bought for a hole and has a length.
#[derive(Debug, Clone, PartialEq)]
pub struct Fastener {
    /// What it is.
    pub kind: FittingKind,
    /// What it is called in messages: `screw of the runner`.
    pub what: &'static str,
    /// Its length from the face or edge that the hole is drilled into.
    pub length: Spanned<f64>,
    /// Gauge or diameter as it is sold.
    pub gauge: Option<String>,
    /// Diameter of the holes that it goes into; its own where it is driven without one.
    pub diameter: f64,
    /// Whether it is driven without a hole, at the marks of its feature.
    pub without_hole: bool,
    /// How far its head lies below the face; 0 for a head on the face or flush with it.
    pub sunk: f64,
}

/// What receives the edge of another part.
#[derive(Debug, Clone, PartialEq)]
pub struct Received {
    /// Name of the part that goes in.
    pub part: Spanned<String>,
    /// What it goes into.
    pub slot: Slot,
    /// Room for its thickness.
    pub width: Spanned<f64>,
    /// How deep it goes in.
    pub depth: Spanned<f64>,
    /// The edge that a slot is cut into, if it is cut into one.
    pub edge: Option<Edge>,
}

/// What receives the edge of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slot {
    /// A groove or housing: closed on both sides.
    Groove,
    /// A rebate: open on one side.
    Rebate,
    /// A slot right through from an edge, for parts that cross.
    Lap,
    /// A slot right through.
    Mortise,
}

impl Slot {
    /// The trade's word.
    pub const fn name(self) -> &'static str {
        match self {
            Slot::Groove => "groove",
            Slot::Rebate => "rebate",
            Slot::Lap => "notch",
            Slot::Mortise => "slot",
        }
    }
}

/// A screw in a hole.
#[derive(Debug, Clone, PartialEq)]
pub struct ScrewIn {
    /// Its length as sold.
    pub length: Spanned<f64>,
    /// Its size.
    pub size: Spanned<ScrewSize>,
    /// The part that it holds to, if it goes through this one.
    pub into: Option<Spanned<String>>,
    /// Where it enters the other part.
    pub enters: Enters,
    /// The pull on it in kilograms, if the author gives one.
    pub pull: Option<Spanned<f64>>,
    /// The hole's diameter.
    pub diameter: Spanned<f64>,
    /// The hole's depth.
    pub depth: Spanned<Depth>,
    /// How far the head lies below the face; 0 for a head on the face or flush with it.
    pub sunk: f64,
}

/// Angle of the cone under the flat head of a screw, in degrees: 82 for inch screws, 90 for metric ones (ASME B18.6.1 and
/// ISO 7721, from memory).
pub const fn cone_angle(unit: Unit) -> f64 {
    match unit {
        Unit::Inch => 82.0,
        Unit::Millimetre => 90.0,
    }
}

crate::words! {
    /// Where a screw enters a part.
    pub enum Enters {
        /// A broad face.
        Face = "face",
        /// An edge.
        Edge = "edge",
    }
}

/// Size of a screw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ScrewSize {
    /// A wood screw by inch gauge: `#8`. The gauge names the shank.
    Gauge(u32),
    /// A wood screw by the outside of its thread in millimetres: `4.5 mm`.
    Thread(f64),
    /// A machine screw: `M4`.
    Machine(f64),
}

impl ScrewSize {
    /// Reads `#8`, `M4`, `4.5 mm` or `4.5`.
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        if let Some(gauge) = text.strip_prefix('#') {
            let gauge: u32 = gauge.trim().parse().ok()?;
            return (gauge <= 24).then_some(ScrewSize::Gauge(gauge));
        }
        if let Some(size) = text
            .strip_prefix(['M', 'm'])
            .filter(|t| !t.starts_with('m'))
        {
            let size: f64 = size.trim().parse().ok()?;
            return (1.0..=30.0)
                .contains(&size)
                .then_some(ScrewSize::Machine(size));
        }
        let size: f64 = text
            .strip_suffix("mm")
            .unwrap_or(text)
            .trim()
            .parse()
            .ok()?;
        (0.5..=30.0)
            .contains(&size)
            .then_some(ScrewSize::Thread(size))
    }

    /// Diameter of the thickest part in millimetres: the shank of a gauge, the outside of a thread.
    ///
    /// A gauge is D = 0.060 in + 0.013 in x gauge (ASME B18.6.1; formula seen second-hand): #8 is 0.164 in.
    pub fn diameter(self) -> f64 {
        match self {
            ScrewSize::Gauge(gauge) => {
                (0.060 + 0.013 * f64::from(gauge)) * crate::units::MM_PER_INCH
            }
            ScrewSize::Thread(diameter) | ScrewSize::Machine(diameter) => diameter,
        }
    }

    /// As the trade writes it.
    pub fn name(self) -> String {
        match self {
            ScrewSize::Gauge(gauge) => format!("#{gauge}"),
            ScrewSize::Thread(diameter) => format!("{} mm", crate::units::decimal(diameter, 2)),
            ScrewSize::Machine(size) => format!("M{}", crate::units::decimal(size, 1)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::ScrewSize;

    /// Body diameters after ASME B18.6.1 as tabled (derived from the formula seen second-hand): #6 0.138, #8 0.164,
    /// #10 0.190, #12 0.216 in.
    #[test]
    fn a_gauge_names_the_shank() {
        for (gauge, inches) in [
            (2, 0.086),
            (6, 0.138),
            (8, 0.164),
            (10, 0.190),
            (12, 0.216),
            (14, 0.242),
        ] {
            let size = ScrewSize::Gauge(gauge);
            assert!((size.diameter() / 25.4 - inches).abs() < 1e-9, "#{gauge}");
        }
    }

    #[test]
    fn sizes_are_read_as_the_trade_writes_them() {
        assert_eq!(ScrewSize::parse("#8"), Some(ScrewSize::Gauge(8)));
        assert_eq!(ScrewSize::parse("M4"), Some(ScrewSize::Machine(4.0)));
        assert_eq!(ScrewSize::parse("4.5 mm"), Some(ScrewSize::Thread(4.5)));
        assert_eq!(ScrewSize::parse("4.5"), Some(ScrewSize::Thread(4.5)));
        for wrong in ["", "#", "#99", "M", "thick", "mm", "-4", "nan"] {
            assert_eq!(ScrewSize::parse(wrong), None, "{wrong}");
        }
    }
}
