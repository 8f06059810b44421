//! One face of a part or sheet: its jobs in the coordinates of the program, what is to be left, and what works it.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::plan::Stock;
use jigless_model::side::Face;
use jigless_model::workpiece::Workpiece;
use jigless_simulate::{Cutter, Setup, Target};

use super::face_jobs::{self, OnFace};
use super::jobs::{Job, Maker};
use super::options::NgcRouterOptions;
use super::part_on_face::PartOnFace;
use super::target;
use crate::file_name;
use crate::machine::router_options::RouterOptions;
use crate::machine::sheet_frame::SheetFrame;
use crate::machine::sheet_list::{heading, sheet_name};
use crate::machine::tool::ToolKind;
use crate::machine::{beyond, hand_work};

/// One face of a part or sheet.
pub(super) struct FaceWork<'a> {
    /// The path of its files without extension.
    pub(super) stem: String,
    /// The same for what is of all its faces.
    pub(super) name: String,
    /// The part; `None` for a sheet.
    pub(super) part: Option<String>,
    /// What it is, in words.
    pub(super) title: String,
    pub(super) stock: &'a Stock,
    pub(super) face: Face,
    /// How many faces of it are worked.
    pub(super) faces: usize,
    /// The box of the part or sheet.
    pub(super) own: Bounds,
    /// Whether its grain runs along x; `None` for a part.
    pub(super) turned: Option<bool>,
    /// The parts on it, as they lie.
    pub(super) parts: Vec<PartOutline>,
    /// The jobs in their order.
    pub(super) jobs: Vec<Job>,
    /// What is left to the hand on all faces, line by line; nothing unless this is the last face.
    pub(super) by_hand: Vec<String>,
    /// What is to be left.
    pub(super) target: Target,
    /// What works it.
    pub(super) setup: Setup,
}

/// A part as it lies under the machine.
pub(super) struct PartOutline {
    pub(super) id: String,
    /// Its outline and openings.
    pub(super) contours: Vec<Path>,
}

/// All faces that are worked, of each part or each sheet.
///
/// # Errors
/// What does not fit any sheet.
pub(super) fn all<'a>(
    input: &ExportInput<'a>,
    options: &NgcRouterOptions,
) -> Result<Vec<FaceWork<'a>>, String> {
    let mut all = Vec::new();
    let Some(arrangement) = input.sheets else {
        for workpiece in input.workpieces {
            let part = &workpiece.part;
            let (faces, by_hand) = worked(&options.router, &[workpiece]);
            for &face in &faces {
                let on_face = [PartOnFace {
                    workpiece,
                    placing: None,
                }];
                let of = Of {
                    stem: file_name::stem_of_face(part, face),
                    name: file_name::stem_of_face(part, Face::Front),
                    part: Some(part.id.clone()),
                    title: format!("{} ({})", part.title, part.id),
                    stock: &part.stock,
                    face,
                    faces: faces.len(),
                    by_hand: last_of(&faces, face, &by_hand),
                    own: Bounds::of_size(part.width, part.height),
                    turned: None,
                };
                all.push(of.work(&on_face, options));
            }
        }
        return Ok(all);
    };
    if let Some(&first) = arrangement.too_large.first() {
        let part = &input.workpieces[first].part.id;
        return Err(format!(
            "part `{part}` is larger than any sheet that is left"
        ));
    }
    for sheet in &arrangement.sheets {
        let on_it: Vec<&Workpiece> = sheet
            .placed
            .iter()
            .map(|placed| &input.workpieces[placed.workpiece])
            .collect();
        let same = arrangement
            .sheets
            .iter()
            .filter(|other| other.stock.id == sheet.stock.id);
        let count = same.count();
        let (faces, by_hand) = worked(&options.router, &on_it);
        for &face in &faces {
            let frame = SheetFrame::new(sheet, options.layout.bed, face);
            let on_face: Vec<PartOnFace> = sheet
                .placed
                .iter()
                .zip(&on_it)
                .map(|(placed, workpiece)| PartOnFace {
                    workpiece,
                    placing: Some(frame.placing(placed, workpiece.part.width)),
                })
                .collect();
            let of = Of {
                stem: file_name::stem_of_sheet(&sheet_name(sheet), face),
                name: file_name::stem_of_sheet(&sheet_name(sheet), Face::Front),
                part: None,
                title: heading(sheet, count, input.plan.units),
                stock: &sheet.stock,
                face,
                faces: faces.len(),
                by_hand: last_of(&faces, face, &by_hand),
                own: frame.bounds(),
                turned: Some(frame.turned),
            };
            all.push(of.work(&on_face, options));
        }
    }
    Ok(all)
}

/// The faces that the machine works, in the order of the work, the front always; and what is left to the hand on all faces,
/// line by line.
fn worked(router: &RouterOptions, workpieces: &[&Workpiece]) -> (Vec<Face>, Vec<String>) {
    let maker = Maker { router };
    let mut worked = Vec::new();
    let mut by_hand: Vec<String> = Vec::new();
    // The back comes first: the front frees the parts.
    for face in [Face::Back, Face::Front] {
        let views = workpieces.iter().map(|workpiece| workpiece.seen_from(face));
        let mut has_jobs = face == Face::Front;
        for view in views {
            has_jobs |= !maker.of_view(&view).is_empty();
            for line in hand_work::by_hand(&view, router) {
                if !by_hand.contains(&line) {
                    by_hand.push(line);
                }
            }
        }
        if has_jobs {
            worked.push(face);
        }
    }
    (worked, by_hand)
}

/// What is left to the hand is done after the last face.
fn last_of(faces: &[Face], face: Face, by_hand: &[String]) -> Vec<String> {
    if faces.last() == Some(&face) {
        by_hand.to_vec()
    } else {
        Vec::new()
    }
}

/// What a face is of.
struct Of<'a> {
    stem: String,
    name: String,
    part: Option<String>,
    title: String,
    stock: &'a Stock,
    face: Face,
    faces: usize,
    by_hand: Vec<String>,
    own: Bounds,
    turned: Option<bool>,
}

impl<'a> Of<'a> {
    fn work(self, on_face: &[PartOnFace], options: &NgcRouterOptions) -> FaceWork<'a> {
        let on = OnFace {
            parts: on_face,
            face: self.face,
            faces: self.faces,
            stock: self.stock,
            own: self.own,
            on_sheet: self.turned.is_some(),
        };
        let outline = |part: &PartOnFace| {
            let view = part.workpiece.seen_from(self.face);
            let contours = view.contours.iter();
            PartOutline {
                id: part.workpiece.part.id.clone(),
                contours: contours.map(|cut| part.path(&cut.path)).collect(),
            }
        };
        let parts = on_face.iter().map(outline).collect();
        let jobs = face_jobs::of(&options.router, &on);
        let pins = face_jobs::pins(&options.router, &on);
        let target = target::of(&self.target_of(on_face, &pins), options);
        let setup = self.setup(options);
        FaceWork {
            stem: self.stem,
            name: self.name,
            part: self.part,
            title: self.title,
            stock: self.stock,
            face: self.face,
            faces: self.faces,
            own: self.own,
            turned: self.turned,
            parts,
            jobs,
            by_hand: self.by_hand,
            target,
            setup,
        }
    }

    fn target_of<'p>(
        &'p self,
        parts: &'p [PartOnFace<'p>],
        pins: &'p (f64, Vec<Point>),
    ) -> target::Wanted<'p> {
        target::Wanted {
            parts,
            face: self.face,
            stock: self.stock,
            sheet: self.turned.map(|_| self.own),
            pins,
        }
    }

    fn setup(&self, options: &NgcRouterOptions) -> Setup {
        let router = &options.router;
        // A part by itself is cut from a larger blank; on a sheet no middle of a tool goes over its edge.
        let around = if self.turned.is_some() {
            0.0
        } else {
            beyond::at_most(router, options.lead) + router.register + 2.0 * beyond::AROUND_REGISTER
        };
        Setup {
            size: (self.own.width(), self.own.height()),
            thickness: self.stock.thickest(),
            below: if router.skin.is_some() {
                0.0
            } else {
                router.overcut
            },
            room: [around; 4],
            cutters: cutters(options),
        }
    }
}

/// The number by which programs call a tool of the list.
pub(super) fn number(options: &NgcRouterOptions, index: usize) -> u32 {
    options.router.tools[index]
        .number
        .unwrap_or(index as u32 + 1)
}

/// The tools as the simulation takes them.
pub(super) fn cutters(options: &NgcRouterOptions) -> Vec<Cutter> {
    let tools = options.router.tools.iter().enumerate();
    tools
        .map(|(index, tool)| Cutter {
            number: number(options, index),
            diameter: tool.diameter,
            pass: tool.pass,
            reach: tool.reach,
            angle: match tool.kind {
                ToolKind::Countersink => tool.angle.map(f64::to_radians),
                ToolKind::Mill | ToolKind::Drill => None,
            },
            plunges: tool.plunges || tool.kind != ToolKind::Mill,
            sideways: tool.kind == ToolKind::Mill,
        })
        .collect()
}
