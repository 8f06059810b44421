//! How a plan asks for hardware.

use jigless_model::hardware::{Fitting, FittingKind};

use crate::resolve::{Here, Repeats, Size};

crate::fields! {
    for Fitting {
        span: Here,
        /// what it is
        kind as "what": FittingKind,
        /// its length
        length: Option<Size>,
        /// its gauge or diameter, as it is sold
        gauge: Option<String>,
        /// how many
        count: Repeats = "1",
    }
}
