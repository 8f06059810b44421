//! Job sheets of a router, read by another reader of PDF: they say what the programs do, operation by operation.

use std::path::PathBuf;

use jigless_tests::fixtures::{files_of, fixture};
use jigless_tests::program::{jigless, run};
use jigless_tests::readers::{read_halves, read_with};
use serde_json::Value;

/// What the comments of a program say of its operations: `3: 24 holes, 13 mm deep`.
fn operations(program: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(program);
    let lines = text
        .lines()
        .filter_map(|line| line.strip_prefix("(Operation "));
    lines
        .filter_map(|line| line.strip_suffix(')'))
        .map(str::to_owned)
        .collect()
}

#[test]
fn a_job_sheet_lists_the_operations_of_its_programs() {
    let mut read = 0;
    for (plan, profile, more) in [
        ("glaze-cabinet", "shop-router", "ngc-router.arrange=bed"),
        (
            "glazing-trolley",
            "shop-router",
            "ngc-router.file_per_tool=true",
        ),
        (
            "machining/thread-rack",
            "inch-shop-router",
            "ngc-router.paper=letter",
        ),
    ] {
        let out = tempfile::tempdir().expect("a temporary folder");
        let mut command = jigless(out.path());
        let profile = fixture("profiles").join(format!("{profile}.yaml"));
        command.arg("export").arg(fixture(plan));
        command.args([
            "--to",
            "ngc-router",
            "--set",
            more,
            "--quiet",
            "--out",
            "made",
        ]);
        run(command.arg("--profile").arg(profile)).done();
        let programs = files_of(out.path(), "ngc");
        let mut sheets: Vec<String> = files_of(out.path(), "pdf")
            .into_iter()
            .map(|f| f.0)
            .collect();
        sheets.retain(|name| name.ends_with(".job.pdf"));
        let paths: Vec<PathBuf> = sheets.iter().map(|name| out.path().join(name)).collect();
        let texts = read_with("text_of_pdf.py", &paths);
        for (name, pages) in sheets.iter().zip(&texts) {
            let pages = pages.as_array().expect("a list of pages");
            let words: Vec<&str> = pages.iter().filter_map(serde_json::Value::as_str).collect();
            let words = words.join(" ");
            let stem = name.trim_end_matches("job.pdf");
            let own = programs.iter().filter(|(name, _)| name.starts_with(stem));
            let mut said = 0;
            for (program, text) in own {
                for operation in operations(text) {
                    let (_, what) = operation.split_once(": ").expect("a number and words");
                    assert!(
                        words.contains(what),
                        "{name} lacks `{operation}` of {program}"
                    );
                    said += 1;
                }
            }
            assert!(said > 0, "{name}");
            assert!(words.contains("Zero: X and Y"), "{name}");
            read += said;
        }
    }
    assert!(read > 60, "{read} operations");
}

/// A drawing of the same sheet, read by ezdxf, has the numbers: at the work, and for each layer in its notes.
#[test]
#[cfg_attr(
    not(has_dxf_readers),
    ignore = "needs ogrinfo and the Python readers: tests/run"
)]
fn drawings_have_the_numbers_of_the_operations() {
    let mut numbered = 0;
    for (plan, arrange) in [
        ("machining/two-faced-shelf", "bed"),
        ("machining/vented-door", "no"),
        ("machining/stopped-housings", "no"),
    ] {
        let out = tempfile::tempdir().expect("a temporary folder");
        let mut command = jigless(out.path());
        command.arg("export").arg(fixture(plan));
        command.args(["--to", "ngc-router,dxf-cnc", "--quiet", "--out", "made"]);
        for format in ["ngc-router", "dxf-cnc"] {
            command.args(["--set", &format!("{format}.arrange={arrange}")]);
        }
        let profile = fixture("profiles/shop-router.yaml");
        run(command.arg("--profile").arg(profile)).done();
        for (program, text) in files_of(out.path(), "ngc") {
            let drawing = program
                .replace("/ngc-router/", "/dxf-cnc/")
                .replace(".ngc", ".dxf");
            let seen = read_halves("check_dxf.py", &[out.path().join(&drawing)]).remove(0);
            let entities = seen["entities"].as_array().expect("a list");
            let texts: Vec<&str> = entities
                .iter()
                .filter_map(|entity| entity["text"].as_str())
                .collect();
            let mut layers: Vec<&str> = entities
                .iter()
                .filter(|entity| entity["text"] == Value::Null)
                .filter_map(|entity| entity["layer"].as_str())
                .filter(|layer| {
                    [
                        "CUT_",
                        "DRILL",
                        "FLATBORE",
                        "COUNTERSINK",
                        "GROOVE",
                        "REBATE",
                        "RECESS",
                    ]
                    .iter()
                    .any(|word| layer.starts_with(word))
                })
                .collect();
            layers.sort_unstable();
            layers.dedup();
            let notes: Vec<&&str> = texts
                .iter()
                .filter(|text| text.starts_with("Layer "))
                .collect();
            for operation in operations(&text) {
                let (number, _) = operation.split_once(": ").expect("a number and words");
                let number = format!("({number})");
                assert!(
                    texts.contains(&number.as_str()),
                    "{drawing} has no {number}: {operation}"
                );
                let said = notes
                    .iter()
                    .any(|note| note.contains("; operation") && note.contains(&number));
                assert!(said, "{drawing}: no layer has {operation} in {notes:?}");
                numbered += 1;
            }
            for layer in layers {
                let own = format!("Layer {layer}: ");
                let said = notes
                    .iter()
                    .any(|note| note.starts_with(&own) && note.contains("; operation"));
                assert!(said, "{drawing}: {layer} in {notes:?}");
            }
        }
    }
    assert!(numbered > 10, "{numbered}");
}
