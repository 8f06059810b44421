//! Two joints that make features of the same name on one part: both are made.

use jigless_core::compile;
use jigless_core::load::NoIncludes;
use jigless_core::operation::Work;

/// The right side is turned about its upright axis, so that its screws come from another face than those of the left one and
/// the two have nothing in common but the name.
const PLAN: &str = "
jigless: 1
title: A shelf between two sides
units: mm
stock: {board: {thickness: 18, kind: plywood}}
parts:
  side-left:
    stock: board
    width: 300
    height: 400
    place: {at: [0, 0, 0], width: back, height: up}
    mirror_as: side-right
    mirror_place: {at: [282, 0, 0], width: back, height: up}
  shelf: {stock: board, width: 264, height: 300, place: {at: [18, 200, 0], width: right, height: back}}
joints:
  - butt: {part: shelf, to: side-left}
  - butt: {part: shelf, to: side-right}
";

#[test]
fn each_side_has_its_screws() {
    let compiled = compile("plan.yaml", PLAN.as_bytes(), &NoIncludes);
    let (_, workpieces) = compiled.result.expect("the plan has no errors");
    let drilled = |id: &str| {
        let of_part = workpieces.iter().find(|workpiece| workpiece.part.id == id);
        let operations = &of_part.expect(id).operations;
        let drills = operations
            .iter()
            .filter(|operation| matches!(operation.work, Work::Drill(_)));
        drills.count()
    };
    assert_eq!((drilled("side-left"), drilled("side-right")), (3, 3));
}
