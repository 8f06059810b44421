//! Whether parts go together.

pub(super) mod door_gap_small;
pub(super) mod doors_collide;
pub(super) mod hinge_cups_misaligned;
pub(super) mod laps_stay_open;
pub(super) mod overlay_off;
pub(super) mod panel_loose;
pub(super) mod panel_proud;
pub(super) mod panel_too_thick;
pub(super) mod runner_loose;
pub(super) mod runner_tight;

use jigless_model::fact::Fact;
use jigless_model::source::Spanned;

use crate::CheckedPart;

/// Sheets by the inch and what they measure in millimetres: common practice, no source. 3/4 in is sold as 23/32 in or
/// 18 mm, 1/2 in as 15/32 in or 12 mm, 1/4 in as 5 to 5.6 mm.
const SOLD_AS: &[(&str, f64, f64, f64)] = &[
    ("1/8 in", 3.175, 2.7, 3.1),
    ("1/4 in", 6.35, 4.9, 6.1),
    ("3/8 in", 9.525, 8.5, 9.3),
    ("1/2 in", 12.7, 11.5, 12.4),
    ("5/8 in", 15.875, 14.6, 15.6),
    ("3/4 in", 19.05, 17.2, 18.7),
    ("1 in", 25.4, 23.5, 25.1),
];

/// What is likely to have happened where a room of a nominal size meets a sheet that is sold by that name; nothing where
/// it is not clear.
fn likely_sheet(room: f64, thickness: f64) -> String {
    SOLD_AS
        .iter()
        .find(|(_, nominal, low, high)| (room - nominal).abs() < 0.26 && (*low..=*high).contains(&thickness))
        .map(|(name, ..)| {
            format!(
                "; the room is for a nominal {name}, and a sheet sold as {name} often measures {} mm",
                jigless_model::units::decimal(thickness, 1)
            )
        })
        .unwrap_or_default()
}

/// Where the cups of a door are, along its hinge edge.
fn cups_of(piece: &CheckedPart) -> Vec<Spanned<f64>> {
    let of = |fact: &Fact| match fact {
        Fact::HingeCups { edge, at, .. } => Some((*edge, at.clone())),
        _ => None,
    };
    along(piece, of)
}

/// Where the plates on a side are, along its front edge.
fn plates_of(piece: &CheckedPart) -> Vec<Spanned<f64>> {
    let of = |fact: &Fact| match fact {
        Fact::HingePlates { edge, at } => Some((*edge, at.clone())),
        _ => None,
    };
    along(piece, of)
}

/// Positions from the lower or left end; on a mirror image what runs across runs the other way.
fn along(
    piece: &CheckedPart,
    of: impl Fn(&Fact) -> Option<(jigless_model::side::Edge, Vec<Spanned<f64>>)>,
) -> Vec<Spanned<f64>> {
    let part = piece.part();
    piece
        .facts
        .iter()
        .filter_map(|(_, fact)| of(fact))
        .flat_map(|(edge, at)| {
            let turned = part.is_mirrored() && !edge.is_upright();
            at.into_iter()
                .map(move |position| position.map(|at| if turned { part.width - at } else { at }))
        })
        .collect()
}

/// The edge gap of a door's cups.
fn edge_gap_of(piece: &CheckedPart) -> Option<Spanned<f64>> {
    piece.facts.iter().find_map(|(_, fact)| match fact {
        Fact::HingeCups { edge_gap, .. } => Some(*edge_gap),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::likely_sheet;

    /// Metric birch of 18 mm is 0.709 in and is sold as 3/4 in (common practice, no source).
    #[test]
    fn a_nominal_size_names_its_sheet() {
        assert!(likely_sheet(19.05, 18.0).contains("nominal 3/4 in"));
        assert!(likely_sheet(12.7, 11.9).contains("nominal 1/2 in"));
        assert_eq!(likely_sheet(18.2, 18.0), "");
        assert_eq!(likely_sheet(19.05, 19.0), "");
    }
}
