//! From the model to the message.

use jigless_core::export::ExportInput;
use jigless_core::geom::{Path, Point};
use jigless_core::operation::{ContourSide, Depth, Mouth, Operation, Work};
use jigless_core::plan::{Grain, Stock};
use jigless_core::side::Edge;
use jigless_core::units::Unit;
use jigless_core::workpiece::Workpiece;
use serde_json::{Map, Value};

use super::message::{
    ExportRequest, MouthJson, OperationJson, PROTOCOL, PartJson, PathJson, PlanJson, PointJson,
    StockJson, WorkJson,
};

/// The message that asks for the files of a plan.
pub fn export_request(input: &ExportInput, options: &Map<String, Value>) -> ExportRequest {
    let plan = input.plan;
    ExportRequest {
        request: "export",
        protocol: PROTOCOL,
        options: options.clone(),
        tool: input.stamp.tool.clone(),
        date: input.stamp.date,
        plan: PlanJson {
            title: plan.title.clone(),
            revision: plan.revision.clone(),
            licence: plan.licence.clone(),
            units: match plan.units {
                Unit::Millimetre => "mm".to_owned(),
                Unit::Inch => "in".to_owned(),
            },
            digest: plan.digest.clone(),
            stock: plan.stock.iter().map(|stock| self::stock(stock)).collect(),
        },
        parts: input.workpieces.iter().map(part).collect(),
    }
}

fn stock(stock: &Stock) -> StockJson {
    StockJson {
        id: stock.id.clone(),
        label: stock.label.clone(),
        kind: stock.kind.name().to_owned(),
        thickness: stock.thickness,
        nominal: stock.nominal,
    }
}

fn part(workpiece: &Workpiece) -> PartJson {
    let part = &workpiece.part;
    PartJson {
        id: part.id.clone(),
        title: part.title.clone(),
        stock: part.stock.id.clone(),
        width: part.width,
        height: part.height,
        thickness: part.thickness(),
        count: part.count,
        grain: match part.grain {
            Grain::Width => "width",
            Grain::Height => "height",
            Grain::None => "none",
        },
        pair: part.pair.as_ref().map(|pair| pair.other.clone()),
        operations: workpiece.operations.iter().map(operation).collect(),
    }
}

fn operation(operation: &Operation) -> OperationJson {
    OperationJson {
        feature: operation.origin.key.to_owned(),
        label: operation.origin.label.clone(),
        work: work(&operation.work),
    }
}

fn work(work: &Work) -> WorkJson {
    match work {
        Work::Drill(drill) => WorkJson::Drill {
            id: drill.id.clone(),
            face: drill.face.name(),
            centre: point(drill.centre),
            diameter: drill.diameter,
            depth: match drill.depth {
                Depth::Through => None,
                Depth::Blind(depth) => Some(depth),
            },
            mouth: drill.mouth.map(mouth),
        },
        Work::AngledBore(bore) => WorkJson::AngledBore {
            id: bore.id.clone(),
            face: bore.face.name(),
            entry: point(bore.entry),
            exit: point(bore.exit),
            edge: bore.edge.name(),
            exit_depth: bore.exit_depth,
            angle: bore.angle.to_degrees(),
            diameter: bore.diameter,
            pilot: bore.pilot,
            shoulder: bore.shoulder,
        },
        Work::MillArea(area) => WorkJson::MillArea {
            id: area.id.clone(),
            kind: area.kind.name(),
            face: area.face.name(),
            outline: path(&area.outline),
            depth: area.depth,
            open: area.open.iter().copied().map(Edge::name).collect(),
        },
        Work::CutContour(cut) => WorkJson::CutContour {
            side: match cut.side {
                ContourSide::Outer => "outer",
                ContourSide::Inner => "inner",
            },
            path: path(&cut.path),
        },
        Work::Mark(mark) => WorkJson::Mark {
            face: mark.face.name(),
            lines: mark.lines.iter().map(path).collect(),
            text: mark.text.as_ref().map(|(_, text)| text.clone()),
            text_at: mark.text.as_ref().map(|(at, _)| point(*at)),
        },
        Work::EdgeDrill(drill) => WorkJson::EdgeDrill {
            id: drill.id.clone(),
            edge: drill.edge.name(),
            along: drill.along,
            from_front: drill.from_front,
            diameter: drill.diameter,
            depth: drill.depth,
        },
        Work::Bevel(bevel) => WorkJson::Bevel {
            edge: bevel.edge.name(),
            angle: bevel.angle.to_degrees(),
        },
    }
}

fn mouth(mouth: Mouth) -> MouthJson {
    match mouth {
        Mouth::Countersink { diameter, angle } => MouthJson::Countersink {
            diameter,
            angle: angle.to_degrees(),
        },
        Mouth::Counterbore { diameter, depth } => MouthJson::Counterbore { diameter, depth },
    }
}

fn point(point: Point) -> PointJson {
    [point.x, point.y]
}

fn path(path: &Path) -> PathJson {
    let vertices = path.vertices.iter();
    PathJson {
        closed: path.closed,
        vertices: vertices
            .map(|vertex| [vertex.point.x, vertex.point.y, vertex.bulge])
            .collect(),
    }
}
