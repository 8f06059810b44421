//! What a program does to a sheet, held against what is to be left of it.

use jigless_model::geom::Path;
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};

use crate::area::reach;
use crate::fault::{Fault, FaultKind};
use crate::gone::gone_at;
use crate::program::{Motion, Program};
use crate::setup::{Setup, TOLERANCE};
use crate::shape::{Polygon, area, bounds, common, pieces, polygons, union, without};
use crate::sweep::passed_at;
use crate::swept::{Swept, room};
use crate::target::{Layer, Ring, Target};
use crate::{cone, entry};

/// Wood that counts for nothing, in square millimetres: what rounding to the grid leaves.
const SPECK: f64 = 1e-4;

/// The most faults that are reported of one layer.
const MOST_OF_A_LAYER: usize = 20;

/// What is wrong with a program that is run on a machine, which sweeps what [`swept`](crate::swept()) of it: with a target, also what it takes of parts and what it leaves.
/// In the order of the lines.
pub fn simulate(
    program: &Program,
    swept: &Swept,
    setup: &Setup,
    target: Option<&Target>,
) -> Vec<Fault> {
    let mut faults = program.faults.clone();
    limits(program, setup, &mut faults);
    if let Some(fault) = &swept.crowded {
        faults.push(fault.clone());
        return in_order(faults);
    }
    let program = &swept.program;
    entry::check(program, setup, &mut faults);
    if let Some(target) = target {
        cone::check(program, setup, target, &mut faults);
        layers(program, setup, target, &mut faults);
    }
    in_order(faults)
}

/// By line, one of each kind.
fn in_order(mut faults: Vec<Fault>) -> Vec<Fault> {
    faults.sort_by(|a, b| a.line.cmp(&b.line).then(a.kind.cmp(&b.kind)));
    faults.dedup_by(|a, b| a.line == b.line && a.kind == b.kind);
    faults
}

/// Beyond the bed, or deeper than the sheet and what may be cut below it.
fn limits(program: &Program, setup: &Setup, faults: &mut Vec<Fault>) {
    let room = room(setup);
    let deepest = setup.thickness + setup.below;
    for motion in &program.motions {
        let unit = match program.unit_line {
            0 => "no unit is set".to_owned(),
            line => format!("unit set in line {line}"),
        };
        if !room.contains_box(motion.way(), TOLERANCE) {
            let message = format!(
                "the tool goes to {:.1}, {:.1}, beyond the room of the machine ({unit})",
                motion.to.x, motion.to.y
            );
            faults.push(Fault::new(motion.line, FaultKind::OutOfBounds, message));
            return;
        }
        if -motion.lowest() > deepest + TOLERANCE {
            let message = format!(
                "{:.2} mm deep, and nothing may be deeper than {deepest:.2} ({unit})",
                -motion.lowest()
            );
            faults.push(Fault::new(motion.line, FaultKind::OutOfBounds, message));
        }
    }
}

/// Closed paths moved by a distance, outward where it is positive.
fn moved(paths: &[Path], by: f64) -> Vec<Polygon> {
    let moved: Vec<Path> = paths
        .iter()
        .flat_map(|path| path.normalised(true).parallels(by))
        .collect();
    union(&polygons(&moved))
}

fn layers(program: &Program, setup: &Setup, target: &Target, faults: &mut Vec<Fault>) {
    // At its top a layer is touched if anything is too deep, at its bottom it is whole unless all that had to go is gone.
    let mut depths: Vec<f64> = target
        .layers
        .iter()
        .flat_map(|layer| [layer.from + TOLERANCE, layer.to - TOLERANCE])
        .collect();
    depths.sort_by(|a, b| b.total_cmp(a));
    let gone = gone_at(&program.motions, setup, &depths);
    let at = |depth: f64| -> &[Polygon] {
        let place = depths
            .iter()
            .position(|other| other.to_bits() == depth.to_bits());
        place.map_or(&[], |place| &gone[place])
    };
    // Depths that differ by less are one to the machine.
    let is_told_apart = |layer: &&Layer| layer.to - layer.from >= 3.0 * TOLERANCE;
    let of_layer = |layer: &Layer| {
        let mut own = Vec::new();
        damage(program, setup, layer, at(layer.from + TOLERANCE), &mut own);
        rest(program, setup, layer, at(layer.to - TOLERANCE), &mut own);
        own
    };
    let found: Vec<Vec<Fault>> = target
        .layers
        .par_iter()
        .filter(is_told_apart)
        .map(of_layer)
        .collect();
    faults.extend(found.into_iter().flatten());
}

/// What was taken of parts in a layer.
fn damage(
    program: &Program,
    setup: &Setup,
    layer: &Layer,
    gone: &[Polygon],
    faults: &mut Vec<Fault>,
) {
    let mut free = moved(&layer.voids, TOLERANCE);
    free.extend(moved(&layer.spare, TOLERANCE));
    let keep = without(&moved(&layer.parts, -TOLERANCE), &union(&free));
    let taken = common(gone, &keep);
    for piece in pieces(taken).into_iter().take(MOST_OF_A_LAYER) {
        if area(&piece) < SPECK {
            continue;
        }
        let depth = layer.from + TOLERANCE;
        let by = |motion: &&Motion| touches(motion, setup, depth, &piece);
        let Some(first) = program.motions.iter().find(by) else {
            continue;
        };
        let message = format!(
            "takes {:.3} mm2 of a part{} more than {:.2} mm below the face (tool called in line {}{})",
            area(&piece),
            place(&piece),
            layer.from,
            first.tool_line,
            unit(program)
        );
        faults.push(Fault::new(first.line, FaultKind::PartDamaged, message));
    }
}

/// What was left of what had to go in a layer.
fn rest(
    program: &Program,
    setup: &Setup,
    layer: &Layer,
    gone: &[Polygon],
    faults: &mut Vec<Fault>,
) {
    let mut wanted = moved(&layer.clear, -TOLERANCE);
    let tabs = moved(&layer.tabs, TOLERANCE);
    let spare = moved(&layer.spare, TOLERANCE);
    let mut rings = Vec::new();
    for Ring { outer, inner } in &layer.rings {
        let outer = moved(std::slice::from_ref(outer), -TOLERANCE);
        let inner = moved(std::slice::from_ref(inner), TOLERANCE);
        rings.extend(without(&outer, &inner));
    }
    wanted.extend(without(&union(&rings), &tabs));
    let left = without(&without(&union(&wanted), gone), &spare);
    for piece in pieces(left).into_iter().take(MOST_OF_A_LAYER) {
        if area(&piece) < SPECK {
            continue;
        }
        // Whoever passed over it did not go deep enough; if nobody did, whoever came nearest.
        let over = program.motions.iter().filter(|motion| !motion.rapid);
        let deepest = over
            .filter(|motion| touches(motion, setup, 1e-6, &piece))
            .min_by(|a, b| a.lowest().total_cmp(&b.lowest()));
        let blamed = deepest.or_else(|| nearest(program, &piece));
        let message = format!(
            "leaves {:.3} mm2 of wood{} that had to go down to {:.2} mm (tool called in line {}{})",
            area(&piece),
            place(&piece),
            layer.to,
            blamed.map_or(0, |motion| motion.tool_line),
            unit(program)
        );
        let line = blamed.map_or(1, |motion| motion.line);
        faults.push(Fault::new(line, FaultKind::WoodLeft, message));
    }
}

fn unit(program: &Program) -> String {
    match program.unit_line {
        0 => String::new(),
        line => format!(", unit set in line {line}"),
    }
}

/// Whether a motion passes over a piece at a depth.
fn touches(motion: &Motion, setup: &Setup, depth: f64, piece: &[Polygon]) -> bool {
    let Some(cutter) = motion.tool.and_then(|tool| setup.cutter(tool)) else {
        return false;
    };
    if -motion.lowest() < depth {
        return false;
    }
    let near = bounds(piece).is_some_and(|b| b.overlaps(reach(motion, cutter.diameter / 2.0), 0.0));
    if !near {
        return false;
    }
    let mut own = Vec::new();
    passed_at(motion, cutter, depth, &mut own);
    area(&common(&union(&own), piece)) > SPECK / 10.0
}

/// The cut that comes nearest to a piece.
fn nearest<'a>(program: &'a Program, piece: &[Polygon]) -> Option<&'a Motion> {
    let middle = bounds(piece)?.centre();
    let cuts = program
        .motions
        .iter()
        .filter(|motion| !motion.rapid && motion.lowest() < 0.0);
    cuts.min_by(|a, b| {
        let far = |motion: &Motion| {
            let half = motion.at(0.5).distance(middle);
            half.min(motion.from.distance(middle))
                .min(motion.to.distance(middle))
        };
        far(a).total_cmp(&far(b))
    })
}

/// Where a piece is.
fn place(piece: &[Polygon]) -> String {
    bounds(piece).map_or_else(String::new, |b| {
        let at = b.centre();
        format!(" about {:.1}, {:.1}", at.x, at.y)
    })
}
