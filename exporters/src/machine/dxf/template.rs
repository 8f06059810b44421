//! What all files of a version have in common: header, tables, blocks and objects, as a text with placeholders.
//!
//! The texts lie beside this file. They are what the `dxf` crate makes of an empty drawing, which a test compares, with
//! what strict readers ask for beyond that:
//!
//! | where | what | why |
//! |---|---|---|
//! | R12, everywhere | no subclass markers (100) | R12 has none |
//! | R12, tables | no handles (5) | in R12 code 5 of a DIMSTYLE is a block's name |
//! | tables | heads with handle and owner, the number of entries, empty VIEW and UCS tables | ezdxf's audit and readers that look for all nine tables |
//! | table entries | owner (330); a DIMSTYLE's handle is code 105; no handles that point nowhere | "bad handle 0" in strict readers |
//! | after the tables | the blocks of model and paper space | every R2000 block record needs its block |
//! | objects | a root dictionary with one for groups | DXF Reference, OBJECTS section |
//!
//! Making a file by the crate takes twenty times as long as all else, since it keeps a tree and writes it through the
//! formatter.

use std::sync::LazyLock;

use super::groups::Groups;
use crate::machine::file_options::Version;

/// What differs from file to file: a value, or where it says so whole groups.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Placeholder {
    /// Lower left corner of the box around everything, in the unit of the file as all lengths.
    ExtentMinX,
    ExtentMinY,
    /// Upper right corner.
    ExtentMaxX,
    ExtentMaxY,
    /// What a program shows first.
    ViewCentreX,
    ViewCentreY,
    ViewHeight,
    /// When the file was made, in days as the format counts.
    Date,
    /// What no other file shares.
    Identifier,
    /// A handle that nothing in the file has, nor any greater one.
    NextHandle,
    /// Number of the unit ($INSUNITS).
    Unit,
    /// Whether the unit is a metric one ($MEASUREMENT).
    Measurement,
    /// How many layers there are, with the one that every file has.
    LayerCount,
    /// The records of all other layers.
    Layers,
    /// The entities.
    Entities,
}

impl Placeholder {
    /// Each with its word, which takes a whole line between two pairs of braces.
    const WORDS: [(&'static str, Self); 15] = [
        ("EXTENT_MIN_X", Self::ExtentMinX),
        ("EXTENT_MIN_Y", Self::ExtentMinY),
        ("EXTENT_MAX_X", Self::ExtentMaxX),
        ("EXTENT_MAX_Y", Self::ExtentMaxY),
        ("VIEW_CENTRE_X", Self::ViewCentreX),
        ("VIEW_CENTRE_Y", Self::ViewCentreY),
        ("VIEW_HEIGHT", Self::ViewHeight),
        ("DATE", Self::Date),
        ("IDENTIFIER", Self::Identifier),
        ("NEXT_HANDLE", Self::NextHandle),
        ("INSUNITS", Self::Unit),
        ("MEASUREMENT", Self::Measurement),
        ("LAYER_COUNT", Self::LayerCount),
        ("LAYERS", Self::Layers),
        ("ENTITIES", Self::Entities),
    ];

    /// The placeholder that a line is.
    fn of_line(line: &str) -> Option<Self> {
        let word = line.strip_prefix("{{")?.strip_suffix("}}")?;
        let (_, placeholder) = Self::WORDS.iter().find(|(known, _)| *known == word)?;
        Some(*placeholder)
    }

    /// Whether it stands for whole groups and not for a value.
    fn is_groups(self) -> bool {
        matches!(self, Self::Layers | Self::Entities)
    }
}

/// A file with placeholders.
#[derive(Debug)]
pub(super) struct DxfTemplate {
    /// What stands before each placeholder.
    parts: Vec<(Groups, Placeholder)>,
    /// What stands after the last one.
    rest: Groups,
}

/// The template of a version, which is read when the first file needs it.
pub(super) fn of_version(version: Version) -> &'static DxfTemplate {
    static R12: LazyLock<DxfTemplate> =
        LazyLock::new(|| DxfTemplate::read(include_str!("r12.dxf")));
    static R2000: LazyLock<DxfTemplate> =
        LazyLock::new(|| DxfTemplate::read(include_str!("r2000.dxf")));
    match version {
        Version::R12 => &R12,
        Version::R2000 => &R2000,
    }
}

/// The first handle that nothing in the template of a version has.
pub(super) const fn first_handle(version: Version) -> u64 {
    match version {
        Version::R12 => 0xB,
        Version::R2000 => 0x1A,
    }
}

/// Handle of the block record of model space in R2000, to which all entities belong.
pub(super) const MODEL_SPACE: &str = "2";

/// Handle of the table of layers in R2000.
pub(super) const LAYER_TABLE: &str = "F";

impl DxfTemplate {
    fn read(text: &str) -> Self {
        let mut template = Self {
            parts: Vec::new(),
            rest: Groups::default(),
        };
        for line in text.lines() {
            if let Some(placeholder) = Placeholder::of_line(line) {
                let before = std::mem::take(&mut template.rest);
                template.parts.push((before, placeholder));
                if placeholder.is_groups() {
                    continue;
                }
            } else {
                template.rest.raw(line.as_bytes());
            }
            template.rest.end();
        }
        template
    }

    /// About how many bytes it takes with its values filled in.
    pub(super) fn room(&self) -> usize {
        let of_value = 40;
        let parts = self
            .parts
            .iter()
            .map(|(before, _)| before.as_bytes().len() + of_value);
        parts.sum::<usize>() + self.rest.as_bytes().len()
    }

    /// Writes it with its placeholders filled, in order.
    pub(super) fn fill(&self, out: &mut Groups, mut with: impl FnMut(Placeholder, &mut Groups)) {
        for (before, placeholder) in &self.parts {
            out.raw(before.as_bytes());
            with(*placeholder, out);
        }
        out.raw(self.rest.as_bytes());
    }
}

#[cfg(test)]
mod tests {
    use dxf::enums::{AcadVersion, DrawingUnits, Units};
    use dxf::tables::{AppId, BlockRecord, DimStyle, LineType, Style, ViewPort};

    use super::*;

    const VERSIONS: [(AcadVersion, &str); 2] = [
        (AcadVersion::R12, include_str!("r12.dxf")),
        (AcadVersion::R2000, include_str!("r2000.dxf")),
    ];

    /// Header and entries of tables as codes and values, without handles, owners, markers and pointers to nothing, in
    /// which the templates are stricter than the crate. A placeholder is a value.
    fn header_and_tables(text: &str) -> Vec<(u16, &str)> {
        let is_groups =
            |line: &&str| Placeholder::of_line(line).is_some_and(Placeholder::is_groups);
        let lines: Vec<&str> = text.lines().filter(|line| !is_groups(line)).collect();
        let groups: Vec<(u16, &str)> = lines
            .chunks(2)
            .map(|pair| (pair[0].trim().parse().unwrap(), pair[1]))
            .collect();
        let mut ends = groups.iter().enumerate().filter(|(_, g)| g.1 == "ENDSEC");
        let end = ends.nth(1).unwrap().0;
        groups[..end]
            .chunk_by(|_, next| next.0 != 0)
            .filter(|record| !matches!(record[0].1, "TABLE" | "ENDTAB"))
            .flatten()
            .filter(|group| !matches!(group.0, 5 | 100 | 105 | 330 | 340..=347 | 370 | 390))
            .copied()
            .collect()
    }

    #[test]
    fn the_templates_are_what_the_crate_makes_of_an_empty_drawing() {
        for (version, template) in VERSIONS {
            let mut bytes = Vec::new();
            empty_file(version).save(&mut bytes).unwrap();
            let made = String::from_utf8(bytes).unwrap();
            let (made, template) = (header_and_tables(&made), header_and_tables(template));
            assert_eq!(made.len(), template.len());
            for (made, own) in made.into_iter().zip(template) {
                let is_value = Placeholder::of_line(own.1).is_none();
                assert_eq!(made.0, own.0, "{own:?}");
                assert!(!is_value || made.1 == own.1, "{made:?} {own:?}");
            }
        }
    }

    #[test]
    fn every_placeholder_is_known_and_is_filled() {
        for version in [Version::R12, Version::R2000] {
            let template = of_version(version);
            for (word, placeholder) in Placeholder::WORDS {
                let only_later = matches!(
                    placeholder,
                    Placeholder::Identifier | Placeholder::Unit | Placeholder::Measurement
                );
                let there = template
                    .parts
                    .iter()
                    .any(|(_, other)| *other == placeholder);
                assert_eq!(there, version == Version::R2000 || !only_later, "{word}");
            }
            let mut out = Groups::default();
            template.fill(&mut out, |_, _| {});
            assert!(!String::from_utf8(out.into_bytes()).unwrap().contains("{{"));
        }
    }

    /// A file of the crate with its header and tables, and nothing drawn.
    fn empty_file(version: AcadVersion) -> dxf::Drawing {
        let mut file = dxf::Drawing::new();
        // The crate's own content holds styles of later versions that nothing here uses.
        file.clear();
        file.header.version = version;
        file.header.handles_enabled = true;
        file.header.default_drawing_units = Units::Millimeters;
        file.header.drawing_units = DrawingUnits::Metric;
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
            name: "0".to_owned(),
            ..Default::default()
        });
        file.add_view_port(ViewPort {
            name: "*ACTIVE".to_owned(),
            ..Default::default()
        });
        file
    }
}
