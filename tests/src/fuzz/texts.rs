//! Texts that others wrote: lengths, profiles, manifests, drawings.

use std::path::Path;

use jigless::manifest::{Manifest, Record};
use jigless::profile;
use jigless_core::export::Setting;
use jigless_core::length::{Expression, NameFault, Names, Quantity};
use jigless_core::units::Unit;
use jigless_exporters::inspect::inspect;
use jigless_exporters::{EXPORTERS, exporter};

/// A few names of a part.
struct Part;

impl Names for Part {
    fn look_up(&self, name: &str) -> Result<Quantity, NameFault> {
        match name {
            "width" => Ok(Quantity::length(600.0)),
            "thickness" => Ok(Quantity::length(17.7)),
            "count" => Ok(Quantity::bare(3.0)),
            _ => Err(NameFault::Reported),
        }
    }

    fn unit(&self) -> Unit {
        Unit::Inch
    }
}

/// Bytes as the text of a length: finite, or a fault at bytes of the text.
///
/// # Panics
/// When it is neither.
pub fn length(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    match Expression::parse(text).and_then(|it| it.evaluate(&Part)) {
        Ok(quantity) => assert!(quantity.value.is_finite(), "{text}: {quantity:?}"),
        Err(fault) => assert!(
            text.get(fault.start..fault.end).is_some(),
            "{text}: {fault:?}"
        ),
    }
}

/// Bytes as a profile, and its options as those of every format that it names.
pub fn profile(bytes: &[u8]) {
    let path = Path::new("profile.yaml");
    let read = match profile::read(path, bytes) {
        Ok(profile) => profile,
        Err((sources, findings)) => {
            for span in findings.iter().filter_map(|finding| finding.span) {
                let _ = sources.slice(span);
            }
            return;
        }
    };
    let ids: Vec<&str> = EXPORTERS.iter().map(|exporter| exporter.id()).collect();
    profile::check_ids(&read, &ids, &ids);
    for section in &read.exporters {
        if let Some(exporter) = exporter(&section.id) {
            let settings: Vec<Setting> = section
                .settings
                .iter()
                .map(|placed| placed.setting.clone())
                .collect();
            let _ = exporter.configure(&settings);
        }
    }
}

/// Bytes as a manifest: what is ours is written as it is read, and then bears its own digest.
///
/// # Panics
/// When it is not.
pub fn manifest(bytes: &[u8]) {
    if let Ok(Record::Ours(mut manifest)) = Manifest::from_bytes(bytes) {
        let again = Manifest::from_bytes(&manifest.to_bytes());
        manifest.edited = false;
        assert_eq!(again, Ok(Record::Ours(manifest)));
    }
}

/// Bytes as a drawing, whose report must come.
pub fn drawing(bytes: &[u8]) {
    for unit in [None, Some(Unit::Inch)] {
        if let Ok(found) = inspect(bytes, unit) {
            let _ = found.to_string();
        }
    }
}
