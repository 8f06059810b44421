//! The texts of a file, on layer NOTES: what the part is, how it is drawn, and what each layer means.
//!
//! They stand above the part, so that the part's lower left corner stays the origin and no text lies on the work.

use jigless_model::caution::{Caution, DEFER};
use jigless_model::export::ExportInput;
use jigless_model::geom::Point;
use jigless_model::plan::StockKind;
use jigless_model::side::{Edge, Face};
use jigless_model::units::Unit;
use jigless_model::view::FaceView;

use super::drawing::{CHARACTER_WIDTH, LayerDrawing, LayerShape, NoteText};
use super::hand_work;
use super::layers::{Layer, LayerNaming};
use super::ngc::LayerOperation;
use crate::drawing::measure::Lengths;

/// Between base lines, in heights of the text. Common practice, no source.
const LINE_STEP: f64 = 1.7;

/// Height of the texts for a view, in millimetres: to be read when the whole part fills a screen. Common practice, no
/// source.
pub(super) fn text_height(view: &FaceView) -> f64 {
    (view.width.max(view.height) / 100.0).clamp(2.0, 8.0)
}

/// Names each side of the drawing by the part's own edge, where there is room beside it.
pub(super) fn label_edges(view: &FaceView, drawing: &mut LayerDrawing) {
    for side in Edge::ALL {
        let edge = view.physical(side);
        let label = match view.workpiece.part.edge_label(edge) {
            Some(label) => format!("{} edge ({label})", edge.name()),
            None => format!("{} edge", edge.name()),
        };
        let text = place_label(view, side, &label, drawing);
        drawing.add(Layer::Notes, LayerShape::Text(text));
    }
}

/// The first place along a side, from the middle outward and then further in, where a label lies on no line; the
/// middle, if there is none.
fn place_label(view: &FaceView, side: Edge, label: &str, drawing: &LayerDrawing) -> NoteText {
    /// How far along the side, as shares of its length.
    const ALONG: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
    /// How far in, in heights of the text.
    const INWARD: [f64; 3] = [0.5, 2.0, 3.5];

    let length = if side.is_upright() {
        view.height
    } else {
        view.width
    };
    let fits = 0.8 * length / (label.chars().count() as f64 * CHARACTER_WIDTH);
    let height = text_height(view)
        .min(fits)
        .min(view.width.min(view.height) / 10.0);
    let text_at = |share: f64, rows: f64| {
        let inside = rows * height + hand_work::setback_at(view, side);
        let along = share * length;
        let at = match side {
            Edge::Left => Point::new(inside + height, along),
            Edge::Right => Point::new(view.width - inside, along),
            Edge::Bottom => Point::new(along, inside),
            Edge::Top => Point::new(along, view.height - inside - height),
        };
        NoteText {
            at,
            centred: true,
            height,
            upward: side.is_upright(),
            content: label.to_owned(),
        }
    };
    let view_box = view.workpiece.part.bounds();
    INWARD
        .iter()
        .flat_map(|&rows| ALONG.iter().map(move |&share| (share, rows)))
        .map(|(share, rows)| text_at(share, rows))
        .find(|text| view_box.contains_box(text.bounds(), 0.0) && drawing.is_clear(text.bounds()))
        .unwrap_or_else(|| text_at(0.5, 0.5))
}

/// Writes lines above everything, from a height on, the first one on top.
pub(super) fn write_block(above: f64, height: f64, lines: &[String], drawing: &mut LayerDrawing) {
    let count = lines.len();
    for (index, line) in lines.iter().enumerate() {
        let below = (count - index) as f64;
        let text = NoteText {
            at: Point::new(0.0, above + below * height * LINE_STEP),
            centred: false,
            height,
            upward: false,
            content: line.clone(),
        };
        drawing.add(Layer::Notes, LayerShape::Text(text));
    }
}

/// What the part is and how it is drawn, line by line.
pub(super) fn identity(input: &ExportInput, view: &FaceView, unit: Unit) -> Vec<String> {
    let part = &view.workpiece.part;
    let stock = &part.stock;
    let mut lines = vec![
        format!("{}: {} ({})", input.plan.title, part.title, part.id),
        match part.face_label(view.face) {
            Some(label) => format!("Seen on the {} face ({label})", view.face.name()),
            None => format!("Seen on the {} face", view.face.name()),
        },
    ];
    if view.face == Face::Back {
        lines.push(format!(
            "Turn over about the vertical axis at x = {}, so that left and right change places",
            unit.show(view.width / 2.0)
        ));
    }
    lines.push(format!("Count: {}", part.count));
    if let Some(pair) = &part.pair {
        lines.push(format!("Handed pair with {}", pair.other));
    }
    lines.push(format!(
        "Stock: {} ({}), thickness {} measured",
        stock.label,
        stock.kind.name(),
        unit.show(part.thickness())
    ));
    let sizes = Lengths::decimal(unit);
    lines.push(format!(
        "Size: {} x {} {}",
        sizes.bare(view.width),
        sizes.bare(view.height),
        unit.symbol()
    ));
    lines.push(format!("Units: {}", sizes.describe()));
    if let Some(revision) = &input.plan.revision {
        lines.push(format!("Revision: {revision}"));
    }
    if let Some(licence) = &input.plan.licence {
        lines.push(format!("Licence: {licence}"));
    }
    lines.push(format!("Made by {}", input.stamp.tool));
    lines
}

/// What each layer of the drawing means and which operations of the program do it, line by line.
pub(super) fn legend(
    drawing: &LayerDrawing,
    naming: &LayerNaming,
    operations: &[LayerOperation],
) -> Vec<String> {
    let mut lines = Vec::new();
    for (name, layer) in drawing.layers(naming) {
        if layer != Layer::Notes {
            let meaning = layer.meaning(naming.unit);
            lines.push(format!(
                "Layer {name}: {meaning}{}",
                numbers_on(layer, operations)
            ));
        }
    }
    if !operations.is_empty() {
        lines.push("Operations: numbers in brackets, as on the job sheet and in the program for the router".to_owned());
    }
    lines
}

/// `; operations (2), (5)`: those that do what is on a layer.
fn numbers_on(layer: Layer, operations: &[LayerOperation]) -> String {
    // Outlines on tabs are outlines to the program.
    let layer = if layer == Layer::CutOpen {
        Layer::CutOutside
    } else {
        layer
    };
    let on_it = operations
        .iter()
        .filter(|operation| operation.layer == layer);
    let mut numbers: Vec<usize> = on_it.map(|operation| operation.number).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let words: Vec<String> = numbers.iter().map(|number| format!("({number})")).collect();
    match words.len() {
        0 => String::new(),
        1 => format!("; operation {}", words[0]),
        _ => format!("; operations {}", words.join(", ")),
    }
}

/// One line for all pieces that are alike: `E1, E2: edge hole of 8 mm`.
pub(super) fn grouped(pieces: Vec<(String, String)>) -> Vec<String> {
    /// More names than these make a line that nobody reads.
    const MOST_NAMES: usize = 6;
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (name, description) in pieces {
        match groups.iter_mut().find(|(other, _)| *other == description) {
            Some((_, names)) => names.push(name),
            None => groups.push((description, vec![name])),
        }
    }
    groups
        .into_iter()
        .map(|(description, names)| match names.as_slice() {
            [first, .., last] if names.len() > MOST_NAMES => {
                format!("{first} ... {last} ({} alike): {description}", names.len())
            }
            _ => format!("{}: {description}", names.join(", ")),
        })
        .collect()
}

/// What the files of single parts say of their work, for the notes of a sheet.
pub(super) fn of_parts(drawn: &[(String, Vec<String>)]) -> Vec<String> {
    let all = drawn
        .iter()
        .flat_map(|(id, lines)| lines.iter().map(|line| (id.clone(), line.clone())));
    grouped(all.collect())
}

/// The cautions at a laser.
pub(super) fn laser_cautions(kind: StockKind) -> Vec<String> {
    let mut lines = cautions(&[Caution::Work, Caution::Laser]);
    if is_glue_bound(kind) {
        lines.push("Glue-bound board: ask your workshop whether it may be cut".to_owned());
    }
    lines
}

/// The cautions at a router that moves by itself.
pub(super) fn router_cautions() -> Vec<String> {
    let mut lines =
        vec!["Hold the work down all round, keep screws and clamps clear of every line".to_owned()];
    lines.extend(cautions(&[Caution::Work, Caution::Router]));
    lines
}

/// Cautions, and to what they give way.
fn cautions(of: &[Caution]) -> Vec<String> {
    let texts = of.iter().map(|caution| caution.text());
    texts
        .chain([DEFER])
        .map(|text| format!("Caution: {text}"))
        .collect()
}

/// Whether a board is held together by glue throughout, which gives harmful fumes under a laser.
pub(super) fn is_glue_bound(kind: StockKind) -> bool {
    match kind {
        StockKind::Mdf | StockKind::Particleboard | StockKind::Osb | StockKind::Hardboard => true,
        StockKind::Plywood
        | StockKind::Solid
        | StockKind::Acrylic
        | StockKind::Pvc
        | StockKind::Card
        | StockKind::Other => false,
    }
}

#[cfg(test)]
mod tests {
    use super::grouped;

    #[test]
    fn pieces_that_are_alike_share_a_line() {
        let piece = |name: &str, what: &str| (name.to_owned(), what.to_owned());
        let mut pieces = vec![
            piece("E1", "8 mm"),
            piece("P1", "9.5 mm"),
            piece("E2", "8 mm"),
        ];
        assert_eq!(grouped(pieces.clone()), ["E1, E2: 8 mm", "P1: 9.5 mm"]);
        pieces.extend((3..=7).map(|i| piece(&format!("E{i}"), "8 mm")));
        assert_eq!(grouped(pieces), ["E1 ... E7 (7 alike): 8 mm", "P1: 9.5 mm"]);
    }
}
