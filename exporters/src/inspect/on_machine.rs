//! What is wrong with the lines of a file for the machine that a profile describes.

use std::collections::BTreeMap;

use jigless_model::geom::{Bounds, Path};
use jigless_model::units::decimal;

use super::inspection::{Entity, Inspection, InspectionFault, LayerUse, NEAR};

/// How far straight pieces may lie from an arc here, in millimetres.
const CHORD_ERROR: f64 = 0.02;
/// The most faults of a kind.
const MOST: usize = 6;

/// What a profile says of a machine.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct KnownMachine {
    /// Width and height of its bed, in millimetres.
    pub bed: Option<[f64; 2]>,
    /// Diameters of the mills that follow contours, in millimetres.
    pub mills: Vec<f64>,
}

/// Adds what is wrong for a machine: work beyond its bed, tools that sweep into neighbours, contours that cross, layers
/// that mix depths.
pub fn judge_on(inspection: &mut Inspection, machine: &KnownMachine) {
    let mut faults = Vec::new();
    beyond_bed(inspection, machine, &mut faults);
    mixed_depths(&inspection.entities, &mut faults);
    let contours: Vec<Contour> = inspection
        .entities
        .iter()
        .filter(|entity| LayerUse::of(&entity.layer) == LayerUse::Cut)
        .filter_map(|entity| {
            let path = entity.contour()?;
            Some(Contour {
                layer: &entity.layer,
                bounds: path.bounds()?,
                path,
            })
        })
        .collect();
    let smallest = machine.mills.iter().copied().reduce(f64::min);
    pairs(&contours, smallest, &mut faults);
    inspection.faults.append(&mut faults);
}

fn beyond_bed(inspection: &Inspection, machine: &KnownMachine, faults: &mut Vec<InspectionFault>) {
    let (Some([width, height]), Some(worked)) = (machine.bed, inspection.worked()) else {
        return;
    };
    let fits = |across: f64, along: f64| {
        worked.width() <= across + NEAR && worked.height() <= along + NEAR
    };
    if !fits(width, height) && !fits(height, width) {
        let number = |mm: f64| decimal(mm, 1);
        faults.push(InspectionFault::new(
            "beyond-bed",
            format!(
                "the work is {} by {} mm, and the bed {} by {}",
                number(worked.width()),
                number(worked.height()),
                number(width),
                number(height)
            ),
        ));
    }
}

fn mixed_depths(entities: &[Entity], faults: &mut Vec<InspectionFault>) {
    let mut heights: BTreeMap<&str, Vec<i64>> = BTreeMap::new();
    for entity in entities {
        if LayerUse::of(&entity.layer) != LayerUse::Information {
            let height = (entity.z * 1000.0).round() as i64;
            let known = heights.entry(&entity.layer).or_default();
            if !known.contains(&height) {
                known.push(height);
            }
        }
    }
    for (layer, heights) in heights.iter().filter(|(_, heights)| heights.len() > 1) {
        let heights: Vec<String> = heights
            .iter()
            .map(|um| decimal(*um as f64 / 1000.0, 3))
            .collect();
        let message = format!("`{layer}` holds work at z {} mm", heights.join(", "));
        faults.push(InspectionFault::new("mixed-depths", message));
    }
}

/// A closed cut.
struct Contour<'a> {
    layer: &'a str,
    path: Path,
    bounds: Bounds,
}

/// Contours that cross, and outlines between which no mill goes without touching the other one.
fn pairs(contours: &[Contour], mill: Option<f64>, faults: &mut Vec<InspectionFault>) {
    let (mut crossing, mut sweeping) = (0, 0);
    for (index, a) in contours.iter().enumerate() {
        for b in &contours[index + 1..] {
            let reach = mill.unwrap_or(0.0);
            if !a.bounds.overlaps(b.bounds.grown(reach), 0.0) {
                continue;
            }
            let between = || {
                format!(
                    "`{}`{} and `{}`{}",
                    a.layer,
                    place(a.bounds),
                    b.layer,
                    place(b.bounds)
                )
            };
            match how(&a.path, &b.path) {
                Lie::Crossing => {
                    crossing += 1;
                    if crossing <= MOST {
                        let message = format!("two contours cross: {}", between());
                        faults.push(InspectionFault::new("contours-cross", message));
                    }
                }
                Lie::Apart(distance) if distance < reach - NEAR => {
                    sweeping += 1;
                    if sweeping <= MOST {
                        faults.push(InspectionFault::new(
                            "sweep-into-neighbour",
                            format!(
                                "even the smallest mill, {} mm, cuts into a neighbour {} mm away: {}",
                                decimal(reach, 3),
                                decimal(distance, 2),
                                between()
                            ),
                        ));
                    }
                }
                Lie::Apart(_) | Lie::Within => {}
            }
        }
    }
}

/// How two contours lie.
enum Lie {
    Crossing,
    /// Beside each other, so far apart.
    Apart(f64),
    /// One in the other.
    Within,
}

fn how(a: &Path, b: &Path) -> Lie {
    let inside = |a: &Path, b: &Path| {
        let points = a.flattened(CHORD_ERROR);
        // What lies on the other contour counts for neither side.
        let free: Vec<bool> = points
            .iter()
            .filter(|point| b.distance_to(**point) > NEAR)
            .map(|point| b.contains(*point))
            .collect();
        (
            free.iter().any(|inside| *inside),
            free.iter().any(|inside| !*inside),
        )
    };
    let ((a_in, a_out), (b_in, b_out)) = (inside(a, b), inside(b, a));
    if a_in && a_out || b_in && b_out {
        return Lie::Crossing;
    }
    if a_in || b_in {
        return Lie::Within;
    }
    let least = |a: &Path, b: &Path| {
        let points = a.flattened(CHORD_ERROR).into_iter();
        points
            .map(|point| b.distance_to(point))
            .fold(f64::INFINITY, f64::min)
    };
    Lie::Apart(least(a, b).min(least(b, a)))
}

fn place(bounds: Bounds) -> String {
    let at = bounds.centre();
    format!(" about {}, {}", decimal(at.x, 1), decimal(at.y, 1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Point, circle, rectangle};

    fn cut(path: Path, z: f64) -> Entity {
        Entity {
            layer: "CUT_OUTSIDE".to_owned(),
            kind: "LWPOLYLINE",
            path,
            z,
        }
    }

    fn boxed(x: f64, y: f64, w: f64, h: f64) -> Path {
        rectangle(Bounds::new(Point::new(x, y), Point::new(x + w, y + h)))
    }

    fn codes(entities: Vec<Entity>) -> Vec<&'static str> {
        let mut inspection = Inspection {
            entities,
            scale: 1.0,
            ..Inspection::default()
        };
        let machine = KnownMachine {
            bed: Some([600.0, 400.0]),
            mills: vec![12.0, 6.0],
        };
        judge_on(&mut inspection, &machine);
        inspection.faults.iter().map(|fault| fault.code).collect()
    }

    #[test]
    fn what_a_machine_would_spoil_is_found() {
        let square = boxed(0.0, 0.0, 100.0, 60.0);
        let none: [&str; 0] = [];
        assert_eq!(
            codes(vec![
                cut(square.clone(), 0.0),
                cut(circle(Point::new(50.0, 30.0), 10.0), 0.0),
                cut(boxed(106.0, 0.0, 100.0, 60.0), 0.0),
                cut(boxed(0.0, 100.0, 50.0, 290.0), 0.0),
            ]),
            none
        );
        let near = cut(boxed(105.0, 0.0, 100.0, 60.0), 0.0);
        assert_eq!(
            codes(vec![cut(square.clone(), 0.0), near]),
            ["sweep-into-neighbour"]
        );
        let crossing = cut(boxed(90.0, 50.0, 100.0, 60.0), 0.0);
        assert_eq!(
            codes(vec![cut(square.clone(), 0.0), crossing]),
            ["contours-cross"]
        );
        let deeper = cut(boxed(200.0, 0.0, 100.0, 60.0), -6.0);
        assert_eq!(
            codes(vec![cut(square.clone(), 0.0), deeper]),
            ["mixed-depths"]
        );
        let far = cut(boxed(600.0, 390.0, 50.0, 60.0), 0.0);
        assert_eq!(codes(vec![cut(square, 0.0), far]), ["beyond-bed"]);
    }
}
