//! Whether screws and hardware hold.

pub(super) mod clearance_hole_tight;
pub(super) mod edge_screw_near_corner;
pub(super) mod hardware_screw_long;
pub(super) mod insert_hole_off;
pub(super) mod insert_hole_shallow;
pub(super) mod pilot_off;
pub(super) mod pilot_too_short;
pub(super) mod pocket_screw_short;
pub(super) mod pocket_screw_through;
pub(super) mod screw_near_edge;
pub(super) mod screw_near_end;
pub(super) mod screw_through;
pub(super) mod screw_too_short;

use jigless_model::fact::{Enters, Fact, ScrewIn, ScrewSize};
use jigless_model::operation::Depth;
use jigless_model::plan::{Part, StockKind};
use jigless_model::source::{Span, Spanned};
use jigless_model::units::MM_PER_INCH;

use crate::{CheckedPart, Scene};

/// What a screw holds to.
pub(super) struct Hold<'a> {
    /// The part that its thread is in.
    pub(super) part: &'a Part,
    /// How far it reaches into that part, in millimetres.
    pub(super) reach: f64,
    /// How much wood there is in its way, in millimetres.
    pub(super) room: f64,
    /// Whether it goes through another part first.
    pub(super) goes_on: bool,
}

/// What a screw holds to: the part that it goes into, or this one where it ends in it.
///
/// Where both parts have places it is followed along its axis, and one that misses the other part holds to nothing.
pub(super) fn hold<'a>(
    scene: &Scene<'a>,
    piece: &CheckedPart<'a>,
    feature: usize,
    screw: &ScrewIn,
) -> Option<Hold<'a>> {
    let from = screw.length.value + screw.sunk;
    let Some(into) = &screw.into else {
        // The pilot of an edge hole runs along the part and has its own depth.
        let blind = matches!(screw.depth.value, Depth::Blind(_)) && screw.enters == Enters::Face;
        return blind.then(|| Hold {
            part: piece.part(),
            reach: from,
            room: piece.part().thickness(),
            goes_on: false,
        });
    };
    let part = scene.piece(&into.value)?.part();
    if !piece.part().places.is_empty() && !part.places.is_empty() {
        return held_in_place(scene, piece, feature, part);
    }
    let room = match screw.enters {
        Enters::Face => part.thickness(),
        Enters::Edge => part.width.min(part.height),
    };
    Some(Hold {
        part,
        reach: from - piece.part().thickness(),
        room,
        goes_on: true,
    })
}

/// How far the axis of a screw is followed beyond its head, in millimetres.
const FOLLOWED: f64 = 3000.0;

/// What a screw of a placed part holds to in another one: of all its holes the one with the least wood before its tip.
fn held_in_place<'a>(
    scene: &Scene<'a>,
    piece: &CheckedPart<'a>,
    feature: usize,
    into: &'a Part,
) -> Option<Hold<'a>> {
    let solids = &scene.assembled.solids;
    let holds = scene.driven_of(piece.part(), feature).filter_map(|driven| {
        let stretches = scene.assembled.stretches(driven.head, driven.at(FOLLOWED));
        let met = stretches
            .iter()
            .find(|stretch| solids[stretch.solid].workpiece.part.id == into.id)?;
        // One that ends before it is reported by itself.
        let reach = driven.length.value - met.from;
        (reach > 0.0).then_some(Hold {
            part: into,
            reach,
            room: met.to - met.from,
            goes_on: true,
        })
    });
    holds.min_by(|a, b| (a.room - a.reach).total_cmp(&(b.room - b.reach)))
}

/// The pocket screws of a feature that go into the face of another part.
struct PocketScrews<'a> {
    /// The part that the pockets are in.
    piece: &'a CheckedPart<'a>,
    /// Which of its features they are.
    feature: usize,
    /// Where the plan names the other part.
    named: Span,
    /// The screws' length.
    length: Spanned<f64>,
    /// Angle between screw and face, in radians.
    angle: f64,
    /// The other part.
    other: &'a Part,
    /// How far the screws reach into it, in millimetres.
    reach: f64,
}

/// All pocket screws that go into a part of the plan.
fn pocket_screws<'a>(scene: &'a Scene<'a>) -> impl Iterator<Item = PocketScrews<'a>> {
    scene.facts().filter_map(|(piece, feature, fact)| {
        let Fact::PocketScrewsInto {
            part,
            length,
            shoulder,
            angle,
        } = fact
        else {
            return None;
        };
        let other = scene.piece(&part.value)?.part();
        // In their places they are followed along their axis, as other screws are.
        if !piece.part().places.is_empty() && !other.places.is_empty() {
            return None;
        }
        Some(PocketScrews {
            piece,
            feature,
            named: part.span,
            length: *length,
            angle: *angle,
            other,
            reach: pocket_reach(length.value, *shoulder, *angle),
        })
    })
}

/// How far a pocket screw reaches beyond the edge, square to it, in millimetres.
fn pocket_reach(length: f64, shoulder: f64, angle: f64) -> f64 {
    (length - shoulder) * angle.cos()
}

/// Fine clearance holes after ISO 273 (seen in two copies that agree): thread and hole in millimetres.
const ISO_273_FINE: [(f64, f64); 8] = [
    (3.0, 3.2),
    (4.0, 4.3),
    (5.0, 5.3),
    (6.0, 6.4),
    (7.0, 7.4),
    (8.0, 8.4),
    (10.0, 10.5),
    (12.0, 13.0),
];

/// The least hole that a screw passes, in millimetres.
fn clearance(size: ScrewSize) -> f64 {
    let listed = match size {
        ScrewSize::Machine(thread) => ISO_273_FINE
            .iter()
            .find(|(size, _)| (size - thread).abs() < 1e-9)
            .map(|(_, hole)| *hole),
        ScrewSize::Gauge(_) | ScrewSize::Thread(_) => None,
    };
    // The shank may be 0.004 in over its size (boring chart, seen).
    listed.unwrap_or(size.diameter() + 0.004 * MM_PER_INCH)
}

/// The least and the greatest pilot hole of a wood screw, in millimetres; none for a machine screw, which needs a nut.
///
/// The root of the thread is about 2/3 of the shank (Wood Handbook, GTR-190, page 8-10, seen). 70 % of it in softwood and
/// 90 % in hardwood (Wood Handbook ch. 8, memory; NDS Commentary, seen); 85 to 95 % in MDF (mdf-info.eu, seen).
fn pilot_range(size: ScrewSize, kind: StockKind) -> Option<(f64, f64)> {
    if matches!(size, ScrewSize::Machine(_)) {
        return None;
    }
    let root = size.diameter() * 2.0 / 3.0;
    let (low, high) = match kind {
        StockKind::Mdf | StockKind::Particleboard | StockKind::Hardboard => (0.85, 0.95),
        _ => (0.70, 0.90),
    };
    Some((low * root, high * root))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 273, fine series, as two public tables have it (seen).
    #[test]
    fn clearance_holes_are_those_of_the_standard() {
        for (thread, hole) in [
            (3.0, 3.2),
            (4.0, 4.3),
            (5.0, 5.3),
            (6.0, 6.4),
            (8.0, 8.4),
            (10.0, 10.5),
            (12.0, 13.0),
        ] {
            assert!(
                (clearance(ScrewSize::Machine(thread)) - hole).abs() < 1e-9,
                "M{thread}"
            );
        }
        // #8: 0.164 in after ASME B18.6.1 and 0.004 in of tolerance.
        assert!((clearance(ScrewSize::Gauge(8)) / 25.4 - 0.168).abs() < 1e-9);
    }

    /// 70 % of the root is 0.47 of the shank, 90 % is 0.60 (derived from the Wood Handbook's 2/3).
    #[test]
    fn pilots_are_shares_of_the_root() {
        let (low, high) = pilot_range(ScrewSize::Thread(10.0), StockKind::Plywood).unwrap();
        assert!((low / 10.0 - 0.47).abs() < 0.005 && (high / 10.0 - 0.60).abs() < 0.005);
    }

    /// Break-out limits of equal parts, t / cos 15 degrees beyond the edge: 13.15 mm for 1/2 in, 19.72 mm for 3/4 in
    /// (derived).
    #[test]
    fn a_pocket_screw_comes_out_at_the_thickness() {
        for (thickness, limit) in [(12.7, 13.15), (19.05, 19.72)] {
            let reach = pocket_reach(limit + thickness, thickness, 15_f64.to_radians());
            assert!((reach - thickness).abs() < 0.01, "{reach}");
        }
    }
}
