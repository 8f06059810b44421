//! The last pass over what the `dxf` crate has written: what strict readers refuse is put right, and what differs from
//! file to file becomes a gap.
//!
//! The file, which has no entities, is taken as it is, a run of groups (a code and a value), and written again with these
//! changes:
//!
//! | where | what | why |
//! |---|---|---|
//! | R12, everywhere | no subclass markers (100) | R12 has none |
//! | R12, tables | no handles (5) | in R12 code 5 of a DIMSTYLE is a block's name |
//! | tables | heads with handle and owner, the number of entries, empty VIEW and UCS tables | ezdxf's audit and readers that look for all nine tables |
//! | table entries | owner (330); a DIMSTYLE's handle is code 105; no handles that point nowhere | "bad handle 0" in strict readers |
//! | after the tables | the blocks of model and paper space | every R2000 block record needs its block |
//! | objects | a root dictionary with an ACAD_GROUP dictionary | DXF Reference, OBJECTS section |
//! | header | gaps for dates, identifiers, the next free handle and the box around everything | the crate knows the clock |
//! | table LAYER | gaps for layers and how many they are; the layer that is there shows how a record looks | each file has its own |
//! | table VPORT | gaps for what is shown first | the box around everything |
//! | entities | one gap for all | they are [written](super::entities) by themselves |

use super::options::Version;
use super::skeleton::{FileGap, Form, LayerGap, Skeleton};
use super::writer::Fault;

/// One group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Group<'a> {
    /// Its code.
    pub(super) code: u16,
    /// Its value as written.
    pub(super) value: &'a str,
}

/// Makes a skeleton of an empty file that the crate has written.
///
/// # Errors
/// When the text is not a run of groups with a header, which would be a change in the crate.
pub(super) fn finish(written: &[u8], version: Version) -> Result<Skeleton, Fault> {
    let text = std::str::from_utf8(written)
        .map_err(|_| Fault::Skeleton("the crate wrote no plain text"))?;
    let groups = read_groups(text)?;
    let seed = header_value(&groups, "$HANDSEED")
        .and_then(|value| u64::from_str_radix(value, 16).ok())
        .ok_or(Fault::Skeleton("the crate wrote no $HANDSEED"))?;
    let mut pass = Pass {
        file: Form::new(),
        layer: Form::new(),
        version,
        next_handle: seed,
        section: "",
        table: Table::default(),
        tables_seen: Vec::new(),
        block_records: Vec::new(),
    };
    let records: Vec<&[Group]> = groups.chunk_by(|_, next| next.code != 0).collect();
    for (index, record) in records.iter().enumerate() {
        pass.record(record, &records[index + 1..]);
    }
    let model_space = pass.block_records.first();
    let model_space = model_space.map_or("0", |(_, handle)| handle).to_owned();
    Ok(Skeleton {
        file: pass.file,
        layer: pass.layer,
        model_space,
        first_handle: pass.next_handle,
    })
}

/// The groups of a file.
pub(super) fn read_groups(text: &str) -> Result<Vec<Group<'_>>, Fault> {
    let mut groups = Vec::with_capacity(text.len() / 10);
    let mut lines = text.lines();
    while let Some(code) = lines.next() {
        let code = code
            .trim_start()
            .parse()
            .map_err(|_| Fault::Skeleton("the crate wrote a group code that is no number"))?;
        let value = lines
            .next()
            .ok_or(Fault::Skeleton("the crate wrote half a group"))?;
        groups.push(Group { code, value });
    }
    Ok(groups)
}

/// The first value of a header variable.
fn header_value<'a>(groups: &[Group<'a>], name: &str) -> Option<&'a str> {
    let at = groups
        .iter()
        .position(|group| group.code == 9 && group.value == name)?;
    groups.get(at + 1).map(|group| group.value)
}

/// The table that is being written.
#[derive(Debug, Default)]
struct Table<'a> {
    name: &'a str,
    handle: String,
}

impl Table<'_> {
    /// The groups of an entry as they ought to be.
    fn sound<'a>(&'a self, record: &[Group<'a>], version: Version) -> Vec<Group<'a>> {
        let mut groups = Vec::with_capacity(record.len() + 1);
        for &Group { code, value } in record {
            match (version, code) {
                (Version::R12, 5 | 100) => {}
                (Version::R2000, 5) => {
                    let is_style = self.name == "DIMSTYLE";
                    let code = if is_style { 105 } else { 5 };
                    let owner = self.handle.as_str();
                    groups.push(Group { code, value });
                    groups.push(Group {
                        code: 330,
                        value: owner,
                    });
                }
                // Pointers to nothing.
                (_, 340..=347 | 390) if matches!(value, "" | "0") => {}
                // The crate writes the thinnest line for a layer; -3 is the default line.
                (Version::R2000, 370) if self.name == "LAYER" => {
                    groups.push(Group { code, value: "-3" });
                }
                _ => groups.push(Group { code, value }),
            }
        }
        groups
    }
}

/// The pass over a file.
struct Pass<'a> {
    file: Form<FileGap>,
    layer: Form<LayerGap>,
    version: Version,
    next_handle: u64,
    section: &'a str,
    table: Table<'a>,
    tables_seen: Vec<&'a str>,
    /// Name and handle of each block record.
    block_records: Vec<(&'a str, &'a str)>,
}

impl<'a> Pass<'a> {
    /// Writes a record, which begins with code 0; `rest` follows it.
    fn record(&mut self, record: &[Group<'a>], rest: &[&[Group<'a>]]) {
        let Some(first) = record.first() else { return };
        match (self.section, first.value) {
            (_, "SECTION") => self.section(record),
            (section, "ENDSEC") => {
                if section == "TABLES" {
                    self.empty_tables();
                }
                self.copy(record);
                if section == "TABLES" && self.version == Version::R2000 {
                    self.blocks();
                }
                self.section = "";
            }
            ("TABLES", "TABLE") => self.table_head(value_of(record, 2), entries_before_end(rest)),
            ("TABLES", "ENDTAB") => {
                if self.table.name == "LAYER" {
                    self.file.leave(FileGap::Layers);
                }
                self.copy(record);
            }
            ("TABLES", _) => self.table_entry(record),
            _ => self.copy(record),
        }
    }

    fn section(&mut self, record: &[Group<'a>]) {
        self.section = value_of(record, 2);
        match self.section {
            "HEADER" => self.header(record),
            "ENTITIES" => {
                self.copy(record);
                self.file.leave(FileGap::Entities);
            }
            "OBJECTS" => {
                self.copy(record);
                self.root_dictionary();
            }
            _ => self.copy(record),
        }
    }

    /// The header is one record: each variable's name has code 9, and its values follow.
    fn header(&mut self, record: &[Group]) {
        let mut variable = "";
        for group in record {
            if group.code == 9 {
                variable = group.value;
            }
            let gap = match (variable, group.code) {
                (_, 9) => None,
                ("$TDCREATE" | "$TDUCREATE" | "$TDUPDATE" | "$TDUUPDATE", _) => Some(FileGap::Date),
                ("$FINGERPRINTGUID" | "$VERSIONGUID", _) => Some(FileGap::Identifier),
                ("$HANDSEED", _) => Some(FileGap::NextHandle),
                ("$EXTMIN" | "$LIMMIN", 10) => Some(FileGap::LeastX),
                ("$EXTMIN" | "$LIMMIN", 20) => Some(FileGap::LeastY),
                ("$EXTMAX" | "$LIMMAX", 10) => Some(FileGap::GreatestX),
                ("$EXTMAX" | "$LIMMAX", 20) => Some(FileGap::GreatestY),
                _ => None,
            };
            self.put_or_leave(*group, gap);
        }
    }

    fn put_or_leave(&mut self, group: Group, gap: Option<FileGap>) {
        match gap {
            Some(gap) => self.file.put_gap(group.code, gap),
            None => self.put(group.code, group.value),
        }
    }

    fn copy(&mut self, record: &[Group]) {
        for group in record {
            self.put(group.code, group.value);
        }
    }

    fn put(&mut self, code: u16, value: &str) {
        self.file.rest.text(code, value);
    }

    fn new_handle(&mut self) -> String {
        let handle = format!("{:X}", self.next_handle);
        self.next_handle += 1;
        handle
    }

    fn table_head(&mut self, name: &'a str, entries: usize) {
        self.tables_seen.push(name);
        self.put(0, "TABLE");
        self.put(2, name);
        let mut handle = String::new();
        if self.version == Version::R2000 {
            handle = self.new_handle();
            self.put(5, &handle);
            self.put(330, "0");
            self.put(100, "AcDbSymbolTable");
        }
        if name == "LAYER" {
            self.file.put_gap(70, FileGap::CountOfLayers);
        } else {
            self.put(70, &entries.to_string());
        }
        if self.version == Version::R2000 && name == "DIMSTYLE" {
            self.put(100, "AcDbDimStyleTable");
            self.put(71, "0");
        }
        self.table = Table { name, handle };
    }

    fn table_entry(&mut self, record: &[Group<'a>]) {
        if self.table.name == "BLOCK_RECORD" {
            self.block_records
                .push((value_of(record, 2), value_of(record, 5)));
        }
        let table = std::mem::take(&mut self.table);
        for group in table.sound(record, self.version) {
            let gap = match (table.name, group.code) {
                ("VPORT", 12) => Some(FileGap::MiddleX),
                ("VPORT", 22) => Some(FileGap::MiddleY),
                ("VPORT", 40) => Some(FileGap::ViewHeight),
                _ => None,
            };
            self.put_or_leave(group, gap);
            match (table.name, group.code) {
                ("LAYER", 5) => self.layer.put_gap(5, LayerGap::Handle),
                ("LAYER", 2) => self.layer.put_gap(2, LayerGap::Name),
                ("LAYER", 62) => self.layer.put_gap(62, LayerGap::Colour),
                ("LAYER", code) => self.layer.rest.text(code, group.value),
                _ => {}
            }
        }
        self.table = table;
    }

    /// The tables that the crate leaves out when they are empty.
    fn empty_tables(&mut self) {
        for name in ["VIEW", "UCS"] {
            if !self.tables_seen.contains(&name) {
                self.table_head(name, 0);
                self.put(0, "ENDTAB");
            }
        }
    }

    /// The BLOCKS section: an empty block for each block record (DXF Reference, BLOCK and ENDBLK).
    fn blocks(&mut self) {
        self.put(0, "SECTION");
        self.put(2, "BLOCKS");
        for (name, record) in std::mem::take(&mut self.block_records) {
            self.put(0, "BLOCK");
            self.block_common(record, name);
            self.put(100, "AcDbBlockBegin");
            self.put(2, name);
            self.put(70, "0");
            for code in [10, 20, 30] {
                self.put(code, "0.0");
            }
            self.put(3, name);
            self.put(1, "");
            self.put(0, "ENDBLK");
            self.block_common(record, name);
            self.put(100, "AcDbBlockEnd");
            self.block_records.push((name, record));
        }
        self.put(0, "ENDSEC");
    }

    fn block_common(&mut self, record: &str, name: &str) {
        let handle = self.new_handle();
        self.put(5, &handle);
        self.put(330, record);
        self.put(100, "AcDbEntity");
        if name == "*Paper_Space" {
            self.put(67, "1");
        }
        self.put(8, "0");
    }

    /// The least that the OBJECTS section must hold (DXF Reference, OBJECTS section).
    fn root_dictionary(&mut self) {
        let (root, group) = (self.new_handle(), self.new_handle());
        for (handle, owner, child) in [(&root, "0", Some(&group)), (&group, root.as_str(), None)] {
            self.put(0, "DICTIONARY");
            self.put(5, handle);
            self.put(330, owner);
            self.put(100, "AcDbDictionary");
            self.put(281, "1");
            if let Some(child) = child {
                self.put(3, "ACAD_GROUP");
                self.put(350, child);
            }
        }
    }
}

/// The value of the first group of a code.
fn value_of<'a>(record: &[Group<'a>], code: u16) -> &'a str {
    record
        .iter()
        .find(|group| group.code == code)
        .map_or("", |group| group.value)
}

/// How many entries a table has.
fn entries_before_end(rest: &[&[Group]]) -> usize {
    rest.iter()
        .take_while(|record| record[0].value != "ENDTAB")
        .count()
}
