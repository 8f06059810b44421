//! Which layer a piece of work goes to, in words of the trade, and its colour.
//!
//! | layer | what is on it |
//! |---|---|
//! | `CUT_OUTSIDE` | the part's outline, right through: the tool runs outside the line |
//! | `CUT_INSIDE` | openings, right through: the tool runs inside the line |
//! | `DRILL_THROUGH` | holes right through, as circles of their true diameter |
//! | `DRILL_12-5` | holes 12.5 deep, as circles of their true diameter |
//! | `COUNTERBORE_4` | flat-bottomed mouths 4 deep, as circles of their own diameter |
//! | `COUNTERSINK_90DEG` | conical mouths with an included angle of 90 degrees, as circles of the diameter at the face |
//! | `GROOVE_6`, `REBATE_9`, `RECESS_3` | areas milled 6, 9 and 3 deep, as closed borders |
//! | `CUT_OPEN` | what is left of outlines that stand on tabs or share an edge, right through |
//! | `REGISTER` | holes for pins that keep front and back in register |
//! | `MARK` | pencil lines and engraving, never a cut |
//! | `HAND_WORK` | what the machine does not make: edge holes, angled bores, bevels |
//! | `REFERENCE` | what is made from the other face, for orientation |
//! | `NOTES` | texts, and blind work in a file for a laser |
//!
//! A depth is measured from the face that the file shows, in the unit of the file, with `-` for the decimal point.
//! Millimetres stand bare; inches carry `IN` (`DRILL_0-5IN`), so that no depth is read in the wrong unit. A name is
//! made of `A` to `Z`, `0` to `9`, `_` and `-` and has at most 31 characters, which every version of the format allows.
//!
//! Colours are those of the palette of M. Okabe and K. Ito, Color Universal Design (2002, revised 2008), which stays
//! distinct for people with any common kind of colour vision. The format has numbered colours: each is the number whose
//! colour is nearest in CIE 1976 L*a*b*, with the numbers' colours as in the table of ezdxf 1.4 (`ezdxf.colors`).

use std::collections::BTreeMap;

use jigless_core::operation::AreaKind;
use jigless_core::units::{Unit, decimal};

use super::layer_style::{LayerKind, LayerStyle};

/// One kind of work at one depth, which is what a layer holds. Lengths in millimetres, angles in radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Layer {
    /// Texts.
    Notes,
    /// What is made from the other face.
    Reference,
    /// What the machine does not make.
    HandWork,
    /// Holes for the pins that keep front and back in register.
    Register,
    /// Pencil lines and engraving.
    Mark,
    /// An area milled to a depth.
    Area(AreaKind, f64),
    /// A conical mouth with an included angle.
    Countersink(f64),
    /// A flat-bottomed mouth of a depth.
    Counterbore(f64),
    /// A hole of a depth.
    DrillBlind(f64),
    /// A hole right through.
    DrillThrough,
    /// An opening.
    CutInside,
    /// What is left of outlines that stand on tabs or share an edge, so that they are not closed.
    CutOpen,
    /// The outline.
    CutOutside,
}

/// When a layer is worked: what is on a later one would no longer be held by the board if it came first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum MachiningStep {
    /// Not worked at all.
    Information,
    /// What holds the board in place.
    Register,
    /// Marks.
    Mark,
    /// Whatever leaves a floor.
    Blind,
    /// Holes and openings.
    Inner,
    /// The outline, which sets the part free.
    Outer,
}

impl Layer {
    /// Its name in a file of the given unit.
    pub(super) fn name(self, unit: Unit) -> String {
        match self {
            Layer::Notes => "NOTES".to_owned(),
            Layer::Reference => "REFERENCE".to_owned(),
            Layer::HandWork => "HAND_WORK".to_owned(),
            Layer::Register => "REGISTER".to_owned(),
            Layer::Mark => "MARK".to_owned(),
            Layer::Area(kind, depth) => {
                format!(
                    "{}_{}",
                    kind.name().to_ascii_uppercase(),
                    depth_word(depth, unit)
                )
            }
            Layer::Countersink(angle) => {
                let degrees = decimal(angle.to_degrees(), 1).replace('.', "-");
                format!("COUNTERSINK_{degrees}DEG")
            }
            Layer::Counterbore(depth) => format!("COUNTERBORE_{}", depth_word(depth, unit)),
            Layer::DrillBlind(depth) => format!("DRILL_{}", depth_word(depth, unit)),
            Layer::DrillThrough => "DRILL_THROUGH".to_owned(),
            Layer::CutInside => "CUT_INSIDE".to_owned(),
            Layer::CutOpen => "CUT_OPEN".to_owned(),
            Layer::CutOutside => "CUT_OUTSIDE".to_owned(),
        }
    }

    /// What is on it, for the notes.
    pub(super) fn meaning(self, unit: Unit) -> String {
        match self {
            Layer::Notes => "texts; not worked".to_owned(),
            Layer::Reference => "made from the other face; not worked here".to_owned(),
            Layer::HandWork => "by hand, see template; not worked here".to_owned(),
            Layer::Register => {
                "holes for pins in the board below, the same from both faces".to_owned()
            }
            Layer::Mark => "pencil lines and engraving; never a cut".to_owned(),
            Layer::Area(kind, depth) => format!("{}, {} deep", kind.name(), unit.show(depth)),
            Layer::Countersink(angle) => format!(
                "conical mouths of {} degrees, to the diameter drawn",
                decimal(angle.to_degrees(), 1)
            ),
            Layer::Counterbore(depth) => {
                format!("flat-bottomed mouths, {} deep", unit.show(depth))
            }
            Layer::DrillBlind(depth) => format!("holes, {} deep", unit.show(depth)),
            Layer::DrillThrough => "holes right through".to_owned(),
            Layer::CutInside => "right through, on the inside of the line".to_owned(),
            Layer::CutOpen => {
                "right through; open where a tab holds the piece or a neighbour shares the edge"
                    .to_owned()
            }
            Layer::CutOutside => "right through, on the outside of the line".to_owned(),
        }
    }

    /// When it is worked.
    pub(super) fn step(self) -> MachiningStep {
        match self {
            Layer::Notes | Layer::Reference | Layer::HandWork => MachiningStep::Information,
            Layer::Register => MachiningStep::Register,
            Layer::Mark => MachiningStep::Mark,
            Layer::Area(..)
            | Layer::Countersink(_)
            | Layer::Counterbore(_)
            | Layer::DrillBlind(_) => MachiningStep::Blind,
            Layer::DrillThrough | Layer::CutInside => MachiningStep::Inner,
            Layer::CutOpen | Layer::CutOutside => MachiningStep::Outer,
        }
    }

    /// Its colour: by number, and where a format has colours of its own that of the palette. Machines that go by colour
    /// must be able to tell what is cut from what is only to be read, so nothing that is worked is grey, and all that is
    /// not worked is grey or vermillion.
    fn colours(self) -> (u8, &'static str) {
        match self {
            // Grey is not of the palette: it stands back.
            Layer::Notes | Layer::Reference => (8, "#808080"),
            // Vermillion (213, 94, 0).
            Layer::HandWork => (30, "#d55e00"),
            // Reddish purple (204, 121, 167).
            Layer::Mark => (233, "#cc79a7"),
            // Yellow (240, 228, 66).
            Layer::Register => (51, "#f0e442"),
            // Orange (230, 159, 0).
            Layer::Area(..) => (40, "#e69f00"),
            // Sky blue (86, 180, 233).
            Layer::Countersink(_) | Layer::Counterbore(_) | Layer::DrillBlind(_) => {
                (140, "#56b4e9")
            }
            // Bluish green (0, 158, 115).
            Layer::DrillThrough => (122, "#009e73"),
            // Blue (0, 114, 178).
            Layer::CutInside => (163, "#0072b2"),
            // Black (0, 0, 0); drawn white on a black screen.
            Layer::CutOpen | Layer::CutOutside => (7, "#000000"),
        }
    }

    /// Its colour where a format has colours of its own, as `#` and six hexadecimal digits.
    pub(super) fn rgb(self) -> &'static str {
        self.colours().1
    }

    /// Its kind, by which a profile names it.
    fn kind(self) -> LayerKind {
        match self {
            Layer::Notes => LayerKind::Notes,
            Layer::Reference => LayerKind::Reference,
            Layer::HandWork => LayerKind::HandWork,
            Layer::Register => LayerKind::Register,
            Layer::Mark => LayerKind::Mark,
            Layer::Area(AreaKind::Groove, _) => LayerKind::Groove,
            Layer::Area(AreaKind::Rebate, _) => LayerKind::Rebate,
            Layer::Area(AreaKind::Recess, _) => LayerKind::Recess,
            Layer::Countersink(_) => LayerKind::Countersink,
            Layer::Counterbore(_) => LayerKind::Counterbore,
            Layer::DrillBlind(_) => LayerKind::Drill,
            Layer::DrillThrough => LayerKind::DrillThrough,
            Layer::CutInside => LayerKind::CutInside,
            Layer::CutOpen => LayerKind::CutOpen,
            Layer::CutOutside => LayerKind::CutOutside,
        }
    }

    /// How deep it goes into a board of a thickness, in millimetres; 0 for what is not worked.
    pub(super) fn depth(self, thickness: f64) -> f64 {
        match self {
            // A cone's depth hangs on the tool's own angle: its diameter is at the face.
            Layer::Notes
            | Layer::Reference
            | Layer::HandWork
            | Layer::Mark
            | Layer::Countersink(_) => 0.0,
            Layer::Area(_, depth) | Layer::Counterbore(depth) | Layer::DrillBlind(depth) => depth,
            Layer::Register
            | Layer::DrillThrough
            | Layer::CutInside
            | Layer::CutOpen
            | Layer::CutOutside => thickness,
        }
    }

    /// Whether a tool follows it.
    pub(super) fn is_worked(self) -> bool {
        self.step() != MachiningStep::Information
    }

    /// Its name in a file, as the profile has it.
    pub(super) fn named(self, naming: &LayerNaming) -> String {
        let Some(pattern) = naming.style(self).and_then(|style| style.name.as_ref()) else {
            return self.name(naming.unit);
        };
        let depth = match self {
            Layer::Countersink(angle) => decimal(angle.to_degrees(), 1).replace('.', "-"),
            _ => depth_word(self.depth(0.0), naming.unit),
        };
        pattern.replace("{depth}", &depth)
    }

    /// Its colour number in a file, as the profile has it.
    pub(super) fn coloured(self, naming: &LayerNaming) -> u8 {
        let own = naming.style(self).and_then(|style| style.colour);
        own.unwrap_or_else(|| self.colours().0)
    }
}

/// How layers are named and coloured in one file.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LayerNaming {
    /// Unit of the file.
    pub(super) unit: Unit,
    /// What the profile says, by the kind of a layer.
    pub(super) styles: BTreeMap<LayerKind, LayerStyle>,
}

impl LayerNaming {
    /// The names and colours of this program.
    pub(super) fn own(unit: Unit) -> Self {
        Self {
            unit,
            styles: BTreeMap::new(),
        }
    }

    fn style(&self, layer: Layer) -> Option<&LayerStyle> {
        self.styles.get(&layer.kind())
    }
}

/// A depth as part of a layer name: `12-5`, `0-5IN`.
fn depth_word(depth: f64, unit: Unit) -> String {
    let (decimals, suffix) = match unit {
        Unit::Millimetre => (2, ""),
        Unit::Inch => (4, "IN"),
    };
    let number = decimal(depth / unit.in_mm(), decimals).replace('.', "-");
    format!("{number}{suffix}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_say_work_and_depth() {
        let mm = |layer: Layer| layer.name(Unit::Millimetre);
        assert_eq!(mm(Layer::DrillBlind(12.5)), "DRILL_12-5");
        assert_eq!(mm(Layer::Area(AreaKind::Groove, 6.0)), "GROOVE_6");
        assert_eq!(mm(Layer::Area(AreaKind::Rebate, 8.85)), "REBATE_8-85");
        assert_eq!(mm(Layer::Counterbore(4.0)), "COUNTERBORE_4");
        assert_eq!(
            mm(Layer::Countersink(82.5_f64.to_radians())),
            "COUNTERSINK_82-5DEG"
        );
        assert_eq!(Layer::DrillBlind(12.7).name(Unit::Inch), "DRILL_0-5IN");
        assert_eq!(
            Layer::Area(AreaKind::Recess, 25.4 / 16.0).name(Unit::Inch),
            "RECESS_0-0625IN"
        );
    }

    /// The rule of R12 as strict readers hold it: upper-case letters, digits, `$ _ -`, at most 31 characters
    /// (module `r12strict` of ezdxf). Depths beyond any board are in.
    #[test]
    fn every_name_is_legal_in_every_version() {
        let mut layers = vec![
            Layer::Notes,
            Layer::Reference,
            Layer::HandWork,
            Layer::Mark,
            Layer::DrillThrough,
            Layer::CutInside,
            Layer::CutOutside,
        ];
        for depth in [0.001, 12.34567, 9999.99, 1e7] {
            layers.push(Layer::DrillBlind(depth));
            layers.push(Layer::Counterbore(depth));
            layers.push(Layer::Countersink(depth));
            for kind in [AreaKind::Groove, AreaKind::Rebate, AreaKind::Recess] {
                layers.push(Layer::Area(kind, depth));
            }
        }
        for layer in layers {
            for unit in [Unit::Millimetre, Unit::Inch] {
                let name = layer.name(unit);
                assert!(name.len() <= 31, "{name}");
                assert!(
                    name.chars()
                        .all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || "_-".contains(c)),
                    "{name}"
                );
                assert!((1..=255).contains(&layer.colours().0));
            }
        }
    }
}
