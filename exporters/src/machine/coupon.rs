//! A test piece for a laser: a comb of slots around the thickness of a stock, and a block that shows the kerf.
//!
//! Lines are nominal. The block comes out smaller than it is drawn by one kerf, and a slot wider by one.

use jigless_model::export::{Artifact, ExportError};
use jigless_model::geom::{Bounds, Path, Point, rectangle};
use jigless_model::units::{Unit, decimal};

use super::drawing::{LayerDrawing, LayerShape};
use super::dxf::{self, FileHeader};
use super::file_options::Version;
use super::layers::{Layer, LayerNaming};
use super::{lettering, notes, svg};

/// Side of the block as drawn, in millimetres.
pub const BLOCK: f64 = 40.0;

/// How many slots there are on each side of the middle one, and the step between two, in millimetres.
const SLOTS: (i32, f64) = (6, 0.05);
/// Between the middles of two slots, height of the comb, and depth of a slot, in millimetres.
const COMB: (f64, f64, f64) = (10.0, 26.0, 13.0);
/// Between comb and block, in millimetres.
const GAP: f64 = 6.0;
/// Height of the letters, in millimetres.
const LETTERS: f64 = 2.2;

/// What a coupon has shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CouponResult {
    /// Width of the cut as measured from left to right, in millimetres.
    pub kerf_x: f64,
    /// Width of the cut as measured up and down, in millimetres.
    pub kerf_y: f64,
    /// How much wider than the stock a slot must be, in millimetres.
    pub fit: f64,
}

/// Works out the kerf from the measured block, and the fit from the slot that fitted best, by the width engraved beside
/// it: the slot is wider than that by one kerf. Slots are upright, so the kerf from left to right counts.
///
/// # Errors
/// What cannot be true, in words.
pub fn evaluate(thickness: f64, best: f64, block: (f64, f64)) -> Result<CouponResult, String> {
    let kerf = |side: f64| {
        let kerf = BLOCK - side;
        if (0.0..=2.0).contains(&kerf) {
            Ok(kerf)
        } else {
            Err(format!(
                "a block of {} mm is not the one of {} mm less a kerf of at most 2 mm",
                decimal(side, 3),
                decimal(BLOCK, 3)
            ))
        }
    };
    let (kerf_x, kerf_y) = (kerf(block.0)?, kerf(block.1)?);
    let reach = f64::from(SLOTS.0) * SLOTS.1 + 1e-6;
    if (best - thickness).abs() > reach {
        return Err(format!(
            "there is no slot of {} mm on a coupon for {} mm",
            decimal(best, 3),
            decimal(thickness, 3)
        ));
    }
    Ok(CouponResult {
        kerf_x,
        kerf_y,
        fit: best + kerf_x - thickness,
    })
}

/// The files of a coupon for a stock of a thickness in millimetres: `coupon.dxf` and `coupon.svg`.
///
/// # Errors
/// When the thickness is out of reach, or the library that writes DXF fails.
pub fn files(thickness: f64, tool: &str) -> Result<Vec<Artifact>, ExportError> {
    let failed = |message: String| ExportError {
        exporter: "coupon",
        message,
    };
    let reach = f64::from(SLOTS.0) * SLOTS.1;
    if !(reach + 0.1..=COMB.0 - reach - 1.0).contains(&thickness) {
        return Err(failed(format!(
            "a coupon is made for {} to {} mm",
            decimal(reach + 0.1, 2),
            decimal(COMB.0 - reach - 1.0, 2)
        )));
    }
    let mut drawing = draw(thickness);
    let lines = [
        format!(
            "Coupon for stock of {} mm, lines nominal: no kerf applied",
            decimal(thickness, 3)
        ),
        format!(
            "Slots {} mm apart in width, as engraved; block {} by {} mm",
            SLOTS.1, BLOCK, BLOCK
        ),
        "Cut with everything off that allows for kerf. Measure the block and try the slots."
            .to_owned(),
        "Then: jigless coupon --best SLOT --block MEASURED".to_owned(),
        "Laser: never leave it running unattended; extract the fumes".to_owned(),
        format!("Made by {tool}"),
    ];
    let svg = svg::document(&drawing, None, &lines[0], &lines[1..], 0.1);
    notes::write_block(BLOCK, 2.5, &lines, &mut drawing);
    drawing.sort();
    let header = FileHeader {
        naming: LayerNaming::own(Unit::Millimetre),
        version: Version::R2000,
        name: format!("coupon/{}", decimal(thickness, 6)),
        date: None,
        depths: None,
    };
    let bytes = dxf::write(&drawing, &header).map_err(|fault| failed(fault.to_string()))?;
    let artifact = |path: &str, media_type, bytes| Artifact {
        path: path.to_owned(),
        media_type,
        part: None,
        bytes,
    };
    Ok(vec![
        artifact("coupon.dxf", dxf::MEDIA_TYPE, bytes),
        artifact("coupon.svg", "image/svg+xml", svg.into_bytes()),
    ])
}

fn draw(thickness: f64) -> LayerDrawing {
    let (pitch, height, depth) = COMB;
    let count = 2 * SLOTS.0 + 1;
    let width = f64::from(count) * pitch;
    let mut drawing = LayerDrawing::default();
    let mut points = vec![
        Point::default(),
        Point::new(width, 0.0),
        Point::new(width, height),
    ];
    for slot in (0..count).rev() {
        let size = thickness + f64::from(slot - SLOTS.0) * SLOTS.1;
        let middle = (f64::from(slot) + 0.5) * pitch;
        let (left, right) = (middle - size / 2.0, middle + size / 2.0);
        points.extend([
            Point::new(right, height),
            Point::new(right, height - depth),
            Point::new(left, height - depth),
            Point::new(left, height),
        ]);
        let label = format!("{size:.2}");
        let start = Point::new(middle - lettering::length(&label, LETTERS) / 2.0, 5.0);
        engrave(&mut drawing, &label, start);
    }
    points.push(Point::new(0.0, height));
    drawing.path(Layer::CutOutside, &Path::of_points(points, true));
    let corner = Point::new(width + GAP, 0.0);
    let block = Bounds::new(corner, corner + Point::new(BLOCK, BLOCK));
    drawing.path(Layer::CutOutside, &rectangle(block));
    let x = "X = 40.00";
    let start = block.centre() - Point::new(lettering::length(x, LETTERS) / 2.0, 0.0);
    engrave(&mut drawing, x, start);
    drawing.sort();
    drawing
}

fn engrave(drawing: &mut LayerDrawing, text: &str, at: Point) {
    debug_assert!(lettering::knows(text));
    for stroke in lettering::strokes(text, at, LETTERS) {
        drawing.add(Layer::Mark, LayerShape::Path(stroke));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inspect::inspect;

    /// A block drawn 40 and measured 39.82 shows a kerf of 0.18; the slot marked 3.10 is then 3.28 wide, 0.28 more than
    /// stock of 3 mm (elementary).
    #[test]
    fn kerf_and_fit_follow_from_the_measures() {
        let result = evaluate(3.0, 3.1, (39.82, 39.86)).unwrap();
        assert!((result.kerf_x - 0.18).abs() < 1e-9);
        assert!((result.kerf_y - 0.14).abs() < 1e-9);
        assert!((result.fit - 0.28).abs() < 1e-9);
        assert!(evaluate(3.0, 3.5, (39.8, 39.8)).is_err());
        assert!(evaluate(3.0, 3.0, (40.2, 40.0)).is_err());
    }

    #[test]
    fn a_comb_of_thirteen_slots_and_a_block() {
        for file in files(3.0, "jigless").unwrap() {
            let seen = inspect(&file.bytes, None).unwrap();
            assert!(seen.faults.is_empty(), "{:?}", seen.faults);
            let cuts: Vec<_> = seen
                .entities
                .iter()
                .filter(|e| e.layer == "CUT_OUTSIDE")
                .collect();
            assert_eq!(cuts.len(), 2);
            let area: f64 = cuts.iter().map(|cut| cut.path.area().abs()).sum();
            // 13 slots of 3 mm on average, 13 deep.
            assert!((area - (130.0 * 26.0 - 13.0 * 3.0 * 13.0 + 1600.0)).abs() < 1e-3);
        }
        assert!(files(40.0, "jigless").is_err());
    }
}
