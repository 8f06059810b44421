//! Makes a library of cabinets to measure with: `make_library N FOLDER [--seed S] [--geometry FILE]`.
//!
//! The same number and seed give the same bytes. Each plan has 12 parts: two sides and two doors as handed pairs, top,
//! bottom, back, shelf, rail, drawer front, drawer side and drawer end, with the borings, grooves and rounded corners of
//! such furniture in sizes and numbers that differ from plan to plan.
//!
//! `--geometry` also writes the lines, arcs and circles of every face as JSON, one plan a line, so that another program
//! can draw the same parts without reading plans.

use std::fs;
use std::io::{BufWriter, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use fastrand::Rng;
use jigless_core::geom;
use jigless_core::load::NoIncludes;
use jigless_core::operation::{ContourSide, Depth, Work};
use jigless_core::side::Face;
use jigless_core::view::FaceView;
use jigless_core::workpiece::Workpiece;
use serde_json::{Value, json};

/// Plans to a folder, as a publisher would keep them.
const TO_A_FOLDER: usize = 100;

struct Wish {
    plans: usize,
    folder: PathBuf,
    seed: u64,
    geometry: Option<PathBuf>,
}

fn main() -> ExitCode {
    let Some(wish) = wish() else {
        eprintln!("make_library N FOLDER [--seed S] [--geometry FILE]");
        return ExitCode::from(2);
    };
    match make(&wish) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn wish() -> Option<Wish> {
    let mut args = std::env::args().skip(1);
    let mut wish = Wish {
        plans: args.next()?.parse().ok()?,
        folder: args.next()?.into(),
        seed: 1,
        geometry: None,
    };
    while let Some(arg) = args.next() {
        match arg.as_str() {
            "--seed" => wish.seed = args.next()?.parse().ok()?,
            "--geometry" => wish.geometry = Some(args.next()?.into()),
            _ => return None,
        }
    }
    Some(wish)
}

fn make(wish: &Wish) -> std::io::Result<()> {
    let mut geometry = match &wish.geometry {
        Some(file) => Some(BufWriter::new(fs::File::create(file)?)),
        None => None,
    };
    for number in 0..wish.plans {
        // A generator of its own for each plan: plan 7 is the same in a library of 10 and in one of 10,000.
        let mut rng = Rng::with_seed(
            wish.seed
                .wrapping_mul(1_000_003)
                .wrapping_add(number as u64),
        );
        let name = format!("shelf-{:03}/cabinet-{number:05}", number / TO_A_FOLDER);
        let text = cabinet(number, &mut rng);
        let folder = wish.folder.join(&name);
        fs::create_dir_all(&folder)?;
        fs::write(folder.join("plan.yaml"), &text)?;
        if let Some(file) = &mut geometry {
            serde_json::to_writer(&mut *file, &drawn(&name, &text))?;
            file.write_all(b"\n")?;
        }
    }
    geometry.map_or(Ok(()), |mut file| file.flush())
}

/// A length in tenths of a millimetre between two bounds.
fn tenths(rng: &mut Rng, from: u32, to: u32) -> String {
    let tenths = rng.u32(from * 10..=to * 10);
    format!("{}.{}", tenths / 10, tenths % 10)
}

#[expect(clippy::too_many_lines, reason = "it is one plan")]
fn cabinet(number: usize, rng: &mut Rng) -> String {
    let width = tenths(rng, 400, 900);
    let height = tenths(rng, 600, 1000);
    let depth = tenths(rng, 280, 420);
    let ply = tenths(rng, 17, 18);
    let (pins, holes, pegs) = (rng.u32(6..=12), rng.u32(3..=6), rng.u32(2..=5));
    let (radius, toe) = (rng.u32(4..=30), rng.u32(40..=70));
    format!(
        "jigless: 1
title: Cabinet {number}
revision: \"1\"
units: mm
values:
  cabinet_width: {width}
  cabinet_height: {height}
  cabinet_depth: {depth}
  ply: {ply}
  inside: cabinet_width - 2*ply
stock:
  birch18: {{label: Birch plywood 18 mm, nominal: 18, thickness: ply, kind: plywood}}
  birch12: {{label: Birch plywood 12 mm, nominal: 12, thickness: 11.8, kind: plywood}}
  birch6: {{label: Birch plywood 6 mm, nominal: 6, thickness: [5.8, 5.9, 6], kind: plywood}}
parts:
  side-left:
    title: Left side
    mirror_as: side-right
    stock: birch18
    width: cabinet_depth
    height: cabinet_height
    grain: height
    faces: {{front: inside, back: outside}}
    features:
      - rebate: {{edge: top, width: ply, depth: 8}}
      - rebate: {{edge: right, width: 6.2, depth: 8, stop: {{start: 80}}}}
      - groove: {{along: width, from: {{bottom: 80}}, width: ply + 0.2, depth: 6}}
      - notch: {{edge: bottom, start: 0, width: 60, depth: {toe}, corner_radius: 10}}
      - hinge_plates: {{edge: left, at: [160, height - 160], setback: 37, spacing: 32, diameter: 5, depth: 12}}
      - pin_rows: {{setback: {{left: 60, right: 60}}, first: 200, step: 25, count: {pins}, diameter: 5, depth: 10}}
      - hole_row: {{first: [40, height - ply/2], step: [(width - 80)/{holes}, 0], count: {holes}, diameter: 4.5, depth: through, face: back, countersink: {{diameter: 9, angle: 90}}}}
  top:
    title: Top
    stock: birch18
    width: cabinet_width - 20
    height: cabinet_depth
    grain: width
    features:
      - rebate: {{edge: top, width: 6.2, depth: 8}}
      - hole_row: {{first: [width/2, 60], step: [0, 100], count: 2, diameter: 8, depth: 11}}
  bottom:
    title: Bottom
    stock: birch18
    width: inside
    height: cabinet_depth - 6.2
    grain: width
    features:
      - pocket_holes: {{edge: left, at: {{inset: 50, most: 150}}, screw: {{length: 32, gauge: \"#8\"}}}}
      - pocket_holes: {{edge: right, at: {{inset: 50, most: 150}}, screw: {{length: 32, gauge: \"#8\"}}}}
  rail:
    title: Wall rail
    stock: birch18
    width: inside
    height: 100
    grain: width
    features:
      - pocket_holes: {{edge: left, at: [25, 75]}}
      - pocket_holes: {{edge: right, at: [25, 75]}}
      - hole_row: {{first: [100, height/2], step: [(width - 200)/2, 0], count: 3, diameter: 6, depth: through, counterbore: {{diameter: 14, depth: 6}}}}
  back:
    title: Back
    stock: birch6
    width: cabinet_width - 20
    height: cabinet_height - 90
    grain: height
    features:
      - cutout: {{at: [width/2 - 60, 100], width: 120, height: 40, corner_radius: 20}}
      - hole_row: {{first: [15, 30], step: [0, (height - 60)/{pegs}], count: {pegs}, diameter: 3, depth: through}}
      - hole_row: {{first: [width - 15, 30], step: [0, (height - 60)/{pegs}], count: {pegs}, diameter: 3, depth: through}}
  shelf:
    title: Loose shelf
    stock: birch18
    width: inside - 2
    height: cabinet_depth - 25
    count: 2
    grain: width
    features:
      - corner: {{which: [bottom-left, bottom-right], radius: {radius}}}
  door-left:
    title: Left door
    mirror_as: door-right
    stock: birch18
    width: cabinet_width/2 - 3
    height: cabinet_height - 90
    grain: height
    faces: {{front: outside, back: inside}}
    features:
      - hinge_cups: {{edge: left, at: [80, height - 80], diameter: 35, depth: 12.5, edge_gap: 6.35, screws: {{spacing: 45, behind: 9.5, diameter: 2.5, depth: 10}}}}
      - hole: {{at: {{right: 35, top: 80}}, diameter: 5, depth: through, label: knob}}
  drawer-front:
    title: Drawer front
    stock: birch18
    width: cabinet_width/2 - 3
    height: 160
    grain: width
    features:
      - recess: {{at: [width/2 - 40, 95], width: 80, height: 40, corner_radius: 4, depth: 2}}
      - hole: {{at: [width/2, 60], diameter: 5, depth: through}}
  drawer-side:
    title: Drawer side
    stock: birch12
    width: 250
    height: 110
    count: 2
    grain: width
    features:
      - rebate: {{edge: [left, right], width: 11.8, depth: 6}}
      - groove: {{along: width, from: {{bottom: 6}}, width: 6.2, depth: 5.5}}
      - mark: {{line: {{from: [0, height/2], to: [width, height/2]}}, text: runner, face: back}}
  drawer-end:
    title: Drawer end
    stock: birch12
    width: cabinet_width/2 - 40
    height: 110
    count: 2
    grain: width
    features:
      - groove: {{along: width, from: {{bottom: 6}}, width: 6.2, depth: 5.5}}
"
    )
}

/// The faces that are drawn of every part.
fn drawn(name: &str, text: &str) -> Value {
    let compiled = jigless_core::compile(name, text.as_bytes(), &NoIncludes);
    let Some((plan, workpieces)) = compiled.result else {
        panic!("{name}: {:?}", compiled.findings.sorted());
    };
    let parts: Vec<Value> = workpieces.iter().map(part).collect();
    json!({"name": name, "title": plan.title, "parts": parts})
}

fn part(workpiece: &Workpiece) -> Value {
    let faces = Face::ALL.into_iter();
    let faces = faces.filter(|face| *face == Face::Front || workpiece.has_work_on(*face));
    let faces: Vec<Value> = faces.map(|face| seen(&workpiece.seen_from(face))).collect();
    json!({
        "id": workpiece.part.id,
        "title": workpiece.part.title,
        "width": workpiece.part.width,
        "height": workpiece.part.height,
        "faces": faces,
    })
}

fn seen(view: &FaceView) -> Value {
    let mut holes = Vec::new();
    let mut areas = Vec::new();
    let mut marks = Vec::new();
    for operation in view.operations.iter().chain(&view.from_other_face) {
        match &operation.work {
            Work::Drill(drill) => {
                let depth = match drill.depth {
                    Depth::Through => None,
                    Depth::Blind(depth) => Some(depth),
                };
                let at = [drill.centre.x, drill.centre.y];
                holes.push(
                    json!({"id": drill.id, "at": at, "diameter": drill.diameter, "depth": depth}),
                );
            }
            Work::MillArea(area) => areas.push(path(&area.outline)),
            Work::Mark(mark) => marks.extend(mark.lines.iter().map(path)),
            // Screw pockets and the work on edges are words on a drawing, which every program words in its own way.
            Work::AngledBore(_) | Work::EdgeDrill(_) | Work::Bevel(_) | Work::CutContour(_) => {}
        }
    }
    let contours = |side: ContourSide| -> Vec<Value> {
        let contours = view.contours.iter().filter(|cut| cut.side == side);
        contours.map(|cut| path(&cut.path)).collect()
    };
    json!({
        "face": view.face.name(),
        "outer": contours(ContourSide::Outer),
        "inner": contours(ContourSide::Inner),
        "holes": holes,
        "areas": areas,
        "marks": marks,
    })
}

/// x, y and bulge of every vertex, and whether the path is closed.
fn path(path: &geom::Path) -> Value {
    let vertices: Vec<[f64; 3]> = path
        .vertices
        .iter()
        .map(|vertex| [vertex.point.x, vertex.point.y, vertex.bulge])
        .collect();
    json!({"closed": path.closed, "vertices": vertices})
}
