//! Every feature has a plan under `fixtures/features/` that uses it, and a value of that plan that was worked out by hand.
//!
//! All of it is elementary geometry: sums of the plan's own lengths, areas of rectangles and circles, one tangent.

use jigless_core::compile;
use jigless_core::feature::FEATURES;
use jigless_core::geom::{Bounds, Path};
use jigless_core::load::NoIncludes;
use jigless_core::operation::{Depth, Work};
use jigless_core::units::decimal;
use jigless_tests::fixtures::fixture;

/// A feature, a part of its plan, and one piece of the part's work as [`said`] says it.
const WORKED: &[(&str, &str, &str)] = &[
    // 200 by 100; 30 from the right and the top.
    ("hole", "panel", "drill front 170,70 d6.5 8"),
    // The last of the grid: 90 + 3 x 40, 60 + 2 x 50.
    ("hole_row", "panel", "drill front 210,160 d8 through"),
    // The second from the top of 160: 160 - 20 - 32; half of 17.7.
    ("edge_hole", "panel", "edge right 108 8.85 d8 25"),
    // A quarter of an inch is 6.35; 6.35 + 6.2.
    ("groove", "panel", "area front 0,6.35 300,12.55 6"),
    // 180 high, from 40 to 180 - 10.
    ("rebate", "panel", "area back 0,40 6.2,170 9"),
    // 260 by 180: 260 - 20 - 30, 180 - 20 - 50.
    ("recess", "panel", "area front 210,110 240,160 9.5"),
    // pi 25 x 25.
    ("cutout", "panel", "contour 1963.495"),
    // 300 x 200, less 60 x 50 but for what a radius of 10 leaves (100 - 25 pi), less 40 x 30, less 17.9 x 100.
    ("notch", "panel", "contour 54031.46"),
    // 200 x 120, less twice what a radius of 20 takes (400 - 100 pi), less half of 15 x 15.
    ("corner", "panel", "contour 23715.819"),
    ("bevel", "panel", "bevel left -45"),
    // 100 x 100 and half a circle of radius 50.
    ("outline", "round-top", "contour 13926.991"),
    // The middle of a line across 240 at 80.
    ("mark", "panel", "mark front 120,80 shelf"),
    // The second of four nails from 40 to 400 - 40: 40 + 320 / 3.
    ("fixings", "back", "mark back 10,146.6667"),
    // A quarter of an inch and half of 35: 6.35 + 17.5.
    ("hinge_cups", "door-left", "drill back 23.85,63.5 d35 12.5"),
    // 300 by 500, from the top: 500 - 80 + 16; 300 - 40.
    ("hinge_plates", "side", "drill back 260,436 d5 12"),
    // The axis leaves at half of 17.7 and comes in at 15 degrees: 8.85 / tan 15 = 33.0286.
    ("pocket_holes", "rail", "bore front 150,33.0286 150,0 d9.5"),
    // The third: 100 + 2 x 32; 300 - 80.
    ("pin_rows", "side", "drill back 220,164 d5 6"),
    // 5/16 in is 7.9375: 400 - 7.9375 - 240.
    ("runner_holes", "side", "drill back 152.0625,200 d3 8"),
    // 400 by 300, 80 from right and top, and half of 45 and of 75 from there.
    ("caster_plate", "base", "drill back 342.5,257.5 d3.5 12"),
];

fn said(work: &Work) -> String {
    let number = |value: f64| decimal(value, 4);
    let point = |x: f64, y: f64| format!("{},{}", number(x), number(y));
    match work {
        Work::Drill(drill) => {
            let depth = match drill.depth {
                Depth::Through => "through".to_owned(),
                Depth::Blind(depth) => number(depth),
            };
            let (face, at) = (drill.face.name(), point(drill.centre.x, drill.centre.y));
            format!("drill {face} {at} d{} {depth}", number(drill.diameter))
        }
        Work::AngledBore(bore) => {
            let (entry, exit) = (bore.entry, bore.exit);
            let (entry, exit) = (point(entry.x, entry.y), point(exit.x, exit.y));
            let (face, diameter) = (bore.face.name(), number(bore.diameter));
            format!("bore {face} {entry} {exit} d{diameter}")
        }
        Work::MillArea(area) => {
            let bounds = area.outline.bounds().expect("an area has a size");
            let (min, max) = (bounds.min, bounds.max);
            let (low, high) = (point(min.x, min.y), point(max.x, max.y));
            format!(
                "area {} {low} {high} {}",
                area.face.name(),
                number(area.depth)
            )
        }
        Work::CutContour(cut) => format!("contour {}", decimal(cut.path.area().abs(), 3)),
        Work::Mark(mark) => {
            let text = mark.text.as_ref();
            let text = text.map(|(at, text)| format!("{} {text}", point(at.x, at.y)));
            let middle = || {
                let lines = mark.lines.iter().filter_map(Path::bounds);
                let all = lines.reduce(Bounds::union).expect("a mark has lines");
                point(all.centre().x, all.centre().y)
            };
            format!("mark {} {}", mark.face.name(), text.unwrap_or_else(middle))
        }
        Work::EdgeDrill(hole) => {
            let (edge, along) = (hole.edge.name(), number(hole.along));
            let (from_front, diameter) = (number(hole.from_front), number(hole.diameter));
            format!(
                "edge {edge} {along} {from_front} d{diameter} {}",
                number(hole.depth)
            )
        }
        Work::Bevel(bevel) => {
            let degrees = number(bevel.angle.to_degrees());
            format!("bevel {} {degrees}", bevel.edge.name())
        }
    }
}

#[test]
fn every_feature_has_a_plan_and_a_value_worked_by_hand() {
    for kind in FEATURES {
        let key = kind.key;
        let worked: Vec<_> = WORKED.iter().filter(|(of, ..)| *of == key).collect();
        assert!(!worked.is_empty(), "{key}: nothing is worked out by hand");
        let path = format!("features/{}/plan.yaml", key.replace('_', "-"));
        let text = std::fs::read(fixture(&path))
            .unwrap_or_else(|error| panic!("{key}: fixtures/{path}: {error}"));
        let compiled = compile("plan.yaml", &text, &NoIncludes);
        let (_, workpieces) = compiled.result.expect("the plan has no fault");
        let used = |part: &str| {
            let piece = workpieces.iter().find(|w| w.part.id == part);
            let piece = piece.unwrap_or_else(|| panic!("{path}: no part {part}"));
            assert!(
                piece.part.features.iter().any(|feature| feature.key == key),
                "{path}"
            );
            piece
        };
        for (_, part, line) in worked {
            let lines: Vec<String> = used(part)
                .operations
                .iter()
                .map(|o| said(&o.work))
                .collect();
            assert!(
                lines.iter().any(|own| own == line),
                "{key}: {line} is none of {lines:#?}"
            );
        }
    }
}
