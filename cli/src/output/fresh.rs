//! Whether the files of a format are what a new run would make.

use std::path::Path;

use super::before::Before;
use super::touched::is_as_written;
use crate::inputs::Inputs;
use crate::manifest::ExporterRecord;

/// Why the files of a format are to be made, in a few words; nothing where all are there and as a new run would make
/// them. `coming` is the record that a new run would leave.
pub fn why_made(
    folder: &Path,
    before: &Before,
    inputs: &Inputs,
    coming: &ExporterRecord,
) -> Option<String> {
    let Some(manifest) = &before.manifest else {
        return Some("it was not made yet".to_owned());
    };
    if before.unfinished {
        return Some("a run before was stopped before its end".to_owned());
    }
    if manifest.edited {
        return Some("the manifest was changed since".to_owned());
    }
    let Some(old) = manifest.exporters.iter().find(|old| old.id == coming.id) else {
        return Some("it was not made yet".to_owned());
    };
    if old.made_from.build != coming.made_from.build {
        return Some("another version of Jigless made it".to_owned());
    }
    if old.made_from.inputs != coming.made_from.inputs {
        let changed = inputs.changed_since(&manifest.inputs);
        return Some(
            changed.unwrap_or_else(|| "the plan has changed since it was made".to_owned()),
        );
    }
    if old.options != coming.options {
        return Some("its options have changed".to_owned());
    }
    if old.made_from.run != coming.made_from.run {
        return Some("the date, the choice of parts or its program has changed".to_owned());
    }
    let mut files = manifest.files.iter();
    files.find_map(|file| {
        if file.exporter != coming.id || file.earlier_plan.is_some() {
            return None;
        }
        match is_as_written(&folder.join(&file.path), file, before.written) {
            Ok(true) => None,
            Ok(false) => Some(format!("`{}` was changed since", file.path)),
            Err(_) => Some(format!("`{}` is not there", file.path)),
        }
    })
}
