//! The glazing trolley as a new user would write it, and the commands that print and compare plans.

use jigless_tests::fixtures::{fixture, tree, workspace};
use jigless_tests::program::{Run, jigless, run};

fn ran(arguments: &[&str]) -> Run {
    run(jigless(&workspace()).args(arguments))
}

#[test]
fn the_trolley_takes_fewer_than_60_lines_and_exports_to_every_format() {
    let plan = fixture("glazing-trolley");
    let text = std::fs::read_to_string(plan.join("plan.yaml")).unwrap();
    assert!(text.lines().count() < 60, "{} lines", text.lines().count());
    let plan = plan.to_string_lossy().into_owned();
    let check = ran(&["check", &plan]).done();
    assert_eq!(check.stderr, "", "{}", check.stderr);
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().to_string_lossy().into_owned();
    for exporter in jigless_tests::formats::without_a_profile() {
        let export = ran(&["export", &plan, "--to", exporter.id(), "--out", &folder]);
        let export = export.done();
        // A laser cuts right through: blind work in 18 mm plywood is for other tools, and that is all it may say.
        let reported: Vec<&str> = export
            .stderr
            .lines()
            .filter(|line| line.contains(": warning: ") || line.contains(": error: "))
            .filter(|line| !line.contains("(blind-work-for-laser)"))
            .collect();
        assert_eq!(reported, Vec::<&str>::new(), "{}", exporter.id());
        let made = tree(out.path());
        assert!(
            made.iter().any(|(path, _)| path.contains(exporter.id())),
            "{}",
            exporter.id()
        );
    }
}

#[test]
fn the_hardware_of_the_trolley_is_counted() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().to_string_lossy().into_owned();
    let plan = fixture("glazing-trolley").to_string_lossy().into_owned();
    ran(&["export", &plan, "--to", "hardware-csv", "--out", &folder]).done();
    let (_, bytes) = tree(out.path())
        .into_iter()
        .find(|(path, _)| path.ends_with("hardware.csv"))
        .unwrap();
    let text = String::from_utf8(bytes).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let count = |wanted: &str| -> u32 {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let rows = reader.records().map(Result::unwrap);
        rows.filter(|row| &row[0] == wanted)
            .map(|row| row[4].parse::<u32>().unwrap())
            .sum()
    };
    assert_eq!(&reader.headers().unwrap()[4], "count");
    // Three drawers on two runners each; four casters with four bolts each; a knob for each drawer.
    assert_eq!(count("runner"), 6);
    assert_eq!(count("caster"), 4);
    assert_eq!(count("bolt"), 16);
    assert_eq!(count("knob"), 3);
    // Each runner has three screws in the wall and three in the box: 3 x 2 x 6. A false front has two rows of four: 8 x
    // 3. Top and bottom have four at each end: 4 x 4 (depths of 450 and 443.8 ask for three gaps of 116.7 and 114.6).
    // The base has two rows of two in the bottom, away from the casters.
    assert_eq!(count("screw"), 36 + 24 + 16 + 4);
    // The rack is held by two pockets at each end.
    assert_eq!(count("pocket screw"), 4);
}

#[test]
fn an_expanded_plan_exports_to_the_same_bytes() {
    for name in ["glaze-cabinet", "glazing-trolley", "thread-organiser"] {
        let plan = fixture(name).to_string_lossy().into_owned();
        let expanded = ran(&["expand", &plan]).done().stdout;
        let work = tempfile::tempdir().unwrap();
        let folder = work.path().join(name);
        std::fs::create_dir(&folder).unwrap();
        std::fs::write(folder.join("plan.yaml"), &expanded).unwrap();
        assert!(!expanded.contains("\nbuilds:"));
        let (one, other) = (work.path().join("one"), work.path().join("other"));
        for (from, to) in [(plan.as_str(), &one), (&*folder.to_string_lossy(), &other)] {
            ran(&["export", from, "--out", &to.to_string_lossy()]).done();
        }
        let (one, other) = (tree(&one), tree(&other));
        assert!(one.len() > 20);
        let paths = |files: &[(String, Vec<u8>)]| -> Vec<String> {
            files.iter().map(|(path, _)| path.clone()).collect()
        };
        assert_eq!(paths(&one), paths(&other));
        for ((path, bytes), (_, others)) in one.iter().zip(&other) {
            // The manifest also names the text that the plan was read from, which is another one.
            if path.ends_with("manifest.json") {
                continue;
            }
            assert!(bytes == others, "{name}: {path} differs");
        }
    }
}

#[test]
fn what_changed_is_listed_and_drawn() {
    let work = tempfile::tempdir().unwrap();
    let plan = |name: &str, thickness: &str| {
        let text = format!(
            "jigless: 1\ntitle: A cabinet\nunits: mm\nstock: {{ply: {{thickness: {thickness}}}}}\nbuilds:\n  box:\n    carcass: {{stock: ply, back: none, width: 600, height: 720, depth: 560, shelves: [{{name: shelf, up: 300, joint: butt}}]}}\nparts:\n  sign: {{stock: ply, width: 100, height: 60}}\n"
        );
        let path = work.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_string_lossy().into_owned()
    };
    let (before, after) = (plan("a.yaml", "18.0"), plan("b.yaml", "17.6"));
    let drawings = work.path().join("drawings");
    let out = drawings.to_string_lossy().into_owned();
    let diff = ran(&["diff", &before, &after, "--out", &out]).done();
    let line = |part: &str| {
        let start = format!("{part}: ");
        let found = diff.stdout.lines().find(|line| line.starts_with(&start));
        found.unwrap_or_default().to_owned()
    };
    // 600 - 2 x 18.0 = 564.0, 600 - 2 x 17.6 = 564.8.
    assert!(line("box-shelf").starts_with("box-shelf: width 564 mm to 564.8 mm"));
    assert_eq!(line("sign"), "sign: thickness 18 mm to 17.6 mm");
    let drawn = tree(&drawings);
    let names: Vec<&str> = drawn.iter().map(|(path, _)| path.as_str()).collect();
    assert_eq!(
        names,
        [
            "box-bottom.svg",
            "box-shelf.svg",
            "box-side-left.svg",
            "box-side-right.svg",
            "box-top.svg",
            "sign.svg",
            "the whole.svg"
        ]
    );
    let (_, shelf) = &drawn[1];
    let shelf = String::from_utf8(shelf.clone()).unwrap();
    // Both outlines, at full size: 564 red and dashed, 564.8 black.
    assert!(shelf.contains("stroke=\"#c81e14\"") && shelf.contains("stroke-dasharray"));
    assert!(shelf.contains("stroke=\"#000000\""));
    // The whole twice, side by side, what changed in blue: the box, and not the sign, which has no place.
    let (_, whole) = &drawn[6];
    let whole = String::from_utf8(whole.clone()).unwrap();
    assert!(whole.contains("\nbefore\n") && whole.contains("\nafter\n"));
    let same = ran(&["diff", &before, &before]).done();
    assert_eq!(same.stdout, "nothing changed\n");
}

/// A hole more at the beginning gives the others new numbers, which is no change; one line says what is new, and the
/// lists and steps that change are named.
#[test]
fn new_numbers_are_no_change() {
    let work = tempfile::tempdir().unwrap();
    let plan = |name: &str, places: &[u32]| {
        let holes: Vec<String> = places
            .iter()
            .map(|x| format!("      - hole: {{at: [{x}, 50], diameter: 4.5, depth: through, hardware: {{what: screw, gauge: 4, length: 16}}}}\n"))
            .collect();
        let holes = holes.concat();
        let text = format!(
            "jigless: 1\ntitle: A panel\nunits: mm\nstock: {{ply: {{thickness: 18, label: Plywood, sheets: [{{width: 700, height: 400, price: 20}}]}}}}\nparts:\n  panel:\n    stock: ply\n    width: 600\n    height: 300\n    features:\n{holes}"
        );
        let path = work.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_string_lossy().into_owned()
    };
    let before = plan("a.yaml", &[100, 200, 300]);
    let after = plan("b.yaml", &[50, 100, 210, 300]);
    let diff = ran(&["diff", &before, &after]).done();
    assert_eq!(
        diff.stdout,
        "1 part changed\npanel: hole H3 (was hole H2) moved 10 mm right; hole H1 added: 4.5 mm through, front at 50 mm, 50 mm\nhardware changed\nscrew 4, 16 mm: 3 to 4\nsteps changed\nwork-panel: other work\nhardware: other fixings, work\n"
    );
    let two = std::fs::read_to_string(&before)
        .unwrap()
        .replace("height: 300", "height: 300\n    count: 2");
    let twice = work.path().join("c.yaml");
    std::fs::write(&twice, two).unwrap();
    let diff = ran(&["diff", &before, &twice.to_string_lossy()]).done();
    assert!(
        diff.stdout.contains("sheets and boards changed\nPlywood, sheets of 400 mm by 700 mm, to buy: 0 to 1\ncost and weight changed\nsheets and boards: 0 to 20.00\n"),
        "{}", diff.stdout
    );
}
