//! Parts on sheets, with sheets counted by hand.

use jigless_core::arrange::{Arrangement, Effort, Settings, arrange};
use jigless_core::load::NoIncludes;

/// Parts on sheets of 100 by 100 with their grain upward, nothing between them.
fn arranged(parts: &[(f64, f64)]) -> Arrangement {
    let head = "jigless: 1\ntitle: Tray\nunits: mm\nstock:\n  ply: {thickness: 6, sheets: [{width: 100, height: 100, \
        count: 1}]}\nparts:\n";
    let parts = parts.iter().enumerate().map(|(number, (width, height))| {
        format!("  p{number}: {{stock: ply, width: {width}, height: {height}, grain: height}}\n")
    });
    let plan: String = std::iter::once(head.to_owned()).chain(parts).collect();
    let compiled = jigless_core::compile("plan.yaml", plan.as_bytes(), &NoIncludes);
    let (_, workpieces) = compiled
        .result
        .unwrap_or_else(|| panic!("{:?}", compiled.findings));
    let settings = Settings {
        bed: None,
        spacing: 0.0,
        margin: 0.0,
        boxes_only: true,
        effort: Effort::Good,
        saw: None,
    };
    arrange(&workpieces, &settings)
}

/// 60 by 50 and 50 by 50 stand one above the other on the left, 40 by 80 beside them, and the strip of 50 by 10 in what is
/// left. Begun with the longest, the 40 takes the corner, and the 50 no longer finds its place.
#[test]
fn another_order_saves_a_sheet() {
    let arranged = arranged(&[(50.0, 50.0), (40.0, 80.0), (60.0, 50.0), (50.0, 10.0)]);
    assert_eq!(arranged.sheets.len(), 1);
    assert_eq!(arranged.sheets[0].placed.len(), 4);
}
