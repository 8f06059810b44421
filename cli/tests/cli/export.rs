use std::time::{Duration, SystemTime};

use serde_json::Value;

use crate::{Place, formats, plan, ran};

fn manifest(place: &Place, path: &str) -> Value {
    serde_json::from_str(&place.read(path)).unwrap()
}

#[test]
fn every_format_is_written_and_the_manifest_tells_the_truth() {
    let place = Place::empty();
    // So thin that it suits a laser and a router, with sizes for the saw, places for pictures and a joint for steps.
    let thin = "
jigless: 1
title: Jars
units: mm
stock: {ply: {thickness: 3, kind: plywood, sheets: [{width: 600, height: 400, count: 1}]}}
parts:
  shelf: {stock: ply, width: 300, height: 100, place: {at: [0, 0, 0], width: right, height: back}}
  door: {stock: ply, width: 300, height: 200, place: {at: [0, 3, 50], width: right, height: up}}
joints:
  - butt: {part: door, to: shelf, with: glue}
";
    place.file("jars/plan.yaml", thin);
    let ran = place.expect(0, &["export", "jars"]);
    let manifest = manifest(&place, "out/jars/manifest.json");
    let files = manifest["files"].as_array().unwrap();
    assert_eq!(
        ran.results(),
        format!(
            "jars: 2 parts, {} files in {}\n",
            files.len(),
            place_of("out/jars")
        )
    );
    assert_eq!(ran.err, "");
    let mut tree = place.tree("out/jars");
    tree.remove("manifest.json").unwrap();
    assert_eq!(files.len(), tree.len());
    for file in files {
        let path = file["path"].as_str().unwrap();
        let bytes = &tree[path];
        assert_eq!(
            file["bytes"].as_u64().unwrap(),
            bytes.0.len() as u64,
            "{path}"
        );
        assert_eq!(file["sha256"], bytes.sha256(), "{path}");
        let exporter = file["exporter"].as_str().unwrap();
        assert!(path.starts_with(&format!("{exporter}/")), "{path}");
    }
    // `png-views` is made only where it is named.
    for id in formats().into_iter().filter(|id| *id != "png-views") {
        assert!(files.iter().any(|file| file["exporter"] == id), "{id}");
        let records = manifest["exporters"].as_array().unwrap();
        let record = records.iter().find(|record| record["id"] == id).unwrap();
        let options = jigless_exporters::exporter(id).unwrap().options();
        assert_eq!(
            record["options"].as_object().unwrap().len(),
            options.len(),
            "{id}"
        );
    }
}

#[test]
fn a_format_that_does_not_suit_a_plan_is_made_where_it_is_named() {
    let place = Place::with_jars();
    let made = |id: &str| place.path(&format!("out/jars/{id}")).exists();
    for _ in 0..2 {
        let ran = place.expect(0, &["export", "jars"]);
        assert_eq!(ran.err, "");
        let lasers = ["dxf-laser", "svg-laser"];
        assert!(!lasers.into_iter().any(made), "a laser for 18 mm");
        assert!(made("dxf-cnc") && made("pdf-template"));
    }
    assert_eq!(
        place.expect(0, &["export", "jars"]).out,
        "jars: unchanged\n"
    );
    place.expect(0, &["export", "jars", "--to", "dxf-laser"]);
    assert!(made("dxf-laser"));
    place.expect(0, &["export", "jars"]);
    assert!(made("dxf-laser"), "what was asked for stays");
    let solid = plan("Jars", &["door"]).replace("kind: plywood", "kind: solid");
    place.file("jars/plan.yaml", &solid);
    place.expect(0, &["export", "jars", "--out", "solid"]);
    assert!(!place.path("solid/jars/dxf-cnc").exists());
}

#[test]
fn a_former_name_of_a_format_or_option_is_refused_and_todays_is_named() {
    let place = Place::with_jars();
    let ran = place.expect(2, &["export", "jars", "--to", "cutlist-csv"]);
    assert!(ran.err.contains("write `cutting-list-csv`"), "{}", ran.err);
    let set = ["export", "jars", "--set", "dxf-cnc.run_out=2"];
    let ran = place.expect(2, &set);
    assert!(ran.err.contains("write `overrun`"), "{}", ran.err);
    for profile in [
        "export: {buying-list: {waste: 3}}",
        "export: {dxf-cnc: {run_out: 2}}",
        "machine: {run_out: 2}",
    ] {
        place.file("shop.yaml", profile);
        let ran = place.expect(1, &["export", "jars", "--profile", "shop.yaml"]);
        let named = ["write `buying-list-csv`", "write `overrun`"];
        assert!(
            named.iter().any(|name| ran.err.contains(name)),
            "{}",
            ran.err
        );
        assert!(ran.err.contains("shop.yaml"), "{}", ran.err);
    }
    assert!(place.tree("out").is_empty());
}

fn place_of(path: &str) -> String {
    std::path::Path::new(path).display().to_string()
}

#[test]
fn threads_change_no_byte_and_no_line() {
    let place = Place::empty();
    for n in 0..9 {
        place.file(
            &format!("lib/p{n}.yaml"),
            &plan(&format!("Plan {n}"), &["a", "b", "c"]),
        );
    }
    place.file("lib/p4.yaml", "jigless: 1\nunits: furlong\n");
    let one = place.expect(1, &["export", "lib", "--jobs", "1", "--out", "one"]);
    let two = place.expect(1, &["export", "lib", "--jobs", "2", "--out", "two"]);
    let again = place.expect(1, &["export", "lib", "--jobs", "2", "--out", "two"]);
    assert_eq!(one.err, two.err);
    assert_eq!(one.results().replace("one", "two"), two.results());
    assert_eq!(
        again.out,
        "p4: not exported, 2 errors\n0 plans exported, 8 unchanged, 1 not\n"
    );
    assert_eq!(place.tree("one"), place.tree("two"));
    assert!(place.tree("one").len() > 8 * 3);
}

#[test]
fn a_second_run_writes_nothing() {
    let place = Place::with_jars();
    place.expect(0, &["export", "jars"]);
    let old = SystemTime::UNIX_EPOCH + Duration::from_secs(1_000_000_000);
    let paths: Vec<_> = place.tree("out").into_keys().collect();
    for path in &paths {
        let file = std::fs::File::options()
            .write(true)
            .open(place.path("out").join(path));
        file.unwrap().set_modified(old).unwrap();
    }
    place.expect(0, &["export", "jars"]);
    for path in &paths {
        let about = std::fs::metadata(place.path("out").join(path)).unwrap();
        assert_eq!(about.modified().unwrap(), old, "{path}");
    }
}

#[test]
fn formats_and_parts_can_be_chosen() {
    let place = Place::with_jars();
    let id = formats()[0];
    place.expect(
        0,
        &[
            "export", "jars", "--to", id, "--part", "shelf", "--out", "some",
        ],
    );
    let tree = place.tree("some/jars");
    assert!(
        tree.keys()
            .all(|path| path == "manifest.json" || path.starts_with(&format!("{id}/")))
    );
    let manifest = manifest(&place, "some/jars/manifest.json");
    let files = manifest["files"].as_array().unwrap();
    assert!(!files.is_empty());
    assert!(
        files
            .iter()
            .all(|file| file["part"] == "shelf" || file["part"].is_null())
    );

    let wrong = place.expect(2, &["export", "jars", "--part", "shlf", "--out", "none"]);
    assert!(wrong.err.contains("did you mean `shelf`?"), "{}", wrong.err);
    assert!(place.tree("none").is_empty());
}

#[test]
fn what_a_format_that_nobody_named_has_against_a_plan_is_counted_only() {
    let place = Place::empty();
    let blind = plan("Jars", &["door"])
        .replace("depth: through", "depth: 9")
        .replace("kind: plywood", "kind: plywood, cut_by: laser");
    place.file("jars/plan.yaml", &blind);
    let all = place.expect(0, &["export", "jars"]);
    let mut warning = 0;
    for id in formats() {
        let named = place.expect(0, &["export", "jars", "--to", id, "--out", id]);
        if named.err.contains(": warning: ") {
            warning += 1;
            assert!(named.err.contains("jars/plan.yaml:"), "{}", named.err);
            assert!(all.err.contains(&format!("jars: {id} has ")), "{}", all.err);
            assert!(all.err.contains(&format!("`--to {id}`")), "{}", all.err);
        }
    }
    assert!(warning > 0, "no format warns of blind holes");
    assert!(!all.err.contains("plan.yaml"), "{}", all.err);
}

#[test]
fn a_plan_with_an_error_writes_nothing_and_shows_where() {
    let place = Place::empty();
    let text = plan("Jars", &["door"]).replace("width: 296", "widht: 296");
    place.file("jars/plan.yaml", &text);
    let ran = place.expect(1, &["export", "jars"]);
    assert!(place.tree("out").is_empty());
    let line = 1 + text
        .lines()
        .position(|line| line.contains("widht"))
        .unwrap();
    let place_in_text = format!("jars/plan.yaml:{line}:5");
    assert!(ran.err.contains(&place_in_text), "{}", ran.err);
    assert!(ran.err.contains("widht: 296"), "{}", ran.err);
    assert!(ran.err.contains("`width`"), "{}", ran.err);
    assert!(ran.out.starts_with("jars: not exported, "), "{}", ran.out);
}

#[test]
fn files_that_are_not_ours_are_left_alone() {
    let place = Place::with_jars();
    place.expect(0, &["export", "jars", "--out", "made"]);
    let made = place.tree("made/jars");
    let path = made.keys().find(|path| *path != "manifest.json").unwrap();
    place.file(&format!("out/jars/{path}"), "mine");
    let refused = place.expect(3, &["export", "jars"]);
    assert!(refused.err.contains(path.as_str()), "{}", refused.err);
    assert!(refused.err.contains("--force"), "{}", refused.err);
    assert_eq!(place.tree("out").len(), 1);
    place.expect(0, &["export", "jars", "--force"]);
    assert_eq!(place.tree("out/jars"), made);
    // What was changed after it was made is the user's too.
    place.file(&format!("out/jars/{path}"), "changed");
    place.expect(3, &["export", "jars"]);
    assert_eq!(place.read(&format!("out/jars/{path}")), "changed");
}

#[test]
fn a_date_is_used_only_when_it_is_given() {
    let place = Place::with_jars();
    let run = |out: &str, date: Option<&str>, epoch: Option<&str>| {
        let mut args = vec!["export", "jars", "--out", out];
        args.extend(date.iter().flat_map(|date| ["--date", date]));
        let mut command = place.command(&args);
        command.envs(epoch.map(|epoch| ("SOURCE_DATE_EPOCH", epoch)));
        assert_eq!(ran(&mut command).status, 0);
        place.tree(out)
    };
    let none = run("a", None, None);
    std::thread::sleep(Duration::from_millis(1100));
    assert_eq!(run("b", None, None), none);
    // 946684800 is 2000-01-01T00:00:00Z: `date -u -d @946684800`.
    let day = run("c", Some("2000-01-01"), None);
    assert_eq!(run("d", None, Some("946684800")), day);
    assert_eq!(run("e", Some("2000-01-01"), Some("5")), day);
    assert_ne!(day, none, "some format prints the date");
}

#[test]
fn the_disk_is_named_when_it_refuses() {
    let place = Place::with_jars();
    place.file("afile", "");
    for out in ["afile", "afile/below"] {
        let refused = place.expect(3, &["export", "jars", "--out", out]);
        assert!(refused.err.contains("afile"), "{}", refused.err);
    }
    assert_eq!(place.read("afile"), "");
    #[cfg(target_os = "linux")]
    {
        // Nobody may make folders there, not even root.
        let refused = place.expect(3, &["export", "jars", "--out", "/proc/jigless"]);
        assert!(refused.err.contains("/proc/jigless"), "{}", refused.err);
    }
}

/// `/proc` is a folder that is there and takes no files from anybody, so root runs this test as everybody else does.
#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_can_only_be_read_is_reported_and_left() {
    let place = Place::with_jars();
    for arguments in [
        &["export", "jars", "--out", "/proc"][..],
        &["export", "jars", "--out", "/proc", "--force"],
        &["export", "jars", "--out", "/proc/sys", "--jobs", "2"],
    ] {
        let refused = place.expect(3, arguments);
        assert!(
            refused.err.starts_with("jigless: error: "),
            "{}",
            refused.err
        );
        assert!(refused.err.contains("/proc"), "{}", refused.err);
        assert!(!refused.err.contains("os error"), "{}", refused.err);
        assert!(!refused.out.contains("files in"), "{}", refused.out);
    }
}
