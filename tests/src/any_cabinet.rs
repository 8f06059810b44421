//! Random cabinets as plans.

use proptest::prelude::*;

/// What a cabinet is made of: sizes in millimetres, and words of the builders.
#[derive(Debug, Clone)]
pub struct Cabinet {
    /// Outside width.
    pub width: f64,
    /// Outside height.
    pub height: f64,
    /// Outside depth.
    pub depth: f64,
    /// Thickness of the carcass.
    pub thickness: f64,
    /// Thickness of the back.
    pub back: f64,
    /// Thickness of drawer sides.
    pub box_side: f64,
    /// Between fronts.
    pub gap: f64,
    /// How the top is joined.
    pub top: &'static str,
    /// How the bottom is joined.
    pub bottom: &'static str,
    /// How the back is fixed.
    pub back_kind: &'static str,
    /// What holds the carcass.
    pub with: &'static str,
    /// Whether there is a toe space.
    pub toe: bool,
    /// Height of a fixed shelf and its joint.
    pub shelf: Option<(f64, &'static str)>,
    /// How many dividers.
    pub dividers: u32,
    /// How fronts lie.
    pub fit: &'static str,
    /// Drawers one above the other.
    pub drawers: u32,
    /// Loose shelves.
    pub loose: u32,
}

/// A tenth of a millimetre is what a caliper gives.
fn tenths(low: f64, high: f64) -> impl Strategy<Value = f64> {
    ((low * 10.0) as i64..=(high * 10.0) as i64).prop_map(|tenths| tenths as f64 / 10.0)
}

/// Any cabinet.
pub fn cabinets() -> impl Strategy<Value = Cabinet> {
    let sizes = (
        tenths(400.0, 1200.0),
        tenths(600.0, 2000.0),
        tenths(300.0, 650.0),
        tenths(14.0, 24.0),
        tenths(3.0, 9.0),
        tenths(9.0, 15.0),
        tenths(1.5, 4.0),
    );
    let kinds = (
        prop::sample::select(vec!["between", "over", "rebated", "none"]),
        prop::sample::select(vec!["between", "under", "rebated"]),
        prop::sample::select(vec!["rebated", "applied", "none"]),
        prop::sample::select(vec!["screws", "pocket screws", "dowels", "glue"]),
        any::<bool>(),
        prop::option::of((0.3..0.6f64, prop::sample::select(vec!["housing", "butt"]))),
        0u32..3,
        prop::sample::select(vec!["overlay", "half", "inset"]),
        1u32..4,
        0u32..3,
    );
    (sizes, kinds).prop_map(|(sizes, kinds)| {
        let (width, height, depth, thickness, back, box_side, gap) = sizes;
        let (top, bottom, back_kind, with, toe, shelf, dividers, fit, drawers, loose) = kinds;
        // A toe space is cut into sides that reach the floor.
        let toe = toe && bottom == "between";
        Cabinet {
            width,
            height,
            depth,
            thickness,
            back,
            box_side,
            gap,
            top,
            bottom,
            back_kind,
            with,
            toe,
            shelf: shelf.map(|(share, joint)| ((height * share * 10.0).round() / 10.0, joint)),
            dividers,
            fit,
            drawers,
            loose,
        }
    })
}

impl Cabinet {
    /// Doors close the lowest room where nothing divides it; drawers fill the bays above the shelf.
    pub fn plan(&self) -> String {
        let head = format!(
            "jigless: 1\ntitle: Any\nunits: mm\nstock:\n  ply: {{thickness: {}}}\n  thin: {{thickness: {}}}\n  side: {{thickness: {}}}\nbuilds:\n  c:\n    carcass:\n      stock: ply\n      back_stock: thin\n      width: {}\n      height: {}\n      depth: {}\n      top: {}\n      bottom: {}\n      rebate_depth: thin.thickness / 2\n      back: {}\n      back_depth: 6\n      with: {}\n",
            self.thickness,
            self.back,
            self.box_side,
            self.width,
            self.height,
            self.depth,
            self.top,
            self.bottom,
            self.back_kind,
            self.with
        );
        let rebate = format!("rebate_depth: {}", self.thickness / 2.0);
        let mut text = vec![head.replace("rebate_depth: thin.thickness / 2", &rebate)];
        if self.toe {
            text.push("      toe: {height: 80, depth: 60}\n".to_owned());
        }
        if let Some((up, joint)) = self.shelf {
            text.push(format!(
                "      shelves: [{{name: deck, up: {up}, joint: {joint}, depth: 5}}]\n"
            ));
        }
        if self.dividers > 0 && self.top != "none" {
            let on = if self.shelf.is_some() {
                "deck"
            } else {
                "bottom"
            };
            text.push(format!(
                "      dividers: [{{name: post, stands_on: {on}, count: {}}}]\n",
                self.dividers
            ));
        }
        if self.loose > 0 && self.shelf.is_some() {
            text.push(format!(
                "      loose: [{{count: {}, first: 40, pins: 4, setback: 30}}]\n",
                self.loose
            ));
        }
        let rooms = self.rooms();
        text.push(format!(
            "  drawer:\n    drawer: {{in: [{}], count: {}, stock: side, bottom_stock: thin, front_stock: ply, fit: {}, gap: {}, rebate: {}, groove: {}}}\n",
            rooms.join(", "),
            self.drawers,
            if self.fit == "half" { "overlay" } else { self.fit },
            self.gap,
            self.box_side / 2.0,
            self.box_side / 2.0,
        ));
        if self.shelf.is_some() {
            text.push(format!("  door:\n    door_pair: {{in: c-bottom, stock: ply, fit: {}, gap: {}, plate_depth: 8, cup_depth: 11, cup_screws: no}}\n", self.fit, self.gap));
        }
        text.concat()
    }

    /// The rooms that drawers fill.
    pub fn rooms(&self) -> Vec<String> {
        let floor = if self.shelf.is_some() {
            "c-deck"
        } else {
            "c-bottom"
        };
        if self.dividers > 0 && self.top != "none" {
            (1..=self.dividers + 1)
                .map(|bay| format!("{floor}-{bay}"))
                .collect()
        } else {
            vec![floor.to_owned()]
        }
    }
}

/// So many cabinets, the same on every machine.
///
/// # Panics
/// Never: every draw gives a cabinet.
pub fn some_cabinets(count: usize) -> Vec<Cabinet> {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;

    let mut runner = TestRunner::deterministic();
    let any = cabinets();
    (0..count)
        .map(|_| any.new_tree(&mut runner).expect("a cabinet").current())
        .collect()
}
