//! What depends on the print: pages corrected for a printer, sheets that an earlier print still has, and how many there are.

use std::fmt::Write as _;
use std::fs;

use jigless_tests::fixtures::fixture;
use jigless_tests::paper::{
    BLANK, TOLERANCE, export, files, list, marks, number, pages, pair, read, words,
};
use jigless_tests::program::{jigless, run};
use serde_json::Value;

/// A rail drawn upright and one drawn across, so that pages lie both ways.
const BOTH_WAYS: &str = "jigless: 1
title: Both ways
units: mm
stock:
  board: {thickness: 18, kind: plywood}
parts:
  upright:
    stock: board
    width: 150
    height: 200
    features:
      - hole_row: {first: [30, 20], step: [0, 150], count: 2, rows: {step: [90, 0], count: 2}, diameter: 5}
  across:
    stock: board
    width: 240
    height: 130
    features:
      - hole_row: {first: [20, 30], step: [200, 0], count: 2, rows: {step: [0, 70], count: 2}, diameter: 5}
";

/// A printer that prints 0.4 % short across the feed and 0.3 % long along it: what is drawn 1.004 and 0.997 as long comes
/// out right. A page that lies across goes through the printer on its side, so along its x is along the feed.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn corrected_pages_measure_true_once_printed() {
    let (across, feed) = (1.004, 0.997);
    let folder = tempfile::tempdir().expect("a temporary folder");
    let settings = [
        "pdf-template.scale_across=1.004",
        "pdf-template.scale_feed=0.997",
        "pdf-template.printer=shed",
        "pdf-template.scope=face",
    ];
    export(folder.path(), BOTH_WAYS, &settings);
    let mut ways = Vec::new();
    for file in files(folder.path()) {
        let file = read(&file);
        for page in list(&file["pages"]) {
            let words = words(page);
            assert!(
                words.contains("corrected for shed; not for others"),
                "{words}"
            );
            let size = pair(&page["size_mm"]);
            let lies_across = size.0 > size.1;
            let printed = if lies_across {
                (1.0 / feed, 1.0 / across)
            } else {
                (1.0 / across, 1.0 / feed)
            };
            for distance in list(&page["ink_mm"]) {
                assert!(number(distance) > BLANK - 1e-3, "{distance}");
            }
            let templates = list(&page["templates"]);
            if words.contains("CHECK SHEET") {
                // 180 mm across and 250 mm along the feed.
                let bar = |axis: usize, nominal: f64, scale: f64| {
                    list(&page["strokes"]).iter().any(|stroke| {
                        let b = &stroke["box_mm"];
                        let long = (number(&b[axis + 2]) - number(&b[axis])) * scale;
                        (long - nominal).abs() < TOLERANCE
                    })
                };
                assert!(bar(0, 180.0, printed.0) && bar(1, 250.0, printed.1));
            }
            let [page] = templates.as_slice() else {
                assert!(templates.is_empty());
                continue;
            };
            ways.push(lies_across);
            let seen: Vec<(f64, f64)> = list(&page["marks"])
                .iter()
                .map(|mark| pair(&mark["centre_mm"]))
                .map(|(x, y)| (x * printed.0, y * printed.1))
                .collect();
            let meant: Vec<(f64, f64)> = marks(page).into_iter().map(|(at, _)| at).collect();
            assert_eq!(seen.len(), 4);
            for (a, b) in [(0, 1), (0, 2), (0, 3), (1, 2)] {
                let distance = |of: &[(f64, f64)]| (of[a].0 - of[b].0).hypot(of[a].1 - of[b].1);
                assert!((distance(&seen) - distance(&meant)).abs() < TOLERANCE);
            }
            let wanted = if lies_across {
                (200.0, 70.0)
            } else {
                (90.0, 150.0)
            };
            let span = |of: &[f64]| {
                of.iter().copied().fold(f64::MIN, f64::max)
                    - of.iter().copied().fold(f64::MAX, f64::min)
            };
            let xs: Vec<f64> = seen.iter().map(|at| at.0).collect();
            let ys: Vec<f64> = seen.iter().map(|at| at.1).collect();
            assert!((span(&xs) - wanted.0).abs() < TOLERANCE, "{}", span(&xs));
            assert!((span(&ys) - wanted.1).abs() < TOLERANCE, "{}", span(&ys));
        }
    }
    ways.sort_unstable();
    assert_eq!(ways, [false, true]);
}

/// Readings go in once, and every later export for that printer is drawn by them: 180 / 179.4 and 250 / 250.6.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
#[expect(clippy::too_many_lines, reason = "it is the story of one printer")]
fn a_printer_is_measured_once() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let check = |arguments: &[&str]| {
        let mut command = jigless(folder.path());
        command.env("XDG_CONFIG_HOME", folder.path().join("config"));
        command.env("APPDATA", folder.path().join("config"));
        command.args(arguments);
        run(&mut command)
    };
    let unknown = check(&["print-check", "--printer", "shed"]);
    assert_eq!(unknown.code, Some(2), "{}", unknown.stderr);
    let fitted = check(&["print-check", "--printer", "shed", "--measured", "170,250"]);
    assert_eq!(fitted.code, Some(1));
    assert!(fitted.stderr.contains("fit to page"), "{}", fitted.stderr);
    // 1 % short both ways is what fitting a page to other paper does; only --really keeps it.
    let uniform = [
        "print-check",
        "--printer",
        "shop",
        "--measured",
        "178.2,247.5",
    ];
    let questioned = check(&uniform);
    assert_eq!(questioned.code, Some(1));
    assert!(
        questioned.stderr.contains("--really"),
        "{}",
        questioned.stderr
    );
    check(&[&uniform[..], &["--really"]].concat()).done();
    let inches = [
        "print-check",
        "--printer",
        "loft",
        "--measured",
        "6.98in,9.02in",
        "--on",
        "2026-03-31",
    ];
    let said = check(&inches);
    assert!(
        said.stdout.contains("+0.29 % across and -0.22 % along"),
        "{}",
        said.stdout
    );
    let kept =
        fs::read_to_string(folder.path().join("config/jigless/printers.json")).expect("a file");
    for word in [
        "\"across\": 6.98",
        "\"inches\": true",
        "\"on\": \"2026-03-31\"",
    ] {
        assert!(kept.contains(word), "{word}: {kept}");
    }
    check(&[
        "print-check",
        "--printer",
        "shed",
        "--measured",
        "179.4,250.6",
    ])
    .done();
    check(&["print-check", "--printer", "shed", "--out", "shed.pdf"]).done();
    check(&["print-check"]).done();

    let measure = |file: &str| {
        let seen = read(&folder.path().join(file));
        let page = &seen["pages"][0];
        let longest = |axis: usize| {
            list(&page["strokes"])
                .iter()
                .filter(|stroke| stroke["points"].as_array().is_some_and(|p| p.len() == 2))
                .map(|s| number(&s["box_mm"][axis + 2]) - number(&s["box_mm"][axis]))
                .fold(0.0, f64::max)
        };
        (longest(0), longest(1), words(page))
    };
    let (plain, corrected) = (measure("print-check.pdf"), measure("shed.pdf"));
    let near = |a: f64, b: f64| (a - b).abs() < 0.005;
    assert!(near(plain.0, 180.0) && near(plain.1, 250.0), "{plain:?}");
    let (x, y) = (180.0 * 180.0 / 179.4, 250.0 * 250.0 / 250.6);
    assert!(
        near(corrected.0, x) && near(corrected.1, y),
        "{corrected:?}"
    );
    assert!(corrected.2.contains("corrected for shed; not for others"));

    let hinges = fixture("features/hinge-cups");
    let hinges = hinges.to_str().expect("a plain path");
    check(&[
        "export",
        hinges,
        "--to",
        "pdf-template",
        "--printer",
        "shed",
    ])
    .done();
    let doors = folder
        .path()
        .join("out/hinge-cups/pdf-template/templates.pdf");
    let seen = read(&doors);
    let scale = pair(&pages(&seen, "door-left back ")[0]["viewport"]["per_mm"]);
    assert!((scale.0 - 180.0 / 179.4).abs() < 1e-5, "{scale:?}");
    assert!((scale.1 - 250.0 / 250.6).abs() < 1e-5, "{scale:?}");
    // Nothing that is printed is made: then there is nothing to correct.
    let drawing = check(&[
        "export",
        hinges,
        "--to",
        "svg-drilling",
        "--printer",
        "shed",
    ]);
    assert_eq!(drawing.code, Some(2), "{}", drawing.stderr);
}

/// A knob of the glaze cabinet that moves by 5 mm: of forty sheets the one with the knob of each door is printed anew, with
/// the lists of the two doors and the page that says which earlier sheets are still good.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn only_the_sheets_that_changed_are_printed_again() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let plan = folder.path().join("cabinet");
    fs::create_dir(&plan).expect("a folder");
    let from = fixture("glaze-cabinet");
    fs::copy(from.join("tray.yaml"), plan.join("tray.yaml")).expect("a copy");
    let text = fs::read_to_string(from.join("plan.yaml")).expect("a plan");
    let make = |text: &str, out: &str, more: &[&str]| {
        fs::write(plan.join("plan.yaml"), text).expect("a written plan");
        let mut command = jigless(folder.path());
        command.args([
            "export",
            "cabinet",
            "--quiet",
            "--to",
            "pdf-template",
            "--out",
            out,
        ]);
        command.args(more);
        run(&mut command).done();
        read(
            &folder
                .path()
                .join(out)
                .join("cabinet/pdf-template/templates.pdf"),
        )
    };
    let labels = |file: &Value| -> Vec<String> {
        let labels = list(&file["labels"]).iter();
        labels
            .map(|label| label.as_str().unwrap_or_default().to_owned())
            .collect()
    };
    let first = make(&text, "one", &[]);
    let moved = text.replace("knob: {right: 35, top: 80}", "knob: {right: 35, top: 85}");
    assert_ne!(text, moved);
    let changed = make(&moved, "two", &["--since", "one/cabinet"]);
    assert_eq!(
        labels(&changed),
        [
            "changes 1",
            "door-left front 1",
            "door-right front 1",
            "list 1"
        ]
    );
    let says = words(&changed["pages"][0]);
    let good = says
        .lines()
        .filter(|line| line.starts_with("sheet "))
        .count();
    let sheets = list(&first["pages"]).iter();
    let sheets = sheets
        .filter(|page| !list(&page["templates"]).is_empty())
        .count();
    println!(
        "{sheets} sheets, 2 printed again, {} still good",
        sheets - 2
    );
    // Two to throw away, two printed anew, and all others still good.
    assert_eq!(good, 2 + 2 + sheets - 2, "{says}");
    // Another title, revision and digest change no sheet.
    let renamed = text.replace("revision: \"1.0\"", "revision: \"1.1\"");
    assert_ne!(text, renamed);
    let unchanged = make(&renamed, "three", &["--since", "one/cabinet/manifest.json"]);
    assert_eq!(labels(&unchanged), ["changes 1"]);
}

/// Sixty doors of differing sizes, with two to four hinges: cups of every hinge are drilled, and no door takes more than two
/// sheets, since a template is used again and two share a sheet.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn sixty_doors_take_two_sheets_each_at_most() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut text = "jigless: 1\ntitle: Doors\nunits: mm\nstock:\n  ply: {thickness: 17.7, kind: plywood}\nparts:\n"
        .to_owned();
    let mut hinges = Vec::new();
    for door in 0..60_u32 {
        let (width, height) = (290 + door * 7 % 310, 620 + door * 37 % 1400);
        let count = 2 + height / 700;
        hinges.push(count);
        writeln!(
            text,
            "  door-{door:03}:\n    stock: ply\n    width: {width}.5\n    height: {height}\n    features:\n      \
             - hinge_cups: {{edge: {}, at: {{inset: 63.5, count: {count}}}, edge_gap: 6.35, \
             screws: {{diameter: 2.5, depth: 10}}}}",
            if door % 2 == 0 { "left" } else { "right" }
        )
        .expect("a string takes all");
    }
    export(folder.path(), &text, &[]);
    let files = files(folder.path());
    assert_eq!(files.len(), 1);
    let file = read(&files[0]);
    for (door, hinges) in hinges.into_iter().enumerate() {
        let name = format!("door-{door:03} back ");
        let cups = pages(&file, &name).into_iter().map(|page| {
            let cups = marks(page)
                .iter()
                .filter(|(_, circles)| circles.iter().any(|c| (c - 35.0).abs() < TOLERANCE))
                .count();
            let words = words(page);
            let used = words.lines().find_map(|line| line.strip_prefix("use "));
            let used = used.and_then(|line| line.split(' ').next()?.parse().ok());
            cups * used.unwrap_or(1_usize)
        });
        assert_eq!(cups.sum::<usize>(), hinges as usize, "{name}");
    }
    let sheets = list(&file["pages"])
        .iter()
        .filter(|page| !list(&page["templates"]).is_empty());
    let sheets = sheets.count();
    println!("{sheets} sheets for 60 doors");
    assert!(sheets <= 120, "{sheets} sheets");
}
