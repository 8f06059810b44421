//! A printer's stretching, from two bars measured on its check sheet.

use serde::{Deserialize, Serialize};

/// The longest bars that fit A4 and Letter alike, in millimetres: across and along the feed.
pub(super) const LONG_BARS: [f64; 2] = [180.0, 250.0];
/// Long bars in inches.
pub(super) const LONG_BARS_INCHES: [f64; 2] = [7.0, 9.0];
/// A uniform error beyond this is questioned.
const FITTED: f64 = 0.007;
/// Printers that stretch more than this are not stretching: the page has been fitted to the paper.
pub(super) const MOST: f64 = 0.03;

/// What has to be drawn for each millimetre meant, so that a printer's pages measure true.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PrinterCorrection {
    /// Across the feed.
    pub across: f64,
    /// Along the feed.
    pub feed: f64,
}

/// What the two long bars of an uncorrected check sheet measure: those of 180 and 250 mm in millimetres, or those of 7 and
/// 9 in in inches.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Readings {
    /// Across the feed.
    pub across: f64,
    /// Along the feed.
    pub feed: f64,
    /// Whether they are inches.
    #[serde(default)]
    pub inches: bool,
}

/// Why two readings are no printer's stretching.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum CorrectionFault {
    /// A bar is out by more than any printer stretches.
    #[error(
        "the {nominal} {unit} bar measures {measured} {unit}, which is out by {percent:.1} %: more than 3 % looks like fit to page"
    )]
    FitToPage {
        /// Length of the bar.
        nominal: f64,
        /// What was measured.
        measured: f64,
        /// The unit of both.
        unit: &'static str,
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
        Self::from_readings(Readings {
            across,
            feed,
            inches: false,
        })
    }

    /// The same from readings in either unit.
    ///
    /// # Errors
    /// As [`PrinterCorrection::from_measured`].
    pub fn from_readings(readings: Readings) -> Result<Self, CorrectionFault> {
        let (bars, unit) = if readings.inches {
            (LONG_BARS_INCHES, "in")
        } else {
            (LONG_BARS, "mm")
        };
        let scale = |nominal: f64, measured: f64| {
            let scale = nominal / measured;
            if (scale - 1.0).abs() <= MOST && scale.is_finite() {
                Ok(scale)
            } else {
                Err(CorrectionFault::FitToPage {
                    nominal,
                    measured,
                    unit,
                    percent: (measured / nominal - 1.0) * 100.0,
                })
            }
        };
        Ok(Self {
            across: scale(bars[0], readings.across)?,
            feed: scale(bars[1], readings.feed)?,
        })
    }

    /// Whether it looks as if the page had been fitted to the paper: both ways out by the same share, and by more than a
    /// printer stretches (0.7 %; common practice, no source).
    pub fn looks_fitted(self) -> bool {
        let (across, feed) = (self.across - 1.0, self.feed - 1.0);
        let both = across.abs() > FITTED && feed.abs() > FITTED;
        // Each bar is read to a quarter of a millimetre: 0.25 / 180 + 0.25 / 250 = 0.24 %.
        both && (across - feed).abs() < 0.003
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

    /// 7 / 6.965 = 1.005 and 9 / 9.045 = 0.995: by arithmetic, as 7 and 9 in are the bars.
    #[test]
    fn inches_are_read_off_their_own_bars() {
        let readings = |across: f64, feed: f64| Readings {
            across,
            feed,
            inches: true,
        };
        let found = PrinterCorrection::from_readings(readings(6.965, 9.045)).unwrap();
        assert!((found.across - 7.0 / 6.965).abs() < 1e-12);
        assert!((found.feed - 9.0 / 9.045).abs() < 1e-12);
        assert!(PrinterCorrection::from_readings(readings(180.0, 250.0)).is_err());
    }

    /// 180 and 250 mm at 99 % are 178.2 and 247.5 mm; a printer that is 1 % short one way and true the other stretches.
    #[test]
    fn the_same_error_both_ways_looks_fitted() {
        let fitted = |x: f64, y: f64| {
            PrinterCorrection::from_measured(x, y)
                .unwrap()
                .looks_fitted()
        };
        assert!(fitted(178.2, 247.5));
        assert!(fitted(182.0, 252.9));
        assert!(!fitted(178.2, 250.0));
        assert!(!fitted(178.2, 252.5));
        assert!(!fitted(179.0, 248.7), "0.56 and 0.52 %");
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
