//! How much is sanded and finished: the sides of every piece, less what joints cover.

use std::collections::BTreeMap;

use jigless_model::finish::{FinishUse, PartSide};
use jigless_model::operation::Work;
use jigless_model::plan::Plan;
use jigless_model::whole::Triple;
use jigless_model::workpiece::Workpiece;

use crate::contact::Covered;
use crate::mesh::Mesh;
use crate::piece::pieces;
use crate::solid::solid;

/// What each entry of `finish:` comes to on some parts, in the order of the plan; those that nothing gets are left out.
///
/// A side of a part is all of its surface that looks that way more than another: the floor of a groove is of the face that
/// it is cut in, its walls are of the edges. Drilled holes are taken for whole wood. What a joint covers of both of its
/// parts is taken off where they have places.
pub fn finishing(plan: &Plan, workpieces: &[Workpiece]) -> Vec<FinishUse> {
    if plan.finish.is_empty() {
        return Vec::new();
    }
    let whole: Vec<Workpiece> = workpieces.iter().map(without_holes).collect();
    let covered = covered_sides(plan, &whole);
    let mut uses: Vec<FinishUse> = (0..plan.finish.len())
        .map(|entry| FinishUse {
            entry,
            parts: Vec::new(),
            covered: 0.0,
            unplaced: Vec::new(),
        })
        .collect();
    for workpiece in &whole {
        let part = &workpiece.part;
        let mesh = solid(workpiece).mesh;
        let none = BTreeMap::new();
        let hidden = covered.get(part.id.as_str()).unwrap_or(&none);
        let joined = plan
            .joints
            .iter()
            .any(|joint| joint.part == part.id || joint.to == part.id);
        for side in PartSide::ALL {
            let Some(entry) = plan.finish_of(&part.id, side) else {
                continue;
            };
            let facets = mesh
                .facets
                .iter()
                .filter(|facet| side_of(facet.normal) == side);
            let one: f64 = facets.map(|facet| mesh.area(facet)).sum();
            let hidden = hidden.get(&side).copied().unwrap_or(0.0);
            let area = (one * f64::from(part.count) - hidden).max(0.0);
            let used = &mut uses[entry];
            used.covered += hidden;
            match used.parts.iter_mut().find(|(id, ..)| *id == part.id) {
                Some((.., sum)) => *sum += area,
                None => used.parts.push((part.id.clone(), part.count, area)),
            }
            if joined && part.places.is_empty() && !used.unplaced.contains(&part.id) {
                used.unplaced.push(part.id.clone());
            }
        }
    }
    uses.retain(|used| !used.parts.is_empty());
    uses
}

/// What joints cover of all pieces of each part, by side, in square millimetres.
fn covered_sides(
    plan: &Plan,
    workpieces: &[Workpiece],
) -> BTreeMap<String, BTreeMap<PartSide, f64>> {
    let pieces = pieces(plan, workpieces);
    let meshes: Vec<Mesh> = pieces.iter().map(crate::piece::Piece::placed).collect();
    let mut covered: Vec<Covered> = meshes.iter().map(Covered::none_of).collect();
    let numbers: BTreeMap<(&str, usize), usize> = pieces
        .iter()
        .enumerate()
        .map(|(number, piece)| ((piece.id.as_str(), piece.number), number))
        .collect();
    for joint in &plan.joints {
        for meeting in &joint.meetings {
            let one = numbers.get(&(joint.part.as_str(), meeting.part_piece));
            let other = numbers.get(&(joint.to.as_str(), meeting.to_piece));
            if let (Some(&one), Some(&other)) = (one, other) {
                covered[one].add(&meshes[one], &meshes[other]);
                covered[other].add(&meshes[other], &meshes[one]);
            }
        }
    }
    let mut sides: BTreeMap<String, BTreeMap<PartSide, f64>> = BTreeMap::new();
    for (piece, covered) in pieces.iter().zip(&covered) {
        let own = sides.entry(piece.id.clone()).or_default();
        for (number, facet) in piece.solid.mesh.facets.iter().enumerate() {
            *own.entry(side_of(facet.normal)).or_default() += covered.area(number);
        }
    }
    sides
}

/// The side of a part that a surface belongs to; z points out of the front face.
fn side_of(normal: Triple) -> PartSide {
    let [x, y, z] = normal;
    let most = x.abs().max(y.abs()).max(z.abs()) - 1e-9;
    if z.abs() >= most {
        if z > 0.0 {
            PartSide::Front
        } else {
            PartSide::Back
        }
    } else if x.abs() >= most {
        if x > 0.0 {
            PartSide::Right
        } else {
            PartSide::Left
        }
    } else if y > 0.0 {
        PartSide::Top
    } else {
        PartSide::Bottom
    }
}

/// A part as if nothing were drilled into it.
fn without_holes(workpiece: &Workpiece) -> Workpiece {
    let mut whole = workpiece.clone();
    whole.operations.retain(|operation| {
        !matches!(
            operation.work,
            Work::Drill(_) | Work::EdgeDrill(_) | Work::AngledBore(_)
        )
    });
    whole
}
