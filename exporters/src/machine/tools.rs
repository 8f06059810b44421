//! Which tool of the router makes what, how far it runs out, and in how many passes.

use jigless_model::diag::{Finding, Findings};
use jigless_model::geom::{LENGTH_TOLERANCE, Path};
use jigless_model::operation::{ContourSide, MillArea, Work};
use jigless_model::side::Edge;
use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;

use super::parallel::followed;
use super::router_options::RouterOptions;
use super::through;
use super::tool::Tool;
use crate::codes;

/// A tool may be as wide as the slot; this share of its radius keeps arithmetic from calling that too wide.
const SNUG: f64 = 0.999_9;

/// The tools that reach a depth, the largest first.
fn reaching(options: &RouterOptions, depth: f64) -> Vec<&Tool> {
    let mut tools: Vec<&Tool> = options
        .tools
        .iter()
        .filter(|tool| tool.is_mill() && tool.reaches(depth))
        .collect();
    tools.sort_by(|a, b| b.diameter.total_cmp(&a.diameter));
    tools
}

/// The largest tool that can follow every contour of a part right through.
pub(super) fn for_contours<'a>(
    options: &'a RouterOptions,
    workpiece: &Workpiece,
) -> Option<&'a Tool> {
    let contours: Vec<(ContourSide, &Path)> = workpiece
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::CutContour(cut) => Some((cut.side, &cut.path)),
            _ => None,
        })
        .collect();
    let fits = |tool: &&Tool| {
        let radius = tool.diameter / 2.0 * SNUG;
        contours.iter().all(|(side, path)| match side {
            ContourSide::Outer => followed(path, radius).is_some(),
            ContourSide::Inner => followed(path, -radius).is_some(),
        })
    };
    reaching(options, through::depth(options, &workpiece.part.stock))
        .into_iter()
        .find(fits)
}

/// The largest tool that can clear an area, and the border of the area as it runs out over the edges of a part of a width
/// and height.
pub(super) fn for_area<'a>(
    options: &'a RouterOptions,
    area: &MillArea,
    size: (f64, f64),
) -> Option<(&'a Tool, Path)> {
    reaching(options, area.depth).into_iter().find_map(|tool| {
        let radius = tool.diameter / 2.0;
        let border = overrun(area, size, radius + options.overrun);
        followed(&border, -radius * SNUG).map(|_| (tool, border))
    })
}

/// The border of an area, moved outward over each edge at which it is open.
pub(super) fn overrun(area: &MillArea, (width, height): (f64, f64), by: f64) -> Path {
    let mut path = area.outline.clone();
    for vertex in &mut path.vertices {
        let point = &mut vertex.point;
        for edge in &area.open {
            match edge {
                Edge::Left if point.x < LENGTH_TOLERANCE => point.x -= by,
                Edge::Right if point.x > width - LENGTH_TOLERANCE => point.x += by,
                Edge::Bottom if point.y < LENGTH_TOLERANCE => point.y -= by,
                Edge::Top if point.y > height - LENGTH_TOLERANCE => point.y += by,
                Edge::Left | Edge::Right | Edge::Bottom | Edge::Top => {}
            }
        }
    }
    path
}

/// `6 mm tool, 2 passes to 3 mm and 6 mm`.
pub(super) fn passes(tool: &Tool, depth: f64, unit: Unit) -> String {
    let count = (depth / tool.pass - 1e-9).ceil().max(1.0);
    let tool = format!("{} tool", unit.show(tool.diameter));
    let depths: Vec<String> = (1..=count as usize)
        .map(|pass| unit.show(depth * pass as f64 / count))
        .collect();
    match depths.as_slice() {
        [one] => format!("{tool}, one pass to {one}"),
        [first @ .., last] if first.len() < 4 => {
            format!("{tool}, {count} passes to {} and {last}", first.join(", "))
        }
        _ => format!("{tool}, {count} passes of {}", unit.show(depth / count)),
    }
}

/// Reports everything on a part that no tool can make.
pub(super) fn vet(
    options: &RouterOptions,
    workpiece: &Workpiece,
    unit: Unit,
    findings: &mut Findings,
) {
    let part = &workpiece.part;
    let tools: Vec<String> = options
        .tools
        .iter()
        .filter(|tool| tool.is_mill())
        .map(|t| unit.show(t.diameter))
        .collect();
    let tools = tools.join(", ");
    if for_contours(options, workpiece).is_none() {
        let message = format!(
            "part `{}`, {} thick: no tool ({tools}) fits every slot and inside radius of its contours and reaches through",
            part.id,
            unit.show(part.thickness())
        );
        findings.push(
            Finding::error(codes::NO_TOOL_FITS, part.span, message)
                .fix("widen the slot or radius, or add a smaller or longer tool to the profile"),
        );
    }
    for operation in &workpiece.operations {
        let Work::MillArea(area) = &operation.work else {
            continue;
        };
        if for_area(options, area, (part.width, part.height)).is_none() {
            let message = format!(
                "part `{}`: no tool ({tools}) fits {} {} and reaches {}",
                part.id,
                area.kind.name(),
                area.id,
                unit.show(area.depth)
            );
            findings.push(
                Finding::error(codes::NO_TOOL_FITS, operation.origin.span, message)
                    .fix("make it wider, or add a smaller or longer tool to the profile"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Bounds, Point, rectangle};
    use jigless_model::operation::AreaKind;
    use jigless_model::side::Face;

    fn area(bounds: Bounds, open: &[Edge]) -> MillArea {
        MillArea {
            id: "G1".to_owned(),
            kind: AreaKind::Groove,
            face: Face::Front,
            outline: rectangle(bounds),
            depth: 6.0,
            open: open.to_vec(),
        }
    }

    fn router(diameters: &[f64]) -> RouterOptions {
        RouterOptions {
            tools: diameters
                .iter()
                .map(|&diameter| Tool {
                    reach: Some(20.0),
                    ..Tool::mill(diameter, 4.0)
                })
                .collect(),
            ..RouterOptions::default()
        }
    }

    /// Tool radius and 1 mm beyond each open end.
    #[test]
    fn open_ends_run_out_and_stopped_ones_do_not() {
        let groove = area(
            Bounds::new(Point::new(0.0, 50.0), Point::new(250.0, 58.0)),
            &[Edge::Left],
        );
        let options = router(&[3.0, 8.0, 12.0]);
        let (tool, border) = for_area(&options, &groove, (300.0, 200.0)).unwrap();
        assert_eq!(tool.diameter.to_bits(), 8.0_f64.to_bits());
        let bounds = border.bounds().unwrap();
        assert_eq!(
            (bounds.min, bounds.max),
            (Point::new(-5.0, 50.0), Point::new(250.0, 58.0))
        );
    }

    #[test]
    fn a_groove_narrower_than_every_tool_has_none() {
        let groove = area(
            Bounds::new(Point::new(0.0, 50.0), Point::new(300.0, 55.0)),
            &[Edge::Left, Edge::Right],
        );
        assert!(for_area(&router(&[6.0, 8.0]), &groove, (300.0, 200.0)).is_none());
        assert!(for_area(&router(&[5.0]), &groove, (300.0, 200.0)).is_some());
        let mut deep = router(&[5.0]);
        deep.tools[0].reach = Some(5.0);
        assert!(for_area(&deep, &groove, (300.0, 200.0)).is_none());
    }

    #[test]
    fn passes_are_even_and_none_is_too_deep() {
        let tool = Tool::mill(6.0, 4.0);
        let mm = Unit::Millimetre;
        assert_eq!(passes(&tool, 4.0, mm), "6 mm tool, one pass to 4 mm");
        assert_eq!(
            passes(&tool, 6.0, mm),
            "6 mm tool, 2 passes to 3 mm and 6 mm"
        );
        assert_eq!(passes(&tool, 18.0, mm), "6 mm tool, 5 passes of 3.6 mm");
    }
}
