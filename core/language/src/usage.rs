//! What the `usage:` list of a plan may hold, and how each entry is read.

use jigless_model::diag::{Finding, nearest};
use jigless_model::source::Spanned;
use jigless_model::usage::{
    Casters, Door, Doors, Drawer, Freestanding, Lifting, Panel, Shelf, Usage,
};

use crate::codes;
use crate::resolve::{
    Count, Distance, Field, Fields, KeySet, KeyType, Length, Number, Shape, Size, Texts, YesNo,
    key_types,
};

/// A kind of entry: what the plan calls it and how it is read.
#[derive(Debug)]
pub struct UsageKind {
    /// Its key in a plan.
    pub key: &'static str,
    /// One line on what it is.
    pub summary: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
    pub(crate) read: fn(&Fields) -> Option<Usage>,
}

/// Every kind of entry, in the order in which the manual shows them.
pub static USAGE: &[UsageKind] = &[
    UsageKind {
        key: "door",
        summary: "a door hinged to a cabinet side",
        fields: Door::FIELDS,
        read: |fields| Door::read(fields).map(Usage::Door),
    },
    UsageKind {
        key: "doors",
        summary: "doors side by side",
        fields: Doors::FIELDS,
        read: |fields| Doors::read(fields).map(Usage::Doors),
    },
    UsageKind {
        key: "drawer",
        summary: "a drawer box between side runners",
        fields: Drawer::FIELDS,
        read: |fields| Drawer::read(fields).map(Usage::Drawer),
    },
    UsageKind {
        key: "shelf",
        summary: "a shelf held at its two ends",
        fields: Shelf::FIELDS,
        read: |fields| Shelf::read(fields).map(Usage::Shelf),
    },
    UsageKind {
        key: "casters",
        summary: "casters below a unit",
        fields: Casters::FIELDS,
        read: |fields| Casters::read(fields).map(Usage::Casters),
    },
    UsageKind {
        key: "panel",
        summary: "a solid panel with room to move in",
        fields: Panel::FIELDS,
        read: |fields| Panel::read(fields).map(Usage::Panel),
    },
    UsageKind {
        key: "freestanding",
        summary: "a unit that stands on the floor by itself",
        fields: Freestanding::FIELDS,
        read: |fields| Freestanding::read(fields).map(Usage::Freestanding),
    },
    UsageKind {
        key: "lifting",
        summary: "who lifts the parts and the whole",
        fields: Lifting::FIELDS,
        read: |fields| Lifting::read(fields).map(Usage::Lifting),
    },
];

crate::fields! {
    for Door {
        /// name of the door, which has `hinge_cups`
        door as "part": Spanned<String>,
        /// name of the side, which has `hinge_plates`
        side: Spanned<String>,
        /// how far the door's lower (or left) end lies above the side's; negative when it lies below
        rise: Spanned<Length> = "0",
        /// how far the door lies over the side's front edge
        overlay: Option<Spanned<Distance>>,
        /// the hinge's own constant from its data sheet: its overlay at an edge gap and a plate height of 0
        constant: Option<Spanned<Distance>>,
        /// height of the mounting plate from its data sheet
        plate: Option<Spanned<Distance>>,
    }
}

crate::fields! {
    for Doors {
        /// names of the doors from left to right
        parts: Texts,
        /// room for all of them together
        room: Spanned<Size>,
        /// gap wanted between neighbours
        gap: Spanned<Distance> = "2 mm",
    }
}

crate::fields! {
    for Drawer {
        /// clear width of the opening
        opening: Spanned<Size>,
        /// outside width of the box
        width: Spanned<Size>,
        /// room that a runner needs on each side, from its data sheet
        each_side: Spanned<Size> = "12.7 mm",
    }
}

crate::fields! {
    for Shelf {
        /// name of the shelf
        part: Spanned<String>,
        /// clear distance between what holds it
        span: Spanned<Size>,
        /// which side of the part spans it
        along_width as "along": AlongWidth = "width",
        /// what stands on it, evenly spread, in kilograms
        load: Spanned<Number>,
    }
}

key_types! {
    /// Whether something runs along the width; along the height otherwise.
    AlongWidth: Shape::Word(&["width", "height"]) => bool, |fields, key| {
        Some(fields.word(key)?.map(|word| word == "width"))
    };
}

crate::fields! {
    for Casters {
        /// how many
        count: Spanned<Count> = "4",
        /// kilograms that one may carry, from its data sheet
        rating: Spanned<Number>,
        /// the unit and all that is in it, in kilograms
        load: Spanned<Number>,
    }
}

crate::fields! {
    for Panel {
        /// name of the panel, of a solid stock with `movement`
        part: Spanned<String>,
        /// room for it across its grain
        room: Spanned<Size>,
    }
}

crate::fields! {
    for Freestanding {
        /// its height
        height: Spanned<Size>,
        /// whether the plan fixes it to the wall
        anchored: YesNo = "no",
        /// what is in each drawer, in kilograms; as much as fills it with 136 kg/m3 where nothing is said
        drawer_load: Option<Spanned<Number>>,
        /// what presses outward at the top edge, in kilograms; 5 where nothing is said
        push: Option<Spanned<Number>>,
    }
}

crate::fields! {
    for Lifting {
        /// kilograms that one person lifts here, as you set it for the people who will
        alone: Spanned<Number>,
    }
}

/// Reports that a name is no part of the plan.
pub(crate) fn unknown_part<'a>(
    name: &Spanned<String>,
    parts: impl IntoIterator<Item = &'a str> + Clone,
) -> Finding {
    let fix = match nearest(&name.value, parts.clone()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "the parts of this plan are {}",
            parts.into_iter().collect::<Vec<_>>().join(", ")
        ),
    };
    Finding::error(
        codes::UNKNOWN_PART,
        name.span,
        format!("there is no part `{}`", name.value),
    )
    .fix(fix)
}
