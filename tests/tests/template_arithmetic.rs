//! What templates show, worked by hand: pockets and their exits in register, fractions, diagonals across seams.

use std::fmt::Write as _;
use std::fs;

use jigless_tests::fixtures::fixture;
use jigless_tests::paper::{
    SMALLEST, TOLERANCE, all_words, export, files, has_reference, list, marks, names_hole, number,
    pages, read, stops, strokes, words,
};

/// Half the thickness over the tangent of 15 degrees, and over its sine, for 1/2, 3/4, 1 and 1 1/2 in: along the board
/// 23.70, 35.55, 47.40 and 71.10 mm, along the axis 24.53, 36.80, 49.07 and 73.60 mm; the mouth of a pocket of 3/8 in is
/// 9.525 / sin 15 = 36.80 mm long (elementary trigonometry; that pockets lie at 15 degrees and leave at half the
/// thickness is common practice, no source). The guide block ends at the next whole 5 mm that guides 40 mm: 65, 75, 90 and
/// 110 mm from the edge; a collar of 20 mm stays 10 tan 15 = 2.679 mm off its end.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn pockets_are_drawn_from_first_principles() {
    for (inches, inward, axis, block) in [
        (0.5, 23.70, 24.53, 65.0),
        (0.75, 35.55, 36.80, 75.0),
        (1.0, 47.40, 49.07, 90.0),
        (1.5, 71.10, 73.60, 110.0),
    ] {
        let thickness = inches * 25.4;
        let folder = tempfile::tempdir().expect("a temporary folder");
        let text = format!(
            "jigless: 1\ntitle: Rails\nunits: mm\nstock:\n  board: {{thickness: {thickness}, kind: solid}}\n\
             parts:\n  rail:\n    stock: board\n    width: 700\n    height: 120\n    features:\n      \
             - pocket_holes: {{edge: left, at: [40], diameter: 9.525, pilot: 4}}\n"
        );
        export(folder.path(), &text, &[]);
        let file = read(&files(folder.path())[0]);
        let page = pages(&file, "rail front ")[0];
        let thin = strokes(page, 0.2);
        let at = |x: f64, y: f64, width: f64, height: f64| {
            thin.iter().any(|b| {
                let near = |seen: f64, wanted: f64| (seen - wanted).abs() < TOLERANCE;
                near(f64::midpoint(b[0], b[2]), x)
                    && near(f64::midpoint(b[1], b[3]), y)
                    && near(b[2] - b[0], width)
                    && near(b[3] - b[1], height)
            })
        };
        assert!(
            at(inward, 40.0, 36.80, 9.525),
            "{inches} in: mouth in {thin:?}"
        );
        // On the flap the distance from the fold is the distance from the face; the exit is 4 / cos 15 long across it.
        let exit = 4.0 / 0.965_926;
        assert!(
            at(-thickness / 2.0, 40.0, exit, 4.0),
            "{inches} in: exit in {thin:?}"
        );
        assert!(has_reference(page, Some(0.0), None));
        assert!(has_reference(page, None, Some(0.0)));
        // The shoulder stands one thickness before the edge unless the plan says otherwise.
        let stop = words(page);
        let (_, rest) = stop.split_once("STOP COLLAR ").expect("a stop");
        let stop: f64 = rest
            .split(' ')
            .next()
            .and_then(|word| word.parse().ok())
            .expect("a number");
        let guided = (block - inward) / 0.965_926;
        let collar = axis - thickness + guided + 2.679;
        assert!(
            (stop - collar).abs() < 0.02,
            "{inches} in: stop {stop}, not {collar}"
        );
        let guide = all_words(&file);
        assert!(
            guide.contains("GUIDE BLOCKS") && guide.contains(&format!("{block} mm long")),
            "{guide}"
        );
    }
}

/// Numbers on paper in inches, by arithmetic: 23.85 mm is nearest to 60/64 = 15/16 in, which is 0.04 mm short; in
/// thirty-seconds 2.5 mm is nearest to 3/32 in, 0.12 mm short; 9.5 behind 23.85 is 33.35 mm, 42/32 in and 0.01 over.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn inches_on_paper_are_fractions() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let text = fs::read_to_string(fixture("features/hinge-cups/plan.yaml")).expect("a plan");
    for (units, expected) in [
        ("inch", "Ø~1 3/8"),
        ("both", "Ø35 (~1 3/8 in)"),
        ("mm", "Ø35"),
    ] {
        let unit = format!("pdf-template.units={units}");
        export(folder.path(), &text, &[&unit, "pdf-template.fractions=32"]);
        let file = read(&files(folder.path())[0]);
        let words = words(pages(&file, "door-left back ")[0]);
        assert!(words.contains(expected), "{units}: {words}");
    }
}

/// Four holes near the corners of a board that takes four pages, 340 mm apart both ways: by Pythagoras both diagonals
/// across the seams are 480.83 mm.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn diagonals_across_the_seams_are_printed() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let text = "jigless: 1\ntitle: Board\nunits: mm\nstock:\n  board: {thickness: 18, kind: plywood}\nparts:\n  \
                board:\n    stock: board\n    width: 400\n    height: 400\n    features:\n      \
                - hole_row: {first: [30, 30], step: [340, 0], count: 2, \
                rows: {step: [0, 340], count: 2}, diameter: 5}\n";
    export(
        folder.path(),
        text,
        &["pdf-template.scope=face", "pdf-template.paper=a3"],
    );
    let file = read(&files(folder.path())[0]);
    let sheet = all_words(&file);
    assert_eq!(sheet.matches("480.83").count(), 2, "{sheet}");
    for names in ["A1 H1 to", "B1 H2 to"] {
        assert!(sheet.contains(names), "{names}: {sheet}");
    }
    // As far apart as the marks themselves are, by the place of the part's corner that each page carries.
    let mut centres: Vec<(f64, f64)> = pages(&file, "board front ")
        .into_iter()
        .flat_map(marks)
        .map(|(at, _)| at)
        .collect();
    centres.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
    let (low, high) = (centres[0], centres[centres.len() - 1]);
    let seen = (high.0 - low.0).hypot(high.1 - low.1);
    assert!((seen - 480.83).abs() < TOLERANCE, "{seen}");
}

/// A board of 180 x 90 mm with holes of 6 mm in rows, the first 2 mm deep and each of some next ones half a millimetre deeper.
fn depths(count: usize) -> String {
    let mut text = "jigless: 1\ntitle: Depths\nunits: mm\nstock:\n  board: {thickness: 30, kind: plywood}\nparts:\n  \
                    board:\n    stock: board\n    width: 180\n    height: 90\n    features:\n"
        .to_owned();
    for index in 0..count {
        let (x, y) = (18 + 24 * (index % 7), 15 + 20 * (index / 7));
        let depth = 2.0 + index as f64 / 2.0;
        writeln!(
            text,
            "      - hole: {{at: [{x}, {y}], diameter: 6, depth: {depth}}}"
        )
        .expect("a string takes all");
    }
    text
}

/// Where room lacks, words beside the work get smaller, then labels, then templates take sheets of their own, of as few
/// marks as it takes; and each hole keeps its stop, with its depth, in its template. In both units and sixty-fourths a stop takes the most room.
#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn stops_stay_with_their_holes_where_room_lacks() {
    let settings = ["pdf-template.units=both", "pdf-template.fractions=64"];
    let mut sizes = Vec::new();
    for count in [2, 6, 14, 28] {
        let folder = tempfile::tempdir().expect("a temporary folder");
        export(folder.path(), &depths(count), &settings);
        let file = read(&files(folder.path())[0]);
        let mut named = Vec::new();
        let (mut sheets, mut least) = (0, f64::INFINITY);
        for page in list(&file["pages"]) {
            let templates = list(&page["templates"]);
            sheets += usize::from(!templates.is_empty());
            for template in templates {
                let level = list(&template["texts"]).iter();
                let level = level.filter(|text| text["up"] == false);
                let points = level.map(|text| number(&text["size_mm"]) * 72.0 / 25.4);
                least = points.fold(least, f64::min);
                let words = words(template);
                let lines: Vec<&str> = words.lines().collect();
                let stops: Vec<String> = stops(&lines).collect();
                for line in &lines {
                    let name = line.split(' ').next().unwrap_or_default();
                    let Some(index) = name.strip_prefix('H') else {
                        continue;
                    };
                    let Ok(index) = index.parse::<usize>() else {
                        continue;
                    };
                    let depth = 2.0 + (index - 1) as f64 / 2.0;
                    let wanted = format!("STOP {depth} mm");
                    let own = stops
                        .iter()
                        .any(|stop| names_hole(stop, name) && stop.contains(&wanted));
                    assert!(own, "{count}: {name} has no {wanted}: {stops:?}");
                    named.push(index);
                }
            }
        }
        named.sort_unstable();
        named.dedup();
        assert_eq!(named, (1..=count).collect::<Vec<_>>(), "{count} holes");
        sizes.push((count, sheets, least));
    }
    println!("holes, sheets, smallest type in points: {sizes:.1?}");
    // No type goes below 7 pt; what has no room then takes sheets of its own.
    assert!(sizes.iter().all(|(_, _, least)| *least > SMALLEST));
    assert!(sizes.is_sorted_by_key(|(_, sheets, _)| *sheets));
    assert!(sizes[0].1 == 1 && sizes[3].1 > 1, "{sizes:?}");
}
