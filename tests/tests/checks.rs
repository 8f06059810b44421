//! Every check has a faulty plan, which gives exactly its finding, and a mended twin, which passes clean; every code can be
//! explained; and what is printed for programs is what its formats say.

use std::collections::BTreeSet;
use std::fs;

use jigless_core::check::CHECKS;
use jigless_tests::expectation::expectations;
use jigless_tests::fixtures::{fixture, workspace};
use jigless_tests::program::{Run, jigless, run};
use jigless_tests::readers::read_with;
use jigless_tests::report::printed;
use serde_json::Value;

/// Names of the folders below `fixtures/faulty/checks`, which are codes.
fn cases() -> Vec<String> {
    let folder = fixture("faulty/checks");
    let mut names: Vec<String> = fs::read_dir(&folder)
        .expect("fixtures/faulty/checks can be read")
        .map(|entry| {
            entry
                .expect("a readable entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    names
}

fn check(arguments: &[&str]) -> Run {
    run(jigless(&fixture("faulty/checks"))
        .arg("check")
        .args(arguments))
}

#[test]
fn every_check_has_a_faulty_plan_and_nothing_else_has() {
    let mut codes: Vec<&str> = CHECKS.iter().map(|kind| kind.code.as_str()).collect();
    codes.sort_unstable();
    assert_eq!(cases(), codes);
}

/// The check and the formats for a laser know of the same materials.
#[test]
fn what_a_laser_should_not_cut_is_reported_once() {
    for code in ["laser-burns-vinyl", "laser-material-unsure"] {
        let out = tempfile::tempdir().expect("a temporary folder");
        let plan = format!("{code}/plan.yaml");
        let formats = ["--to", "dxf-laser", "--to", "svg-laser"];
        let run = run(jigless(&fixture("faulty/checks"))
            .args(["export", &plan, "--out"])
            .arg(out.path())
            .args(formats));
        let codes: Vec<String> = printed(&run.stderr).into_iter().map(|f| f.code).collect();
        assert_eq!(codes, [code], "{}", run.stderr);
    }
}

/// The snapshot holds the line and column of the finding and of everything that it points at.
#[test]
fn each_faulty_plan_gives_its_finding_and_no_other() {
    for code in cases() {
        let plan = format!("{code}/plan.yaml");
        let run = check(&[&plan]);
        let found = printed(&run.stderr);
        let text = fs::read_to_string(fixture("faulty/checks").join(&plan)).expect("a plan");
        let expected = expectations(&text);
        assert_eq!(found.len(), 1, "{code}: {}", run.stderr);
        assert_eq!(expected.len(), 1, "{code} expects one finding");
        let (found, expected) = (&found[0], &expected[0]);
        assert_eq!(found.code, code);
        assert_eq!(
            (&found.code, found.line, &found.severity),
            (&expected.code, expected.line, &expected.severity),
            "{}",
            run.stderr
        );
        assert!(
            found.message.contains(&expected.message),
            "{code}: {}",
            found.message
        );
        let errors = expected.severity == "error";
        assert_eq!(run.code, Some(i32::from(errors)), "{code}");
        // Where the plan says nothing else, the severity is the check's own.
        let kind = CHECKS
            .iter()
            .find(|kind| kind.code == code.as_str())
            .expect("a check");
        assert_eq!(serde_json::json!(kind.severity), expected.severity.as_str());
        insta::with_settings!({
            omit_expression => true,
            prepend_module_to_snapshot => false,
            snapshot_path => "check-snapshots",
        }, {
            insta::assert_snapshot!(code.as_str(), run.stderr);
        });
    }
}

#[test]
fn no_text_is_kept_of_a_check_that_is_gone() {
    let cases = cases();
    for (name, _) in jigless_tests::fixtures::tree(&workspace().join("tests/tests/check-snapshots"))
    {
        let known = cases.iter().any(|code| name == format!("{code}.snap"));
        assert!(known, "{name} has no check");
    }
}

#[test]
fn each_mended_twin_passes_clean() {
    for code in cases() {
        let run = check(&[&format!("{code}/mended.yaml")]).done();
        assert!(run.stderr.is_empty(), "{code}: {}", run.stderr);
    }
}

/// A fix says how much, in numbers, unless there is nothing to measure.
#[test]
fn fixes_have_numbers() {
    const WITHOUT: &[&str] = &[
        "contour-crosses-itself",
        "edge-hole-meets-work",
        "edge-work-off-edge",
        "label-off-place",
        "laser-burns-vinyl",
        "laser-material-unsure",
        "lift-blocked",
        "needless-acceptance",
        "part-too-small-for-saw",
        "shelf-stiffness-unknown",
        "strip-too-narrow",
        "tall-unit-not-anchored",
        "way-in-blocked",
    ];
    for code in cases() {
        let plan = format!("{code}/plan.yaml");
        let run = check(&[&plan, "--findings", "lines"]);
        let finding: Value =
            serde_json::from_str(run.stdout.lines().next().expect("a line")).expect("JSON");
        let fix = finding["fix"]
            .as_str()
            .expect("every finding of a check has a fix");
        let has_number = fix.contains(|c: char| c.is_ascii_digit());
        assert_eq!(
            has_number,
            !WITHOUT.contains(&code.as_str()),
            "{code}: {fix}"
        );
    }
}

/// Every code that is declared for faults: the name of its constant, and the code.
fn declared_codes() -> Vec<(String, String)> {
    let mut declared = Vec::new();
    for file in [
        "core/language/src/codes.rs",
        "exporters/src/codes.rs",
        "cli/src/codes.rs",
    ] {
        let text = std::fs::read_to_string(workspace().join(file)).expect("a source file");
        for line in text.lines() {
            let mut words = line.split_whitespace();
            if let (Some(name), Some("="), Some(_), Some(code), None) = (
                words.next(),
                words.next(),
                words.next(),
                words.next(),
                words.next(),
            ) && let Some(code) = code.strip_prefix('"').and_then(|c| c.strip_suffix("\":"))
            {
                declared.push((name.to_owned(), code.to_owned()));
            }
        }
    }
    declared
}

/// All words of the sources but those of the lists of codes.
fn words_of_sources() -> BTreeSet<String> {
    let mut words = BTreeSet::new();
    for folder in ["core", "exporters/src", "cli/src"] {
        for (path, bytes) in jigless_tests::fixtures::files_of(&workspace().join(folder), "rs") {
            if path.ends_with("codes.rs") {
                continue;
            }
            let text = String::from_utf8(bytes).expect("UTF-8");
            let found = text.split(|c: char| !(c.is_ascii_alphanumeric() || c == '_'));
            words.extend(found.map(str::to_owned));
        }
    }
    words
}

/// The compiler finds a code that nobody declares; here one is found that nobody tells or explains.
#[test]
fn every_code_can_be_explained() {
    let found = declared_codes();
    assert!(
        found.len() > 100,
        "only {} codes found: {found:?}",
        found.len()
    );
    let words = words_of_sources();
    for (name, code) in &found {
        assert!(words.contains(name), "no finding has the code `{code}`");
    }
    let listed = run(jigless(&workspace()).arg("why")).done().stdout;
    let listed: BTreeSet<String> = listed
        .lines()
        .filter_map(|line| line.strip_prefix("  "))
        .filter_map(|line| line.split_whitespace().next())
        .map(str::to_owned)
        .collect();
    for (_, code) in &found {
        assert!(listed.contains(code), "`jigless why` does not know {code}");
    }
    for kind in CHECKS {
        assert!(listed.contains(kind.code.as_str()), "{}", kind.code);
        let text = run(jigless(&workspace()).args(["why", kind.code.as_str()]))
            .done()
            .stdout;
        // Long texts are broken into lines.
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        for part in [
            kind.explanation,
            &kind.source_in_words(),
            kind.measures,
            kind.formula.unwrap_or(""),
        ] {
            assert!(words(&text).contains(&words(part)), "{}: {part}", kind.code);
        }
    }
    let run = run(jigless(&workspace()).args(["why", "thin-flor"]));
    assert_eq!(run.code, Some(2));
    assert!(
        run.stderr.contains("did you mean `thin-floor`?"),
        "{}",
        run.stderr
    );
}

#[test]
fn json_lines_say_what_people_read() {
    for code in cases() {
        let plan = format!("{code}/plan.yaml");
        let lines = check(&[&plan, "--findings", "lines"]);
        assert_eq!(lines.stderr, "");
        let values: Vec<Value> = lines
            .stdout
            .lines()
            .map(|line| serde_json::from_str(line).expect("a JSON object on each line"))
            .collect();
        let [finding, summary] = values.as_slice() else {
            panic!("{code}: {}", lines.stdout);
        };
        let people = &printed(&check(&[&plan]).stderr)[0];
        assert_eq!(finding["type"], "finding");
        assert_eq!(finding["code"], people.code.as_str());
        assert_eq!(finding["severity"], people.severity.as_str());
        assert_eq!(finding["message"], people.message.as_str());
        assert_eq!(finding["place"]["file"], people.file.as_str());
        assert_eq!(finding["place"]["line"], people.line);
        assert_eq!(finding["place"]["column"], people.column);
        // Bytes and lines are two ways to the same place.
        let text = fs::read_to_string(fixture("faulty/checks").join(&plan)).expect("a plan");
        let start =
            usize::try_from(finding["place"]["start"].as_u64().expect("a byte")).expect("small");
        assert_eq!(text[..start].matches('\n').count() + 1, people.line);
        assert_eq!(summary["type"], "summary");
        assert_eq!(summary["exit"], lines.code.expect("it ends"));
    }
}

#[test]
fn a_problem_without_a_place_is_a_message_too() {
    let run = check(&["no-such-plan", "--findings", "lines"]);
    let first: Value =
        serde_json::from_str(run.stdout.lines().next().expect("a line")).expect("JSON");
    assert_eq!(first["type"], "problem");
    assert_eq!(first["severity"], "error");
}

fn sarif() -> Run {
    check(&[".", "--findings", "sarif"])
}

#[test]
fn sarif_has_a_result_for_each_check() {
    let document: Value = serde_json::from_str(&sarif().stdout).expect("one JSON document");
    let results = document["runs"][0]["results"].as_array().expect("results");
    assert_eq!(results.len(), CHECKS.len());
    for result in results {
        assert!(result["ruleId"].is_string());
        assert!(result["locations"][0]["physicalLocation"]["region"]["startLine"].is_u64());
        let index =
            usize::try_from(result["ruleIndex"].as_u64().expect("an index")).expect("small");
        assert_eq!(
            document["runs"][0]["tool"]["driver"]["rules"][index]["id"],
            result["ruleId"]
        );
    }
}

/// By an outside validator; `tests/schemas/ORIGIN.md` says where the schema comes from.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn sarif_holds_against_its_schema() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("run.json");
    fs::write(&file, sarif().stdout).expect("a written file");
    let schema = workspace().join("tests/schemas/sarif-2.1.0.json");
    let faults = read_with("validate_json.py", &[schema, file]);
    assert_eq!(
        faults,
        [serde_json::json!({"file": "run.json", "faults": []})]
    );
}
