//! Pages and pictures of plans that are cut up here: nothing lies on anything else, nothing is outside, no type is too
//! small, and the numbers are those of the layout.

use jigless_core::arrange::arrange;
use jigless_core::load::NoIncludes;
use jigless_model::export::{ExportInput, Stamp};
use jigless_model::plan::Plan;
use jigless_model::sheets::{CutStep, micrometres};
use jigless_model::workpiece::Workpiece;

use super::job::{Job, sheet_jobs};
use super::pages;
use super::sketch::SMALLEST;
use crate::drawing::measure::{Lengths, PaperUnits};
use crate::drawing::probe::collisions;
use crate::drawing::{ItemShape, Tint};
use crate::pdf::Paper;
use crate::saw_options::SawOptions;

/// Sheets with and without grain, small and narrow pieces, and boards of two widths.
const PLAN: &str = "
jigless: 1
title: Shelves and legs
units: mm
stock:
  ply: {thickness: 18, kind: plywood, label: Birch plywood 18 mm, sheets: [{width: 1220, height: 2440}]}
  board: {thickness: 6, kind: hardboard, sheets: [{width: 2440, height: 1220}]}
  beech: {thickness: 20, kind: solid, boards: [{length: 2400}]}
parts:
  side: {stock: ply, width: 400, height: 1800, grain: height, count: 2}
  shelf: {stock: ply, width: 764.3, height: 350, grain: width, count: 5}
  rail: {stock: ply, width: 764.3, height: 60, grain: width, count: 4}
  block: {stock: ply, width: 40, height: 40, count: 9}
  slip: {stock: ply, width: 12, height: 300, count: 3}
  back: {stock: board, width: 800, height: 1800}
  bottom: {stock: board, width: 500, height: 450, count: 3}
  leg: {stock: beech, width: 60, height: 700, grain: height, count: 4}
  stretcher: {stock: beech, width: 40, height: 455.5, grain: height, count: 5}
  peg: {stock: beech, width: 40, height: 30, grain: height, count: 2}
";

fn compiled(text: &str) -> (Plan, Vec<Workpiece>) {
    let compiled = jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes);
    compiled.result.expect("the plan has no errors")
}

fn options() -> SawOptions {
    SawOptions {
        saw_kerf: 3.2,
        guide_offset: Some(117.5),
        longest: Some(1300.0),
        effort: jigless_model::sheets::Effort::Quick,
        ..SawOptions::default()
    }
}

#[test]
fn pages_are_clean_on_every_paper() {
    let (plan, workpieces) = compiled(PLAN);
    let arrangement = arrange(&workpieces, &options().settings());
    let stamp = Stamp::new("test", None);
    let input = ExportInput::new(&plan, &workpieces, &stamp).on_sheets(&arrangement);
    for paper in [Paper::A4, Paper::Letter, Paper::A3, Paper::Both] {
        for units in [PaperUnits::Mm, PaperUnits::Inch, PaperUnits::Both] {
            let lengths = Lengths::on_paper(plan.units, units, 64);
            let job = Job::new(&input, lengths, micrometres(100.0)).unwrap();
            let format = paper.format().unwrap();
            for (index, page) in pages::pages(&job, format, Tint::Grey).iter().enumerate() {
                let name = format!("{paper:?} {units:?} page {}", index + 1);
                assert_eq!(collisions(&page.items, format.printable()), [], "{name}");
                for item in &page.items {
                    let bounds = item.bounds().unwrap();
                    let inside = format.printable().grown(0.5);
                    assert!(inside.contains_box(bounds, 1e-6), "{name}: {item:?}");
                    if let ItemShape::Text(text) = &item.shape {
                        assert!(text.size >= SMALLEST, "{name}: {text:?}");
                    }
                }
            }
        }
    }
}

/// Every piece has its mark and every cut its number in the picture, but for what is smaller than type.
#[test]
fn pictures_name_what_they_show() {
    let (plan, workpieces) = compiled(PLAN);
    let arrangement = arrange(&workpieces, &options().settings());
    let stamp = Stamp::new("test", None);
    let input = ExportInput::new(&plan, &workpieces, &stamp).on_sheets(&arrangement);
    let lengths = Lengths::on_paper(plan.units, PaperUnits::Mm, 64);
    let job = Job::new(&input, lengths, micrometres(100.0)).unwrap();
    let mut numbered = 0;
    for layout in &arrangement.stocks {
        for sheet in sheet_jobs(layout) {
            let corner = jigless_model::geom::Point::default();
            let picture = super::sheet_picture::draw(&job, &sheet, corner, 10.0, Tint::Grey);
            let words: Vec<&str> = picture
                .items
                .iter()
                .filter_map(|item| match &item.shape {
                    ItemShape::Text(text) => Some(text.words.as_str()),
                    _ => None,
                })
                .collect();
            let written = |step: &&CutStep| words.contains(&step.number.to_string().as_str());
            let without = sheet.steps.len() - sheet.steps.iter().filter(written).count();
            numbered += sheet.steps.len() - without;
            let excused = picture
                .unplaced
                .iter()
                .any(|words| words.starts_with("cut "));
            assert_eq!(without > 0, excused, "{:?}", picture.unplaced);
            for (at, piece) in sheet.sheet.pieces() {
                let mark = job.piece(layout, piece.kind, piece.copy);
                let written = words
                    .iter()
                    .any(|words| words.split(' ').next() == Some(&mark));
                // 35 mm at one to ten are 3.5: type of 2.5 and its room.
                let tiny = at.width.min(at.height) < micrometres(50.0);
                assert!(written || tiny, "{mark}");
                assert!(written || picture.unplaced.contains(&mark), "{mark}");
            }
        }
    }
    assert!(numbered > 20, "{numbered}");
}

/// Wood and board with sizes is sawn, unless something else cuts it.
#[test]
fn plans_that_are_sawn() {
    for (stock, is_sawn) in [
        ("kind: plywood, sheets: [{width: 900, height: 900}]", true),
        ("kind: solid, boards: [{length: 900}]", true),
        ("kind: plywood", false),
        (
            "kind: plywood, cut_by: router, sheets: [{width: 900, height: 900}]",
            false,
        ),
        ("kind: acrylic, sheets: [{width: 900, height: 900}]", false),
        (
            "kind: acrylic, cut_by: saw, sheets: [{width: 900, height: 900}]",
            true,
        ),
    ] {
        let text = format!(
            "jigless: 1\ntitle: t\nunits: mm\nstock:\n  s: {{thickness: 18, {stock}}}\nparts:\n  p: {{stock: s, width: 90, height: 60}}\n"
        );
        let (plan, _) = compiled(&text);
        assert_eq!(super::suits::saw(&plan), is_sawn, "{stock}");
    }
}
