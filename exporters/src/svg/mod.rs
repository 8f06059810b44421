//! `svg-drilling`: each worked face of each part as a drawing at scale, one viewBox unit for a millimetre.

mod hard;
pub(crate) mod paint;

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::side::Face;
use jigless_model::workpiece::Workpiece;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::drawing::caption::Caption;
use crate::drawing::label::Placer;
use crate::drawing::measure::{Lengths, PaperUnits};
use crate::drawing::text::{LABEL, LEADING};
use crate::drawing::{Item, Pen, Role, Text, Tint, face, vet};
use crate::file_name;

/// Drawings at scale for a screen, a plotter or a drawing program.
#[derive(Debug)]
pub struct SvgDrilling;

/// What can be chosen of the drawings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct SvgDrillingOptions {
    /// What the file is for: a drawing to look at and plot, or a hard template to be cut from sheet, which has contours
    /// and drill holes only: no words, transforms, crosses, areas or check line.
    pub variant: Variant,
    /// Diameter of every drill hole of a hard template, in millimetres, for a guide bush or a pencil; 0 leaves each hole
    /// its own.
    #[schemars(range(min = 0.0, max = 60.0))]
    pub guide: f64,
    /// Free room around the part, in millimetres.
    #[schemars(range(min = 0.0, max = 200.0))]
    pub margin: f64,
    /// Whether words are written: labels, edge names, grain and title. Without them the file holds paths and circles
    /// only, and no transform.
    pub labels: bool,
    /// Whether a line of 100 mm is drawn under the part to measure a print by.
    pub check_line: bool,
    /// Units of the numbers. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Inks: black and greys, or colour for areas and for words on areas and hand work; lines are always black.
    pub inks: Tint,
}

impl Default for SvgDrillingOptions {
    fn default() -> Self {
        Self {
            variant: Variant::Drawing,
            guide: 0.0,
            margin: 10.0,
            labels: true,
            check_line: true,
            units: PaperUnits::Plan,
            fractions: 64,
            inks: Tint::Grey,
        }
    }
}

/// What a drawing is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Variant {
    /// To look at and plot.
    #[default]
    Drawing,
    /// To be cut from sheet as a template.
    HardTemplate,
}

/// Room for the words behind the check line, in millimetres.
const CHECK_WORDS: f64 = 15.0;
/// Length of the check line, in millimetres.
const CHECK: f64 = 100.0;

impl Exporter for SvgDrilling {
    type Options = SvgDrillingOptions;

    fn id(&self) -> &'static str {
        "svg-drilling"
    }

    fn summary(&self) -> &'static str {
        "one drawing at scale for each worked face of a part, with hole marks and labels"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn vet(&self, input: &ExportInput, options: &Self::Options) -> Findings {
        let mut findings = vet::number("svg-drilling", "margin", options.margin, (0.0, 200.0));
        findings.extend(vet::fractions("svg-drilling", options.fractions));
        findings.extend(vet::number(
            "svg-drilling",
            "guide",
            options.guide,
            (0.0, 60.0),
        ));
        if options.labels && options.variant == Variant::Drawing {
            findings.extend(vet::words(input));
        }
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let mut artifacts = Vec::new();
        for workpiece in input.workpieces {
            for side in Face::ALL {
                if side == Face::Back && !workpiece.has_work_on(side) {
                    continue;
                }
                let (canvas, items) = match options.variant {
                    Variant::Drawing => compose(input, workpiece, side, options),
                    Variant::HardTemplate => hard::compose(&workpiece.seen_from(side), options),
                };
                let title = format!("{}, {} face", workpiece.part.title, side.name());
                artifacts.push(Artifact {
                    path: file_name::of_face(&workpiece.part, side, "svg"),
                    media_type: "image/svg+xml",
                    part: Some(workpiece.part.id.clone()),
                    bytes: paint::document(canvas, &title, &items).into_bytes(),
                });
            }
        }
        Ok(artifacts)
    }
}

/// The drawing of a face with what stands around it, in view coordinates, and the box of the whole.
fn compose(
    input: &ExportInput,
    workpiece: &Workpiece,
    side: Face,
    options: &SvgDrillingOptions,
) -> (Bounds, Vec<Item>) {
    let lengths = Lengths::on_paper(input.plan.units, options.units, options.fractions);
    let drawing = face::draw(&workpiece.seen_from(side), options.inks.into(), lengths);
    let mut items = drawing.items;
    let mut canvas = drawing.extent.grown(options.margin);
    if options.labels || options.check_line {
        let least = CHECK + CHECK_WORDS + 2.0 * options.margin.max(2.0);
        canvas.max.x = canvas.max.x.max(canvas.min.x + least);
    }
    let mut unplaced = Vec::new();
    if options.labels {
        let mut placer = Placer::new(canvas.grown(-1.0), &items);
        for wish in &drawing.wishes {
            match placer.place(wish) {
                Some(label) => items.extend(label),
                None if wish.role == Role::Note => {}
                None => unplaced.extend(wish.blocks.first().map(|block| block.lines.join(", "))),
            }
        }
    }
    if options.check_line {
        canvas.min.y -= 9.0;
        let at = canvas.min + Point::new(options.margin.max(2.0), 5.0);
        items.extend(check_line(at, options.labels));
    }
    if options.labels {
        let caption = Caption::new(input, &workpiece.part, side, lengths);
        let mut lines = vec![caption.face, caption.make, caption.size, caption.plan];
        lines.extend(caption.pair);
        if !unplaced.is_empty() {
            lines.push("no room on the drawing for:".to_owned());
            lines.append(&mut unplaced);
        }
        let step = LABEL * LEADING;
        let x = canvas.min.x + options.margin.max(2.0);
        let room = canvas.max.x - options.margin.max(2.0) - x;
        canvas.max.y += step * (lines.len() as f64 + 2.5);
        let mut y = canvas.max.y - step * 1.6;
        let title = Text::new(Point::new(x, y), 5.0, &caption.part).bold();
        items.push(Item::text(Role::Frame, title.fitted(room)));
        for line in lines {
            y -= step;
            let text = Text::new(Point::new(x, y), LABEL, &line);
            items.push(Item::text(Role::Frame, text.fitted(room)));
        }
    }
    (canvas, items)
}

/// A line of 100 mm with an end stroke at both ends.
fn check_line(from: Point, with_words: bool) -> Vec<Item> {
    let to = from + Point::new(CHECK, 0.0);
    let end = Point::new(0.0, 2.0);
    // One path: the bar and its ends in one go, so that a cutter or plotter does not lift three times.
    let bar = [from + end, from - end, from, to, to + end, to - end];
    let mut items = vec![Item::stroke(
        Role::CheckBar,
        Path::of_points(bar, false),
        Pen::THIN,
    )];
    if with_words {
        let at = to + Point::new(2.0, -1.1);
        items.push(Item::text(Role::CheckBar, Text::new(at, LABEL, "100 mm")));
    }
    items
}
