//! What of a program is swept: nothing beyond the machine, and nothing that passes over the same places so often that
//! nobody could wait for a verdict.

use std::collections::HashSet;

use jigless_model::geom::{Bounds, Point};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};

use crate::area::reach;
use crate::fault::{Fault, FaultKind};
use crate::program::{Motion, Program};
use crate::setup::{Setup, TOLERANCE};
use crate::sweep::track;

/// A box around what a motion passes over, and a number that is its own.
pub(crate) type Boxed = GeomWithData<Rectangle<[f64; 2]>, usize>;

/// How often ways may meet others, each counted from both sides. A sheet of 500 parts has a tenth of it.
const MOST_MEETINGS: usize = 4_000_000;

/// Where the middle of a tool may go.
pub(crate) fn room(setup: &Setup) -> Bounds {
    let [left, below, right, above] = setup.room;
    Bounds {
        min: Point::new(-left, -below),
        max: Point::new(setup.size.0 + right, setup.size.1 + above),
    }
}

/// What of a program is swept on a machine.
#[derive(Debug, Clone)]
pub struct Swept {
    /// The motions that stay in the room of the machine; none where they meet too often.
    pub(crate) program: Program,
    /// The fault where they do.
    pub(crate) crowded: Option<Fault>,
}

/// What of a program is swept on a machine, for its verdict and its picture.
pub fn swept(program: &Program, setup: &Setup) -> Swept {
    let room = room(setup);
    let inside = |motion: &&Motion| room.contains_box(motion.way(), TOLERANCE);
    let motions: Vec<Motion> = program.motions.iter().filter(inside).copied().collect();
    let crowded = crowded(&motions, setup);
    Swept {
        program: Program {
            motions: if crowded.is_some() {
                Vec::new()
            } else {
                motions
            },
            unit_line: program.unit_line,
            faults: Vec::new(),
        },
        crowded,
    }
}

/// The box around what a motion passes over in wood; `None` where it does not go into wood with a tool.
pub(crate) fn boxed(motion: &Motion, number: usize, setup: &Setup) -> Option<Boxed> {
    let cutter = setup.cutter(motion.tool?)?;
    let around = reach(motion, cutter.diameter / 2.0);
    let corners = [around.min, around.max].map(|p| [p.x, p.y]);
    let rectangle = Rectangle::from_corners(corners[0], corners[1]);
    (motion.lowest() < 0.0).then(|| Boxed::new(rectangle, number))
}

fn crowded(motions: &[Motion], setup: &Setup) -> Option<Fault> {
    let mut known = HashSet::new();
    let boxes: Vec<Boxed> = motions
        .iter()
        .filter_map(|motion| {
            let cutter = setup.cutter(motion.tool?)?;
            let new = known.insert(track(motion, cutter.diameter / 2.0));
            boxed(motion, motion.line, setup).filter(|_| new)
        })
        .collect();
    let tree = RTree::bulk_load(boxes.clone());
    let mut left = MOST_MEETINGS;
    for own in boxes {
        let room = AABB::from_corners(own.geom().lower(), own.geom().upper());
        left -= tree
            .locate_in_envelope_intersecting(room)
            .take(left)
            .count();
        if left == 0 {
            let message = format!(
                "up to here ways pass over one another more than {MOST_MEETINGS} times, so the program cannot be followed; \
                 divide it"
            );
            return Some(Fault::new(own.data, FaultKind::Crowded, message));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use std::fmt::Write;

    use super::*;
    use crate::picture::left;
    use crate::read::read;
    use crate::setup::Cutter;
    use crate::verdict::simulate;

    const START: &str = "G21 G17 G90 G94\nT1 M6\nS9000 M3\nG0 Z10\nG0 X0 Y0\nG1 Z-1 F600\n";

    fn setup() -> Setup {
        Setup {
            size: (600.0, 400.0),
            thickness: 18.0,
            below: 0.5,
            room: [10.0; 4],
            cutters: vec![Cutter {
                number: 1,
                diameter: 6.0,
                pass: 3.0,
                reach: None,
                angle: None,
                plunges: true,
                sideways: true,
            }],
        }
    }

    /// The lines and kinds of what is wrong, and how long the picture is.
    fn judged(body: &str) -> (Vec<(usize, FaultKind)>, usize) {
        let program = read(&format!("{START}{body}M2\n"));
        let swept = swept(&program, &setup());
        let faults = simulate(&program, &swept, &setup(), None);
        let length = left(&swept, &setup()).svg().len();
        (faults.iter().map(|f| (f.line, f.kind)).collect(), length)
    }

    /// 2,100 ways across the same place meet 4.4 million times.
    #[test]
    fn ways_that_meet_too_often_are_refused() {
        let star = |count: usize| {
            (0..count).fold(String::new(), |mut text, n| {
                let along = n as f64 / 10.0;
                let (x, y) = if n % 2 == 0 {
                    (along, 0)
                } else {
                    (600.0 - along, 400)
                };
                let _ = writeln!(text, "X{x} Y{y}");
                text
            })
        };
        let (faults, length) = judged(&star(2_100));
        assert!(
            matches!(faults[..], [(line, FaultKind::Crowded)] if line > 1_900),
            "{faults:?}"
        );
        assert!(length < 500);
        let (faults, length) = judged(&star(60));
        assert_eq!(faults, []);
        assert!(length > 1_000);
    }

    /// Nothing of an arc of ten kilometres is swept: told once, and the picture is that of the sheet alone.
    #[test]
    fn what_is_beyond_the_machine_is_not_swept() {
        let (faults, length) = judged("G2 X0 Y0 I1000000 J-1000000\nG1 X5\n");
        assert_eq!(faults[0], (7, FaultKind::OutOfBounds));
        assert!(length < 4_000, "{length}");
    }
}
