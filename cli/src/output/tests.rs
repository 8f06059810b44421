//! Tests of writing the output folder of a plan.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use jigless_core::export::Artifact;
use serde_json::json;

use super::before::of_plan;
use super::*;
use crate::digest::sha256;
use crate::exit::{Exit, Problem};
use crate::inputs::Inputs;
use crate::manifest::{
    ExporterRecord, MANIFEST, MadeFrom, Manifest, PENDING, Pending, PlanRecord, Record,
    read_manifest,
};
use crate::write::Writer;

impl Output {
    fn write(&self, out: &Path, force: bool) -> Result<(), Problem> {
        let before = Before::read(&out.join(&self.about.plan.name))?;
        let changes = Changes::of(self, out, before, force)?;
        if changes.is_nothing() {
            Ok(())
        } else {
            changes.apply(Writer::default())
        }
    }
}

fn exporter(id: &str) -> ExporterRecord {
    ExporterRecord {
        id: id.to_owned(),
        options: json!({}),
        made_from: MadeFrom {
            build: "b1".to_owned(),
            inputs: inputs("d1").digest(),
            run: "r1".to_owned(),
        },
        left_out: None,
        warnings: 0,
    }
}

fn inputs(digest: &str) -> Inputs {
    Inputs {
        plan: digest.to_owned(),
        includes: Vec::new(),
        profiles: None,
    }
}

pub(super) fn output(
    digest: &str,
    files: &[(&'static str, &str, &str)],
) -> Result<Output, Problem> {
    let made = files.iter().map(|(exporter, path, content)| MadeFiles {
        exporter,
        artifact: Artifact {
            path: (*path).to_owned(),
            media_type: "text/plain",
            part: None,
            bytes: content.as_bytes().to_vec(),
        },
    });
    let mut ids: Vec<&str> = files.iter().map(|file| file.0).collect();
    ids.dedup();
    let plan = PlanRecord {
        name: "kiln/shelf".to_owned(),
        title: "Shelf".to_owned(),
        digest: digest.to_owned(),
        warnings: 0,
        unsuited: Vec::new(),
    };
    let about = About {
        tool: "jigless 1".to_owned(),
        plan,
        inputs: inputs(digest),
        exporters: ids.into_iter().map(exporter).collect(),
        kept: BTreeSet::new(),
        other_parts: BTreeSet::new(),
    };
    Output::new(about, made.collect())
}

/// Every file below a folder with its content.
pub(super) fn tree(root: &Path) -> BTreeMap<String, String> {
    let mut tree = BTreeMap::new();
    let mut folders = vec![root.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path
                    .strip_prefix(root)
                    .unwrap()
                    .to_str()
                    .unwrap()
                    .to_owned();
                tree.insert(name, fs::read_to_string(path).unwrap());
            }
        }
    }
    tree
}

fn manifest(out: &Path) -> Manifest {
    match read_manifest(&out.join("kiln/shelf")) {
        Ok(Record::Ours(manifest)) => manifest,
        other => panic!("{other:?}"),
    }
}

#[test]
fn files_and_their_manifest_are_written_and_nothing_else() {
    let out = tempfile::tempdir().unwrap();
    let made = output("d1", &[("dots", "b.txt", "bb"), ("dots", "a.txt", "a")]).unwrap();
    made.write(out.path(), false).unwrap();
    let tree = tree(out.path());
    assert_eq!(
        tree.keys().collect::<Vec<_>>(),
        [
            "kiln/shelf/dots/a.txt",
            "kiln/shelf/dots/b.txt",
            "kiln/shelf/manifest.json"
        ]
    );
    assert_eq!(tree["kiln/shelf/dots/b.txt"], "bb");
    let manifest = manifest(out.path());
    assert_eq!(manifest.plan.digest, "d1");
    let files: Vec<_> = manifest
        .files
        .iter()
        .map(|f| (f.path.as_str(), f.bytes))
        .collect();
    assert_eq!(files, [("dots/a.txt", 1), ("dots/b.txt", 2)]);
    assert_eq!(manifest.files[0].sha256, sha256(b"a"));
}

#[test]
fn our_own_files_are_replaced_and_unchanged_ones_are_not_touched() {
    let out = tempfile::tempdir().unwrap();
    output("d1", &[("dots", "a.txt", "1"), ("dots", "b.txt", "1")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    let same = out.path().join("kiln/shelf/dots/a.txt");
    let old = std::time::SystemTime::UNIX_EPOCH + std::time::Duration::from_secs(1_000_000);
    fs::File::options()
        .write(true)
        .open(&same)
        .unwrap()
        .set_modified(old)
        .unwrap();
    output("d2", &[("dots", "a.txt", "1"), ("dots", "b.txt", "2")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    assert_eq!(tree(out.path())["kiln/shelf/dots/b.txt"], "2");
    assert_eq!(fs::metadata(&same).unwrap().modified().unwrap(), old);
}

#[test]
fn what_others_made_or_changed_stops_the_whole_plan() {
    let out = tempfile::tempdir().unwrap();
    let first = output("d1", &[("dots", "a.txt", "1"), ("dots", "b.txt", "1")]).unwrap();
    first.write(out.path(), false).unwrap();
    fs::write(out.path().join("kiln/shelf/dots/b.txt"), "mine").unwrap();
    fs::write(out.path().join("kiln/shelf/dots/c.txt"), "mine").unwrap();
    let before = tree(out.path());
    let next = output(
        "d2",
        &[
            ("dots", "a.txt", "2"),
            ("dots", "b.txt", "2"),
            ("dots", "c.txt", "2"),
        ],
    )
    .unwrap();
    let refused = next.write(out.path(), false).unwrap_err();
    assert_eq!(refused.exit, Exit::Disk);
    assert!(!refused.message.contains("a.txt"), "{}", refused.message);
    assert!(refused.message.contains("b.txt") && refused.message.contains("c.txt"));
    assert_eq!(tree(out.path()), before);
    next.write(out.path(), true).unwrap();
    assert_eq!(tree(out.path())["kiln/shelf/dots/c.txt"], "2");
    next.write(out.path(), false).unwrap();
}

#[test]
fn a_manifest_of_something_else_is_not_replaced() {
    let out = tempfile::tempdir().unwrap();
    fs::create_dir_all(out.path().join("kiln/shelf")).unwrap();
    fs::write(out.path().join("kiln/shelf/manifest.json"), "{}").unwrap();
    let made = output("d1", &[("dots", "a.txt", "1")]).unwrap();
    let refused = made.write(out.path(), false).unwrap_err();
    assert!(refused.message.contains("manifest.json"));
    assert_eq!(tree(out.path()).len(), 1);
}

#[test]
fn a_run_over_some_formats_keeps_the_record_of_the_others() {
    let out = tempfile::tempdir().unwrap();
    output("d1", &[("dots", "a.txt", "1"), ("lines", "a.txt", "1")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    output("d2", &[("dots", "a.txt", "2")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    let now = manifest(out.path());
    let files: Vec<_> = now
        .files
        .iter()
        .map(|f| (f.path.as_str(), f.earlier_plan.as_deref()))
        .collect();
    assert_eq!(files, [("dots/a.txt", None), ("lines/a.txt", Some("d1"))]);
    assert_eq!(now.exporters.len(), 2);
    // Once changed or removed by others it is ours no more.
    fs::remove_file(out.path().join("kiln/shelf/lines/a.txt")).unwrap();
    output("d2", &[("dots", "a.txt", "2")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    assert_eq!(
        (
            manifest(out.path()).files.len(),
            manifest(out.path()).exporters.len()
        ),
        (1, 1)
    );
}

/// A run that is killed has written the pending record and some of the files. Whatever was written, the next run
/// takes it for its own, and ends with what an undisturbed run gives.
#[test]
fn a_run_after_a_killed_one_mends_it() {
    let files = [
        ("dots", "a.txt", "2"),
        ("dots", "b.txt", "2"),
        ("dots", "c.txt", "2"),
    ];
    let clean = tempfile::tempdir().unwrap();
    output(
        "d3",
        &[
            ("dots", "a.txt", "3"),
            ("dots", "b.txt", "3"),
            ("dots", "c.txt", "3"),
        ],
    )
    .unwrap()
    .write(clean.path(), false)
    .unwrap();
    for written in 0..=files.len() {
        // The manifest comes after the last file.
        for with_manifest in [false, written == files.len()] {
            let out = tempfile::tempdir().unwrap();
            output("d1", &[("dots", "a.txt", "1"), ("dots", "b.txt", "1")])
                .unwrap()
                .write(out.path(), false)
                .unwrap();
            let killed = output("d2", &files).unwrap();
            let folder = out.path().join("kiln/shelf");
            let pending = Pending::new(of_plan(killed.records(), "d2"));
            fs::write(folder.join(PENDING), pending.to_bytes()).unwrap();
            for (_, path, content) in &files[..written] {
                fs::write(folder.join("dots").join(path), content).unwrap();
            }
            if with_manifest {
                let before = Before::read(&folder).unwrap();
                let (manifest, _) = killed.manifest(&folder, &before);
                fs::write(folder.join(MANIFEST), manifest.to_bytes()).unwrap();
            }
            let next = [
                ("dots", "a.txt", "3"),
                ("dots", "b.txt", "3"),
                ("dots", "c.txt", "3"),
            ];
            output("d3", &next)
                .unwrap()
                .write(out.path(), false)
                .unwrap();
            assert_eq!(
                tree(out.path()),
                tree(clean.path()),
                "{written} {with_manifest}"
            );
        }
    }
}

#[test]
fn what_is_made_no_more_goes_and_what_others_changed_stays() {
    let out = tempfile::tempdir().unwrap();
    let all = [
        ("dots", "a.txt", "1"),
        ("dots", "b.txt", "1"),
        ("dots", "sub/c.txt", "1"),
        ("lines", "a.txt", "1"),
    ];
    output("d1", &all)
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    fs::write(out.path().join("kiln/shelf/dots/b.txt"), "mine").unwrap();
    fs::write(out.path().join("kiln/shelf/dots/own.txt"), "mine").unwrap();
    output("d2", &[("dots", "a.txt", "1")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    let paths: Vec<String> = tree(out.path()).into_keys().collect();
    assert_eq!(
        paths,
        [
            "kiln/shelf/dots/a.txt",
            "kiln/shelf/dots/b.txt",
            "kiln/shelf/dots/own.txt",
            "kiln/shelf/lines/a.txt",
            "kiln/shelf/manifest.json"
        ]
    );
    assert!(!out.path().join("kiln/shelf/dots/sub").exists());
    let recorded: Vec<String> = manifest(out.path())
        .files
        .into_iter()
        .map(|f| f.path)
        .collect();
    assert_eq!(recorded, ["dots/a.txt", "lines/a.txt"]);
}

#[test]
fn the_files_of_parts_that_a_run_leaves_out_stay() {
    let out = tempfile::tempdir().unwrap();
    let with_part = |mut output: Output, part: &str| {
        for (record, _) in output.files.values_mut() {
            record.part = Some(record.path.trim_start_matches("dots/").replace(".txt", ""));
        }
        output.about.other_parts = BTreeSet::from([part.to_owned()]);
        output
    };
    let all = [
        ("dots", "a.txt", "1"),
        ("dots", "b.txt", "1"),
        ("dots", "c.txt", "1"),
    ];
    with_part(output("d1", &all).unwrap(), "")
        .write(out.path(), false)
        .unwrap();
    // Part b was left out, and part c is not in the plan any more.
    with_part(output("d1", &[("dots", "a.txt", "2")]).unwrap(), "b")
        .write(out.path(), false)
        .unwrap();
    let recorded: Vec<String> = manifest(out.path())
        .files
        .into_iter()
        .map(|f| f.path)
        .collect();
    assert_eq!(recorded, ["dots/a.txt", "dots/b.txt"]);
}

type Change = fn(&mut ExporterRecord);

#[test]
fn a_format_is_made_again_when_anything_that_it_hangs_on_is_another() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().join("kiln/shelf");
    let why = |coming: &ExporterRecord, digest: &str| {
        why_made(
            &folder,
            &Before::read(&folder).unwrap(),
            &inputs(digest),
            coming,
        )
    };
    let same = exporter("dots");
    assert!(why(&same, "d1").unwrap().contains("not made yet"));
    output("d1", &[("dots", "a.txt", "1")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    assert_eq!(why(&same, "d1"), None);
    assert!(
        why(&exporter("lines"), "d1")
            .unwrap()
            .contains("not made yet")
    );
    let changes: [(Change, &str); 4] = [
        (|r| r.made_from.build = "b2".to_owned(), "version"),
        (
            |r| r.made_from.inputs = inputs("d2").digest(),
            "plan has changed",
        ),
        (|r| r.options = json!({"a": 1}), "options"),
        (|r| r.made_from.run = "r2".to_owned(), "date"),
    ];
    for (change, word) in changes {
        let mut coming = same.clone();
        change(&mut coming);
        let reason = why(&coming, "d2").unwrap();
        assert!(reason.contains(word), "{reason}");
    }
    let file = folder.join("dots/a.txt");
    // Longer than a tick of any clock that disks stamp by.
    std::thread::sleep(std::time::Duration::from_millis(50));
    fs::write(&file, "2").unwrap();
    assert!(why(&same, "d1").unwrap().contains("was changed"));
    fs::remove_file(&file).unwrap();
    assert!(why(&same, "d1").unwrap().contains("is not there"));
    fs::write(&file, "1").unwrap();
    assert_eq!(why(&same, "d1"), None);
    fs::write(folder.join(PENDING), Pending::new(Vec::new()).to_bytes()).unwrap();
    assert!(why(&same, "d1").unwrap().contains("stopped"));
}

#[test]
fn output_of_plans_that_are_gone_is_found_and_only_ours_is_removed() {
    let out = tempfile::tempdir().unwrap();
    output("d1", &[("dots", "a.txt", "1"), ("dots", "b.txt", "1")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    let shelf = BTreeSet::from(["kiln/shelf"]);
    assert!(orphans(out.path(), &shelf).is_empty());
    // A copy by hand belongs to whoever made it.
    fs::create_dir(out.path().join("copy")).unwrap();
    fs::copy(
        out.path().join("kiln/shelf/manifest.json"),
        out.path().join("copy/manifest.json"),
    )
    .unwrap();
    fs::write(out.path().join("kiln/shelf/dots/b.txt"), "mine").unwrap();
    let found = orphans(out.path(), &BTreeSet::new());
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].name, "kiln/shelf");
    found[0].remove(Writer::default()).unwrap();
    let paths: Vec<String> = tree(out.path()).into_keys().collect();
    assert_eq!(paths, ["copy/manifest.json", "kiln/shelf/dots/b.txt"]);
}

#[test]
fn two_files_of_one_name_and_paths_that_lead_away_are_faults_of_the_program() {
    let twice = output("d", &[("dots", "Door.txt", "1"), ("dots", "door.txt", "2")]).unwrap_err();
    assert!(
        twice
            .message
            .contains("dots and dots both made `dots/door.txt`"),
        "{twice:?}"
    );
    for path in ["../x", "/x", "a/../../x", ""] {
        assert!(output("d", &[("dots", path, "1")]).is_err(), "{path}");
    }
}

#[test]
fn a_file_where_a_folder_should_be_is_reported() {
    let out = tempfile::tempdir().unwrap();
    let made = output("d1", &[("dots", "a.txt", "1")]).unwrap();
    for file in ["kiln", "kiln/shelf", "kiln/shelf/dots"] {
        let path = out.path().join(file);
        fs::write(&path, "x").unwrap();
        for force in [false, true] {
            let refused = made.write(out.path(), force).unwrap_err();
            assert!(refused.message.contains("it is a file"), "{refused:?}");
        }
        assert!(
            made.write(&path, false)
                .unwrap_err()
                .message
                .contains("it is a file")
        );
        fs::remove_file(&path).unwrap();
        fs::create_dir(&path).unwrap();
    }
    fs::create_dir(out.path().join("kiln/shelf/dots/a.txt")).unwrap();
    assert!(
        made.write(out.path(), true)
            .unwrap_err()
            .message
            .contains("a folder stands")
    );
}

#[cfg(unix)]
#[test]
fn nothing_is_written_through_a_link() {
    use std::os::unix::fs::symlink;
    let away = tempfile::tempdir().unwrap();
    let made = output("d1", &[("dots", "a.txt", "1")]).unwrap();
    for link in ["kiln", "kiln/shelf", "kiln/shelf/dots"] {
        let out = tempfile::tempdir().unwrap();
        let path = out.path().join(link);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        symlink(away.path(), &path).unwrap();
        let refused = made.write(out.path(), true).unwrap_err();
        assert!(refused.message.contains("link"), "{refused:?}");
    }
    let secret = away.path().join("secret");
    fs::write(&secret, "keep").unwrap();
    let out = tempfile::tempdir().unwrap();
    fs::create_dir_all(out.path().join("kiln/shelf/dots")).unwrap();
    symlink(&secret, out.path().join("kiln/shelf/dots/a.txt")).unwrap();
    assert!(made.write(out.path(), false).is_err());
    made.write(out.path(), true).unwrap();
    assert_eq!(fs::read_to_string(&secret).unwrap(), "keep");
    assert_eq!(tree(away.path()).len(), 1);
}

/// Whoever prepares an output folder must not make us remove anything elsewhere, or anything that is not as we made it.
#[cfg(unix)]
#[test]
fn nothing_is_removed_through_a_link_or_elsewhere() {
    use std::os::unix::fs::symlink;
    let away = tempfile::tempdir().unwrap();
    let out = tempfile::tempdir().unwrap();
    let shelf = out.path().join("kiln/shelf");
    let all = [
        ("dots", "a.txt", "1"),
        ("dots", "sub/b.txt", "1"),
        ("lines", "a.txt", "1"),
    ];
    let prepare = || {
        fs::create_dir_all(out.path().join("kiln")).unwrap();
        let _ = fs::remove_dir_all(&shelf);
        output("d1", &all)
            .unwrap()
            .write(out.path(), false)
            .unwrap();
        // The same content elsewhere, and a link to it in the middle of the path.
        for (name, text) in [("b.txt", "1"), (".jigless-a1B2c3.tmp", "1"), ("x", "1")] {
            fs::write(away.path().join(name), text).unwrap();
        }
        fs::remove_dir_all(shelf.join("dots/sub")).unwrap();
        symlink(away.path(), shelf.join("dots/sub")).unwrap();
        // A record that claims what was never ours, with its right digest.
        let mut edited = manifest(out.path());
        let claimed = away.path().join("x").to_str().unwrap().to_owned();
        for path in ["../../x", "dots/../../../x", "dots/sub/x", claimed.as_str()] {
            let mut record = edited.files[0].clone();
            record.path = path.to_owned();
            edited.files.push(record);
        }
        fs::write(shelf.join(MANIFEST), edited.to_bytes()).unwrap();
        fs::write(out.path().join("x"), "1").unwrap();
    };
    let untouched = || {
        assert_eq!(tree(away.path()).len(), 3);
        assert!(out.path().join("x").exists());
    };
    prepare();
    output("d2", &[("dots", "a.txt", "2")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    untouched();
    // A run that was stopped tidies up, and not elsewhere either.
    prepare();
    fs::write(
        shelf.join(PENDING),
        Pending::new(manifest(out.path()).files).to_bytes(),
    )
    .unwrap();
    output("d2", &[("dots", "a.txt", "2")])
        .unwrap()
        .write(out.path(), false)
        .unwrap();
    untouched();
    prepare();
    let found = orphans(out.path(), &BTreeSet::new());
    found[0].remove(Writer::default()).unwrap();
    untouched();
    assert!(!shelf.join("dots/a.txt").exists(), "what is ours goes");
}

#[test]
fn a_manifest_that_was_edited_is_put_right() {
    let out = tempfile::tempdir().unwrap();
    let made = output("d1", &[("dots", "a.txt", "1")]).unwrap();
    made.write(out.path(), false).unwrap();
    let before = tree(out.path());
    let folder = out.path().join("kiln/shelf");
    let wrong = before["kiln/shelf/manifest.json"].replace(&sha256(b"1"), &sha256(b"2"));
    fs::write(folder.join(MANIFEST), wrong).unwrap();
    let why = why_made(
        &folder,
        &Before::read(&folder).unwrap(),
        &inputs("d1"),
        &exporter("dots"),
    );
    assert!(why.unwrap().contains("manifest was changed"));
    made.write(out.path(), false).unwrap();
    assert_eq!(tree(out.path()), before);
}
