//! Makes what a site says of a plan: its record, its page, and all its files in one.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use jigless_core::Compiled;
use jigless_core::compare::{Comparison, compare};
use jigless_core::plan::Plan;
use jigless_core::whole::Box3;
use jigless_core::workpiece::Workpiece;
use jigless_exporters::SawOptions;
use serde_json::Value;

use super::INDEX;
use super::about::{About, Earlier, RECORD, Zip};
use super::html::address;
use super::pages::plan_page;
use super::place::refused;
use super::revisions::name_of;
use super::zipped::zipped;
use crate::digest::sha256;
use crate::disk::folder_of;
use crate::exit::{Exit, Problem};
use crate::find::PlanAt;
use crate::manifest::{MANIFEST, Manifest, Record, read_manifest};
use crate::plans::compile;
use crate::write::replace;

/// Whether pages were made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fresh {
    /// They were.
    Made,
    /// They are as they should be.
    Kept,
}

/// All files of a plan of a site, by their paths below the folder of the plans: its record, its page, all its files in one,
/// and what its manifest lists.
///
/// # Errors
/// When its records cannot be read.
pub fn files_of(plans: &Path, plan: &PlanAt) -> Result<Vec<String>, Problem> {
    let about = About::read(plans, plan)?;
    let manifest = manifest_of(plans, plan)?;
    let own = [RECORD, INDEX, MANIFEST, &about.zip.name].map(str::to_owned);
    let listed = manifest.files.into_iter().map(|file| file.path);
    let all = own.into_iter().chain(listed);
    Ok(all.map(|file| format!("{}/{file}", plan.name)).collect())
}

fn manifest_of(plans: &Path, plan: &PlanAt) -> Result<Manifest, Problem> {
    if let Ok(Record::Ours(manifest)) = read_manifest(&plans.join(&plan.name)) {
        return Ok(manifest);
    }
    let message = format!("{}: its files are not there", plan.name);
    Err(Problem::disk(message))
}

/// Makes what a site says of a plan whose files are there: its record, its page, and all files in one. `earlier` are its
/// revisions, whose files are there, too; `of` is the plan whose revision this is. `profile` says what plans leave open.
///
/// # Errors
/// When the disk refuses, or a plan cannot be read after all.
pub fn make_pages(
    plans: &Path,
    plan: &PlanAt,
    earlier: &[PlanAt],
    of: Option<&PlanAt>,
    profile: Option<&Path>,
) -> Result<Fresh, Problem> {
    let folder = plans.join(&plan.name);
    let mut records = crate::BUILD.to_owned();
    for of in std::iter::once(plan).chain(earlier) {
        let record = plans.join(&of.name).join(MANIFEST);
        let bytes = fs::read(&record).map_err(|error| refused(&record, &error))?;
        records.push_str(&sha256(&bytes));
    }
    let key = sha256(records.as_bytes());
    if let Ok(about) = About::read(plans, plan)
        && about.key == key
        && fs::metadata(folder.join(&about.zip.name)).is_ok_and(|it| it.len() == about.zip.bytes)
        && folder.join(INDEX).is_file()
    {
        return Ok(Fresh::Kept);
    }
    let manifest = manifest_of(plans, plan)?;
    let compiled = sound(plan, profile)?;
    // First, so that a run that stops here leaves no record of pages that are no longer those.
    let record = folder.join(RECORD);
    if record.exists() {
        fs::remove_file(&record).map_err(|error| refused(&record, &error))?;
    }
    let write = |name: &str, bytes: &[u8]| {
        let file = folder.join(name);
        replace(&file, bytes).map_err(|error| refused(&file, &error))
    };
    let (zip, bytes) = zip_of(&folder, plan, &manifest)?;
    write(&zip.name, &bytes)?;
    let mut about = facts(plan, &compiled, &manifest, zip);
    about.key = key;
    about.earlier = earlier_revisions(plans, plan, earlier, &compiled, profile)?;
    write(INDEX, plan_page(&about, &manifest, of).as_bytes())?;
    let mut record = serde_json::to_vec_pretty(&about).unwrap_or_default();
    record.push(b'\n');
    // Last: what it says is there by then.
    write(RECORD, &record)?;
    Ok(Fresh::Made)
}

type Sound = (Plan, Vec<Workpiece>);

fn sound(plan: &PlanAt, profile: Option<&Path>) -> Result<Sound, Problem> {
    let Compiled { result, .. } = compile(plan, profile)?;
    result.ok_or_else(|| {
        let message = format!("{}: it was changed while it was published", plan.name);
        Problem::new(Exit::Faulty, message).fix("publish again")
    })
}

fn facts(at: &PlanAt, (plan, _): &Sound, manifest: &Manifest, zip: Zip) -> About {
    let bodies = plan.parts.iter().flat_map(|part| part.bodies());
    let whole = bodies.map(|body| body.bounds()).reduce(Box3::union);
    let size = |axis| whole.map(|whole| whole.size(axis));
    let words = whole.map(|whole| [0, 1, 2].map(|axis| plan.units.show(whole.size(axis))));
    let used: BTreeSet<&str> = plan
        .parts
        .iter()
        .map(|part| part.stock.id.as_str())
        .collect();
    let materials = plan
        .stock
        .iter()
        .filter(|stock| used.contains(stock.id.as_str()));
    let mut noted = plan.revisions.iter();
    let notes = noted.find(|noted| Some(&noted.revision) == plan.revision.as_ref());
    let first = |format: &str, extension: &str| {
        let mut files = manifest.files.iter();
        let found = files.find(|f| f.exporter == format && f.path.ends_with(extension));
        found.map(|file| address(&file.path))
    };
    // The whole, or the first part where no part has a place.
    let pictures = ["svg-views/closed.svg", "svg-drawing/"].into_iter();
    let pictured = pictures.filter_map(|path| {
        manifest
            .files
            .iter()
            .find(|file| file.path.starts_with(path))
    });
    let picture = pictured.map(|file| address(&file.path)).next();
    About {
        key: String::new(),
        name: at.name.clone(),
        title: plan.title.clone(),
        author: plan.author.clone(),
        revision: plan.revision.clone(),
        notes: notes.map_or_else(Vec::new, |noted| noted.changed.clone()),
        licence: plan.licence.clone(),
        digest: plan.digest.clone(),
        size: words.map(|words| words.join(" × ")),
        width_mm: size(0),
        pieces: plan.parts.iter().map(|part| part.count).sum(),
        materials: materials.map(|stock| stock.label.clone()).collect(),
        picture,
        page: first("page-html", ".html"),
        booklet: first("booklet-pdf", ".pdf"),
        zip,
        earlier: Vec::new(),
    }
}

/// The plan itself with what it includes, and all its files.
fn zip_of(folder: &Path, plan: &PlanAt, manifest: &Manifest) -> Result<(Zip, Vec<u8>), Problem> {
    let beside = folder_of(&plan.file);
    let includes = manifest.inputs.includes.iter();
    let includes: Vec<_> = includes
        .filter_map(|include| {
            Some((
                &include.path,
                include.sha256.clone()?,
                beside.join(&include.path),
            ))
        })
        .collect();
    let files: Vec<_> = manifest
        .files
        .iter()
        .map(|file| (file, folder.join(&file.path)))
        .collect();
    let mut entries = vec![(
        "plan/plan.yaml".to_owned(),
        plan.file.as_path(),
        manifest.inputs.plan.clone(),
    )];
    for (path, digest, file) in &includes {
        entries.push((format!("plan/{path}"), file.as_path(), digest.clone()));
    }
    for (record, file) in &files {
        entries.push((record.path.clone(), file.as_path(), record.sha256.clone()));
    }
    let bytes = zipped(&entries).map_err(|error| refused(folder, &error))?;
    let zip = Zip {
        name: format!("{}.zip", name_of(plan)),
        bytes: bytes.len() as u64,
        sha256: sha256(&bytes),
    };
    Ok((zip, bytes))
}

/// What is said of each earlier revision, the latest first.
fn earlier_revisions(
    plans: &Path,
    plan: &PlanAt,
    earlier: &[PlanAt],
    now: &Sound,
    profile: Option<&Path>,
) -> Result<Vec<Earlier>, Problem> {
    let saw = SawOptions::default().settings();
    let sheets_now = sheets(plans, plan);
    let codes: BTreeSet<&str> = sheets_now.iter().map(|(code, _)| code.as_str()).collect();
    let mut all = Vec::new();
    let mut after: Option<Sound> = None;
    for revision in earlier.iter().rev() {
        let before = sound(revision, profile)?;
        let next = after.as_ref().unwrap_or(now);
        let changed = compare((&before.0, &before.1), (&next.0, &next.1), &saw);
        let (good, bad): (Vec<_>, Vec<_>) = sheets(plans, revision)
            .into_iter()
            .partition(|(code, _)| codes.contains(code.as_str()));
        let words = |sheets: Vec<(String, String)>| sheets.into_iter().map(|(_, words)| words);
        all.push(Earlier {
            name: name_of(revision).to_owned(),
            revision: before.0.revision.clone(),
            digest: before.0.digest.clone(),
            changes: in_words(&changed),
            good: words(good).collect(),
            bad: words(bad).collect(),
        });
        after = Some(before);
    }
    Ok(all)
}

fn in_words(changed: &Comparison) -> Vec<String> {
    let parts = changed.parts.iter();
    let parts = parts.map(|part| format!("{}: {}", part.part, part.lines.join("; ")));
    let others = [&changed.hardware, &changed.bought, &changed.steps];
    parts.chain(others.into_iter().flatten().cloned()).collect()
}

/// The sheets of templates of a plan: fingerprint, and what it is.
fn sheets(plans: &Path, plan: &PlanAt) -> Vec<(String, String)> {
    let file = plans.join(&plan.name).join("pdf-template/sheets.json");
    let record: Value = fs::read(file)
        .ok()
        .and_then(|bytes| serde_json::from_slice(&bytes).ok())
        .unwrap_or_default();
    let sheets = record["sheets"].as_array().into_iter().flatten();
    let sheet = |sheet: &Value| {
        let code = sheet["code"].as_str()?;
        let words = format!(
            "sheet {} ({code}): {}",
            sheet["number"],
            sheet["shows"].as_str()?
        );
        Some((code.to_owned(), words))
    };
    sheets.filter_map(sheet).collect()
}
