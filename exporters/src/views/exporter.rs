//! The exporters of views: a file for each, as SVG or PNG.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_solid::view::Camera;

use super::options::{PngViewsOptions, SvgViewsOptions};
use super::page::{NamedPicture, Page};
use super::scene::{Marking, Scene, Whole};
use crate::option_check::in_range;
use crate::placed::has_places;

/// Pictures of the whole.
#[derive(Debug, Clone, Copy)]
pub struct SvgViews;

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
        options.look.faults()
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        Ok(pictures(input, options)
            .iter()
            .map(NamedPicture::svg)
            .collect())
    }
}

/// The same pictures made of dots.
#[derive(Debug, Clone, Copy)]
pub struct PngViews;

impl Exporter for PngViews {
    type Options = PngViewsOptions;

    fn id(&self) -> &'static str {
        "png-views"
    }

    fn summary(&self) -> &'static str {
        "the pictures of svg-views as PNG, to be sent and shown where SVG is not; only when it is named"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn suits(&self, _: &Plan) -> bool {
        false
    }

    fn vet(&self, _: &ExportInput, options: &Self::Options) -> Findings {
        let mut findings = options.views.look.faults();
        in_range(
            "dpi",
            f64::from(options.dpi),
            (30.0, 600.0),
            "",
            &mut findings,
        );
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let pictures = pictures(input, &options.views);
        let files = pictures.iter().map(|picture| picture.png(options.dpi));
        files
            .collect::<Result<_, _>>()
            .map_err(|message| ExportError {
                exporter: Exporter::id(self),
                message,
            })
    }
}

/// Every picture that is asked for.
fn pictures(input: &ExportInput, options: &SvgViewsOptions) -> Vec<NamedPicture> {
    let whole = Whole::new(input);
    if whole.pieces.is_empty() {
        return Vec::new();
    }
    let page = Page::new(input, &options.look);
    let camera = options.look.camera();
    let mut files = Vec::new();
    let mut add = |name: &str, scene: &Scene, camera: &Camera, marking: Marking| {
        let title = format!("{}, {}", input.plan.title, name.replace('-', " "));
        files.push(page.picture(name, &title, &[scene], camera, marking));
    };
    add("closed", &whole.closed(), &camera, Marking::Parts);
    if let Some(open) = whole.open() {
        add("open", &open, &camera, Marking::Parts);
    }
    if let Some(apart) = whole.apart(&camera) {
        add("exploded", &apart, &camera, Marking::Units);
    }
    for (group, scene) in whole.groups_apart(&camera) {
        let name = format!("exploded-{group}");
        add(&name, &scene, &camera, Marking::Pieces);
    }
    for (name, camera) in [
        ("front", Camera::front()),
        ("side", Camera::left()),
        ("top", Camera::top()),
    ] {
        add(name, &whole.closed(), &camera, Marking::Parts);
    }
    if let (Some(space), Some(bounds)) = (&input.plan.space, whole.bounds()) {
        let scene = whole.open().unwrap_or_else(|| whole.closed());
        let scene = scene.in_room(space.around(bounds), &camera);
        add("in-space", &scene, &camera, Marking::Parts);
    }
    if let Some((on, normal)) = options.plane() {
        let section = whole.section(on, normal);
        add("section", &section, &camera, Marking::Parts);
    }
    if options.in_place {
        for id in whole.part_ids() {
            let title = format!("{}, where {id} is", input.plan.title);
            let scenes = [&whole.without(id), &whole.part(id)];
            let name = format!("in-place-{id}");
            files.push(page.picture(&name, &title, &scenes, &camera, Marking::Accents));
        }
    }
    files
}
