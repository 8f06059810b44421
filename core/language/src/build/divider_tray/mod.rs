//! `divider_tray`: an open tray with dividers lapped across each other, to stand alone, to fill a drawer or to slide in it on strips.
//!
//! Dividers along the width (between rows) are put in first; those along the depth (between columns) are lapped over
//! them and stand in slots of the walls, as the others do. A slot is as wide as the thickest reading of the stock and
//! the clearance of the fit, and half as deep as the dividers are high.

mod glued;
mod keys;
mod layout;
mod parts;
mod places;
mod seat;

use super::{BuildContext, BuilderKind};
use crate::codes;
use crate::resolve::{Fields, KeySet};
use jigless_model::diag::Finding;
use jigless_model::source::Spanned;
use jigless_model::units::Unit;
use keys::{Measure, TrayKeys, Walls};
use layout::{Bays, Layout, Spec, Thickness};
use seat::{Lying, Rooms, Seat};

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "divider_tray",
    summary: "a tray with dividers lapped across each other",
    fields: TrayKeys::FIELDS,
    build,
};

fn build(fields: &Fields, built: &mut BuildContext) -> Option<()> {
    let keys = TrayKeys::read(fields)?;
    let columns = bays(
        fields,
        ("columns", keys.columns),
        ("column_sizes", keys.column_sizes),
    );
    let rows = bays(fields, ("rows", keys.rows), ("row_sizes", keys.row_sizes));
    let stock = keys.stock;
    let base_stock = keys.base_stock.unwrap_or_else(|| stock.clone());
    let less = match keys.measure {
        Measure::Opening => 2.0 * keys.gap,
        Measure::Outer => 0.0,
    };
    if keys.at.is_some() && keys.rooms.is_some() {
        fields.exactly_one(&["at", "in"])?;
    }
    let rooms = match &keys.rooms {
        Some(names) => Some(Rooms::read(built, names)?),
        None => None,
    };
    let size = |key: &'static str, given: Option<Spanned<f64>>, axis: usize| match (given, &rooms) {
        (Some(given), _) => Some(given.map(|size| size - less)),
        (None, Some(rooms)) => Some(rooms.filled(axis, keys.gap)),
        (None, None) => {
            let message = format!("divider_tray needs `{key}`, or `in`");
            built.find(
                Finding::error(codes::MISSING_KEY, built.span, message).fix(format!(
                    "add `{key}:`, or name the room that it stands in with `in:`"
                )),
            );
            None
        }
    };
    let (width, depth) = (size("width", keys.width, 0), size("depth", keys.depth, 2));
    let (width, depth) = (width?, depth?);
    let spec = Spec {
        span: built.span,
        stock: stock.id.clone(),
        base_stock: base_stock.id.clone(),
        width,
        depth,
        height: keys.height,
        columns: columns?,
        rows: rows?,
        corners: keys.corner,
        fit: keys.clearance.map_or(keys.fit.name(), |_| "own"),
        clearance: keys.clearance.unwrap_or(keys.fit.clearance()),
        base: keys.base,
        base_up: keys.base_up,
        doubled: keys.walls == Walls::Doubled,
        cuts: keys.finger_cut,
        unit: fields.context().unit(),
    };
    let measured = Thickness {
        wall: stock.thickness,
        wall_thickest: stock.thickest(),
        base: base_stock.thickness,
        base_thickest: base_stock.thickest(),
    };
    let layout = match Layout::new(&spec, measured) {
        Ok(layout) => layout,
        Err(finding) => {
            built.find(*finding);
            return None;
        }
    };
    let mut drafts = parts::drafts(&spec, &layout);
    if let Some(corner) = keys.at {
        let group = None;
        places::place(&mut drafts, &spec, &layout, &[Seat { corner, group }]);
    }
    if let Some(rooms) = &rooms {
        let lying = Lying {
            foot: places::foot(&spec, &layout),
            gap: keys.gap,
            setback: keys.setback,
            strips: keys.strips.as_ref(),
        };
        let seats = rooms.seats(built, &spec, &lying)?;
        places::place(&mut drafts, &spec, &layout, &seats);
    } else if keys.strips.is_some() {
        let message = "strips for a tray need the walls of a room";
        let finding = Finding::error(codes::BAD_TRAY, fields.key_span("strips"), message);
        built.find(finding.fix("write `in:` and the room or drawer that the tray slides in"));
        return None;
    }
    let nominal = Thickness {
        wall: stock.nominal.unwrap_or(measured.wall),
        wall_thickest: stock.nominal.unwrap_or(measured.wall_thickest),
        base: base_stock.nominal.unwrap_or(measured.base),
        base_thickest: base_stock.nominal.unwrap_or(measured.base_thickest),
    };
    tell_slots(built, &spec, &layout);
    if let Ok(as_sold) = Layout::new(&spec, nominal) {
        for line in changes(&spec, (&as_sold, &layout), &drafts) {
            built.working(&line);
        }
    }
    glued::add(built, &spec, drafts);
    Some(())
}

/// Says how wide slots are, and why.
fn tell_slots(built: &mut BuildContext, spec: &Spec, layout: &Layout) {
    if layout.row_lines.is_empty() && layout.column_lines.is_empty() {
        return;
    }
    built.working(&format!(
        "slots {}: the stock at its thickest, {}, and a clearance of {} ({})",
        spec.unit.show(layout.slot),
        spec.unit.show(layout.thickness.wall_thickest),
        spec.unit.show(spec.clearance),
        spec.fit
    ));
}

/// The number of compartments, and the sizes of the first of them.
fn bays(
    fields: &Fields,
    (count_key, count): (&'static str, Spanned<u32>),
    (sizes_key, sizes): (&'static str, Option<Vec<Spanned<f64>>>),
) -> Option<Bays> {
    let Some(sizes) = sizes else {
        if count.value <= layout::MOST_BAYS {
            return Some(Bays {
                count: count.value,
                sizes: Vec::new(),
            });
        }
        fields.context().find(
            Finding::error(
                codes::TOO_MANY_COMPARTMENTS,
                count.span,
                format!(
                    "a tray has at most {} compartments in a row",
                    layout::MOST_BAYS
                ),
            )
            .fix("make several trays"),
        );
        return None;
    };
    if fields.has(count_key) {
        fields.exactly_one(&[count_key, sizes_key])?;
    }
    Some(Bays {
        count: sizes.len() as u32 + 1,
        sizes,
    })
}

/// What became of the parts because the stock measures otherwise than it is sold, a line each.
fn changes(
    spec: &Spec,
    (as_sold, measured): (&Layout, &Layout),
    drafts: &[(&'static str, super::PartDraft)],
) -> Vec<String> {
    let unit: Unit = spec.unit;
    let mut changes = Vec::new();
    let mut note = |what: &str, sold: f64, now: f64| {
        if (sold - now).abs() > 0.000_5 {
            changes.push(format!(
                "  {what} {} instead of {}",
                unit.show(now),
                unit.show(sold)
            ));
        }
    };
    note("slots", as_sold.slot, measured.slot);
    let before = parts::drafts(spec, as_sold);
    for (role, draft) in drafts {
        if let Some((_, old)) = before.iter().find(|(other, _)| other == role) {
            note(&format!("{role} width"), old.width, draft.width);
            note(&format!("{role} height"), old.height, draft.height);
        }
    }
    if !changes.is_empty() {
        let why = format!(
            "the stock measures {} (thickest {}) and is sold as {}, so the tray has",
            unit.show(measured.thickness.wall),
            unit.show(measured.thickness.wall_thickest),
            unit.show(as_sold.thickness.wall),
        );
        changes.insert(0, why);
    }
    changes
}
