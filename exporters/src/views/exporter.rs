//! The exporter: a file for each view.

use std::collections::BTreeMap;

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::geom::Bounds;
use jigless_model::plan::Plan;
use jigless_model::whole::{Direction, Motion, Triple};
use jigless_solid::arrange::{Block, Room, Unit, explode, opened, units};
use jigless_solid::view::{Camera, LineSettings, PictureSettings};
use jigless_solid::{Piece, pieces};

use super::balloons::{Wanted, balloons};
use super::ink::{Look, canvas, inked};
use super::options::SvgViewsOptions;
use super::scene::Scene;
use crate::drawing::{Item, Role, TextLine};
use crate::option_check::{in_range, length_in_range};
use crate::placed::has_places;
use crate::svg::paint;

/// Pictures of the whole.
#[derive(Debug, Clone, Copy)]
pub struct SvgViews;

/// Free paper around a picture, in millimetres: room for marks beside it.
const MARGIN: f64 = 16.0;
/// The same where nothing is marked.
const NARROW: f64 = 3.0;
/// A picture is no higher than this share of its width.
const TALLEST: f64 = 1.4;
/// Free paper between pieces that are moved apart, as a share of the diagonal of the whole.
const APART: f64 = 0.015;

impl Exporter for SvgViews {
    type Options = SvgViewsOptions;

    fn id(&self) -> &'static str {
        "svg-views"
    }

    fn summary(&self) -> &'static str {
        "pictures of the whole: closed, open, moved apart, and from three sides; for plans whose parts have places"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn suits(&self, plan: &Plan) -> bool {
        has_places(plan)
    }

    fn vet(&self, _: &ExportInput, options: &Self::Options) -> Findings {
        let mut findings = Findings::new();
        length_in_range("width", options.width, (40.0, 1000.0), &mut findings);
        in_range("azimuth", options.azimuth, (-180.0, 180.0), "degrees", &mut findings);
        in_range("elevation", options.elevation, (-90.0, 90.0), "degrees", &mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let pieces = pieces(input.plan, input.workpieces);
        if pieces.is_empty() {
            return Ok(Vec::new());
        }
        let units = units(input.plan, &pieces);
        let camera = options.projection.camera(options.azimuth, options.elevation);
        let mut files = Vec::new();
        let mut add = |name: &str, scene: &Scene, camera: &Camera, each: bool| {
            files.push(file(input.plan, name, scene, camera, options, each));
        };
        let placed = Scene::new(pieces.iter().map(|piece| (piece, piece.pose)));
        add("closed", &placed, &camera, false);
        if let Some(poses) = opened(input.plan, &pieces, &units) {
            add("open", &Scene::new(pieces.iter().zip(poses)), &camera, false);
        }
        if units.len() > 1 {
            add("exploded", &apart(input.plan, &pieces, &units, &camera), &camera, true);
        }
        let mut groups: BTreeMap<&str, &Unit> = BTreeMap::new();
        for unit in units.iter().filter(|unit| unit.pieces.len() > 1) {
            if let Some(group) = &unit.group {
                groups.entry(group).or_insert(unit);
            }
        }
        for (group, unit) in groups {
            let alone: Vec<Unit> = unit
                .pieces
                .iter()
                .map(|piece| Unit {
                    pieces: vec![*piece],
                    group: None,
                })
                .collect();
            let scene = apart(input.plan, &pieces, &alone, &camera);
            add(&format!("exploded-{group}"), &scene, &camera, true);
        }
        for (name, camera) in [
            ("front", Camera::front()),
            ("side", Camera::left()),
            ("top", Camera::top()),
        ] {
            add(name, &placed, &camera, false);
        }
        Ok(files)
    }
}

/// Units moved apart.
fn apart<'a>(plan: &Plan, pieces: &'a [Piece], units: &[Unit], camera: &Camera) -> Scene<'a> {
    let blocks: Vec<Block> = units
        .iter()
        .map(|unit| Block {
            boxes: unit.pieces.iter().map(|piece| pieces[*piece].bounds).collect(),
            motion: motion(plan, pieces, unit),
        })
        .collect();
    let all = blocks.iter().flat_map(|block| &block.boxes).copied();
    let whole = all.reduce(jigless_model::whole::Box3::union);
    let diagonal = whole.map_or(0.0, |b| (0..3).map(|i| b.size(i).powi(2)).sum::<f64>().sqrt());
    let explosion = explode(&blocks, camera, Room(diagonal * APART));
    let mut offsets: Vec<(usize, Triple)> = units
        .iter()
        .zip(&explosion.offsets)
        .flat_map(|(unit, offset)| unit.pieces.iter().map(move |piece| (*piece, *offset)))
        .collect();
    offsets.sort_by_key(|(piece, _)| *piece);
    let shown = offsets.into_iter().map(|(piece, by)| (&pieces[piece], by));
    Scene::moved(shown, explosion.flights)
}

/// A drawer and a door come out toward the viewer, as they move.
fn motion(plan: &Plan, pieces: &[Piece], unit: &Unit) -> Option<Direction> {
    let whole = unit.pieces.len() > 1;
    let mut motions = unit.pieces.iter().filter_map(|piece| plan.parts[pieces[*piece].part].motion);
    motions.find_map(|motion| match motion {
        Motion::Slides => whole.then_some(Direction::Front),
        Motion::SwingsLeft | Motion::SwingsRight => Some(Direction::Front),
    })
}

fn file(
    plan: &Plan,
    name: &str,
    scene: &Scene,
    camera: &Camera,
    options: &SvgViewsOptions,
    each: bool,
) -> Artifact {
    let settings = |scale: f64| PictureSettings {
        lines: LineSettings {
            hidden: options.hidden,
            beside: 0.5 / scale,
            ..LineSettings::default()
        },
        areas: options.shading || options.marks,
    };
    let margin = if options.marks { MARGIN } else { NARROW };
    let mut picture = scene.picture(camera, &settings(0.1));
    let room = options.width - 2.0 * margin;
    let across = room / picture.bounds.width().max(1.0);
    let upward = (options.width * TALLEST - 2.0 * margin) / picture.bounds.height().max(1.0);
    let scale = across.min(upward).min(1.0);
    if (scale - 0.1).abs() > 0.02 {
        picture = scene.picture(camera, &settings(scale));
    }
    let look = Look {
        scale,
        tint: options.inks,
    };
    let mut canvas = canvas(&picture, scale).grown(margin);
    let mut items = inked(plan, scene, &picture, look);
    if options.marks {
        let wanted = wanted(scene, each);
        let (marks, left) = balloons(&picture, scale, &items, canvas, &wanted);
        items.extend(marks);
        if !left.is_empty() {
            canvas.min.y -= 6.0;
            items.push(not_marked(&left, canvas));
        }
    }
    if !options.shading {
        items.retain(|item| item.role != Role::Side);
    }
    let title = format!("{}, {}", plan.title, name.replace('-', " "));
    Artifact {
        path: format!("{name}.svg"),
        media_type: "image/svg+xml",
        part: None,
        bytes: paint::document(canvas, &title, &items).into_bytes(),
    }
}

fn not_marked(left: &[String], canvas: Bounds) -> Item {
    let words = format!("not marked for lack of room: {}", left.join(", "));
    let at = canvas.min + jigless_model::geom::Point::new(2.0, 2.0);
    Item::text(Role::Note, TextLine::new(at, 3.0, &words).fitted(canvas.width() - 4.0))
}

/// What is to be marked: each piece, or each part once.
fn wanted(scene: &Scene, each: bool) -> Vec<Wanted> {
    let mut all: BTreeMap<(String, usize), Vec<usize>> = BTreeMap::new();
    for (body, piece) in scene.pieces.iter().enumerate() {
        let key = (piece.mark.clone(), if each { piece.number } else { 0 });
        all.entry(key).or_default().push(body);
    }
    all.into_iter()
        .map(|((mark, _), bodies)| Wanted { mark, bodies })
        .collect()
}
