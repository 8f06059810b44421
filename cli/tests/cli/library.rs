//! A library from one run to the next.

use std::fs;
use std::process::Stdio;
use std::time::{Duration, Instant, SystemTime};

use crate::{Place, formats, plan, ran};

fn library(plans: usize) -> Place {
    let place = Place::empty();
    for n in 0..plans {
        place.file(
            &format!("lib/p{n}/plan.yaml"),
            &plan(&format!("Plan {n}"), &["a", "b"]),
        );
    }
    place
}

#[test]
fn only_what_has_changed_is_made_again() {
    let place = library(4);
    place.file(
        "lib/p1/more.yaml",
        "parts:\n  c:\n    stock: ply\n    width: 90\n    height: 70\n",
    );
    let with_include =
        plan("Plan 1", &["a", "b"]).replace("units:", "include: [more.yaml]\nunits:");
    place.file("lib/p1/plan.yaml", &with_include);
    place.expect(0, &["export", "lib"]);
    let first = place.tree("out");
    let unchanged = |args: &[&str]| {
        let mut all = vec!["export", "lib"];
        all.extend(args);
        place.expect(0, &all).results().to_owned()
    };
    assert_eq!(unchanged(&[]), "0 plans exported, 4 unchanged\n");

    // What is included is a part of the plan.
    let more = place.read("lib/p1/more.yaml").replace("90", "91");
    place.file("lib/p1/more.yaml", &more);
    let out = unchanged(&["--dry-run"]);
    assert!(
        out.contains("p1: would be exported, since `more.yaml` has changed\n  replace "),
        "{out}"
    );
    assert!(
        out.ends_with("1 plan would be exported, 3 unchanged\n"),
        "{out}"
    );
    assert_eq!(place.tree("out"), first, "a dry run writes nothing");
    assert!(unchanged(&[]).ends_with("1 plan exported, 3 unchanged\n"));
    assert_ne!(place.tree("out"), first);

    // So is a comment: who knows what a later version reads.
    place.file(
        "lib/p2/plan.yaml",
        &(plan("Plan 2", &["a", "b"]) + "# nothing\n"),
    );
    assert!(unchanged(&[]).starts_with("p2: "));

    // An option of one format concerns its files alone.
    let (id, option) = first_switch();
    let out = unchanged(&["--dry-run", "--set", &format!("{id}.{option}")]);
    assert!(out.contains("since its options have changed"), "{out}");
    assert!(
        !out.lines()
            .any(|line| line.starts_with("  ") && !line.contains(id)),
        "{out}"
    );

    // A file that is gone comes back; nobody asks its age.
    let gone = format!("out/p3/{}", first_file(&place, "out/p3"));
    fs::remove_file(place.path(&gone)).unwrap();
    assert!(unchanged(&["--dry-run"]).contains("is not there\n  write   "));
    assert!(unchanged(&[]).starts_with("p3: "));
    assert!(place.path(&gone).is_file());
    assert_eq!(unchanged(&[]), "0 plans exported, 4 unchanged\n");
}

fn first_file(place: &Place, folder: &str) -> String {
    let tree = place.tree(folder);
    tree.keys()
        .find(|path| *path != "manifest.json")
        .unwrap()
        .clone()
}

/// A format and a setting of it that is not its default.
fn first_switch() -> (&'static str, String) {
    let exporters = jigless_exporters::EXPORTERS.iter();
    let mut all = exporters.flat_map(|e| e.options().into_iter().map(|o| (e.id(), o)));
    let (id, option) = all.find(|(_, o)| o.accepts == "true | false").unwrap();
    let other = if option.default == "true" {
        "false"
    } else {
        "true"
    };
    (id, format!("{}={other}", option.key))
}

#[test]
fn the_files_of_parts_and_plans_that_are_gone_go_and_others_stay() {
    let place = library(3);
    place.expect(0, &["export", "lib"]);
    place.file("out/p0/mine.txt", "mine");
    place.file("lib/p0/plan.yaml", &plan("Plan 0", &["a"]));
    let ran = place.expect(0, &["export", "lib"]);
    assert!(ran.out.contains(" removed\n"), "{}", ran.out);
    let tree = place.tree("out/p0");
    assert!(!tree.keys().any(|path| path.contains("/b.")), "{tree:?}");
    assert!(tree.contains_key("mine.txt"));

    fs::remove_dir_all(place.path("lib/p2")).unwrap();
    let reported = place.expect(0, &["export", "lib"]);
    assert!(
        reported
            .err
            .contains("files of 1 plan that this run did not meet, such as p2"),
        "{}",
        reported.err
    );
    assert!(!place.tree("out/p2").is_empty());
    // A run over other plans of the library does not speak of those.
    assert_eq!(place.expect(0, &["export", "lib/p1"]).err, "");
    place.file("out/p2/mine.txt", "mine");
    let dry = place.expect(0, &["export", "lib", "--prune", "--dry-run"]);
    assert!(
        dry.out
            .starts_with("p0: unchanged\np1: unchanged\np2: would be removed\n"),
        "{}",
        dry.out
    );
    assert!(place.tree("out/p2").len() > 1);
    place.expect(0, &["export", "lib", "--prune"]);
    assert_eq!(
        place.tree("out/p2").into_keys().collect::<Vec<_>>(),
        ["mine.txt"]
    );
    assert_eq!(place.expect(0, &["export", "lib"]).err, "");
}

#[test]
fn a_format_that_refuses_a_plan_is_left_out_and_the_others_are_made() {
    let place = Place::empty();
    let router = "dxf-cnc";
    // A profile does not ask for the format; who sets an option on the command line does.
    place.file(
        "bed.yaml",
        "machine: {tools: [{diameter: 6, pass: 4}]}\nexport: {dxf-cnc: {arrange: bed, bed: [500, 900]}}\n",
    );
    let bed = ["--profile", "bed.yaml"];
    let export = |code: i32, more: &[&str]| {
        place.expect(code, &[&["export", "sign"], &bed[..], more].concat())
    };
    // Larger than the bed of the router.
    let large = plan("Sign", &["a"]).replace("width: 296", "width: 1296");
    place.file("sign/plan.yaml", &large);
    for _ in 0..2 {
        let ran = export(0, &[]);
        let reported = ran.err.lines().filter(|line| line.contains("is left out"));
        let reported: Vec<&str> = reported.collect();
        assert_eq!(reported.len(), 1, "{}", ran.err);
        assert!(
            reported[0].contains("sign: dxf-cnc is left out: "),
            "{}",
            ran.err
        );
    }
    let tree = place.tree("out/sign");
    assert!(!tree.keys().any(|path| path.starts_with(router)));
    assert!(tree.len() > 1);
    let named = export(1, &["--to", router]);
    assert!(named.err.contains(": error: "), "{}", named.err);
    // What it made before the sign became so large must not lie about.
    place.file("sign/plan.yaml", &plan("Sign", &["a"]));
    export(0, &[]);
    assert!(place.path("out/sign/dxf-cnc").exists());
    place.file("sign/plan.yaml", &large);
    export(0, &[]);
    assert!(!place.path("out/sign/dxf-cnc").exists());
}

#[test]
fn no_plan_is_begun_after_a_fault_where_that_is_asked_for() {
    let place = library(12);
    place.file("lib/p1/plan.yaml", "jigless: 1\nunits: furlong\n");
    let ran = place.expect(1, &["export", "lib", "--fail-fast", "--jobs", "1"]);
    // By name p1 comes after p0, and p10 after p1.
    assert!(
        ran.results()
            .ends_with("1 plan exported, 1 not, 10 not tried\n"),
        "{}",
        ran.out
    );
    assert!(!place.path("out/p10").exists());
}

#[cfg(unix)]
#[test]
fn two_runs_do_not_write_into_one_folder_and_a_killed_one_leaves_no_lock() {
    let place = library(40);
    let mut first = place.command(&["export", "lib", "--jobs", "1"]);
    let mut first = first
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let start = Instant::now();
    while !place.path("out/p0/manifest.json").exists() && start.elapsed() < Duration::from_secs(20)
    {
        std::thread::sleep(Duration::from_millis(1));
    }
    // The first run stands still, as a slow one would.
    let signal = |name: &str| {
        let mut kill = std::process::Command::new("kill");
        assert!(
            kill.args([name, &first.id().to_string()])
                .status()
                .unwrap()
                .success()
        );
    };
    signal("-STOP");
    let second = place.expect(3, &["export", "lib"]);
    assert!(
        second
            .err
            .contains("another run of Jigless is writing into out"),
        "{}",
        second.err
    );
    assert!(second.err.contains("wait for its end"), "{}", second.err);
    // Who only looks needs no lock.
    place.expect(0, &["export", "lib", "--dry-run"]);
    place.expect(0, &["export", "lib", "--out", "other"]);
    first.kill().unwrap();
    first.wait().unwrap();
    place.expect(0, &["export", "lib"]);
    assert_eq!(place.tree("out"), place.tree("other"));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_reported_and_nothing_is_lost() {
    let place = library(3);
    place.expect(0, &["export", "lib"]);
    let before = place.tree("out");
    place.file("lib/p0/plan.yaml", &plan("Other", &["a", "b"]));
    // No file may grow beyond 2 blocks of 512 bytes: the disk refuses in the middle of a file.
    let mut limited = std::process::Command::new("sh");
    limited
        .current_dir(place.path("."))
        .args(["-c", "trap '' XFSZ; ulimit -f 2; exec \"$0\" export lib"])
        .arg(env!("CARGO_BIN_EXE_jigless"));
    let refused = ran(&mut limited);
    assert_eq!(refused.status, 3, "{}", refused.err);
    assert!(refused.err.contains("cannot be written"), "{}", refused.err);
    assert_eq!(place.tree("out/p1"), place_part(&before, "p1/"));
    for (path, content) in place.tree("out/p0") {
        if path.contains('/') || !path.starts_with("manifest") {
            assert_eq!(Some(&content), before.get(&format!("p0/{path}")), "{path}");
        }
    }
    place.expect(0, &["export", "lib"]);
    place.expect(0, &["export", "lib", "--out", "clean"]);
    assert_eq!(place.tree("out"), place.tree("clean"));
}

#[cfg(target_os = "linux")]
fn place_part(
    tree: &std::collections::BTreeMap<String, crate::Content>,
    head: &str,
) -> std::collections::BTreeMap<String, crate::Content> {
    let part = tree.iter().filter_map(|(path, content)| {
        let path = path.strip_prefix(head)?;
        Some((path.to_owned(), content.clone()))
    });
    part.collect()
}

#[test]
fn a_second_run_touches_no_file() {
    let place = library(3);
    place.expect(0, &["export", "lib"]);
    let old = SystemTime::UNIX_EPOCH + Duration::from_secs(1_000_000_000);
    for path in place.tree("out").keys() {
        let file = fs::File::options()
            .write(true)
            .open(place.path("out").join(path));
        file.unwrap().set_modified(old).unwrap();
    }
    place.expect(0, &["export", "lib"]);
    for path in place.tree("out").keys() {
        let about = fs::metadata(place.path("out").join(path)).unwrap();
        assert_eq!(about.modified().unwrap(), old, "{path}");
    }
}

#[test]
fn what_unnamed_formats_have_against_a_library_is_reported_once() {
    let place = Place::empty();
    for name in ["a", "b", "c"] {
        let blind = plan(name, &["door"])
            .replace("depth: through", "depth: 9")
            .replace("kind: plywood", "kind: plywood, cut_by: laser");
        place.file(&format!("lib/{name}/plan.yaml"), &blind);
    }
    let ran = place.expect(0, &["export", "lib"]);
    assert!(ran.err.contains(" warnings about 3 plans"), "{}", ran.err);
    let lines = ran
        .err
        .lines()
        .filter(|line| line.starts_with("jigless: warning: "));
    assert!(lines.count() < formats().len(), "{}", ran.err);
}
