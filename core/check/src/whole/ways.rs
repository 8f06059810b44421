//! Parts that find no way in when their turn comes.

use std::collections::{BTreeMap, BTreeSet};

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::whole::{Box3, Direction};

use super::turns::turns;
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("way-in-blocked"),
    name: "a part that finds no way in when its turn comes",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "the box of each piece of the whole on its way along each of the six directions, against the boxes of those \
        that are there by then in the order of the work; what is built by itself, moves or is held by no joint is not \
        looked at",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
    explanation: "A rail behind a divider has to be there before the divider is. Where cuts that are open to an edge let a \
        part in all the same, accept it and say so.",
    example: "order: [side-left, side-right, divider, rail]   # and the rail lies between the divider and the back",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let (plan, assembled) = (scene.plan, &scene.assembled);
    let Some(whole) = assembled.bounds else {
        return;
    };
    let joined: BTreeSet<&str> = plan
        .joints
        .iter()
        .flat_map(|joint| [joint.part.as_str(), joint.to.as_str()])
        .collect();
    // The turn of each piece of the whole that is put together.
    let solids = assembled.solids.iter();
    let turn_of: Vec<Option<usize>> = solids
        .zip(turns(scene))
        .map(|(solid, turn)| {
            let part = &solid.workpiece.part;
            let counts =
                part.group.is_none() && part.motion.is_none() && joined.contains(part.id.as_str());
            turn.filter(|_| counts)
        })
        .collect();
    let mut pieces: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (solid, turn) in turn_of.iter().enumerate() {
        if let Some(turn) = turn {
            pieces.entry(*turn).or_default().push(solid);
        }
    }
    for (turn, own) in &pieces {
        let in_the_way = |way: Direction| {
            own.iter().find_map(|solid| {
                let bounds = assembled.solids[*solid].bounds;
                let near = assembled.near(to_the_end(bounds, whole, way)).into_iter();
                near.filter(|other| turn_of[*other].is_some_and(|other| other < *turn))
                    .find(|other| bounds.runs_into(assembled.solids[*other].bounds, way))
            })
        };
        let all: Option<Vec<usize>> = Direction::ALL.into_iter().map(in_the_way).collect();
        if let Some(all) = all {
            add(scene, report, own[0], &all);
        }
    }
}

/// A box drawn out to the end of the whole along a way.
fn to_the_end(mut bounds: Box3, whole: Box3, way: Direction) -> Box3 {
    let axis = way.axis();
    if way.sign() > 0.0 {
        bounds.max[axis] = whole.max[axis];
    } else {
        bounds.min[axis] = whole.min[axis];
    }
    bounds
}

fn add(scene: &Scene, report: &mut Report, own: usize, in_the_way: &[usize]) {
    let part_of = |solid: usize| &scene.assembled.solids[solid].workpiece.part;
    let part = part_of(own);
    let mut names: Vec<String> = Vec::new();
    for other in in_the_way {
        let name = format!("`{}`", part_of(*other).id);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let finding = report
        .finding(
            part.span,
            format!(
                "`{}` finds no way in: {} are there by then",
                part.id,
                names.join(", ")
            ),
        )
        .fix(format!("let `{}` come earlier in `order`", part.id));
    report.add(&[Owner::Part(part)], finding);
}
