//! What lies along the axis of a screw or bolt: its own part, and those behind it.

use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::plan::Part;

use crate::Scene;
use crate::assembled::Stretch;
use crate::driven::Driven;

/// How far beyond its tip the axis of a screw is followed, in millimetres.
pub(super) const AHEAD: f64 = 400.0;
/// Air between two parts that a screw pulls together, in millimetres: the play of a panel in its rebate.
pub(super) const PLAY: f64 = 1.0;

/// What of a screw is in the wood behind the part that it goes through.
pub(super) struct Passed {
    /// Where the first part ends, along the axis.
    pub(super) own: f64,
    /// Where the wood of the others begins and where it ends, without a gap, and the last of them.
    pub(super) beyond: Option<(Stretch, f64, usize)>,
}

/// Follows a screw through its own part and those that lie behind it.
pub(super) fn passed(scene: &Scene, solid: usize, driven: &Driven) -> Option<Passed> {
    let far = driven.length.value + AHEAD;
    let stretches = scene.assembled.stretches(driven.head, driven.at(far));
    let own = stretches.iter().find(|s| s.solid == solid)?.to;
    let mut behind = stretches
        .iter()
        .filter(|s| s.solid != solid && s.to > own + LENGTH_TOLERANCE);
    let first = behind.next().copied();
    let beyond = first.map(|first| {
        let (mut end, mut last) = (first.to, first.solid);
        for next in behind {
            if next.from > end + PLAY {
                break;
            }
            if next.to > end {
                (end, last) = (next.to, next.solid);
            }
        }
        (first, end, last)
    });
    Some(Passed { own, beyond })
}
/// The part of a solid.
pub(super) fn part_of<'a>(scene: &Scene<'a>, solid: usize) -> &'a Part {
    &scene.assembled.solids[solid].workpiece.part
}
