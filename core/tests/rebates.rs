//! A rebate joint finds the edge that its part lies along, also where the part keeps a hair away from it.

use jigless_core::load::NoIncludes;
use jigless_core::operation::Work;
use jigless_core::side::Edge;

/// The edges at which the rebate of the side is open, and how wide it is, for a back that is so far from the back edge.
fn rebate(off: f64) -> (Vec<Edge>, f64) {
    let plan = format!(
        "jigless: 1\ntitle: A back\nunits: mm\nstock:\n  board: {{thickness: 18, kind: plywood}}\n  thin: {{thickness: 6, kind: plywood}}\nparts:\n  side: {{stock: board, width: 300, height: 500, place: {{at: [0, 0, 0], width: back, height: up}}}}\n  back: {{stock: thin, width: 400, height: 500, place: {{at: [10, 0, {off}]}}}}\njoints:\n  - rebate: {{part: back, to: side, depth: 8}}\n"
    );
    let compiled = jigless_core::compile("plan.yaml", plan.as_bytes(), &NoIncludes);
    let messages: Vec<&str> = compiled
        .findings
        .iter()
        .map(|f| f.message.as_str())
        .collect();
    assert!(messages.is_empty(), "{messages:#?}");
    let (_, workpieces) = compiled.result.expect("a plan");
    let area = workpieces[0]
        .operations
        .iter()
        .find_map(|operation| match &operation.work {
            Work::MillArea(area) => Some(area),
            _ => None,
        });
    let area = area.expect("a rebate");
    let bounds = area.outline.bounds().expect("an outline");
    (area.open.clone(), bounds.width())
}

#[test]
fn a_rebate_is_cut_along_the_edge_that_its_part_lies_along() {
    for off in [0.0, 0.05, 0.4] {
        let (open, width) = rebate(off);
        assert!(open.contains(&Edge::Right), "{off}: {open:?}");
        // From the edge to the front of the back.
        assert!((width - 6.0 - off).abs() < 1e-9, "{off}: {width}");
    }
}
