//! What is on the paper of pictures and drawings touches nothing that it should not.

use jigless_core::load::NoIncludes;
use jigless_model::export::{ExportInput, Stamp};
use jigless_model::geom::{Bounds, Point};
use jigless_solid::view::{Camera, LineSettings, PictureSettings};
use jigless_steps::Phase;

use super::balloons::balloons;
use super::ink::{Look, inked};
use super::options::LookOptions;
use super::page::Page;
use super::scene::{Marking, Whole};
use super::stages::stages;
use crate::drawing::probe::collisions;
use crate::drawing::{Item, ItemShape, Role, Tint};

/// A cabinet of builders with doors, drawers and a shelf.
pub(crate) const PLAN: &str = "
jigless: 1
title: Cabinet
units: mm
stock:
  thick: {thickness: 18, sheets: [{width: 1220, height: 2440, count: 3}]}
  thin: {thickness: 6, sheets: [{width: 1220, height: 2440}]}
  side: {thickness: 12, sheets: [{width: 1220, height: 2440}]}
builds:
  c:
    carcass:
      stock: thick
      back_stock: thin
      width: 800
      height: 1000
      depth: 420
      shelves: [{name: deck, up: 700}]
      loose: [{count: 2, first: 60}]
  door:
    door_pair: {in: c-bottom, stock: thick, edge_gap: 4}
  drawer:
    drawer: {in: c-deck, count: 2, stock: side, bottom_stock: thin, front_stock: thick}
";

fn with_input<T>(run: impl FnOnce(&ExportInput) -> T) -> T {
    let compiled = jigless_core::compile("plan.yaml", PLAN.as_bytes(), &NoIncludes);
    let (plan, workpieces) = compiled.result.expect("no errors");
    let stamp = Stamp::new("test", None);
    run(&ExportInput::new(&plan, &workpieces, &stamp))
}

/// The lines of marks, and the circles around them.
fn parts(marks: &[Item]) -> (Vec<(Point, Point)>, Vec<Bounds>) {
    let (mut lines, mut circles) = (Vec::new(), Vec::new());
    for item in marks {
        if let ItemShape::Stroke(path, _) = &item.shape {
            if path.closed {
                circles.extend(path.bounds());
            } else {
                lines.push((path.vertices[0].point, path.vertices[1].point));
            }
        }
    }
    (lines, circles)
}

#[test]
fn marks_touch_no_line_and_no_other_mark_and_their_lines_do_not_cross() {
    with_input(|input| {
        let whole = Whole::new(input);
        let camera = Camera::axonometric(0.56, 0.42);
        let scenes = [
            (whole.closed(), Marking::Parts),
            (whole.open().expect("doors"), Marking::Parts),
            (whole.apart(&camera).expect("pieces"), Marking::Units),
        ];
        for (scene, marking) in scenes {
            let extent = scene.extent(&camera);
            let scale = 150.0 / extent.width().max(extent.height());
            let settings = PictureSettings {
                lines: LineSettings::default(),
                areas: true,
            };
            let picture = scene.picture(&camera, &settings);
            let look = Look {
                scale,
                tint: Tint::Grey,
                fine: true,
            };
            let items = inked(input.plan, &scene, &picture, look);
            let area = Bounds::new(extent.min * scale, extent.max * scale).grown(16.0);
            let (marks, left) = balloons(&picture, scale, &items, area, &scene.wanted(marking));
            assert_eq!(left, Vec::<String>::new());
            let (lines, circles) = parts(&marks);
            assert!(circles.len() > 3);
            for (index, one) in circles.iter().enumerate() {
                assert!(area.contains_box(*one, 1e-9));
                let radius = one.width() / 2.0;
                for other in &circles[..index] {
                    let apart = one.centre().distance(other.centre());
                    assert!(apart > radius + other.width() / 2.0, "{one:?} {other:?}");
                }
                for item in &items {
                    if let ItemShape::Stroke(path, pen) = &item.shape {
                        let off = path.distance_to(one.centre());
                        assert!(off > radius + pen.width / 2.0, "{one:?} on {:?}", item.role);
                    }
                }
            }
            let side =
                |line: (Point, Point), point: Point| (line.1 - line.0).cross(point - line.0) > 0.0;
            for (index, one) in lines.iter().enumerate() {
                for other in &lines[..index] {
                    let crossed = side(*one, other.0) != side(*one, other.1)
                        && side(*other, one.0) != side(*other, one.1);
                    assert!(!crossed, "{one:?} {other:?}");
                }
            }
            let mut all = items.clone();
            all.extend(marks);
            assert_eq!(collisions(&all, area), []);
        }
    });
}

#[test]
fn dimensions_and_words_of_drawings_touch_nothing() {
    with_input(|input| {
        for paper in ["a4", "a3", "letter", "tabloid"] {
            let sheets = crate::drawings::sheets_for_tests(input, paper);
            assert!(sheets.len() >= 3, "{paper}");
            for (number, sheet) in sheets.iter().enumerate() {
                let area = sheet.format.printable().grown(0.1);
                assert_eq!(
                    collisions(&sheet.items, area),
                    [],
                    "{paper}, sheet {}",
                    number + 1
                );
                let outside = sheet.items.iter().filter(|item| {
                    item.role != Role::Frame
                        && item.bounds().is_some_and(|b| !area.contains_box(b, 0.0))
                });
                assert_eq!(outside.count(), 0, "{paper}, sheet {}", number + 1);
            }
        }
    });
}

/// Every piece comes to the whole in one step, those of a drawer with it; what is there before has come before.
#[test]
fn pictures_of_steps_bring_each_piece_once() {
    with_input(|input| {
        let whole = Whole::new(input);
        let steps = jigless_steps::steps(input.plan, input.workpieces, &jigless_words::ENGLISH);
        let stages = stages(input.plan, &whole, &steps);
        let (built, come): (Vec<_>, Vec<_>) = stages
            .iter()
            .partition(|stage| stage.step.phase == Phase::Build);
        assert!(built.len() >= 3 && come.len() >= 6);
        let mut here: Vec<usize> = Vec::new();
        for stage in come {
            assert!(stage.there.iter().all(|piece| here.contains(piece)));
            for piece in stage.new.iter().flat_map(|unit| &unit.pieces) {
                assert!(!here.contains(piece), "{}", whole.pieces[*piece].id);
                here.push(*piece);
            }
        }
        here.sort_unstable();
        assert_eq!(here, (0..whole.pieces.len()).collect::<Vec<_>>());
        // Of two drawers that differ in their fronts one is shown from nothing on; both fronts come to a whole box.
        let counts: Vec<(usize, usize)> = built
            .iter()
            .map(|stage| (stage.there.len(), stage.new.len()))
            .collect();
        assert_eq!(counts, [(0, 2), (2, 1), (3, 1), (4, 1), (5, 1), (5, 1)]);
    });
}

/// What comes new leaves by a way that is free of what is there, and only it is marked.
#[test]
fn what_comes_new_is_marked_and_lies_beside_the_rest() {
    with_input(|input| {
        let whole = Whole::new(input);
        let steps = jigless_steps::steps(input.plan, input.workpieces, &jigless_words::ENGLISH);
        let look = LookOptions::default();
        let page = Page {
            plan: input.plan,
            look: &look,
            cautions: Vec::new(),
            words: &jigless_words::ENGLISH,
        };
        let camera = look.camera();
        for stage in stages(input.plan, &whole, &steps) {
            let scene = whole.coming_in(&stage.there, &stage.new, &camera);
            let wanted = scene.wanted(Marking::Accents);
            let new: Vec<&str> = stage
                .new
                .iter()
                .flat_map(|unit| &unit.pieces)
                .map(|piece| whole.pieces[*piece].mark.as_str())
                .collect();
            assert!(!wanted.is_empty());
            let marks = wanted.iter().flat_map(|wanted| &wanted.marks);
            for mark in marks {
                assert!(
                    new.contains(&mark.as_str()),
                    "{mark} in {}",
                    stage.step.name
                );
            }
            let (paper, items) = page.drawn(
                &[&scene],
                page.scale(&[&scene], &camera),
                &camera,
                Marking::Accents,
            );
            assert_eq!(collisions(&items, paper), [], "{}", stage.step.name);
            let said = items.iter().filter(|item| item.role == Role::Note);
            assert_eq!(said.count(), 0, "{}", stage.step.name);
        }
    });
}

/// The room lies behind: its lines meet at the far corner, and none is nearer than the whole.
#[test]
fn a_room_is_drawn_behind_the_whole() {
    with_input(|input| {
        let whole = Whole::new(input);
        let bounds = whole.bounds().expect("pieces");
        let room = jigless_model::whole::Box3 {
            min: bounds.min.map(|low| low - 100.0),
            max: bounds.max.map(|high| high + 300.0),
        };
        let seen = |camera: Camera| whole.closed().in_room(room, &camera).room;
        // From the front only the back wall; from before, right and above three sides.
        assert_eq!(seen(Camera::front()).len(), 4);
        let camera = Camera::axonometric(0.56, 0.42);
        let lines = seen(camera);
        assert_eq!(lines.len(), 12);
        let far = camera.paper(room.min);
        let there = lines
            .iter()
            .filter(|(from, to)| from.distance(far).min(to.distance(far)) < 1e-9);
        assert_eq!(there.count(), 6);
        let near = camera.paper(room.max);
        assert!(lines.iter().all(|(from, _)| from.distance(near) > 1.0));
    });
}
