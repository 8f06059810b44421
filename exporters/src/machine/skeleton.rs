//! What all files of a version and unit have in common: header, tables, blocks and objects.
//!
//! The `dxf` crate knows them, but it makes a tree of a file and writes that through the formatter, twenty times as long
//! as all else that a file takes. So it makes each kind of file once in a process, with nothing drawn, and the
//! [last pass](super::finish) leaves gaps where files differ.

use std::sync::OnceLock;

use dxf::enums::{AcadVersion, DrawingUnits, Units};
use dxf::tables::{AppId, BlockRecord, DimStyle, LineType, Style, ViewPort};
use jigless_model::units::Unit;

use super::finish;
use super::groups::Groups;
use super::options::Version;
use super::writer::{Fault, OWN_LAYER};

/// What differs from file to file: a value, or where it says so whole groups.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FileGap {
    /// Lower left corner of the box around everything, in the unit of the file as all lengths.
    LeastX,
    LeastY,
    /// Upper right corner.
    GreatestX,
    GreatestY,
    /// What a program shows first.
    MiddleX,
    MiddleY,
    ViewHeight,
    /// When the file was made, in days as the format counts.
    Date,
    /// What no other file shares.
    Identifier,
    /// A handle that nothing in the file has, nor any greater one.
    NextHandle,
    /// How many layers there are, with the one that every file has.
    CountOfLayers,
    /// The records of all other layers.
    Layers,
    /// The entities.
    Entities,
}

impl FileGap {
    /// Those that every version has.
    const NEEDED: [Self; 11] = [
        Self::LeastX,
        Self::LeastY,
        Self::GreatestX,
        Self::GreatestY,
        Self::MiddleX,
        Self::MiddleY,
        Self::ViewHeight,
        Self::NextHandle,
        Self::CountOfLayers,
        Self::Layers,
        Self::Entities,
    ];
}

/// What differs from layer to layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum LayerGap {
    Handle,
    Name,
    Colour,
}

/// Groups with gaps.
#[derive(Debug, PartialEq)]
pub(super) struct Form<Gap> {
    /// What stands before each gap.
    parts: Vec<(Vec<u8>, Gap)>,
    /// What stands after the last one.
    pub(super) rest: Groups,
}

impl<Gap: Copy + PartialEq> Form<Gap> {
    /// Nothing yet.
    pub(super) fn new() -> Self {
        Self {
            parts: Vec::new(),
            rest: Groups::default(),
        }
    }

    /// Goes on with a group whose value is a gap.
    pub(super) fn put_gap(&mut self, code: u16, gap: Gap) {
        self.rest.code(code);
        self.leave(gap);
        self.rest.end();
    }

    /// Leaves a gap.
    pub(super) fn leave(&mut self, gap: Gap) {
        let before = std::mem::take(&mut self.rest).into_bytes();
        self.parts.push((before, gap));
    }

    /// Whether there is such a gap.
    pub(super) fn has(&self, gap: Gap) -> bool {
        self.parts.iter().any(|(_, other)| *other == gap)
    }

    /// About how many bytes it takes with its short gaps filled.
    pub(super) fn room(&self) -> usize {
        let in_gap = 40;
        let parts = self.parts.iter().map(|(before, _)| before.len() + in_gap);
        parts.sum::<usize>() + self.rest.as_bytes().len()
    }

    /// Writes it with its gaps filled, in order.
    pub(super) fn fill(&self, out: &mut Groups, mut with: impl FnMut(Gap, &mut Groups)) {
        for (before, gap) in &self.parts {
            out.raw(before);
            with(*gap, out);
        }
        out.raw(self.rest.as_bytes());
    }
}

/// What all files of a version and unit have in common.
#[derive(Debug, PartialEq)]
pub(super) struct Skeleton {
    /// The whole file.
    pub(super) file: Form<FileGap>,
    /// A layer.
    pub(super) layer: Form<LayerGap>,
    /// Handle of the block record of model space, to which all entities belong.
    pub(super) model_space: String,
    /// The first handle that nothing in the skeleton has.
    pub(super) first_handle: u64,
}

/// The skeleton of a version and unit, which is made when the first file needs it.
///
/// # Errors
/// What the crate fails at, or writes otherwise than it did.
pub(super) fn of(version: Version, unit: Unit) -> Result<&'static Skeleton, Fault> {
    static MADE: [OnceLock<Skeleton>; 4] = [const { OnceLock::new() }; 4];
    let made = &MADE[match (version, unit) {
        (Version::R12, Unit::Millimetre) => 0,
        (Version::R12, Unit::Inch) => 1,
        (Version::R2000, Unit::Millimetre) => 2,
        (Version::R2000, Unit::Inch) => 3,
    }];
    if let Some(skeleton) = made.get() {
        return Ok(skeleton);
    }
    let skeleton = Skeleton::new(version, unit)?;
    Ok(made.get_or_init(|| skeleton))
}

impl Skeleton {
    fn new(version: Version, unit: Unit) -> Result<Self, Fault> {
        let mut bytes = Vec::new();
        empty_file(version, unit).save(&mut bytes)?;
        let skeleton = finish::finish(&bytes, version)?;
        if FileGap::NEEDED.iter().all(|gap| skeleton.file.has(*gap)) {
            Ok(skeleton)
        } else {
            Err(Fault::Skeleton("the crate left out what files differ in"))
        }
    }
}

/// A file with its header and tables, and nothing drawn.
fn empty_file(version: Version, unit: Unit) -> dxf::Drawing {
    let mut file = dxf::Drawing::new();
    // The crate's own content holds styles of later versions that nothing here uses.
    file.clear();
    file.header.version = match version {
        Version::R12 => AcadVersion::R12,
        Version::R2000 => AcadVersion::R2000,
    };
    file.header.handles_enabled = true;
    (file.header.default_drawing_units, file.header.drawing_units) = match unit {
        Unit::Millimetre => (Units::Millimeters, DrawingUnits::Metric),
        Unit::Inch => (Units::Inches, DrawingUnits::English),
    };
    file.add_app_id(AppId {
        name: "ACAD".to_owned(),
        ..Default::default()
    });
    for name in ["*Model_Space", "*Paper_Space"] {
        file.add_block_record(BlockRecord {
            name: name.to_owned(),
            ..Default::default()
        });
    }
    file.add_dim_style(DimStyle {
        name: "STANDARD".to_owned(),
        ..Default::default()
    });
    for (name, description) in [
        ("BYBLOCK", ""),
        ("BYLAYER", ""),
        ("CONTINUOUS", "Solid line"),
    ] {
        file.add_line_type(LineType {
            name: name.to_owned(),
            description: description.to_owned(),
            ..Default::default()
        });
    }
    file.add_style(Style {
        name: "STANDARD".to_owned(),
        ..Default::default()
    });
    file.add_layer(dxf::tables::Layer {
        name: OWN_LAYER.to_owned(),
        ..Default::default()
    });
    file.add_view_port(ViewPort {
        name: "*ACTIVE".to_owned(),
        ..Default::default()
    });
    file
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The crate knows the clock and draws random identifiers; nothing of that is left.
    #[test]
    fn a_skeleton_made_anew_is_the_same() {
        for version in [Version::R12, Version::R2000] {
            for unit in [Unit::Millimetre, Unit::Inch] {
                let anew = Skeleton::new(version, unit).unwrap();
                assert_eq!(anew, Skeleton::new(version, unit).unwrap());
                assert_eq!(anew, *of(version, unit).unwrap());
            }
        }
    }

    #[test]
    fn each_kind_of_file_has_a_skeleton_of_its_own() {
        let texts = [Version::R12, Version::R2000].map(|version| {
            [Unit::Millimetre, Unit::Inch].map(|unit| {
                let mut groups = Groups::default();
                of(version, unit).unwrap().file.fill(&mut groups, |_, _| {});
                String::from_utf8(groups.into_bytes()).unwrap()
            })
        });
        for (texts, version) in texts.iter().zip(["AC1009", "AC1015"]) {
            assert!(texts.iter().all(|text| text.contains(version)));
        }
        // R12 does not say its unit.
        assert_eq!(texts[0][0], texts[0][1]);
        assert_ne!(texts[1][0], texts[1][1]);
    }
}
