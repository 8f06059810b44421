//! The order of work of every sound plan: nothing is forgotten, nothing is done twice, and what is bought is used.

use std::collections::BTreeMap;

use jigless_core::compile;
use jigless_core::hardware::count;
use jigless_core::load::NoIncludes;
use jigless_core::plan::Plan;
use jigless_core::steps::{OrderOfWork, Phase, WorkStep, in_words, order_of_work};
use jigless_core::workpiece::Workpiece;
use jigless_tests::fixtures::sound_plans;
use jigless_tests::plans::compiled;

fn for_each_plan(mut look: impl FnMut(&str, &Plan, &[Workpiece], &OrderOfWork)) {
    let plans = sound_plans();
    assert!(plans.len() > 10);
    for name in plans {
        let (plan, workpieces) = compiled(&name);
        look(
            &name,
            &plan,
            &workpieces,
            &order_of_work(&plan, &workpieces),
        );
    }
}

fn pieces(steps: &[&WorkStep]) -> BTreeMap<String, u32> {
    let mut counts = BTreeMap::new();
    for step in steps {
        for pieces in &step.pieces {
            *counts.entry(pieces.part.clone()).or_default() += pieces.count * step.times;
        }
    }
    counts
}

#[test]
fn every_piece_is_cut_once() {
    for_each_plan(|name, plan, _, order| {
        let cuts: Vec<&WorkStep> = order
            .steps
            .iter()
            .filter(|step| step.phase == Phase::Cut)
            .collect();
        let wanted: BTreeMap<String, u32> = plan
            .parts
            .iter()
            .map(|part| (part.id.clone(), part.count))
            .collect();
        assert_eq!(pieces(&cuts), wanted, "{name}");
    });
}

#[test]
fn every_piece_that_is_joined_is_put_together_once() {
    for_each_plan(|name, plan, _, order| {
        let built = |step: &&WorkStep| matches!(step.phase, Phase::Build | Phase::Assemble);
        let steps: Vec<&WorkStep> = order.steps.iter().filter(built).collect();
        let joined = plan.parts.iter().filter(|part| {
            let swings = part
                .motion
                .is_some_and(|motion| motion.swings_about().is_some());
            !swings
                && plan
                    .joints
                    .iter()
                    .any(|joint| joint.part == part.id || joint.to == part.id)
        });
        let wanted: BTreeMap<String, u32> =
            joined.map(|part| (part.id.clone(), part.count)).collect();
        assert_eq!(pieces(&steps), wanted, "{name}");
        // Nothing is made without an act.
        for step in &order.steps {
            assert!(!step.acts.is_empty(), "{name}: {}", step.title);
        }
    });
}

/// What the list of hardware counts is what the steps take, to the last screw.
#[test]
fn the_steps_take_what_the_list_of_hardware_counts() {
    for_each_plan(|name, _, workpieces, order| {
        let key = |what: &str, gauge: Option<&String>, length: Option<f64>| {
            let length = length.map_or_else(String::new, |length| format!("{length:.3}"));
            format!("{what} {} {length}", gauge.map_or("", String::as_str))
        };
        let mut taken: BTreeMap<String, u32> = BTreeMap::new();
        for step in &order.steps {
            for fixing in &step.fixings {
                let key = key(fixing.what.name(), fixing.gauge.as_ref(), fixing.length);
                *taken.entry(key).or_default() += fixing.count * step.times;
            }
        }
        let lines = count(workpieces);
        let wanted = lines.iter().map(|line| {
            let fitting = &line.fitting;
            (
                key(fitting.kind.name(), fitting.gauge.as_ref(), fitting.length),
                fitting.count,
            )
        });
        assert_eq!(taken, wanted.collect::<BTreeMap<_, _>>(), "{name}");
    });
}

#[test]
fn a_step_is_numbered_named_and_said_in_lines_that_a_page_holds() {
    for_each_plan(|name, plan, _, order| {
        for (number, step) in order.steps.iter().enumerate() {
            assert_eq!(step.number, number + 1, "{name}");
            assert!(!step.title.is_empty(), "{name}");
        }
        let text = in_words(order, plan.units);
        for line in text.lines() {
            assert!(line.chars().count() <= 100, "{name}: {line}");
        }
        let words: Vec<&str> = text.split_whitespace().collect();
        let words = words.join(" ");
        for step in &order.steps {
            let title: Vec<&str> = step.title.split_whitespace().collect();
            let said = format!(" {}. {}", step.number, title.join(" "));
            assert!(words.contains(&said), "{name}:{said}");
        }
    });
}

/// A divider that stands on dowels between two boards cannot be pushed in once both are fixed.
#[test]
fn a_part_on_dowels_between_two_boards_comes_before_the_second_of_them() {
    let plan = "
jigless: 1
title: Box
units: mm
stock: {ply: {thickness: 18, kind: plywood}}
parts:
  left: {stock: ply, width: 300, height: 400, place: {at: [0, 0, 0], width: back, height: up}}
  right: {stock: ply, width: 300, height: 400, place: {at: [582, 0, 0], width: back, height: up}}
  bottom: {stock: ply, width: 564, height: 300, place: {at: [18, 0, 0], width: right, height: back}}
  top: {stock: ply, width: 564, height: 300, place: {at: [18, 382, 0], width: right, height: back}}
  divider: {stock: ply, width: 300, height: 364, place: {at: [291, 18, 0], width: back, height: up}}
joints:
  - butt: {part: bottom, to: left}
  - butt: {part: bottom, to: right}
  - butt: {part: top, to: left}
  - butt: {part: top, to: right}
  - butt: {part: divider, to: bottom, with: dowels}
  - butt: {part: divider, to: top, with: dowels}
";
    let compiled = compile("plan.yaml", plan.as_bytes(), &NoIncludes);
    let (plan, _) = compiled.result.expect("the plan has no errors");
    let at = |id: &str| plan.order.iter().position(|step| step.part == id);
    assert!(
        at("divider") < at("bottom").max(at("top")),
        "{:?}",
        plan.order
    );
}
