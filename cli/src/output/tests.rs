//! Tests of writing the output folder of a plan.

use serde_json::json;

use std::fs;

use super::*;
use crate::exit::Exit;
use crate::manifest::{Record, read_manifest};

fn output(digest: &str, files: &[(&'static str, &str, &str)]) -> Result<Output, Problem> {
    let made = files.iter().map(|(exporter, path, content)| Made {
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
    let exporters = ids.iter().map(|id| ExporterRecord {
        id: (*id).to_owned(),
        options: json!({}),
    });
    let plan = PlanRecord {
        name: "kiln/shelf".to_owned(),
        title: "Shelf".to_owned(),
        digest: digest.to_owned(),
    };
    Output::new(
        "jigless 1".to_owned(),
        plan,
        exporters.collect(),
        made.collect(),
    )
}

/// Every file below a folder with its content.
fn tree(root: &Path) -> BTreeMap<String, String> {
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
                let manifest = killed.manifest(&folder, &before);
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
fn a_file_where_a_folder_should_be_is_told() {
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
