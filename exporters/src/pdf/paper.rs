//! Sizes of paper.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use jigless_model::units::MM_PER_INCH;

use super::page_format::PageFormat;

/// The longest page a reader need take: 14,400 units of 1/72 in (PDF Reference 1.6, implementation note 171).
pub(super) const LONGEST: f64 = 14_400.0 / 72.0 * MM_PER_INCH;

/// A page of a roll is no shorter than this, in millimetres: room for its check bars and head.
pub(super) const SHORTEST: f64 = 180.0;

/// Paper to print on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Paper {
    /// ISO 216: 210 x 297 mm.
    #[default]
    A4,
    /// ISO 216: 297 x 420 mm.
    A3,
    /// ANSI/ASME Y14.1 size A: 8.5 x 11 in.
    Letter,
    /// 8.5 x 14 in.
    Legal,
    /// ANSI/ASME Y14.1 size B: 11 x 17 in.
    Tabloid,
    /// A4 pages whose ink also fits Letter, for readers on both sides of an ocean: nothing outside 185 x 254 mm.
    Both,
    /// As wide as `roll_width` and as long as the part needs.
    Roll,
}

impl Paper {
    /// Width and height in millimetres, upright; `None` for a roll.
    pub(crate) fn size(self) -> Option<(f64, f64)> {
        let inches = |width: f64, height: f64| (width * MM_PER_INCH, height * MM_PER_INCH);
        match self {
            Paper::A4 | Paper::Both => Some((210.0, 297.0)),
            Paper::A3 => Some((297.0, 420.0)),
            Paper::Letter => Some(inches(8.5, 11.0)),
            Paper::Legal => Some(inches(8.5, 14.0)),
            Paper::Tabloid => Some(inches(11.0, 17.0)),
            Paper::Roll => None,
        }
    }

    /// What stays blank at each end of an upright page beyond the usual border, in millimetres.
    pub(super) fn blank_ends(self) -> f64 {
        match self {
            Paper::Both => (297.0 - 11.0 * MM_PER_INCH) / 2.0,
            _ => 0.0,
        }
    }

    /// An upright page that is corrected for no printer; `None` for a roll.
    pub(crate) fn format(self) -> Option<PageFormat> {
        Some(PageFormat {
            size: self.size()?,
            scale: (1.0, 1.0),
            blank: (0.0, self.blank_ends()),
        })
    }
}

/// Which way up the pages of a template are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Orientation {
    /// Whichever takes fewer pages; upright where that is all the same.
    #[default]
    Auto,
    /// Upright.
    Portrait,
    /// Across.
    Landscape,
}

impl Orientation {
    /// The sizes that pages may have on paper of an upright size, the preferred one first.
    pub(crate) fn sizes(self, (width, height): (f64, f64)) -> Vec<(f64, f64)> {
        match self {
            Orientation::Auto => vec![(width, height), (height, width)],
            Orientation::Portrait => vec![(width, height)],
            Orientation::Landscape => vec![(height, width)],
        }
    }
}

/// How much of a face is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Scope {
    /// Small templates where they take no more pages than the whole face.
    #[default]
    Auto,
    /// Small templates that fold over the nearest edges, one page each; the whole face only where work fits no page.
    Local,
    /// The whole face, over as many pages as it takes.
    Face,
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::units::mm_to_points;

    /// Letter, Legal and Tabloid are 612 x 792, 612 x 1008 and 792 x 1224 units of 1/72 in by arithmetic; A4 is
    /// 595.276 x 841.890 from ISO 216 and 25.4 mm to the inch.
    #[test]
    fn sizes_in_points() {
        for (paper, width, height) in [
            (Paper::A4, 595.276, 841.890),
            (Paper::A3, 841.890, 1190.551),
            (Paper::Letter, 612.0, 792.0),
            (Paper::Legal, 612.0, 1008.0),
            (Paper::Tabloid, 792.0, 1224.0),
        ] {
            let (w, h) = paper.size().unwrap();
            assert!((mm_to_points(w) - width).abs() < 5e-4, "{paper:?}");
            assert!((mm_to_points(h) - height).abs() < 5e-4, "{paper:?}");
        }
        assert!((LONGEST - 5080.0).abs() < 1e-9);
    }

    /// ISO 216: the long side of a size is the short side of the next larger one.
    #[test]
    fn a3_is_two_a4() {
        let (a4, a3) = (Paper::A4.size().unwrap(), Paper::A3.size().unwrap());
        assert!((a3.0 - a4.1).abs() < 1e-12 && (a3.1 - 2.0 * a4.0).abs() < 1e-12);
    }
}
