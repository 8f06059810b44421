//! What goes between Jigless and the program of an outside format: one JSON text each way. Fields may be added in a later protocol of
//! the same number; none changes its meaning or goes. The types stand apart from those of the model, which may change.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The protocol that is spoken.
pub const PROTOCOL: u32 = 1;

/// Every message. The program reads one request from its standard input and writes one answer to its standard output.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(untagged)]
#[expect(dead_code, reason = "it only gathers the messages for the schema")]
pub enum Message {
    /// To the program: say what you are.
    DescribeRequest(DescribeRequest),
    /// From the program.
    DescribeAnswer(DescribeAnswer),
    /// To the program: make the files of a plan.
    ExportRequest(Box<ExportRequest>),
    /// From the program.
    ExportAnswer(ExportAnswer),
}

/// Asks an outside format what it is. It comes before any plan, in a run of its own.
#[derive(Debug, Serialize, JsonSchema)]
pub struct DescribeRequest {
    /// `describe`.
    pub request: &'static str,
    /// The protocols that Jigless speaks. The program picks one.
    pub protocols: Vec<u32>,
}

impl DescribeRequest {
    /// The question of this version.
    pub fn new() -> Self {
        Self {
            request: "describe",
            protocols: vec![PROTOCOL],
        }
    }
}

/// The part of an answer that is read first, so that a program of another protocol is reported as such.
#[derive(Debug, Deserialize)]
pub struct ProtocolOnly {
    /// The protocol of the rest.
    pub protocol: u32,
}

/// What an outside format is.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DescribeAnswer {
    /// The protocol that it picked.
    pub protocol: u32,
    /// One line on what it makes.
    pub summary: String,
    /// Version of the program. Files that another version made are made again.
    #[serde(default)]
    pub version: String,
    /// Media type of its files.
    #[serde(default = "octets")]
    pub media_type: String,
    /// What there is to set.
    #[serde(default)]
    pub options: Vec<OptionJson>,
}

fn octets() -> String {
    "application/octet-stream".to_owned()
}

/// One option of an outside format.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OptionJson {
    /// Its name: lower-case letters, digits, `-` and `_`.
    pub key: String,
    /// What it does, with its unit.
    pub help: String,
    /// What holds when nothing is given. Its kind is the kind of the option: text, number, or truth value.
    pub default: Value,
    /// The values that may be given, where they can be listed.
    #[serde(default)]
    pub choices: Vec<Value>,
}

/// Asks for the files of a plan.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ExportRequest {
    /// `export`.
    pub request: &'static str,
    /// The protocol that the program picked.
    pub protocol: u32,
    /// Every option of the program with its value.
    pub options: Map<String, Value>,
    /// Jigless and its version.
    pub tool: String,
    /// The date that may be printed, in seconds since 1970-01-01 UTC; none unless the user gave one.
    pub date: Option<i64>,
    /// The plan.
    pub plan: PlanJson,
    /// The parts that are wanted, in the order of the plan.
    pub parts: Vec<PartJson>,
}

/// The head of a plan.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlanJson {
    /// What it is called.
    pub title: String,
    /// The author's revision.
    pub revision: Option<String>,
    /// The licence.
    pub licence: Option<String>,
    /// The author's unit: `mm` or `in`. All lengths in this message are in millimetres nevertheless.
    pub units: String,
    /// A digest that changes with every value of the plan.
    pub digest: String,
    /// The sheet goods and boards.
    pub stock: Vec<StockJson>,
}

/// A sheet good or board.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StockJson {
    /// The name that parts use.
    pub id: String,
    /// What it is called.
    pub label: String,
    /// What it is made of: `plywood`, `mdf`, `pvc` and so on.
    pub kind: String,
    /// Measured thickness in millimetres.
    pub thickness: f64,
    /// Thickness as sold, in millimetres.
    pub nominal: Option<f64>,
}

/// A part and what is done to it.
///
/// Coordinates are millimetres, x to the right and y upward as seen on the front face, 0,0 at the lower left corner, also
/// for work on the back.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PartJson {
    /// Its name, fit for file names.
    pub id: String,
    /// What it is called.
    pub title: String,
    /// The stock that it is made of.
    pub stock: String,
    /// Size along x.
    pub width: f64,
    /// Size along y.
    pub height: f64,
    /// Measured thickness.
    pub thickness: f64,
    /// How many are needed.
    pub count: u32,
    /// Which way its grain runs: `width`, `height` or `none`.
    pub grain: &'static str,
    /// Of a handed pair, the other part.
    pub pair: Option<String>,
    /// The work in the order of the plan, contours last.
    pub operations: Vec<OperationJson>,
}

/// One piece of work.
#[derive(Debug, Serialize, JsonSchema)]
pub struct OperationJson {
    /// Key of the feature in the plan that asks for it: `hole`, `groove`; `outline` for the contour.
    pub feature: String,
    /// The author's name for it.
    pub label: Option<String>,
    /// What is done.
    #[serde(flatten)]
    pub work: WorkJson,
}

/// A point: x and y.
pub type PointJson = [f64; 2];

/// Lines and arcs.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PathJson {
    /// Whether the last vertex joins the first.
    pub closed: bool,
    /// x, y and bulge of each vertex. The bulge shapes the way to the next one: the tangent of a quarter of the arc's
    /// included angle, positive counter-clockwise, 0 for a straight line.
    pub vertices: Vec<[f64; 3]>,
}

/// The vocabulary of work. Lengths are millimetres, angles degrees; a face is `front` or `back`, an edge `left`, `right`,
/// `top` or `bottom`.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(tag = "work", rename_all = "kebab-case")]
pub enum WorkJson {
    /// A hole square to a face.
    Drill {
        /// Short name on paper.
        id: String,
        /// The face that it is drilled from.
        face: &'static str,
        /// Its centre.
        centre: PointJson,
        /// Diameter.
        diameter: f64,
        /// Depth from the face; none for a hole right through.
        depth: Option<f64>,
        /// A wider mouth for a screw head.
        mouth: Option<MouthJson>,
    },
    /// A stepped hole into a face at an angle, toward an edge: a screw pocket.
    AngledBore {
        /// Short name on paper.
        id: String,
        /// The face that it is drilled into.
        face: &'static str,
        /// Where the axis meets the face.
        entry: PointJson,
        /// Where the axis leaves through the edge, as seen on the face.
        exit: PointJson,
        /// The edge that the axis leaves through.
        edge: &'static str,
        /// Distance of the exit from the drilled face.
        exit_depth: f64,
        /// Angle between axis and face.
        angle: f64,
        /// Diameter of the wide part.
        diameter: f64,
        /// Diameter of the pilot that goes on to the edge.
        pilot: f64,
        /// From the entry along the axis to where the wide part ends.
        shoulder: f64,
    },
    /// An area milled to a depth.
    MillArea {
        /// Short name on paper.
        id: String,
        /// `groove`, `rebate` or `recess`.
        kind: &'static str,
        /// The face that it is milled into.
        face: &'static str,
        /// Its border, counter-clockwise.
        outline: PathJson,
        /// Depth from the face.
        depth: f64,
        /// The edges of the part at which the area is open.
        open: Vec<&'static str>,
    },
    /// A cut right through.
    CutContour {
        /// `outer` where the part is inside, `inner` where it is outside.
        side: &'static str,
        /// The contour: counter-clockwise outside, clockwise inside.
        path: PathJson,
    },
    /// A pencil line or engraving; never a cut.
    Mark {
        /// The face that it is on.
        face: &'static str,
        /// Its lines.
        lines: Vec<PathJson>,
        /// Its text.
        text: Option<String>,
        /// Where the middle of the text goes.
        text_at: Option<PointJson>,
    },
    /// A hole into an edge, parallel to the faces.
    EdgeDrill {
        /// Short name on paper.
        id: String,
        /// The edge.
        edge: &'static str,
        /// Distance of its axis from the left or bottom end of the edge.
        along: f64,
        /// Distance of its axis from the front face.
        from_front: f64,
        /// Diameter.
        diameter: f64,
        /// Depth from the edge.
        depth: f64,
    },
    /// An edge cut off square.
    Bevel {
        /// The edge.
        edge: &'static str,
        /// Tilt from square. Positive: the front face keeps its size; negative: the back does.
        angle: f64,
    },
}

/// The mouth of a hole for a screw head.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(tag = "shape", rename_all = "kebab-case")]
pub enum MouthJson {
    /// A cone.
    Countersink {
        /// Diameter at the face.
        diameter: f64,
        /// Included angle.
        angle: f64,
    },
    /// A wider hole with a flat bottom.
    Counterbore {
        /// Diameter.
        diameter: f64,
        /// Depth from the face.
        depth: f64,
    },
}

/// The files of a plan, or why there are none.
#[derive(Debug, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExportAnswer {
    /// The protocol that the program picked.
    pub protocol: u32,
    /// Why it makes no files of this plan, in a sentence for the user.
    #[serde(default)]
    pub error: Option<String>,
    /// The files.
    #[serde(default)]
    pub files: Vec<FileJson>,
}

/// One file. It has either a text or bytes.
#[derive(Debug, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FileJson {
    /// Path below the format's own folder, with `/` between names.
    pub path: String,
    /// The part that it shows; none where it shows several.
    #[serde(default)]
    pub part: Option<String>,
    /// Its content, to be written as UTF-8.
    #[serde(default)]
    pub text: Option<String>,
    /// Its content in base64 (RFC 4648, section 4).
    #[serde(default)]
    pub base64: Option<String>,
}
