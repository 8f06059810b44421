//! The last pass over what the `dxf` crate has written: what strict readers refuse is put right, and what would differ
//! from run to run is pinned.
//!
//! The file is taken as it is, a run of groups (a code and a value), and written again with these changes:
//!
//! | where | what | why |
//! |---|---|---|
//! | R12, everywhere | no subclass markers (100) | R12 has none |
//! | R12, tables | no handles (5) | in R12 code 5 of a DIMSTYLE is a block's name |
//! | tables | heads with handle and owner, the number of entries, empty VIEW and UCS tables | ezdxf's audit and readers that look for all nine tables |
//! | table entries | owner (330); a DIMSTYLE's handle is code 105; no handles that point nowhere | "bad handle 0" in strict readers |
//! | after the tables | the blocks of model and paper space | every R2000 block record needs its block |
//! | entities | owner (330) | each belongs to model space |
//! | VERTEX, SEQEND | the layer of their POLYLINE, no tangent direction | the crate leaves them on layer 0 |
//! | R2000, TEXT | Western European letters in code page 1252 | some readers do not know `\U+00E9` |
//! | objects | a root dictionary with an ACAD_GROUP dictionary | DXF Reference, OBJECTS section |
//! | header | dates, identifiers and the next free handle | same input, same bytes |

use uuid::Uuid;

use super::options::Version;
use super::writer::{Fault, Identity};

/// Day number of 1970-01-01 as the format counts: its days begin at midnight, so this is 0.5 more than the astronomers'
/// Julian date.
const UNIX_EPOCH_DAY: f64 = 2_440_588.0;

/// Space of the names that identifiers are made of. Any fixed one will do; this one is made of the word `Jigless`.
const NAME_SPACE: Uuid = Uuid::from_u128(0x4a69_676c_6573_7300_8000_0000_0000_0000);

/// One group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Group<'a> {
    /// Its code.
    pub(super) code: i16,
    /// Its value as written.
    pub(super) value: &'a str,
}

/// Finishes a file that the crate has written.
///
/// # Errors
/// When the text is not a run of groups with a header, which would be a change in the crate.
pub(super) fn finish(written: &[u8], identity: &Identity) -> Result<Vec<u8>, Fault> {
    let text =
        std::str::from_utf8(written).map_err(|_| Fault::Finish("the crate wrote no plain text"))?;
    let groups = read_groups(text)?;
    let seed = header_value(&groups, "$HANDSEED")
        .and_then(|value| u64::from_str_radix(value, 16).ok())
        .ok_or(Fault::Finish("the crate wrote no $HANDSEED"))?;

    let mut records = groups.chunk_by(|_, next| next.code != 0);
    let header = records.next().unwrap_or_default();
    let mut body = Body {
        out: Vec::with_capacity(written.len() + 4096),
        version: identity.version,
        next_handle: seed,
        section: "",
        table: Table::default(),
        tables_seen: Vec::new(),
        block_records: Vec::new(),
        polyline_layer: "",
    };
    // The body comes first: only then is it known which handle is free.
    let records: Vec<&[Group]> = records.collect();
    for (index, record) in records.iter().enumerate() {
        body.record(record, &records[index + 1..]);
    }
    let mut out = Vec::with_capacity(body.out.len() + written.len());
    write_header(&mut out, header, identity, body.next_handle);
    out.append(&mut body.out);
    Ok(out)
}

/// The groups of a file.
pub(super) fn read_groups(text: &str) -> Result<Vec<Group<'_>>, Fault> {
    let mut groups = Vec::with_capacity(text.len() / 10);
    let mut lines = text.lines();
    while let Some(code) = lines.next() {
        let code = code
            .trim_start()
            .parse()
            .map_err(|_| Fault::Finish("the crate wrote a group code that is no number"))?;
        let value = lines
            .next()
            .ok_or(Fault::Finish("the crate wrote half a group"))?;
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

fn write_header(out: &mut Vec<u8>, header: &[Group], identity: &Identity, next_handle: u64) {
    let days = identity.date.unwrap_or(0) as f64 / 86_400.0;
    let date = format!("{:.9}", UNIX_EPOCH_DAY + days);
    let guid = Uuid::new_v5(&NAME_SPACE, identity.name.as_bytes());
    let guid = format!("{{{}}}", guid.to_string().to_uppercase());
    let seed = format!("{next_handle:X}");
    let mut variable = "";
    for group in header {
        if group.code == 9 {
            variable = group.value;
            put(out, 9, variable);
            continue;
        }
        let value = match variable {
            "$TDCREATE" | "$TDUCREATE" | "$TDUPDATE" | "$TDUUPDATE" => date.as_str(),
            "$FINGERPRINTGUID" | "$VERSIONGUID" => guid.as_str(),
            "$HANDSEED" => seed.as_str(),
            _ => group.value,
        };
        put(out, group.code, value);
    }
}

fn put(out: &mut Vec<u8>, code: i16, value: &str) {
    // Codes are right-aligned in three places by habit of the format. They are not left to `write!`, which takes as long
    // for them as all the rest of this pass.
    let code = code.unsigned_abs();
    for place in [100, 10, 1] {
        let digit = match code / place % 10 {
            0 if code < place && place > 1 => b' ',
            digit => b'0' + digit as u8,
        };
        out.push(digit);
    }
    out.extend_from_slice(b"\r\n");
    out.extend_from_slice(value.as_bytes());
    out.extend_from_slice(b"\r\n");
}

/// Writes the value of a text. The crate has put `\U+00E9` for all beyond ASCII; what code page 1252, which the header
/// names, shares with Unicode is written in it, since some readers show the long form as it stands.
fn put_text(out: &mut Vec<u8>, value: &str) {
    out.extend_from_slice(b"  1\r\n");
    let mut pieces = value.split("\\U+");
    out.extend_from_slice(pieces.next().unwrap_or_default().as_bytes());
    for piece in pieces {
        let code = piece
            .get(..4)
            .and_then(|hex| u16::from_str_radix(hex, 16).ok());
        if let Some(code @ 0xA0..=0xFF) = code {
            out.push(code as u8);
            out.extend_from_slice(&piece.as_bytes()[4..]);
        } else {
            out.extend_from_slice(b"\\U+");
            out.extend_from_slice(piece.as_bytes());
        }
    }
    out.extend_from_slice(b"\r\n");
}

/// The table that is being written.
#[derive(Debug, Default)]
struct Table<'a> {
    name: &'a str,
    handle: String,
}

/// What follows the header.
struct Body<'a> {
    out: Vec<u8>,
    version: Version,
    next_handle: u64,
    section: &'a str,
    table: Table<'a>,
    tables_seen: Vec<&'a str>,
    /// Name and handle of each block record.
    block_records: Vec<(&'a str, &'a str)>,
    polyline_layer: &'a str,
}

impl<'a> Body<'a> {
    /// Writes a record, which begins with code 0; `rest` follows it.
    fn record(&mut self, record: &[Group<'a>], rest: &[&[Group<'a>]]) {
        let Some(first) = record.first() else { return };
        match (self.section, first.value) {
            (_, "SECTION") => {
                self.section = value_of(record, 2);
                self.copy(record);
                if self.section == "OBJECTS" {
                    self.root_dictionary();
                }
            }
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
            ("TABLES", "ENDTAB") | ("", _) => self.copy(record),
            ("TABLES", _) => self.table_entry(record),
            _ => self.entity(record),
        }
    }

    fn copy(&mut self, record: &[Group]) {
        for group in record {
            put(&mut self.out, group.code, group.value);
        }
    }

    fn put(&mut self, code: i16, value: &str) {
        put(&mut self.out, code, value);
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
        self.put(70, &entries.to_string());
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
        for group in record {
            match (self.version, group.code) {
                (Version::R12, 5 | 100) => {}
                (Version::R2000, 5) => {
                    let code = if self.table.name == "DIMSTYLE" {
                        105
                    } else {
                        5
                    };
                    put(&mut self.out, code, group.value);
                    put(&mut self.out, 330, &self.table.handle);
                }
                // Pointers to nothing.
                (_, 340..=347 | 390) if matches!(group.value, "" | "0") => {}
                // The crate writes the thinnest line for a layer; -3 is the default line.
                (Version::R2000, 370) if self.table.name == "LAYER" => {
                    put(&mut self.out, 370, "-3");
                }
                (_, code) => put(&mut self.out, code, group.value),
            }
        }
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

    fn entity(&mut self, record: &[Group<'a>]) {
        let kind = record[0].value;
        let is_part_of_polyline = matches!(kind, "VERTEX" | "SEQEND");
        if !is_part_of_polyline {
            self.polyline_layer = value_of(record, 8);
        }
        for group in record {
            match (self.version, group.code) {
                (Version::R12, 100) => {}
                (Version::R2000, 5) => {
                    put(&mut self.out, 5, group.value);
                    let space = self.block_records.first().map_or("0", |(_, handle)| handle);
                    put(&mut self.out, 330, space);
                }
                (Version::R2000, 1) if kind == "TEXT" => put_text(&mut self.out, group.value),
                (_, 8) if is_part_of_polyline => put(&mut self.out, 8, self.polyline_layer),
                (_, 50) if is_part_of_polyline => {}
                (_, code) => put(&mut self.out, code, group.value),
            }
        }
        if kind == "SEQEND" {
            put(&mut self.out, 8, self.polyline_layer);
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
fn value_of<'a>(record: &[Group<'a>], code: i16) -> &'a str {
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
