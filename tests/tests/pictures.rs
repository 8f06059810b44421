//! Pictures against a z-buffer that an outside script renders, and pieces that are moved apart.

use std::fmt::Write;
use std::fs;

use jigless_core::load::NoIncludes;
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;
use jigless_model::geom::{Bounds, Point};
use jigless_model::whole::Triple;
use jigless_solid::arrange::{Sequence, apart, units};
use jigless_solid::view::{
    Camera, LineKind, LineSettings, Picture, PictureSettings, Shown, picture,
};
use jigless_solid::{Mesh, Piece, pieces};
use jigless_tests::any_cabinet::some_cabinets;
use jigless_tests::plans::compiled;
use jigless_tests::readers::read_with;
use serde_json::{Value, json};

/// Side of a square of paper in the test of what overlaps, in millimetres of the thing.
const STEP: f64 = 4.0;

const FIXTURES: [&str; 2] = ["glaze-cabinet", "glazing-trolley"];

/// Eight directions, in degrees around and up: none along an axis, where sides are seen edge on.
const DIRECTIONS: [(f64, f64); 8] = [
    (32.0, 24.0),
    (-40.0, 18.0),
    (75.0, 40.0),
    (120.0, 12.0),
    (170.0, 30.0),
    (-130.0, -20.0),
    (10.0, 70.0),
    (45.0, -35.0),
];

/// Pixels across a picture.
const ACROSS: f64 = 160.0;

/// The fixtures, and random cabinets.
fn plans(random: usize) -> Vec<(String, Plan, Vec<Workpiece>)> {
    let mut all: Vec<(String, Plan, Vec<Workpiece>)> = FIXTURES
        .iter()
        .map(|name| {
            let (plan, workpieces) = compiled(name);
            ((*name).to_owned(), plan, workpieces)
        })
        .collect();
    let mut number = 0;
    for cabinet in some_cabinets(random * 2) {
        let text = cabinet.plan();
        let compiled = jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes);
        if let Some((plan, workpieces)) = compiled.result {
            all.push((format!("cabinet {number}"), plan, workpieces));
            number += 1;
        }
        if number == random {
            break;
        }
    }
    all
}

fn shown<'a>(pieces: &'a [Piece], meshes: &'a [Mesh]) -> Vec<Shown<'a>> {
    let pairs = pieces.iter().zip(meshes);
    pairs
        .map(|(piece, mesh)| Shown {
            mesh,
            edges: &piece.solid.edges,
        })
        .collect()
}

/// The raster of a picture: centre of the lower left pixel, size of a pixel, columns and rows.
fn raster(bounds: Bounds) -> (Point, f64, usize, usize) {
    let step = bounds.width().max(bounds.height()) / ACROSS;
    let count = |length: f64| (length / step).ceil() as usize + 4;
    // Off the corners by a share that no length has.
    let low = bounds.min - Point::new(1.5377, 1.6191) * step;
    (low, step, count(bounds.width()), count(bounds.height()))
}

/// Which body the areas show at each pixel.
fn filled(picture: &Picture, low: Point, step: f64, columns: usize, rows: usize) -> Vec<i32> {
    let mut seen = vec![-1; columns * rows];
    for area in &picture.areas {
        let points = area.borders.iter().flatten().copied();
        let Some(bounds) = Bounds::of_points(points) else {
            continue;
        };
        let first = (((bounds.min.y - low.y) / step).floor().max(0.0)) as usize;
        for row in first..rows {
            let y = low.y + step * row as f64;
            if y > bounds.max.y {
                break;
            }
            let mut crossings: Vec<f64> = Vec::new();
            for border in &area.borders {
                for (a, b) in border.iter().zip(border.iter().cycle().skip(1)) {
                    if (a.y > y) != (b.y > y) {
                        crossings.push(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
                    }
                }
            }
            crossings.sort_by(f64::total_cmp);
            for pair in crossings.chunks_exact(2) {
                let column = |x: f64| ((x - low.x) / step).ceil().max(0.0) as usize;
                for at in column(pair[0])..column(pair[1]).min(columns) {
                    seen[row * columns + at] = i32::try_from(area.body).expect("a small number");
                }
            }
        }
    }
    seen
}

fn runs(seen: &[i32]) -> Vec<(usize, i32)> {
    let mut runs: Vec<(usize, i32)> = Vec::new();
    for body in seen {
        match runs.last_mut() {
            Some((count, last)) if last == body => *count += 1,
            _ => runs.push((1, *body)),
        }
    }
    runs
}

/// Places along the lines of a picture, every few pixels and away from their ends, where others meet them.
fn places(picture: &Picture, step: f64, hidden: bool) -> Vec<Triple> {
    let lines = picture.lines.iter();
    lines
        .filter(|line| (line.kind == LineKind::Hidden) == hidden)
        .flat_map(|line| {
            let length = line.from.distance(line.to);
            let count = if length < 8.0 * step {
                0
            } else {
                (length / (6.0 * step)) as usize
            };
            (1..=count).map(move |i| {
                let share = 0.05 + 0.9 * i as f64 / (count + 1) as f64;
                let at = line.from.toward(line.to, share);
                let near = line.nearness[0] + (line.nearness[1] - line.nearness[0]) * share;
                [at.x, at.y, near]
            })
        })
        .collect()
}

fn asked(name: &str, pieces: &[Piece], meshes: &[Mesh], bodies: &Value, camera: &Camera) -> Value {
    let settings = PictureSettings {
        lines: LineSettings {
            hidden: true,
            ..LineSettings::default()
        },
        areas: true,
    };
    let drawn = picture(&shown(pieces, meshes), camera, &settings);
    let (low, step, columns, rows) = raster(drawn.bounds);
    json!({
        "name": name,
        "right": camera.right, "up": camera.up, "toward": camera.toward,
        "bodies": bodies,
        "low": [low.x, low.y], "step": step, "columns": columns, "rows": rows,
        "seen": runs(&filled(&drawn, low, step, columns, rows)),
        "visible": places(&drawn, step, false),
        "hidden": places(&drawn, step, true),
    })
}

/// For the fixtures and some random cabinets from eight directions (4, or as many as `JIGLESS_PICTURES` says in the
/// environment; 50 last time): of all pixels over 99.5 in 100 show the body that the
/// z-buffer has there, and of the places on visible and hidden lines over 99.5 in 100 lie where it has them.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn pictures_agree_with_a_z_buffer() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut files = Vec::new();
    let mut count = 0;
    let wanted = std::env::var("JIGLESS_PICTURES").ok();
    let random = wanted.and_then(|count| count.parse().ok()).unwrap_or(4);
    for (name, plan, workpieces) in plans(random) {
        let pieces = pieces(&plan, &workpieces);
        let meshes: Vec<Mesh> = pieces.iter().map(Piece::placed).collect();
        let bodies: Vec<Value> = meshes
            .iter()
            .map(|mesh| {
                let facets = mesh.facets.iter();
                let triangles: Vec<[u32; 3]> = facets
                    .flat_map(|facet| mesh.triangles(facet).expect("triangles"))
                    .collect();
                json!({"corners": mesh.corners, "triangles": triangles})
            })
            .collect();
        let bodies = json!(bodies);
        let mut lines = String::new();
        for (around, up) in DIRECTIONS {
            let camera = Camera::axonometric(f64::to_radians(around), f64::to_radians(up));
            let name = format!("{name} from {around}, {up}");
            let _ = writeln!(
                lines,
                "{}",
                asked(&name, &pieces, &meshes, &bodies, &camera)
            );
            count += 1;
        }
        let file = folder.path().join(format!("{}.jsonl", files.len()));
        fs::write(&file, lines).expect("a written file");
        files.push(file);
    }
    let half = files.len().div_ceil(2);
    let judged: Vec<Value> = std::thread::scope(|scope| {
        let read = |files: Vec<std::path::PathBuf>| -> Vec<Value> {
            let each = files.into_iter();
            each.flat_map(|file| read_with("check_pictures.py", &[file]))
                .collect()
        };
        let (one, other) = (files[..half].to_vec(), files[half..].to_vec());
        let running = [one, other].map(|files| scope.spawn(move || read(files)));
        running
            .into_iter()
            .flat_map(|it| it.join().expect("a reader"))
            .collect()
    });
    assert_eq!(judged.len(), count);
    let number = |of: &Value, key: &str| of[key].as_f64().expect("a number");
    let mut bad = Vec::new();
    for picture in &judged {
        assert!(number(picture, "pixels") > 1000.0, "{picture}");
        let wrong = number(picture, "wrong") / number(picture, "pixels");
        let wrong_lines = number(picture, "wrong_lines") / number(picture, "lines").max(1.0);
        if wrong > 0.005 || wrong_lines > 0.005 {
            bad.push(picture.to_string());
        }
    }
    assert!(
        bad.is_empty(),
        "{} of {count}:\n{}",
        bad.len(),
        bad.join("\n")
    );
}

/// Each unit by itself on a raster of its own: no pixel is covered by two.
#[test]
fn pieces_that_are_moved_apart_overlap_nowhere_on_paper() {
    for (name, plan, workpieces) in plans(20) {
        let pieces = pieces(&plan, &workpieces);
        let units = units(&plan, &pieces);
        for (around, up) in [(32.0, 24.0), (45.0, 35.0), (-30.0, 20.0)] {
            let camera = Camera::axonometric(f64::to_radians(around), f64::to_radians(up));
            let moved = apart(&plan, &pieces, &units, Sequence::Smaller, &camera);
            let mut owner: std::collections::BTreeMap<(i64, i64), usize> =
                std::collections::BTreeMap::new();
            for (number, unit) in units.iter().enumerate() {
                let meshes: Vec<Mesh> = unit
                    .pieces
                    .iter()
                    .map(|piece| {
                        pieces[*piece]
                            .pose
                            .moved(moved.offsets[*piece])
                            .mesh(&pieces[*piece].solid.mesh)
                    })
                    .collect();
                let own: Vec<Piece> = unit
                    .pieces
                    .iter()
                    .map(|piece| pieces[*piece].clone())
                    .collect();
                let settings = PictureSettings {
                    areas: true,
                    ..PictureSettings::default()
                };
                let drawn = picture(&shown(&own, &meshes), &camera, &settings);
                let begin = Point::new(
                    (drawn.bounds.min.x / STEP).floor(),
                    (drawn.bounds.min.y / STEP).floor(),
                );
                let columns = (drawn.bounds.width() / STEP) as usize + 3;
                let rows = (drawn.bounds.height() / STEP) as usize + 3;
                let seen = filled(&drawn, begin * STEP, STEP, columns, rows);
                assert!(seen.iter().any(|body| *body >= 0), "{name}");
                for (index, _) in seen.iter().enumerate().filter(|(_, body)| **body >= 0) {
                    let whole = |number: usize| i64::try_from(number).expect("a small number");
                    let at = (
                        begin.x as i64 + whole(index % columns),
                        begin.y as i64 + whole(index / columns),
                    );
                    if let Some(other) = owner.insert(at, number) {
                        assert_eq!(
                            other, number,
                            "{name} from {around}, {up}: two units at {at:?}"
                        );
                    }
                }
            }
        }
    }
}
