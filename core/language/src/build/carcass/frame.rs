//! Sides, top, bottom, back and toe space.

use std::sync::Arc;

use jigless_model::plan::{Grain, Stock};
use jigless_model::whole::{Direction, Placement, Triple};

use crate::build::kit::{Keys, copied, flat, held, upright};
use crate::build::{Built, PartDraft, length, map, text};
use crate::resolve::{Fields, read_triple};

/// The outer box and how it is held together, in millimetres.
#[derive(Debug)]
pub(super) struct Frame {
    pub(super) stock: Arc<Stock>,
    back_stock: Arc<Stock>,
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) depth: f64,
    /// Lower left back corner in the whole.
    pub(super) origin: Triple,
    pub(super) slip: f64,
    top: &'static str,
    bottom: &'static str,
    back: &'static str,
    rebate: f64,
    back_rebate: f64,
    back_play: f64,
    pub(super) toe: Option<Toe>,
    with: &'static str,
    bottom_with: &'static str,
    pilot: f64,
    bare_names: bool,
    name: String,
    /// The part that it stands on.
    base: Option<String>,
}

#[derive(Debug)]
pub(super) struct Toe {
    pub(super) height: f64,
    depth: f64,
    radius: f64,
    board: bool,
}

impl Frame {
    pub(super) fn read(fields: &Fields, built: &Built) -> Option<Frame> {
        let stock = built.stock(fields, "stock");
        let (width, height) = (fields.length("width"), fields.length("height"));
        let depth = fields.length("depth");
        let (top, bottom) = (fields.word("top"), fields.word("bottom"));
        let (rebate, slip) = (fields.length("rebate_depth"), fields.length("slip"));
        let (back, back_rebate) = (fields.word("back"), fields.length("back_depth"));
        let (back_play, pilot) = (fields.length("back_play"), fields.length("pilot"));
        let with = fields.word("with");
        let bottom_with = if fields.has("bottom_with") {
            fields.word("bottom_with")
        } else {
            with
        };
        let toe = if fields.has("toe") {
            Some(read_toe(fields)?)
        } else {
            None
        };
        let bare_names = fields.word("bare_names")?.value == "yes";
        let origin = if fields.has("stands_on") {
            built.surface_of(fields, "stands_on")?
        } else if let Some(node) = fields.node("place") {
            read_triple(fields.context(), node)?
        } else {
            [0.0; 3]
        };
        let stock = stock?;
        Some(Frame {
            back_stock: built.stock_or(fields, "back_stock", &stock)?,
            stock,
            width: width?.value,
            height: height?.value,
            depth: depth?.value,
            origin,
            slip: slip?.value,
            top: top?.value,
            bottom: bottom?.value,
            back: back?.value,
            rebate: rebate?.value,
            back_rebate: back_rebate?.value,
            back_play: back_play?.value,
            toe,
            with: with?.value,
            bottom_with: bottom_with?.value,
            pilot: pilot?.value,
            bare_names,
            name: built.name.to_owned(),
            base: fields
                .has("stands_on")
                .then(|| fields.text("stands_on"))
                .flatten()
                .map(|name| name.value),
        })
    }

    /// Thickness of the stock.
    pub(super) fn t(&self) -> f64 {
        self.stock.thickness
    }

    /// Room between the sides.
    pub(super) fn clear(&self) -> f64 {
        self.width - 2.0 * self.t()
    }

    /// Where the front of the back is, from the carcass's own back plane.
    pub(super) fn back_plane(&self) -> f64 {
        match self.back {
            "rebated" => self.back_stock.thickest() + self.slip,
            "applied" => self.back_stock.thickness,
            _ => 0.0,
        }
    }

    /// Where the sides begin, from the carcass's own back plane.
    fn side_back(&self) -> f64 {
        if self.back == "applied" {
            self.back_stock.thickness
        } else {
            0.0
        }
    }

    /// The underside of the bottom.
    pub(super) fn bottom_low(&self) -> f64 {
        self.toe.as_ref().map_or(0.0, |toe| toe.height)
    }

    /// The upper face of the bottom.
    pub(super) fn floor(&self) -> f64 {
        self.bottom_low() + self.t()
    }

    /// The underside of the top; the upper end of the sides where there is none.
    pub(super) fn ceiling(&self) -> f64 {
        if self.top == "none" {
            self.height
        } else {
            self.height - self.t()
        }
    }

    pub(super) fn has_top(&self) -> bool {
        self.top != "none"
    }

    fn side_low(&self) -> f64 {
        if self.bottom == "under" {
            self.t()
        } else {
            0.0
        }
    }

    fn side_height(&self) -> f64 {
        let over = if self.top == "over" { self.t() } else { 0.0 };
        self.height - self.side_low() - over
    }

    /// Name of a part.
    pub(super) fn id(&self, role: &str) -> String {
        if self.bare_names {
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
        let left = Placement {
            at: self.at(0.0, self.side_low(), self.side_back()),
            width: Direction::Back,
            height: Direction::Up,
        };
        (
            left,
            left.mirrored_right(self.origin[0] + self.width / 2.0, self.t()),
        )
    }

    /// Size of a side: width, height and thickness.
    pub(super) fn side_size(&self) -> Triple {
        [self.depth - self.side_back(), self.side_height(), self.t()]
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
            stock: self.stock.id.clone(),
            width: size.0,
            height: size.1,
            grain: Grain::Width,
            places: vec![Placement {
                at,
                width,
                height: Direction::Back,
            }],
            faces: vec![("front", face.to_owned()), ("back", other.to_owned())],
            edges: vec![
                ("bottom", "front edge".to_owned()),
                ("top", "back edge".to_owned()),
            ],
            ..PartDraft::new()
        }
    }

    /// A shelf that lies flat, its upper face to the front of the drawing.
    pub(super) fn shelf(&self, title: &str, size: (f64, f64), at: Triple) -> PartDraft {
        self.panel(title, size, at, false)
    }

    /// Keys of a joint that this frame's author may choose.
    pub(super) fn joint(&self, fields: &Fields, part: &str, to: &str, with: &str) -> Keys {
        let mut keys = held(part, to, with);
        if with != "pocket screws" {
            keys.extend(copied(fields, "at"));
        }
        if with == "screws" {
            keys.push(("pilot", length(self.pilot)));
        }
        keys
    }

    pub(super) fn with(&self) -> &'static str {
        self.with
    }

    /// Makes the outer parts and their joints.
    pub(super) fn make(&self, fields: &Fields, built: &mut Built) {
        self.make_sides(built);
        self.make_top(fields, built);
        self.make_bottom(fields, built);
        self.make_back(built);
        self.make_kick_board(built);
        // From above, where no caster is in the way; a raised bottom does not touch the base.
        if let (Some(base), None) = (&self.base, &self.toe) {
            built.joint("butt", held(base, &self.id("bottom"), "screws"));
        }
    }

    fn make_sides(&self, built: &mut Built) {
        let (left, right) = self.side_places();
        let size = self.side_size();
        let mut features = Vec::new();
        if let Some(toe) = &self.toe {
            features.push((
                "notch",
                vec![
                    ("edge", text("bottom")),
                    ("start", length(0.0)),
                    ("width", length(toe.depth)),
                    ("depth", length(toe.height)),
                    ("corner_radius", length(toe.radius)),
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
            faces: vec![
                ("front", "inside".to_owned()),
                ("back", "outside".to_owned()),
            ],
            edges: vec![
                ("left", "front edge".to_owned()),
                ("right", "back edge".to_owned()),
            ],
            features,
            ..upright(&self.stock)
        };
        built.named_part(self.id("side-left"), draft);
    }

    fn make_top(&self, fields: &Fields, built: &mut Built) {
        let t = self.t();
        let back = self.side_back();
        let depth = self.depth - back;
        let inset = match self.top {
            "between" => t,
            "over" => 0.0,
            "rebated" => t - self.rebate,
            _ => return,
        };
        let at = self.at(inset, self.height - t, back);
        let draft = self.panel("Top", (self.width - 2.0 * inset, depth), at, true);
        let top = self.id("top");
        built.named_part(top.clone(), draft);
        for side in ["side-left", "side-right"] {
            let side = self.id(side);
            match self.top {
                "rebated" => {
                    let mut keys = self.joint(fields, &top, &side, rebate_with(self.with));
                    keys.push(("depth", length(self.rebate)));
                    built.joint("rebate", keys);
                }
                "over" => built.joint("butt", self.joint(fields, &side, &top, self.with)),
                _ => built.joint("butt", self.joint(fields, &top, &side, self.with)),
            }
        }
    }

    fn make_bottom(&self, fields: &Fields, built: &mut Built) {
        let t = self.t();
        let inset = match self.bottom {
            "between" => t,
            "under" => 0.0,
            _ => t - self.rebate,
        };
        let at = self.at(inset, self.bottom_low(), self.back_plane());
        let size = (self.width - 2.0 * inset, self.depth - self.back_plane());
        let bottom = self.id("bottom");
        built.named_part(bottom.clone(), self.panel("Bottom", size, at, true));
        for side in ["side-left", "side-right"] {
            let side = self.id(side);
            match self.bottom {
                "rebated" => {
                    let mut keys =
                        self.joint(fields, &bottom, &side, rebate_with(self.bottom_with));
                    keys.push(("depth", length(self.rebate)));
                    built.joint("rebate", keys);
                }
                "under" => {
                    built.joint("butt", self.joint(fields, &side, &bottom, self.bottom_with));
                }
                _ => built.joint("butt", self.joint(fields, &bottom, &side, self.bottom_with)),
            }
        }
    }

    fn make_back(&self, built: &mut Built) {
        if self.back == "none" {
            return;
        }
        let t = self.t();
        let rebated = self.back == "rebated";
        let low = self.bottom_low();
        let (inset, high) = if rebated {
            let inset = t - self.back_rebate + self.back_play / 2.0;
            let high = if self.has_top() { inset } else { 0.0 };
            (inset, self.height - high)
        } else {
            (0.0, self.height)
        };
        // In the middle of its rebate, which is as deep as the thickest reading and a slip.
        let z = if rebated {
            (self.back_plane() - self.back_stock.thickness).max(0.0)
        } else {
            0.0
        };
        let draft = PartDraft {
            title: "Back".to_owned(),
            width: self.width - 2.0 * inset,
            height: high - low,
            places: vec![flat(self.at(inset, low, z))],
            faces: vec![
                ("front", "inside".to_owned()),
                ("back", "toward the wall".to_owned()),
            ],
            ..upright(&self.back_stock)
        };
        let back = self.id("back");
        built.named_part(back.clone(), draft);
        let mut receivers = vec![self.id("side-left"), self.id("side-right")];
        if self.has_top() {
            receivers.push(self.id("top"));
        }
        for (index, to) in receivers.iter().enumerate() {
            if !rebated {
                built.joint("butt", held(&back, to, "screws"));
                continue;
            }
            let mut keys = held(&back, to, "nothing");
            keys.push(("depth", length(self.back_rebate)));
            keys.push(("width", length(self.back_plane())));
            if index < 2 && low > self.side_low() {
                let start = [("start", length(low - self.side_low()))];
                keys.push(("stop", map(built.span, start)));
            }
            built.joint("rebate", keys);
        }
    }

    fn make_kick_board(&self, built: &mut Built) {
        let Some(toe) = self.toe.as_ref().filter(|toe| toe.board) else {
            return;
        };
        let t = self.t();
        let place = Placement {
            at: self.at(t, 0.0, self.depth - toe.depth - t),
            width: Direction::Left,
            height: Direction::Up,
        };
        let draft = PartDraft {
            title: "Kick board".to_owned(),
            width: self.clear(),
            height: toe.height,
            grain: Grain::Width,
            places: vec![place],
            faces: vec![
                ("front", "inside".to_owned()),
                ("back", "outside".to_owned()),
            ],
            ..upright(&self.stock)
        };
        let board = self.id("kick-board");
        built.named_part(board.clone(), draft);
        for side in ["side-left", "side-right"] {
            built.joint("butt", held(&board, &self.id(side), "pocket screws"));
        }
    }
}

fn read_toe(fields: &Fields) -> Option<Toe> {
    let toe = fields.map("toe")?;
    let (height, depth) = (toe.length("height"), toe.length("depth"));
    let (radius, board) = (toe.length("corner_radius"), toe.word("board"));
    Some(Toe {
        height: height?.value,
        depth: depth?.value,
        radius: radius?.value,
        board: board?.value == "yes",
    })
}

/// What holds a panel in a rebate: pockets and dowels have no room there.
fn rebate_with(with: &'static str) -> &'static str {
    match with {
        "glue" | "nothing" => with,
        _ => "screws",
    }
}
