//! Job sheets of a router, read by another reader of PDF: they say what the programs do, operation by operation.

use std::path::PathBuf;

use jigless_tests::fixtures::{files_of, fixture};
use jigless_tests::program::{jigless, run};
use jigless_tests::readers::read_with;

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
