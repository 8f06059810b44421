//! A printer's stretching, from two bars measured on its check sheet.

use serde::{Deserialize, Serialize};

/// The longest bars that fit A4 and Letter alike, in millimetres: across and along the feed.
pub(super) const LONG_BARS: [f64; 2] = [180.0, 250.0];
/// Printers that stretch more than this are not stretching: the page has been fitted to the paper.
pub(super) const MOST: f64 = 0.03;

/// What has to be drawn for each millimetre meant, so that a printer's pages measure true.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PrinterCorrection {
    /// Across the feed.
    pub across: f64,
    /// Along the feed.
    pub feed: f64,
}

/// Why two readings are no printer's stretching.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum CorrectionFault {
    /// A bar is out by more than any printer stretches.
    #[error(
        "the {nominal} mm bar measures {measured} mm, which is out by {percent:.1} %: more than 3 % looks like fit to page"
    )]
    FitToPage {
        /// Length of the bar in millimetres.
        nominal: f64,
        /// What was measured, in millimetres.
        measured: f64,
        /// How far it is out.
        percent: f64,
    },
}

impl PrinterCorrection {
    /// The correction of a printer whose bars of 180 mm across and 250 mm along the feed measure these millimetres on an
    /// uncorrected check sheet: nominal over measured.
    ///
    /// # Errors
    /// When a reading is more than 3 % off, or no length.
    pub fn from_measured(across: f64, feed: f64) -> Result<Self, CorrectionFault> {
        let scale = |nominal: f64, measured: f64| {
            let scale = nominal / measured;
            if (scale - 1.0).abs() <= MOST && scale.is_finite() {
                Ok(scale)
            } else {
                Err(CorrectionFault::FitToPage {
                    nominal,
                    measured,
                    percent: (measured / nominal - 1.0) * 100.0,
                })
            }
        };
        Ok(Self {
            across: scale(LONG_BARS[0], across)?,
            feed: scale(LONG_BARS[1], feed)?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By arithmetic: 180 / 179.4 = 1.003344..., 250 / 250.6 = 0.997606....
    #[test]
    fn a_short_bar_is_drawn_longer() {
        let found = PrinterCorrection::from_measured(179.4, 250.6).unwrap();
        assert!((found.across - 1.003_344_5).abs() < 1e-6);
        assert!((found.feed - 0.997_605_7).abs() < 1e-6);
    }

    #[test]
    fn more_than_three_per_cent_is_refused() {
        for (across, feed) in [
            (170.0, 250.0),
            (180.0, 260.0),
            (0.0, 250.0),
            (-180.0, 250.0),
            (f64::NAN, 250.0),
            (180.0, f64::INFINITY),
        ] {
            let fault = PrinterCorrection::from_measured(across, feed).unwrap_err();
            assert!(fault.to_string().contains("fit to page"), "{fault}");
        }
    }
}
