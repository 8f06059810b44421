//! How long solids and pictures take, by the number of pieces: prints a table.
//!
//! The demo cabinet, again and again side by side. Each figure is the best of some runs.

use std::path::Path;
use std::time::{Duration, Instant};

use jigless_core::load::IncludeReader;
use jigless_solid::arrange::{Sequence, apart, units};
use jigless_solid::view::{Camera, PictureSettings, Shown, picture};
use jigless_solid::{Mesh, Piece, pieces};

struct Beside<'a>(&'a Path);

impl IncludeReader for Beside<'_> {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        std::fs::read(self.0.join(path)).map_err(|error| error.to_string())
    }
}

fn best<T>(runs: usize, mut of: impl FnMut() -> T) -> Duration {
    let each = (0..runs).map(|_| {
        let begin = Instant::now();
        std::hint::black_box(of());
        begin.elapsed()
    });
    each.min().unwrap_or_default()
}

fn main() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/glaze-cabinet");
    let text = std::fs::read(folder.join("plan.yaml")).expect("the demo plan");
    let compiled = jigless_core::compile("plan.yaml", &text, &Beside(&folder));
    let (plan, workpieces) = compiled.result.expect("the demo plan has no errors");
    let one = pieces(&plan, &workpieces);
    println!("| pieces | solids of one cabinet | lines | lines and areas | moved apart |");
    println!("|---|---|---|---|---|");
    let camera = Camera::axonometric(32_f64.to_radians(), 24_f64.to_radians());
    let solids = best(5, || pieces(&plan, &workpieces));
    for cabinets in [1, 2, 3, 10, 30, 1000_usize.div_ceil(one.len())] {
        let mut all: Vec<Piece> = Vec::new();
        for cabinet in 0..cabinets {
            let by = [
                850.0 * (cabinet % 6) as f64,
                950.0 * (cabinet / 6) as f64,
                0.0,
            ];
            all.extend(one.iter().map(|piece| Piece {
                pose: piece.pose.moved(by),
                ..piece.clone()
            }));
        }
        let meshes: Vec<Mesh> = all.iter().map(Piece::placed).collect();
        let shown: Vec<Shown> = all
            .iter()
            .zip(&meshes)
            .map(|(piece, mesh)| Shown {
                mesh,
                edges: &piece.solid.edges,
            })
            .collect();
        let runs = if cabinets > 5 { 3 } else { 20 };
        let drawn = |areas: bool| {
            let settings = PictureSettings {
                areas,
                ..PictureSettings::default()
            };
            best(runs, || picture(&shown, &camera, &settings))
        };
        let (lines, both) = (drawn(false), drawn(true));
        let exploded = (cabinets == 1).then(|| {
            let units = units(&plan, &one);
            best(runs, || {
                apart(&plan, &one, &units, Sequence::Smaller, &camera)
            })
        });
        let shown_time = |time: Duration| format!("{:.1} ms", time.as_secs_f64() * 1e3);
        println!(
            "| {} | {} | {} | {} | {} |",
            all.len(),
            if cabinets == 1 {
                shown_time(solids)
            } else {
                String::new()
            },
            shown_time(lines),
            shown_time(both),
            exploded.map(shown_time).unwrap_or_default(),
        );
    }
}
