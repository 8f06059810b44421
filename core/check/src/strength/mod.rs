//! Whether it bears what is asked of it: advice from published averages, with its formula, and never a load rating.

pub(super) mod caster_overloaded;
pub(super) mod caster_overloaded_uneven;
pub(super) mod few_hinges;
pub(super) mod panel_movement_restricted;
pub(super) mod screw_pulls_out;
pub(super) mod shelf_sags;
pub(super) mod shelf_stiffness_unknown;

use jigless_model::plan::{Grain, Part, StockKind};
use jigless_model::units::{MM_PER_INCH, decimal};
use jigless_model::usage::{Casters, UsageEntry};

use crate::Report;
use crate::report::Owner;

/// Sag after years over the first sag (Wood Handbook, GTR-190, ch. 5: the creep about equals the first deformation, seen).
const CREEP: f64 = 2.0;
/// Standard gravity in m/s2 (exact by definition).
const GRAVITY: f64 = 9.806_65;
/// Newtons in a pound-force (exact by definition, rounded).
const NEWTON_PER_POUND: f64 = 4.448_221_615_260_5;

/// The weight of a mass in kilograms, in newtons.
fn weight(mass: f64) -> f64 {
    mass * GRAVITY
}

/// First sag in the middle of a beam on two supports under an even load, in millimetres: 5/384 W L^3 / (E I) with
/// I = b t^3 / 12 (Wood Handbook ch. 9, seen). Load in newtons, lengths in millimetres, modulus in N/mm2.
fn sag(load: f64, span: f64, modulus: f64, depth: f64, thickness: f64) -> f64 {
    let inertia = depth * thickness.powi(3) / 12.0;
    5.0 / 384.0 * load * span.powi(3) / (modulus * inertia)
}

/// Modulus of elasticity along the span in N/mm2: the stock's own, or the lower value of its kind in the Wood Handbook
/// (GTR-190, Table 12-1, seen). None where it is not known: across the grain, or for kinds without a value.
fn stiffness(part: &Part, along_width: bool) -> Option<f64> {
    if let Some(own) = part.stock.stiffness {
        return Some(own * 1000.0);
    }
    let with_the_grain = match part.grain {
        Grain::Width => along_width,
        Grain::Height => !along_width,
        Grain::None => false,
    };
    let gigapascals = match part.stock.kind {
        StockKind::Plywood if with_the_grain => 6.96,
        StockKind::Mdf => 3.59,
        StockKind::Particleboard => 2.76,
        StockKind::Osb if with_the_grain => 4.41,
        StockKind::Hardboard => 3.10,
        _ => return None,
    };
    Some(gigapascals * 1000.0)
}

/// Reports that one caster may have to carry more than its rating, with the worst share first.
fn report_overload(entry: &UsageEntry, casters: &Casters, report: &mut Report) {
    let kilograms = |mass: f64| format!("{} kg", decimal(mass, 1));
    let (load, count) = (casters.load.value, casters.count.value);
    let worst = worst_share(load, count);
    let finding = report
        .finding(
            casters.rating.span,
            format!(
                "on an uneven floor two of {count} casters may have to carry all of {}: {} each; with one in the air the \
                 others carry {} each, and one is rated for {}",
                kilograms(load),
                kilograms(worst),
                kilograms(practice_share(load, count)),
                kilograms(casters.rating.value)
            ),
        )
        .label(casters.load.span, "the load")
        .fix(format!(
            "take casters rated for {} more, or put less on them",
            kilograms(worst - casters.rating.value)
        ));
    report.add(&[Owner::Usage(&entry.accepted)], finding);
}

/// What one caster carries by practice: one of them hangs in the air (trade practice: a third for four).
fn practice_share(load: f64, count: u32) -> f64 {
    load / f64::from(count.saturating_sub(1).max(1))
}

/// What one caster carries at worst: half, when a stiff unit stands on a diagonal (statics). Three always share.
fn worst_share(load: f64, count: u32) -> f64 {
    if count == 3 { load / 3.0 } else { load / 2.0 }
}

/// How many hinges the trade takes for a height in millimetres and a mass in kilograms (trade practice, no source: 2 up
/// to 40 in or 15 lb, and one more for each 20 in or 15 lb).
fn hinges_wanted(height: f64, mass: Option<f64>) -> usize {
    const POUND: f64 = 0.453_592_37;
    let steps = |value: f64, first: f64, step: f64| {
        2 + ((value - first) / step - 1e-9).ceil().max(0.0) as usize
    };
    let by_height = steps(height, 40.0 * MM_PER_INCH, 20.0 * MM_PER_INCH);
    let by_mass = mass.map_or(0, |mass| steps(mass, 15.0 * POUND, 15.0 * POUND));
    by_height.max(by_mass)
}

/// Specific gravity as the Wood Handbook has it, oven-dry mass by volume at 12 % moisture content (GTR-190, p. 8-10, seen),
/// of a density in kg/m3 at 12 % moisture content: rho / (1000 x 1.12) (derived).
fn specific_gravity(density: f64) -> f64 {
    const MOISTURE: f64 = 0.12;
    density / (1000.0 * (1.0 + MOISTURE))
}

/// Force at which tests tear a wood screw out of side grain, in newtons: 15 700 G^2 D L in pounds and inches (Wood
/// Handbook ch. 8, eq. 8-10; number from memory and seen second-hand). Lengths in millimetres.
fn withdrawal_ultimate(gravity: f64, diameter: f64, thread: f64) -> f64 {
    pounds_per_square_inch(15_700.0) * gravity * gravity * diameter * thread
}

/// Allowable withdrawal of a wood screw from side grain, in newtons: 2850 G^2 D for each inch of thread (NDS 12.2.2,
/// seen). Lengths in millimetres.
fn withdrawal_allowable(gravity: f64, diameter: f64, thread: f64) -> f64 {
    pounds_per_square_inch(2_850.0) * gravity * gravity * diameter * thread
}

/// Pounds-force per square inch as N/mm2.
fn pounds_per_square_inch(value: f64) -> f64 {
    value * NEWTON_PER_POUND / (MM_PER_INCH * MM_PER_INCH)
}

/// Size across the grain in millimetres.
fn across_grain(part: &Part) -> Option<f64> {
    match part.grain {
        Grain::Width => Some(part.height),
        Grain::Height => Some(part.width),
        Grain::None => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The greatest span in whole inches at a limit of span/144, found by trying.
    fn longest_span(modulus_psi: f64, thickness: f64, load_psf: f64) -> u32 {
        let psi = pounds_per_square_inch(1.0);
        let fits = |span: f64| {
            // One inch of depth; the depth cancels.
            let load = load_psf / 144.0 * span * NEWTON_PER_POUND;
            let sag = sag(load, span * 25.4, modulus_psi * psi, 25.4, thickness * 25.4);
            sag <= span * 25.4 / 144.0
        };
        // The table's own rounding: floor(L + 0.05) reproduces all of it.
        (1..200)
            .take_while(|span| fits(f64::from(*span) - 0.05))
            .last()
            .unwrap_or(0)
    }

    /// Architectural Woodwork Standards, ed. 1 (2009), 4.4.14.10, page 279 (seen): all twelve spans at L/144, without
    /// creep or self-weight.
    #[test]
    fn the_twelve_published_shelf_spans_come_out() {
        for (modulus, thickness, at_40, at_50) in [
            (950_000.0, 0.75, 40, 37),
            (950_000.0, 1.0, 53, 49),
            (1_800_000.0, 0.75, 49, 46),
            (1_800_000.0, 1.0, 66, 61),
            (1_820_000.0, 0.75, 49, 46),
            (1_820_000.0, 1.0, 66, 61),
        ] {
            assert_eq!(
                longest_span(modulus, thickness, 40.0),
                at_40,
                "{modulus} {thickness}"
            );
            assert_eq!(
                longest_span(modulus, thickness, 50.0),
                at_50,
                "{modulus} {thickness}"
            );
        }
    }

    /// mdf-info.eu, shelves (formula seen): d = 5 W L^3 x 9.81 / (32 E b t^3) with E 2500, b 300; 30 kg on 800 mm of 18 mm
    /// is 5.383 mm (derived).
    #[test]
    fn the_published_formula_for_mdf_gives_the_same() {
        let sag = sag(30.0 * 9.81, 800.0, 2500.0, 300.0, 18.0);
        assert!((sag - 5.383).abs() < 0.001, "{sag}");
    }

    /// Four casters of 300: 100 each by practice, 150 on a diagonal (derived).
    #[test]
    fn casters_carry_a_third_or_half() {
        assert!((practice_share(300.0, 4) - 100.0).abs() < 1e-9);
        assert!((worst_share(300.0, 4) - 150.0).abs() < 1e-9);
    }

    /// Trade practice, no source: the steps of height and of weight.
    #[test]
    fn hinges_follow_height_and_weight() {
        let inches = |n: f64| n * 25.4;
        for (height, count) in [
            (24.0, 2),
            (40.0, 2),
            (40.1, 3),
            (60.0, 3),
            (60.1, 4),
            (80.0, 4),
            (80.1, 5),
            (100.0, 5),
        ] {
            assert_eq!(hinges_wanted(inches(height), None), count, "{height} in");
        }
        for (mass, count) in [
            (6.8, 2),
            (6.9, 3),
            (13.6, 3),
            (13.7, 4),
            (20.4, 4),
            (20.5, 5),
            (27.2, 5),
        ] {
            assert_eq!(hinges_wanted(inches(20.0), Some(mass)), count, "{mass} kg");
        }
    }

    /// #8, G 0.70, 1 in of thread: 1262 lb, as published with the formula (seen second-hand); the metric form has 108.25.
    #[test]
    fn ultimate_withdrawal_is_the_published_one() {
        let newtons = withdrawal_ultimate(0.70, 0.164 * 25.4, 25.4);
        assert!((newtons / NEWTON_PER_POUND - 1262.0).abs() < 1.0);
        assert!((pounds_per_square_inch(15_700.0) - 108.25).abs() < 0.005);
    }

    /// #10, G 0.45, 1 in: 109.65 lb (the page prints 109, truncated); row G = 0.50 of NDS Table 12.2B (memory): #6 98,
    /// #8 117, #10 135, #12 154, #14 172 lb. Ultimate over allowable is 5.51 (derived).
    #[test]
    fn allowable_withdrawal_is_the_published_one() {
        let pounds = |g: f64, d: f64| withdrawal_allowable(g, d * 25.4, 25.4) / NEWTON_PER_POUND;
        assert!((pounds(0.45, 0.190) - 109.65).abs() < 0.01);
        for (d, published) in [
            (0.138, 98.0),
            (0.164, 117.0),
            (0.190, 135.0),
            (0.216, 154.0),
            (0.242, 172.0),
        ] {
            assert!((pounds(0.50, d) - published).abs() < 0.6, "{d}");
        }
        let ratio = withdrawal_ultimate(0.5, 4.0, 20.0) / withdrawal_allowable(0.5, 4.0, 20.0);
        assert!((ratio - 5.51).abs() < 0.005);
    }

    /// Wood Handbook (GTR-190), page 13-17 (seen): flatsawn white fir of 232 mm from 8 to 11 % becomes 233.7 mm.
    #[test]
    fn the_published_board_grows_by_1_7_mm() {
        let change = 232.0 * 0.002_45 * (11.0 - 8.0);
        assert!((change - 1.7052_f64).abs() < 1e-4);
        assert_eq!(jigless_model::units::decimal(232.0 + change, 1), "233.7");
    }
}
