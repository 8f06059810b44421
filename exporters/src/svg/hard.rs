//! A template to be cut from sheet: every line is a cut, and there is each line once.

use jigless_model::geom::{Bounds, circle};
use jigless_model::operation::Work;
use jigless_model::view::FaceView;

use super::options::SvgDrillingOptions;
use crate::drawing::{Ellipse, Ink, Item, ItemShape, Pen, Role};

/// The pen of every cut.
const CUT: Pen = Pen::new(0.1, Ink::BLACK);

/// The cuts of a face in view coordinates, and the box of the whole.
pub(super) fn compose(view: &FaceView, options: &SvgDrillingOptions) -> (Bounds, Vec<Item>) {
    let mut items: Vec<Item> = view
        .contours
        .iter()
        .map(|cut| Item::stroke(Role::Contour, cut.path.clone(), CUT))
        .collect();
    let guided = |diameter: f64| {
        if options.guide > 0.0 {
            options.guide
        } else {
            diameter
        }
    };
    for operation in &view.operations {
        match &operation.work {
            Work::Drill(drill) => {
                let hole = circle(drill.centre, guided(drill.diameter) / 2.0);
                items.push(Item::stroke(Role::Hole, hole, CUT));
            }
            Work::AngledBore(bore) => items.push(Item {
                role: Role::HandWork,
                shape: ItemShape::Ellipse(
                    Ellipse {
                        centre: bore.entry,
                        half_length: bore.mouth_half_length(),
                        half_width: bore.diameter / 2.0,
                        angle: (bore.exit - bore.entry).angle(),
                    },
                    CUT,
                ),
            }),
            Work::MillArea(_)
            | Work::CutContour(_)
            | Work::Mark(_)
            | Work::EdgeDrill(_)
            | Work::Bevel(_) => {}
        }
    }
    let face = Bounds::of_size(view.width, view.height);
    let boxes = items.iter().filter_map(Item::bounds);
    let canvas = boxes.fold(face, Bounds::union).grown(options.margin);
    (canvas, items)
}
