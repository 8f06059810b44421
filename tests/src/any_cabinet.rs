//! Random cabinets as plans.

use jigless_core::load::NoIncludes;
use proptest::prelude::*;

/// What a cabinet is made of: sizes in millimetres, and words of the builders.
#[derive(Debug, Clone)]
#[expect(clippy::struct_excessive_bools, reason = "each is drawn by itself")]
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
    /// What holds a rebated back.
    pub back_with: &'static str,
    /// What trays in the drawers stand on, if there are any: the floor, or strips so high that they end flush.
    pub tray: Option<&'static str>,
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
    /// Whether a rail runs across below the top.
    pub rail: bool,
    /// Whether it stands on a base with casters.
    pub casters: bool,
    /// Whether its plan is in inches.
    pub inches: bool,
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
        tenths(9.0, 38.0),
        tenths(3.0, 9.0),
        tenths(9.0, 19.0),
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
    let more = (
        any::<bool>(),
        any::<bool>(),
        any::<bool>(),
        prop::sample::select(vec!["nails", "staples", "screws", "glue"]),
        prop::sample::select(vec![None, None, Some("floor"), Some("strips")]),
    );
    (sizes, kinds, more).prop_map(|(sizes, kinds, (rail, casters, inches, back_with, tray))| {
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
            back_with,
            tray,
            with,
            toe,
            shelf: shelf.map(|(share, joint)| ((height * share * 10.0).round() / 10.0, joint)),
            dividers,
            fit,
            drawers,
            loose,
            rail,
            casters,
            inches,
        }
    })
}

impl Cabinet {
    /// Doors close the lowest room where nothing divides it; drawers fill the bays above the shelf.
    pub fn plan(&self) -> String {
        let mut text = vec![format!(
            "jigless: 1\ntitle: Any\nunits: {}\nstock:\n  ply: {{thickness: {} mm, kind: plywood}}\n  thin: {{thickness: {} mm, kind: plywood}}\n  side: {{thickness: {} mm, kind: plywood}}\nbuilds:\n",
            if self.inches { "in" } else { "mm" },
            self.thickness,
            self.back,
            self.box_side,
        )];
        if self.casters {
            text.push(format!(
                "  b:\n    base_with_casters: {{stock: ply, width: {} mm, depth: {} mm, caster_height: 100 mm, plate: {{along_width: 95 mm, along_depth: 67 mm}}, holes: {{along_width: 75 mm, along_depth: 45 mm}}, bolts: 8.5 mm}}\n",
                self.width, self.depth
            ));
        }
        text.push(format!(
            "  c:\n    carcass:\n      stock: ply\n      back_stock: thin\n      width: {} mm\n      height: {} mm\n      depth: {} mm\n      top: {}\n      bottom: {}\n      rebate_depth: {} mm\n      back: {}\n      back_with: {}\n      back_depth: {} mm\n      with: {}\n",
            self.width,
            self.height,
            self.depth,
            self.top,
            self.bottom,
            self.thickness / 2.0,
            self.back_kind,
            self.back_with,
            self.back_depth(),
            self.with
        ));
        if self.casters {
            text.push("      stands_on: b\n".to_owned());
        }
        if self.toe {
            text.push("      toe: {height: 80 mm, depth: 60 mm}\n".to_owned());
        }
        if let Some((up, joint)) = self.shelf {
            text.push(format!(
                "      shelves: [{{name: deck, up: {up} mm, joint: {joint}, depth: {} mm}}]\n",
                (self.thickness / 3.0).min(5.0)
            ));
        }
        if self.has_dividers() {
            let on = if self.shelf.is_some() {
                "deck"
            } else {
                "bottom"
            };
            text.push(format!(
                "      dividers: [{{name: post, stands_on: {on}, count: {}, short: {} mm}}]\n",
                self.dividers,
                if self.rail { self.thickness } else { 0.0 }
            ));
        }
        if self.rail {
            text.push("      stretchers: [{name: rail, size: 80 mm}]\n".to_owned());
        }
        if self.loose > 0 && self.shelf.is_some() {
            text.push(format!(
                "      loose: [{{count: {}, first: 40 mm, pins: 4, setback: {} mm, pin_depth: {} mm}}]\n",
                self.loose,
                self.thickness + 6.0,
                (self.thickness - 3.0).min(10.0)
            ));
        }
        let rooms = self.rooms();
        text.push(format!(
            "  drawer:\n    drawer: {{in: [{}], count: {}, stock: side, bottom_stock: thin, front_stock: ply, fit: {}, gap: {} mm, rebate: {} mm, groove: {} mm, wall_depth: {} mm, box_depth: {} mm, wall_offsets: [37 mm, 165 mm], box_offsets: [35 mm, 131 mm]}}\n",
            rooms.join(", "),
            self.drawers,
            if self.fit == "half" { "overlay" } else { self.fit },
            self.gap,
            self.box_side / 2.0,
            self.box_side / 2.0,
            (self.thickness - 3.0).min(10.0),
            (self.box_side - 3.0).min(8.0),
        ));
        if self.shelf.is_some() {
            text.push(format!(
                "  door:\n    door_pair: {{in: c-bottom, stock: ply, fit: {}, gap: {} mm, plate_depth: {} mm, cup_depth: {} mm, cup_screws: no, edge_gap: 5 mm}}\n",
                self.fit,
                self.gap,
                (self.thickness - 3.0).min(8.0),
                (self.thickness - 2.5).min(11.0)
            ));
        }
        if let Some(on) = self.tray {
            let strips = match on {
                "strips" => ", strips: {stock: side}",
                _ => "",
            };
            // Drawers of one height are one kind, which goes by the name of the build.
            text.push(format!("  tray:\n    divider_tray: {{in: drawer, stock: side, base_stock: thin, depth: drawer.inside_depth/2, height: 30 mm, columns: 2{strips}}}\n"));
        }
        text.concat()
    }

    /// The words of what it is made of, for counting.
    pub fn styles(&self) -> Vec<&'static str> {
        let mut styles = vec![
            self.fit,
            match self.top {
                "between" => "butted top",
                "over" => "top over the sides",
                "rebated" => "rebated top",
                _ => "without a top",
            },
            if self.inches { "inch" } else { "mm" },
        ];
        let has = [
            (
                self.shelf.is_some_and(|(_, joint)| joint == "housing"),
                "housed shelf",
            ),
            (
                self.shelf.is_some_and(|(_, joint)| joint == "butt"),
                "butted shelf",
            ),
            (self.rail, "rail"),
            (self.has_dividers(), "dividers"),
            (self.tray == Some("floor"), "trays on the floor of drawers"),
            (self.tray == Some("strips"), "trays on strips"),
            (self.casters, "casters"),
            (self.thickness < 12.0, "9 to 12 mm"),
            (self.thickness > 30.0, "30 to 38 mm"),
        ];
        styles.extend(has.iter().filter(|(has, _)| *has).map(|(_, style)| *style));
        styles
    }

    /// How far the back reaches into the sides: near half of them, as wide as its fixings want where there is wood for it.
    pub fn back_depth(&self) -> f64 {
        (self.thickness * 0.6).min(11.0)
    }

    /// Whether dividers stand in it: they need a top.
    pub fn has_dividers(&self) -> bool {
        self.dividers > 0 && self.top != "none"
    }

    /// The rooms that drawers fill, by their names in the plan.
    pub fn rooms(&self) -> Vec<String> {
        let floor = if self.shelf.is_some() {
            "c-deck"
        } else {
            "c-bottom"
        };
        if self.has_dividers() {
            (1..=self.dividers + 1)
                .map(|bay| format!("{floor}-{bay}"))
                .collect()
        } else {
            vec![floor.to_owned()]
        }
    }
}

/// So many cabinets that the program takes, the same on every machine.
///
/// # Panics
/// When it refuses nearly all.
pub fn some_cabinets(count: usize) -> Vec<Cabinet> {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;

    let mut runner = TestRunner::deterministic();
    let any = cabinets();
    let drawn = std::iter::repeat_with(|| any.new_tree(&mut runner).expect("a cabinet").current());
    let sound = drawn.take(50 * count).filter(|cabinet| {
        let plan = cabinet.plan();
        let compiled = jigless_core::compile("plan.yaml", plan.as_bytes(), &NoIncludes);
        compiled.result.is_some()
    });
    let some: Vec<Cabinet> = sound.take(count).collect();
    assert_eq!(some.len(), count, "nearly all cabinets are refused");
    some
}
