//! A part as an exact body.

use jigless_model::geom::{Path, Point, circle};
use jigless_model::operation::{AngledBore, Bevel, Depth, Drill, EdgeDrill, Mouth, Work};
use jigless_model::side::{Edge, Face};
use jigless_model::whole::Triple;
use jigless_model::workpiece::Workpiece;

use crate::bevel;
use crate::bore::{self, Bore};
use crate::mesh::{Mesh, MeshEdge};
use crate::slabs::{Taken, stack};
use crate::vector::{minus, unit};

/// A part as a body in its own coordinates: x and y as it is drawn, z 0 on the front face and falling into the wood.
#[derive(Debug, Clone)]
pub struct Solid {
    /// Its surface.
    pub mesh: Mesh,
    /// The edges of its surface.
    pub edges: Vec<MeshEdge>,
    /// Short names of the holes that are left out or drawn simpler, because they meet other work on their way: a
    /// countersink over an edge becomes a plain hole, a hole in an edge that meets a hole in a face is left out. The
    /// shoulder of a pocket is shown no nearer to the face than where its whole circle lies in the wood.
    pub simplified: Vec<String>,
}

/// The body of a part. Arcs become chords within [`CHORD_ERROR`](crate::CHORD_ERROR); pencil lines take nothing away.
pub fn solid(workpiece: &Workpiece) -> Solid {
    let thickness = workpiece.part.thickness();
    let mut taken: Vec<Taken> = workpiece
        .contours(jigless_model::operation::ContourSide::Inner)
        .map(|path| Taken {
            outline: path.clone(),
            from: 0.0,
            to: thickness,
        })
        .collect();
    let mut cones: Vec<&Drill> = Vec::new();
    let mut later: Vec<(String, Bore)> = Vec::new();
    let mut bevels: Vec<Bevel> = Vec::new();
    let mut simplified = Vec::new();
    for operation in &workpiece.operations {
        match &operation.work {
            Work::Drill(drill) if matches!(drill.mouth, Some(Mouth::Countersink { .. })) => {
                cones.push(drill);
            }
            Work::Drill(drill) => taken.extend(drilled(drill, thickness)),
            Work::MillArea(area) => {
                taken.push(from_face(
                    area.face,
                    area.outline.clone(),
                    area.depth,
                    thickness,
                ));
            }
            Work::AngledBore(angled) => later.push((angled.id.clone(), pocket(angled, thickness))),
            Work::EdgeDrill(hole) => later.push((hole.id.clone(), edge_hole(hole, workpiece))),
            Work::Bevel(bevel) => bevels.push(*bevel),
            Work::CutContour(_) | Work::Mark(_) => {}
        }
    }
    // A countersink that meets other work becomes a plain hole of the stack.
    loop {
        let mut mesh = stack(workpiece.outline(), thickness, &taken);
        for bevel in &bevels {
            let (on, normal) = plane(*bevel, workpiece);
            mesh = bevel::behind(&mesh, on, normal);
        }
        let (alone, met): (Vec<&Drill>, Vec<&Drill>) = cones
            .iter()
            .partition(|drill| bore::cut(&mut mesh, &countersunk(drill, thickness)));
        if met.is_empty() {
            let left_out = later.iter().filter(|(_, hole)| !bore::cut(&mut mesh, hole));
            simplified.extend(left_out.map(|(id, _)| id.clone()));
            let edges = mesh.edges().unwrap_or_default();
            return Solid {
                mesh,
                edges,
                simplified,
            };
        }
        for drill in met {
            simplified.push(drill.id.clone());
            taken.extend(drilled(drill, thickness));
        }
        cones = alone;
    }
}

fn mouth_radius(drill: &Drill) -> f64 {
    drill
        .mouth
        .map_or(drill.diameter, Mouth::diameter)
        .max(drill.diameter)
        / 2.0
}

/// What is taken from a face to a depth.
fn from_face(face: Face, outline: Path, depth: f64, thickness: f64) -> Taken {
    let (from, to) = match face {
        Face::Front => (0.0, depth.min(thickness)),
        Face::Back => ((thickness - depth).max(0.0), thickness),
    };
    Taken { outline, from, to }
}

/// A hole square to a face, and its counterbore.
fn drilled(drill: &Drill, thickness: f64) -> Vec<Taken> {
    let depth = match drill.depth {
        Depth::Through => thickness,
        Depth::Blind(depth) => depth,
    };
    let hole = |diameter: f64, depth: f64| {
        let outline = circle(drill.centre, diameter / 2.0);
        from_face(drill.face, outline, depth, thickness)
    };
    let mut taken = vec![hole(drill.diameter, depth)];
    if let Some(Mouth::Counterbore { diameter, depth }) = drill.mouth {
        taken.push(hole(diameter, depth));
    }
    taken
}

fn countersunk(drill: &Drill, thickness: f64) -> Bore {
    let radius = drill.diameter / 2.0;
    let cone = drill.mouth.map_or(0.0, |mouth| mouth.depth(drill.diameter));
    let (z, way) = match drill.face {
        Face::Front => (0.0, [0.0, 0.0, -1.0]),
        Face::Back => (-thickness, [0.0, 0.0, 1.0]),
    };
    let through = drill.depth == Depth::Through;
    let mut stations = vec![(0.0, mouth_radius(drill))];
    let full = match drill.depth {
        Depth::Through => thickness,
        Depth::Blind(depth) => depth,
    };
    if cone < full - 1e-3 {
        stations.push((cone, radius));
        if !through {
            stations.push((full, radius));
        }
    } else {
        // A shallow hole that is all cone.
        let share = full / cone;
        let there = mouth_radius(drill) + (radius - mouth_radius(drill)) * share;
        stations.push((full - if through { 1e-3 } else { 0.0 }, there));
    }
    Bore {
        entry: [drill.centre.x, drill.centre.y, z],
        way,
        stations,
        through,
    }
}

fn pocket(angled: &AngledBore, thickness: f64) -> Bore {
    let depth = |from_face: f64| match angled.face {
        Face::Front => -from_face,
        Face::Back => from_face - thickness,
    };
    let at = |point: Point, from_face: f64| -> Triple { [point.x, point.y, depth(from_face)] };
    let (entry, exit) = (at(angled.entry, 0.0), at(angled.exit, angled.exit_depth));
    // A shoulder that would break out of the face is shown where its whole circle lies in the wood.
    let wide = angled.diameter / 2.0;
    let shoulder = angled.shoulder.max(wide / angled.angle.tan() + 0.01);
    Bore {
        entry,
        way: unit(minus(exit, entry)),
        stations: vec![
            (0.0, wide),
            (shoulder, wide),
            (shoulder, angled.pilot / 2.0),
        ],
        through: true,
    }
}

/// A hole in an edge. A bevelled edge is left along the same axis.
fn edge_hole(hole: &EdgeDrill, workpiece: &Workpiece) -> Bore {
    let frame = workpiece.part.frame();
    let at = frame.from_edge(hole.edge, hole.along, 0.0);
    let way = inward(hole.edge);
    Bore {
        entry: [at.x, at.y, -hole.from_front],
        way: [way.x, way.y, 0.0],
        stations: vec![
            (0.0, hole.diameter / 2.0),
            (hole.depth, hole.diameter / 2.0),
        ],
        through: false,
    }
}

fn inward(edge: Edge) -> Point {
    match edge {
        Edge::Left => Point::new(1.0, 0.0),
        Edge::Right => Point::new(-1.0, 0.0),
        Edge::Bottom => Point::new(0.0, 1.0),
        Edge::Top => Point::new(0.0, -1.0),
    }
}

/// The plane of a bevel: a point on it, and the way out of the wood that is left.
fn plane(bevel: Bevel, workpiece: &Workpiece) -> (Triple, Triple) {
    let frame = workpiece.part.frame();
    let corner = frame.from_edge(bevel.edge, 0.0, 0.0);
    let out = inward(bevel.edge) * -1.0;
    // The face that keeps its size holds the line about which the plane is tilted.
    let (z, down) = if bevel.angle > 0.0 {
        (0.0, -1.0)
    } else {
        (-frame.thickness, 1.0)
    };
    let (sin, cos) = bevel.angle.abs().sin_cos();
    (
        [corner.x, corner.y, z],
        [out.x * cos, out.y * cos, down * sin],
    )
}
