//! The resolved plan: every length in millimetres, includes, values, spreads and handed pairs worked out.

use std::sync::Arc;

use crate::check::{Acceptance, CheckSetting};
use crate::feature::FeatureWork;
use crate::finish::{Finish, PartSide};
use crate::frame::Frame;
use crate::geom::Bounds;
use crate::hardware::Fitting;
use crate::joint::Joint;
use crate::language::Language;
use crate::photograph::Photograph;
use crate::prices::Prices;
use crate::side::{Edge, Face};
use crate::source::{Sources, Span, Spanned};
use crate::space::Space;
use crate::units::Unit;
use crate::usage::UsageEntry;
use crate::whole::{Body, Motion, Placement, Step, StepNote};

/// A whole plan.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The texts that it was read from; every span points into them.
    pub sources: Sources,
    /// What the plan is called.
    pub title: String,
    /// The author's revision, as written.
    pub revision: Option<String>,
    /// The licence, as written.
    pub licence: Option<String>,
    /// Who made it, as written.
    pub author: Option<String>,
    /// The language of booklet and page, where no option names one.
    pub language: Option<Language>,
    /// The author's photographs, in the order of the plan.
    pub photographs: Vec<Photograph>,
    /// What the author says before everything else, in Markdown: a heading, paragraph or entry of a list each.
    pub introduction: Vec<String>,
    /// The revisions so far, as the author lists them.
    pub revisions: Vec<Revision>,
    /// The unit of bare numbers, and the author's own unit.
    pub units: Unit,
    /// The sheet goods and boards, in the order of the plan.
    pub stock: Vec<Arc<Stock>>,
    /// The parts, in the order of the plan; the second of a handed pair follows the first.
    pub parts: Vec<Arc<Part>>,
    /// What holds the parts together, in the order of the plan; those that builders make come first.
    pub joints: Vec<Joint>,
    /// The order in which the parts are put together: every part once, worked out from the joints as far as the plan
    /// does not say.
    pub order: Vec<Step>,
    /// What the author says of the steps of the work, in the order of the plan.
    pub step_notes: Vec<StepNote>,
    /// Diameters of the router bits at hand, in millimetres.
    pub tools: Vec<Spanned<f64>>,
    /// What the plan sets of the checks.
    pub checks: Vec<CheckSetting>,
    /// What the parts do together.
    pub usage: Vec<UsageEntry>,
    /// The room that it is made for, if the author says.
    pub space: Option<Space>,
    /// What is put on the wood once it is made, in the order of the plan.
    pub finish: Vec<Finish>,
    /// What things cost, as far as the author says.
    pub prices: Prices,
    /// What is left over from earlier work, of every stock.
    pub offcuts: Vec<Offcut>,
    /// The arithmetic of its builders that the plan does not show otherwise, a line each, in the author's unit.
    pub workings: Vec<String>,
    /// SHA-256 of `expanded`, in hexadecimal: it changes with every value of the plan, and not with comments, spacing
    /// or the division into files.
    pub digest: String,
    /// The plan as one text, with everything that builders make written out.
    pub expanded: String,
}

impl Plan {
    /// The part with an id.
    pub fn part(&self, id: &str) -> Option<&Arc<Part>> {
        self.parts.iter().find(|part| part.id == id)
    }

    /// Number of the entry of `finish` that says what a side of a part gets: of several the last one.
    pub fn finish_of(&self, part: &str, side: PartSide) -> Option<usize> {
        self.finish
            .iter()
            .rposition(|entry| entry.is_of(part, side))
    }

    /// The parts of which some side gets an entry of `finish`.
    pub fn finished_parts(&self, entry: usize) -> impl Iterator<Item = &Arc<Part>> {
        self.parts.iter().filter(move |part| {
            let mut sides = PartSide::ALL.iter();
            sides.any(|side| self.finish_of(&part.id, *side) == Some(entry))
        })
    }

    /// Every finding that the author accepts, and where, in the order of the plan: what is to be printed on it. Mirrored
    /// parts have those of the other one.
    pub fn acceptances(&self) -> Vec<(String, &Acceptance)> {
        let mut all = Vec::new();
        for stock in &self.stock {
            let place = |accepted| (stock.label.clone(), accepted);
            all.extend(stock.accepted.iter().map(place));
        }
        for part in self.parts.iter().filter(|part| !part.is_mirrored()) {
            all.extend(
                part.accepted
                    .iter()
                    .map(|accepted| (part.title.clone(), accepted)),
            );
            for feature in &part.features {
                let name = feature.label.as_deref().unwrap_or(feature.key);
                let place = format!("{}, {name}", part.title);
                all.extend(
                    feature
                        .accepted
                        .iter()
                        .map(|accepted| (place.clone(), accepted)),
                );
            }
        }
        for entry in &self.usage {
            all.extend(
                entry
                    .accepted
                    .iter()
                    .map(|accepted| (entry.key.to_owned(), accepted)),
            );
        }
        all
    }
}

/// A revision and what changed with it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Revision {
    /// The revision, as written.
    pub revision: String,
    /// What changed, a change a line.
    pub changed: Vec<String>,
}

/// A sheet good or board that parts are made of.
#[derive(Debug, Clone)]
pub struct Stock {
    /// The name that parts use.
    pub id: String,
    /// What it is called on paper; the id where the plan gives nothing.
    pub label: String,
    /// Thickness as sold, in millimetres.
    pub nominal: Option<f64>,
    /// Measured thickness in millimetres; all geometry uses this. The mean of the readings.
    pub thickness: f64,
    /// Every reading in millimetres, in the order given; one where the plan gives one.
    pub readings: Vec<f64>,
    /// What it is made of.
    pub kind: StockKind,
    /// The sheets at hand.
    pub sheets: Vec<StockSheet>,
    /// The lengths of board that its parts are cut from, where it is sold by length.
    pub boards: Vec<StockBoard>,
    /// What is left over of it from earlier work.
    pub offcuts: Vec<Offcut>,
    /// Density in kg/m3.
    pub density: Option<f64>,
    /// How its parts are cut out.
    pub cut_by: Option<CutBy>,
    /// Modulus of elasticity along the grain, in gigapascals.
    pub stiffness: Option<f64>,
    /// How solid wood moves across its grain.
    pub movement: Option<Movement>,
    /// Findings that the author accepts on it.
    pub accepted: Vec<Acceptance>,
    /// Where the plan describes it.
    pub span: Span,
}

impl Stock {
    /// The greatest reading in millimetres: what a slot must take.
    pub fn thickest(&self) -> f64 {
        self.readings.iter().copied().fold(self.thickness, f64::max)
    }
}

crate::words! {
    /// How parts are cut out of a stock.
    #[derive(Hash)]
    pub enum CutBy {
        /// By a saw with a fence or rail.
        Saw = "saw",
        /// By a router on a table that moves by itself.
        Router = "router",
        /// By a laser.
        Laser = "laser",
    }
}

/// How solid wood moves across its grain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Movement {
    /// Change of width for each per cent of moisture content, as a fraction of the width.
    pub coefficient: f64,
    /// Moisture content when it is made, in per cent.
    pub made: f64,
    /// The least moisture content that it will have, in per cent.
    pub driest: f64,
    /// The greatest moisture content that it will have, in per cent.
    pub wettest: f64,
}

/// A size of sheet, and how many there are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StockSheet {
    /// Across, in millimetres.
    pub width: f64,
    /// Upward, in millimetres. The grain runs this way.
    pub height: f64,
    /// How many are at hand.
    pub count: u32,
    /// What one costs, in any currency. What has a price can be bought; where none has one, the largest can.
    pub price: Option<f64>,
}

/// What is left over of a stock from earlier work, its edges sawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Offcut {
    /// The id of its stock.
    pub stock: String,
    /// Across the grain, in millimetres.
    pub width: f64,
    /// Along the grain, in millimetres.
    pub height: f64,
    /// Measured thickness in millimetres, if it is known.
    pub thickness: Option<f64>,
    /// How many there are.
    pub count: u32,
    /// What it is left over from.
    pub from: Option<String>,
}

/// What an offcut may differ in thickness from the stock whose name it has, as a share; sheets that are sold as one
/// thickness lie within it, and the next thickness does not. Common practice, no source.
const THICKNESS_SHARE: f64 = 0.05;

impl Offcut {
    /// Whether it is of a stock: of its name, and as thick.
    pub fn is_of(&self, stock: &Stock) -> bool {
        let as_thick =
            |own: f64| (own - stock.thickness).abs() <= THICKNESS_SHARE * stock.thickness;
        self.stock == stock.id && self.thickness.is_none_or(as_thick)
    }
}

/// A length of board, how many there are, and what more of them cost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StockBoard {
    /// Along the grain, in millimetres, without defects at the ends.
    pub length: f64,
    /// Across, in millimetres; `None` where boards of every width that parts have can be had.
    pub width: Option<f64>,
    /// How many are at hand.
    pub count: Option<u32>,
    /// What one costs, in any currency. What has a price can be bought; where none has one, every length can.
    pub price: Option<f64>,
}

crate::words! {
    /// What a stock is made of.
    #[derive(Hash, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
    #[serde(rename_all = "kebab-case")]
    pub enum StockKind {
        /// Veneers, crosswise glued.
        Plywood = "plywood",
        /// Medium density fibreboard.
        Mdf = "mdf",
        /// Particleboard (chipboard).
        Particleboard = "particleboard",
        /// Oriented strand board.
        Osb = "osb",
        /// Hard fibreboard.
        Hardboard = "hardboard",
        /// Solid wood.
        Solid = "solid",
        /// Cast or extruded acrylic sheet.
        Acrylic = "acrylic",
        /// Polyvinyl chloride (vinyl). Never for a laser.
        Pvc = "pvc",
        /// Card and paperboard.
        Card = "card",
        /// Anything else.
        Other = "other",
    }
}

impl StockKind {
    /// Whether what its smoke holds under a laser depends on what it is made with: boards with much glue, and what is
    /// not known. The check `laser-material-unsure` reports those that are to be cut by a laser.
    pub fn is_unsure_under_laser(self) -> bool {
        matches!(
            self,
            StockKind::Mdf | StockKind::Particleboard | StockKind::Osb | StockKind::Other
        )
    }
}

crate::words! {
    /// Which way the grain of a part runs.
    #[derive(Hash, Default, serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Grain {
        /// Across, along the width.
        Width = "width",
        /// Upward, along the height.
        Height = "height",
        /// It does not matter.
        #[default]
        None = "none",
    }
}

/// One part, or one of a handed pair.
#[derive(Debug, Clone)]
pub struct Part {
    /// The name in the plan and in every file name: lower-case letters, digits, `-` and `_`, at most 64.
    pub id: String,
    /// What it is called on paper; the id where the plan gives nothing.
    pub title: String,
    /// What it is made of.
    pub stock: Arc<Stock>,
    /// Size along x, in millimetres.
    pub width: f64,
    /// Size along y, in millimetres.
    pub height: f64,
    /// Which way its grain runs.
    pub grain: Grain,
    /// How many are needed.
    pub count: u32,
    /// Parts with the same name here come from one sheet.
    pub grain_group: Option<String>,
    /// Sheets with parts of a greater number are cut first.
    pub priority: u32,
    /// Free labels of the faces (`outside`).
    pub face_labels: Vec<(Face, String)>,
    /// Free labels of the edges (`hinge edge`), on this part's own edges.
    pub edge_labels: Vec<(Edge, String)>,
    /// The other one of a handed pair.
    pub pair: Option<Pair>,
    /// Where it is in the whole: a place for each piece, as far as the plan says.
    pub places: Vec<Placement>,
    /// What it is put together with before the whole, if the plan says.
    pub group: Option<String>,
    /// Hardware that goes with each piece and needs no hole in it.
    pub fittings: Vec<Fitting>,
    /// How it moves once it is in its place.
    pub motion: Option<Motion>,
    /// Whether it lies or stands where it is by its own weight.
    pub loose: bool,
    /// What it really measures, where it has been cut already.
    pub as_cut: Option<AsCut>,
    /// What is done to it, as the plan describes it. Of a mirrored part these are the other one's: lowering mirrors.
    pub features: Vec<PlacedFeature>,
    /// Findings that the author accepts on it.
    pub accepted: Vec<Acceptance>,
    /// Where the plan names it.
    pub span: Span,
}

impl Part {
    /// Measured thickness of the stock, in millimetres.
    pub fn thickness(&self) -> f64 {
        self.stock.thickness
    }

    /// The box from 0,0 to width and height.
    pub fn bounds(&self) -> Bounds {
        Bounds::of_size(self.width, self.height)
    }

    /// The free label of a face, if it has one.
    pub fn face_label(&self, face: Face) -> Option<&str> {
        let found = self.face_labels.iter().find(|(of, _)| *of == face);
        found.map(|(_, label)| label.as_str())
    }

    /// The free label of an edge, if it has one.
    pub fn edge_label(&self, edge: Edge) -> Option<&str> {
        let found = self.edge_labels.iter().find(|(of, _)| *of == edge);
        found.map(|(_, label)| label.as_str())
    }

    /// Whether this is the second of a handed pair, made by mirroring the first left to right.
    pub fn is_mirrored(&self) -> bool {
        self.pair.as_ref().is_some_and(|pair| pair.mirrored)
    }

    /// The size that places on this part are measured against.
    pub fn frame(&self) -> Frame {
        Frame {
            width: self.width,
            height: self.height,
            thickness: self.thickness(),
        }
    }

    /// The bodies of the part, one for each of its places, in the order of the plan.
    pub fn bodies(&self) -> Vec<Body> {
        let size = [self.width, self.height, self.thickness()];
        let image = self.is_mirrored();
        let body = |place: &Placement| Body::new(*place, size, image);
        self.places.iter().map(body).collect()
    }

    /// Length of an edge, in millimetres.
    pub fn edge_length(&self, edge: Edge) -> f64 {
        if edge.is_upright() {
            self.height
        } else {
            self.width
        }
    }
}

/// What a part of a handed pair knows of the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pair {
    /// The other one's id.
    pub other: String,
    /// Whether this one is the mirror image of what the plan describes.
    pub mirrored: bool,
}

/// What a part really measures once it is cut, in millimetres, as far as the author says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AsCut {
    /// Along x.
    pub width: Option<Spanned<f64>>,
    /// Along y.
    pub height: Option<Spanned<f64>>,
}

/// A feature and where the plan asks for it.
#[derive(Debug, Clone)]
pub struct PlacedFeature {
    /// Its key in the plan (`hole`).
    pub key: &'static str,
    /// The author's own name for it, if any.
    pub label: Option<String>,
    /// Of a handed pair, the id of the part that has it alone.
    pub only: Option<String>,
    /// What it takes away, draws, and knows; of a handed pair as for the first of the two.
    pub work: Arc<FeatureWork>,
    /// Findings that the author accepts on it.
    pub accepted: Vec<Acceptance>,
    /// Where the plan asks for it.
    pub span: Span,
}
