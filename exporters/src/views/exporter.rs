//! The exporter: a file for each view.

use jigless_model::caution::{Medium, called_for};
use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::Plan;
use jigless_solid::view::{Camera, LineSettings, PictureSettings};

use super::balloons::balloons;
use super::ink::{Look, canvas, inked};
use super::options::SvgViewsOptions;
use super::scene::{Marking, Scene, Whole};
use crate::cautions;
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
        in_range(
            "azimuth",
            options.azimuth,
            (-180.0, 180.0),
            "degrees",
            &mut findings,
        );
        in_range(
            "elevation",
            options.elevation,
            (-90.0, 90.0),
            "degrees",
            &mut findings,
        );
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let whole = Whole::new(input);
        if whole.pieces.is_empty() {
            return Ok(Vec::new());
        }
        let camera = options
            .projection
            .camera(options.azimuth, options.elevation);
        let mut files = Vec::new();
        let mut add = |name: &str, scene: &Scene, camera: &Camera, marking: Marking| {
            files.push(file(input, name, scene, camera, options, marking));
        };
        add("closed", &whole.closed(), &camera, Marking::Parts);
        if let Some(open) = whole.open() {
            add("open", &open, &camera, Marking::Parts);
        }
        if let Some(apart) = whole.apart(&camera) {
            add("exploded", &apart, &camera, Marking::Units);
        }
        for (group, scene) in whole.groups_apart(&camera) {
            add(
                &format!("exploded-{group}"),
                &scene,
                &camera,
                Marking::Pieces,
            );
        }
        for (name, camera) in [
            ("front", Camera::front()),
            ("side", Camera::left()),
            ("top", Camera::top()),
        ] {
            add(name, &whole.closed(), &camera, Marking::Parts);
        }
        Ok(files)
    }
}

fn file(
    input: &ExportInput,
    name: &str,
    scene: &Scene,
    camera: &Camera,
    options: &SvgViewsOptions,
    marking: Marking,
) -> Artifact {
    let plan = input.plan;
    let cautions = called_for(plan, input.workpieces, Medium::Whole);
    let margin = if options.marks { MARGIN } else { NARROW };
    let extent = scene.extent(camera);
    let across = (options.width - 2.0 * margin) / extent.width().max(1.0);
    let upward = (options.width * TALLEST - 2.0 * margin) / extent.height().max(1.0);
    let scale = across.min(upward).min(1.0);
    let settings = PictureSettings {
        lines: LineSettings {
            hidden: options.hidden,
            beside: 0.5 / scale,
            ..LineSettings::default()
        },
        areas: options.shading || options.marks,
    };
    let picture = scene.picture(camera, &settings);
    let look = Look {
        scale,
        tint: options.inks,
        fine: marking != Marking::Parts,
    };
    let mut canvas = canvas(&picture, scale).grown(margin);
    let mut items = inked(plan, scene, &picture, look);
    if options.marks {
        let wanted = scene.wanted(marking);
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
    items.extend(cautions::under(&mut canvas, 2.0, &cautions));
    let title = format!("{}, {}", plan.title, name.replace('-', " "));
    Artifact {
        path: format!("{name}.svg"),
        media_type: "image/svg+xml",
        part: None,
        bytes: paint::document(canvas, &title, &cautions::description(&cautions), &items)
            .into_bytes(),
    }
}

fn not_marked(left: &[String], canvas: Bounds) -> Item {
    let words = format!("not marked for lack of room: {}", left.join(", "));
    let at = canvas.min + Point::new(2.0, 2.0);
    Item::text(
        Role::Note,
        TextLine::new(at, 3.0, &words).fitted(canvas.width() - 4.0),
    )
}
