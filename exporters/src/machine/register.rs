//! Holes for pins that keep front and back of a part or sheet in register.
//!
//! Two lie at the same height to the left and right, below the middle, and one lies above on the upright line about which
//! the part or sheet is turned over. Turned over as the files say, each comes to lie where one was; turned any other way
//! the three do not fit the pins, since no other turn or flip maps them onto one another.

use jigless_model::geom::{Bounds, Point};

use super::beyond;
use super::router_options::RouterOptions;

/// How high the lower two lie, as a share of the height.
const HEIGHT: f64 = 0.25;

/// The places beside a part, so far outside its box.
pub(super) fn beside(own: Bounds, away: f64) -> Vec<Point> {
    let low = own.min.y + HEIGHT * own.height();
    vec![
        Point::new(own.min.x - away, low),
        Point::new(own.max.x + away, low),
        Point::new(own.centre().x, own.max.y + away),
    ]
}

/// The places in the margin of a sheet, so far inside its edges.
pub(super) fn within(sheet: Bounds, inside: f64) -> Vec<Point> {
    beside(sheet, -inside)
}

/// Diameter and places of a router's holes for pins: beside a part where its tools do not come, or in the margin of a
/// sheet.
pub(super) fn of_router(router: &RouterOptions, own: Bounds, on_sheet: bool) -> (f64, Vec<Point>) {
    let diameter = router.register;
    if diameter == 0.0 {
        return (0.0, Vec::new());
    }
    let clear = diameter / 2.0 + beyond::AROUND_REGISTER;
    let holes = if on_sheet {
        within(own, clear)
    } else {
        beside(own, beyond::at_most(router, 0.0) + clear)
    };
    (diameter, holes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whether holes fit pins, however they are moved.
    fn fits(holes: &[Point], pins: &[Point]) -> bool {
        holes.iter().any(|hole| {
            let by = pins[0] - *hole;
            holes
                .iter()
                .all(|hole| pins.iter().any(|pin| pin.distance(*hole + by) < 0.5))
        })
    }

    #[test]
    fn only_the_right_flip_fits_the_pins() {
        let own = Bounds::of_size(300.0, 300.0);
        for pins in [beside(own, 20.0), within(own, 10.0)] {
            let all = |of: &dyn Fn(Point) -> Point| -> Vec<Point> {
                pins.iter().map(|pin| of(*pin)).collect()
            };
            assert!(fits(&all(&|p| Point::new(300.0 - p.x, p.y)), &pins));
            assert!(!fits(&all(&|p| Point::new(p.x, 300.0 - p.y)), &pins));
            for quarters in 1..4 {
                assert!(!fits(&all(&|p| p.turned(quarters)), &pins));
                let flipped = all(&|p| Point::new(300.0 - p.x, p.y).turned(quarters));
                assert!(!fits(&flipped, &pins));
            }
        }
    }
}
