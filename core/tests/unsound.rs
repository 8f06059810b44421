//! Plans that a maker could take for sound: each has one fault, which gives one finding at its line, and a mended twin that
//! gives none.

use std::fs;
use std::path::{Path, PathBuf};

use jigless_core::load::NoIncludes;

/// What stands before an expected finding on its line: `# expect: error CODE "part of the message"`.
const SIGN: &str = "# expect: ";

fn folders() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../fixtures/faulty/unsound");
    let mut all: Vec<PathBuf> = fs::read_dir(root)
        .expect("the folder of the plans")
        .map(|entry| entry.expect("a readable entry").path())
        .collect();
    all.sort();
    all
}

/// Line, severity, code and message of each finding of a plan.
fn found(path: &Path) -> Vec<(usize, String, String, String)> {
    let text = fs::read_to_string(path).expect("a plan");
    let compiled = jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes);
    let line = |at: usize| text[..at].matches('\n').count() + 1;
    compiled
        .findings
        .iter()
        .map(|finding| {
            let at = finding.span.map_or(0, |span| line(span.start as usize));
            let severity = finding.severity.name().to_owned();
            (
                at,
                severity,
                finding.code.to_string(),
                finding.message.clone(),
            )
        })
        .collect()
}

#[test]
fn each_plan_gives_one_finding_and_its_mended_twin_none() {
    let folders = folders();
    assert!(folders.len() >= 26, "only {} plans", folders.len());
    for folder in folders {
        let plan = folder.join("plan.yaml");
        let text = fs::read_to_string(&plan).expect("a plan");
        let expected: Vec<(usize, &str)> = text
            .lines()
            .enumerate()
            .filter_map(|(number, line)| Some((number + 1, line.split_once(SIGN)?.1)))
            .collect();
        let [(line, expected)] = expected.as_slice() else {
            panic!("{} expects {} findings", plan.display(), expected.len());
        };
        let findings = found(&plan);
        let [(at, severity, code, message)] = findings.as_slice() else {
            panic!("{}: {findings:#?}", plan.display());
        };
        let head = format!("{severity} {code} ");
        let part = expected
            .strip_prefix(&head)
            .map(|part| part.trim_matches('"'));
        assert!(
            part.is_some_and(|part| message.contains(part)) && at == line,
            "{}: line {at}: {head}{message}",
            plan.display()
        );
        let mended = found(&folder.join("mended.yaml"));
        assert!(mended.is_empty(), "{}: {mended:#?}", folder.display());
    }
}
