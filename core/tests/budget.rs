//! One budget for the whole plan: whatever its numbers ask for, too much is refused once, where it is asked for.

use std::fmt::Write as _;

use jigless_core::compile;
use jigless_core::load::NoIncludes;
use jigless_core::resolve::{most_parts, most_things};

const HEAD: &str = "jigless: 1\ntitle: Much\nunits: mm\nstock: {board: {thickness: 18}}\n";

/// The lines and codes of the errors of a plan.
fn errors(plan: &str) -> Vec<(usize, String)> {
    let compiled = compile("plan.yaml", plan.as_bytes(), &NoIncludes);
    let line = |start: u32| plan[..start as usize].lines().count().max(1);
    let found = compiled
        .findings
        .iter()
        .filter(|finding| finding.severity.name() == "error");
    found
        .map(|finding| {
            let span = finding.span.expect("a place");
            let after = usize::from(plan[..span.start as usize].ends_with('\n'));
            (line(span.start) + after, finding.code.to_string())
        })
        .collect()
}

#[track_caller]
fn refused_once(plan: &str, code: &str, line: usize) {
    assert_eq!(
        errors(plan),
        [(line, code.to_owned())],
        "{}",
        &plan[..plan.len().min(600)]
    );
}

fn lines(head: &str, count: usize, entry: impl Fn(usize) -> String) -> String {
    let mut plan = format!("{HEAD}{head}");
    for number in 0..count {
        let _ = writeln!(plan, "{}", entry(number));
    }
    plan
}

#[test]
fn a_count_of_a_billion_is_refused_where_it_stands() {
    let part = "stock: board, width: 300, height: 200";
    for count in ["1000000000", "1000001"] {
        let plan = format!(
            "{HEAD}parts:\n  a: {{{part}}}\n  p: {{{part}, count: {count}}}\n  b: {{{part}}}\n"
        );
        refused_once(&plan, "too-many-operations", 7);
    }
    // Half of it each, and both of a handed pair count.
    let half = most_things(0) / 2;
    let pair = format!("{HEAD}parts:\n  p: {{{part}, count: {half}, mirror_as: q}}\n");
    assert!(pair.len() / 8 < 100);
    assert_eq!(errors(&pair), []);
    let more = format!("{pair}  r: {{{part}, count: 100}}\n");
    refused_once(&more, "too-many-operations", 7);
}

#[test]
fn no_hundred_bytes_ask_for_gigabytes() {
    let carcass = "builds:\n  c: {carcass: {stock: board, width: 800, height: 900, depth: 400}}\n";
    for hinges in ["1000000000", "10001"] {
        let plan = format!(
            "{HEAD}{carcass}  d: {{door: {{stock: board, in: c, edge_gap: 5, hinges: {hinges}}}}}\n"
        );
        assert!(plan.len() < 250);
        refused_once(&plan, "too-many-repeats", 7);
    }
}

#[test]
fn what_many_entries_ask_for_together_is_refused_once() {
    let part = "parts:\n  p:\n    stock: board\n    width: 2400\n    height: 1200\n    features:\n";
    let rows = lines(part, 9, |i| {
        format!(
            "      - hole_row: {{first: [1, {}], step: [0.2, 0], count: 10000, diameter: 0.1, depth: 1}}",
            i + 1
        )
    });
    // Four rows of 10,000 fit, with the part and a feature for each.
    refused_once(&rows, "too-many-operations", 10 + 5);
    let pieces = lines("parts:\n", 9, |i| {
        format!("  p{i}: {{stock: board, width: 300, height: 200, count: 10000}}")
    });
    refused_once(&pieces, "too-many-operations", 5 + 5);
}

/// A budget of parts leaves room for those that an author writes out, and ends what a text of 1 MB could ask for.
#[test]
fn more_different_parts_than_a_workshop_makes_are_refused_once() {
    let parts = |count: usize| {
        lines("parts:\n", count, |i| {
            format!("  p{i}: {{stock: board, width: 300, height: 200}}")
        })
    };
    // Short ones: 45 bytes and less than one more for each.
    let length = parts(12_500).len();
    let most = most_parts(length);
    assert_eq!(most, 12_000);
    let fits = parts(1_100);
    assert_eq!(errors(&fits), []);
    refused_once(&parts(12_500), "too-many-operations", 5 + most + 1);
    assert_eq!(most_parts(100_000), 3_000);
}

#[test]
fn what_builders_and_joints_make_is_counted() {
    let cabinet = "builds:\n  c:\n    carcass:\n      stock: board\n      width: 800\n      height: 900\n      depth: 400\n";
    let dividers = lines(&format!("{cabinet}      dividers:\n"), 50, |i| {
        format!("        - {{name: d{i}, count: 10000}}")
    });
    let brackets = lines("builds:\n", 50, |i| {
        format!(
            "  b{i}: {{bracket: {{stock: board, width: 40, upright: 300, arm: 200, step: 0.5, count: 10000}}}}"
        )
    });
    let places: Vec<String> = (0..300)
        .map(|i| format!("{{at: [{}, 0, 0], width: back, height: up}}", i * 4))
        .collect();
    let many = format!(
        "{{stock: board, width: 300, height: 200, count: 300, place: [{}]}}",
        places.join(", ")
    );
    let joints = lines(
        &format!("parts:\n  a: {many}\n  b: {many}\njoints:\n"),
        200,
        |_| "  - butt: {part: a, to: b, with: screws}".to_owned(),
    );
    for plan in [dividers, brackets, joints] {
        let found = errors(&plan);
        let much = found
            .iter()
            .filter(|(_, code)| code == "too-many-operations");
        assert_eq!(much.count(), 1, "{:?}", &found[..found.len().min(5)]);
    }
}

#[test]
fn an_outline_may_have_many_points_and_not_any_number() {
    let outline = |count: u32| {
        let mut plan = format!(
            "{HEAD}parts:\n  top:\n    stock: board\n    width: 800\n    height: 800\n    features:\n      - outline:\n          points:\n"
        );
        for number in 0..count {
            let angle = std::f64::consts::TAU * f64::from(number) / f64::from(count);
            let (x, y) = (400.0 + 400.0 * angle.cos(), 400.0 + 400.0 * angle.sin());
            let _ = writeln!(plan, "            - [{x:.6}, {y:.6}]");
        }
        plan
    };
    assert_eq!(errors(&outline(20_000)), []);
    refused_once(&outline(50_001), "too-many-points", 13);
}
