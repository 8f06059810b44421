//! What is put on the wood once it is made, as the author says it, and what that comes to.

use crate::source::{Span, Spanned};

crate::words! {
    /// What a finish is.
    #[derive(Hash, serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum FinishKind {
        /// An oil that hardens in the wood.
        Oil = "oil",
        /// Wax.
        Wax = "wax",
        /// Varnish.
        Varnish = "varnish",
        /// Lacquer.
        Lacquer = "lacquer",
        /// Shellac.
        Shellac = "shellac",
        /// Soap.
        Soap = "soap",
        /// Stain.
        Stain = "stain",
        /// Paint.
        Paint = "paint",
        /// Nothing at all: what is glued later, or stays as it is.
        Bare = "bare",
    }
}

crate::words! {
    /// A side of a part, seen on its front face.
    #[derive(PartialOrd, Ord, Hash)]
    pub enum PartSide {
        /// The front face.
        Front = "front",
        /// The back face.
        Back = "back",
        /// The left edge.
        Left = "left",
        /// The right edge.
        Right = "right",
        /// The top edge.
        Top = "top",
        /// The bottom edge.
        Bottom = "bottom",
    }
}

/// An entry of the plan's `finish:` list.
#[derive(Debug, Clone)]
pub struct Finish {
    /// What it is.
    pub kind: FinishKind,
    /// What it is called on paper; its kind where the plan gives nothing.
    pub title: String,
    /// The parts that get it; all of them where none is named.
    pub parts: Vec<Spanned<String>>,
    /// The sides that get it; all of them where none is named.
    pub faces: Vec<PartSide>,
    /// How many coats, if the author says.
    pub coats: Option<u32>,
    /// Square metres that a litre covers once, as the tin says.
    pub coverage: Option<Spanned<f64>>,
    /// Grits of abrasive, in the order in which they are used.
    pub grits: Vec<Spanned<u32>>,
    /// Grit between two coats.
    pub between: Option<Spanned<u32>>,
    /// Square metres that a sheet of abrasive sands, if the author says.
    pub sheet_covers: Option<f64>,
    /// What a litre costs.
    pub price: Option<f64>,
    /// What a sheet of abrasive costs.
    pub sheet_price: Option<f64>,
    /// Where the plan says it.
    pub span: Span,
}

impl Finish {
    /// Whether nothing is put on.
    pub fn is_bare(&self) -> bool {
        self.kind == FinishKind::Bare
    }

    /// Litres for an area in square millimetres: coats and coverage are the author's, and without both nothing is known.
    pub fn litres(&self, area: f64) -> Option<f64> {
        let coverage = self.coverage?.value;
        Some(area * 1e-6 * f64::from(self.coats?) / coverage)
    }

    /// Every sanding by its grit: each grit once, and the one between coats once for each coat after the first.
    pub fn sandings(&self) -> Vec<(u32, u32)> {
        let mut all: Vec<(u32, u32)> = Vec::new();
        let between = self
            .between
            .map(|grit| (grit.value, self.coats.unwrap_or(1) - 1));
        let first = self.grits.iter().map(|grit| (grit.value, 1));
        for (grit, times) in first.chain(between).filter(|(_, times)| *times > 0) {
            match all.iter_mut().find(|(own, _)| *own == grit) {
                Some((_, sum)) => *sum += times,
                None => all.push((grit, times)),
            }
        }
        all
    }

    /// Sheets of abrasive of one grit for an area in square millimetres that is sanded so many times.
    pub fn sheets(&self, area: f64, times: u32) -> Option<u32> {
        let covers = self.sheet_covers? * 1e6;
        // What is over by a rounding is no further sheet.
        Some((area * f64::from(times) / covers - 1e-9).ceil().max(0.0) as u32)
    }

    /// Whether it is said of a side of a part.
    pub fn is_of(&self, part: &str, side: PartSide) -> bool {
        let named = self.parts.is_empty() || self.parts.iter().any(|own| own.value == part);
        named && (self.faces.is_empty() || self.faces.contains(&side))
    }
}

/// What an entry of `finish:` comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct FinishUse {
    /// Number of the entry in the plan.
    pub entry: usize,
    /// Each part that gets it: its id, how many pieces, and the area of all of them in square millimetres, without what
    /// joints cover.
    pub parts: Vec<(String, u32, f64)>,
    /// What joints cover of it, in square millimetres.
    pub covered: f64,
    /// Ids of parts without places, of which what joints cover is not known.
    pub unplaced: Vec<String>,
}

impl FinishUse {
    /// The area in square millimetres that is sanded and finished.
    pub fn area(&self) -> f64 {
        self.parts.iter().map(|(.., area)| area).sum()
    }
}
