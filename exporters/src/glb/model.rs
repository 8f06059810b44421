//! Pieces as nodes, parts as meshes, stock as materials. Metres, y upward, z toward whoever looks, as glTF has it; so has
//! the whole.

use std::collections::BTreeMap;

use jigless_model::caution::{Medium, called_for, sentences};
use jigless_model::export::ExportInput;
use jigless_model::plan::Stock;
use jigless_model::whole::Triple;
use jigless_solid::{Mesh, Piece, Pose};
use serde_json::{Value, json};

use crate::shades::base_of;
use crate::surface::Surface;

/// Metres in a millimetre.
const METRES: f64 = 1e-3;
/// Numbers of glTF: 32-bit floats and unsigned 32-bit integers; vertices and indices of triangles.
const FLOAT: u32 = 5126;
const UNSIGNED_INT: u32 = 5125;
const ARRAY_BUFFER: u32 = 34962;
const ELEMENT_ARRAY_BUFFER: u32 = 34963;

/// The JSON and the bytes of a model.
pub(super) fn document(
    input: &ExportInput,
    pieces: &[Piece],
    plain: bool,
) -> Result<(Value, Vec<u8>), String> {
    let plan = input.plan;
    let mut document = Document::default();
    let mut materials: BTreeMap<String, usize> = BTreeMap::new();
    let mut meshes: BTreeMap<usize, usize> = BTreeMap::new();
    let mut nodes = Vec::new();
    for piece in pieces {
        let part = &plan.parts[piece.part];
        let mesh = if let Some(mesh) = meshes.get(&piece.part) {
            *mesh
        } else {
            let key = if plain {
                String::new()
            } else {
                part.stock.id.clone()
            };
            let material = *materials.entry(key).or_insert_with(|| {
                let number = plan.stock.iter().position(|s| s.id == part.stock.id);
                let made = material(&part.stock, number.unwrap_or(0), plain);
                document.materials.push(made);
                document.materials.len() - 1
            });
            let mesh = document.mesh(&part.title, &piece.solid.mesh, material)?;
            meshes.insert(piece.part, mesh);
            mesh
        };
        let mut extras = json!({
            "part": piece.id,
            "title": part.title,
            "mark": piece.mark,
            "stock": part.stock.label,
        });
        if piece.of > 1 {
            extras["piece"] = json!(piece.number + 1);
        }
        if let Some(step) = plan.order.iter().position(|step| step.part == piece.id) {
            extras["step"] = json!(step + 1);
        }
        nodes.push(json!({
            "name": piece.name(),
            "mesh": mesh,
            "translation": piece.pose.origin.map(|x| (x * METRES) as f32),
            "rotation": quaternion(&piece.pose),
            "extras": extras,
        }));
    }
    let cautions = sentences(&called_for(plan, input.workpieces, Medium::Whole));
    let scene: Vec<usize> = (0..nodes.len()).collect();
    let json = json!({
        "asset": {"version": "2.0", "generator": input.stamp.tool},
        "scene": 0,
        "scenes": [{"name": plan.title, "nodes": scene, "extras": {"plan": plan.digest, "cautions": cautions}}],
        "nodes": nodes,
        "meshes": document.meshes,
        "materials": document.materials,
        "accessors": document.accessors,
        "bufferViews": document.views,
        "buffers": [{"byteLength": document.bytes.len()}],
    });
    Ok((json, document.bytes))
}

fn material(stock: &Stock, number: usize, plain: bool) -> Value {
    let (name, colour) = if plain {
        ("plain", [0.75, 0.75, 0.75])
    } else {
        (
            stock.label.as_str(),
            base_of(stock.kind, number).map(linear),
        )
    };
    json!({
        "name": name,
        "pbrMetallicRoughness": {
            "baseColorFactor": [colour[0], colour[1], colour[2], 1.0],
            "metallicFactor": 0.0,
            "roughnessFactor": 0.8,
        },
    })
}

/// A share of light as glTF has it, of one as screens have it (IEC 61966-2-1; the usual power of 2.2 is near enough).
fn linear(screen: f64) -> f64 {
    (screen.powf(2.2) * 1e4).round() / 1e4
}

/// The turn of a place as x, y, z and w.
fn quaternion(pose: &Pose) -> [f32; 4] {
    let [x, y, z] = pose.axes;
    // The largest of the four by its square keeps the others exact (textbook conversion of a turn's matrix).
    let squares = [
        1.0 + x[0] - y[1] - z[2],
        1.0 - x[0] + y[1] - z[2],
        1.0 - x[0] - y[1] + z[2],
        1.0 + x[0] + y[1] + z[2],
    ];
    let largest = (0..4)
        .max_by(|&i, &j| squares[i].total_cmp(&squares[j]))
        .unwrap_or(3);
    let (cross, sums) = (
        [y[2] - z[1], z[0] - x[2], x[1] - y[0]],
        [x[1] + y[0], x[2] + z[0], y[2] + z[1]],
    );
    let four = match largest {
        0 => [squares[0], sums[0], sums[1], cross[0]],
        1 => [sums[0], squares[1], sums[2], cross[1]],
        2 => [sums[1], sums[2], squares[2], cross[2]],
        _ => [cross[0], cross[1], cross[2], squares[3]],
    };
    let length = four.iter().map(|x| x * x).sum::<f64>().sqrt();
    four.map(|x| (x / length) as f32)
}

#[derive(Default)]
struct Document {
    bytes: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
    meshes: Vec<Value>,
    materials: Vec<Value>,
}

impl Document {
    /// A mesh of one primitive.
    fn mesh(&mut self, name: &str, mesh: &Mesh, material: usize) -> Result<usize, String> {
        let surface = Surface::of(mesh, name)?;
        let in_metres = |place: &Triple| place.map(|x| (x * METRES) as f32);
        let places: Vec<[f32; 3]> = surface.places.iter().map(in_metres).collect();
        let as_is = |normal: &Triple| normal.map(|x| x as f32);
        let normals: Vec<[f32; 3]> = surface.normals.iter().map(as_is).collect();
        let indices = &surface.triangles;
        let place = self.vectors(&places, true);
        let normal = self.vectors(&normals, false);
        let bytes: Vec<u8> = indices.iter().flat_map(|n: &u32| n.to_le_bytes()).collect();
        let view = self.view(&bytes, ELEMENT_ARRAY_BUFFER);
        self.accessors.push(json!({
            "bufferView": view, "componentType": UNSIGNED_INT, "count": indices.len(), "type": "SCALAR",
        }));
        let index = self.accessors.len() - 1;
        self.meshes.push(json!({
            "name": name,
            "primitives": [{
                "attributes": {"POSITION": place, "NORMAL": normal},
                "indices": index,
                "material": material,
            }],
        }));
        Ok(self.meshes.len() - 1)
    }

    fn vectors(&mut self, vectors: &[[f32; 3]], with_bounds: bool) -> usize {
        let bytes: Vec<u8> = vectors
            .iter()
            .flatten()
            .flat_map(|x| x.to_le_bytes())
            .collect();
        let view = self.view(&bytes, ARRAY_BUFFER);
        let mut accessor = json!({
            "bufferView": view, "componentType": FLOAT, "count": vectors.len(), "type": "VEC3",
        });
        if with_bounds {
            let each = |pick: fn(f32, f32) -> f32, from: f32| -> [f32; 3] {
                let start = [from; 3];
                vectors
                    .iter()
                    .fold(start, |best, v| [0, 1, 2].map(|i| pick(best[i], v[i])))
            };
            accessor["min"] = json!(each(f32::min, f32::INFINITY));
            accessor["max"] = json!(each(f32::max, f32::NEG_INFINITY));
        }
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }

    fn view(&mut self, bytes: &[u8], target: u32) -> usize {
        let offset = self.bytes.len();
        self.bytes.extend_from_slice(bytes);
        self.views.push(json!({
            "buffer": 0, "byteOffset": offset, "byteLength": bytes.len(), "target": target,
        }));
        self.views.len() - 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By the definition of a quaternion: a quarter turn about the upright axis is (0, root of a half, 0, root of a half).
    #[test]
    fn turns_are_written_as_quaternions() {
        let pose = Pose {
            origin: [1.0, 2.0, 3.0],
            axes: [[0.0, 0.0, -1.0], [0.0, 1.0, 0.0], [1.0, 0.0, 0.0]],
        };
        let half = 0.5_f32.sqrt();
        for (own, wanted) in quaternion(&pose).iter().zip([0.0, half, 0.0, half]) {
            assert!((own - wanted).abs() < 1e-6);
        }
        for (own, wanted) in quaternion(&Pose::HOME).iter().zip([0.0, 0.0, 0.0, 1.0_f32]) {
            assert!((own - wanted).abs() < 1e-9);
        }
    }
}
