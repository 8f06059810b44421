//! Which layer a piece of work goes to, in words of the trade, and its colour.
//!
//! | layer | what is on it |
//! |---|---|
//! | `CUT_OUTSIDE` | the part's outline, right through: the tool runs outside the line |
//! | `CUT_INSIDE` | openings, right through: the tool runs inside the line |
//! | `DRILL_THROUGH_D5` | holes of 5 right through, as circles of their true diameter |
//! | `DRILL_D5_12-5` | holes of 5, 12.5 deep, as circles of their true diameter |
//! | `FLATBORE_D12_4` | flat-bottomed mouths of 12, 4 deep, as circles of their own diameter |
//! | `COUNTERSINK_90DEG_5` | conical mouths with an included angle of 90 degrees, to be cut until the point of the tool is 5 deep, as circles of the diameter at the face |
//! | `GROOVE_6`, `REBATE_9`, `RECESS_3` | areas milled 6, 9 and 3 deep, as closed borders |
//! | `CUT_OPEN` | what is left of outlines that stand on tabs or share an edge, right through |
//! | `REGISTER` | holes for pins that keep front and back in register, in the file that is worked first |
//! | `PINS` | where those pins stand when the other face is worked; never a cut |
//! | `MARK` | pencil lines and engraving, never a cut |
//! | `HAND_WORK` | what the machine does not make: edge holes, angled bores, bevels |
//! | `REFERENCE` | what is made from the other face, for orientation |
//! | `NOTES` | texts, and blind work in a file for a laser |
//!
//! There is one layer for each kind, depth and diameter, so that each can have its tool. A depth is measured from the
//! face that the file shows, in the unit of the file, with `-` for the decimal point.
//! Millimetres stand bare; inches carry `IN` at the end (`DRILL_D0-25_0-5IN`), so that no depth is read in the wrong unit. A name is
//! made of `A` to `Z`, `0` to `9`, `_` and `-` and has at most 31 characters, which every version of the format allows.
//!
//! Colours are those of the palette of M. Okabe and K. Ito, Color Universal Design (2002, revised 2008), which stays
//! distinct for people with any common kind of colour vision. The format has numbered colours: each is the number whose
//! colour is nearest in CIE 1976 L*a*b*, with the numbers' colours as in the table of ezdxf 1.4 (`ezdxf.colors`).

use std::collections::BTreeMap;

use jigless_model::operation::{AreaKind, Depth, Drill};
use jigless_model::units::{Unit, decimal};

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
    /// Where the pins stand that keep front and back in register.
    Pins,
    /// Holes for those pins.
    Register,
    /// Pencil lines and engraving.
    Mark,
    /// An area milled to a depth.
    Area(AreaKind, f64),
    /// A conical mouth of a diameter at the face.
    Countersink {
        /// Included angle.
        angle: f64,
        /// Diameter at the face.
        diameter: f64,
    },
    /// A flat-bottomed mouth.
    Counterbore {
        /// Its diameter.
        diameter: f64,
        /// Its depth.
        depth: f64,
    },
    /// A hole of a depth.
    DrillBlind {
        /// Its diameter.
        diameter: f64,
        /// Its depth.
        depth: f64,
    },
    /// A hole of a diameter, right through.
    DrillThrough(f64),
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

/// A colour: its number, and for formats with colours of their own `#` and six hexadecimal digits.
type Colours = (u8, &'static str);

// Machines that go by colour must be able to tell what is cut from what is only to be read, so nothing that is worked is
// grey, and all that is not worked is grey or vermillion. Grey is not of the palette: it stands back. Black is drawn white
// on a black screen.
const GREY: Colours = (8, "#808080");
const VERMILLION: Colours = (30, "#d55e00");
const REDDISH_PURPLE: Colours = (233, "#cc79a7");
const YELLOW: Colours = (51, "#f0e442");
const ORANGE: Colours = (40, "#e69f00");
const SKY_BLUE: Colours = (140, "#56b4e9");
const BLUISH_GREEN: Colours = (122, "#009e73");
const BLUE: Colours = (163, "#0072b2");
const BLACK: Colours = (7, "#000000");

/// What holds of a layer whatever its depth.
struct LayerFacts {
    /// By which a profile names it.
    kind: LayerKind,
    /// How its name begins.
    word: &'static str,
    /// When it is worked.
    step: MachiningStep,
    colours: Colours,
}

impl Layer {
    /// That of a hole, without its mouth.
    pub(super) fn of_hole(hole: &Drill) -> Layer {
        let diameter = hole.diameter;
        match hole.depth {
            Depth::Through => Layer::DrillThrough(diameter),
            Depth::Blind(depth) => Layer::DrillBlind { diameter, depth },
        }
    }

    /// Its name in a file of the given unit.
    pub(super) fn name(self, unit: Unit) -> String {
        let word = self.facts().word;
        match self {
            Layer::Area(_, depth) => format!("{word}_{}", length_word(depth, unit)),
            Layer::Counterbore { diameter, depth } | Layer::DrillBlind { diameter, depth } => {
                let diameter = bare_word(diameter, unit);
                format!("{word}_D{diameter}_{}", length_word(depth, unit))
            }
            Layer::DrillThrough(diameter) => format!("{word}_D{}", length_word(diameter, unit)),
            Layer::Countersink { angle, .. } => {
                let depth = length_word(self.depth(0.0), unit);
                format!("{word}_{}DEG_{depth}", angle_word(angle))
            }
            _ => word.to_owned(),
        }
    }

    /// What is on it, for the notes.
    pub(super) fn meaning(self, unit: Unit) -> String {
        let meaning = match self {
            Layer::Notes => "texts; not worked",
            Layer::Reference => "made from the other face; not worked here",
            Layer::HandWork => "by hand, see template; not worked here",
            Layer::Pins => "the pins stand here; not worked",
            Layer::Register => "holes for pins in the board below, where the other file has PINS",
            Layer::Mark => "pencil lines and engraving; never a cut",
            Layer::Area(kind, depth) => {
                return format!("{}, {} deep", kind.name(), unit.show(depth));
            }
            Layer::Countersink { angle, diameter } => {
                return format!(
                    "conical mouths of {} degrees, {} at the face, the point of the tool {} deep",
                    decimal(angle.to_degrees(), 1),
                    unit.show(diameter),
                    unit.show(self.depth(0.0))
                );
            }
            Layer::Counterbore { diameter, depth } => {
                let (diameter, depth) = (unit.show(diameter), unit.show(depth));
                return format!("flat-bottomed mouths of {diameter}, {depth} deep");
            }
            Layer::DrillBlind { diameter, depth } => {
                let (diameter, depth) = (unit.show(diameter), unit.show(depth));
                return format!("holes of {diameter}, {depth} deep");
            }
            Layer::DrillThrough(diameter) => {
                return format!("holes of {} right through", unit.show(diameter));
            }
            Layer::CutInside => "right through, on the inside of the line",
            Layer::CutOpen => {
                "right through; open where a tab holds the piece or a neighbour shares the edge"
            }
            Layer::CutOutside => "right through, on the outside of the line",
        };
        meaning.to_owned()
    }

    /// What holds of it whatever its depth.
    fn facts(self) -> LayerFacts {
        use LayerKind as Kind;
        use MachiningStep as Step;
        let (kind, word, step, colours) = match self {
            Layer::Notes => (Kind::Notes, "NOTES", Step::Information, GREY),
            Layer::Reference => (Kind::Reference, "REFERENCE", Step::Information, GREY),
            Layer::HandWork => (Kind::HandWork, "HAND_WORK", Step::Information, VERMILLION),
            Layer::Pins => (Kind::Pins, "PINS", Step::Information, VERMILLION),
            Layer::Register => (Kind::Register, "REGISTER", Step::Register, YELLOW),
            Layer::Mark => (Kind::Mark, "MARK", Step::Mark, REDDISH_PURPLE),
            Layer::Area(AreaKind::Groove, _) => (Kind::Groove, "GROOVE", Step::Blind, ORANGE),
            Layer::Area(AreaKind::Rebate, _) => (Kind::Rebate, "REBATE", Step::Blind, ORANGE),
            Layer::Area(AreaKind::Recess, _) => (Kind::Recess, "RECESS", Step::Blind, ORANGE),
            Layer::Countersink { .. } => (Kind::Countersink, "COUNTERSINK", Step::Blind, SKY_BLUE),
            Layer::Counterbore { .. } => (Kind::Counterbore, "FLATBORE", Step::Blind, SKY_BLUE),
            Layer::DrillBlind { .. } => (Kind::Drill, "DRILL", Step::Blind, SKY_BLUE),
            Layer::DrillThrough(_) => (
                Kind::DrillThrough,
                "DRILL_THROUGH",
                Step::Inner,
                BLUISH_GREEN,
            ),
            Layer::CutInside => (Kind::CutInside, "CUT_INSIDE", Step::Inner, BLUE),
            Layer::CutOpen => (Kind::CutOpen, "CUT_OPEN", Step::Outer, BLACK),
            Layer::CutOutside => (Kind::CutOutside, "CUT_OUTSIDE", Step::Outer, BLACK),
        };
        LayerFacts {
            kind,
            word,
            step,
            colours,
        }
    }

    /// When it is worked.
    pub(super) fn step(self) -> MachiningStep {
        self.facts().step
    }

    /// Its colour where a format has colours of its own, as `#` and six hexadecimal digits.
    pub(super) fn rgb(self) -> &'static str {
        self.facts().colours.1
    }

    /// How deep it goes where through cuts go to `through`, in millimetres; 0 for what is not worked.
    pub(super) fn depth(self, through: f64) -> f64 {
        match self {
            Layer::Notes | Layer::Reference | Layer::HandWork | Layer::Pins | Layer::Mark => 0.0,
            // The point of a cone whose diameter at the face is given (elementary).
            Layer::Countersink { angle, diameter } => diameter / 2.0 / (angle / 2.0).tan(),
            Layer::Area(_, depth)
            | Layer::Counterbore { depth, .. }
            | Layer::DrillBlind { depth, .. } => depth,
            Layer::Register
            | Layer::DrillThrough(_)
            | Layer::CutInside
            | Layer::CutOpen
            | Layer::CutOutside => through,
        }
    }

    /// The diameter that all of its work has, if it has one, in millimetres.
    pub(super) fn diameter(self) -> Option<f64> {
        match self {
            Layer::Countersink { diameter, .. }
            | Layer::Counterbore { diameter, .. }
            | Layer::DrillBlind { diameter, .. }
            | Layer::DrillThrough(diameter) => Some(diameter),
            _ => None,
        }
    }

    /// What puts layers in the order in which they are worked; what has another tool is apart.
    pub(super) fn rank(self) -> (MachiningStep, LayerKind, i64, i64) {
        let facts = self.facts();
        let micrometres = |mm: f64| (mm * 1000.0).round() as i64;
        let diameter = self.diameter().map_or(0, micrometres);
        (
            facts.step,
            facts.kind,
            diameter,
            micrometres(self.depth(0.0)),
        )
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
        let angle = match self {
            Layer::Countersink { angle, .. } => angle_word(angle),
            _ => String::new(),
        };
        let diameter = bare_word(self.diameter().unwrap_or(0.0), naming.unit);
        pattern
            .replace("{depth}", &length_word(self.depth(0.0), naming.unit))
            .replace("{diameter}", &diameter)
            .replace("{angle}", &angle)
    }

    /// Its colour number in a file, as the profile has it.
    pub(super) fn coloured(self, naming: &LayerNaming) -> u8 {
        let own = naming.style(self).and_then(|style| style.colour);
        own.unwrap_or_else(|| self.facts().colours.0)
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
        self.styles.get(&layer.facts().kind)
    }
}

/// An angle as part of a layer name: `82-5`.
fn angle_word(angle: f64) -> String {
    decimal(angle.to_degrees(), 1).replace('.', "-")
}

/// A length as the last part of a layer name: `12-5`, `0-5IN`.
fn length_word(length: f64, unit: Unit) -> String {
    let suffix = match unit {
        Unit::Millimetre => "",
        Unit::Inch => "IN",
    };
    format!("{}{suffix}", bare_word(length, unit))
}

/// A length as an earlier part of a layer name: `12-5`, `0-5`.
fn bare_word(length: f64, unit: Unit) -> String {
    let decimals = match unit {
        Unit::Millimetre => 2,
        Unit::Inch => 4,
    };
    decimal(length / unit.in_mm(), decimals).replace('.', "-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_say_work_and_depth() {
        let mm = |layer: Layer| layer.name(Unit::Millimetre);
        let hole = |diameter: f64, depth: f64| Layer::DrillBlind { diameter, depth };
        assert_eq!(mm(hole(5.0, 12.5)), "DRILL_D5_12-5");
        assert_eq!(mm(Layer::DrillThrough(5.0)), "DRILL_THROUGH_D5");
        assert_eq!(mm(Layer::Area(AreaKind::Groove, 6.0)), "GROOVE_6");
        assert_eq!(mm(Layer::Area(AreaKind::Rebate, 8.85)), "REBATE_8-85");
        let mouth = Layer::Counterbore {
            diameter: 12.0,
            depth: 4.0,
        };
        assert_eq!(mm(mouth), "FLATBORE_D12_4");
        let cone = Layer::Countersink {
            angle: 90.0_f64.to_radians(),
            diameter: 10.0,
        };
        assert_eq!(mm(cone), "COUNTERSINK_90DEG_5");
        assert_eq!(hole(6.35, 12.7).name(Unit::Inch), "DRILL_D0-25_0-5IN");
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
            Layer::Pins,
            Layer::CutInside,
            Layer::CutOutside,
        ];
        for depth in [0.001, 12.34567, 999.99, 9999.99] {
            let diameter = depth;
            layers.push(Layer::DrillThrough(depth));
            layers.push(Layer::DrillBlind { diameter, depth });
            layers.push(Layer::Counterbore { diameter, depth });
            for angle in [60.0_f64, 82.5, 90.0, 120.0] {
                let angle = angle.to_radians();
                layers.push(Layer::Countersink { angle, diameter });
            }
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
                assert!((1..=255).contains(&layer.facts().colours.0));
            }
        }
    }
}
