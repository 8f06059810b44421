//! SVG for a laser: one viewBox unit for a millimetre, one element for each cut, and nothing that a program for machines
//! may not know: no transforms, no styles, no text, no references.
//!
//! The `svg` crate makes document and groups; the elements of a group are written straight into one text that it takes
//! as it is, for the reason given in [`crate::svg::paint`].

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::plan::Plan;
use jigless_model::sheets::Settings;
use jigless_model::units::{Decimal, Unit, push_decimal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use svg::Document;
use svg::node::Blob;
use svg::node::element::{Description, Group, Title};

use super::drawing::{LayerDrawing, LayerShape};
use super::laser::Laser;
use super::laser_options::LaserOptions;
use super::layers::{Layer, LayerNaming};
use super::layout_options::SheetLayout;
use super::pages::{Page, PageStyle, pages};
use super::{laser_vet, sheet_list, suits};
use crate::option_check::length_in_range;
use crate::svg::path_data::PathData;

/// SVG for a laser, with the same lines as `dxf-laser`.
#[derive(Debug, Clone, Copy)]
pub struct SvgLaser;

/// Options of `svg-laser`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct SvgLaserOptions {
    /// Where things are.
    #[serde(flatten)]
    pub layout: SheetLayout,
    /// What the laser does.
    #[serde(flatten)]
    pub laser: LaserOptions,
    /// Whether to add a line of 100 mm, in the colour of marks, above the work, to measure the scale by.
    pub check_line: bool,
    /// Width of every line. Some programs cut only what is thinner than a limit of theirs: 0.01 suits all, but can hardly
    /// be seen on a screen.
    pub line: f64,
}

impl Default for SvgLaserOptions {
    fn default() -> Self {
        Self {
            layout: SheetLayout::default(),
            laser: LaserOptions::default(),
            check_line: false,
            line: 0.1,
        }
    }
}

impl SvgLaserOptions {
    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        length_in_range("line", self.line, (0.001, 2.0), findings);
    }
}

/// Decimals of a coordinate in millimetres.
const DECIMALS: usize = 6;
/// Length of the check line, and its distance above the work, in millimetres.
const CHECK: (f64, f64) = (100.0, 5.0);

impl Exporter for SvgLaser {
    type Options = SvgLaserOptions;

    fn id(&self) -> &'static str {
        "svg-laser"
    }

    fn summary(&self) -> &'static str {
        "SVG for a laser: outline, openings and marks by colour, at scale, the same lines as dxf-laser; suits the same plans"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn suits(&self, plan: &Plan) -> bool {
        suits::laser(plan)
    }

    fn arranging(&self, options: &SvgLaserOptions) -> Option<Settings> {
        options.laser.arranging(&options.layout)
    }

    fn vet(&self, input: &ExportInput, options: &SvgLaserOptions) -> Findings {
        let mut findings = laser_vet::vet(input, &options.layout, &options.laser, input.plan.units);
        options.vet(&mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &SvgLaserOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let machine = Laser(&options.laser, Exporter::id(self));
        let naming = LayerNaming::own(Unit::Millimetre);
        let style = PageStyle {
            layout: &options.layout,
            naming: &naming,
            notes: false,
        };
        let pages = pages(&machine, input, &style).map_err(|message| ExportError {
            exporter: Exporter::id(self),
            message,
        })?;
        let mut artifacts = Vec::new();
        for mut page in pages {
            page.drawing.items.retain(|item| {
                item.layer.is_worked() && !matches!(item.shape, LayerShape::Text(_))
            });
            // A back with hand work only has nothing for a laser.
            if page.drawing.items.is_empty() {
                continue;
            }
            let bytes = write(&mut page, options).into_bytes();
            let path = format!("{}.svg", page.stem);
            artifacts.push(page.artifact(path, "image/svg+xml", bytes));
        }
        artifacts.extend(sheet_list::artifacts(input, Unit::Millimetre));
        Ok(artifacts)
    }
}

/// Writes the lines of a page.
fn write(page: &mut Page, options: &SvgLaserOptions) -> String {
    let drawing = &mut page.drawing;
    if options.check_line {
        let top = drawing.bounds().map_or(0.0, |b| b.max.y) + CHECK.1;
        let line = Path::line(Point::new(0.0, top), Point::new(CHECK.0, top));
        drawing.items.insert(
            0,
            super::drawing::LayerItem {
                layer: Layer::Mark,
                shape: LayerShape::Path(line),
                openings: 0,
            },
        );
    }
    document(
        drawing,
        page.sheet,
        &page.title,
        &page.remarks,
        options.line,
    )
}

/// A drawing as a document, its lowest point at the bottom. A sheet keeps its size, whatever is cut from it.
pub(super) fn document(
    drawing: &LayerDrawing,
    sheet: Option<Bounds>,
    title: &str,
    remarks: &[String],
    line: f64,
) -> String {
    let bounds = drawing
        .bounds()
        .into_iter()
        .chain(sheet)
        .reduce(Bounds::union)
        .unwrap_or_else(|| Bounds::of_size(1.0, 1.0));
    // The box begins at 0,0, unless another origin has moved the work below it.
    let left = bounds.min.x.min(0.0);
    let low = bounds.min.y.min(0.0);
    let (width, height) = (bounds.max.x - left, bounds.max.y - low);
    let at = |p: Point| Point::new(p.x - left, height - (p.y - low));
    let (wide, high) = (number(width), number(height));
    let mut document = Document::new()
        .set("width", format!("{wide}mm"))
        .set("height", format!("{high}mm"))
        .set("viewBox", format!("0 0 {wide} {high}"))
        .add(Title::new(plain(title)))
        .add(Description::new().add(svg::node::Text::new(plain(&remarks.join("; ")))));
    let mut ids: Vec<String> = Vec::new();
    for run in drawing.items.chunk_by(|a, b| a.layer == b.layer) {
        let layer = run[0].layer;
        let name = layer.name(Unit::Millimetre);
        let before = ids.iter().filter(|id| **id == name).count();
        ids.push(name.clone());
        let id = if before == 0 {
            name
        } else {
            format!("{name}-{}", before + 1)
        };
        let mut elements = String::new();
        for item in run {
            push_element(&mut elements, &item.shape, &at);
        }
        let mut group = Group::new()
            .set("id", id)
            .set("fill", "none")
            .set("stroke", layer.rgb())
            .set("stroke-width", number(line).as_str());
        if !elements.is_empty() {
            group = group.add(Blob::new(elements));
        }
        document = document.add(group);
    }
    let mut text = document.to_string();
    text.push('\n');
    text
}

/// Adds a shape as an element on a line of its own; a text is none.
fn push_element(text: &mut String, shape: &LayerShape, at: &impl Fn(Point) -> Point) {
    // The lines before the first element and after the last are the group's.
    if !text.is_empty() && !matches!(shape, LayerShape::Text(_)) {
        text.push('\n');
    }
    match shape {
        LayerShape::Circle { centre, radius } => {
            let centre = at(*centre);
            let named = [("cx", centre.x), ("cy", centre.y), ("r", *radius)];
            text.push_str("<circle");
            for (name, value) in named {
                text.push(' ');
                text.push_str(name);
                text.push_str("=\"");
                push_decimal(text, value, DECIMALS);
                text.push('"');
            }
            text.push_str("/>");
        }
        LayerShape::Path(path) => {
            text.push_str("<path d=\"");
            let mut data = PathData {
                text,
                decimals: DECIMALS,
                place: at,
            };
            data.path(path, false);
            text.push_str("\"/>");
        }
        LayerShape::Text(_) => {}
    }
}

fn number(value: f64) -> Decimal {
    Decimal::new(value, DECIMALS)
}

/// A text without characters that XML does not allow.
fn plain(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::rounded_rectangle;

    #[test]
    fn a_contour_is_one_closed_path_with_arcs() {
        let mut drawing = LayerDrawing::default();
        drawing.path(
            Layer::CutOutside,
            &rounded_rectangle(Bounds::of_size(40.0, 30.0), 5.0),
        );
        let text = document(&drawing, None, "Tray <1>", &[], 0.1);
        assert!(text.contains("width=\"40mm\"") && text.contains("viewBox=\"0 0 40 30\""));
        assert!(text.contains("&lt;1&gt;"));
        assert_eq!(text.matches("<path").count(), 1);
        assert_eq!(text.matches('A').count(), 4);
        assert!(text.contains("Z\""), "{text}");
        for word in ["transform", "style=", "<use", "<text", "clip"] {
            assert!(!text.contains(word), "{word}");
        }
    }
}
