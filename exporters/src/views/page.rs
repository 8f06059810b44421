//! A picture scaled to its paper, inked and marked, and as a file.

use jigless_model::caution::{Caution, Medium, called_for};
use jigless_model::export::{Artifact, ExportInput};
use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::Plan;
use jigless_solid::view::{Camera, LineSettings, PictureSettings};
use jigless_words::{ENGLISH, Words, said};

use super::balloons::balloons;
use super::ink::{Look, inked};
use super::options::LookOptions;
use super::scene::{Marking, Scene};
use crate::cautions;
use crate::drawing::{Item, Role, TextLine};
use crate::raster;
use crate::svg::paint;

/// Free paper around a picture, in millimetres: room for marks beside it.
const MARGIN: f64 = 16.0;
/// The same where nothing is marked.
const NARROW: f64 = 3.0;
/// A picture is no higher than this share of its width.
const TALLEST: f64 = 1.4;

/// What pictures of a plan are drawn on.
pub(crate) struct Page<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) look: &'a LookOptions,
    pub(crate) cautions: Vec<Caution>,
    /// The words of the language.
    pub(crate) words: &'static Words,
}

/// A picture that becomes a file.
pub(crate) struct NamedPicture {
    name: String,
    title: String,
    /// What goes with it and is not seen.
    said: String,
    canvas: Bounds,
    items: Vec<Item>,
}

impl NamedPicture {
    /// As SVG.
    pub(crate) fn svg(&self) -> Artifact {
        let text = paint::document(self.canvas, &self.title, &self.said, &self.items);
        Artifact {
            path: format!("{}.svg", self.name),
            media_type: "image/svg+xml",
            part: None,
            bytes: text.into_bytes(),
        }
    }

    /// As PNG, with so many dots to an inch.
    ///
    /// # Errors
    /// When it has no size.
    pub(crate) fn png(&self, dpi: u32) -> Result<Artifact, String> {
        Ok(Artifact {
            path: format!("{}.png", self.name),
            media_type: "image/png",
            part: None,
            bytes: raster::document(self.canvas, &self.items, dpi)?,
        })
    }
}

impl<'a> Page<'a> {
    /// For files, under which stands what the work on all parts calls for.
    pub(crate) fn new(input: &ExportInput<'a>, look: &'a LookOptions) -> Self {
        Self {
            words: &ENGLISH,
            plan: input.plan,
            look,
            cautions: called_for(input.plan, input.workpieces, Medium::Whole),
        }
    }

    /// Scenes seen by one camera, one drawn over the other; the last one is marked.
    pub(crate) fn picture(
        &self,
        name: &str,
        title: &str,
        scenes: &[&Scene],
        camera: &Camera,
        marking: Marking,
    ) -> NamedPicture {
        let scale = self.scale(scenes, camera);
        let (mut canvas, mut items) = self.drawn(scenes, scale, camera, marking);
        items.extend(cautions::under(&mut canvas, NARROW, &self.cautions));
        NamedPicture {
            name: name.to_owned(),
            title: title.to_owned(),
            said: cautions::description(&self.cautions),
            canvas,
            items,
        }
    }

    fn margin(&self) -> f64 {
        if self.look.marks { MARGIN } else { NARROW }
    }

    /// Millimetres of paper for a millimetre of the thing, so that every scene has room.
    pub(crate) fn scale(&self, scenes: &[&Scene], camera: &Camera) -> f64 {
        let margin = self.margin();
        let extents = scenes.iter().map(|scene| scene.extent(camera));
        let extent = extents.reduce(Bounds::union);
        let extent = extent.unwrap_or(Bounds::of_size(1.0, 1.0));
        let across = (self.look.width - 2.0 * margin) / extent.width().max(1.0);
        let upward = (self.look.width * TALLEST - 2.0 * margin) / extent.height().max(1.0);
        across.min(upward).min(1.0)
    }

    /// Scenes at a scale as items on paper, with the box that they fill.
    pub(crate) fn drawn(
        &self,
        scenes: &[&Scene],
        scale: f64,
        camera: &Camera,
        marking: Marking,
    ) -> (Bounds, Vec<Item>) {
        let (look, margin) = (self.look, self.margin());
        let settings = PictureSettings {
            lines: LineSettings {
                hidden: look.hidden,
                beside: 0.5 / scale,
                ..LineSettings::default()
            },
            areas: look.shading || look.marks,
        };
        let ink = Look {
            scale,
            tint: look.inks,
            fine: marking != Marking::Parts,
        };
        let mut items = Vec::new();
        let mut paper: Option<Bounds> = None;
        let mut last = None;
        for scene in scenes {
            let picture = scene.picture(camera, &settings);
            let extent = scene.extent(camera);
            let own = Bounds::new(extent.min * scale, extent.max * scale);
            paper = Some(paper.map_or(own, |paper| paper.union(own)));
            items.extend(inked(self.plan, scene, &picture, ink));
            last = Some((picture, scene));
        }
        let mut paper = paper.unwrap_or(Bounds::of_size(1.0, 1.0)).grown(margin);
        if let (true, Some((picture, scene))) = (look.marks, last) {
            let wanted = scene.wanted(marking);
            let (marks, left) = balloons(&picture, scale, &items, paper, &wanted);
            items.extend(marks);
            if !left.is_empty() {
                paper.min.y -= 6.0;
                items.push(not_marked(self.words, &left, paper));
            }
        }
        if !look.shading {
            items.retain(|item| item.role != Role::Side);
        }
        (paper, items)
    }
}

fn not_marked(words: &Words, left: &[String], canvas: Bounds) -> Item {
    let words = said(words.drawing.not_marked, &[&left.join(", ")]);
    let at = canvas.min + Point::new(2.0, 2.0);
    Item::text(
        Role::Note,
        TextLine::new(at, 3.0, &words).fitted(canvas.width() - 4.0),
    )
}
