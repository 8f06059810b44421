//! Every sound plan checks without a finding and exports in every format; every faulty one gives what it says it gives,
//! in words that a snapshot keeps.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::sync::LazyLock;

use jigless_core::export::{AnyExporter, Stage};
use jigless_core::feature::FEATURES;
use jigless_core::plan::Plan;
use jigless_tests::expectation::{Expectation, expectations};
use jigless_tests::fixtures::{faulty_plans, files_of, fixture, sound_plans, tree, workspace};
use jigless_tests::formats::without_a_profile;
use jigless_tests::plans::compiled;
use jigless_tests::program::{Run, export_all, jigless, run};
use jigless_tests::report::printed;
use tempfile::TempDir;

/// Everything of every sound plan, exported once for all tests of this file.
static EXPORTED: LazyLock<TempDir> = LazyLock::new(|| {
    let out = tempfile::tempdir().expect("a temporary folder");
    let mut by_formats: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for plan in sound_plans() {
        let (resolved, _) = compiled(&plan);
        // Formats of parts are made of any plan; those of the whole plan ask for joints, places or sizes of sheets.
        let made = without_a_profile()
            .filter(|exporter| exporter.stage() == Stage::Part || suits(*exporter, &resolved));
        let ids: Vec<&str> = made.map(AnyExporter::id).collect();
        by_formats.entry(ids.join(",")).or_default().push(plan);
    }
    for (ids, plans) in by_formats {
        let plans: Vec<&str> = plans.iter().map(String::as_str).collect();
        export_all(&plans, out.path(), &["--quiet", "--to", &ids]);
    }
    out
});

fn suits(exporter: &dyn AnyExporter, plan: &Plan) -> bool {
    let configured = exporter.configure(&[]);
    configured.is_ok_and(|configured| configured.suits(plan))
}

/// The last name of a plan's path, which is what its output folder is called.
fn name_of(plan: &str) -> &str {
    plan.rsplit('/').next().unwrap_or(plan)
}

fn check(plan: &str) -> Run {
    // Run from inside the folder of plans, so that what is printed holds no path of this machine.
    let (folder, name) = plan.rsplit_once('/').unwrap_or(("", plan));
    run(jigless(&fixture(folder)).args(["check", name]))
}

#[test]
fn sound_plans_have_no_findings() {
    for plan in sound_plans() {
        let run = check(&plan).done();
        assert_eq!(printed(&run.stderr), [], "{plan}");
        for word in ["error", "warning", "note"] {
            assert!(!run.stderr.contains(word), "{plan}:\n{}", run.stderr);
        }
    }
}

#[test]
fn every_format_makes_something_of_every_plan_that_it_suits() {
    for plan in sound_plans() {
        let files = tree(&EXPORTED.path().join(name_of(&plan)));
        let (resolved, _) = compiled(&plan);
        let suiting = without_a_profile().filter(|exporter| suits(*exporter, &resolved));
        for id in suiting.map(AnyExporter::id) {
            let made = files
                .iter()
                .filter(|(path, _)| path.starts_with(&format!("{id}/")));
            assert!(made.clone().count() > 0, "{id} made nothing of {plan}");
            for (path, bytes) in made {
                assert!(!bytes.is_empty(), "{plan}: {path} is empty");
            }
        }
    }
}

#[test]
fn every_part_comes_out_in_every_format() {
    let plans = [
        ("glaze-cabinet", parts_of("by-hand/glaze-cabinet")),
        ("lapped-organiser", parts_of("by-hand/thread-organiser")),
    ];
    for (plan, parts) in plans {
        let manifest =
            fs::read(EXPORTED.path().join(plan).join("manifest.json")).expect("a manifest");
        let manifest: serde_json::Value = serde_json::from_slice(&manifest).expect("JSON");
        let files = manifest["files"].as_array().expect("a list of files");
        // The same plan by hand names every part; what builders make has the same names.
        for part in parts {
            let of_parts = without_a_profile().filter(|e| e.stage() == Stage::Part);
            for exporter in of_parts {
                let made = files
                    .iter()
                    .any(|file| file["exporter"] == exporter.id() && file["part"] == part.as_str());
                assert!(made, "{plan}: {} made nothing of {part}", exporter.id());
            }
        }
    }
}

/// Names of the parts as the plan's own text has them, read by its indentation alone: no code of Jigless is asked.
fn parts_of(plan: &str) -> Vec<String> {
    let mut parts = Vec::new();
    for file in files_of(&fixture(plan), "yaml") {
        let text = String::from_utf8(file.1).expect("UTF-8");
        let (_, below) = text.split_once("\nparts:\n").unwrap_or_default();
        for line in below.lines() {
            if let Some(mirrored) = line.strip_prefix("    mirror_as: ") {
                parts.push(mirrored.to_owned());
            }
            let name = line.strip_prefix("  ").and_then(|l| l.strip_suffix(':'));
            if let Some(name) = name
                && !name.starts_with([' ', '#'])
            {
                parts.push(name.to_owned());
            }
        }
    }
    parts
}

/// Where a feature is written with a fault, somebody has looked at what is said of it.
#[test]
fn every_feature_has_a_faulty_plan_with_a_finding_in_it() {
    let mut without: Vec<&str> = FEATURES.iter().map(|feature| feature.key).collect();
    for case in faulty_plans() {
        for (_, bytes) in tree(&fixture("faulty").join(&case)) {
            let text = String::from_utf8_lossy(&bytes).into_owned();
            let lines: Vec<&str> = text.lines().collect();
            for expected in expectations(&text) {
                // The nearest entry of a list at or above the finding.
                let mut above = lines[..expected.line].iter().rev();
                let entry = above.find_map(|line| line.trim_start().strip_prefix("- "));
                let key = entry.and_then(|entry| entry.split(':').next());
                without.retain(|feature| Some(*feature) != key);
            }
        }
    }
    assert_eq!(without, [""; 0], "features without a faulty plan");
}

/// Beside a fault there may stand what its author meant.
#[test]
fn mended_twins_of_faulty_plans_have_no_findings() {
    let mut twins = 0;
    for case in faulty_plans() {
        if fixture("faulty").join(&case).join("mended.yaml").is_file() {
            let run =
                run(jigless(&fixture("faulty")).args(["check", &format!("{case}/mended.yaml")]));
            assert_eq!(printed(&run.done().stderr), [], "{case}");
            twins += 1;
        }
    }
    assert!(twins >= 5, "{twins} twins");
}

/// The text of all findings, as a person sees it.
#[test]
fn faulty_plans_give_the_findings_beside_their_lines() {
    let mut wrong = String::new();
    for case in faulty_plans() {
        let run = check(&format!("faulty/{case}"));
        let folder = fixture("faulty").join(&case);
        let mut expected: Vec<(String, Expectation)> = Vec::new();
        for (name, bytes) in files_of(&folder, "yaml") {
            let text = String::from_utf8(bytes).expect("UTF-8");
            expected.extend(expectations(&text).into_iter().map(|e| (name.clone(), e)));
        }
        let mut found: Vec<(String, usize, String, String, String)> = Vec::new();
        for finding in printed(&run.stderr) {
            let prefix = format!("{case}/");
            let file = finding.file.strip_prefix(&prefix).unwrap_or(&finding.file);
            let place = (file.to_owned(), finding.line);
            found.push((
                place.0,
                place.1,
                finding.severity,
                finding.code,
                finding.message,
            ));
        }
        found.sort();
        expected.sort();
        let same = found.len() == expected.len()
            && found
                .iter()
                .zip(&expected)
                .all(|(found, (file, expected))| {
                    found.0 == *file
                        && found.1 == expected.line
                        && found.2 == expected.severity
                        && found.3 == expected.code
                        && found.4.contains(&expected.message)
                });
        let errors = expected.iter().any(|(_, e)| e.severity == "error");
        let code = if errors { Some(1) } else { Some(0) };
        if expected.is_empty() || !same || run.code != code {
            let _ = write!(
                wrong,
                "\n== {case}: exit {:?}\nwanted {expected:#?}\n{}",
                run.code, run.stderr
            );
        }
        insta::with_settings!({omit_expression => true, prepend_module_to_snapshot => false}, {
            insta::assert_snapshot!(format!("finding-{case}"), shortened(&run.stderr));
        });
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn no_text_is_kept_of_a_case_that_is_gone() {
    let cases = faulty_plans();
    for (name, _) in tree(&workspace().join("tests/tests/snapshots")) {
        let case = name
            .strip_prefix("finding-")
            .and_then(|name| name.strip_suffix(".snap"));
        assert!(
            cases.iter().any(|known| Some(known.as_str()) == case),
            "{name} has no case"
        );
    }
}

/// Without the middle of very long lines, which some cases are made of.
fn shortened(text: &str) -> String {
    let short = text.lines().map(|line| {
        let length = line.chars().count();
        if length <= 400 {
            return line.to_owned();
        }
        let head: String = line.chars().take(200).collect();
        let tail: String = line.chars().skip(length - 100).collect();
        format!("{head} [...] {tail}")
    });
    short.collect::<Vec<_>>().join("\n")
}

#[test]
fn a_faulty_plan_writes_nothing() {
    let out = tempfile::tempdir().expect("a temporary folder");
    for case in faulty_plans() {
        let text = fs::read_to_string(fixture("faulty").join(&case).join("plan.yaml"));
        let expected = expectations(&text.expect("a readable plan"));
        if !expected.is_empty() && expected.iter().all(|finding| finding.severity == "warning") {
            continue;
        }
        let mut command = jigless(&fixture("faulty"));
        let run = run(command.args(["export", &case, "--out"]).arg(out.path()));
        assert_eq!(run.code, Some(1), "{case}: {}", run.stderr);
        let left = tree(out.path());
        assert!(left.is_empty(), "{case} left {:?}", left[0].0);
    }
}
