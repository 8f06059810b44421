//! `pdf-template`: full-size templates to print, tape on and drill through.
//!
//! [`template`] draws a face and splits it over pages; [`tile_page`], [`check_sheet`] and [`hole_list`] lay the pages
//! out as [`sheet::Sheet`]s; [`paint`] turns sheets into a PDF and knows
//! nothing of parts, with [`content`] for what a page draws; [`finish`] adds what the
//! library that writes PDF has no words for.

mod beside;
mod card;
mod check_sheet;
mod content;
mod correction;
mod details;
mod embed;
mod finish;
mod hole_list;
mod hook;
mod local;
mod page_map;
mod paint;
mod paper;
mod seams;
mod sheet;
mod template;
mod tile_page;
mod tiling;

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage, Stamp};
use jigless_model::side::Face;
use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use correction::{CorrectionFault, PrinterCorrection};
pub use paper::{Orientation, Paper, Scope};

use crate::drawing::caption::Caption;
use crate::drawing::measure::{Lengths, PaperUnits};
use crate::drawing::{Tint, vet};
use card::Card;
use hole_list::HoleList;
use sheet::Sheet;
use template::Template;

/// Full-size templates.
#[derive(Debug)]
pub struct PdfTemplate;

/// What can be chosen of the templates.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct PdfTemplateOptions {
    /// Paper to print on.
    pub paper: Paper,
    /// Width of the roll, in millimetres; only with `paper: roll`.
    #[schemars(range(min = 210.0, max = 1600.0))]
    pub roll_width: f64,
    /// Which way up the pages are.
    pub orientation: Orientation,
    /// How much of a face is shown: small templates that fold over the nearest edges, or the whole face over pages to
    /// tape together.
    pub scope: Scope,
    /// Units of the numbers on paper. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Name of the printer that the pages are corrected for; it is printed on every page.
    pub printer: String,
    /// What is drawn across the feed for each millimetre meant, from 0.97 to 1.03.
    #[schemars(range(min = 0.97, max = 1.03))]
    pub scale_across: f64,
    /// What is drawn along the feed for each millimetre meant, from 0.97 to 1.03.
    #[schemars(range(min = 0.97, max = 1.03))]
    pub scale_feed: f64,
    /// How far a page goes on beyond a seam, in millimetres: the strip under its neighbour.
    #[schemars(range(min = 5.0, max = 30.0))]
    pub overlap: f64,
    /// Whether the first page is a check sheet with long bars, page map and hole list.
    pub check_sheet: bool,
    /// Inks: black and greys, or colour for areas and for words on areas and hand work; lines are always black.
    pub inks: Tint,
}

impl Default for PdfTemplateOptions {
    fn default() -> Self {
        Self {
            paper: Paper::A4,
            roll_width: 610.0,
            orientation: Orientation::Auto,
            scope: Scope::Auto,
            units: PaperUnits::Plan,
            fractions: 64,
            printer: String::new(),
            scale_across: 1.0,
            scale_feed: 1.0,
            overlap: 10.0,
            check_sheet: true,
            inks: Tint::Grey,
        }
    }
}

impl PdfTemplateOptions {
    /// What every corrected page says; nothing where pages are not corrected.
    fn correction(&self) -> Option<String> {
        let plain = [self.scale_across, self.scale_feed]
            .iter()
            .all(|scale| (scale - 1.0).abs() < 1e-9);
        let name = match self.printer.trim() {
            "" => "one printer",
            name => name,
        };
        (!plain).then(|| format!("corrected for {name}; not for others"))
    }

    fn lengths(&self, plan: Unit) -> Lengths {
        Lengths::on_paper(plan, self.units, self.fractions)
    }
}

impl Exporter for PdfTemplate {
    type Options = PdfTemplateOptions;

    fn id(&self) -> &'static str {
        "pdf-template"
    }

    fn summary(&self) -> &'static str {
        "full-size drilling templates to print on ordinary paper, one file for each part"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn vet(&self, input: &ExportInput, options: &Self::Options) -> Findings {
        let id = Exporter::id(self);
        let mut findings = vet::number(id, "overlap", options.overlap, (5.0, 30.0));
        findings.extend(vet::number(
            id,
            "roll_width",
            options.roll_width,
            (210.0, 1600.0),
        ));
        let scale = (1.0 - correction::MOST, 1.0 + correction::MOST);
        findings.extend(vet::number(id, "scale_across", options.scale_across, scale));
        findings.extend(vet::number(id, "scale_feed", options.scale_feed, scale));
        findings.extend(vet::fractions(id, options.fractions));
        findings.extend(vet::words(input));
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let part = |workpiece: &Workpiece| {
            let sheets = lay_out(input, workpiece, options);
            let title = format!("{} - {}", input.plan.title, workpiece.part.title);
            let bytes =
                paint::document(&sheets, &title, input.stamp).map_err(|message| ExportError {
                    exporter: Exporter::id(self),
                    message,
                })?;
            Ok(Artifact {
                path: format!("{}.pdf", workpiece.part.id),
                media_type: "application/pdf",
                part: Some(workpiece.part.id.clone()),
                bytes,
            })
        };
        input.workpieces.iter().map(part).collect()
    }
}

/// The pages of a part: the check sheet, the rest of the hole list, the templates of the front and of the back, and
/// details that had no room beside the work.
fn lay_out(input: &ExportInput, workpiece: &Workpiece, options: &PdfTemplateOptions) -> Vec<Sheet> {
    let correction = options.correction();
    let correction = correction.as_deref();
    let mut templates: Vec<Template> = Vec::new();
    let mut ruled = Vec::new();
    for face in Face::ALL {
        if face == Face::Front || workpiece.has_work_on(face) {
            let mut found = template::of_face(input, workpiece, face, options);
            templates.append(&mut found.templates);
            ruled.append(&mut found.ruled);
        }
    }
    let mut pages = Vec::new();
    let mut homeless = Vec::new();
    let mut cards: Vec<Card> = Vec::new();
    for template in &templates {
        let mut left = template.cards.clone();
        for index in 0..template.tiles.len() {
            let inks = options.inks.into();
            let mut drawn = tile_page::draw(template, index, left, inks, correction);
            pages.push(drawn.sheet);
            homeless.append(&mut drawn.homeless);
            left = drawn.cards;
        }
        left.retain(|card| !cards.contains(card));
        cards.append(&mut left);
    }
    let leaf = paper::check_sheet_leaf(options);
    let part = &workpiece.part.title;
    let told = options.check_sheet || !homeless.is_empty() || !ruled.is_empty();
    if !told {
        pages.extend(details::pages(leaf, part, correction, &cards));
        return pages;
    }
    let list = HoleList::new(&templates, &ruled, &homeless);
    let caption = Caption::new(
        input,
        &workpiece.part,
        Face::Front,
        options.lengths(input.plan.units),
    );
    let first = options.check_sheet.then(|| {
        let told = check_sheet::Told {
            title: caption.part.clone(),
            facts: facts(&caption),
            pages: count_of_pages(0),
            templates: &templates,
            list: Some(&list),
            correction,
        };
        check_sheet::draw(leaf, &told)
    });
    let mut taken = 0;
    let mut on_check_sheet = Vec::new();
    if let Some(first) = &first {
        taken = first.taken;
        let room = check_sheet::room(leaf);
        cards = details::place(room, &first.sheet.items, cards, &mut on_check_sheet);
    }
    pages.extend(details::pages(leaf, part, correction, &cards));
    let mut lists = Vec::new();
    while taken < list.len() {
        let (sheet, now) = list.page(leaf, correction, taken);
        if now == taken {
            break;
        }
        lists.push(sheet);
        taken = now;
    }
    let mut sheets = Vec::new();
    if let Some(mut first) = first {
        first.tell_pages(&count_of_pages(1 + lists.len() + pages.len()));
        first.sheet.items.append(&mut on_check_sheet);
        sheets.push(first.sheet);
    }
    sheets.append(&mut lists);
    sheets.append(&mut pages);
    sheets
}

/// What the check sheet says of the part.
fn facts(caption: &Caption) -> Vec<String> {
    let mut facts = vec![
        caption.plan.clone(),
        caption.make.clone(),
        caption.size.clone(),
    ];
    if let (Some(hand), Some(pair)) = (caption.hand, &caption.pair) {
        facts.push(format!("{}: {pair}", hand.word));
    }
    facts
}

fn count_of_pages(pages: usize) -> String {
    match pages {
        1 => "Nothing is to be laid out beyond this page: cut the part to size.".to_owned(),
        _ => format!(
            "{pages} pages with this one. Templates are 1:1; small pictures are NOT TO SCALE."
        ),
    }
}

/// The check sheet alone: bars and outlines to measure a printer by.
///
/// # Errors
/// When the library that writes PDF fails.
pub fn print_check(options: &PdfTemplateOptions, stamp: &Stamp) -> Result<Vec<u8>, ExportError> {
    let correction = options.correction();
    let leaf = paper::check_sheet_leaf(options);
    let told = check_sheet::Told {
        title: options.printer.clone(),
        facts: Vec::new(),
        pages: String::new(),
        templates: &[],
        list: None,
        correction: correction.as_deref(),
    };
    let sheet = check_sheet::draw(leaf, &told).sheet;
    paint::document(&[sheet], "Check sheet", stamp).map_err(|message| ExportError {
        exporter: Exporter::id(&PdfTemplate),
        message,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::probe::collisions;
    use jigless_core::load::NoIncludes;
    use jigless_model::export::Stamp;
    use jigless_model::geom::Point;
    use jigless_model::plan::Plan;

    /// Parts with everything that a face can show, crowded and roomy.
    const PLAN: &str = r#"
jigless: 1
title: Glaze cabinet
revision: "1.2"
units: mm
stock:
  ply18: {label: Birch plywood 18 mm, thickness: [17.6, 17.8], kind: plywood}
parts:
  door:
    title: Left door
    stock: ply18
    width: 296
    height: 500
    grain: height
    faces: {front: outside, back: inside}
    edges: {left: hinge edge}
    features:
      - hinge_cups: {edge: left, at: [63.5, height - 63.5], face: back, edge_gap: 6.35, screws: {spacing: 45, behind: 9.5, diameter: 2.5, depth: 10}}
      - hole: {at: {right: 37, top: 250}, diameter: 5, countersink: {diameter: 10, angle: 90}, label: handle}
      - corner: {which: top-right, radius: 25}
      - mark: {line: {from: [40, 200], to: [260, 200]}, text: "Дверь ⌀ → ½"}
  side:
    stock: ply18
    width: 300
    height: 720
    grain: height
    mirror_as: side-right
    features:
      - pin_rows: {setback: {left: 60, right: 37}, first: 96, step: 32, count: 16, diameter: 5, depth: 10}
      - rebate: {edge: right, width: 9, depth: 6.2}
      - groove: {along: width, from: {bottom: 60}, width: 18, depth: 6}
      - notch: {edge: bottom, start: 0, width: 60, depth: 40, corner_radius: 6}
  rail:
    stock: ply18
    width: 560
    height: 90
    grain: width
    features:
      - pocket_holes: {edge: left, at: [25, 65], face: back}
      - edge_hole: {edge: top, along: 100, diameter: 8, depth: 30}
      - bevel: {edge: bottom, angle: 15}
      - recess: {centre: [280, 45], diameter: 30, depth: 3}
      - cutout: {at: [400, 20], width: 50, height: 30, corner_radius: 5}
  pegs:
    stock: ply18
    width: 500
    height: 420
    features:
      - hole_row: {first: [10, 10], step: [12, 0], count: 40, rows: {step: [0, 12], count: 33}, diameter: 6}
"#;

    fn compiled() -> (Plan, Vec<Workpiece>) {
        let compiled = jigless_core::compile("plan.yaml", PLAN.as_bytes(), &NoIncludes);
        compiled
            .result
            .unwrap_or_else(|| panic!("{:?}", compiled.findings))
    }

    fn papers() -> Vec<PdfTemplateOptions> {
        [
            Paper::A4,
            Paper::A3,
            Paper::Letter,
            Paper::Legal,
            Paper::Tabloid,
            Paper::Both,
            Paper::Roll,
        ]
        .map(|paper| PdfTemplateOptions {
            paper,
            ..PdfTemplateOptions::default()
        })
        .to_vec()
    }

    /// The whole front of a part.
    fn whole(input: &ExportInput, workpiece: &Workpiece, options: &PdfTemplateOptions) -> Template {
        let options = PdfTemplateOptions {
            scope: Scope::Face,
            ..options.clone()
        };
        let found = template::of_face(input, workpiece, Face::Front, &options);
        found.templates.into_iter().next().unwrap()
    }

    /// Every paper; and what is read most, with every scope, both units and stretched as far as a printer may be.
    fn many_ways() -> Vec<PdfTemplateOptions> {
        let mut ways = papers();
        for paper in [Paper::A4, Paper::Letter] {
            for scope in [Scope::Local, Scope::Face] {
                ways.push(PdfTemplateOptions {
                    paper,
                    scope,
                    units: PaperUnits::Both,
                    fractions: 32,
                    printer: "kitchen".to_owned(),
                    scale_across: 1.03,
                    scale_feed: 0.97,
                    ..PdfTemplateOptions::default()
                });
            }
        }
        ways
    }

    #[test]
    fn no_words_lie_on_marks_or_words_and_no_ink_near_the_edge() {
        let (plan, workpieces) = compiled();
        let stamp = Stamp::new("jigless", None);
        let input = ExportInput::new(&plan, &workpieces, &stamp);
        for options in many_ways() {
            for workpiece in &workpieces {
                for (page, sheet) in lay_out(&input, workpiece, &options).iter().enumerate() {
                    let place = format!("{options:?} {} page {page}", workpiece.part.id);
                    let full =
                        jigless_model::geom::Bounds::of_size(sheet.leaf.size.0, sheet.leaf.size.1);
                    let inked = full.grown(-paper::MARGIN);
                    assert_eq!(collisions(&sheet.items, inked), [], "{place}");
                    for item in &sheet.items {
                        let bounds = item.bounds().unwrap();
                        assert!(inked.contains_box(bounds, 1e-6), "{place}: {item:?}");
                    }
                }
            }
        }
    }

    /// Every hole is on the page that owns its place, and where it is within 10 mm of a seam also on the other.
    #[test]
    fn holes_near_a_seam_are_on_both_pages() {
        let (plan, workpieces) = compiled();
        let stamp = Stamp::new("jigless", None);
        let input = ExportInput::new(&plan, &workpieces, &stamp);
        let options = PdfTemplateOptions::default();
        let mut near = 0;
        for workpiece in &workpieces {
            let template = whole(&input, workpiece, &options);
            for hole in &template.drawing.holes {
                let at = hole.centre;
                let owners = template.tiles.iter().filter(|t| t.core.contains(at, 0.0));
                assert!(owners.count() >= 1, "{} {}", workpiece.part.id, hole.id);
                for tile in &template.tiles {
                    let core = tile.core;
                    let nearest = Point::new(
                        at.x.clamp(core.min.x, core.max.x),
                        at.y.clamp(core.min.y, core.max.y),
                    );
                    let off = nearest - at;
                    if off.x.abs() < 10.0 && off.y.abs() < 10.0 {
                        near += usize::from(off.length() > 0.0);
                        assert!(
                            tile.window.contains(at, 1e-9),
                            "{} {}",
                            workpiece.part.id,
                            hole.id
                        );
                    }
                }
            }
        }
        assert!(near > 10, "the crowded board must have holes near seams");
    }

    /// Small templates show every hole of the whole face, and each inside its page.
    #[test]
    fn small_templates_leave_no_hole_out() {
        let (plan, workpieces) = compiled();
        let stamp = Stamp::new("jigless", None);
        let input = ExportInput::new(&plan, &workpieces, &stamp);
        let (mut small, mut holes) = (0, 0);
        for paper in [Paper::A4, Paper::Letter, Paper::A3] {
            for workpiece in &workpieces {
                for face in Face::ALL {
                    let found = |scope: Scope| {
                        let options = PdfTemplateOptions {
                            paper,
                            scope,
                            ..PdfTemplateOptions::default()
                        };
                        template::of_face(&input, workpiece, face, &options).templates
                    };
                    let mut shown: Vec<String> = Vec::new();
                    for template in found(Scope::Local) {
                        small += usize::from(template.small.is_some());
                        for hole in &template.drawing.holes {
                            let at = hole.centre;
                            let there = |tile: &tiling::Tile| tile.window.contains(at, 1e-6);
                            assert!(template.tiles.iter().any(there), "{hole:?}");
                            shown.push(hole.id.clone());
                        }
                    }
                    let whole = &found(Scope::Face)[0].drawing.holes;
                    // Holes into edges are laid out from the front.
                    let owed = |id: &str| face == Face::Front || !id.starts_with('E');
                    let mut wanted: Vec<String> = whole
                        .iter()
                        .map(|hole| hole.id.clone())
                        .filter(|id| owed(id))
                        .collect();
                    shown.retain(|id| owed(id));
                    shown.sort();
                    shown.dedup();
                    wanted.sort();
                    holes += wanted.len();
                    assert_eq!(shown, wanted, "{paper:?} {} {face:?}", workpiece.part.id);
                }
            }
        }
        assert!(
            small > 20 && holes > 4000,
            "{small} templates, {holes} holes"
        );
    }

    /// Pin rows leave gaps of 32 mm, and these papers slack enough: no seam needs to come within 10 mm of a hole.
    #[test]
    fn seams_stay_clear_of_a_row_of_holes() {
        let (plan, workpieces) = compiled();
        let stamp = Stamp::new("jigless", None);
        let input = ExportInput::new(&plan, &workpieces, &stamp);
        let side = workpieces.iter().find(|w| w.part.id == "side").unwrap();
        let roomy = |o: &PdfTemplateOptions| {
            !matches!(o.paper, Paper::Legal | Paper::Tabloid | Paper::Both)
        };
        for options in papers().into_iter().filter(roomy) {
            let template = whole(&input, side, &options);
            for hole in &template.drawing.holes {
                let owner = template
                    .tiles
                    .iter()
                    .find(|t| t.core.contains(hole.centre, 0.0));
                let clear = owner.unwrap().core.grown(-10.0 + 1e-9);
                let (x, y) = (hole.centre.x, hole.centre.y);
                let part = template.drawing.extent;
                let clear_x = x >= clear.min.x && x <= clear.max.x;
                let clear_y = y >= clear.min.y && y <= clear.max.y;
                let at_end = x < part.min.x + 10.0 || x > part.max.x - 10.0;
                assert!(
                    (clear_x || at_end) && clear_y,
                    "{:?} {}",
                    options.paper,
                    hole.id
                );
            }
        }
    }
}
