//! What the 3-D view shows, as JSON: bodies of parts, where each piece is, closed, open and moved apart, and the steps.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use jigless_model::export::ExportInput;
use jigless_model::plan::Part;
use jigless_model::side::Face;
use jigless_model::whole::Triple;
use jigless_solid::arrange::{Sequence, apart, opened};
use jigless_solid::{Piece, Pose, Solid};
use jigless_words::Words;
use serde_json::{Value, json};

use crate::drawing::measure::{Lengths, PaperUnits};
use crate::file_name::stem_of_face;
use crate::html::turns;
use crate::pdf::TEMPLATES;
use crate::shades::base_of;
use crate::surface::Surface;
use crate::views::{LookOptions, Whole, stages};

/// The data of the view in a language, as JSON that can stand in a page as it is; none where no part has a place.
///
/// # Errors
/// When a body cannot be cut into triangles.
pub fn viewer_data(input: &ExportInput, words: &'static Words) -> Result<Option<String>, String> {
    let plan = input.plan;
    let whole = Whole::new(input);
    let Some(bounds) = whole.bounds() else {
        return Ok(None);
    };
    let camera = LookOptions::default().camera();
    let lengths = Lengths::on_paper(plan.units, PaperUnits::Plan, 64).in_language(words);
    let offsets = apart(
        plan,
        &whole.pieces,
        &whole.units,
        Sequence::Smaller,
        &camera,
    )
    .offsets;
    let open = opened(plan, &whole.pieces, &whole.units);
    // The pieces of a part follow one another.
    let mut firsts: Vec<&Piece> = whole.pieces.iter().collect();
    firsts.dedup_by_key(|piece| piece.part);
    let parts = firsts.iter().map(|piece| {
        let part = &plan.parts[piece.part];
        let stock = plan.stock.iter().position(|s| s.id == part.stock.id);
        let colour = base_of(part.stock.kind, stock.unwrap_or(0));
        of_part(part, piece, colour, lengths)
    });
    let parts = parts.collect::<Result<Vec<Value>, String>>()?;
    let mut pieces = Vec::new();
    for (number, piece) in whole.pieces.iter().enumerate() {
        let part = firsts.iter().position(|first| first.part == piece.part);
        let mut data = json!({
            "part": part,
            "pose": rounded(&piece.pose),
            "apart": short(offsets[number]),
        });
        if let Some(open) = open.as_ref().filter(|open| open[number] != piece.pose) {
            data["open"] = json!(rounded(&open[number]));
        }
        pieces.push(data);
    }
    let work = jigless_steps::steps(plan, input.workpieces, words);
    let steps = stages(plan, &whole, &work).into_iter().map(|stage| {
        let new: Vec<usize> = stage.new.iter().flat_map(|unit| &unit.pieces).copied().collect();
        json!({"number": stage.step.number, "title": stage.step.title, "there": stage.there, "new": new})
    });
    let data = json!({
        "box": [short(bounds.min), short(bounds.max)],
        "toward": camera.toward,
        "parts": parts,
        "pieces": pieces,
        "steps": steps.collect::<Vec<_>>(),
    });
    // Within a page, no text can end the element that the data stands in, or turn what follows.
    let mut data = data.to_string().replace('<', "\\u003c");
    data.retain(|letter| !turns(letter));
    Ok(Some(data))
}

fn of_part(part: &Part, piece: &Piece, colour: Triple, lengths: Lengths) -> Result<Value, String> {
    let Solid { mesh, .. } = &*piece.solid;
    let surface = Surface::of(mesh, &part.title)?;
    let places = surface.places.iter().flatten();
    let normals = surface.normals.iter().flatten();
    let size = [part.width, part.height, part.thickness()].map(|x| lengths.full(x));
    Ok(json!({
        "id": part.id,
        "mark": piece.mark,
        "title": part.title,
        "size": size.join(" × "),
        "stock": part.stock.label,
        "count": piece.of,
        "templates": templates(part, &piece.mark),
        "colour": colour,
        "places": base64(places.flat_map(|x| (*x as f32).to_le_bytes())),
        // A normal is a byte for each axis, 127 for one.
        "normals": base64(normals.map(|x| (x * 127.0).round() as i8 as u8)),
        "triangles": base64(surface.triangles.iter().flat_map(|n| n.to_le_bytes())),
        "edges": base64(surface.edges(&piece.solid).iter().flat_map(|n| n.to_le_bytes())),
    }))
}

/// Where the templates of a part are, by the names of the files that the formats write.
fn templates(part: &Part, mark: &str) -> String {
    let drilling = stem_of_face(part, Face::Front);
    format!("pdf-template/{TEMPLATES} ({mark}), svg-drilling/{drilling}.svg")
}

fn base64(bytes: impl Iterator<Item = u8>) -> String {
    STANDARD.encode(bytes.collect::<Vec<u8>>())
}

/// Origin and axes, as many numbers as a screen can show.
fn rounded(pose: &Pose) -> [Triple; 4] {
    let [x, y, z] = pose.axes.map(|axis| axis.map(|v| (v * 1e6).round() / 1e6));
    [short(pose.origin), x, y, z]
}

fn short(place: Triple) -> Triple {
    place.map(|x| (x * 1e3).round() / 1e3)
}
