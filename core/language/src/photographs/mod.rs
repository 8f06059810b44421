//! Reading the photographs that a plan names. What is no picture, or cannot be printed, is refused here, so that no
//! exporter meets it.

mod jpeg;
mod png_file;

use std::sync::Arc;

use jigless_model::diag::{Finding, Findings};
use jigless_model::photograph::{Photograph, Picture};
use jigless_model::plan::Plan;

use crate::codes;
use crate::load::{IncludeReader, check_include_path};
use crate::resolve::digest;

/// The most bytes that one file may have.
const MOST_BYTES: usize = 8 * 1024 * 1024;
/// The most bytes that all of them may have: what a booklet can be sent by.
const MOST_BYTES_IN_ALL: usize = 64 * 1024 * 1024;
/// The most dots that one may have.
const MOST_DOTS: u64 = 40_000_000;

/// Reads the photographs of a plan into it; its digest follows what is in them. Those that cannot be read are left out.
pub fn read(plan: &mut Plan, includes: &dyn IncludeReader) -> Findings {
    let mut findings = Findings::new();
    let mut total = 0;
    let mut text = plan.expanded.clone();
    for photograph in &mut plan.photographs {
        match picture(photograph, includes, &mut total) {
            Ok(picture) => {
                text.push_str(&digest(&picture.bytes));
                photograph.picture = Some(Arc::new(picture));
            }
            Err((reason, fix)) => findings.push(
                Finding::error(
                    codes::BAD_PHOTOGRAPH,
                    photograph.file.span,
                    format!(
                        "`{}` cannot be shown: {reason}",
                        photograph.file.value.escape_debug()
                    ),
                )
                .fix(fix),
            ),
        }
    }
    if !plan.photographs.is_empty() {
        plan.digest = digest(text.as_bytes());
    }
    findings
}

/// Why a picture is refused, and what mends it.
type Refusal = (String, &'static str);

const IN_THE_FOLDER: &str = "name a file in the plan's folder or below it";
const SMALLER: &str = "make it smaller: 1600 dots across are enough for a page";
const SAVE_AGAIN: &str = "save it again as an ordinary JPEG or PNG";

fn picture(
    photograph: &Photograph,
    includes: &dyn IncludeReader,
    total: &mut usize,
) -> Result<Picture, Refusal> {
    let path = &photograph.file.value;
    let in_the_folder = |reason: String| (reason, IN_THE_FOLDER);
    check_include_path(path).map_err(|reason| in_the_folder(reason.to_owned()))?;
    let bytes = includes.read(path).map_err(in_the_folder)?;
    if bytes.len() > MOST_BYTES {
        let reason = format!("it has more than {} MB", MOST_BYTES >> 20);
        return Err((reason, SMALLER));
    }
    *total += bytes.len();
    if *total > MOST_BYTES_IN_ALL {
        let reason = format!(
            "with it all photographs have more than {} MB",
            MOST_BYTES_IN_ALL >> 20
        );
        return Err((reason, SMALLER));
    }
    let picture = if bytes.starts_with(&[0xff, 0xd8]) {
        jpeg::read(&bytes)
    } else if bytes.starts_with(png_file::SIGNATURE) {
        png_file::read(&bytes, MOST_DOTS)
    } else {
        Err("it is neither JPEG nor PNG")
    };
    let picture = picture.map_err(|reason| (reason.to_owned(), SAVE_AGAIN))?;
    let dots = u64::from(picture.width) * u64::from(picture.height);
    if dots == 0 || dots > MOST_DOTS {
        let reason = format!(
            "it has {} × {} dots, and {} million are shown at most",
            picture.width,
            picture.height,
            MOST_DOTS / 1_000_000
        );
        return Err((reason, SMALLER));
    }
    Ok(picture)
}
