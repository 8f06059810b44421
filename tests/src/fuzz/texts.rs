//! Texts that others wrote: lengths, profiles, manifests, drawings, machine programs.

use std::path::Path;
use std::sync::LazyLock;

use jigless::manifest::{Manifest, Record};
use jigless::profile;
use jigless_core::compile::Compiled;
use jigless_core::export::{ExportInput, Setting, Stamp};
use jigless_core::length::{Expression, NameFault, Names, Quantity};
use jigless_core::load::NoIncludes;
use jigless_core::units::Unit;
use jigless_exporters::inspect::inspect;
use jigless_exporters::{EXPORTERS, NgcRouterOptions, exporter, prove_for_plan, prove_on_sheet};
use serde_json::json;

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

/// A part with work of each kind, which programs are held against.
static PART: LazyLock<Compiled> = LazyLock::new(|| {
    let text = "jigless: 1
title: Fuzz
units: mm
stock: {ply: {thickness: 6, kind: plywood}}
parts:
  p:
    stock: ply
    width: 60
    height: 40
    features:
      - hole: {at: [10, 10], diameter: 5, depth: through}
      - recess: {at: [20, 12], width: 20, height: 16, corner_radius: 3, depth: 2}
";
    jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes)
});

/// A router with a mill, a drill and a countersink.
static ROUTER: LazyLock<NgcRouterOptions> = LazyLock::new(|| {
    let options = json!({"tools": [
        {"number": 1, "diameter": 3, "pass": 2, "reach": 20, "feed": 900, "plunge": 250, "speed": 9000},
        {"number": 2, "kind": "drill", "diameter": 5, "pass": 6, "reach": 40, "plunge": 600, "speed": 4000},
        {"number": 3, "kind": "countersink", "diameter": 12, "angle": 90, "pass": 6, "plunge": 400, "speed": 6000},
    ]});
    serde_json::from_value(options).expect("options of a router")
});

/// Bytes as a machine program, run on a sheet and held against a part of a plan: a verdict and a picture must come.
///
/// # Panics
/// When neither comes, or when a fault is of no line.
pub fn program(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    let lines = text.lines().count();
    let on_sheet = prove_on_sheet(text, [600.0, 400.0, 18.0], &ROUTER);
    let (plan, workpieces) = PART.result.as_ref().expect("a sound plan");
    let stamp = Stamp::new("fuzz", None);
    let input = ExportInput::new(plan, workpieces, &stamp);
    let of_part = prove_for_plan(text, "p", &input, &ROUTER).expect("a program of the part");
    for proof in [on_sheet, of_part] {
        assert!(proof.faults.iter().all(|fault| fault.line <= lines.max(1)));
        assert!(proof.left.svg().ends_with("</svg>\n"));
    }
}
