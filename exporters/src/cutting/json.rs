//! `cutting-json`: sheets, boards and cuts as data.

use jigless_model::caution::{Medium, called_for, sentences};
use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_model::sheets::{
    CutContent, CutMark, CutNode, CutRectangle, CutStep, GuideLine, Micrometres, Settings,
    SheetSize, StockGoods, StockLayout, micrometres, millimetres, settings_of,
};
use jigless_model::units::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use super::job::{BoardJob, Job, SheetJob, board_jobs, offcut_name, sheet_jobs};
use super::{shelf, suits};
use crate::drawing::measure::Lengths;
use crate::json_file::json_file;
use crate::saw_options::SawOptions;

/// Sheets, boards and cuts as data.
#[derive(Debug, Clone, Copy)]
pub struct CuttingJson;

/// Options of `cutting-json`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct CuttingJsonOptions {
    /// Also writes `offcuts.yaml`: what is left over once all is cut, for `--offcuts` with the next plan.
    pub shelf: bool,
    /// How sheets and boards are sawn.
    #[serde(flatten)]
    pub saw: SawOptions,
}

impl Exporter for CuttingJson {
    type Options = CuttingJsonOptions;

    fn id(&self) -> &'static str {
        "cutting-json"
    }

    fn summary(&self) -> &'static str {
        "sheets and boards for a saw as JSON: where pieces and offcuts lie, the tree of cuts and the list of cuts, in millimetres; suits the plans that cutting-pdf suits"
    }

    fn stage(&self) -> Stage {
        Stage::Sheet
    }

    fn suits(&self, plan: &Plan) -> bool {
        suits::saw(plan)
    }

    fn arranging(&self, options: &CuttingJsonOptions) -> Option<Settings> {
        Some(options.saw.settings())
    }

    fn vet(&self, input: &ExportInput, options: &CuttingJsonOptions) -> Findings {
        let mut findings = Findings::new();
        options.saw.vet(&mut findings);
        SawOptions::ask_for_sizes(input, &mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &CuttingJsonOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let lengths = Lengths::decimal(Unit::Millimetre);
        let Some(job) = Job::new(input, lengths, micrometres(options.saw.keep)) else {
            return Ok(Vec::new());
        };
        let mut artifacts = json_file(Exporter::id(self), "cutting.json", &whole(&job))?;
        artifacts.extend(options.shelf.then(|| shelf::file(&job)));
        Ok(artifacts)
    }
}

fn whole(job: &Job) -> Value {
    let plan = job.input.plan;
    let parts: Vec<Value> = job
        .input
        .workpieces
        .iter()
        .map(|workpiece| {
            let part = &workpiece.part;
            json!({
                "mark": job.marks.mark(&part.id),
                "part": part.id,
                "title": part.title,
                "count": part.count,
                "stock": part.stock.id,
                "grain_group": part.grain_group,
                "priority": part.priority,
            })
        })
        .collect();
    let stocks: Vec<Value> = job
        .arrangement
        .stocks
        .iter()
        .map(|layout| stock(job, layout))
        .collect();
    json!({
        "title": plan.title,
        "revision": plan.revision,
        "plan": plan.digest,
        "units": "mm",
        "cautions": sentences(&called_for(plan, job.input.workpieces, Medium::Saw)),
        "parts": parts,
        "stocks": stocks,
        "stocks_without_sizes": job.arrangement.without_sizes,
    })
}

fn stock(job: &Job, layout: &StockLayout) -> Value {
    let left = |left: &[(usize, u32)]| -> Vec<Value> {
        left.iter()
            .map(|(kind, count)| json!({"part": job.part(layout, *kind).id, "count": count}))
            .collect()
    };
    let of_sheets = sheet_jobs(layout);
    let of_boards = board_jobs(layout);
    match &layout.goods {
        StockGoods::Sheets(problem, answer) => json!({
            "stock": layout.stock.id,
            "label": layout.stock.label,
            "kerf": millimetres(problem.saw.kerf),
            "guide_offset": problem.saw.guide_offset.map(millimetres),
            "needed": answer.sheets.len(),
            "least": answer.bound,
            "proved": answer.proved,
            "left_out": left(&answer.left),
            "sheets": of_sheets.iter().map(|sheet| of_sheet(job, sheet)).collect::<Vec<_>>(),
        }),
        StockGoods::Boards(problem, answer) => json!({
            "stock": layout.stock.id,
            "label": layout.stock.label,
            "kerf": millimetres(problem.kerf),
            "end_trim": millimetres(problem.end_trim),
            "width": millimetres(problem.width),
            "needed": answer.boards.len(),
            "least": answer.bound,
            "proved": answer.proved,
            "left_out": left(&answer.left),
            "boards": of_boards.iter().map(|board| of_board(job, board)).collect::<Vec<_>>(),
        }),
    }
}

fn rectangle(at: CutRectangle) -> Value {
    json!({
        "x": millimetres(at.x),
        "y": millimetres(at.y),
        "width": millimetres(at.width),
        "height": millimetres(at.height),
    })
}

fn merged(mut value: Value, more: Value) -> Value {
    if let (Value::Object(value), Value::Object(more)) = (&mut value, more) {
        value.extend(more);
    }
    value
}

fn of_sheet(job: &Job, sheet: &SheetJob) -> Value {
    let SheetSize {
        width,
        height,
        origin,
        trims,
        ..
    } = *sheet.size;
    let pieces: Vec<Value> = sheet
        .sheet
        .pieces()
        .into_iter()
        .map(|(at, piece)| {
            let name = job.piece(sheet.layout, piece.kind, piece.copy);
            let more = json!({
                "name": name,
                "part": job.part(sheet.layout, piece.kind).id,
                "copy": piece.copy,
                "turned": piece.turned,
                "oversize": millimetres(sheet.problem.pieces[piece.kind].oversize),
            });
            merged(rectangle(at), more)
        })
        .collect();
    let offcuts: Vec<Value> = sheet
        .sheet
        .offcuts()
        .into_iter()
        .map(|(at, number)| merged(rectangle(at), json!({"name": offcut_name(number)})))
        .collect();
    let cuts: Vec<Value> = sheet
        .steps
        .iter()
        .map(|step| cut(job, sheet, step))
        .collect();
    json!({
        "number": sheet.number,
        "width": millimetres(width),
        "height": millimetres(height),
        "origin": origin,
        "trims": {
            "left": millimetres(trims.left),
            "right": millimetres(trims.right),
            "bottom": millimetres(trims.bottom),
            "top": millimetres(trims.top),
        },
        "pieces": pieces,
        "offcuts": offcuts,
        "tree": tree(job, sheet, &sheet.sheet.root, sheet.sheet.room),
        "settings": settings_of(&sheet.steps),
        "cuts": cuts,
    })
}

/// A rectangle of the tree with its place, and what becomes of it.
fn tree(job: &Job, sheet: &SheetJob, node: &CutNode, at: CutRectangle) -> Value {
    let content = match &node.content {
        CutContent::Piece(piece) => {
            json!({"piece": job.piece(sheet.layout, piece.kind, piece.copy)})
        }
        CutContent::Offcut(number) => json!({"offcut": offcut_name(*number)}),
        CutContent::Waste => json!({"waste": true}),
        CutContent::Split(split) => {
            let mut from = 0;
            let mut parts = Vec::new();
            for part in &split.parts {
                let extent = part.extent(split.direction);
                let place = at.band(split.direction, from, extent);
                parts.push(tree(job, sheet, part, place));
                from += extent + sheet.sheet.kerf;
            }
            json!({"cut": split.direction, "parts": parts})
        }
    };
    merged(rectangle(at), content)
}

fn cut(job: &Job, sheet: &SheetJob, step: &CutStep) -> Value {
    let name = |mark: CutMark| job.name(sheet.layout, mark);
    let guide = |guide: GuideLine| {
        json!({
            "distance": millimetres(guide.distance),
            "on": guide.on,
        })
    };
    json!({
        "number": step.number,
        "of": name(step.of),
        "at": rectangle(step.at),
        "direction": step.direction,
        "from": step.from.name(),
        "distance": millimetres(step.distance),
        "good_side": step.good_side,
        "length": millimetres(step.length),
        "purpose": step.purpose,
        "off": name(step.off),
        "rest": step.rest.map(name),
        "setting": step.setting,
        "guide": step.guide.map(guide),
        "cautions": step.cautions,
    })
}

fn of_board(job: &Job, board: &BoardJob) -> Value {
    let length = |length: Option<Micrometres>| length.map(millimetres);
    let piece = |(kind, copy): (usize, u32)| {
        json!({
            "name": job.piece(board.layout, kind, copy),
            "part": job.part(board.layout, kind).id,
            "copy": copy,
            "length": millimetres(board.problem.pieces[kind].length),
        })
    };
    let pieces: Vec<Value> = board.pieces.iter().copied().map(piece).collect();
    let cuts: Vec<Value> = board
        .steps
        .iter()
        .map(|step| {
            json!({
                "number": step.number,
                "distance": millimetres(step.distance),
                "good_side": step.good_side,
                "piece": step.piece.map(|(kind, copy)| job.piece(board.layout, kind, copy)),
                "before": millimetres(step.before),
                "after": length(step.after),
                "setting": step.setting,
            })
        })
        .collect();
    json!({
        "number": board.number,
        "length": millimetres(board.length),
        "pieces": pieces,
        "rest": millimetres(board.rest),
        "cuts": cuts,
    })
}
