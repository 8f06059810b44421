//! Tests on the pages of whole parts.

use jigless_core::load::NoIncludes;
use jigless_model::export::{ExportInput, Stamp};
use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::Plan;
use jigless_model::side::Face;
use jigless_model::workpiece::Workpiece;

use super::options::PdfTemplateOptions;
use super::page_format::MARGIN;
use super::paper::{Paper, Scope};
use super::plan_pages::lay_out;
use super::short_names;
use super::template::Template;
use super::template_maker;
use super::tiling::Tile;
use crate::drawing::measure::PaperUnits;
use crate::drawing::probe::collisions;

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
fn whole<'a>(
    input: &ExportInput,
    workpiece: &'a Workpiece,
    options: &PdfTemplateOptions,
) -> Template<'a> {
    let options = PdfTemplateOptions {
        scope: Scope::Face,
        ..options.clone()
    };
    let found = template_maker::of_face(input, workpiece, Face::Front, &options);
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
        for (page, sheet) in lay_out(&input, &options).sheets.iter().enumerate() {
            let place = format!("{options:?} page {page}");
            let full = Bounds::of_size(sheet.format.size.0, sheet.format.size.1);
            let inked = full.grown(-MARGIN);
            assert_eq!(collisions(&sheet.items, inked), [], "{place}");
            for item in &sheet.items {
                let bounds = item.bounds().unwrap();
                assert!(inked.contains_box(bounds, 1e-6), "{place}: {item:?}");
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

/// Small templates are for every hole of the whole face, and show each, or what it repeats, inside their page.
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
                    template_maker::of_face(&input, workpiece, face, &options)
                };
                let mut shown: Vec<String> = Vec::new();
                for template in found(Scope::Local).templates {
                    small += usize::from(template.small.is_some());
                    for hole in &template.drawing.holes {
                        let at = hole.centre;
                        let there = |tile: &Tile| tile.window.contains(at, 1e-6);
                        assert!(template.tiles.iter().any(there), "{hole:?}");
                    }
                    let work = template
                        .view
                        .operations
                        .iter()
                        .chain(&template.view.edge_work);
                    shown.extend(work.map(|operation| short_names::of(Some(operation))));
                }
                let whole = found(Scope::Face);
                let whole = &whole.templates[0].drawing.holes;
                // Holes into edges are laid out from the front.
                let owed = |id: &str| face == Face::Front || !id.starts_with('E');
                let mut wanted: Vec<String> = whole
                    .iter()
                    .map(|hole| hole.id.clone())
                    .filter(|id| owed(id))
                    .collect();
                shown.retain(|id| owed(id) && id.starts_with(['H', 'P', 'E']));
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
    let roomy =
        |o: &PdfTemplateOptions| !matches!(o.paper, Paper::Legal | Paper::Tabloid | Paper::Both);
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
