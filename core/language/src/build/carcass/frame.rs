//! Sides, top, bottom, back and toe space.

use std::sync::Arc;

use super::keys::{Against, Back, BackWith, Bottom, CarcassKeys, Lies, On, StretcherKeys, Top};
use crate::build::kit::{INSIDE_OUT, flat, held, placed, upright};
use crate::build::{BuildContext, Keys, PartDraft, length, list, map, text};
use crate::codes;
use crate::resolve::{Fields, KeySet};
use jigless_model::diag::Finding;
use jigless_model::joint::With;
use jigless_model::plan::{Grain, Stock};
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Direction, Placement, Triple};

/// The outer box and how it is held together, in millimetres.
#[derive(Debug)]
pub(super) struct CarcassFrame {
    pub(super) keys: CarcassKeys,
    back_stock: Arc<Stock>,
    /// Lower left back corner in the whole.
    pub(super) origin: Triple,
    name: String,
}

/// The two sides, which most parts are joined to.
pub(super) const SIDES: [&str; 2] = ["side-left", "side-right"];

impl CarcassFrame {
    pub(super) fn read(fields: &Fields, built: &BuildContext) -> Option<CarcassFrame> {
        let base = On::read(fields).and_then(|on| match &on.base {
            Some(base) => built.surface_of(base).map(Some),
            None => Some(None),
        });
        let keys = CarcassKeys::read(fields);
        let (base, keys) = (base?, keys?);
        if keys.lifts_off.is_some() && (base.is_none() || keys.toe.is_some()) {
            let message = "it lifts off a base only where its bottom lies on one";
            let span = fields.key_span("lifts_off");
            let fix = "write `stands_on:`, and leave out `toe:`, or leave out `lifts_off:`";
            built.find(Finding::error(codes::NO_ROOM, span, message).fix(fix));
            return None;
        }
        Some(CarcassFrame {
            back_stock: Arc::clone(keys.back_stock.as_ref().unwrap_or(&keys.stock)),
            origin: base.or(keys.place).unwrap_or_default(),
            name: built.name.to_owned(),
            keys,
        })
    }

    /// Thickness of the stock.
    pub(super) fn t(&self) -> f64 {
        self.keys.stock.thickness
    }

    /// Room between the sides.
    pub(super) fn clear(&self) -> f64 {
        self.keys.width - 2.0 * self.t()
    }

    /// Where the front of the back is, from the carcass's own back plane.
    pub(super) fn back_plane(&self) -> f64 {
        match self.keys.back {
            Back::Rebated => self.back_stock.thickest() + self.keys.slip,
            Back::Applied => self.back_stock.thickness,
            Back::None => 0.0,
        }
    }

    /// Thickness of the back.
    pub(super) fn back_thickness(&self) -> f64 {
        self.back_stock.thickness
    }

    /// Where the sides begin, from the carcass's own back plane.
    fn side_back(&self) -> f64 {
        match self.keys.back {
            Back::Applied => self.back_stock.thickness,
            Back::Rebated | Back::None => 0.0,
        }
    }

    /// The underside of the bottom.
    pub(super) fn bottom_low(&self) -> f64 {
        self.keys.toe.as_ref().map_or(0.0, |toe| toe.height)
    }

    /// The upper face of the bottom.
    pub(super) fn floor(&self) -> f64 {
        self.bottom_low() + self.t()
    }

    /// The underside of the top; the upper end of the sides where there is none.
    pub(super) fn ceiling(&self) -> f64 {
        if self.has_top() {
            self.keys.height - self.t()
        } else {
            self.keys.height
        }
    }

    pub(super) fn has_top(&self) -> bool {
        self.keys.top != Top::None
    }

    pub(super) fn side_low(&self) -> f64 {
        match self.keys.bottom {
            Bottom::Under => self.t(),
            Bottom::Between | Bottom::Rebated => 0.0,
        }
    }

    fn side_height(&self) -> f64 {
        let over = match self.keys.top {
            Top::Over => self.t(),
            Top::Between | Top::Rebated | Top::None => 0.0,
        };
        self.keys.height - self.side_low() - over
    }

    /// Name of a part.
    pub(super) fn id(&self, role: &str) -> String {
        if self.keys.bare_names {
            role.to_owned()
        } else {
            format!("{}-{role}", self.name)
        }
    }

    /// A point of the whole from the carcass's own corner.
    pub(super) fn at(&self, x: f64, y: f64, z: f64) -> Triple {
        [self.origin[0] + x, self.origin[1] + y, self.origin[2] + z]
    }

    /// Place of the left side, and of the right one.
    pub(super) fn side_places(&self) -> (Placement, Placement) {
        let at = self.at(0.0, self.side_low(), self.side_back());
        let left = placed(at, Direction::Back, Direction::Up);
        let middle = self.origin[0] + self.keys.width / 2.0;
        (left, left.mirrored_right(middle, self.t()))
    }

    /// Size of a side: width, height and thickness.
    pub(super) fn side_size(&self) -> Triple {
        [
            self.keys.depth - self.side_back(),
            self.side_height(),
            self.t(),
        ]
    }

    /// A panel that lies flat with its upper face or its underside to the front of the drawing.
    fn panel(&self, title: &str, size: (f64, f64), at: Triple, underside: bool) -> PartDraft {
        let (face, other, width) = if underside {
            ("underside", "upper face", Direction::Left)
        } else {
            ("upper face", "underside", Direction::Right)
        };
        PartDraft {
            title: title.to_owned(),
            stock: self.keys.stock.id.clone(),
            width: size.0,
            height: size.1,
            grain: Grain::Width,
            places: vec![placed(at, width, Direction::Back)],
            faces: vec![(Face::Front, face), (Face::Back, other)],
            edges: vec![(Edge::Bottom, "front edge"), (Edge::Top, "back edge")],
            ..PartDraft::new()
        }
    }

    /// A shelf that lies flat, its upper face to the front of the drawing.
    pub(super) fn shelf(&self, title: &str, size: (f64, f64), at: Triple) -> PartDraft {
        self.panel(title, size, at, false)
    }

    /// Keys of a joint that this frame's author may choose.
    pub(super) fn joint(&self, part: &str, to: &str, with: With) -> Keys {
        let mut keys = held(part, to, with.name());
        if with != With::PocketScrews {
            keys.extend(self.keys.at.clone().map(|at| ("at", at)));
        }
        if with == With::Screws {
            keys.push(("pilot", length(self.keys.pilot)));
        }
        keys
    }

    /// The joint of a panel that ends in rebates of the sides.
    fn rebate(&self, part: &str, to: &str, with: With) -> Keys {
        // Pockets and dowels have no room in a rebate.
        let with = match with {
            With::Glue | With::Nothing => with,
            With::Screws | With::PocketScrews | With::Dowels | With::Bolts => With::Screws,
        };
        let mut keys = self.joint(part, to, with);
        keys.push(("depth", length(self.keys.rebate_depth)));
        keys
    }

    /// Makes the outer parts and their joints.
    pub(super) fn make(&self, built: &mut BuildContext) {
        self.make_sides(built);
        self.make_top(built);
        self.make_bottom(built);
        self.make_back(built);
        self.make_kick_board(built);
        // From above, where no caster is in the way; a raised bottom does not touch the base, which then is screwed to the
        // ends of the sides.
        match (&self.keys.on.base, &self.keys.toe) {
            (Some(base), None) => {
                let (span, bottom) = (built.span, self.id("bottom"));
                let along = self.on_base().into_iter().map(length);
                let at = ("at", list(span, along));
                if let Some(insert) = &self.keys.lifts_off {
                    let sizes = [
                        ("hole", length(insert.hole)),
                        ("length", length(insert.length)),
                    ];
                    let keys = vec![
                        ("part", text(&bottom)),
                        ("to", text(&base.value)),
                        ("insert", map(span, sizes)),
                        ("lifts_off", text("yes")),
                        at,
                    ];
                    built.joint("bolted", keys);
                } else {
                    let mut keys = held(&base.value, &bottom, "screws");
                    keys.push(at);
                    built.joint("butt", keys);
                }
            }
            (Some(base), Some(toe)) => {
                // Behind the toe space, where the ends of the sides stand on the base.
                let (front, back) = (toe.depth, self.side_size()[0]);
                let end = (back - front) / 4.0;
                let along = [front + end.min(50.0), back - end.min(50.0)];
                for side in SIDES.map(|side| self.id(side)) {
                    let mut keys = held(&side, &base.value, "screws");
                    keys.push(("at", list(built.span, along.map(length))));
                    built.joint("butt", keys);
                }
            }
            (None, _) => {}
        }
    }

    /// Where along the longer way of the bottom its screws into a base are: away from the casters in the corners, and
    /// between the screws that come from the sides.
    fn on_base(&self) -> Vec<f64> {
        /// Where the screws of joints are where nothing is said, as for all joints.
        const INSET: f64 = 50.0;
        const MOST: f64 = 150.0;
        let inset = match self.keys.bottom {
            Bottom::Between => self.t(),
            Bottom::Under => 0.0,
            Bottom::Rebated => self.t() - self.keys.rebate_depth,
        };
        let (wide, deep) = (
            self.keys.width - 2.0 * inset,
            self.keys.depth - self.back_plane(),
        );
        if wide >= deep {
            return vec![wide / 3.0, wide * 2.0 / 3.0];
        }
        let end = INSET.min(deep / 4.0);
        let run = deep - 2.0 * end;
        let gaps = (run / MOST - 1e-9).ceil().max(1.0);
        let middle = deep / 2.0;
        if gaps % 2.0 < 0.5 {
            let half = run / gaps / 2.0;
            vec![middle - half, middle + half]
        } else {
            vec![middle]
        }
    }

    fn make_sides(&self, built: &mut BuildContext) {
        let (left, right) = self.side_places();
        let size = self.side_size();
        let mut features = Vec::new();
        if let Some(toe) = &self.keys.toe {
            features.push((
                "notch",
                vec![
                    ("edge", text("bottom")),
                    ("start", length(0.0)),
                    ("width", length(toe.depth)),
                    ("depth", length(toe.height)),
                    ("corner_radius", length(toe.corner_radius)),
                    ("label", text("toe space")),
                ],
            ));
        }
        let draft = PartDraft {
            title: "Left side".to_owned(),
            width: size[0],
            height: size[1],
            mirror_as: Some(self.id("side-right")),
            mirror_title: Some("Right side".to_owned()),
            places: vec![left],
            mirror_places: vec![right],
            faces: INSIDE_OUT.to_vec(),
            edges: vec![(Edge::Left, "front edge"), (Edge::Right, "back edge")],
            features,
            ..upright(&self.keys.stock)
        };
        built.named_part(self.id("side-left"), draft);
    }

    fn make_top(&self, built: &mut BuildContext) {
        let t = self.t();
        let inset = match self.keys.top {
            Top::Between => t,
            Top::Over => 0.0,
            Top::Rebated => t - self.keys.rebate_depth,
            Top::None => return,
        };
        let back = self.side_back();
        let size = (self.keys.width - 2.0 * inset, self.keys.depth - back);
        let at = self.at(inset, self.keys.height - t, back);
        let top = self.id("top");
        built.named_part(top.clone(), self.panel("Top", size, at, true));
        let with = self.keys.with;
        for side in SIDES.map(|side| self.id(side)) {
            match self.keys.top {
                Top::Rebated => built.joint("rebate", self.rebate(&top, &side, with)),
                Top::Over => built.joint("butt", self.joint(&side, &top, with)),
                _ => built.joint("butt", self.joint(&top, &side, with)),
            }
        }
    }

    fn make_bottom(&self, built: &mut BuildContext) {
        let inset = match self.keys.bottom {
            Bottom::Between => self.t(),
            Bottom::Under => 0.0,
            Bottom::Rebated => self.t() - self.keys.rebate_depth,
        };
        let back = self.back_plane();
        let size = (self.keys.width - 2.0 * inset, self.keys.depth - back);
        let at = self.at(inset, self.bottom_low(), back);
        let bottom = self.id("bottom");
        built.named_part(bottom.clone(), self.panel("Bottom", size, at, true));
        let with = self.keys.bottom_with.unwrap_or(self.keys.with);
        for side in SIDES.map(|side| self.id(side)) {
            match self.keys.bottom {
                Bottom::Rebated => built.joint("rebate", self.rebate(&bottom, &side, with)),
                Bottom::Under => built.joint("butt", self.joint(&side, &bottom, with)),
                Bottom::Between => built.joint("butt", self.joint(&bottom, &side, with)),
            }
        }
    }

    fn make_back(&self, built: &mut BuildContext) {
        let rebated = match self.keys.back {
            Back::Rebated => true,
            Back::Applied => false,
            Back::None => return,
        };
        let (t, height) = (self.t(), self.keys.height);
        let low = self.bottom_low();
        let (inset, high) = if rebated {
            let inset = t - self.keys.back_depth + self.keys.back_play / 2.0;
            let high = if self.has_top() { inset } else { 0.0 };
            (inset, height - high)
        } else {
            (0.0, height)
        };
        // In the middle of its rebate, which is as deep as the thickest reading and a slip.
        let z = if rebated {
            (self.back_plane() - self.back_stock.thickness).max(0.0)
        } else {
            0.0
        };
        let draft = PartDraft {
            title: "Back".to_owned(),
            width: self.keys.width - 2.0 * inset,
            height: high - low,
            places: vec![flat(self.at(inset, low, z))],
            faces: vec![(Face::Front, "inside"), (Face::Back, "toward the wall")],
            ..upright(&self.back_stock)
        };
        let back = self.id("back");
        built.named_part(back.clone(), draft);
        let mut receivers = SIDES.map(|side| self.id(side)).to_vec();
        if self.has_top() {
            receivers.push(self.id("top"));
        }
        for (index, to) in receivers.iter().enumerate() {
            if !rebated {
                let mut keys = held(&back, to, "screws");
                let beside = self.beside_stretchers(low, index < 2);
                keys.extend(beside.map(|at| ("at", list(built.span, at.into_iter().map(length)))));
                built.joint("butt", keys);
                continue;
            }
            let with = match self.keys.back_with {
                BackWith::Glue => "glue",
                BackWith::Nails | BackWith::Staples | BackWith::Screws => "nothing",
            };
            let mut keys = held(&back, to, with);
            keys.push(("depth", length(self.keys.back_depth)));
            keys.push(("width", length(self.back_plane())));
            if index < 2 && low > self.side_low() {
                let start = [("start", length(low - self.side_low()))];
                keys.push(("stop", map(built.span, start)));
            }
            built.joint("rebate", keys);
        }
    }

    /// The box of a stretcher: its lower left back corner in the whole, how high and how deep it is.
    pub(super) fn stretcher(&self, keys: &StretcherKeys) -> (Triple, f64, f64) {
        let (t, size) = (self.t(), keys.size);
        let (up, deep) = match keys.lies {
            Lies::Upright => (size, t),
            Lies::Flat => (t, size),
        };
        let y = match keys.place {
            Against::BackTop | Against::FrontTop => self.ceiling() - up,
            Against::BackBottom | Against::FrontBottom => self.floor(),
        };
        let z = match keys.place {
            Against::BackTop | Against::BackBottom => self.back_plane(),
            Against::FrontTop | Against::FrontBottom => self.keys.depth - deep,
        };
        (self.at(t, y, z), up, deep)
    }

    /// The stretchers that lie against the back: name, lower edge in the carcass, height and depth.
    pub(super) fn stretchers_behind(&self) -> impl Iterator<Item = (&str, f64, f64, f64)> {
        let behind = self
            .keys
            .stretchers
            .iter()
            .filter(|keys| matches!(keys.place, Against::BackTop | Against::BackBottom));
        behind.map(|keys| {
            let (corner, up, deep) = self.stretcher(keys);
            (keys.name.as_str(), corner[1] - self.origin[1], up, deep)
        })
    }

    /// Where an applied back is screwed to a side: away from the stretchers behind it, whose own screws run there; nothing
    /// where none is in the way.
    fn beside_stretchers(&self, low: f64, to_side: bool) -> Option<Vec<f64>> {
        /// The usual distance from the ends, and between two screws, as for all joints.
        const INSET: f64 = 50.0;
        const APART: f64 = 150.0;
        /// Around the stretcher.
        const CLEAR: f64 = 15.0;
        let taken: Vec<(f64, f64)> = self
            .stretchers_behind()
            .map(|(_, y, up, _)| (y - low - CLEAR, y + up - low + CLEAR))
            .collect();
        if taken.is_empty() || !to_side {
            return None;
        }
        let from = self.side_low().max(low) - low;
        let to = self.side_low() + self.side_height() - low;
        let (mut first, mut last) = (from + INSET, to - INSET);
        for (below, above) in &taken {
            if first > *below && first < *above {
                first = *above;
            }
            if last > *below && last < *above {
                last = *below;
            }
        }
        let gaps = ((last - first) / APART - 1e-9).ceil().max(1.0) as u32;
        let at =
            (0..=gaps).map(|number| first + (last - first) * f64::from(number) / f64::from(gaps));
        let free = |at: &f64| {
            taken
                .iter()
                .all(|(below, above)| *at <= *below || *at >= *above)
        };
        // Places count from the lower end of what both have in common.
        Some(at.filter(free).map(|at| at - from).collect())
    }

    fn make_kick_board(&self, built: &mut BuildContext) {
        let Some(toe) = self.keys.toe.as_ref().filter(|toe| toe.board) else {
            return;
        };
        let t = self.t();
        let at = self.at(t, 0.0, self.keys.depth - toe.depth - t);
        let draft = PartDraft {
            title: "Kick board".to_owned(),
            width: self.clear(),
            height: toe.height,
            grain: Grain::Width,
            places: vec![placed(at, Direction::Left, Direction::Up)],
            faces: INSIDE_OUT.to_vec(),
            ..upright(&self.keys.stock)
        };
        let board = self.id("kick-board");
        built.named_part(board.clone(), draft);
        for side in SIDES.map(|side| self.id(side)) {
            let keys = held(&board, &side, With::PocketScrews.name());
            built.joint("butt", keys);
        }
    }
}
