//! Figures, by the code that draws for the other formats. What is worked out for one of them is never worked out anew
//! here.

use jigless_model::geom::Bounds;
use jigless_model::side::Face;
use jigless_model::workpiece::Workpiece;
use jigless_solid::view::Camera;
use jigless_steps::WorkStep;

use super::context::Context;
use super::model::{Figure, Image};
use crate::drawing::Item;
use crate::drawings::{PartPicture, part_picture, worked_faces};
use crate::views::{LookOptions, Marking, Page, Scene, stages};
use jigless_words::said;

/// Width of the text on paper, in millimetres; pictures are drawn for it.
pub(crate) const TEXT_WIDTH: f64 = 170.0;
/// Width of the picture on the cover at most, in millimetres.
const COVER: f64 = 150.0;
/// Width of the picture of a step, in millimetres.
const STEP: f64 = 104.0;
/// Height of a picture of a part at most, in millimetres.
const PART: f64 = 105.0;
/// The same for parts that would be reduced more than one to so many in it.
const TALL_PART: f64 = 165.0;
const MOST_REDUCED: f64 = 10.0;

/// The whole, open where something opens; where pieces have no places, the part with the most work on it.
pub(crate) fn cover(context: &Context) -> Option<Figure> {
    if context.whole.pieces.is_empty() {
        let workpieces = context.input.workpieces.iter();
        let busiest = workpieces
            .rev()
            .max_by_key(|workpiece| workpiece.operations.len())?;
        return part(context, busiest).0.into_iter().next();
    }
    let title = &context.input.plan.title;
    let open = context.whole.open();
    let (scene, template) = match &open {
        Some(open) => (open, context.words.open_picture_of),
        None => (&context.whole.closed(), context.words.picture_of),
    };
    let look = look(context, COVER, false);
    let alternative = said(template, &[title]);
    Some(figure(context, scene, &look, Marking::Parts, &alternative))
}

/// The whole with its pieces moved apart and marked.
pub(crate) fn exploded(context: &Context) -> Option<Figure> {
    let look = look(context, TEXT_WIDTH - 10.0, true);
    let scene = context.whole.apart(&look.camera())?;
    let title = &context.input.plan.title;
    let alternative = said(context.words.exploded_picture_of, &[title]);
    let figure = figure(context, &scene, &look, Marking::Units, &alternative);
    Some(Figure {
        caption: context.words.exploded_caption.to_owned(),
        ..figure
    })
}

/// The pictures of those of some steps that add pieces, with the numbers of their steps.
pub(crate) fn steps(context: &Context, wanted: &[WorkStep]) -> Vec<(usize, Figure)> {
    let look = look(context, STEP, true);
    let camera = look.camera();
    let all = stages(context.input.plan, &context.whole, &context.steps);
    let is_wanted = |number: usize| wanted.iter().any(|step| step.number == number);
    let some = all.iter().filter(|stage| is_wanted(stage.step.number));
    let drawn = some.map(|stage| {
        let scene = context.whole.coming_in(&stage.there, &stage.new, &camera);
        let step = stage.step;
        let titles: Vec<&str> = step.pieces.iter().map(|p| p.title.as_str()).collect();
        let words = [step.number.to_string(), titles.join(", ")];
        let alternative = said(context.words.step_picture, &[&words[0], &words[1]]);
        (
            step.number,
            figure(context, &scene, &look, Marking::Accents, &alternative),
        )
    });
    drawn.collect()
}

/// A part by itself, with what is said of its work: all its faces in one picture, or one each where they would become too
/// small.
pub(crate) fn part(context: &Context, workpiece: &Workpiece) -> (Vec<Figure>, Vec<String>) {
    let faces = worked_faces(workpiece);
    let drawn = |faces: &[Face], height| {
        part_picture(workpiece, faces, context.lengths, (TEXT_WIDTH, height))
    };
    let together = drawn(&faces, PART);
    let pictures = if together.one_to > MOST_REDUCED {
        faces
            .iter()
            .map(|face| drawn(&[*face], TALL_PART))
            .collect()
    } else {
        vec![together]
    };
    let words = pictures.iter().flat_map(|one| one.words.clone()).collect();
    let figures = pictures
        .into_iter()
        .map(|one| of_part(context, workpiece, one));
    (figures.collect(), words)
}

fn of_part(context: &Context, workpiece: &Workpiece, drawn: PartPicture) -> Figure {
    let part = &workpiece.part;
    let named = format!("{} {}", context.mark(part), part.title);
    Figure {
        image: cropped(drawn.items),
        alternative: said(context.words.drawing_of, &[&named]),
        caption: said(
            context.words.drawing_scale,
            &[&context.one_to(drawn.one_to)],
        ),
        part: Some(part.id.clone()),
    }
}

/// What is drawn, on just the paper that it takes.
pub(crate) fn cropped(items: Vec<Item>) -> Image {
    let boxes = items.iter().filter_map(Item::bounds);
    let canvas = boxes.reduce(Bounds::union);
    Image::Drawn(
        items,
        canvas.unwrap_or(Bounds::of_size(1.0, 1.0)).grown(0.5),
    )
}

fn look(context: &Context, width: f64, marks: bool) -> LookOptions {
    LookOptions {
        width,
        marks,
        inks: context.options.inks,
        ..LookOptions::default()
    }
}

fn figure(
    context: &Context,
    scene: &Scene,
    look: &LookOptions,
    marking: Marking,
    alternative: &str,
) -> Figure {
    let page = Page {
        plan: context.input.plan,
        look,
        cautions: Vec::new(),
        words: context.language,
    };
    let camera: Camera = look.camera();
    let scenes = [scene];
    let scale = page.scale(&scenes, &camera);
    let (_, items) = page.drawn(&scenes, scale, &camera, marking);
    Figure {
        image: cropped(items),
        alternative: alternative.to_owned(),
        caption: String::new(),
        part: None,
    }
}
