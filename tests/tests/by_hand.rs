//! Plans that builders and joints make against the same plans written panel by panel: both must give the same parts.

use jigless_core::operation::{ContourSide, Work};
use jigless_core::units::decimal;
use jigless_core::workpiece::Workpiece;
use jigless_tests::plans::compiled as read;

/// Everything that is cut or drilled, to a tenth of a micrometre, in an order of its own. Pencil marks are left out:
/// joints draw the outline of every part that meets another, which nobody writes by hand.
fn cuts(workpiece: &Workpiece) -> Vec<String> {
    let n = |value: f64| decimal(value, 4);
    let mut cuts: Vec<String> = workpiece
        .operations
        .iter()
        .filter_map(|operation| {
            Some(match &operation.work {
                Work::Drill(drill) => format!(
                    "drill {:?} {} {} d{} {:?} {:?}",
                    drill.face,
                    n(drill.centre.x),
                    n(drill.centre.y),
                    n(drill.diameter),
                    drill.depth,
                    drill.mouth
                ),
                Work::AngledBore(bore) => format!(
                    "pocket {:?} {} {} to {} {} d{} {} {} {}",
                    bore.face,
                    n(bore.entry.x),
                    n(bore.entry.y),
                    n(bore.exit.x),
                    n(bore.exit.y),
                    n(bore.diameter),
                    n(bore.pilot),
                    n(bore.angle),
                    n(bore.shoulder)
                ),
                Work::MillArea(area) => {
                    let bounds = area.outline.bounds().unwrap();
                    format!(
                        "mill {:?} {} {} to {} {} area {} depth {}",
                        area.face,
                        n(bounds.min.x),
                        n(bounds.min.y),
                        n(bounds.max.x),
                        n(bounds.max.y),
                        n(area.outline.area()),
                        n(area.depth)
                    )
                }
                Work::CutContour(cut) => {
                    let bounds = cut.path.bounds().unwrap();
                    let side = if cut.side == ContourSide::Outer {
                        "outline"
                    } else {
                        "opening"
                    };
                    format!(
                        "{side} {} {} to {} {} area {} length {}",
                        n(bounds.min.x),
                        n(bounds.min.y),
                        n(bounds.max.x),
                        n(bounds.max.y),
                        n(cut.path.area()),
                        n(cut.path.length())
                    )
                }
                Work::EdgeDrill(hole) => format!(
                    "edge {:?} {} {} d{} {}",
                    hole.edge,
                    n(hole.along),
                    n(hole.from_front),
                    n(hole.diameter),
                    n(hole.depth)
                ),
                Work::Bevel(bevel) => format!("bevel {:?} {}", bevel.edge, n(bevel.angle)),
                Work::Mark(_) => return None,
            })
        })
        .collect();
    cuts.sort();
    cuts
}

fn same_parts(plan: &str, by_hand: &str) {
    let (_, built) = read(plan);
    let (_, by_hand) = read(by_hand);
    let ids = |workpieces: &[Workpiece]| {
        let mut ids: Vec<String> = workpieces.iter().map(|w| w.part.id.clone()).collect();
        ids.sort();
        ids
    };
    assert_eq!(ids(&built), ids(&by_hand));
    for expected in &by_hand {
        let id = &expected.part.id;
        let got = built.iter().find(|w| w.part.id == *id).unwrap();
        for (own, hand) in [
            (got.part.width, expected.part.width),
            (got.part.height, expected.part.height),
            (got.part.thickness(), expected.part.thickness()),
        ] {
            assert!(
                (own - hand).abs() < 1e-6,
                "{id}: {own} by builders, {hand} by hand"
            );
        }
        assert_eq!(got.part.stock.id, expected.part.stock.id, "{id}");
        assert_eq!(got.part.count, expected.part.count, "{id}");
        assert_eq!(got.part.grain, expected.part.grain, "{id}");
        assert_eq!(got.part.pair, expected.part.pair, "{id}");
        let (own, hand) = (cuts(got), cuts(expected));
        let missing: Vec<&String> = hand.iter().filter(|cut| !own.contains(cut)).collect();
        let added: Vec<&String> = own.iter().filter(|cut| !hand.contains(cut)).collect();
        assert!(
            missing.is_empty() && added.is_empty(),
            "{id}: by hand only {missing:#?}, by builders only {added:#?}"
        );
        assert_eq!(own.len(), hand.len(), "{id}");
    }
}

#[test]
fn the_glaze_cabinet_is_the_same_by_hand() {
    same_parts("glaze-cabinet", "by-hand/glaze-cabinet");
}

#[test]
fn the_tray_of_a_thread_organiser_is_the_same_by_hand() {
    same_parts("by-joints/lapped-organiser", "by-hand/thread-organiser");
}
