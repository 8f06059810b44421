//! Pens and inks.
//!
//! Positions are always black: printers lay colours down one after the other, and not always in register. Colour is
//! only for what helps the eye, and every tint still tells itself apart in grey.

/// A colour as red, green and blue, each 0 to 255.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Ink(pub(crate) u8, pub(crate) u8, pub(crate) u8);

impl Ink {
    /// Black.
    pub(crate) const BLACK: Ink = Ink(0, 0, 0);
    /// Dark enough to read, light enough to stay behind.
    pub(crate) const GREY: Ink = Ink(110, 110, 110);

    /// Whether it is a grey.
    pub(crate) const fn is_grey(self) -> bool {
        self.0 == self.1 && self.1 == self.2
    }
}

/// How a line is broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Dash {
    /// Not at all.
    Solid,
    /// What lies behind the face.
    Hidden,
    /// A middle line or axis.
    Centre,
    /// Seams.
    Fold,
}

impl Dash {
    /// Lengths of strokes and gaps in turn, in millimetres.
    pub(crate) const fn lengths(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Hidden => &[2.0, 1.0],
            Dash::Centre => &[6.0, 1.0, 1.0, 1.0],
            Dash::Fold => &[0.6, 0.9],
        }
    }
}

/// A pen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pen {
    /// Width in millimetres.
    pub(crate) width: f64,
    /// Colour.
    pub(crate) ink: Ink,
    /// How its line is broken.
    pub(crate) dash: Dash,
}

impl Pen {
    /// A solid pen.
    pub(crate) const fn new(width: f64, ink: Ink) -> Self {
        Self {
            width,
            ink,
            dash: Dash::Solid,
        }
    }

    /// The same pen with a broken line.
    #[must_use]
    pub(crate) const fn dashed(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }

    /// Arms of hole marks and other lines whose middle is a position.
    pub(crate) const HAIR: Pen = Pen::new(0.13, Ink::BLACK);
    /// Circles, areas.
    pub(crate) const THIN: Pen = Pen::new(0.2, Ink::BLACK);
    /// The contour of a part.
    pub(crate) const BOLD: Pen = Pen::new(0.4, Ink::BLACK);
}

/// Which inks the user wants.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Default,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Tint {
    /// Black and greys.
    #[default]
    Grey,
    /// Black for every line, colour for areas and for words on areas and hand work.
    Colour,
}

/// The inks of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Inks {
    /// Fill of milled areas.
    pub(crate) area: Ink,
    /// Words on milled areas.
    pub(crate) area_words: Ink,
    /// Words on angled bores, edge holes and bevels.
    pub(crate) hand_work: Ink,
    /// Words that are not about one place.
    pub(crate) quiet: Ink,
}

impl From<Tint> for Inks {
    fn from(tint: Tint) -> Self {
        match tint {
            Tint::Grey => Self {
                area: Ink(232, 232, 232),
                area_words: Ink::BLACK,
                hand_work: Ink::BLACK,
                quiet: Ink::GREY,
            },
            Tint::Colour => Self {
                area: Ink(222, 235, 247),
                area_words: Ink(16, 70, 130),
                hand_work: Ink(160, 40, 20),
                quiet: Ink::GREY,
            },
        }
    }
}
