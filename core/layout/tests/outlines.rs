//! Whatever outlines are laid out, they lie on their sheets and keep their distance, in openings too.

use jigless_layout::{Filled, Piece, arrange_pieces};
use jigless_model::geom::{Bounds, Path, Point, Segment, circle};
use jigless_model::plan::StockSheet;
use jigless_model::sheets::{Effort, Settings};
use proptest::prelude::*;

/// What distances may lack, in millimetres.
const NOISE: f64 = 0.002;

fn settings(spacing: f64) -> Settings {
    Settings {
        bed: None,
        spacing,
        margin: 5.0,
        boxes_only: false,
        effort: Effort::Quick,
        saw: None,
    }
}

fn sheet(width: f64, height: f64) -> StockSheet {
    StockSheet {
        width,
        height,
        count: 0,
        price: None,
    }
}

fn path(points: &[(f64, f64)]) -> Path {
    Path::of_points(points.iter().map(|&(x, y)| Point::new(x, y)), true)
}

fn pieces(shapes: &[(Path, Vec<Path>)], each: usize) -> Vec<Piece<'_>> {
    let kinds = shapes.iter().enumerate();
    kinds
        .flat_map(|(kind, (outline, openings))| {
            (0..each).map(move |_| Piece {
                outline,
                openings,
                area: outline.area(),
                turns: &[0, 1, 2, 3],
                kind,
                group: None,
            })
        })
        .collect()
}

/// Contours of a piece where it lies, the outline first.
fn contours(piece: &Piece, quarters: u8, at: Point) -> Vec<Path> {
    let all = std::iter::once(piece.outline).chain(piece.openings);
    all.map(|path| path.turned(quarters).moved(at)).collect()
}

/// Whether a point is in the material.
fn holds(contours: &[Path], point: Point) -> bool {
    contours[0].contains(point) && !contours[1..].iter().any(|opening| opening.contains(point))
}

/// The least distance of the borders of two pieces.
fn distance(a: &[Path], b: &[Path]) -> f64 {
    let sides = |contours: &[Path]| {
        contours
            .iter()
            .flat_map(Path::segments)
            .collect::<Vec<Segment>>()
    };
    let (a, b) = (sides(a), sides(b));
    let each = a
        .iter()
        .flat_map(|side| b.iter().map(|other| side.closest_to(other).distance));
    each.fold(f64::INFINITY, f64::min)
}

fn assert_sound(pieces: &[Piece], sheet: StockSheet, settings: &Settings, filled: &Filled) {
    let room = Bounds::of_size(sheet.width, sheet.height).grown(-settings.margin);
    let mut seen: Vec<usize> = filled.left.clone();
    for (_, _, places) in &filled.sheets {
        let laid: Vec<Vec<Path>> = places
            .iter()
            .map(|place| contours(&pieces[place.piece], place.quarters, place.at))
            .collect();
        for (number, contours) in laid.iter().enumerate() {
            let bounds = contours[0].bounds().expect("an outline");
            assert!(room.contains_box(bounds, NOISE), "{bounds:?}");
            for other in &laid[..number] {
                let apart = distance(contours, other);
                assert!(apart >= settings.spacing - NOISE, "{apart} mm apart");
                let inside = |a: &[Path], b: &[Path]| holds(a, b[0].vertices[0].point);
                assert!(!inside(contours, other) && !inside(other, contours));
            }
        }
        seen.extend(places.iter().map(|place| place.piece));
    }
    seen.sort_unstable();
    assert_eq!(seen, (0..pieces.len()).collect::<Vec<usize>>());
}

/// A star around 0,0: corners in even directions, at distances drawn by lot.
fn star() -> impl Strategy<Value = (Path, Vec<Path>)> {
    let arms = prop::collection::vec(30.0..120.0_f64, 5..9);
    arms.prop_map(|arms| {
        let count = arms.len() as f64;
        let corner = |(number, arm): (usize, &f64)| {
            Point::polar(*arm, number as f64 * std::f64::consts::TAU / count)
        };
        let points = arms.iter().enumerate().map(corner);
        (Path::of_points(points, true), Vec::new())
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2))]

    #[test]
    fn stars_keep_their_distance(stars in prop::collection::vec(star(), 2..5), spacing in 0.0..9.0_f64) {
        let pieces = pieces(&stars, 3);
        let (sheet, settings) = (sheet(600.0, 500.0), settings(spacing));
        let filled = arrange_pieces(&pieces, &[sheet], &settings).expect("sheets");
        assert_sound(&pieces, sheet, &settings, &filled);
        let again = arrange_pieces(&pieces, &[sheet], &settings).expect("sheets");
        prop_assert_eq!(format!("{:?}", filled.sheets), format!("{:?}", again.sheets));
    }
}

/// A frame and an L that leave no room on the sheet but in the frame's opening: by boxes, and by outlines alone, a second
/// sheet would be needed.
#[test]
fn small_parts_lie_in_cutouts() {
    let frame = path(&[(0.0, 0.0), (480.0, 0.0), (480.0, 480.0), (0.0, 480.0)]);
    let opening = path(&[(50.0, 50.0), (50.0, 430.0), (430.0, 430.0), (430.0, 50.0)]);
    let ell = path(&[
        (0.0, 0.0),
        (300.0, 0.0),
        (300.0, 40.0),
        (40.0, 40.0),
        (40.0, 300.0),
        (0.0, 300.0),
    ]);
    let shapes = [(frame, vec![opening]), (ell, Vec::new())];
    let pieces = pieces(&shapes, 1);
    let (sheet, settings) = (sheet(500.0, 500.0), settings(8.0));
    let filled = arrange_pieces(&pieces, &[sheet], &settings).expect("sheets");
    assert_eq!(filled.sheets.len(), 1);
    assert_sound(&pieces, sheet, &settings, &filled);
}

/// Round plates: arcs are not cut short.
#[test]
fn arcs_keep_their_distance() {
    let disc = circle(Point::new(60.0, 60.0), 60.0);
    let shapes = [(disc, Vec::new())];
    let pieces = pieces(&shapes, 9);
    let (sheet, settings) = (sheet(420.0, 600.0), settings(6.0));
    let filled = arrange_pieces(&pieces, &[sheet], &settings).expect("sheets");
    assert_sound(&pieces, sheet, &settings, &filled);
}
