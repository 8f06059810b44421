//! The exporter: a file for each worked face of each part.

use jigless_model::caution::{Medium, called_for};
use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::side::Face;

use super::compose::compose;
use super::options::{SvgDrillingOptions, Variant};
use super::{hard, paint};
use crate::cautions;
use crate::drawing::vet;
use crate::file_name;
use crate::option_check::{self, length_in_range};

/// Drawings at scale for a screen, a plotter or a drawing program.
#[derive(Debug)]
pub struct SvgDrilling;

impl Exporter for SvgDrilling {
    type Options = SvgDrillingOptions;

    fn id(&self) -> &'static str {
        "svg-drilling"
    }

    fn summary(&self) -> &'static str {
        "one drawing at scale for each worked face of a part, with hole marks and labels"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn vet(&self, input: &ExportInput, options: &Self::Options) -> Findings {
        let mut findings = Findings::new();
        length_in_range("margin", options.margin, (0.0, 200.0), &mut findings);
        option_check::fractions("fractions", options.fractions, &mut findings);
        length_in_range("guide", options.guide, (0.0, 60.0), &mut findings);
        if options.labels && options.variant == Variant::Drawing {
            vet::words(input, &mut findings);
        }
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let mut artifacts = Vec::new();
        for workpiece in input.workpieces {
            for side in Face::ALL {
                if side == Face::Back && !workpiece.has_work_on(side) {
                    continue;
                }
                let cautions =
                    called_for(input.plan, std::slice::from_ref(workpiece), Medium::ByHand);
                let said = cautions::description(&cautions);
                let (canvas, items) = match options.variant {
                    Variant::Drawing => compose(input, workpiece, side, options, &cautions),
                    Variant::HardTemplate => hard::compose(&workpiece.seen_from(side), options),
                };
                let title = format!("{}, {} face", workpiece.part.title, side.name());
                artifacts.push(Artifact {
                    path: format!("{}.svg", file_name::stem_of_face(&workpiece.part, side)),
                    media_type: "image/svg+xml",
                    part: Some(workpiece.part.id.clone()),
                    bytes: paint::document(canvas, &title, &said, &items).into_bytes(),
                });
            }
        }
        Ok(artifacts)
    }
}
