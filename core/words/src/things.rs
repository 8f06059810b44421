//! Words for what a plan names by a word of the language of plans: hardware, finishes, kinds of work and of joints.

use jigless_model::finish::FinishKind;
use jigless_model::hardware::FittingKind;
use jigless_model::operation::AreaKind;

use crate::table::table;

table! {
    /// Hardware, finishes, kinds of work and of joints.
    pub struct ThingWords {
        screw: "screw", "Schraube";
        screws: "screws", "Schrauben";
        pocket_screw: "pocket screw", "Taschenlochschraube";
        pocket_screws: "pocket screws", "Taschenlochschrauben";
        bolt: "bolt", "Maschinenschraube";
        bolts: "bolts", "Maschinenschrauben";
        insert: "insert", "Einschraubmutter";
        inserts: "inserts", "Einschraubmuttern";
        dowel: "dowel", "Dübel";
        dowels: "dowels", "Dübel";
        nail: "nail", "Nagel";
        nails: "nails", "Nägel";
        staple: "staple", "Klammer";
        staples: "staples", "Klammern";
        hinge: "hinge", "Topfband";
        hinges: "hinges", "Topfbänder";
        hinge_plate: "hinge plate", "Montageplatte";
        hinge_plates: "hinge plates", "Montageplatten";
        runner: "runner", "Schubkastenführung";
        runners: "runners", "Schubkastenführungen";
        shelf_pin: "shelf pin", "Bodenträger";
        shelf_pins: "shelf pins", "Bodenträger";
        caster: "caster", "Möbelrolle";
        casters: "casters", "Möbelrollen";
        knob: "knob", "Möbelknopf";
        knobs: "knobs", "Möbelknöpfe";
        wall_anchor: "wall anchor", "Wandbefestigung";
        wall_anchors: "wall anchors", "Wandbefestigungen";
        oil: "oil", "Öl";
        wax: "wax", "Wachs";
        varnish: "varnish", "Lack";
        lacquer: "lacquer", "Nitrolack";
        shellac: "shellac", "Schellack";
        soap: "soap", "Seife";
        stain: "stain", "Beize";
        paint: "paint", "Farbe";
        bare: "bare", "roh";
        groove: "groove", "Nut";
        rebate: "rebate", "Falz";
        recess: "recess", "Vertiefung";
        into_groove: "the groove", "die Nut";
        into_rebate: "the rebate", "den Falz";
        into_housing: "the housing", "die Quernut";
        into_half_lap: "the half lap", "die Überblattung";
        into_mitre: "the mitre", "die Gehrung";
        into_bolted: "the bolted joint", "die Schraubverbindung";
        into_butt: "the butt", "den Stoß";
        butt: "butt", "stumpf";
        mitre: "mitre", "auf Gehrung";
        housing: "housing", "in einer Quernut";
        in_groove: "groove", "in einer Nut";
        in_rebate: "rebate", "in einem Falz";
        half_lap: "half lap", "überblattet";
        bolted: "bolted", "mit Maschinenschrauben";
    }
}

impl ThingWords {
    /// A kind of hardware, one of it and several.
    pub fn hardware(&self, kind: FittingKind) -> [&'static str; 2] {
        match kind {
            FittingKind::Screw => [self.screw, self.screws],
            FittingKind::PocketScrew => [self.pocket_screw, self.pocket_screws],
            FittingKind::Bolt => [self.bolt, self.bolts],
            FittingKind::Insert => [self.insert, self.inserts],
            FittingKind::Dowel => [self.dowel, self.dowels],
            FittingKind::Nail => [self.nail, self.nails],
            FittingKind::Staple => [self.staple, self.staples],
            FittingKind::Hinge => [self.hinge, self.hinges],
            FittingKind::HingePlate => [self.hinge_plate, self.hinge_plates],
            FittingKind::Runner => [self.runner, self.runners],
            FittingKind::ShelfPin => [self.shelf_pin, self.shelf_pins],
            FittingKind::Caster => [self.caster, self.casters],
            FittingKind::Knob => [self.knob, self.knobs],
            FittingKind::WallAnchor => [self.wall_anchor, self.wall_anchors],
        }
    }

    /// A kind of finish.
    pub fn finish(&self, kind: FinishKind) -> &'static str {
        match kind {
            FinishKind::Oil => self.oil,
            FinishKind::Wax => self.wax,
            FinishKind::Varnish => self.varnish,
            FinishKind::Lacquer => self.lacquer,
            FinishKind::Shellac => self.shellac,
            FinishKind::Soap => self.soap,
            FinishKind::Stain => self.stain,
            FinishKind::Paint => self.paint,
            FinishKind::Bare => self.bare,
        }
    }

    /// What is milled.
    pub fn area(&self, kind: AreaKind) -> &'static str {
        match kind {
            AreaKind::Groove => self.groove,
            AreaKind::Rebate => self.rebate,
            AreaKind::Recess => self.recess,
        }
    }

    /// A kind of joint by its key in a plan, as what a part is pushed into and as how it is joined; a kind that is not
    /// among ours keeps its key.
    pub fn joint(&self, key: &str) -> [String; 2] {
        let [into, how] = match key {
            "butt" => [self.into_butt, self.butt],
            "mitre" => [self.into_mitre, self.mitre],
            "housing" => [self.into_housing, self.housing],
            "groove" => [self.into_groove, self.in_groove],
            "rebate" => [self.into_rebate, self.in_rebate],
            "half_lap" => [self.into_half_lap, self.half_lap],
            "bolted" => [self.into_bolted, self.bolted],
            other => return [other, other].map(|key| key.replace('_', " ")),
        };
        [into, how].map(str::to_owned)
    }
}
