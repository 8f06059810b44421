//! Arranged sheets in words, and the list of all: what lies where on each, and what is wasted.

use std::fmt::Write;

use jigless_model::export::{Artifact, ExportInput};
use jigless_model::sheets::ArrangedSheet;
use jigless_model::units::{Unit, decimal};

use super::map;

/// What lies where, in words and as a picture; nothing where parts are not arranged.
pub(super) fn artifacts(input: &ExportInput, unit: Unit) -> Vec<Artifact> {
    if input.sheets.is_none() {
        return Vec::new();
    }
    let whole = |path: &str, media_type, text: String| Artifact {
        path: path.to_owned(),
        media_type,
        part: None,
        bytes: text.into_bytes(),
    };
    vec![
        whole("sheets.txt", "text/plain", list_of_sheets(input, unit)),
        whole("sheet-map.svg", "image/svg+xml", map::of_sheets(input)),
    ]
}

/// The path of a sheet without extension.
pub(super) fn sheet_name(sheet: &ArrangedSheet) -> String {
    let id: String = sheet
        .stock
        .id
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || c == '_' {
                c
            } else {
                '-'
            }
        })
        .collect();
    format!("sheet-{id}-{}", sheet.number)
}

/// What a sheet says of itself.
pub(super) fn heading(sheet: &ArrangedSheet, of: usize, unit: Unit) -> String {
    let beyond = if sheet.at_hand {
        ""
    } else {
        ", one more than the plan has at hand"
    };
    format!(
        "{} ({}), sheet {} of {of}: {} by {}, {} parts, waste {} %{beyond}",
        sheet.stock.label,
        sheet.stock.id,
        sheet.number,
        unit.show(sheet.width),
        unit.show(sheet.height),
        sheet.placed.len(),
        decimal(100.0 * sheet.waste(), 1)
    )
}

/// All sheets in words: what lies where on each, and what is wasted.
fn list_of_sheets(input: &ExportInput, unit: Unit) -> String {
    let mut text = format!("{}: parts on sheets\n", input.plan.title);
    let Some(arrangement) = input.sheets else {
        return text;
    };
    let (mut area, mut used) = (0.0, 0.0);
    for sheet in &arrangement.sheets {
        let of = arrangement
            .sheets
            .iter()
            .filter(|other| other.stock.id == sheet.stock.id)
            .count();
        area += sheet.width * sheet.height;
        used += sheet.used;
        // Writing to a String cannot fail.
        let _ = writeln!(
            text,
            "\n{}\n{}",
            sheet_name(sheet),
            heading(sheet, of, unit)
        );
        for placed in &sheet.placed {
            let workpiece = &input.workpieces[placed.workpiece];
            let Some(bounds) = placed.path(workpiece.outline()).bounds() else {
                continue;
            };
            let turned = match placed.quarters % 4 {
                0 => String::new(),
                quarters => format!(", turned {} degrees", u32::from(quarters) * 90),
            };
            let _ = writeln!(
                text,
                "  {} ({} of {}): x {}, y {}, {} by {}{turned}",
                workpiece.part.id,
                placed.copy,
                workpiece.part.count,
                unit.show(bounds.min.x),
                unit.show(bounds.min.y),
                unit.show(bounds.width()),
                unit.show(bounds.height()),
            );
        }
    }
    if area > 0.0 {
        let waste = decimal(100.0 * (1.0 - used / area), 1);
        let _ = writeln!(text, "\nWaste of all sheets together: {waste} %");
    }
    text
}
