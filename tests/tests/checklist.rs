//! Whether what is put together is square: what the checklist asks for, against arithmetic by hand.

use jigless_core::load::NoIncludes;
use jigless_core::steps::{Measured, SeenFrom, rectangles};

/// A carcass 800 by 900 of 18 mm with a shelf, and a panel that is let into the opening above it with 3 mm to spare.
const PLAN: &str = "
jigless: 1
title: A rack
units: mm
stock:
  ply: {thickness: 18, kind: plywood}
parts:
  left: {stock: ply, width: 300, height: 900, place: {at: [0, 0, 0], width: back, height: up}}
  right: {stock: ply, width: 300, height: 900, place: {at: [782, 0, 0], width: back, height: up}}
  bottom: {stock: ply, width: 764, height: 300, place: {at: [18, 0, 0], height: back}}
  shelf: {stock: ply, width: 764, height: 300, place: {at: [18, 400, 0], height: back}}
  top: {stock: ply, width: 764, height: 300, place: {at: [18, 882, 0], height: back}}
  panel: {stock: ply, width: 761, height: 400, loose: yes, place: {at: [19.5, 418, 100]}}
joints:
  - butt: {part: bottom, to: left, with: dowels}
  - butt: {part: bottom, to: right, with: dowels}
  - butt: {part: shelf, to: left, with: dowels}
  - butt: {part: shelf, to: right, with: dowels}
  - butt: {part: top, to: left, with: dowels}
  - butt: {part: top, to: right, with: dowels}
";

#[test]
fn sizes_diagonals_and_what_they_may_differ_by() {
    let compiled = jigless_core::compile("plan.yaml", PLAN.as_bytes(), &NoIncludes);
    let (plan, workpieces) = compiled.result.expect("a plan");
    let all = rectangles(&plan, &workpieces, &jigless_words::ENGLISH);
    let front: Vec<_> = all
        .iter()
        .filter(|r| r.seen_from == SeenFrom::Front)
        .collect();
    assert_eq!(front.len(), 3, "{front:#?}");
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-6, "{a} {b}");

    // Outside: 800 by 900, so a diagonal of 1204.159...
    let outside = front
        .iter()
        .find(|r| r.measured == Measured::Outside)
        .unwrap();
    near(outside.width, 800.0);
    near(outside.height, 900.0);
    near(outside.diagonal, (800.0_f64 * 800.0 + 900.0 * 900.0).sqrt());

    // The lower opening, 764 by 382, with nothing in it: 1 mm for each metre of its diagonal.
    let lower = front
        .iter()
        .find(|r| (r.height - 382.0).abs() < 1e-6)
        .unwrap();
    near(lower.width, 764.0);
    near(lower.most, lower.diagonal / 1000.0);

    // The upper one, 764 by 464: the panel has 3 mm to spare over 400 of its height, so the sides may lean by 3/400. Then
    // a diagonal is (764 + 464 * 3/400)^2 + 464^2 long, the other (764 - 464 * 3/400)^2 + 464^2, squared: they differ by
    // 5.95 mm, which is more than 1 mm for each metre, and so that is asked for.
    let upper = front
        .iter()
        .find(|r| (r.height - 464.0).abs() < 1e-6)
        .unwrap();
    let lean = 464.0 * 3.0 / 400.0;
    let longer = (764.0_f64 + lean).hypot(464.0);
    let shorter = (764.0_f64 - lean).hypot(464.0);
    assert!(
        (longer - shorter - 5.95).abs() < 0.01,
        "{}",
        longer - shorter
    );
    near(upper.most, upper.diagonal / 1000.0);
    assert!(
        upper.because.contains("and bears 5.95 mm"),
        "{}",
        upper.because
    );

    // With 0.3 mm to spare it decides: a tenth of that.
    let tight = PLAN
        .replace("width: 761", "width: 763.7")
        .replace("19.5, 418", "18.15, 418");
    let compiled = jigless_core::compile("plan.yaml", tight.as_bytes(), &NoIncludes);
    let (plan, workpieces) = compiled.result.expect("a plan");
    let all = rectangles(&plan, &workpieces, &jigless_words::ENGLISH);
    let upper = all
        .iter()
        .find(|r| r.seen_from == SeenFrom::Front && (r.height - 464.0).abs() < 1e-6)
        .unwrap();
    let lean = 464.0 * 0.3 / 400.0;
    let exact = (764.0_f64 + lean).hypot(464.0) - (764.0_f64 - lean).hypot(464.0);
    assert!((upper.most - exact).abs() < 1e-3, "{} {exact}", upper.most);
    assert!(
        upper.because.contains("panel goes in with 0.3 mm of play"),
        "{}",
        upper.because
    );
    // And the whole leans no further than that opening bears.
    let outside = all
        .iter()
        .find(|r| r.seen_from == SeenFrom::Front && r.measured == Measured::Outside)
        .unwrap();
    let lean = 900.0 * 0.3 / 400.0;
    let exact = (800.0_f64 + lean).hypot(900.0) - (800.0_f64 - lean).hypot(900.0);
    assert!(
        (outside.most - exact).abs() < 2e-3,
        "{} {exact}",
        outside.most
    );
}
