//! `divider_tray`: an open tray with dividers lapped across each other, to stand alone, to fill a drawer or to slide in it on strips.
//!
//! Dividers along the width (between rows) are put in first; those along the depth (between columns) are lapped over
//! them and stand in slots of the walls, as the others do. A slot is as wide as the thickest reading of the stock and
//! the clearance of the fit, and half as deep as the dividers are high.

mod keys;
mod layout;
mod parts;
mod places;
mod seat;

use super::kit::held;
use super::{BuildContext, BuilderKind, text};
use crate::codes;
use crate::resolve::{Fields, KeySet};
use jigless_model::diag::Finding;
use jigless_model::source::Spanned;
use jigless_model::units::Unit;
use keys::{BaseFit, Corners, Measure, TrayKeys, Walls};
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
        let seat = Seat {
            corner,
            group: None,
        };
        places::place(&mut drafts, &spec, &layout, &[seat]);
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
    if !layout.row_lines.is_empty() || !layout.column_lines.is_empty() {
        built.working(&format!(
            "slots {}: the stock at its thickest, {}, and a clearance of {} ({})",
            spec.unit.show(layout.slot),
            spec.unit.show(measured.wall_thickest),
            spec.unit.show(spec.clearance),
            spec.fit
        ));
    }
    if let Ok(as_sold) = Layout::new(&spec, nominal) {
        for line in changes(&spec, (&as_sold, &layout), &drafts) {
            built.working(&line);
        }
    }
    let is_placed = keys.at.is_some() || rooms.is_some();
    let mut walls: [Vec<String>; 2] = Default::default();
    let mut bases = Vec::new();
    for (role, mut draft) in drafts {
        draft.mirror_as = draft.mirror_as.map(|other| built.id(&other));
        let names = std::iter::once(built.id(role)).chain(draft.mirror_as.clone());
        match role {
            "front" | "front-back" => walls[0].extend(names),
            "left" | "sides" => walls[1].extend(names),
            "base" => bases.extend(names),
            _ => {}
        }
        built.part(role, draft);
    }
    if is_placed {
        glue(built, &spec, &walls, &bases);
    }
    Some(())
}

/// Glues the corners and a base below. Fingers are glued in each other, which is no joint of the language; dividers and a base
/// in grooves are held by what is around them.
fn glue(built: &mut BuildContext, spec: &Spec, [long, sides]: &[Vec<String>; 2], bases: &[String]) {
    let corner = match spec.corners {
        Corners::Butt => Some("butt"),
        Corners::Rebate => Some("rebate"),
        Corners::Finger => None,
    };
    let each = |one: &[String], other: &[String]| -> Vec<(String, String)> {
        let pairs = one
            .iter()
            .flat_map(|one| other.iter().map(move |other| (one, other)));
        pairs
            .map(|(one, other)| (one.clone(), other.clone()))
            .collect()
    };
    let mut glued = |kind: &'static str, pairs: Vec<(String, String)>| {
        for (part, to) in pairs {
            let mut keys = held(&part, &to, "glue");
            // The walls have it among their own.
            keys.push(("work", text("given")));
            built.joint(kind, keys);
        }
    };
    if let Some(corner) = corner {
        glued(corner, each(sides, long));
    }
    if spec.base == BaseFit::Glued {
        glued("butt", each(long, bases));
        glued("butt", each(sides, bases));
    }
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
