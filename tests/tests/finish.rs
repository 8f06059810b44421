//! Finish, prices and weights against arithmetic by hand.

use jigless_core::compile;
use jigless_core::load::NoIncludes;
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;
use jigless_solid::{finishing, weights};
use jigless_tests::fixtures::files_of;
use jigless_tests::plans::compiled;
use jigless_tests::program::export_all;

const PLAN: &str = "features/finish";

/// The lists of the plan: its buying list, its list of hardware, its summary.
fn lists() -> [String; 3] {
    let out = tempfile::tempdir().expect("a temporary folder");
    let to = [
        "--to",
        "buying-list-csv,hardware-csv,summary-text",
        "--quiet",
    ];
    export_all(&[PLAN], out.path(), &to);
    let read = |end: &str, extension: &str| {
        let files = files_of(out.path(), extension);
        let (_, bytes) = files
            .into_iter()
            .find(|(name, _)| name.ends_with(end))
            .expect(end);
        String::from_utf8(bytes).expect("UTF-8")
    };
    [
        read("buying-list.csv", "csv"),
        read("hardware.csv", "csv"),
        read("summary.txt", "txt"),
    ]
}

/// The arithmetic stands at the head of the plan.
#[test]
fn areas_litres_and_sheets_are_those_worked_by_hand() {
    let (plan, workpieces) = compiled(PLAN);
    let [used] = &finishing(&plan, &workpieces)[..] else {
        panic!("one entry");
    };
    assert!((used.area() - 687_504.0).abs() < 0.1, "{}", used.area());
    assert!((used.covered - 21_600.0).abs() < 0.1, "{}", used.covered);
    let entry = &plan.finish[0];
    let litres = entry
        .litres(used.area())
        .expect("coats and coverage are given");
    assert!((litres - 0.160_074).abs() < 1e-6, "{litres}");
    assert_eq!(entry.sandings(), [(120, 1), (180, 1), (320, 1)]);
    assert_eq!(entry.sheets(used.area(), 1), Some(2));
}

#[test]
fn lists_say_how_much_and_what_it_costs() {
    let [buying, hardware, summary] = lists();
    let row = |text: &str, begin: &str| {
        let line = text.lines().find(|line| line.starts_with(begin));
        line.unwrap_or_else(|| panic!("{begin}: {text}")).to_owned()
    };
    let oil = row(&buying, "Hard oil,litre,0.16,");
    assert!(oil.contains(",3,0.688,,0.16,,24,3.84,"), "{oil}");
    assert!(oil.contains("2 coats, a litre covers 8.6 m2"), "{oil}");
    assert!(oil.contains("oily rags"), "{oil}");
    let abrasive = row(&buying, "\"Abrasive, grit 320\",sheet,2,");
    assert!(abrasive.contains(",0.8,1.6,"), "{abrasive}");
    // 18.50 + 0.160074 x 24 + 6 x 0.80.
    assert!(
        row(&buying, "in all,").contains(",27.14,in EUR;"),
        "{buying}"
    );
    // Three screws a side at 0.06.
    assert!(
        row(&hardware, "screw,").contains(",6,,0.06,0.36,"),
        "{hardware}"
    );
    for line in [
        "  hardware: 0.36",
        "    0.16 litres of Hard oil, each 24: 3.84",
        "  in all 27.50",
        // 0.3 x 0.4 x 0.018 x 680 = 1.4688, and 0.264 x 0.3 x 0.018 x 680 = 0.969408: 3.907008 in all, of which what is
        // drilled away is a hundredth.
        "  All parts together weigh 3.9 kg, without hardware, glue and finish.",
        "  One person lifts 3.5 kg by the plan's own limit: the whole wants 2 people, or comes apart before it is carried.",
    ] {
        assert!(summary.lines().any(|own| own == line), "{line}\n{summary}");
    }
}

fn of(text: &str) -> (Plan, Vec<Workpiece>) {
    let compiled = compile("plan.yaml", text.as_bytes(), &NoIncludes);
    let said: Vec<&str> = compiled
        .findings
        .iter()
        .map(|f| f.message.as_str())
        .collect();
    compiled.result.unwrap_or_else(|| panic!("{said:?}"))
}

/// A shelf 6 mm deep in a housing of 0.2 mm more than its thickness, which ends at both edges of the side.
fn housed(finish: &str) -> String {
    format!(
        "{{jigless: 1, title: Housed, units: mm, stock: {{board: {{thickness: 18, kind: plywood, density: 600}}}}, \
         parts: {{side: {{stock: board, width: 300, height: 400, place: {{at: [0, 0, 0], width: back, height: up}}}}, \
         shelf: {{stock: board, width: 206, height: 300, place: {{at: [12, 200, 0], width: right, height: back}}}}}}, \
         joints: [{{housing: {{part: shelf, to: side, depth: 6}}}}], finish: {finish}}}"
    )
}

#[test]
fn what_a_housing_covers_is_not_finished() {
    let (plan, workpieces) = of(&housed("[{kind: oil, coats: 1, coverage: 10}]"));
    let [used] = &finishing(&plan, &workpieces)[..] else {
        panic!("one entry");
    };
    // Of the side: the floor of 18 (the shelf covers no more of it) by 300, and two walls of 6 by 300. Of the shelf: its
    // end, and 6 mm of both faces.
    let covered = 2.0 * (18.0 * 300.0 + 2.0 * 6.0 * 300.0);
    assert!(
        (used.covered - covered).abs() < 1.0,
        "{} {covered}",
        used.covered
    );
}

#[test]
fn the_last_entry_of_a_side_counts() {
    let finish = "[{kind: oil}, {kind: paint, parts: [shelf], faces: [front, back]}, {kind: bare, parts: [shelf], faces: back}]";
    let (plan, workpieces) = of(&housed(finish));
    let uses = finishing(&plan, &workpieces);
    let area = |entry: usize, part: &str| -> f64 {
        let used = uses
            .iter()
            .find(|used| used.entry == entry)
            .expect("an entry");
        used.parts
            .iter()
            .filter(|(id, ..)| id == part)
            .map(|(.., area)| area)
            .sum()
    };
    // 6 mm of each face of the shelf are in the housing.
    assert!((area(1, "shelf") - 200.0 * 300.0).abs() < 1.0);
    assert!((area(2, "shelf") - 200.0 * 300.0).abs() < 1.0);
    // Its edges, less the end in the housing.
    assert!((area(0, "shelf") - (300.0 + 2.0 * 206.0) * 18.0).abs() < 1.0);
    assert!(area(0, "side") > 230_000.0);
}

#[test]
fn a_weight_for_each_square_metre_is_a_density() {
    let (_, workpieces) = compiled(PLAN);
    let (_, of_density) = of(&housed("[]"));
    let known = weights(&workpieces);
    assert!(known.unknown.is_empty());
    // 0.3 x 0.4 x 12.24, less three screw holes of 4.5 with their sinks.
    let side = known.pieces[0].expect("a weight");
    assert!(side < 1.4688 && side > 1.46, "{side}");
    let side = weights(&of_density).pieces[0].expect("a weight");
    let housing = 0.3 * 0.0182 * 0.006;
    assert!(
        (side - (0.3 * 0.4 * 0.018 - housing) * 600.0).abs() < 1e-3,
        "{side}"
    );
}

#[test]
fn nothing_is_invented_where_the_tin_is_not_quoted() {
    let (plan, workpieces) = of(&housed("[{kind: oil, coats: 2, grits: [120]}]"));
    let used = &finishing(&plan, &workpieces)[0];
    assert_eq!(plan.finish[0].litres(used.area()), None);
    assert_eq!(plan.finish[0].sheets(used.area(), 1), None);
}

/// The steps of the plan, by name, and what each can do to people.
#[test]
fn each_coat_is_a_step() {
    let (plan, workpieces) = compiled(PLAN);
    let steps = jigless_core::steps::steps(&plan, &workpieces, &jigless_words::ENGLISH);
    let names: Vec<&str> = steps.iter().map(|step| step.name.as_str()).collect();
    let begun = names
        .iter()
        .position(|name| *name == "sand")
        .expect("sanding");
    assert_eq!(
        names[begun..begun + 4],
        [
            "sand",
            "finish-oil-1",
            "finish-oil-between-1",
            "finish-oil-2"
        ]
    );
    let coat = &steps[begun + 1];
    assert!(
        coat.cautions
            .iter()
            .any(|caution| caution.name() == "finish")
    );
    assert!(coat.acts.iter().any(|act| act.contains("rags")));
}
