//! A cut tree as a numbered list of cuts in the order of work.
//!
//! Factory edges come off first. Then all cuts of one direction are made before the next direction, the first through
//! the whole sheet, and cuts of one distance follow one another, so that a guide or fence is set once for all of them.

use serde::Serialize;

use super::cut_tree::{CutContent, CutDirection, CutNode, CutPiece, CutRectangle, CutSheet};
use super::micrometres::Micrometres;
use super::problem::{Saw, SheetSize};
use crate::side::Edge;

/// What a rectangle is called while a sheet is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CutMark {
    /// The sheet itself.
    Sheet,
    /// A board that is cut further, numbered from 1 in the order in which they fall off.
    Board(u32),
    /// A piece, which is cut no further.
    Piece(CutPiece),
    /// A rest that is kept, by its number on the sheet.
    Offcut(u32),
    /// Waste.
    Waste,
}

/// What a cut is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CutPurpose {
    /// It takes a factory edge off.
    Trim,
    /// It parts a sheet into what one person can handle.
    BreakDown,
    /// It makes a strip or a piece.
    Size,
}

/// Which side of a cut is kept to size, so that the kerf lies beyond it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum GoodSide {
    /// The side towards the edge from which the cut is measured.
    Near,
    /// The other one.
    Far,
}

/// Where the guide lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GuideLine {
    /// From the edge from which the cut is measured to the edge of the guide.
    pub distance: Micrometres,
    /// On which side of the cut the guide lies.
    pub on: GoodSide,
}

/// What to take care of in a cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CutCaution {
    /// What is cut is more than one person can handle by the limits that were given.
    Heavy,
    /// What is cut is narrow on both sides of the blade, so neither it nor a guide lies firmly without a clamped board.
    Narrow,
}

/// One cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutStep {
    /// Its number on the sheet, from 1.
    pub number: u32,
    /// What is cut.
    pub of: CutMark,
    /// Where that lies on the sheet, as it is before this cut.
    pub at: CutRectangle,
    /// Which way the cut runs.
    pub direction: CutDirection,
    /// The edge of `at` from which it is measured.
    pub from: Edge,
    /// From that edge to the good side of the blade.
    pub distance: Micrometres,
    /// Which side is kept to size.
    pub good_side: GoodSide,
    /// How long the cut is.
    pub length: Micrometres,
    /// What it is for.
    pub purpose: CutPurpose,
    /// What lies between the edge and the blade.
    pub off: CutMark,
    /// What lies beyond the blade; `None` where the blade runs over the edge. While a board is cut further in the same
    /// direction it keeps its name.
    pub rest: Option<CutMark>,
    /// Cuts with the same number are made with one setting of the guide, fence or stop, one after another.
    pub setting: u32,
    /// Where the guide lies, where the offset of the saw's base is known.
    pub guide: Option<GuideLine>,
    /// What to take care of.
    pub cautions: Vec<CutCaution>,
}

impl CutStep {
    /// The line of the blade's good side on the sheet: x where the cut runs along, y where it runs across.
    pub fn line(&self) -> Micrometres {
        match self.from {
            Edge::Left => self.at.x + self.distance,
            Edge::Bottom => self.at.y + self.distance,
            Edge::Right => self.at.x + self.at.width - self.distance,
            Edge::Top => self.at.y + self.at.height - self.distance,
        }
    }
}

/// The cuts that take a sheet apart, in the order of work.
pub fn cut_list(sheet: &CutSheet, size: &SheetSize, saw: &Saw) -> Vec<CutStep> {
    let mut list = List {
        kerf: sheet.kerf,
        saw,
        steps: Vec::new(),
        setting: None,
        settings: 0,
        boards: 0,
        open: Vec::new(),
    };
    list.trim(sheet, size);
    list.open(&sheet.root, CutMark::Sheet, sheet.room, 0);
    while let Some(key) = list.next_setting() {
        while let Some(index) = list.open.iter().position(|open| open.key() == Some(key)) {
            list.cut(index);
        }
        list.open.retain(|open| open.key().is_some());
    }
    list.steps
}

/// How often a guide, fence or stop is set for some cuts.
pub fn settings_of(steps: &[CutStep]) -> u32 {
    steps.last().map_or(0, |step| step.setting)
}

/// A rectangle that is being cut up.
struct Open<'a> {
    mark: CutMark,
    at: CutRectangle,
    direction: CutDirection,
    /// What is still to be cut off, in order.
    parts: &'a [CutNode],
    /// How often the direction has changed before.
    level: u32,
    purpose: CutPurpose,
}

/// What is set once: how deep in the order of work, which way, and how far from the edge.
type SettingKey = (u32, CutDirection, Micrometres);

impl Open<'_> {
    fn key(&self) -> Option<SettingKey> {
        let part = self.parts.first()?;
        let distance = part.extent(self.direction);
        // What fills the rest of the rectangle needs no cut.
        (distance < self.at.extent(self.direction)).then_some((
            self.level,
            self.direction,
            distance,
        ))
    }
}

struct List<'a> {
    kerf: Micrometres,
    saw: &'a Saw,
    steps: Vec<CutStep>,
    setting: Option<SettingKey>,
    settings: u32,
    boards: u32,
    open: Vec<Open<'a>>,
}

impl<'a> List<'a> {
    /// The cuts that take the factory edges off: the left and the bottom one first, from which the others are measured.
    fn trim(&mut self, sheet: &CutSheet, size: &SheetSize) {
        let trims = size.trims;
        let mut at = CutRectangle {
            x: 0,
            y: 0,
            width: size.width,
            height: size.height,
        };
        let room = sheet.room;
        let far = [
            (Edge::Left, CutDirection::Along, trims.left),
            (Edge::Bottom, CutDirection::Across, trims.bottom),
        ];
        for (from, direction, trim) in far {
            if trim > 0 {
                self.new_setting();
                self.push(at, direction, from, trim, GoodSide::Far);
                at = at.band(direction, trim, at.extent(direction) - trim);
            }
        }
        let near = [
            (Edge::Left, CutDirection::Along, trims.right, room.width),
            (Edge::Bottom, CutDirection::Across, trims.top, room.height),
        ];
        for (from, direction, trim, distance) in near {
            if trim > 0 {
                self.new_setting();
                self.push(at, direction, from, distance, GoodSide::Near);
                at = at.band(direction, 0, distance);
            }
        }
    }

    fn new_setting(&mut self) {
        self.settings += 1;
        self.setting = None;
    }

    fn push(
        &mut self,
        at: CutRectangle,
        direction: CutDirection,
        from: Edge,
        distance: Micrometres,
        good_side: GoodSide,
    ) {
        let beyond = at.extent(direction) - distance - self.kerf;
        let (off, rest) = match good_side {
            GoodSide::Far => (CutMark::Waste, Some(CutMark::Sheet)),
            GoodSide::Near => (CutMark::Sheet, (beyond > 0).then_some(CutMark::Waste)),
        };
        self.steps.push(CutStep {
            number: self.steps.len() as u32 + 1,
            of: CutMark::Sheet,
            at,
            direction,
            from,
            distance,
            good_side,
            length: at.length(direction),
            purpose: CutPurpose::Trim,
            off,
            rest,
            setting: self.settings,
            guide: self.guide(distance, good_side),
            cautions: self.cautions(at, direction),
        });
    }

    /// Puts a rectangle on the bench, if it is cut further.
    fn open(&mut self, node: &'a CutNode, mark: CutMark, at: CutRectangle, level: u32) {
        let CutContent::Split(split) = &node.content else {
            return;
        };
        // A split whose parts run the same way parts the rectangle for handling.
        let broken_down = split.parts.iter().any(|part| {
            matches!(&part.content, CutContent::Split(inner) if inner.direction == split.direction)
        });
        self.open.push(Open {
            mark,
            at,
            direction: split.direction,
            parts: &split.parts,
            level,
            purpose: if broken_down {
                CutPurpose::BreakDown
            } else {
                CutPurpose::Size
            },
        });
    }

    /// What to set next: the shallowest cuts; of these the ones that go on with the last setting, then those of the
    /// distance that most boards wait for, then the longest distance.
    fn next_setting(&self) -> Option<SettingKey> {
        let keys: Vec<SettingKey> = self.open.iter().filter_map(Open::key).collect();
        let level = keys.iter().map(|key| key.0).min()?;
        let shallow = keys.iter().filter(|key| key.0 == level);
        let waiting = |key: &SettingKey| keys.iter().filter(|other| *other == key).count();
        let same = self
            .setting
            .map(|(_, direction, distance)| (direction, distance));
        shallow
            .max_by_key(|key| (Some((key.1, key.2)) == same, waiting(key), key.2, key.1))
            .copied()
    }

    /// The next cut of one rectangle on the bench.
    fn cut(&mut self, index: usize) {
        let Some(key) = self.open[index].key() else {
            return;
        };
        let same = |last: SettingKey| (last.1, last.2) == (key.1, key.2);
        if !self.setting.is_some_and(same) {
            self.settings += 1;
        }
        self.setting = Some(key);
        let Open {
            mark,
            at,
            direction,
            parts,
            level,
            purpose,
        } = self.open[index];
        let (part, others) = (&parts[0], &parts[1..]);
        let distance = part.extent(direction);
        let from = match direction {
            CutDirection::Along => Edge::Left,
            CutDirection::Across => Edge::Bottom,
        };
        let off = self.mark_of(part);
        let beyond = at.extent(direction) - distance - self.kerf;
        let remaining = at.band(direction, distance + self.kerf, beyond);
        let ends = match others {
            [last] => last.extent(direction) >= beyond,
            _ => false,
        };
        let rest = match others {
            _ if beyond <= 0 => None,
            [] => Some(CutMark::Waste),
            [last] if ends => Some(self.mark_of(last)),
            _ => Some(mark),
        };
        self.steps.push(CutStep {
            number: self.steps.len() as u32 + 1,
            of: mark,
            at,
            direction,
            from,
            distance,
            good_side: GoodSide::Near,
            length: at.length(direction),
            purpose,
            off,
            rest,
            setting: self.settings,
            guide: self.guide_beside(distance, beyond),
            cautions: self.cautions(at, direction),
        });
        let open = &mut self.open[index];
        open.at = remaining;
        open.parts = others;
        let next = |inner: &CutNode| match &inner.content {
            CutContent::Split(split) if split.direction == direction => level,
            _ => level + 1,
        };
        self.open(part, off, at.band(direction, 0, distance), next(part));
        if let ([last], Some(mark)) = (others, rest)
            && ends
        {
            self.open[index].parts = &[];
            self.open(last, mark, remaining, next(last));
        }
    }

    fn mark_of(&mut self, node: &CutNode) -> CutMark {
        match &node.content {
            CutContent::Piece(piece) => CutMark::Piece(*piece),
            CutContent::Offcut(number) => CutMark::Offcut(*number),
            CutContent::Waste => CutMark::Waste,
            CutContent::Split(_) => {
                self.boards += 1;
                CutMark::Board(self.boards)
            }
        }
    }

    /// The guide lies beyond the blade, on what is left, as long as that holds it; else on what is cut off.
    fn guide_beside(&self, distance: Micrometres, beyond: Micrometres) -> Option<GuideLine> {
        let offset = self.saw.guide_offset?;
        if beyond >= offset && beyond >= self.saw.narrow {
            self.guide(distance, GoodSide::Far)
        } else {
            self.guide(distance, GoodSide::Near)
        }
    }

    /// The offset holds from the far side of the blade where the guide lies on the near one, so a kerf is taken off it.
    fn guide(&self, distance: Micrometres, on: GoodSide) -> Option<GuideLine> {
        let offset = self.saw.guide_offset?;
        let distance = match on {
            GoodSide::Far => distance + offset,
            GoodSide::Near => distance + self.kerf - offset,
        };
        Some(GuideLine { distance, on })
    }

    fn cautions(&self, at: CutRectangle, direction: CutDirection) -> Vec<CutCaution> {
        let mut cautions = Vec::new();
        if !self.saw.handling.allows(at.width, at.height) {
            cautions.push(CutCaution::Heavy);
        }
        if at.extent(direction) < self.saw.narrow {
            cautions.push(CutCaution::Narrow);
        }
        cautions
    }
}

#[cfg(test)]
mod tests {
    use super::super::cut_tree::Split;
    use super::super::problem::{SheetOrigin, Trims};
    use super::*;

    fn piece(width: Micrometres, height: Micrometres, kind: usize, copy: u32) -> CutNode {
        let turned = false;
        CutNode {
            width,
            height,
            content: CutContent::Piece(CutPiece { kind, copy, turned }),
        }
    }

    fn split(
        (width, height): (Micrometres, Micrometres),
        direction: CutDirection,
        parts: Vec<CutNode>,
    ) -> CutNode {
        let content = CutContent::Split(Split { direction, parts });
        CutNode {
            width,
            height,
            content,
        }
    }

    /// Two strips of 300 x 800, each cut at 500, out of a sheet of 700 x 820 with 10 trimmed all round: by hand. Room
    /// 680 x 800; strips at 0 and 304, waste from 608 on (72 wide).
    #[test]
    fn equal_strips_are_cut_with_one_setting() {
        let waste = |width, height| CutNode {
            width,
            height,
            content: CutContent::Waste,
        };
        let strip = |copy| {
            let parts = vec![piece(300, 500, 0, copy), waste(300, 296)];
            split((300, 800), CutDirection::Across, parts)
        };
        let size = SheetSize {
            width: 700,
            height: 820,
            count: None,
            price: None,
            origin: SheetOrigin::ToBuy,
            trims: Trims::all(10),
        };
        let sheet = CutSheet {
            size: 0,
            kerf: 4,
            room: CutRectangle {
                x: 10,
                y: 10,
                width: 680,
                height: 800,
            },
            root: split(
                (680, 800),
                CutDirection::Along,
                vec![strip(1), strip(2), waste(72, 800)],
            ),
        };
        let saw = Saw {
            kerf: 4,
            guide_offset: Some(100),
            ..Saw::default()
        };
        let steps = cut_list(&sheet, &size, &saw);
        let written: Vec<_> = steps
            .iter()
            .map(|step| (step.of, step.distance, step.off, step.rest, step.setting))
            .collect();
        let board = CutMark::Board;
        let done = |copy| {
            CutMark::Piece(CutPiece {
                kind: 0,
                copy,
                turned: false,
            })
        };
        assert_eq!(
            written,
            [
                (CutMark::Sheet, 10, CutMark::Waste, Some(CutMark::Sheet), 1),
                (CutMark::Sheet, 10, CutMark::Waste, Some(CutMark::Sheet), 2),
                (CutMark::Sheet, 680, CutMark::Sheet, Some(CutMark::Waste), 3),
                (CutMark::Sheet, 800, CutMark::Sheet, Some(CutMark::Waste), 4),
                (CutMark::Sheet, 300, board(1), Some(CutMark::Sheet), 5),
                (CutMark::Sheet, 300, board(2), Some(CutMark::Waste), 5),
                (board(1), 500, done(1), Some(CutMark::Waste), 6),
                (board(2), 500, done(2), Some(CutMark::Waste), 6),
            ]
        );
        // The first strip: the guide lies on what is left. The second: 72 are too narrow for it.
        let guides: Vec<_> = steps[4..6].iter().map(|step| step.guide.unwrap()).collect();
        assert_eq!((guides[0].distance, guides[0].on), (400, GoodSide::Far));
        assert_eq!((guides[1].distance, guides[1].on), (204, GoodSide::Near));
        let leaves: Vec<_> = sheet
            .pieces()
            .into_iter()
            .map(|(at, _)| (at.x, at.y))
            .collect();
        assert_eq!(leaves, [(10, 10), (314, 10)]);
    }
}
