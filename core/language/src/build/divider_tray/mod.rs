//! `divider_tray`: an open tray with dividers lapped across each other, to stand alone or to fill a drawer.
//!
//! Dividers along the width (between rows) are put in first; those along the depth (between columns) are lapped over
//! them and stand in slots of the walls, as the others do. A slot is as wide as the thickest reading of the stock and
//! the clearance of the fit, and half as deep as the dividers are high.

mod layout;
mod parts;

use jigless_model::diag::Finding;
use jigless_model::source::Spanned;
use jigless_model::units::Unit;

use super::{BuilderKind, Built};
use crate::codes;
use crate::resolve::{Field, Fields, Shape};
use layout::{Base, Corners, Cuts, Layout, Spec, Thickness};

/// The clearances of the fits, in millimetres. Common practice, no source: 0 to 0.1 for a press fit from a laser, 0.1 to
/// 0.2 for parts that slide. A coupon tells what a machine needs.
const FITS: [(&str, f64); 3] = [("press", 0.0), ("slide", 0.1), ("loose", 0.2)];

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "divider_tray",
    summary: "a tray with dividers lapped across each other",
    fields: &[
        Field::required("stock", Shape::Text, "stock of walls and dividers"),
        Field::optional(
            "base_stock",
            Shape::Text,
            "stock of the base, if another one",
        ),
        Field::required("width", Shape::Size, "size from left to right"),
        Field::required("depth", Shape::Size, "size from front to back"),
        Field::required("height", Shape::Size, "height of the walls"),
        Field::with_default(
            "measure",
            Shape::Word(&["outer", "opening"]),
            "outer",
            "whether width and depth are the tray's own, or those of the opening that it fills",
        ),
        Field::with_default(
            "gap",
            Shape::Distance,
            "1 mm",
            "room left on each side of the tray in an opening",
        ),
        Field::with_default(
            "columns",
            Shape::Count,
            "1",
            "compartments from left to right",
        ),
        Field::optional(
            "column_sizes",
            Shape::Sizes,
            "clear sizes of the first columns from the left; the last one takes the rest",
        ),
        Field::with_default("rows", Shape::Count, "1", "compartments from front to back"),
        Field::optional(
            "row_sizes",
            Shape::Sizes,
            "clear sizes of the first rows from the front; the last one takes the rest",
        ),
        Field::with_default(
            "corner",
            Shape::Word(&["butt", "rebate", "finger"]),
            "butt",
            "how the walls meet",
        ),
        Field::with_default(
            "fit",
            Shape::Word(&["press", "slide", "loose"]),
            "slide",
            "how dividers sit in their slots: press 0, slide 0.1 mm, loose 0.2 mm wider than the thickest reading",
        ),
        Field::optional(
            "clearance",
            Shape::Distance,
            "clearance of the slots in place of that of the fit, as a coupon tells it",
        ),
        Field::with_default(
            "base",
            Shape::Word(&["none", "glued", "groove"]),
            "glued",
            "a base glued below, one in a groove of the walls, or none",
        ),
        Field::with_default(
            "base_up",
            Shape::Distance,
            "6 mm",
            "distance of a groove for the base from the lower edge of the walls",
        ),
        Field::with_default(
            "walls",
            Shape::Word(&["single", "doubled"]),
            "single",
            "doubled walls have a lining that takes the dividers, so that no slot shows outside",
        ),
        Field::optional(
            "finger_cut",
            Shape::Map(&[
                Field::required("width", Shape::Size, "size along the edge"),
                Field::required("depth", Shape::Size, "how far it reaches down"),
                Field::with_default(
                    "in",
                    Shape::Word(&["dividers", "walls", "both"]),
                    "dividers",
                    "what is cut",
                ),
            ]),
            "a hollow in the upper edge for the fingers, in the middle of every compartment",
        ),
    ],
    build,
};

fn build(fields: &Fields, built: &mut Built) -> Option<()> {
    let stock = built.stock(fields, "stock");
    let base_stock = if fields.has("base_stock") {
        built.stock(fields, "base_stock")
    } else {
        stock.clone()
    };
    let (width, depth) = (fields.length("width"), fields.length("depth"));
    let height = fields.length("height");
    let measure = fields.word("measure");
    let gap = fields.length("gap");
    let columns = bays(fields, "columns", "column_sizes");
    let rows = bays(fields, "rows", "row_sizes");
    let corner = fields.word("corner");
    let fit = fields.word("fit");
    let clearance = if fields.has("clearance") {
        Some(fields.length("clearance")?)
    } else {
        None
    };
    let base = fields.word("base");
    let base_up = fields.length("base_up");
    let walls = fields.word("walls");
    let cuts = if fields.has("finger_cut") {
        Some(read_cuts(&fields.map("finger_cut")?)?)
    } else {
        None
    };
    let (stock, base_stock) = (stock?, base_stock?);
    let fit = fit?;
    let (fit, clearance) = match clearance {
        Some(length) => ("own", length.value),
        None => *FITS.iter().find(|(name, _)| *name == fit.value)?,
    };
    let less = match measure?.value {
        "opening" => 2.0 * gap?.value,
        _ => 0.0,
    };
    let spec = Spec {
        span: built.span,
        stock: stock.id.clone(),
        base_stock: base_stock.id.clone(),
        width: width?.map(|w| w - less),
        depth: depth?.map(|d| d - less),
        height: height?,
        columns: columns?,
        rows: rows?,
        corners: match corner?.value {
            "rebate" => Corners::Rebate,
            "finger" => Corners::Finger,
            _ => Corners::Butt,
        },
        fit,
        clearance,
        base: match base?.value {
            "none" => Base::None,
            "groove" => Base::Groove(base_up?),
            _ => Base::Glued,
        },
        doubled: walls?.value == "doubled",
        cuts,
        unit: fields.context().names.unit(),
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
            fields.context().find(*finding);
            return None;
        }
    };
    let drafts = parts::drafts(&spec, &layout);
    let nominal = Thickness {
        wall: stock.nominal.unwrap_or(measured.wall),
        wall_thickest: stock.nominal.unwrap_or(measured.wall_thickest),
        base: base_stock.nominal.unwrap_or(measured.base),
        base_thickest: base_stock.nominal.unwrap_or(measured.base_thickest),
    };
    if let Ok(as_sold) = Layout::new(&spec, nominal) {
        for line in changes(&spec, (&as_sold, &layout), &drafts) {
            built.working(&line);
        }
    }
    for (role, mut draft) in drafts {
        if let Some(other) = draft.mirror_as.take() {
            draft.mirror_as = Some(format!("{}-{other}", built.name));
        }
        built.part(role, draft);
    }
    Some(())
}

/// The number of compartments, and the sizes of the first of them.
fn bays(
    fields: &Fields,
    count: &'static str,
    sizes: &'static str,
) -> Option<(u32, Vec<Spanned<f64>>)> {
    if !fields.has(sizes) {
        let count = fields.count(count)?;
        if count.value > layout::MOST_BAYS {
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
        }
        return Some((count.value, Vec::new()));
    }
    if fields.has(count) {
        fields.exactly_one(&[count, sizes])?;
    }
    let sizes = fields.lengths(sizes)?;
    Some((sizes.len() as u32 + 1, sizes))
}

fn read_cuts(fields: &Fields) -> Option<Cuts> {
    let (width, depth, cut) = (
        fields.length("width"),
        fields.length("depth"),
        fields.word("in"),
    );
    let cut = cut?.value;
    Some(Cuts {
        width: width?,
        depth: depth?,
        on_dividers: cut != "walls",
        on_walls: cut != "dividers",
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
