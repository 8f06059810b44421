//! The glaze cabinet as worked out by hand from the values at the top of its plan, for every test that measures it.
//!
//! All lengths in millimetres, x from the left edge and y from the bottom edge of a part as seen on its front.

/// Parts with their width and height.
pub const PARTS: [(&str, f64, f64); 20] = [
    ("side-left", 400.0, 900.0),
    ("side-right", 400.0, 900.0),
    // 800 - 2 x (17.7 - 8)
    ("top", 780.6, 400.0),
    // 800 - 2 x 17.7 by 400 - (6 + 0.2)
    ("bottom", 764.6, 393.8),
    // 764.6 + 2 x 6 - 0.6
    ("deck", 776.0, 393.8),
    // 393.8 - 17.7 by 900 - 17.7 - 745.85
    ("divider", 376.1, 136.45),
    ("rail", 764.6, 100.0),
    ("kick-board", 764.6, 80.0),
    // 780.6 - 1 by 900 - 9.7 - 80 - 0.5
    ("back", 779.6, 809.8),
    // 764.6 - 2 by 393.8 - 15
    ("shelf", 762.6, 378.8),
    // (800 - 3 x 2) / 2 by 900 - 80 - 160 - 3 x 2
    ("door-left", 397.0, 654.0),
    ("door-right", 397.0, 654.0),
    ("drawer-front", 397.0, 160.0),
    // 350 by floor((136.45 - 20) / 10) x 10
    ("drawer-side-left", 350.0, 110.0),
    ("drawer-side-right", 350.0, 110.0),
    // (764.6 - 17.7) / 2 - 25.4 = 348.05; 348.05 - 2 x 11.8 + 2 x 6
    ("drawer-end", 336.45, 110.0),
    // 348.05 - 23.6 + 11 - 1 by 350 - 23.6 + 11 - 1
    ("drawer-bottom", 334.45, 336.4),
    // 326.4 - 4
    ("tray-long", 322.4, 70.0),
    ("tray-grip", 322.4, 105.0),
    // 324.45 - 4
    ("tray-cross", 320.45, 70.0),
];

/// Holes of 5 mm for the hinge plates of the left side: 16 above and below each hinge, which is 88.9 from the end of a
/// door that begins at 82 and is 654 high.
pub const SIDE_PLATES: [(f64, f64); 4] =
    [(37.0, 154.9), (37.0, 186.9), (37.0, 631.1), (37.0, 663.1)];

/// Holes of 2.5 mm for a runner on the left side: 2 behind the front edge, 12 + 110/2 above the deck at 745.85.
pub const SIDE_RUNNER: [(f64, f64); 3] = [(39.0, 812.85), (167.0, 812.85), (295.0, 812.85)];

/// Holes of 4.5 mm through the left side into the top, in the middle of its thickness.
pub const SIDE_SCREWS: [(f64, f64); 3] = [(60.0, 891.15), (200.0, 891.15), (340.0, 891.15)];

/// Holes of 5 mm for shelf pins on the left side: 37 from the front edge and 6.2 + 37 from the back one, from
/// 80 + 17.7 + 150 upward every 32.
pub fn side_pins() -> Vec<(f64, f64)> {
    let steps = (0..12).map(|step| 247.7 + 32.0 * f64::from(step));
    steps.flat_map(|y| [(37.0, y), (356.8, y)]).collect()
}

/// Distance of the cups' centres from the left edge of the left door, its hinge edge: 5 + 17.5 (common practice, no
/// source).
pub const CUP_X: f64 = 22.5;

/// Cups of 35 mm in the back of the left door, 88.9 from its ends (3 1/2 in; common practice, no source).
pub const CUPS: [(f64, f64); 2] = [(CUP_X, 88.9), (CUP_X, 565.1)];

/// Holes of 2.5 mm for the screws of the cups, 9.5 behind the cups' centres and 45 apart.
pub const CUP_SCREWS: [(f64, f64); 4] = [
    (CUP_X + 9.5, 66.4),
    (CUP_X + 9.5, 111.4),
    (CUP_X + 9.5, 542.6),
    (CUP_X + 9.5, 587.6),
];

/// A place on a face of a part as seen on the other face.
pub fn from_behind(width: f64, places: &[(f64, f64)]) -> Vec<(f64, f64)> {
    places.iter().map(|(x, y)| (width - x, *y)).collect()
}
