//! The command line as a person meets it: what is said, how it ends, and what is on the disk afterwards.

use std::fs;
use std::path::Path;

use jigless_core::load::NoIncludes;
use jigless_exporters::EXPORTERS;
use jigless_tests::fixtures::{fixture, tree};
use jigless_tests::program::{Run, jigless, run};

fn in_folder(folder: &Path, arguments: &[&str]) -> Run {
    run(jigless(folder).args(arguments))
}

fn copy(plan: &str, to: &Path) {
    for (name, bytes) in tree(&fixture(plan)) {
        let path = to.join(name);
        fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
        fs::write(path, bytes).expect("a written file");
    }
}

#[test]
fn a_new_plan_exports_at_once() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    in_folder(folder.path(), &["start", "jar shelf"]).done();
    in_folder(folder.path(), &["check", "jar shelf"]).done();
    in_folder(folder.path(), &["export", "jar shelf"]).done();
    let made = tree(&folder.path().join("out"));
    // The new plan is one panel of board: nothing for a laser, and nothing to put together.
    let bytes = fs::read(folder.path().join("jar shelf/plan.yaml")).expect("the new plan");
    let compiled = jigless_core::compile("plan.yaml", &bytes, &NoIncludes);
    let (plan, _) = compiled.result.expect("the new plan has no errors");
    let suits = EXPORTERS.iter().filter(|exporter| {
        let configured = exporter.configure(&[]);
        configured.is_ok_and(|configured| configured.suits(&plan))
    });
    let suits: Vec<_> = suits.collect();
    assert!(suits.len() >= 6, "{} formats", suits.len());
    for exporter in suits {
        let below = format!("/{}/", exporter.id());
        assert!(
            made.iter().any(|(name, _)| name.contains(&below)),
            "{below}"
        );
    }
    // A second time it would overwrite what the user has written since.
    let again = in_folder(folder.path(), &["start", "jar shelf"]);
    assert!(matches!(again.code, Some(2 | 3)), "{again:?}");
}

#[test]
fn formats_lists_every_exporter_with_its_options() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let listed = in_folder(folder.path(), &["formats"]).done().stdout;
    for exporter in EXPORTERS {
        assert!(listed.contains(exporter.id()), "{listed}");
        let one = in_folder(folder.path(), &["formats", exporter.id()])
            .done()
            .stdout;
        for option in exporter.options() {
            assert!(
                one.contains(&option.key),
                "{} is not in:\n{one}",
                option.key
            );
        }
    }
}

#[test]
fn the_exit_code_tells_who_is_to_blame() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    copy("features/plain", &folder.path().join("plain"));
    copy("faulty/hole-outside", &folder.path().join("bad"));
    for (arguments, code) in [
        (&["check", "plain"][..], 0),
        (&["export", "plain", "--to", EXPORTERS[0].id()], 0),
        (&["check", "bad"], 1),
        (&["export", "bad"], 1),
        (&["export", "plain", "bad"], 1),
        (&["check", "nowhere"], 2),
        (&["export", "plain", "--to", "papyrus"], 2),
        (&["export", "plain", "--part", "lid"], 2),
        (&["export", "plain", "--set", "papyrus.size=a4"], 2),
        (&["export", "plain", "--jobs", "0"], 2),
        (&["export"], 2),
        (&["make"], 2),
        (&["--help"], 0),
        (&["--version"], 0),
    ] {
        let run = in_folder(folder.path(), arguments);
        assert_eq!(run.code, Some(code), "{arguments:?}: {}", run.stderr);
        if code != 0 {
            assert!(!run.stderr.trim().is_empty(), "{arguments:?} says nothing");
            assert!(
                run.stderr.chars().all(|c| c != '\u{1b}'),
                "colours in a pipe"
            );
        }
    }
    let said = in_folder(folder.path(), &["export", "plain", "--to", "pdf-templat"]).stderr;
    assert!(
        said.contains("pdf-template"),
        "the nearest word is not named: {said}"
    );
}

#[test]
fn a_plan_among_sound_ones_spoils_its_own_output_only_or_all_of_it() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    copy("features/plain", &folder.path().join("plans/plain"));
    copy("faulty/hole-outside", &folder.path().join("plans/bad"));
    let run = in_folder(folder.path(), &["export", "plans"]);
    assert_eq!(run.code, Some(1));
    assert!(!folder.path().join("out/bad").exists());
    assert!(!folder.path().join("out/plans/bad").exists());
}

#[test]
fn foreign_files_are_not_overwritten_without_force() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    copy("features/plain", &folder.path().join("plain"));
    let id = EXPORTERS[0].id();
    in_folder(folder.path(), &["export", "plain", "--to", id]).done();
    let made = tree(&folder.path().join("out"));
    let (victim, original) = made
        .iter()
        .find(|(name, _)| !name.ends_with("manifest.json"))
        .expect("a made file");
    let victim = folder.path().join("out").join(victim);
    // As made: it may be made again.
    in_folder(folder.path(), &["export", "plain", "--to", id]).done();
    fs::write(&victim, "edited by hand").expect("a written file");
    let refused = in_folder(folder.path(), &["export", "plain", "--to", id]);
    assert_eq!(refused.code, Some(3), "{}", refused.stderr);
    assert!(refused.stderr.contains("--force"), "{}", refused.stderr);
    assert_eq!(fs::read(&victim).expect("a file"), b"edited by hand");
    in_folder(folder.path(), &["export", "plain", "--to", id, "--force"]).done();
    assert_eq!(&fs::read(&victim).expect("a file"), original);
}

#[test]
fn nothing_is_written_when_one_format_refuses() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    copy("features/plain", &folder.path().join("plain"));
    let run = in_folder(
        folder.path(),
        &["export", "plain", "--set", "pdf-template.paper=papyrus"],
    );
    assert_eq!(run.code, Some(1), "{}", run.stderr);
    assert!(!folder.path().join("out").exists());
}

/// Output into a folder that cannot be made: exit code 3 and nothing left behind.
#[test]
fn a_file_where_the_output_folder_should_be() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    copy("features/plain", &folder.path().join("plain"));
    fs::write(folder.path().join("out"), "in the way").expect("a written file");
    let run = in_folder(folder.path(), &["export", "plain"]);
    assert_eq!(run.code, Some(3), "{}", run.stderr);
    assert_eq!(
        fs::read(folder.path().join("out")).expect("a file"),
        b"in the way"
    );
}

/// The manifest is what people and scripts find files by; its sums are checked by another implementation.
#[test]
fn the_manifest_tells_the_truth() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let plan = fixture("thread-organiser");
    run(jigless(out.path())
        .arg("export")
        .arg(plan)
        .args(["--out", "out"]))
    .done();
    let folder = out.path().join("out/thread-organiser");
    let manifest = fs::read(folder.join("manifest.json")).expect("a manifest");
    let manifest: serde_json::Value = serde_json::from_slice(&manifest).expect("JSON");
    let listed = manifest["files"].as_array().expect("a list of files");
    let files = tree(&folder);
    assert_eq!(listed.len() + 1, files.len(), "all but the manifest itself");
    for file in listed {
        let path = file["path"].as_str().expect("a path");
        let (_, bytes) = files
            .iter()
            .find(|(name, _)| name == path)
            .expect("a listed file");
        assert_eq!(file["bytes"].as_u64(), Some(bytes.len() as u64), "{path}");
        let sum = std::process::Command::new("sha256sum")
            .arg(folder.join(path))
            .output();
        if let Ok(sum) = sum {
            let sum = String::from_utf8_lossy(&sum.stdout).into_owned();
            let sum = sum.split_whitespace().next().unwrap_or_default();
            assert_eq!(file["sha256"].as_str(), Some(sum), "{path}");
        }
    }
}

#[test]
fn a_profile_sets_options_and_the_command_line_goes_before_it() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    copy("features/plain", &folder.path().join("plain"));
    let profile = fixture("profiles/letter-printer.yaml");
    let options = |more: &[&str], out: &str| {
        let mut command = jigless(folder.path());
        command.args(["export", "plain", "--to", "pdf-template", "--out", out]);
        command.arg("--profile").arg(&profile).args(more);
        run(&mut command).done();
        let manifest = fs::read(folder.path().join(out).join("plain/manifest.json"));
        let manifest: serde_json::Value =
            serde_json::from_slice(&manifest.expect("a manifest")).expect("JSON");
        let exporters = manifest["exporters"].as_array().expect("a list").clone();
        let exporter = exporters.into_iter().find(|e| e["id"] == "pdf-template");
        exporter.expect("the exporter is listed")["options"]["paper"].clone()
    };
    assert_eq!(options(&[], "one"), "letter");
    assert_eq!(options(&["--set", "pdf-template.paper=a3"], "two"), "a3");
}

/// Vinyl under a laser gives off chlorine (common practice, no source): refused for a laser, made for everything else.
#[test]
fn vinyl_is_never_given_to_a_laser() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let plan = "jigless: 1\ntitle: Sign\nunits: mm\nstock:\n  sheet: {thickness: 2, kind: pvc, sheets: [{width: 600, height: 400, count: 1}]}\nparts:\n  \
                sign: {stock: sheet, width: 100, height: 60}\n";
    fs::write(folder.path().join("plan.yaml"), plan).expect("a written plan");
    let refused = in_folder(folder.path(), &["export", "plan.yaml", "--to", "dxf-laser"]);
    assert_eq!(refused.code, Some(1), "{}", refused.stderr);
    assert!(
        refused.stderr.contains("plan.yaml:5:3"),
        "{}",
        refused.stderr
    );
    let empty = tree(folder.path());
    assert!(empty.iter().all(|(name, _)| name == "plan.yaml"));
    // Where nobody named it, it does not suit the plan, and the others are made.
    let run = in_folder(folder.path(), &["export", "plan.yaml"]).done();
    assert_eq!(run.stderr, "");
    let made = tree(&folder.path().join("out"));
    assert!(made.iter().any(|(name, _)| name.contains("pdf-template/")));
    assert!(!made.iter().any(|(name, _)| name.contains("laser/")));
}
