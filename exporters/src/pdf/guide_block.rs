//! A guide for pockets: a block of scrap with a slanting hole, whose side is drawn at full size. The block stands on the
//! face with its front end flush with the edge, and the collar of the bit stops on its other end.
//!
//! How far the collar sits from the shoulder of the bit follows from the block and from the width of the collar: its rim
//! strikes the upright end of the block before its middle does, by half its diameter times the tangent of the angle
//! (elementary geometry).

use jigless_model::geom::{Bounds, Point, rectangle};
use jigless_model::operation::{AngledBore, Work};
use jigless_model::workpiece::Workpiece;

use super::card::{Card, CardLine, SMALL};
use super::edges::{EDGE, SAWN};
use crate::drawing::measure::{Lengths, degrees};
use crate::drawing::text::LABEL;
use crate::drawing::{Dash, Ink, Item, Pen, Role, TextLine};

/// The guided length of a bit, in millimetres, at least (common practice, no source).
const GUIDED: f64 = 40.0;
/// Wood over the rim of the collar, in millimetres.
const OVER: f64 = 3.0;
/// Width of a card, in millimetres.
const WIDTH: f64 = 84.0;

/// A guide for pockets of one kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct GuideBlock {
    angle: f64,
    diameter: f64,
    pilot: f64,
    /// From the edge to where the axis meets the face, in millimetres.
    entry: f64,
    /// From there along the axis to the shoulder, in millimetres.
    shoulder: f64,
    /// Diameter of the collar, in millimetres.
    collar: f64,
}

impl GuideBlock {
    /// The guide of a pocket, for a collar of a diameter.
    pub(crate) fn new(bore: &AngledBore, collar: f64) -> Self {
        Self {
            angle: bore.angle,
            diameter: bore.diameter,
            pilot: bore.pilot,
            entry: bore.entry.distance(bore.exit),
            shoulder: bore.shoulder,
            collar,
        }
    }

    /// Length of the block from its front end, in whole multiples of 5 mm.
    fn length(&self) -> f64 {
        ((self.entry + GUIDED * self.angle.cos()) / 5.0).ceil() * 5.0
    }

    /// From the entry along the axis to the far end of the block.
    fn guided(&self) -> f64 {
        (self.length() - self.entry) / self.angle.cos()
    }

    /// How far the collar's rim keeps it off the end of the block.
    fn off_end(&self) -> f64 {
        self.collar / 2.0 * self.angle.tan()
    }

    /// Height of the block, in whole millimetres: the collar must strike it.
    fn height(&self) -> f64 {
        let axis = self.guided() * self.angle.sin();
        let rim = self.off_end() * self.angle.sin() + self.collar / 2.0 * self.angle.cos();
        (axis + rim + OVER).ceil()
    }

    /// From the shoulder of the bit to the face of its collar, in millimetres.
    pub(crate) fn collar_distance(&self) -> f64 {
        self.shoulder + self.guided() + self.off_end()
    }

    /// From the edge to the shoulder, along the face.
    pub(crate) fn shoulder_from_edge(&self) -> f64 {
        self.entry - self.shoulder * self.angle.cos()
    }

    /// Its side at full size with what to do.
    fn card(&self, names: &str, lengths: Lengths) -> Card {
        let say = |mm: f64| lengths.full(mm);
        let lines = [
            CardLine::Bold(format!("guide block for pockets, 1:1: {names}")),
            CardLine::Large(format!("COLLAR {}", lengths.full_depth(self.collar_distance()))),
            CardLine::Plain(format!(
                "from the shoulder of the bit to the face of a collar Ø{}. For another collar add {} for each {} that it is \
                 wider, and take it off for a narrower one.",
                lengths.bare(self.collar),
                say(5.0 * self.angle.tan()),
                say(10.0)
            )),
            CardLine::Plain(format!(
                "1. Saw a block of scrap {} long, {} high and {} wide or more, its ends square. Glue this paper on its side.",
                say(self.length()),
                say(self.height()),
                say(3.0 * self.diameter)
            )),
            CardLine::Plain(format!(
                "2. Drill it Ø{} along the chain line, at {} to its foot, from the other end: there the collar stops.",
                lengths.bare(self.diameter),
                degrees(self.angle)
            )),
            CardLine::Plain(format!(
                "3. Clamp it on the line of the pocket, its front end flush with the edge: the shoulder comes {} from the edge.",
                say(self.shoulder_from_edge())
            )),
            CardLine::Plain(format!(
                "4. Pilot Ø{} first, through to the edge, then the shoulder Ø{} until the collar stops. With a stepped bit \
                 both are one.",
                lengths.bare(self.pilot),
                lengths.bare(self.diameter)
            )),
            CardLine::Plain(
                "Clamp guide and part together to the bench, and keep hands off the edge where the bit comes out."
                    .to_owned(),
            ),
        ];
        let words = Card::of_words_at(&lines, WIDTH, LABEL);
        let up = Point::new(0.0, self.height() + 8.0);
        let mut items: Vec<Item> = words.items.iter().map(|item| item.moved(up)).collect();
        items.extend(
            self.side()
                .iter()
                .map(|item| item.moved(Point::new(1.5, 3.0))),
        );
        Card {
            size: (words.size.0.max(self.length() + 16.0), words.size.1 + up.y),
            items,
        }
    }

    /// Its side, from the lower corner of its front end.
    fn side(&self) -> Vec<Item> {
        let (length, height) = (self.length(), self.height());
        let block = Bounds::of_size(length, height);
        let (sin, cos) = self.angle.sin_cos();
        let (entry, way) = (Point::new(self.entry, 0.0), Point::new(cos, sin));
        let line = |from: Point, to: Point, pen: Pen| Item::line(Role::HandWork, from, to, pen);
        let sawn = Pen::new(SAWN, Ink::BLACK);
        let beyond = f64::midpoint(SAWN, EDGE.width);
        let mut items = vec![Item::stroke(Role::HandWork, rectangle(block), EDGE)];
        items.push(Item::stroke(
            Role::HandWork,
            rectangle(block.grown(beyond)),
            sawn,
        ));
        let axis = Pen::new(0.25, Ink::BLACK).dashed(Dash::Centre);
        items.push(line(entry, entry + way * (self.guided() + 10.0), axis));
        let words =
            |at: Point, words: &str| Item::text(Role::Label, TextLine::new(at, SMALL, words));
        items.push(words(
            Point::new(1.5, height - 4.0),
            "front end: flush with the edge, its foot on the face",
        ));
        // The walls of the hole, as far as they are in the block.
        for side in [1.0, -1.0] {
            let wall = entry + way.left() * (side * self.diameter / 2.0);
            let from = wall + way * (-wall.y / sin);
            let to = wall + way * ((length - wall.x) / cos);
            let from = if from.x < 0.0 {
                wall + way * (-wall.x / cos)
            } else {
                from
            };
            if to.y > from.y {
                items.push(line(from, to, Pen::HAIR.dashed(Dash::Hidden)));
            }
        }
        items
    }
}

/// The guides that some parts need, one for each kind of pocket, as cards.
pub(super) fn cards(workpieces: &[Workpiece], collar: f64, lengths: Lengths) -> Vec<Card> {
    let mut found: Vec<GuideBlock> = Vec::new();
    for operation in workpieces.iter().flat_map(|w| &w.operations) {
        if let Work::AngledBore(bore) = &operation.work {
            let guide = GuideBlock::new(bore, collar);
            let same = |other: &GuideBlock| {
                let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
                near(other.angle, guide.angle)
                    && near(other.entry, guide.entry)
                    && near(other.shoulder, guide.shoulder)
                    && near(other.diameter, guide.diameter)
                    && near(other.pilot, guide.pilot)
            };
            if !found.iter().any(same) {
                found.push(guide);
            }
        }
    }
    let name = |guide: &GuideBlock| {
        format!(
            "Ø{} at {}, entry {} from the edge",
            lengths.bare(guide.diameter),
            degrees(guide.angle),
            lengths.full(guide.entry)
        )
    };
    found
        .iter()
        .map(|guide| guide.card(&name(guide), lengths))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Stock of 18 mm, 15 degrees, exit at half the thickness: the entry is 9 / tan 15 = 33.588 mm from the edge, and the
    /// shoulder 34.773 - 18 = 16.773 mm along the axis (9 / sin 15 = 34.773), so 33.588 - 16.773 cos 15 = 17.387 mm from
    /// the edge. The block is 75 long: (33.588 + 40 cos 15) / 5 = 14.4. The guided length is (75 - 33.588) / cos 15 =
    /// 42.873, and a collar of 20 stays 10 tan 15 = 2.679 off: 16.773 + 42.873 + 2.679 = 62.325.
    #[test]
    fn the_collar_is_measured_on_the_guide() {
        let angle = 15_f64.to_radians();
        let guide = GuideBlock {
            angle,
            diameter: 9.5,
            pilot: 4.0,
            entry: 9.0 / angle.tan(),
            shoulder: 9.0 / angle.sin() - 18.0,
            collar: 20.0,
        };
        assert!((guide.length() - 75.0).abs() < 1e-9);
        assert!((guide.collar_distance() - 62.325).abs() < 2e-3);
        assert!((guide.shoulder_from_edge() - 17.387).abs() < 2e-3);
        // The rim strikes the end 11.096 + 0.693 + 9.659 = 21.45 over its foot, and 3 mm are left over it.
        assert!((guide.height() - 25.0).abs() < 1e-9);
    }
}
