//! Pages in a driven browser: the 3-D view and its controls, without WebGL and without scripts, on a phone, for everyone,
//! valid, within their own policy; and a plan whose every text is an attack.

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

use jigless_tests::fixtures::fixture;
use jigless_tests::program::{jigless, run};
use jigless_tests::readers::read_with_node;
use serde_json::Value;

/// The page of a plan.
fn page_of(plan: &Path, out: &Path) -> PathBuf {
    run(jigless(out)
        .args(["export", "--to", "page-html", "--out"])
        .arg(out)
        .arg(plan))
    .done();
    let name = plan.file_name().expect("a plan's folder");
    out.join(name).join("page-html/index.html")
}

fn browse(mode: &str, files: &[PathBuf]) -> Vec<Value> {
    let mut arguments: Vec<&OsStr> = vec![OsStr::new(mode)];
    arguments.extend(files.iter().map(|file| file.as_os_str()));
    let reports = read_with_node("browse.cjs", &arguments);
    assert_eq!(reports.len(), files.len(), "a report for each page");
    reports
}

/// What must hold of every page, whatever it shows.
fn assert_sound(report: &Value) {
    for key in ["complaints", "violations", "invalid"] {
        let found = report[key].as_array().map_or(0, Vec::len);
        assert_eq!(found, 0, "{key}: {:#}", report[key]);
    }
    assert!(
        report["too_wide"].as_i64().is_some_and(|by| by <= 0),
        "wider than a phone"
    );
}

#[test]
#[cfg_attr(
    not(has_driven_browser),
    ignore = "needs chromium, node and the Node packages: tests/run"
)]
fn a_page_can_be_worked_with_by_everyone() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let file = page_of(&fixture("glaze-cabinet"), place.path());
    for report in browse("page", &[file]) {
        assert_sound(&report);
        let seen = report["seen"].as_object().expect("what was seen");
        // Ground, line, and three sides of two stocks at the least.
        assert!(seen["colours"].as_u64() >= Some(6), "{:#}", report["seen"]);
        // Its row in the cutting list, its drawing, and a step.
        assert!(
            seen["chosen is marked"].as_u64() >= Some(3),
            "{:#}",
            report["seen"]
        );
        for (what, worked) in seen {
            assert!(
                *worked == true || worked.as_u64() > Some(0),
                "{what}: {:#}",
                report["seen"]
            );
        }
        assert!(seen.len() > 25, "{seen:#?}");
    }
}

/// Texts that try to be more than texts.
const ATTACKS: [&str; 4] = [
    "</script><script>alert(1)</script>",
    "\"'><img src=x onerror=alert(2)>",
    "javascript:alert(3)",
    "</style><b onclick=alert(4)>\u{202e}turned\u{2066} &lt;i&gt; {{x}} ]]> --> `${7*7}`",
];

/// A plan whose every text is an attack.
fn attack(folder: &Path) -> PathBuf {
    let text = ATTACKS.concat().replace('\'', "''");
    let text = format!("'{text}'");
    let plan = format!(
        "jigless: 1
title: {text}
revision: {text}
licence: {text}
units: mm
stock:
  board: {{label: {text}, thickness: 17.7, kind: plywood, density: 680, sheets: [{{width: 2440, height: 1220}}]}}
parts:
  side: {{title: {text}, stock: board, width: 250, height: 400, place: {{at: [0, 0, 0], width: back, height: up}}}}
  shelf: {{title: {text}, stock: board, width: 500, height: 250, place: {{at: [11.7, 200, 0], width: right, height: back}}}}
joints:
  - housing: {{part: shelf, to: side, depth: 6}}
steps:
  - {{step: join-side, title: {text}, text: [{text}]}}
"
    );
    let folder = folder.join("attack");
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join("plan.yaml"), plan).expect("a plan");
    folder
}

fn assert_only_text(report: &Value) {
    let text = report["text"].as_str().expect("the text of the page");
    for words in [
        "<script>alert(1)</script>",
        "onerror=alert(2)",
        "<b onclick=alert(4)>",
    ] {
        assert!(text.contains(words), "{words} is not there as text");
    }
    assert!(
        !text.contains('\u{202e}'),
        "a mark that turns the page is there"
    );
    let links = report["links"].as_array().expect("the links of the page");
    for link in links {
        let link = link.as_str().unwrap_or_default();
        assert!(
            !link.trim_start().starts_with("javascript:") && link != "x",
            "{link}"
        );
    }
}

#[test]
#[cfg_attr(
    not(has_driven_browser),
    ignore = "needs chromium, node and the Node packages: tests/run"
)]
fn texts_of_a_plan_and_of_a_site_stay_texts() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let library = place.path().join("library");
    attack(&library);
    let site = place.path().join("site");
    let mut publish = jigless(place.path());
    publish.args([
        "publish",
        "library",
        "--out",
        "site",
        "--to",
        "page-html,svg-views,pdf-template",
    ]);
    publish.args(["--title", ATTACKS[0], "--date", "2026-03-31"]);
    run(&mut publish).done();
    let plan = site.join("plans/attack");
    let files = ["index.html", "page-html/index.html"].map(|name| plan.join(name));
    let reports = browse(
        "plain",
        &[site.join("index.html"), files[0].clone(), files[1].clone()],
    );
    for report in &reports {
        assert_sound(report);
    }
    for report in &reports[1..] {
        assert_only_text(report);
    }
    let found = reports[0]["seen"].as_object().expect("what was found");
    assert!(
        found.len() >= 5 && found.values().all(|worked| *worked == true),
        "{found:#?}"
    );
    let feed = fs::read_to_string(site.join("feed.xml")).expect("a feed");
    assert!(
        !feed.contains("<script>") && feed.contains("&lt;script&gt;"),
        "{feed}"
    );
}
